// Package levers is what would change the answers: named small changes of the folder, its own
// from whatif.yaml and others offered from what is in it, and the table of every lever against every question.
//
// A lever is an edit of the folder's own text (boatfolder.Edit), made in memory: what the table
// shows for it is what the questions will say when that edit is kept. No lever is scored by hand.
package levers

import (
	"fmt"
	"slices"

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
	// Shown is for people, in the folder's units: "+12 mm"; "0" where it does not move; "surer" or "less sure" where only its
	// spread does; "now" and the margin where that is of another kind than before.
	Shown string `json:"shown"`
	// Trouble is why the question could not be asked of the folder as it stands; there is then no verdict.
	Trouble string `json:"trouble,omitempty"`
}

// Row is one lever against all questions, in the order of the table.
type Row struct {
	Lever   int    `json:"lever"` // index into the list
	Cells   []Cell `json:"cells"`
	Trouble string `json:"trouble,omitempty"` // why it could not be asked
	// Nothing: no margin, no verdict and nothing of how sure they are moves.
	Nothing bool `json:"nothing,omitempty"`
}

// Result is the whole table.
type Result struct {
	Levers   []Lever         `json:"levers"`
	Base     []answer.Answer `json:"base"`     // the answers as the folder stands, in the order of the table
	Tightest string          `json:"tightest"` // the question whose answer is tightest
	// Faults are why a question could not be asked of the folder as it stands, in the order of Base; nil for one that was.
	Faults []error `json:"-"`
	// Rows are sorted by what helps the tightest answer most; those that change nothing stand behind them, then
	// those that could not be asked.
	Rows []Row `json:"rows"`
}

// List is every lever: the folder's own, then those offered. One that cannot be made says why.
func List(f *model.Folder, d *boatfolder.Draft) []Lever {
	out := []Lever{}
	for _, own := range f.Levers {
		l := Lever{Name: own.Name, Group: groupOf(own.Acts), Own: true, Fault: own.Fault, Edits: []boatfolder.Edit{}}
		if l.Fault == "" {
			edits, err := Edits(f, d, own.Acts)
			if err == nil {
				l.Edits = edits
			} else {
				l.Fault = fmt.Sprintf("%s:%d:%d: %v", own.Source.File, own.Source.Line, own.Source.Column, err)
			}
		}
		out = append(out, l)
	}
	for _, l := range offered(f, d) {
		if !slices.ContainsFunc(out, func(o Lever) bool { return o.Name == l.Name }) {
			out = append(out, l)
		}
	}
	return out
}

// groupOf is what the first of some acts touches.
func groupOf(acts []model.Act) string {
	if len(acts) == 0 {
		return loading
	}
	switch acts[0].Do {
	case model.Open, model.Shut:
		return hatches
	case model.Raise, model.Fuller:
		return shaping
	case model.Days, model.Leave:
		return voyages
	case model.SetValue:
		if acts[0].File == voyageFile {
			return voyages
		} else if acts[0].File != storesFile {
			return shaping
		}
	}
	return loading
}
