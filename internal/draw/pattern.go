package draw

import (
	"math"

	"thole/internal/sheet"
)

// Sizes of what marks a plotted point on a pattern, millimetres.
const (
	pointArm  = 2.5 // half the length of the cross
	pointRing = 1.1
)

// OfPattern lays a part out at a true scale with its points marked: a cross to
// prick through, a ring to find it by, its name and the bevel there. The picture
// is larger than the drawing's bounds by a rim, which holds the marks on the edge.
func OfPattern(p sheet.Pattern, scale float64) Picture {
	k := 1000 / scale
	d := p.Drawing
	pic := lay(d, k, (d.MaxX-d.MinX)*k+2*rim, (d.MaxY-d.MinY)*k+2*rim, Page.Text, 3)
	pic.Title = p.Title
	said := map[string]bool{}
	for _, l := range d.Labels {
		said[l.Text] = true
	}
	var tags []Word
	for _, q := range p.Points {
		if !finite([][2]float64{{q.X, q.Y}}) {
			continue
		}
		x, y := rim+(q.X-d.MinX)*k, rim+(d.MaxY-q.Y)*k
		pic.Strokes = append(pic.Strokes,
			Stroke{Role: sheet.Other, Name: q.Name, Points: [][2]float64{{x - pointArm, y}, {x + pointArm, y}}},
			Stroke{Role: sheet.Other, Points: [][2]float64{{x, y - pointArm}, {x, y + pointArm}}},
			Stroke{Role: sheet.Other, Points: ring(x, y, pointRing), Closed: true})
		text := bevelled(q)
		if said[q.Name] {
			text = bevel(q)
		}
		tags = append(tags, Word{X: x + pointArm, Y: y - pointArm, Size: Page.Text, Text: text, Anchor: "start", Role: sheet.Pointer})
	}
	pic.place(tags)
	return pic
}

// ring is a circle as a line of 16 corners, so that it is cut like every line.
func ring(x, y, r float64) [][2]float64 {
	out := make([][2]float64, 16)
	for i := range out {
		s, c := math.Sincos(float64(i) * math.Pi / 8)
		out[i] = [2]float64{x + r*c, y + r*s}
	}
	return out
}

// bevel is a point's bevel in degrees with its sign, or nothing.
func bevel(p sheet.PlotPoint) string {
	if !p.HasBevel {
		return ""
	}
	s := Number(p.Bevel*180/math.Pi, 1)
	if p.Bevel > 0 {
		s = "+" + s
	}
	return s + "°"
}

// bevelled is a point's name with its bevel.
func bevelled(p sheet.PlotPoint) string {
	if b := bevel(p); b != "" {
		return p.Name + "  " + b
	}
	return p.Name
}

// PatternSVG writes a part at a true scale, for a plotter or a cutter that takes
// this format. Its title tells which part, which face and which folder.
func PatternSVG(p sheet.Pattern, scale float64, stamp string) []byte {
	pic := OfPattern(p, scale)
	pic.Title = joined("; ", p.Title, p.Face, folder(stamp), "scale "+ratio(scale))
	return pic.SVG()
}

// Check is a straight distance between two named points of a pattern: measure
// it on what was printed or plotted.
type Check struct {
	From, To string
	Length   float64 // metres
}

// String is the distance in words: p1 – p9, 1200.0 mm.
func (c Check) String() string { return c.From + " – " + c.To + ", " + tenth(c.Length) + " mm" }

// Checks picks the distances that show best whether a part is true: between the
// points that stand furthest out along both diagonals, along and across. Wrong
// scale shows in all of them, a skewed or stretched sheet in the two diagonals.
func Checks(p sheet.Pattern) []Check {
	var out []Check
	seen := map[[2]int]bool{}
	for _, d := range [][2]float64{{1, 1}, {1, -1}, {1, 0}, {0, 1}} {
		a, b := furthest(p.Points, d)
		key := [2]int{min(a, b), max(a, b)}
		if a < 0 || a == b || seen[key] {
			continue
		}
		seen[key] = true
		q, r := p.Points[a], p.Points[b]
		if l := math.Hypot(r.X-q.X, r.Y-q.Y); l > 0 {
			out = append(out, Check{q.Name, r.Name, l})
		}
	}
	return out
}

// furthest picks the first point furthest back in a direction and the point
// furthest forward, of several the one nearest to the first; -1 where there is none.
func furthest(points []sheet.PlotPoint, d [2]float64) (a, b int) {
	a, b = -1, -1
	along := func(i int) float64 { return d[0]*points[i].X + d[1]*points[i].Y }
	for i, q := range points {
		if finite([][2]float64{{q.X, q.Y}}) && (a < 0 || along(i) < along(a)) {
			a = i
		}
	}
	for i, q := range points {
		if !finite([][2]float64{{q.X, q.Y}}) {
			continue
		}
		if b < 0 || along(i) > along(b) || along(i) == along(b) && apart(q, points[a]) < apart(points[b], points[a]) {
			b = i
		}
	}
	return a, b
}

// folder names the version of the boat folder.
func folder(stamp string) string {
	if stamp == "" {
		return ""
	}
	return "folder " + stamp
}

// ratio writes a scale: 1:10.
func ratio(scale float64) string { return "1:" + short(scale) }

// joined sets words that are not empty side by side.
func joined(between string, words ...string) string {
	out := ""
	for _, w := range words {
		switch {
		case w == "":
		case out == "":
			out = w
		default:
			out += between + w
		}
	}
	return out
}
