package loft

import (
	"fmt"
	"math"

	"thole/internal/fairing"
	"thole/internal/lines"
	"thole/internal/moulds"
	"thole/internal/sheet"
	"thole/internal/units"
)

// postPoint is a place of a post: where at one height the planking meets it.
type postPoint struct {
	z       float64
	profile float64 // x of the outside of the skin on the centre line
	rabbet  float64 // x where the skin's outer face meets the side of the post
	beard   float64 // x where its inner face does
	bevel   float64 // of the skin from the centre plane, level, radians
}

// entry is an end of the boat cut closely, so that level lines through it cost little.
type entry struct {
	way    float64 // 1 at the bow, -1 at the stern
	x      []float64
	girths []fairing.Girth
}

// reach is the share of the length from an end within which its post's foot is looked for.
const reach = 0.35

func (q *ask) entry(end, way float64) entry {
	const cuts = 72
	e := entry{way: way}
	for i := range cuts {
		f := float64(i) / (cuts - 1)
		x := end + way*reach*f*f*(q.hull.To-q.hull.From) // closer towards the end
		e.x, e.girths = append(e.x, x), append(e.girths, q.surface.Girth(x))
	}
	return e
}

// level is the half-breadth at a height over the distance from the end, from where the skin begins.
func (e *entry) level(z float64) (line fairing.Spline, from, to float64, ok bool) {
	var d, y []float64
	for i := range e.x {
		hits := lines.Cross(&e.girths[i], lines.Plane{Kind: lines.Waterline, At: z})
		if len(hits) == 0 {
			if len(d) > 0 {
				break
			}
			continue
		}
		d, y = append(d, math.Abs(e.x[i]-e.x[0])), append(y, hits[len(hits)-1].Y)
	}
	if len(d) < 4 {
		return line, 0, 0, false
	}
	line = fairing.NewSpline(d, y)
	// back to nothing, by the slope of the first span
	from = d[0]
	if _, slope, _ := line.Derivatives(d[0]); slope > 0 {
		from = math.Max(0, d[0]-y[0]/slope)
	}
	return line, from, d[len(d)-1], true
}

// posts draws stem and stern post: profile, rabbet and bearding line, with the bevel by height. A transom
// has none.
func (q *ask) posts() []sheet.Pattern {
	var out []sheet.Pattern
	if q.surface.ClosedFore {
		out = append(out, q.post("stem", q.hull.From, 1)...)
	} else {
		out = append(out, q.transom("bow-transom", "Bow transom", q.hull.From))
	}
	if q.surface.ClosedAft {
		out = append(out, q.post("stern post", q.hull.To, -1)...)
	} else {
		out = append(out, q.transom("transom", "Transom", q.hull.To))
	}
	return out
}

// transom is the flat end in its true shape: it stands square to the base line, so that the section is
// the shape. The planking laps its edge and is not taken off; the bevels are the skin's.
func (q *ask) transom(name, title string, x float64) sheet.Pattern {
	m := moulds.Shape(q.surface, x, 0, 0.01)
	var p plate
	p.path(sheet.Skin, "cut here", true, q.closedAt(x, both(m.Edge)))
	foot, top := m.Edge[0], m.Edge[len(m.Edge)-1]
	p.path(sheet.Other, "centre line", false, [][2]float64{{0, foot.Z}, {0, top.Z}})
	p.path(sheet.Grid, "sheer", false, [][2]float64{{-top.Y, top.Z}, {top.Y, top.Z}})
	p.fit(0.02)
	p.d.Heading = fmt.Sprintf("%s, %s aft of station 0", title, q.sys.Length(units.Length(x)))
	p.d.Alt = p.d.Heading + ", to the outside of the skin."
	return sheet.Pattern{Name: name, Title: p.d.Heading, Face: "its outer face is drawn", Drawing: p.d, Thickness: q.loft.mould, Count: 1, Points: plot(m.Edge, 0.05),
		Notes: []string{"Drawn to the outside of the skin: the planking laps its edge. Cut the bevels with wood to spare."}}
}

