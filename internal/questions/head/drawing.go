package head

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"thole/internal/cuts"
	"thole/internal/sheet"
	"thole/internal/underway"
)

// profiles draws her from the side, level in the water, with what wind and water see of her and the centres of both.
func (q *ask) profiles(y *underway.Yaw, f *Figures) *sheet.Drawing {
	d := &sheet.Drawing{Heading: "From the side: what the wind and the water take hold of"}
	upper, lower := q.silhouette(y)
	top, foot := 0.0, 0.0
	for i := range upper {
		top, foot = math.Max(top, upper[i][1]), math.Min(foot, lower[i][1])
	}
	for _, e := range y.Exposed {
		if e.Hi != e.Lo {
			top = math.Max(top, y.Above((e.Lo.X+e.Hi.X)/2, e.Hi.Z))
		}
	}
	for _, b := range y.Blades {
		foot = math.Min(foot, y.Above(b.Corners[2][0], b.Corners[2][1]))
	}
	length := y.View.To - y.View.From
	d.MinX, d.MaxX = y.View.From-0.08*length, y.View.To+0.08*length
	d.MinY, d.MaxY = foot-0.42, top+0.34
	add := func(role sheet.Role, name string, closed bool, pts [][2]float64) {
		d.Paths = append(d.Paths, sheet.Path{Role: role, Name: name, Points: pts, Closed: closed})
	}
	add(sheet.Sea, "the sea", true, [][2]float64{{d.MinX, 0}, {d.MaxX, 0}, {d.MaxX, d.MinY}, {d.MinX, d.MinY}})
	outline := append([][2]float64(nil), upper...)
	for i := len(lower) - 1; i >= 0; i-- {
		outline = append(outline, lower[i])
	}
	add(sheet.Body, "hull and cabins", true, outline)
	add(sheet.Skin, "her outline", true, outline)
	for _, e := range y.Exposed {
		if e.Hi == e.Lo {
			continue
		}
		add(sheet.Thing, e.Name, true, [][2]float64{{e.Lo.X, y.Above(e.Lo.X, e.Lo.Z)}, {e.Hi.X, y.Above(e.Hi.X, e.Lo.Z)}, {e.Hi.X, y.Above(e.Hi.X, e.Hi.Z)}, {e.Lo.X, y.Above(e.Lo.X, e.Hi.Z)}})
	}
	for _, b := range y.Blades {
		role := sheet.Main
		if b.Up {
			role = sheet.Limit
		}
		var pts [][2]float64
		for _, c := range b.Corners {
			pts = append(pts, [2]float64{c[0], y.Above(c[0], c[1])})
		}
		add(role, b.Name, true, pts)
	}
	add(sheet.Water, "the sea", false, [][2]float64{{d.MinX, 0}, {d.MaxX, 0}})

	cross := func(name string, x, z float64) {
		const r = 0.07
		add(sheet.Main, name, false, [][2]float64{{x - r, z}, {x + r, z}})
		add(sheet.Main, name, false, [][2]float64{{x, z - r}, {x, z + r}})
	}
	label := func(x, z, lx, lz float64, text, anchor string) {
		add(sheet.Pointer, text, false, [][2]float64{{x, z}, {lx, lz}})
		off := 0.06
		if lz < z {
			off = -0.14
		}
		d.Labels = append(d.Labels, sheet.Label{X: lx, Y: lz + off, Text: text, Anchor: anchor, Role: sheet.Main})
	}
	cross("centre of the windage", f.Windage.X, f.Windage.Height)
	label(f.Windage.X, f.Windage.Height, f.Windage.X, top+0.12, fmt.Sprintf("wind: %.2f m² at %s", f.Windage.Area, q.coarse(f.Windage.X)), "middle")
	// The first two settings, the one with its centre further forward named to the left.
	sets := append([]Lateral(nil), f.Lateral[:min(2, len(f.Lateral))]...)
	slices.SortStableFunc(sets, func(a, b Lateral) int { return cmp.Compare(a.X, b.X) })
	for i, l := range sets {
		side, anchor := -0.1, "end"
		if i > 0 {
			side, anchor = 0.1, "start"
		}
		cross("centre of the profile under water, "+l.Setting, l.X, l.Height)
		label(l.X, l.Height, l.X+side, foot-0.1, fmt.Sprintf("%s: %.2f m² at %s", l.Setting, l.Area.Area, q.coarse(l.X)), anchor)
	}
	d.Alt = fmt.Sprintf("Side view: %.2f square metres stand in the wind, centred %s aft of station 0", f.Windage.Area, q.coarse(f.Windage.X))
	for _, l := range f.Lateral {
		d.Alt += fmt.Sprintf("; with %s, %.2f are under water, centred at %s", l.Setting, l.Area.Area, q.coarse(l.X))
	}
	d.Alt += "."
	tidy(d)
	return d
}

