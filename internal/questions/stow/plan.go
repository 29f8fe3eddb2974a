package stow

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/sheet"
)

// plan draws the boat from above, every compartment with its number and what room is left in it.
func (q *ask) plan() *sheet.Drawing {
	unit, factor, places := q.room()
	sheer := q.t.Ship.Sheer
	d := &sheet.Drawing{Heading: "From above", Alt: fmt.Sprintf("%s from above, bow to the left, starboard below, with %d compartments", q.c.Folder.Boat.Name, len(q.f.Places))}
	var edge [][2]float64
	for _, p := range sheer {
		edge = append(edge, [2]float64{p.X, p.Y})
		d.MinX, d.MaxX, d.MaxY = math.Min(d.MinX, p.X), math.Max(d.MaxX, p.X), math.Max(d.MaxY, p.Y)
	}
	for i := len(sheer) - 1; i >= 0; i-- {
		edge = append(edge, [2]float64{sheer[i].X, -sheer[i].Y})
	}
	d.MaxY += 0.05
	d.MinX, d.MaxX, d.MinY = d.MinX-0.05, d.MaxX+0.05, -d.MaxY
	d.Paths = append(d.Paths, sheet.Path{Role: sheet.Skin, Points: edge, Closed: true})
	for k, p := range q.f.Places {
		lo, hi := q.t.Ship.Rooms[k].Stack.Box()
		lines := [2][][2]float64{}
		const steps = 12
		for i := range steps + 1 {
			x := lo[0] + (hi[0]-lo[0])*float64(i)/steps
			half := breadth(sheer, x)
			// y is to starboard: below, with the bow to the left.
			lines[0] = append(lines[0], [2]float64{x, -math.Max(-half, math.Min(half, lo[1]))})
			lines[1] = append(lines[1], [2]float64{x, -math.Max(-half, math.Min(half, hi[1]))})
		}
		outline := lines[0]
		for i := steps; i >= 0; i-- {
			outline = append(outline, lines[1][i])
		}
		name := q.s.Problem.Places[k].Name
		left := fmt.Sprintf("%.*f %s", places, (p.Usable-p.Filled)*factor, unit)
		d.Paths = append(d.Paths, sheet.Path{Role: sheet.Space, Name: fmt.Sprintf("%s: %s left", name, left), Points: outline, Closed: true})
		at := q.t.Ship.Rooms[k].Centre
		d.Labels = append(d.Labels, sheet.Label{X: at.X, Y: -at.Y, Text: q.short(k), Anchor: "middle", Role: sheet.Space})
	}
	return d
}

// breadth is the half breadth of the deck's edge at x.
func breadth(sheer []r3.Vec, x float64) float64 {
	for i := 1; i < len(sheer); i++ {
		a, b := sheer[i-1], sheer[i]
		if x <= b.X {
			if b.X <= a.X {
				return b.Y
			}
			return a.Y + (b.Y-a.Y)*math.Max(0, math.Min(1, (x-a.X)/(b.X-a.X)))
		}
	}
	if len(sheer) == 0 {
		return math.Inf(1)
	}
	return sheer[len(sheer)-1].Y
}
