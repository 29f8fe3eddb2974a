package oars

import (
	"fmt"
	"math"

	"thole/internal/rowing"
	"thole/internal/sheet"
)

// around is how much of the boat is drawn beyond the rower and the oars, m.
const around = 0.25

// drawings are the tightest rower at catch and finish, from the side and from above, to scale.
func (q *ask) drawings() []*sheet.Drawing {
	var out []*sheet.Drawing
	for _, above := range []bool{false, true} {
		for _, phase := range []rowing.Phase{rowing.AtCatch, rowing.AtFinish} {
			if d := q.drawing(phase, above); d != nil {
				out = append(out, d)
			}
		}
	}
	return out
}

// roles are how the parts of a figure are drawn.
var roles = map[rowing.Trait]sheet.Role{rowing.Limb: sheet.Main, rowing.HeadLine: sheet.Main, rowing.OarShaft: sheet.Thing, rowing.OarBlade: sheet.Body,
	rowing.BoatPart: sheet.Other, rowing.PinMark: sheet.Thing, rowing.HandPath: sheet.Grid}

// drawing is one view of one end of the stroke; nil where it cannot be drawn.
func (q *ask) drawing(phase rowing.Phase, above bool) *sheet.Drawing {
	r := q.tight
	word := map[rowing.Phase]string{rowing.AtCatch: "catch", rowing.AtFinish: "finish"}[phase]
	draw, from := r.Setup.FromSide, "side"
	if above {
		draw, from = r.Setup.FromAbove, "above"
	}
	d := &sheet.Drawing{Heading: fmt.Sprintf("%s at the %s, from %s", r.Name, word, map[bool]string{false: "the side", true: "above"}[above]), MinX: math.Inf(1), MinY: math.Inf(1), MaxX: math.Inf(-1), MaxY: math.Inf(-1)}
	grow := func(p [2]float64) {
		d.MinX, d.MaxX = math.Min(d.MinX, p[0]), math.Max(d.MaxX, p[0])
		d.MinY, d.MaxY = math.Min(d.MinY, p[1]), math.Max(d.MaxY, p[1])
	}
	var lines []rowing.Line
	for _, at := range []rowing.Phase{rowing.AtCatch, rowing.AtFinish} { // one frame for both, so that they can be laid one on the other
		all, err := draw(q.waters[0], at)
		if err != nil {
			return nil
		}
		if at == phase {
			lines = all
		}
		for _, l := range all {
			if l.Trait == rowing.Limb || l.Trait == rowing.HeadLine || l.Trait == rowing.OarShaft || l.Trait == rowing.OarBlade {
				for _, p := range l.Points {
					grow(p)
				}
			}
		}
	}
	d.MinX, d.MaxX, d.MinY, d.MaxY = d.MinX-around, d.MaxX+around, d.MinY-around, d.MaxY+around
	if !above {
		q.hull(d)
	}
	for _, l := range lines {
		if l.Trait == rowing.Surface {
			continue
		}
		role := roles[l.Trait]
		if l.Name == "gunwale" {
			role = sheet.Skin
		}
		points := within(l.Points, d)
		if len(points) > 1 {
			d.Paths = append(d.Paths, sheet.Path{Role: role, Name: l.Name, Points: tidy(points), Closed: l.Closed && len(points) == len(l.Points)})
		}
	}
	if !above {
		q.afloat(d)
	}
	d.Labels = append(d.Labels, sheet.Label{X: d.MinX + 0.03, Y: d.MaxY - 0.05*(d.MaxY-d.MinY), Text: "bow", Anchor: "start", Role: sheet.Other}, sheet.Label{X: d.MaxX - 0.03, Y: d.MaxY - 0.05*(d.MaxY-d.MinY), Text: "stern", Anchor: "end", Role: sheet.Other})
	st := r.Fit.Stroke
	angle, hand := st.CatchAngle, st.HandCatch
	if phase == rowing.AtFinish {
		angle, hand = st.FinishAngle, st.HandFinish
	}
	d.Alt = fmt.Sprintf("%s at the %s seen from %s, to scale: the oar %.0f degrees from square, the hands %s above the seat, the blade just covered.", r.Name, word, from, angle*deg, q.sys.Fine().Show(hand))
	return d
}

// hull adds her bottom and the deck's edge, and widens the drawing down to the keel.
func (q *ask) hull(d *sheet.Drawing) {
	h := q.t.Ship.Hull
	from, to := math.Max(h.From, d.MinX), math.Min(h.To, d.MaxX)
	if to <= from {
		return
	}
	var keel, sheer [][2]float64
	const parts = 40
	for i := range parts + 1 {
		x := from + (to-from)*float64(i)/parts
		foot, _ := h.Span(x)
		keel = append(keel, [2]float64{x, foot})
		sheer = append(sheer, [2]float64{x, h.Edge(x).Z})
		d.MinY = math.Min(d.MinY, foot-0.05)
	}
	body := append([][2]float64{}, keel...)
	for i := len(sheer) - 1; i >= 0; i-- {
		body = append(body, sheer[i])
	}
	d.Paths = append(d.Paths, sheet.Path{Role: sheet.Body, Name: "hull", Points: tidy(body), Closed: true}, sheet.Path{Role: sheet.Skin, Name: "keel", Points: tidy(keel)})
}

// afloat adds the water of the heaviest and the lightest day.
func (q *ask) afloat(d *sheet.Drawing) {
	seen := -1.0
	for _, w := range q.waters {
		if w.Heel != 0 {
			continue
		}
		at := func(x float64) [2]float64 { return [2]float64{x, w.Level + (x-w.At)*math.Tan(w.Trim)} }
		d.Paths = append(d.Paths, sheet.Path{Role: sheet.Water, Name: "water " + w.Name, Points: tidy([][2]float64{at(d.MinX), at(d.MaxX)})})
		y := at(d.MinX)[1] + 0.02
		if seen >= 0 && math.Abs(y-seen) < 0.09 {
			y = seen - 0.11 // below the other's water line, where there is room
		}
		d.Labels = append(d.Labels, sheet.Label{X: d.MinX + 0.03, Y: y, Text: w.Name[len("on "):], Anchor: "start", Role: sheet.Water})
		seen = y
	}
}

// within is the part of a line inside the drawing, in breadth.
func within(points [][2]float64, d *sheet.Drawing) [][2]float64 {
	var out [][2]float64
	for _, p := range points {
		if p[0] >= d.MinX && p[0] <= d.MaxX {
			out = append(out, p)
		}
	}
	return out
}

// tidy is a line to a tenth of a millimetre.
func tidy(points [][2]float64) [][2]float64 {
	out := make([][2]float64, len(points))
	for i, p := range points {
		out[i] = [2]float64{round(p[0], 4), round(p[1], 4)}
	}
	return out
}
