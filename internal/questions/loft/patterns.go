package loft

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/cuts"
	"thole/internal/moulds"
	"thole/internal/sheet"
	"thole/internal/units"
)

// plate collects a drawing at true size.
type plate struct{ d sheet.Drawing }

func (p *plate) path(role sheet.Role, name string, closed bool, pts [][2]float64) {
	p.d.Paths = append(p.d.Paths, sheet.Path{Role: role, Name: name, Closed: closed, Points: pts})
}

func (p *plate) label(x, y float64, text, anchor string, role sheet.Role) {
	p.d.Labels = append(p.d.Labels, sheet.Label{X: x, Y: y, Text: text, Anchor: anchor, Role: role})
}

// fit sets the extent about all paths with a border.
func (p *plate) fit(border float64) {
	p.d.MinX, p.d.MinY, p.d.MaxX, p.d.MaxY = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, path := range p.d.Paths {
		for _, q := range path.Points {
			p.d.MinX, p.d.MaxX = math.Min(p.d.MinX, q[0]), math.Max(p.d.MaxX, q[0])
			p.d.MinY, p.d.MaxY = math.Min(p.d.MinY, q[1]), math.Max(p.d.MaxY, q[1])
		}
	}
	if p.d.MinX > p.d.MaxX { // nothing drawn
		p.d.MinX, p.d.MinY, p.d.MaxX, p.d.MaxY = 0, 0, 0, 0
	}
	p.d.MinX, p.d.MinY, p.d.MaxX, p.d.MaxY = p.d.MinX-border, p.d.MinY-border, p.d.MaxX+border, p.d.MaxY+border
}

// water is the height of the load line at x, leaving; ok is false for a boat without weights.
func (q *ask) water(x float64) (z float64, ok bool) {
	if q.c.Weightless() {
		return 0, false
	}
	f := q.t.Float(q.t.State(0, 0), nil)
	if f.Err != nil {
		return 0, false
	}
	p := f.Rest.Plane()
	return (p.Level + p.Slope*x) / p.Cos, true
}

// mouldPattern draws one mould, both halves, with everything that must be marked on it before it
// leaves the floor: centre line, set-up line, sheer, load line, and the face.
func (q *ask) mouldPattern(i int) sheet.Pattern {
	m := &q.moulds[i]
	var p plate
	p.path(sheet.Skin, "cut here", false, both(m.Edge))
	var skin []moulds.Point
	g := q.surface.Girth(m.X)
	const fine = 160
	for k := 0; k <= fine; k++ {
		at, _, _ := g.At(g.Length * float64(k) / fine)
		skin = append(skin, moulds.Point{Y: at.Y, Z: at.Z})
	}
	if q.deduct() > 0 {
		p.path(sheet.Grid, "outside of the planking", false, both(skin))
	}
	foot, top := m.Edge[0], m.Edge[len(m.Edge)-1]
	p.path(sheet.Other, "centre line", false, [][2]float64{{0, foot.Z}, {0, q.loft.setUp}})
	half := math.Max(top.Y, 0.1)
	p.path(sheet.Main, "set-up line", false, [][2]float64{{-half, q.loft.setUp}, {half, q.loft.setUp}})
	// the sides run up square to the set-up line, so that the mould stands on it upside down
	p.path(sheet.Skin, "cut here", false, [][2]float64{{top.Y, top.Z}, {top.Y, q.loft.setUp}})
	p.path(sheet.Skin, "cut here", false, [][2]float64{{-top.Y, top.Z}, {-top.Y, q.loft.setUp}})
	tick := func(name string, at moulds.Point) {
		for _, s := range [2]float64{1, -1} {
			p.path(sheet.Main, name, false, [][2]float64{{s * (at.Y - 0.03), at.Z}, {s * at.Y, at.Z}})
		}
		p.label(at.Y-0.035, at.Z, name, "end", sheet.Main)
	}
	tick("sheer", top)
	if z, ok := q.water(m.X); ok {
		if at, ok := m.At(z); ok {
			tick("load line", at)
		}
	}
	for i, mark := range q.strakeMarks(m.X) {
		tick(fmt.Sprintf("strake %d", i+1), m.Nearest(cuts.Point{Y: mark.Y, Z: mark.Z}))
	}
	p.label(0, q.loft.setUp, "set-up line "+q.sys.Length(units.Length(q.loft.setUp))+" above the base", "middle", sheet.Main)
	p.fit(0.02)
	p.d.Heading = q.mouldName(i)
	p.d.Alt = fmt.Sprintf("%s: half-breadth %s at the sheer, keel %s above the base line.", p.d.Heading,
		q.sys.Length(units.Length(top.Y)), q.sys.Length(units.Length(foot.Z)))
	side := "its body stands astern of the face drawn"
	if m.Ahead {
		side = "its body stands ahead of the face drawn"
	}
	out := sheet.Pattern{Name: fmt.Sprintf("mould-%02d", i+1), Title: p.d.Heading, Face: side + ", towards amidships: leave the edge square", Drawing: p.d,
		Thickness: q.loft.mould, Count: 1, Points: plot(m.Edge, 0.05)}
	out.Notes = append(out.Notes, q.deduction(),
		fmt.Sprintf("Check: set-up line to keel %s; across at the sheer %s.", q.sys.Length(units.Length(q.loft.setUp-foot.Z)), q.sys.Length(units.Length(2*top.Y))))
	return out
}

// mouldName is a mould's number and place.
func (q *ask) mouldName(i int) string {
	return fmt.Sprintf("Mould %d, %s aft of station 0", i+1, q.sys.Length(units.Length(q.moulds[i].X)))
}

