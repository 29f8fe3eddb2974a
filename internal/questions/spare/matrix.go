package spare

import (
	"context"
	"fmt"

	"thole/internal/faulttree"
	"thole/internal/sheet"
)

// matrix shows each function against each compartment, cabin, battery and person lost, at its worst of the days looked at.
func (q *ask) matrix(ctx context.Context) (*sheet.Matrix, error) {
	m := &sheet.Matrix{Heading: "Function by loss", Across: "what is lost", Down: "rank, and function", Unit: "losses more",
		Key: []sheet.Word{{Standing: sheet.Holds, Letter: "·", Text: "stands one loss more"}, {Standing: sheet.Tight, Letter: "o", Text: "provided, and one loss more ends it"},
			{Standing: sheet.Short, Letter: "X", Text: "ended"}, {Standing: sheet.Lost, Letter: "-", Text: "provided by nothing aboard"}},
		Note: "On the worse of the days looked at. The first column is with nothing lost."}
	row := map[int]int{}
	for i, fn := range q.c.Folder.Needs.Functions {
		if fn.Rank > 0 {
			row[i] = -1
		}
	}
	for _, f := range q.f.Functions { // in their order, the worst first
		for i, fn := range q.c.Folder.Needs.Functions {
			if row[i] == -1 && fn.Rank == f.Rank && fn.Name == f.Name {
				row[i] = len(m.Rows)
				m.Rows = append(m.Rows, sheet.Line{Group: fmt.Sprintf("rank %d", fn.Rank), Name: fn.Name})
				break
			}
		}
	}
	type column struct {
		name string // in the tree; empty for nothing lost
		line sheet.Line
		said string
	}
	columns := []column{{line: sheet.Line{Name: "nothing"}, said: "with nothing lost"}}
	g := q.looks[0]
	b := &q.c.Folder.Boat
	short := map[string]sheet.Line{batteryLost: {Group: "lost", Name: "battery"}}
	for i := range b.Compartments {
		name := b.Compartments[i].Name
		if n := b.Compartments[i].Number; n > 0 {
			name = fmt.Sprint(n)
		}
		short[roomID(i)] = sheet.Line{Group: "floods", Name: name}
	}
	for i := range b.Cabins {
		short[cabinID(i)] = sheet.Line{Group: "floods", Name: b.Cabins[i].Name}
	}
	for _, c := range g.tree.Causes {
		if line, ok := short[c.Name]; ok {
			columns = append(columns, column{c.Name, line, "when " + g.atoms[c.Name].what})
		}
	}
	for i, name := range crew(q.c.Folder) {
		columns = append(columns, column{personID(i), sheet.Line{Group: "hurt", Name: name}, "when " + name + " is hurt"})
	}
	for _, c := range columns {
		m.Columns = append(m.Columns, c.line)
	}
	left := make([][]int, len(m.Rows)) // losses more that end it, up to 2
	for y := range left {
		left[y] = make([]int, len(columns))
		for x := range left[y] {
			left[y][x] = furthest
		}
	}
	ended := 0
	for _, g := range q.looks {
		for _, i := range g.ended {
			for x := range columns {
				left[row[i]][x] = -1
			}
		}
		if len(g.tree.Functions) == 0 {
			continue
		}
		l, err := faulttree.New(g.tree)
		if err != nil {
			return nil, fault(err)
		}
		for x, c := range columns {
			after := l
			if c.name != "" {
				if after, err = l.After(c.name); err != nil {
					return nil, fault(err)
				}
			}
			found, err := after.Cuts(ctx, faulttree.Options{Order: 1, Limit: 1})
			if err != nil {
				return nil, err
			}
			for _, f := range found {
				cell := &left[row[g.tops[f.Function]]][x]
				switch {
				case f.Ended:
					*cell = min(*cell, 0)
				case len(f.Cuts) > 0:
					*cell = min(*cell, 1)
				}
			}
		}
	}
	for y := range left {
		cells := make([]sheet.Spot, len(columns))
		for x, n := range left[y] {
			name, when := m.Rows[y].Name, columns[x].said
			s := sheet.Spot{Standing: sheet.Holds, Value: float64(n), Said: fmt.Sprintf("%s: %s it stands one loss more", name, when)}
			switch n {
			case 1:
				s.Standing, s.Said = sheet.Tight, fmt.Sprintf("%s: %s it is provided, and one loss more ends it", name, when)
			case 0:
				s.Standing, s.Said = sheet.Short, fmt.Sprintf("%s: %s it is ended", name, when)
				ended++
			case -1:
				s = sheet.Spot{Standing: sheet.Lost, Untold: true, Said: name + ": nothing aboard provides it"}
			}
			cells[x] = s
		}
		m.Cells = append(m.Cells, cells)
	}
	m.Alt = fmt.Sprintf("%d functions against %d losses: %d of these alone end a function.", len(m.Rows), len(columns)-1, ended)
	return m, nil
}
