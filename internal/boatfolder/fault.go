package boatfolder

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"thole/internal/model"
)

// Fault is one thing that is wrong in a boat folder: where, what, and the mend.
type Fault struct {
	File         string // relative to the folder
	Line, Column int    // 1 is the first, columns in characters; 0 for the file as a whole
	Key          string // weights[3].mass, or a table's column
	Text         string // the offending text
	Say          string // what is wrong: mass "42" has no unit
	Mend         string // what to do: write 42 kg
}

// String gives the fault in one line:
// boat.yaml:14:11: mass "42" has no unit (write 42 kg).
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", f.Line, f.Column)
	}
	b.WriteString(": " + f.Say)
	if f.Mend != "" {
		b.WriteString(" (" + f.Mend + ")")
	}
	return b.String()
}

// Faults is all that is wrong, by file, line and column.
type Faults []Fault

// Error gives the faults, one a line.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, fault := range f {
		lines[i] = fault.String()
	}
	return strings.Join(lines, "\n")
}

// mostFaults bounds the faults told of one file: a table read in the wrong
// unit would otherwise tell the same thing of every row.
const mostFaults = 100

// enoughFaults is where the reader stops looking closely: the list will be cut.
const enoughFaults = 10 * mostFaults

// finish sorts the faults, drops the ones told twice, and cuts a file's list
// that is too long to read.
func (f Faults) finish() Faults {
	order := map[string]string{"boat.yaml": "0", "stores.csv": "2", "voyage.yaml": "3", "needs.yaml": "4", "trials.yaml": "5", "whatif.yaml": "6"}
	rank := func(file string) string {
		if r := order[file]; r != "" {
			return r
		}
		return "1" + file
	}
	slices.SortStableFunc(f, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(rank(a.File), rank(b.File)), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	f = slices.Compact(f)
	var out Faults
	count := map[string]int{}
	for _, fault := range f {
		count[fault.File]++
		if count[fault.File] <= mostFaults {
			out = append(out, fault)
		}
	}
	for _, file := range slices.Sorted(keysOf(count)) {
		if over := count[file] - mostFaults; over > 0 {
			out = append(out, Fault{File: file, Say: fmt.Sprintf("and %d more faults in this file", over), Mend: "mend the first ones and look again"})
		}
	}
	return out
}

func keysOf[V any](m map[string]V) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// fault notes a fault at a place.
func (r *reader) fault(at model.Source, text, mend, say string, args ...any) {
	r.faults = append(r.faults, Fault{
		File: at.File, Line: at.Line, Column: at.Column, Key: at.Key, Text: text,
		Say: fmt.Sprintf(say, args...), Mend: mend,
	})
}

func (r *reader) note(at model.Source, why, what string, args ...any) {
	if len(r.notes) < mostNotes {
		r.notes = append(r.notes, model.Note{Where: at, What: fmt.Sprintf(what, args...), Why: why})
	}
}

// mostNotes bounds the notes: nobody reads more.
const mostNotes = 500
