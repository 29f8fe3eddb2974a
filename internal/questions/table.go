// Package questions is the table of questions: a new one is a folder beside
// this file and a line in Table, and then stands on the terminal, on the page and in the book.
package questions

import (
	"thole/internal/answer"
	"thole/internal/questions/drain"
	"thole/internal/questions/feed"
	"thole/internal/questions/float"
	"thole/internal/questions/flood"
	"thole/internal/questions/head"
	"thole/internal/questions/loft"
	"thole/internal/questions/oars"
	"thole/internal/questions/passage"
	"thole/internal/questions/right"
	"thole/internal/questions/spare"
	"thole/internal/questions/stow"
)

// Table is every question, in the order in which they are shown.
var Table = []answer.Question{
	loft.Question,
	float.Question,
	right.Question,
	flood.Question,
	drain.Question,
	stow.Question,
	feed.Question,
	spare.Question,
	head.Question,
	oars.Question,
	passage.Question,
}
