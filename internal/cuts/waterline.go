package cuts

import "math"

// Waterline is the reach of the cut surface and the greatest immersed cut.
type Waterline struct {
	From, To float64 // where the surface begins and ends along the length
	Beam     float64 // its greatest breadth
	Area     float64 // greatest immersed area of a cut, m²
}

// Waterline measures the surface in which a plane cuts the solid. Between cuts
// it goes by parabolas through three of them, and runs on to a flat end where there is one.
//
// Good to: second order in the spacing of the cuts
func (s *Stack) Waterline(p Plane) Waterline {
	n := len(s.cuts)
	x, area, beam := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range s.cuts {
		c := &s.cuts[i]
		x[i] = c.x
		area[i], _, _, beam[i], _, _ = s.clip(c, p.Sin, p.Cos, p.Level+p.Slope*c.x)
	}
	w := Waterline{Beam: crest(x, beam), Area: crest(x, area), From: math.Inf(1), To: math.Inf(-1)}
	for i, b := range beam {
		if b > 0 {
			w.From, w.To = math.Min(w.From, x[i]), math.Max(w.To, x[i])
		}
	}
	if w.From > w.To {
		return Waterline{Area: w.Area}
	}
	w.From, w.To = s.reach(w.From, -1, x, beam), s.reach(w.To, 1, x, beam)
	return w
}

// crest is the greatest of samples, by a parabola about the top one.
func crest(x, y []float64) float64 {
	k := 0
	for i := range y {
		if y[i] > y[k] {
			k = i
		}
	}
	if len(y) == 0 {
		return 0
	}
	if k == 0 || k == len(y)-1 {
		return y[k]
	}
	a, b := x[k-1]-x[k], x[k+1]-x[k]
	p, q := y[k-1]-y[k], y[k+1]-y[k]
	if p == q {
		if p == 0 {
			return y[k]
		}
	}
	c2 := (p/a - q/b) / (a - b)
	c1 := p/a - c2*a
	if c2 >= 0 {
		return y[k]
	}
	return y[k] - c1*c1/(4*c2)
}

// reach carries the end of the waterline from the last cut that has breadth to
// where the breadth runs out, or to a flat end of the solid.
func (s *Stack) reach(at, way float64, x, beam []float64) float64 {
	for _, f := range s.faces { // a flat end that the water meets
		if (f.x-at)*way >= 0 && s.outermost(at, f.x, way, x) {
			return f.x
		}
	}
	i := 0
	for x[i] != at {
		i++
	}
	j := i - int(way) // the neighbour inwards
	if j < 0 || j >= len(x) || beam[j] <= beam[i] {
		return at
	}
	end := at + way*math.Abs((x[i]-x[j])*beam[i]/(beam[j]-beam[i]))
	// never past the next dry cut, nor past the solid
	if k := i + int(way); k >= 0 && k < len(x) {
		return clamp(end, at, x[k])
	}
	return clamp(end, at, at+way*math.Abs(x[i]-x[j]))
}

// outermost tells whether no dry cut stands between the last wet one and a flat end.
func (s *Stack) outermost(at, end, way float64, x []float64) bool {
	for _, v := range x {
		if (v-at)*way > 0 && (end-v)*way > 0 {
			return false
		}
	}
	return true
}

func clamp(v, a, b float64) float64 { return math.Max(math.Min(a, b), math.Min(math.Max(a, b), v)) }