// silhouette is the upper and the lower edge of hull and cabins, by height above the water.
func (q *ask) silhouette(y *underway.Yaw) (upper, lower [][2]float64) {
	q.t.Ship.Body.Envelope.Each(func(x float64, runs [][]cuts.Point) {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, r := range runs {
			for _, p := range r {
				lo, hi = math.Min(lo, p.Z), math.Max(hi, p.Z)
			}
		}
		if hi < lo {
			return
		}
		upper = append(upper, [2]float64{x, y.Above(x, hi)})
		lower = append(lower, [2]float64{x, y.Above(x, lo)})
	})
	return upper, lower
}

// tidy rounds what is drawn to a tenth of a millimetre.
func tidy(d *sheet.Drawing) {
	for k := range d.Paths {
		for j, p := range d.Paths[k].Points {
			d.Paths[k].Points[j] = [2]float64{math.Round(p[0]*1e4) / 1e4, math.Round(p[1]*1e4) / 1e4}
		}
	}
}

// compass draws the courses kept in several winds, the wind from the top of the sheet: a ring for each wind, the
// strongest innermost.
func (q *ask) compass(f *Figures) *sheet.Drawing {
	d := &sheet.Drawing{Heading: "Courses she can be steered on, the wind from above", MinX: -2.2, MaxX: 2.2, MinY: -1.28, MaxY: 1.42}
	add := func(role sheet.Role, name string, pts [][2]float64) {
		d.Paths = append(d.Paths, sheet.Path{Role: role, Name: name, Points: pts})
	}
	// An angle is off dead downwind, which points down the sheet.
	point := func(r, a float64) [2]float64 { return [2]float64{r * math.Sin(a), -r * math.Cos(a)} }
	arc := func(r, half float64) (pts [][2]float64) {
		n := max(2, int(half/deg/2))
		for i := -n; i <= n; i++ {
			pts = append(pts, point(r, half*float64(i)/float64(n)))
		}
		return pts
	}
	// What is wanted, as a wedge behind it all.
	wedge := append([][2]float64{{0, 0}}, arc(1.16, f.Asked*deg)...)
	d.Paths = append(d.Paths, sheet.Path{Role: sheet.Body, Name: fmt.Sprintf("wanted: %.0f° either side", f.Asked), Points: wedge, Closed: true})
	for i, s := range f.Sectors {
		r := 1.05 - 0.22*float64(i)
		name := fmt.Sprintf("%.0f kn: %.0f° either side", s.Wind/knot, s.Half)
		add(sheet.Grid, name, arc(r, math.Pi))
		role := sheet.Other
		if math.Abs(s.Wind-f.Wind) < 1e-6 {
			role = sheet.Skin
		}
		add(role, name, arc(r, s.Half*deg))
		if s.Half < 179.5 { // stops at the ends of the arc
			for _, side := range []float64{-1, 1} {
				add(role, name, [][2]float64{point(r-0.04, side*s.Half*deg), point(r+0.04, side*s.Half*deg)})
			}
		}
		d.Labels = append(d.Labels, sheet.Label{X: 0.02, Y: -r + 0.03, Text: fmt.Sprintf("%.0f kn", s.Wind/knot), Anchor: "start", Role: sheet.Main})
	}
	for _, side := range []float64{-1, 1} {
		add(sheet.Limit, "wanted", [][2]float64{{0, 0}, point(1.16, side*f.Asked*deg)})
		if f.Sector.Low < 179.5 { // how far the coefficients may take it in, for the wind asked
			add(sheet.Pointer, fmt.Sprintf("as little as %.0f° in %.0f kn", f.Sector.Low, f.Wind/knot), [][2]float64{{0, 0}, point(1.16, side*f.Sector.Low*deg)})
		}
	}
	add(sheet.Main, "the wind", [][2]float64{{0, 1.38}, {0, 1.14}})
	add(sheet.Main, "the wind", [][2]float64{{-0.05, 1.22}, {0, 1.14}, {0.05, 1.22}})
	d.Labels = append(d.Labels, sheet.Label{X: 0.08, Y: 1.3, Text: "wind", Anchor: "start", Role: sheet.Main},
		sheet.Label{X: point(1.2, f.Asked*deg)[0], Y: point(1.2, f.Asked*deg)[1], Text: fmt.Sprintf("wanted, %.0f°", f.Asked), Anchor: "start", Role: sheet.Limit})
	if f.Sector.Low < 179.5 {
		p := point(1.2, -f.Sector.Low*deg)
		d.Labels = append(d.Labels, sheet.Label{X: p[0], Y: p[1], Text: fmt.Sprintf("%.0f kn at the least, %.0f°", f.Wind/knot, f.Sector.Low), Anchor: "end", Role: sheet.Pointer})
	}
	d.Alt = "Courses kept either side of dead downwind:"
	for _, s := range f.Sectors {
		d.Alt += fmt.Sprintf(" %.0f degrees in %.0f knots,", s.Half, s.Wind/knot)
	}
	d.Alt += fmt.Sprintf(" %.0f wanted.", f.Asked)
	tidy(d)
	return d
}