func (q *ask) post(name string, end, way float64) []sheet.Pattern {
	pts := q.postPoints(end, way)
	if len(pts) < 3 {
		return nil
	}
	var p plate
	line := func(role sheet.Role, name string, of func(postPoint) float64) {
		var l [][2]float64
		for _, s := range pts {
			l = append(l, [2]float64{of(s), s.z})
		}
		p.path(role, name, false, l)
	}
	line(sheet.Skin, "apex line: outside of the skin on the centre line", func(s postPoint) float64 { return s.profile })
	line(sheet.Main, "rabbet line: where the skin's outer face meets the post", func(s postPoint) float64 { return s.rabbet })
	line(sheet.Other, "bearding line: where its inner face does", func(s postPoint) float64 { return s.beard })
	top := pts[len(pts)-1]
	p.path(sheet.Grid, "sheer", false, [][2]float64{{top.profile, top.z}, {top.beard, top.z}})
	p.fit(0.03)
	p.d.Heading = fmt.Sprintf("The %s, %s broad", name, q.sys.Length(units.Length(q.loft.siding)))
	p.d.Alt = p.d.Heading + ": apex, rabbet and bearding lines from the side."
	out := sheet.Pattern{Name: map[bool]string{true: "stem", false: "stern-post"}[way > 0], Title: p.d.Heading, Face: "seen from starboard", Drawing: p.d,
		Thickness: q.loft.siding, Count: 1, Notes: []string{"Bevels are of the skin from the centre plane, level with the base line, at the rabbet."}}
	for i, s := range pts {
		if i%4 == 0 || i == len(pts)-1 {
			out.Points = append(out.Points, sheet.PlotPoint{Name: fmt.Sprintf("rabbet at %s up", q.sys.Length(units.Length(s.z))), X: s.rabbet, Y: s.z, Bevel: s.bevel, HasBevel: true})
		}
	}
	for i, s := range pts {
		if i%4 == 0 || i == len(pts)-1 {
			out.Points = append(out.Points, sheet.PlotPoint{Name: fmt.Sprintf("apex at %s up", q.sys.Length(units.Length(s.z))), X: s.profile, Y: s.z})
		}
	}
	return []sheet.Pattern{out}
}

// postPoints goes up an end of the boat in level steps.
func (q *ask) postPoints(end, way float64) []postPoint {
	const steps = 32
	e := q.entry(end, way)
	low := e.girths[len(e.girths)-1]
	foot, _, _ := low.At(0)
	head, _, _ := e.girths[0].At(e.girths[0].Length)
	var out []postPoint
	for i := 1; i <= steps; i++ {
		z := foot.Z + 0.02 + (head.Z-foot.Z-0.03)*float64(i)/steps
		if s, ok := q.postPoint(&e, z); ok {
			out = append(out, s)
		}
	}
	return out
}

// postPoint finds where at one height the skin meets the post.
func (q *ask) postPoint(e *entry, z float64) (postPoint, bool) {
	const dz = 0.004
	line, from, to, ok := e.level(z)
	above, _, _, okA := e.level(z + dz)
	below, _, _, okB := e.level(z - dz)
	if !ok || !okA || !okB {
		return postPoint{}, false
	}
	find := func(value func(d float64) float64) (float64, bool) {
		lo, hi := from, to
		if value(hi) < 0 {
			return 0, false
		}
		if value(lo) >= 0 {
			return lo, true
		}
		for range 50 {
			if mid := (lo + hi) / 2; value(mid) < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		return hi, true
	}
	half := q.loft.siding / 2
	rabbet, ok := find(func(d float64) float64 { return line.At(d) - half })
	if !ok {
		return postPoint{}, false
	}
	beard, ok := find(func(d float64) float64 {
		_, along, _ := line.Derivatives(d)
		up := (above.At(d) - below.At(d)) / (2 * dz)
		// across the boat the skin is as thick as its slope makes it
		return line.At(d) - q.loft.skin*math.Sqrt(1+along*along+up*up) - half
	})
	_, along, _ := line.Derivatives(rabbet)
	place := func(d float64) float64 { return e.x[0] + e.way*d }
	return postPoint{z: z, profile: place(from), rabbet: place(rabbet), beard: place(beard), bevel: math.Atan(along)}, ok
}
