package draw

import (
	"math"
	"slices"

	"thole/internal/sheet"
)

// toned is a share of ink on white paper.
func toned(share float64) Ink {
	mix := func(to int) int { return int(math.Round(255 - share*float64(255-to))) }
	return Ink{mix(ink.R), mix(ink.G), mix(ink.B)}
}

// tone is the colour of an area of rings.
func (s Stroke) tone() Ink {
	if l := LookOf(s.Role); s.Role == sheet.Body && l.Fill != nil {
		return *l.Fill
	}
	return toned(s.Tone)
}

// ring is a box as an area.
func (b Box) ring() [][2]float64 {
	return [][2]float64{{b.MinX, b.MinY}, {b.MaxX, b.MinY}, {b.MaxX, b.MaxY}, {b.MinX, b.MaxY}}
}

// hatch fills an area, even-odd, with lines rising (or falling) at 45 degrees, so far apart.
func hatch(rings [][][2]float64, apart float64, rising bool) [][][2]float64 {
	sign := 1.0
	if !rising {
		sign = -1
	}
	// u runs across the lines, v along them; y goes down on paper.
	uv := func(p [2]float64) (u, v float64) {
		return (p[0]*sign + p[1]) / math.Sqrt2, (p[0]*sign - p[1]) / math.Sqrt2
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		for _, p := range r {
			u, _ := uv(p)
			low, high = math.Min(low, u), math.Max(high, u)
		}
	}
	var out [][][2]float64
	for u := (math.Floor(low/apart) + 0.5) * apart; u < high; u += apart {
		var cross []float64
		for _, r := range rings {
			for i, p := range r {
				u0, v0 := uv(p)
				u1, v1 := uv(r[(i+1)%len(r)])
				if (u0 <= u) != (u1 <= u) {
					cross = append(cross, v0+(u-u0)/(u1-u0)*(v1-v0))
				}
			}
		}
		slices.Sort(cross)
		for i := 0; i+1 < len(cross); i += 2 {
			back := func(v float64) [2]float64 { return [2]float64{sign * (u + v) / math.Sqrt2, (u - v) / math.Sqrt2} }
			out = append(out, [][2]float64{back(cross[i]), back(cross[i+1])})
		}
	}
	return out
}

// free draws what is not cut to the picture's frame.
func (p *Picture) free(draw func(q *Picture)) {
	var q Picture
	draw(&q)
	for _, s := range q.Strokes {
		s.Clipped = false
		p.Strokes = append(p.Strokes, s)
	}
}

// area paints an area in a tone.
func (p *Picture) area(rings [][][2]float64, tone float64, name string) {
	rings = slices.DeleteFunc(slices.Clone(rings), func(r [][2]float64) bool { return len(r) < 3 || !finite(r) })
	if len(rings) > 0 {
		p.Strokes = append(p.Strokes, Stroke{Role: sheet.Other, Rings: rings, Tone: tone, Name: name, Clipped: true})
	}
}

// hatched lays hatching over an area.
func (p *Picture) hatched(rings [][][2]float64, apart float64, rising bool) {
	for _, l := range hatch(rings, apart, rising) {
		p.Strokes = append(p.Strokes, Stroke{Role: sheet.Pointer, Points: l, Clipped: true})
	}
}

// fillings are how rows of bars are told apart in black print: a light tone, hatching, bare, dark, crossed.
const fillings = 5

// filled paints a box with the filling of the i-th row of bars.
func (p *Picture) filled(b Box, i int, name string) {
	rings := [][][2]float64{b.ring()}
	switch i % fillings {
	case 0:
		p.area(rings, 0.14, name)
	case 1:
		p.area(rings, 0, name)
		p.hatched(rings, 1.3, true)
	case 2:
		p.area(rings, 0, name)
	case 3:
		p.area(rings, 0.78, name)
	case 4:
		p.area(rings, 0, name)
		p.hatched(rings, 1.1, true)
		p.hatched(rings, 1.1, false)
	}
	p.Strokes = append(p.Strokes, Stroke{Role: sheet.Other, Points: b.ring(), Closed: true, Clipped: true})
}

// bars are the rows of bars among the curves of a chart.
func bars(all []sheet.Series) []sheet.Series {
	return slices.DeleteFunc(slices.Clone(all), func(s sheet.Series) bool { return s.Width <= 0 })
}

// bars draws one row of bars.
func (p *Picture) bars(s sheet.Series, turn int, at func(x, y float64) [2]float64) {
	keep := p.Clip
	for i := 0; i < len(s.X) && i < len(s.Y); i++ {
		base := 0.0
		if i < len(s.Base) {
			base = s.Base[i]
		}
		a, b := at(s.X[i]-s.Width/2, base), at(s.X[i]+s.Width/2, base+s.Y[i])
		if s.Y[i] == 0 || !finite([][2]float64{a, b}) {
			continue
		}
		p.filled(Box{math.Max(a[0], keep.MinX), math.Min(a[1], b[1]), math.Min(b[0], keep.MaxX), math.Max(a[1], b[1])}, turn, s.Name)
	}
}
