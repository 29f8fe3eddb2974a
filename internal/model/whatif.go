package model

import (
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/units"
)

// Lever is a change of the folder that the person thinks of, from whatif.yaml: one or more acts, done
// one after the other.
type Lever struct {
	Name   string
	Acts   []Act
	Source Source
	// Fault says why it cannot be made on this folder, with the place in whatif.yaml; empty when it can.
	// A lever names things of other files, which may change; that spoils the lever and not the folder.
	Fault string
}

// Doing is what an act does, by its key in whatif.yaml.
type Doing string

// What an act may do.
const (
	MoveStores  Doing = "move"
	Put         Doing = "put"
	Another     Doing = "another"
	Stow        Doing = "stow"
	Shift       Doing = "shift"
	Heavier     Doing = "heavier"
	Add         Doing = "add"
	LeaveOut    Doing = "leave out"
	Days        Doing = "days"
	Leave       Doing = "leave"
	MoreHours   Doing = "hours"
	Open        Doing = "open"
	Shut        Doing = "shut"
	Raise       Doing = "raise"
	Fuller      Doing = "fuller"
	Food        Doing = "food"
	MoreBallast Doing = "ballast"
	SetValue    Doing = "set"
)

// Act is one thing that a lever does. The names in it are as the person writes them; which fields count hangs on Do.
type Act struct {
	Do     Doing
	What   []string   // shift, heavier, leave out: things aboard; open, shut: openings
	Change MassChange // move, heavier, ballast; fuller takes its Share
	// From and To are compartments: move, put, another. Put carries the stores of What that lie in From (anywhere, when it is
	// empty) to To, Count pieces of them; all when that is 0. Another lays Count more of them (one, when that is 0) into To (beside them, when it is empty).
	From, To   string
	Count      int
	Portions   []Portion      // stow: where the pieces of the stores of What lie, all of them, and when they are used
	Start, End float64        // fuller: two places along the boat
	By         r3.Vec         // shift; raise uses Z
	Days       int            // days, food, leave
	Months     int            // leave
	Time       units.Duration // hours: at the oars in a day
	Part, Name string         // raise: cabin, well or compartment, and its name
	Item       string         // add: the new line as boat.yaml has it
	File, Key  string         // set: where
	Text       string         // set: what is to stand there
	Source     Source
}

// MassChange is so much more or less, as a mass or as a share of what there is.
type MassChange struct {
	Mass    units.Mass
	Share   float64 // 0.1 for 10 % more
	ByShare bool
}

// Of is how much a mass changes.
func (c MassChange) Of(m units.Mass) units.Mass {
	if c.ByShare {
		return units.Mass(c.Share) * m
	}
	return c.Mass
}

// Thing is one thing aboard that has a mass: by index, two of the three are -1.
type Thing struct {
	Weight, Store, Person int
}

// Things are the things aboard of a name: fixed weights, stores and people.
func (f *Folder) Things(name string) []Thing {
	var out []Thing
	plain := PlainName(name)
	for i, w := range f.Boat.Weights {
		if PlainName(w.What) == plain {
			out = append(out, Thing{i, -1, -1})
		}
	}
	for i, s := range f.Stores {
		if PlainName(s.What) == plain {
			out = append(out, Thing{-1, i, -1})
		}
	}
	if f.Voyage != nil {
		for i, p := range f.Voyage.Crew {
			if PlainName(p.Name) == plain {
				out = append(out, Thing{-1, -1, i})
			}
		}
	}
	return out
}

// Mass is how heavy a thing is: one of it, and how many there are.
func (f *Folder) Mass(t Thing) (one units.Mass, count int) {
	switch {
	case t.Weight >= 0:
		w := f.Boat.Weights[t.Weight]
		return w.Mass.Value, max(1, w.Count)
	case t.Store >= 0:
		s := f.Stores[t.Store]
		return s.Mass.Value, max(1, s.Count)
	}
	return f.Voyage.Crew[t.Person].Mass.Value, 1
}

// PlainName drops what people write differently in a name: capitals, blanks, hyphens, brackets.
func PlainName(name string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '-', '_', '(', ')':
			return -1
		}
		return r
	}, strings.ToLower(name))
}

// Place is where a thing is, and whether that is a point. A person is never at one point.
func (f *Folder) Place(t Thing) (p Place, point bool) {
	p = Place{Compartment: -1}
	switch {
	case t.Weight >= 0:
		p = f.Boat.Weights[t.Weight].Where
	case t.Store >= 0:
		p = f.Stores[t.Store].Where
	}
	return p, p.Compartment < 0
}
