package oars

import (
	"fmt"

	"thole/internal/answer"
	"thole/internal/rowing"
	"thole/internal/sheet"
	"thole/internal/underway"
	"thole/internal/units"
)

// whoever lays out what fits whom for a folder that does not say who rows.
func (q *ask) whoever(a *answer.Answer) {
	if m := q.matrix(); m != nil {
		a.Sheet.Blocks = append(a.Sheet.Blocks, sheet.Block{Matrix: m})
	}
}

// matrix is what fits whom: the crew and people of the 5th, 50th and 95th percentile, in each place of gates and stretcher; nil where
// no rowing place is told in full.
func (q *ask) matrix() *sheet.Matrix {
	fine := q.sys.Fine()
	m := &sheet.Matrix{Heading: "What fits whom", Across: "gates, and stretcher", Down: "rower", Unit: fine.Unit, Places: fine.Places,
		Key:  []sheet.Word{{Standing: sheet.Holds, Letter: "y", Text: "fits with the room asked for"}, {Standing: sheet.Tight, Letter: "c", Text: "fits with less"}, {Standing: sheet.Short, Letter: "n", Text: "does not fit"}},
		Note: "Over each column the place of the stretcher from where it is written, plus being aft. Room where it is tightest, on the worse of the heaviest and the lightest day. The people of the survey have usual proportions; the crew have their own.",
		Alt:  "The least room of each body in each setting of gates and stretcher."}
	people := rowing.Bodies()
	var own []rowing.Body
	for _, r := range q.crew.Rowers {
		known := false
		for _, b := range own {
			known = known || b.Name == r.Body.Name
		}
		if !known {
			own = append(own, r.Body)
		}
	}
	people = append(own, people...)
	for i, b := range people {
		group := "people"
		if i < len(own) {
			group = "crew"
		}
		m.Rows = append(m.Rows, sheet.Line{Group: group, Name: b.Name})
	}
	m.Cells = make([][]sheet.Spot, len(people))
	for p := range q.c.Folder.Boat.Rowing {
		place := &q.c.Folder.Boat.Rowing[p]
		if place.Gates == nil || place.Stretcher == nil || place.Oars == nil {
			continue
		}
		for i, b := range people {
			s := q.way.Seat(-1, p, b)
			for g := range s.Gates {
				for h := range s.Holes {
					if i == 0 {
						m.Columns = append(m.Columns, sheet.Line{Group: q.group(place.Name, s.Gates[g]), Name: q.brief(s.Holes[h])})
					}
					m.Cells[i] = append(m.Cells[i], q.spot(b.Name, s.Setup(g, h), fine))
				}
			}
		}
	}
	if len(m.Columns) == 0 {
		return nil
	}
	return m
}

// group is the head of the columns of one place of the gates.
func (q *ask) group(place string, shift float64) string {
	s := "gates " + q.shift(shift)
	if len(q.c.Folder.Boat.Rowing) > 1 {
		s = place + ", " + s
	}
	return s
}

// spot is one body in one setting.
func (q *ask) spot(name string, s rowing.Setup, fine units.Scale) sheet.Spot {
	left, at, err := underway.Room(s, q.waters)
	if err != nil {
		return sheet.Spot{Standing: sheet.Absent, Untold: true, Said: fmt.Sprintf("%s: %v", name, err)}
	}
	spot := sheet.Spot{Standing: sheet.Holds, Value: round(left*fine.Factor, fine.Places), Said: fmt.Sprintf("%s: %s left, %s", name, fine.Show(left), called(at))}
	switch {
	case left < 0:
		spot.Standing = sheet.Short
		spot.Said = fmt.Sprintf("%s: %s", name, short(at, fine, left))
	case left < q.asked:
		spot.Standing = sheet.Tight
	}
	return spot
}
