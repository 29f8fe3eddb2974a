// Package levers is what would change the answers: named small changes of the folder, its own
// from whatif.yaml and others offered from what is in it, and the table of every lever against every question.
//
// A lever is an edit of the folder's own text (boatfolder.Edit), made in memory: what the table
// shows for it is what the questions will say when that edit is kept. No lever is scored by hand.
package levers

import (
	"context"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
)

// Lever is one change of the folder.
type Lever struct {
	Name  string            `json:"name"`
	Group string            `json:"group"` // what it touches: shape, load, hatches, voyage
	Own   bool              `json:"own"`   // from whatif.yaml
	Edits []boatfolder.Edit `json:"edits"`
	Fault string            `json:"fault,omitempty"` // why it cannot be made on this folder
}

// Cell is one lever against one question.
type Cell struct {
	Question string         `json:"question"`
	Was      answer.Verdict `json:"was"`
	Verdict  answer.Verdict `json:"verdict"`
	Margin   *answer.Margin `json:"margin,omitempty"`
	// Change is the margin's change in its unit; meaningless where Known is false (the margin is of another kind, or missing).
	Change float64 `json:"change"`
	Known  bool    `json:"known"`
	Shown  string  `json:"shown"` // for people, in the folder's units: "+12 mm"; "0" where it does not move
}

// Row is one lever against all questions, in the order of the table.
type Row struct {
	Lever   int    `json:"lever"` // index into the list
	Cells   []Cell `json:"cells"`
	Trouble string `json:"trouble,omitempty"` // why it could not be asked
}

// Result is the whole table.
type Result struct {
	Levers   []Lever         `json:"levers"`
	Base     []answer.Answer `json:"base"`     // the answers as the folder stands, in the order of the table
	Tightest string          `json:"tightest"` // the question whose answer is tightest
	// Rows are sorted by what helps the tightest answer most.
	Rows []Row `json:"rows"`
}

// List is every lever: the folder's own, then those offered.
func List(f *model.Folder, d *boatfolder.Draft) []Lever { return nil }

// Table asks every question again with every lever. each is called with each row as it comes, from one
// goroutine at a time; it may be nil.
func Table(ctx context.Context, d *boatfolder.Draft, base *answer.Case, table []answer.Question, ls []Lever, o answer.Options, each func(Row)) (Result, error) {
	return Result{}, nil
}