func (q *ask) deduction() string {
	if q.deduct() == 0 {
		return "Nothing is taken off: this is the line as read."
	}
	return fmt.Sprintf("%s taken off square to the skin (planking %s, stringers %s).", q.sys.Length(units.Length(q.deduct())),
		q.sys.Length(units.Length(q.deduct()-q.loft.stringer)), q.sys.Length(units.Length(q.loft.stringer)))
}

// both is an edge from one sheer round the keel to the other.
func both(edge []moulds.Point) [][2]float64 {
	out := make([][2]float64, 0, 2*len(edge))
	for i := len(edge) - 1; i >= 0; i-- {
		if i > 0 || edge[0].Y != 0 {
			out = append(out, [2]float64{-edge[i].Y, edge[i].Z})
		}
	}
	for _, p := range edge {
		out = append(out, [2]float64{p.Y, p.Z})
	}
	return out
}

// plot picks points of an edge to plot with a batten: every corner, the ends, and others about step apart.
func plot(edge []moulds.Point, step float64) []sheet.PlotPoint {
	var out []sheet.PlotPoint
	run := math.Inf(1)
	for i, p := range edge {
		if i > 0 {
			run += math.Hypot(p.Y-edge[i-1].Y, p.Z-edge[i-1].Z)
		}
		name := ""
		switch {
		case i == 0:
			name = "keel"
		case i == len(edge)-1:
			name = "sheer"
		case p.Corner:
			name = "corner"
		case run < step:
			continue
		default:
			name = fmt.Sprint(len(out))
		}
		out = append(out, sheet.PlotPoint{Name: name, X: p.Y, Y: p.Z, Bevel: p.Bevel, HasBevel: true})
		run = 0
	}
	return out
}

// leastBulkhead is the half-breadth below which a bulkhead is a scrap that is fitted on the spot, metres.
const leastBulkhead = 0.12

// bulkheads are the places where compartments begin and end, less the planking.
func (q *ask) bulkheads() []sheet.Pattern {
	var at []float64
	for _, c := range q.c.Folder.Boat.Compartments {
		for _, x := range []float64{c.From, c.To} {
			if x > q.hull.From+0.05 && x < q.hull.To-0.05 && q.wide(x) > leastBulkhead {
				at = append(at, x)
			}
		}
	}
	slices.Sort(at)
	at = slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(a-b) < 0.002 })
	less := 0.0
	if !q.c.Folder.Boat.Hull.Inside {
		less = q.loft.skin
	}
	var out []sheet.Pattern
	for i, x := range at {
		m := moulds.Shape(q.surface, x, less, 0.01)
		outline := q.closedAt(x, both(m.Edge))
		var p plate
		p.path(sheet.Skin, "cut here", true, outline)
		foot, top := m.Edge[0], m.Edge[len(m.Edge)-1]
		p.path(sheet.Other, "centre line", false, [][2]float64{{0, foot.Z}, {0, top.Z}})
		p.path(sheet.Grid, "sheer", false, [][2]float64{{-top.Y, top.Z}, {top.Y, top.Z}})
		for _, o := range q.c.Folder.Boat.Openings {
			if math.Abs(o.At.X-x) < 0.08 {
				w, h := float64(o.Width)/2, float64(o.Height)
				p.path(sheet.Limit, o.Name+" (check its place)", true, [][2]float64{{o.At.Y - w, o.At.Z}, {o.At.Y + w, o.At.Z}, {o.At.Y + w, o.At.Z + h}, {o.At.Y - w, o.At.Z + h}})
				p.label(o.At.Y, o.At.Z+h/2, o.Name, "middle", sheet.Limit)
			}
		}
		p.fit(0.02)
		p.d.Heading = fmt.Sprintf("Bulkhead %d, %s aft of station 0", i+1, q.sys.Length(units.Length(x)))
		p.d.Alt = p.d.Heading + ", to the inside of the planking."
		face := "its aft face is drawn"
		if m.Ahead {
			face = "its forward face is drawn"
		}
		out = append(out, sheet.Pattern{Name: fmt.Sprintf("bulkhead-%02d", i+1), Title: p.d.Heading, Face: face, Drawing: p.d, Thickness: q.loft.mould, Count: 1,
			Points: plot(m.Edge, 0.05), Notes: []string{fmt.Sprintf("%s of planking taken off square to the skin.", q.sys.Length(units.Length(less)))}})
	}
	return out
}

// closedAt carries a bulkhead's outline over the deck, and over a cabin that stands there.
func (q *ask) closedAt(x float64, edge [][2]float64) [][2]float64 {
	top := edge[len(edge)-1]
	_, crown := q.hull.Span(x)
	var over []cuts.Point
	for _, c := range q.t.Ship.Cabins {
		if x >= c.From && x <= c.To {
			over = c.Surface.Half(x)
		}
	}
	if len(over) == 0 {
		const steps = 12
		for k := 1; k < 2*steps; k++ {
			f := 1 - float64(k)/steps
			edge = append(edge, [2]float64{top[0] * f, top[1] + (crown-top[1])*(1-f*f)})
		}
		return edge
	}
	for _, p := range over {
		if p.Z > top[1] {
			edge = append(edge, [2]float64{p.Y, p.Z})
		}
	}
	for _, p := range slices.Backward(over) {
		if p.Z > top[1] && p.Y > 0 {
			edge = append(edge, [2]float64{-p.Y, p.Z})
		}
	}
	return edge
}
