package resistance

import "math"

// The wave resistance of a thin ship (Michell, Philosophical Magazine 45, 1898):
//
//	R = 4 rho g² / (pi U²)  ∫ |J|² sqrt(1+t²) dt,  t from 0 to infinity,  lambda² = 1+t²
//	J = ∬ f_x exp(-kappa z) exp(i omega x) dx dz,  kappa = g lambda²/U²,  omega = g lambda/U²
//
// with the half-breadth f; the real and the imaginary part of J are the cosine and the sine part. The depth is
// divided into cells, finest at the water, on each of which a station's half-breadth is replaced by the straight
// line of the same area and first moment; the exponential is then integrated exactly, and the error is of fourth order.
// What comes of it at each station is joined along the length by parabolas through threes, against which exp(i omega x)
// is integrated exactly too (Filon, 1928), so that short diverging waves stay right. In t the integrand is even,
// smooth and of bounded bandwidth: the plain sum over equal steps converges faster than any power.

const (
	cells = 16 // of the depth, growing with its square
	// slowest is the Froude number below which the waves are scaled by U^6, Michell's own limit for sharp ends;
	// there they are a hundredth or two of the whole.
	slowest = 0.10
	// finest is the largest step in t: poles of sqrt(1+t²) at ±i then err by exp(-2 pi / step), 1e-11.
	finest = 0.25
	// sampling is how many times the bandwidth is sampled; 1 would do for an integrand without end.
	sampling = 1.35
	// negligible ends the sum once a third of its range has added less than this share.
	negligible = 1e-5
	farthest   = 80.0 // the largest t: waves that close on the track are ripples, and gone
)

// kernel is a hull made ready for Michell's integral.
type kernel struct {
	length float64
	edge   [cells + 1]float64 // depths between cells
	panel  []panel
	bow    [2 * cells]float64 // of a flat or blunt bow, where the breadth starts at once
	blunt  bool
}

// panel is a span of the length with F' = slope + bend * s, s from -1 to 1, as coefficients of the cells' integrals.
type panel struct {
	mid, half   float64
	slope, bend [2 * cells]float64
}

// newKernel lays stations down for the integral.
func newKernel(st []Station, draft float64) *kernel {
	k := &kernel{length: st[len(st)-1].X - st[0].X}
	for j := range k.edge {
		f := float64(j) / cells
		k.edge[j] = draft * f * f
	}
	f := make([][2 * cells]float64, len(st))
	for i := range st {
		k.moments(st[i].Points, &f[i])
	}
	k.bow = f[0]
	for _, v := range k.bow {
		k.blunt = k.blunt || math.Abs(v) > thinnest
	}
	straight := func(i int) {
		h := st[i+1].X - st[i].X
		p := panel{mid: (st[i].X+st[i+1].X)/2 - st[0].X, half: h / 2}
		for c := range p.slope {
			p.slope[c] = (f[i+1][c] - f[i][c]) / h
		}
		k.panel = append(k.panel, p)
	}
	i := 0
	for ; i+2 < len(st); i += 2 {
		a, b := st[i+1].X-st[i].X, st[i+2].X-st[i+1].X
		if a > 3*b || b > 3*a { // a parabola through such a three may swing
			straight(i)
			straight(i + 1)
			continue
		}
		p := panel{mid: (st[i].X+st[i+2].X)/2 - st[0].X, half: (a + b) / 2}
		for c := range p.slope {
			fore, aft := (f[i+1][c]-f[i][c])/a, (f[i+2][c]-f[i+1][c])/b
			second := (aft - fore) / (a + b)
			p.slope[c] = fore + second*b
			p.bend[c] = 2 * second * p.half
		}
		k.panel = append(k.panel, p)
	}
	if i+1 < len(st) {
		straight(i)
	}
	return k
}

// moments are the straight lines that stand for a half section, cell by cell: mean, and rise to the cell's lower edge.
func (k *kernel) moments(p []Point, out *[2 * cells]float64) {
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if a.Depth == b.Depth {
			continue
		}
		top, bottom, sign := b, a, 1.0 // from the keel up counts positive
		if a.Depth < b.Depth {
			top, bottom, sign = a, b, -1
		}
		for j := range cells {
			lo, hi := math.Max(k.edge[j], top.Depth), math.Min(k.edge[j+1], bottom.Depth)
			if !(hi > lo) {
				continue
			}
			rate := (bottom.Y - top.Y) / (bottom.Depth - top.Depth)
			ylo, yhi := top.Y+rate*(lo-top.Depth), top.Y+rate*(hi-top.Depth)
			width, mid := k.edge[j+1]-k.edge[j], (k.edge[j+1]+k.edge[j])/2
			s, t := 2*(lo-mid)/width, 2*(hi-mid)/width
			area := (hi - lo) * (ylo + yhi) / 2
			first := (hi - lo) / 6 * (2*ylo*s + ylo*t + yhi*s + 2*yhi*t)
			out[2*j] += sign * area / width
			out[2*j+1] += sign * 3 * first / width
		}
	}
}

