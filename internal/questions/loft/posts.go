package loft

import (
	"fmt"
	"math"

	"thole/internal/lines"
	"thole/internal/sheet"
	"thole/internal/units"
)

// station is a place of a post: where at one height the planking meets it.
type postPoint struct {
	z       float64
	profile float64 // x of the outside of the skin on the centre line
	rabbet  float64 // x where the skin's outer face meets the side of the post
	beard   float64 // x where its inner face does
	bevel   float64 // of the skin from the centre plane, level, radians
}

// breadth is the half-breadth of the skin at a place and height; negative where there is none.
func (q *ask) breadth(x, z float64) float64 {
	if x < q.hull.From || x > q.hull.To {
		return -1
	}
	g := q.surface.Girth(x)
	hits := lines.Cross(&g, lines.Plane{Kind: lines.Waterline, At: z})
	if len(hits) == 0 {
		return -1
	}
	return hits[len(hits)-1].Y
}

// posts draws stem and stern post: profile, rabbet and bearding line, with the bevel by height. A transom
// has none.
func (q *ask) posts() []sheet.Pattern {
	var out []sheet.Pattern
	if q.surface.ClosedFore {
		out = append(out, q.post("stem", q.hull.From, 1)...)
	}
	if q.surface.ClosedAft {
		out = append(out, q.post("stern post", q.hull.To, -1)...)
	}
	return out
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
	reach := 0.35 * (q.hull.To - q.hull.From) // how far from the end its foot is looked for
	half := q.surface.Half(end + way*reach)
	low := half[0].Z
	atEnd := q.surface.Half(end)
	high := atEnd[len(atEnd)-1].Z
	var out []postPoint
	for i := 1; i <= steps; i++ {
		z := low + 0.02 + (high-low-0.03)*float64(i)/steps
		s := postPoint{z: z}
		var ok bool
		// from well inside towards the end, to where the skin comes down to so much breadth
		find := func(value func(x float64) float64) (float64, bool) {
			in, outer := end+way*reach, end
			if value(in) < 0 {
				return 0, false
			}
			if value(outer) >= 0 {
				return outer, true
			}
			for range 40 {
				mid := (in + outer) / 2
				if value(mid) >= 0 {
					in = mid
				} else {
					outer = mid
				}
			}
			return in, true
		}
		if s.profile, ok = find(func(x float64) float64 { return q.breadth(x, z) }); !ok {
			continue
		}
		if s.rabbet, ok = find(func(x float64) float64 { return q.breadth(x, z) - q.loft.siding/2 }); !ok {
			continue
		}
		slope := func(x float64) (along, up float64) {
			const d = 0.004
			return (q.breadth(x+way*d, z) - q.breadth(x, z)) / d, (q.breadth(x, z+d) - q.breadth(x, z-d)) / (2 * d)
		}
		inner := func(x float64) float64 {
			a, u := slope(x)
			// across the boat the skin is as thick as its slope makes it
			return q.breadth(x, z) - q.loft.skin*math.Sqrt(1+a*a+u*u) - q.loft.siding/2
		}
		if s.beard, ok = find(inner); !ok {
			continue
		}
		a, _ := slope(s.rabbet)
		s.bevel = math.Atan(a)
		out = append(out, s)
	}
	return out
}
