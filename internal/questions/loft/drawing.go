package loft

import (
	"fmt"
	"math"

	"thole/internal/lines"
	"thole/internal/sheet"
	"thole/internal/units"
)

// ring is a circle about a place that wants looking at, radius in metres of the drawing.
func ring(x, y, r float64) [][2]float64 {
	const n = 24
	out := make([][2]float64, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		out[i] = [2]float64{x + r*c, y + r*s}
	}
	return out
}

// ringed puts rings and numbers on the worst places of a view.
func (q *ask) ringed(p *plate, at func(Place) (x, y float64)) {
	for i, w := range q.figures.Worst {
		x, y := at(w)
		p.path(sheet.Limit, q.words(w), true, ring(x, y, 0.035))
		p.label(x, y+0.045, fmt.Sprint(i+1), "middle", sheet.Limit)
	}
}

// sheerLine samples keel or sheer along the boat.
func (q *ask) edge(k int, of func(y, z float64) float64) [][2]float64 {
	const n = 120
	var out [][2]float64
	for i := 0; i <= n; i++ {
		x := q.hull.From + float64(i)/n*(q.hull.To-q.hull.From)
		p := q.surface.Half(x)[k]
		out = append(out, [2]float64{x, of(p.Y, p.Z)})
	}
	return out
}

func height(_, z float64) float64      { return z }
func halfBreadth(y, _ float64) float64 { return y }

// stations rules a view at the stations, with their names under it.
func (q *ask) stations(p *plate, low, high float64) {
	for _, s := range q.c.Folder.Boat.Hull.Readings.Stations {
		p.path(sheet.Grid, "station "+s.Label, false, [][2]float64{{s.X, low}, {s.X, high}})
		p.label(s.X, low-0.05, s.Label, "middle", sheet.Grid)
	}
}

// profile is the view from the side: keel, knuckles, sheer, buttocks.
func (q *ask) profile() sheet.Drawing {
	var p plate
	high := 0.0
	for _, s := range q.t.Ship.Sheer {
		high = math.Max(high, s.Z)
	}
	q.stations(&p, 0, high)
	p.path(sheet.Grid, "base line", false, [][2]float64{{q.hull.From, 0}, {q.hull.To, 0}})
	for _, l := range q.traced {
		if l.Plane.Kind == lines.Buttock {
			p.path(sheet.Other, l.Plane.Name, false, points(l.X, l.Z))
		}
	}
	corner := q.surface.Corners()
	for i, k := range corner {
		p.path(sheet.Skin, q.edgeName(i), false, q.edge(k, height))
	}
	q.ringed(&p, func(w Place) (float64, float64) { return w.X, w.Height })
	p.fit(0.1)
	p.d.Heading = "Profile"
	p.d.Alt = "Her profile with buttocks; the places that stand out most are ringed and numbered."
	return p.d
}

// plan is the half-breadth view: waterlines and sheer.
func (q *ask) plan() sheet.Drawing {
	var p plate
	q.stations(&p, 0, q.figures.Breadth/2)
	p.path(sheet.Grid, "centre line", false, [][2]float64{{q.hull.From, 0}, {q.hull.To, 0}})
	for _, l := range q.traced {
		if l.Plane.Kind == lines.Waterline {
			p.path(sheet.Other, l.Plane.Name, false, points(l.X, l.Y))
		}
	}
	corner := q.surface.Corners()
	for i := 1; i < len(corner); i++ {
		p.path(sheet.Skin, q.edgeName(i), false, q.edge(corner[i], halfBreadth))
	}
	q.ringed(&p, func(w Place) (float64, float64) { return w.X, w.HalfBreadth })
	p.fit(0.1)
	p.d.Heading = "Half-breadth plan"
	p.d.Alt = "Her waterlines from above; the places that stand out most are ringed and numbered."
	return p.d
}

// diagonals are drawn as they lie in their own planes.
func (q *ask) diagonals() sheet.Drawing {
	var p plate
	high := 0.0
	for _, l := range q.traced {
		if l.Plane.Kind == lines.Diagonal {
			p.path(sheet.Main, l.Plane.Name, false, points(l.X, l.V))
			for _, v := range l.V {
				high = math.Max(high, v)
			}
			if n := len(l.X) / 2; n > 0 {
				p.label(l.X[n], l.V[n]+0.03, l.Plane.Name, "middle", sheet.Main)
			}
		}
	}
	q.stations(&p, 0, high)
	p.path(sheet.Grid, "centre line", false, [][2]float64{{q.hull.From, 0}, {q.hull.To, 0}})
	p.fit(0.1)
	p.d.Heading = "Diagonals, in their own planes"
	p.d.Alt = "Three diagonals that cross the skin nearly square amidships: the truest test of the turn of the bilge."
	return p.d
}

