// Package searches is the table of searches: what looks for a better folder for as long as a person lets it. A new one is a
// folder beside this file and a line in Table.
package searches

import (
	"thole/internal/answer"
	"thole/internal/searches/passage"
	"thole/internal/searches/stow"
)

// Table is every search, by the order of the questions that they serve.
var Table = []answer.Search{
	stow.Search,
	passage.Search,
}