// cellsAt are the integrals of exp(-kappa z), and of it times the cell's own coordinate -1 to 1, over each cell, and how many
// of them there are before the waves have died out; always an even number.
func (k *kernel) cellsAt(kappa float64, e *[2 * cells]float64) int {
	above := 1.0
	for j := range cells {
		if above < 1e-9 && j%2 == 0 {
			return 2 * j
		}
		width := k.edge[j+1] - k.edge[j]
		below := math.Exp(-kappa * k.edge[j+1])
		if q := kappa * width / 2; q < 0.05 { // the closed form loses figures: its series, good to q⁴ (1e-7)
			mid := width * math.Sqrt(above*below)
			e[2*j] = mid * (1 + q*q/6)
			e[2*j+1] = -mid * q / 3 * (1 + q*q/10)
		} else {
			d, s := above-below, above+below
			e[2*j] = d / kappa
			e[2*j+1] = -width * (s/(2*q) - d/(2*q*q))
		}
		above = below
	}
	return 2 * cells
}

// square is |J|² at a wave of the number kappa down and omega along.
func (k *kernel) square(kappa, omega float64) float64 {
	var e [2 * cells]float64
	n := k.cellsAt(kappa, &e)
	var re, im float64
	for i := range k.panel {
		p := &k.panel[i]
		var s0, s1, b0, b1 float64 // two sums each, that need not wait for one another
		for c := 0; c+1 < n && c+1 < len(e); c += 2 {
			s0 += p.slope[c] * e[c]
			s1 += p.slope[c+1] * e[c+1]
			b0 += p.bend[c] * e[c]
			b1 += p.bend[c+1] * e[c+1]
		}
		slope, bend := s0+s1, b0+b1
		theta := omega * p.half
		st, ct := math.Sincos(theta)
		var j0, j1 float64 // spherical Bessel functions: half of ∫exp(i theta s) ds, and of ∫s exp(...) ds / i
		if theta < 0.1 {
			t2 := theta * theta
			j0, j1 = 1-t2/6*(1-t2/20), theta/3*(1-t2/10*(1-t2/28))
		} else {
			j0 = st / theta
			j1 = (j0 - ct) / theta
		}
		s, c := math.Sincos(omega * p.mid)
		u, w := 2*p.half*slope*j0, 2*p.half*bend*j1
		re += u*c - w*s
		im += u*s + w*c
	}
	if k.blunt {
		for c, v := range &e {
			re += k.bow[c] * v
		}
	}
	return re*re + im*im
}

// Waves is the wave resistance by Michell's integral.
//
// A blunt bow is taken as it stands. An immersed transom is left open astern, as if the water left it clean; what a
// slow one drags along is TransomDrag.
//
// In:     speed through the water, m/s, 0 or more; density, kg/m³
// Out:    N; below a Froude number of 0.1 scaled by the sixth power of the speed
// Good to: 0.1 % of published values on the Wigley hull (TestMichellWigley). On a real rowing boat thin-ship theory
// itself is out by far more: see WaveDoubt
// Error:  none; NaN for a negative speed, one that is not a number, or a hull that was not made by this package's
// functions, for the caller to refuse
// Source: Michell (1898); form as in Tuck, J. Australian Math. Soc. B 30 (1989), from memory
func (h *Hull) Waves(v, density float64) float64 {
	if h.waves == nil || !(v >= 0) || !(density > 0) || math.IsInf(v, 1) {
		return math.NaN()
	}
	if v == 0 {
		return 0
	}
	if least := slowest * math.Sqrt(Gravity*h.Length); v < least {
		return h.Waves(least, density) * math.Pow(v/least, 6)
	}
	k := h.waves
	k0 := Gravity / (v * v)
	step := math.Min(finest, 2*math.Pi/(sampling*k0*k.length))
	sum := k.square(k0, k0) / 2
	mark, since := 4.0, 0.0 // since is what came after the last mark
	for i := 1; ; i++ {
		t := step * float64(i)
		l2 := 1 + t*t
		lambda := math.Sqrt(l2)
		d := k.square(k0*l2, k0*lambda) * lambda
		sum += d
		since += d
		if t > mark {
			if since < negligible*sum || t > farthest {
				break
			}
			mark, since = 1.4*t, 0
		}
	}
	return 4 * density * Gravity * Gravity / (math.Pi * v * v) * sum * step
}
