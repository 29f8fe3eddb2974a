package levers

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
)

// Change is one line that a lever writes, before and after.
type Change = boatfolder.Change

// Desk is a folder opened with its levers.
type Desk struct {
	Folder *model.Folder
	Levers []Lever
	draft  *boatfolder.Draft
	base   *answer.Case
}

// Open reads a folder and lists its levers.
//
// Error: all that is wrong with the folder
func Open(dir string) (*Desk, error) {
	d, faults := boatfolder.Open(dir)
	if len(faults) > 0 {
		return nil, faults
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		return nil, faults
	}
	return &Desk{Folder: f, Levers: List(f, d), draft: d, base: answer.NewCase(f)}, nil
}

// Table is the table of all its levers.
func (k *Desk) Table(ctx context.Context, table []answer.Question, o answer.Options, told func(Row)) (Result, error) {
	return Table(ctx, k.draft, k.base, table, k.Levers, o, told)
}

// Lines are the lines that a lever would write.
//
// Error: why it cannot be made
func (k *Desk) Lines(l Lever) ([]Change, error) {
	d, faults := k.draft.With(l.Edits...)
	if len(faults) > 0 {
		return nil, faults
	}
	return d.Changes(), nil
}

// Find finds a lever by its number in the list, from 1, or by its name or what only its name holds.
//
// Error: there is none, or more than one; with their names
func (k *Desk) Find(name string) (Lever, error) {
	if n, err := strconv.Atoi(name); err == nil {
		if n < 1 || n > len(k.Levers) {
			return Lever{}, fmt.Errorf("there is no lever %d (1 to %d)", n, len(k.Levers))
		}
		return k.Levers[n-1], nil
	}
	var like []Lever
	for _, l := range k.Levers {
		if model.PlainName(l.Name) == model.PlainName(name) {
			return l, nil
		}
		if strings.Contains(model.PlainName(l.Name), model.PlainName(name)) {
			like = append(like, l)
		}
	}
	switch len(like) {
	case 1:
		return like[0], nil
	case 0:
		return Lever{}, fmt.Errorf("no lever is called %q (thole levers FOLDER shows them all)", name)
	}
	var names []string
	for _, l := range like {
		names = append(names, strconv.Quote(l.Name))
	}
	return Lever{}, fmt.Errorf("%q may be %s", name, strings.Join(names, " or "))
}
