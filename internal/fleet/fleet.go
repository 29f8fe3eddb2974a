// Package fleet sweeps the passages of a boat folder over days of leaving, routes and loads, with as many hands as there are.
//
// A Plan holds all that is to be done and all that it is done from: the folder's own files, the changes of it (levers of
// whatif.yaml, in groups that are crossed), the days of leaving, how many passages, and the build of the program. It goes
// beside the work on a queue (package sweep), its files packed and each under the sum of its content. A Worker anywhere takes
// parts of it: so many passages of one variant. Run adds what comes back. Passages differ by their number alone and tallies
// are whole counts, so the figures do not hang on who did what, to the last digit; a worker of a program that might give
// other digits does no part.
//
// Every variant has the same seed: a boat with another load meets the same chances, and so two rows differ by less chance than
// their ranges say.
package fleet

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/model"
)

// Wish is what a person asks to be swept.
type Wish struct {
	Folder string
	Dates  Dates
	// Tries are groups of changes of the folder, crossed with one another: each the names of levers of whatif.yaml with
	// strokes between, a|b. AsSheIs among them is the folder without a change.
	Tries    []string
	Passages uint64 // of each variant
	Seed     uint64 // 0 is the folder's own, as a question has it
	Quick    bool   // a coarser table of her motion
}

// AsSheIs is a try that changes nothing.
const AsSheIs = "as she is"

// Bounds of a sweep.
const (
	mostPassages = 100_000_000
	mostLoads    = 200
	mostVariants = 4000
	mostParts    = 1 << 20 // as sweep.Split
)

// Plan is a sweep made ready. Variant i is load i / dates with the day i % dates, where a plan without days has one, the folder's.
type Plan struct {
	Build    Build    `json:"build"`
	Boat     string   `json:"boat"`
	Stamp    string   `json:"stamp"` // of the folder
	Seed     uint64   `json:"seed"`
	Passages uint64   `json:"passages"`
	Size     uint64   `json:"size"` // passages of a part
	Quick    bool     `json:"quick,omitempty"`
	Loads    []load   `json:"loads"`
	Dates    []string `json:"dates"`
	Files    []file   `json:"files"`

	content map[string][]byte // the files, by their names; not part of what is sent with the plan
}

// load is the folder with some changes.
type load struct {
	Tries []string            `json:"tries"`
	Edits [][]boatfolder.Edit `json:"edits"` // of each try, made one after the other
}

// file is a file of the folder, kept beside the work under its sum.
type file struct {
	Name string `json:"name"`
	Sum  string `json:"sum"`
	Size int    `json:"size"`
}

// NewPlan reads a folder and makes a sweep of it ready.
//
// Error:  all that is wrong with the folder; a day or a try that cannot be; what is beyond the bounds
func NewPlan(w Wish) (*Plan, error) {
	build, err := own()
	if err != nil {
		return nil, err
	}
	d, faults := boatfolder.Open(w.Folder)
	if len(faults) > 0 {
		return nil, faults
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		return nil, faults
	}
	if w.Passages == 0 || w.Passages > mostPassages {
		return nil, fmt.Errorf("%d passages of each variant: ask for 1 to %d", w.Passages, mostPassages)
	}
	p := &Plan{Build: build, Boat: f.Boat.Name, Stamp: d.Stamp(), Seed: w.Seed, Passages: w.Passages, Size: size(w.Passages), Quick: w.Quick,
		content: map[string][]byte{}}
	left := time.Time{}
	if f.Voyage != nil {
		left = f.Voyage.Leave
	}
	if p.Dates, err = w.Dates.days(left); err != nil {
		return nil, err
	}
	groups, err := groups(f, w.Tries)
	if err != nil {
		return nil, err
	}
	for _, choice := range crossed(groups) {
		if len(p.Loads) == mostLoads {
			return nil, fmt.Errorf("the tries make more than %d combinations: take fewer at once", mostLoads)
		}
		l, made, err := change(d, choice)
		if err != nil {
			return nil, err
		}
		if g, faults := made.Read(); len(faults) > 0 {
			return nil, fmt.Errorf("the folder with %s has a fault: %w", l.name(), faults)
		} else if len(p.Dates) > 0 && g.Voyage != nil && !g.Voyage.Leave.Equal(left) {
			return nil, fmt.Errorf("%s changes the day of leaving, and so do the days that you give: leave one of the two out", l.name())
		}
		p.Loads = append(p.Loads, l)
		for name, data := range made.Opened() {
			p.content[name] = data
		}
	}
	if n := p.Variants(); n > mostVariants || p.Parts() > mostParts {
		return nil, fmt.Errorf("%d variants in %d parts: %d and %d at most; take fewer days, tries or passages", n, p.Parts(), mostVariants, mostParts)
	}
	for name, data := range p.content {
		p.Files = append(p.Files, file{Name: name, Sum: sum(data), Size: len(data)})
	}
	slices.SortFunc(p.Files, func(a, b file) int { return strings.Compare(a.Name, b.Name) })
	return p, nil
}