// sections is the body plan: the fore body on the right, the after body on the left.
func (q *ask) sections() sheet.Drawing {
	var p plate
	mid := (q.hull.From + q.hull.To) / 2
	way := func(x float64) float64 {
		if x > mid {
			return -1
		}
		return 1
	}
	for _, s := range q.c.Folder.Boat.Hull.Readings.Stations {
		g := q.surface.Girth(s.X)
		var line [][2]float64
		const n = 60
		for i := 0; i <= n; i++ {
			pt, _, _ := g.At(g.Length * float64(i) / n)
			line = append(line, [2]float64{way(s.X) * pt.Y, pt.Z})
		}
		p.path(sheet.Main, "station "+s.Label, false, line)
		top := line[len(line)-1]
		p.label(top[0], top[1]+0.02, s.Label, "middle", sheet.Grid)
	}
	half := q.figures.Breadth / 2
	low, high := q.surface.Half(mid)[0].Z, 0.0
	for _, s := range q.t.Ship.Sheer {
		high = math.Max(high, s.Z)
	}
	for _, pl := range q.planes {
		switch pl.Kind {
		case lines.Waterline:
			p.path(sheet.Grid, pl.Name, false, [][2]float64{{-half, pl.At}, {half, pl.At}})
		case lines.Buttock:
			p.path(sheet.Grid, pl.Name, false, [][2]float64{{pl.At, 0}, {pl.At, high}})
			p.path(sheet.Grid, pl.Name, false, [][2]float64{{-pl.At, 0}, {-pl.At, high}})
		case lines.Diagonal:
			// from the centre line down to the base or out to the side
			fall := math.Tan(pl.Slope)
			in, out := math.Max(0, (pl.At-high)/fall), math.Min(half, (pl.At-low)/fall)
			for _, w := range [2]float64{1, -1} {
				p.path(sheet.Other, pl.Name, false, [][2]float64{{w * in, pl.At - in*fall}, {w * out, pl.At - out*fall}})
			}
		}
	}
	q.ringed(&p, func(w Place) (float64, float64) { return way(w.X) * w.HalfBreadth, w.Height })
	p.fit(0.06)
	p.d.Heading = "Body plan"
	p.d.Alt = "Her stations: the fore body on the right, the after body on the left, with waterlines, buttocks and diagonals; the places that stand out most are ringed."
	return p.d
}

// linesPattern is the lines drawing: profile over plan, and the body plan beside them, as one
// sheet to print at 1:10.
func (q *ask) linesPattern() sheet.Pattern {
	profile, plan, body := q.profile(), q.plan(), q.sections()
	var p plate
	put := func(d sheet.Drawing, dx, dy float64) {
		for _, path := range d.Paths {
			moved := make([][2]float64, len(path.Points))
			for i, pt := range path.Points {
				moved[i] = [2]float64{pt[0] + dx, pt[1] + dy}
			}
			p.path(path.Role, path.Name, path.Closed, moved)
		}
		for _, l := range d.Labels {
			p.label(l.X+dx, l.Y+dy, l.Text, l.Anchor, l.Role)
		}
	}
	put(profile, 0, plan.MaxY+0.3)
	put(plan, 0, 0)
	put(body, q.hull.To+0.4-body.MinX, plan.MaxY+0.3)
	p.fit(0.1)
	p.d.Heading = "Lines of " + q.c.Folder.Boat.Name + ", " + q.toWhat()
	p.d.Alt = "Profile, half-breadth plan and body plan."
	return sheet.Pattern{Name: "lines", Title: p.d.Heading, Face: "profile, half-breadth plan and body plan; bow to the left", Drawing: p.d,
		Notes: []string{"Lines are " + q.toWhat() + ".", fmt.Sprintf("Length %s, breadth %s.", q.sys.Length(units.Length(q.figures.Length)), q.sys.Length(units.Length(q.figures.Breadth)))}}
}

// toWhat says inside or outside of the planking.
func (q *ask) toWhat() string {
	if q.c.Folder.Boat.Hull.Inside {
		return "to the inside of the planking"
	}
	return "to the outside of the planking"
}

// edgeName is the name of keel, a knuckle or the sheer, by its place in Corners.
func (q *ask) edgeName(i int) string {
	switch n := len(q.surface.Corners()); {
	case i == 0:
		return "keel"
	case i == n-1:
		return "sheer"
	}
	return q.surface.Knuckles[i-1]
}

func points(x, y []float64) [][2]float64 {
	out := make([][2]float64, len(x))
	for i := range x {
		out[i] = [2]float64{x[i], y[i]}
	}
	return out
}
