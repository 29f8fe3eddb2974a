package nesting

import (
	"math"
	"math/rand/v2"
)

// ply is the common sheet, 2440 x 1220 mm.
var ply = Stock{Length: 2.44, Width: 1.22, Margin: 0.005, Gap: 0.004}

// bare is a sheet cut from edge to edge without loss, for jigsaws.
func bare(length, width float64) Stock { return Stock{Length: length, Width: width} }

// rect is a part of four corners.
func rect(name string, w, h float64, count int) Part {
	return Part{Name: name, Count: count, Outline: [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}}}
}

// crescent is a plank: two arcs of the same rise, drawn in to a narrower end.
func crescent(name string, length, rise, width, end float64, points, count int) Part {
	p := Part{Name: name, Count: count, Grain: Along, MayFlip: true}
	n := points / 2
	edge := func(i int) (x, mid, half float64) {
		t := float64(i) / float64(n-1)
		b := 4 * t * (1 - t)
		return t * length, rise * b, (end + (width-end)*b) / 2
	}
	for i := range n {
		x, mid, half := edge(i)
		p.Outline = append(p.Outline, [2]float64{x, mid - half})
	}
	for i := n - 1; i >= 0; i-- {
		x, mid, half := edge(i)
		p.Outline = append(p.Outline, [2]float64{x, mid + half})
	}
	return p
}

// blob is a star-shaped polygon with dents.
func blob(r *rand.Rand, name string, radius float64, points, count int) Part {
	p := Part{Name: name, Count: count, MayFlip: true}
	phase := r.Float64() * 6
	for i := range points {
		a := 2 * math.Pi * float64(i) / float64(points)
		d := radius * (0.75 + 0.2*math.Sin(3*a+phase) + 0.05*r.Float64())
		p.Outline = append(p.Outline, [2]float64{d * math.Cos(a), d * math.Sin(a)})
	}
	return p
}

// boat is the outfit of an invented small boat in 6 mm ply: 24 plank halves, bulkheads
// with openings, frames and brackets: 40 parts of 60 points.
func boat() []Part {
	r := rand.New(rand.NewPCG(7, 7))
	var parts []Part
	for i := range 12 {
		f := float64(i)
		parts = append(parts, crescent("plank "+string(rune('A'+i)), 2.0+0.03*f, 0.05+0.012*f, 0.11+0.005*f, 0.06, 60, 2))
	}
	for i := range 4 {
		p := blob(r, "bulkhead "+string(rune('1'+i)), 0.42+0.03*float64(i), 60, 1)
		p.Holes = [][][2]float64{{{-0.12, -0.1}, {0.12, -0.1}, {0.12, 0.1}, {-0.12, 0.1}}}
		parts = append(parts, p)
	}
	for i := range 6 {
		parts = append(parts, blob(r, "bracket "+string(rune('a'+i)), 0.08+0.015*float64(i), 60, 2))
	}
	return parts
}
