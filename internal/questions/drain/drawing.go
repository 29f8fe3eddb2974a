package drain

import (
	"fmt"
	"math"

	"thole/internal/cuts"
	"thole/internal/hydraulics"
	"thole/internal/hydro"
	"thole/internal/sheet"
)

// across draws her cut open through the middle of a well, seen from astern, with the well full and the sea.
func (q *ask) across(s *loaded, i int) *sheet.Drawing {
	p := q.all[i]
	x := (p.From + p.To) / 2
	if len(p.outlets) > 0 {
		x = p.outlets[0].at.X
	}
	room, x := nearest(p.Stack, x)
	hull, x := nearest(q.t.Ship.Body.Envelope, x)
	a := s.full.rest.Attitude
	d := &sheet.Drawing{Heading: fmt.Sprintf("Through the %s, full, %.2f m aft of station 0", p.Name, x)}
	min, max := hull.Bounds()
	width, pad := 1.25*max.Y, 0.08*(max.Z-min.Z)
	d.MinX, d.MaxX, d.MinY, d.MaxY = -width, width, min.Z-pad, max.Z+2*pad
	add := func(role sheet.Role, name string, closed bool, pts [][2]float64) {
		d.Paths = append(d.Paths, sheet.Path{Role: role, Name: name, Points: pts, Closed: closed})
	}
	line := surface(a, x, a.Level, width)
	add(sheet.Sea, "the sea", true, [][2]float64{line[0], line[1], {width, d.MinY}, {-width, d.MinY}})
	for _, loop := range loops(hull) {
		add(sheet.Body, "the boat", true, loop)
		add(sheet.Skin, "her outline", true, loop)
	}
	volume := s.full.water.volume[i]
	level := a.Level
	if !s.full.water.open[i] {
		level = p.level(a, volume, math.NaN()) * math.Sqrt(1+a.Slope*a.Slope)
	}
	in := surface(a, x, level, 50)
	wet := cuts.Intersection(room, cuts.Outline([]cuts.Point{{Y: -50, Z: in[0][1]}, {Y: -50, Z: -50}, {Y: 50, Z: -50}, {Y: 50, Z: in[1][1]}}))
	for _, loop := range loops(wet) {
		add(sheet.Sea, "water in the well", true, loop)
		add(sheet.Water, "water in the well", true, loop)
	}
	add(sheet.Water, "the sea", false, line)
	for _, o := range p.outlets {
		half := (o.opening.Diameter + o.opening.Width) / 2
		pts := [][2]float64{{o.at.Y, o.at.Z}, {o.at.Y, o.at.Z + o.opening.Diameter + o.opening.Height}}
		if p.drains[o.drain].face == hydraulics.Flat {
			pts = [][2]float64{{o.at.Y - half, o.at.Z}, {o.at.Y + half, o.at.Z}}
		}
		add(sheet.Thing, o.opening.Name, false, pts)
	}
	d.Labels = append(d.Labels, sheet.Label{X: -width, Y: line[0][1] + 0.02, Text: "the sea, the well full", Anchor: "start", Role: sheet.Water},
		sheet.Label{X: 0, Y: max.Z + pad, Text: "water to the rim", Anchor: "middle", Role: sheet.Water})
	d.Alt = fmt.Sprintf("Cross-section %.2f m aft of station 0, the %s full: its water stands %.0f mm above the sea.", x, p.Name, 1000*(level-a.Level))
	for k := range d.Paths {
		for j, pt := range d.Paths[k].Points {
			d.Paths[k].Points[j] = [2]float64{math.Round(pt[0]*1e4) / 1e4, math.Round(pt[1]*1e4) / 1e4}
		}
	}
	return d
}

// surface is a water's line across the paper at x, out to both sides.
func surface(a hydro.Attitude, x, level, width float64) [][2]float64 {
	sin, cos := math.Sincos(a.Heel)
	z := func(y float64) float64 { return (level + a.Slope*x + y*sin) / math.Max(cos, 0.05) }
	return [][2]float64{{-width, z(-width)}, {width, z(width)}}
}

// nearest is the outline of a stack at its cut nearest to x, and where that is.
func nearest(st *cuts.Stack, x float64) (cuts.Section, float64) {
	var out cuts.Section
	best := math.Inf(1)
	at := x
	st.Each(func(cx float64, runs [][]cuts.Point) {
		if d := math.Abs(cx - x); d < best {
			best, at, out = d, cx, nil
			for _, r := range runs {
				for k := 1; k < len(r); k++ {
					out = append(out, cuts.Edge{A: r[k-1], B: r[k], Slant: 1})
				}
			}
		}
	})
	return out, at
}

// loops joins a section's edges end to end into closed lines.
func loops(s cuts.Section) [][][2]float64 {
	const same = 1e-7
	var out [][][2]float64
	left := append(cuts.Section(nil), s...)
	for len(left) > 0 {
		line := [][2]float64{{left[0].A.Y, left[0].A.Z}}
		end := left[0].B
		left = left[1:]
		for found := true; found; {
			line = append(line, [2]float64{end.Y, end.Z})
			found = false
			for k, e := range left {
				if math.Abs(e.A.Y-end.Y)+math.Abs(e.A.Z-end.Z) < same {
					end, found = e.B, true
					left = append(left[:k], left[k+1:]...)
					break
				}
			}
		}
		if len(line) > 3 {
			out = append(out, line)
		}
	}
	return out
}
