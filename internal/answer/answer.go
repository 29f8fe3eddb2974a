// Package answer holds what a question gives back, and the table row of a question.
//
// An answer is a sentence first, then a verdict with its margin and how sure
// that margin is, then the figures, what was taken for granted, what is
// missing, how it was worked out, and the cautions. The JSON keys are a
// contract: programs outside read them.
package answer

import (
	"context"

	"thole/internal/model"
	"thole/internal/sheet"
)

// Verdict is one of four words.
type Verdict string

// The four verdicts.
const (
	Yes        Verdict = "yes"
	Close      Verdict = "close" // it holds, by less than asked or not for sure
	No         Verdict = "no"
	CannotTell Verdict = "cannot tell" // an input is missing; Needs says which
)

// Answer is the answer to one question.
type Answer struct {
	Question    string       `json:"question"`
	Title       string       `json:"title"` // the question as a person asks it
	Verdict     Verdict      `json:"verdict"`
	Sentence    string       `json:"sentence"`
	Margin      *Margin      `json:"margin,omitempty"` // nil only when it cannot be told
	Worst       *Worst       `json:"worst,omitempty"`
	Figures     any          `json:"figures"` // the question's own, documented in its package
	Assumptions []Assumption `json:"assumptions"`
	Needs       []Need       `json:"needs"`
	Method      []Method     `json:"method"`
	NotLookedAt []string     `json:"not_looked_at"`
	Cautions    []string     `json:"cautions"`
	Sheet       sheet.Sheet  `json:"-"` // drawing, figures and tables for the faces
	// Patterns are parts to cut at true size, for a face that can print or write them.
	Patterns []sheet.Pattern `json:"-"`
	// Offers are changes of the folder that the question found to help, best first. Each was made in memory and asked again.
	Offers []Offer `json:"offers,omitempty"`
}

// Offer is a change of the folder that a face can make a try of.
type Offer struct {
	Name string      `json:"name"` // rice from 202 to 301
	Why  string      `json:"why"`  // what it does, in a sentence
	Acts []model.Act `json:"-"`
}

// Margin is how far from the limit, signed: positive holds.
type Margin struct {
	Value      float64 `json:"value"`
	Unit       string  `json:"unit"`       // SI: m, kg, d
	Asked      float64 `json:"asked"`      // the margin asked for
	Confidence float64 `json:"confidence"` // chance that it is positive, 0 to 1
	Spread     float64 `json:"spread"`     // half width of the 19-in-20 range
	Shown      string  `json:"shown"`      // for people, in the folder's units: "62 mm ± 20"
	What       string  `json:"what"`       // what it measures: "height of gravity left"
}

// Worst is where over the trip the answer is tightest.
type Worst struct {
	Day       int    `json:"day"`
	Condition string `json:"condition"`
}

// Assumption is a value that the folder did not give.
type Assumption struct {
	What  string `json:"what"`
	Value string `json:"value"`
	Why   string `json:"why"`
	File  string `json:"file"` // where to say otherwise: boat.yaml: water
}

// Need is an input without which the question cannot be answered.
type Need struct {
	File string `json:"file"`
	Key  string `json:"key"`
	Why  string `json:"why"`
}

// Method is one step of how it was worked out.
type Method struct {
	What   string `json:"what"`
	Source string `json:"source"`
}

// Options is what a person may ask beside the question itself.
type Options struct {
	Day       int       // the day whose figures are shown
	Condition string    // the crew place whose figures are shown; empty for the first
	Heels     []float64 // radians; nil for the usual ones
	// Brief: only verdict, sentence, margin and figures are wanted; what only the sheet or the
	// patterns show may be left out.
	Brief bool
	// Bare: only the verdict, the margin and the worst state are wanted, as for a row of the lever table;
	// they are the same as without it, the rest may be left out.
	Bare bool
	// Moment: only the day and the crew place named are looked at, for an answer while a finger
	// moves. Questions that are Quick heed it.
	Moment bool
	// Again is the number of one of the draws that is to be shown in full (Question.Numbered); nil for the middle one.
	Again    *uint64
	Progress func(done, total int)
}

// Group is where a question stands in the list.
type Group string

// The four groups, in order.
const (
	Shape    Group = "shape"
	Afloat   Group = "afloat"
	Aboard   Group = "aboard"
	UnderWay Group = "under way"
)

// Groups lists the groups in the order in which they are shown.
var Groups = []Group{Shape, Afloat, Aboard, UnderWay}

// Question is a row of the table of questions.
type Question struct {
	ID    string // float
	Title string // Will she float on her marks?
	Group Group
	// Quick: it heeds Options.Moment, and may be asked while a finger moves.
	Quick bool
	// Draws is what it draws by chance, "passages", where its margin comes from so many draws; empty for none. A bare
	// answer makes fewer of them and works more coarsely: it is set beside another bare one, and meets the full one only as far as chance lets it.
	Draws string
	// Numbered: each of the draws can be shown again by its number, and it heeds Options.Again.
	Numbered bool
	Ask      func(context.Context, *Case, Options) (Answer, error)
}

// Search looks for a better folder for as long as it is let: the plan of a stowage, for one. It stands in a table of its
// own, by the id of the question that it serves.
type Search struct {
	ID    string // of the question
	Title string // Look for a better stowage
	About string // what it looks for and what it may change, in a sentence or two
	// Run looks until it has found the best there is, for so many seconds, or until the context is done; that is no
	// error, and what was best so far comes back. found is called, by one goroutine at a time, when there is something better to tell.
	Run func(ctx context.Context, c *Case, seconds float64, found func(Finding)) (Finding, error)
}

// Finding is how far a search has come.
type Finding struct {
	Sentence string `json:"sentence"` // what was found so far
	// Gap is how far it may at most be from the best, as a share of what it costs; nil when that is not known.
	Gap    *float64    `json:"gap"`
	Done   bool        `json:"done"`
	Sheet  sheet.Sheet `json:"-"` // of the last only
	Offers []Offer     `json:"-"` // of the last only; empty when the folder as written is best
}