// size is how many passages a part has: some seconds of work, and enough parts for all hands near the end.
func size(passages uint64) uint64 { return min(max(passages/16, 100), 2000) }

// Variants is how many rows the sweep has.
func (p *Plan) Variants() int { return len(p.Loads) * max(1, len(p.Dates)) }

// each is how many parts a variant has.
func (p *Plan) each() uint64 { return (p.Passages + p.Size - 1) / p.Size }

// Parts is how many parts the sweep is cut into.
func (p *Plan) Parts() uint64 { return uint64(p.Variants()) * p.each() }

// variant is a row's load and day; an empty day is the load's own.
func (p *Plan) variant(i int) (l int, day string) {
	if len(p.Dates) == 0 {
		return i, ""
	}
	return i / len(p.Dates), p.Dates[i%len(p.Dates)]
}

// bytes are the plan as it is sent, the same for equal plans.
func (p *Plan) bytes() ([]byte, error) { return json.Marshal(p) }

// sum is the name of a content.
func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// name is what a load is called.
func (l load) name() string {
	if len(l.Tries) == 0 {
		return AsSheIs
	}
	return strings.Join(l.Tries, ", ")
}

// groups finds the levers of each group; nil is the folder as it is.
func groups(f *model.Folder, tries []string) ([][]*model.Lever, error) {
	var out [][]*model.Lever
	for _, group := range tries {
		var all []*model.Lever
		for _, name := range strings.Split(group, "|") {
			l, err := lever(f, strings.TrimSpace(name))
			if err != nil {
				return nil, err
			}
			if slices.Contains(all, l) {
				return nil, fmt.Errorf("%q stands twice in one group of tries", strings.TrimSpace(name))
			}
			all = append(all, l)
		}
		out = append(out, all)
	}
	return out, nil
}

// lever finds a lever of the folder's own by its name, or by what only its name holds.
func lever(f *model.Folder, name string) (*model.Lever, error) {
	plain := model.PlainName(name)
	if plain == model.PlainName(AsSheIs) {
		return nil, nil
	}
	var like []*model.Lever
	var names []string
	for i := range f.Levers {
		l := &f.Levers[i]
		names = append(names, fmt.Sprintf("%q", l.Name))
		if model.PlainName(l.Name) == plain {
			like = []*model.Lever{l}
			break
		}
		if plain != "" && strings.Contains(model.PlainName(l.Name), plain) {
			like = append(like, l)
		}
	}
	switch {
	case len(f.Levers) == 0:
		return nil, fmt.Errorf("there is no try %q: whatif.yaml holds no levers; write one there", name)
	case len(like) == 0:
		return nil, fmt.Errorf("no lever of whatif.yaml is called %q (there are %s; %q changes nothing)", name, strings.Join(names, ", "), AsSheIs)
	case len(like) > 1:
		return nil, fmt.Errorf("%q may be %q or %q: write more of the name", name, like[0].Name, like[1].Name)
	case like[0].Fault != "":
		return nil, fmt.Errorf("%q cannot be tried: %s", like[0].Name, like[0].Fault)
	}
	return like[0], nil
}

// crossed is each choice of one of every group, the last group's changing fastest.
func crossed(groups [][]*model.Lever) [][]*model.Lever {
	out := [][]*model.Lever{nil}
	for _, g := range groups {
		var next [][]*model.Lever
		for _, before := range out {
			for _, l := range g {
				next = append(next, append(slices.Clone(before), l))
			}
			if len(next) > mostLoads {
				return next // the caller says that they are too many
			}
		}
		out = next
	}
	return out
}

// change makes levers one after the other: each is worked out on the folder as those before it have left it.
func change(d *boatfolder.Draft, choice []*model.Lever) (load, *boatfolder.Draft, error) {
	l := load{Tries: []string{}, Edits: [][]boatfolder.Edit{}}
	for _, try := range choice {
		if try == nil {
			continue
		}
		f, faults := d.Read()
		if len(faults) > 0 {
			return l, nil, fmt.Errorf("the folder with %s has a fault: %w", l.name(), faults)
		}
		edits, err := levers.Edits(f, d, try.Acts)
		if err != nil {
			return l, nil, fmt.Errorf("%q cannot be tried with %s: %w", try.Name, l.name(), err)
		}
		if d, faults = d.With(edits...); len(faults) > 0 {
			return l, nil, fmt.Errorf("%q cannot be tried with %s: %w", try.Name, l.name(), faults)
		}
		l.Tries, l.Edits = append(l.Tries, try.Name), append(l.Edits, edits)
	}
	return l, d, nil
}
