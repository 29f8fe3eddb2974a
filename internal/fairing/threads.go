package fairing

import (
	"math"

	"thole/internal/cuts"
)

// intervals is how many steps a half section's curved girth is given. Each
// step's area error is of fourth order once the vertices are swelled (see
// Surface.Outline), so this is ample for a hull and cheap to float.
const intervals = 20

// row gives one thread's point on one station from that station's points.
type row struct {
	first int // index of the first point that enters
	w     []float64
}

func (r row) of(points []Point) (y, z float64) {
	for i, w := range r.w {
		y += w * points[r.first+i].Y
		z += w * points[r.first+i].Z
	}
	return y, z
}

// grid is the layout of threads over stations: rows[i][k] is thread k on station i.
type grid struct {
	stations []station
	rows     [][]row
	corner   []int // the threads that are knuckles, keel and sheer among them
}

// weave chooses the threads: one at every knuckle, and between two knuckles as
// many as the girth there deserves; a stretch that is straight on every station needs none.
func weave(st []station, finer bool) grid {
	segments := len(st[0].stops) - 1
	girth := make([]float64, segments)
	curved := make([]bool, segments)
	var total float64
	for k := range segments {
		for i := range st {
			girth[k] = math.Max(girth[k], st[i].stops[k+1]-st[i].stops[k])
			curved[k] = curved[k] || finer || !straight(&st[i], k)
		}
		if curved[k] {
			total += girth[k]
		}
	}
	g := grid{stations: st, rows: make([][]row, len(st)), corner: []int{0}}
	for k := range segments {
		n := 1
		if curved[k] {
			n = max(4, int(math.Round(intervals*girth[k]/total)))
		}
		for i := range st {
			s := &st[i]
			if k == 0 {
				g.rows[i] = append(g.rows[i], s.row(s.stops[0], 0))
			}
			for j := 1; j <= n; j++ {
				f := float64(j) / float64(n)
				g.rows[i] = append(g.rows[i], s.row(s.stops[k]+f*(s.stops[k+1]-s.stops[k]), k))
			}
		}
		g.corner = append(g.corner, len(g.rows[0])-1)
	}
	return g
}

// piece is the real stretch between corners of this station that holds segment k.
func (s *station) piece(k int) (from, to int) {
	lo, hi := k, k+1
	for !s.own[lo] {
		lo--
	}
	for !s.own[hi] {
		hi++
	}
	return s.index[lo], s.index[hi]
}

// row is the weights for the point at a chord parameter within segment k.
func (s *station) row(at float64, k int) row {
	from, to := s.piece(k)
	t := s.chord[from : to+1]
	if len(t) == 1 || t[len(t)-1]-t[0] <= 0 {
		return row{first: from, w: []float64{1}}
	}
	return row{first: from, w: weights(t, at)}
}

// straight tells whether a station's curve between two stops is a straight line.
func straight(s *station, k int) bool {
	from, to := s.stops[k], s.stops[k+1]
	ay, az := s.row(from, k).of(s.points)
	by, bz := s.row(to, k).of(s.points)
	length := math.Hypot(by-ay, bz-az)
	if length < 1e-9 {
		return to-from < 1e-9
	}
	for _, f := range []float64{0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9} {
		y, z := s.row(from+f*(to-from), k).of(s.points)
		if math.Abs((by-ay)*(z-az)-(bz-az)*(y-ay)) > 1e-7*length {
			return false
		}
	}
	return true
}

// thread is one line along the surface.
type thread struct {
	x, y, z Spline
	from    float64 // least x
	to      float64 // greatest x
	direct  bool    // parametrised by x itself
	fore    float64 // share of the stem's run at which it begins, where there is a stem
	aft     float64 // likewise at the stern
}

func newThread(x, y, z []float64) thread {
	t := make([]float64, len(x))
	for i := 1; i < len(x); i++ {
		d := math.Sqrt(sq(x[i]-x[i-1]) + sq(y[i]-y[i-1]) + sq(z[i]-z[i-1]))
		t[i] = t[i-1] + math.Max(d, 1e-12)
	}
	th := thread{x: NewSpline(t, x), y: NewSpline(t, y), z: NewSpline(t, z), from: x[0], to: x[len(x)-1]}
	if !th.rises() {
		// The chord turned too sharply for x to go on rising along it. Over x
		// itself the thread cannot run back.
		th = thread{x: NewSpline(x, x), y: NewSpline(x, y), z: NewSpline(x, z), from: th.from, to: th.to, direct: true}
	}
	return th
}

func sq(v float64) float64 { return v * v }

// rises tells whether x grows all along the thread; an end may be square to it.
func (th *thread) rises() bool {
	t := th.x.t
	for i := 1; i < len(t); i++ {
		prev := th.x.y[i-1]
		for k := 1; k <= 6; k++ {
			v := th.x.At(t[i-1] + float64(k)/6*(t[i]-t[i-1]))
			if v < prev {
				return false
			}
			prev = v
		}
	}
	return true
}

// at is the thread's point at x, for x within from and to.
func (th *thread) at(x float64) cuts.Point {
	if th.direct {
		return cuts.Point{Y: th.y.At(x), Z: th.z.At(x)}
	}
	t, i := th.param(x)
	y, _, _ := th.y.within(i, t)
	z, _, _ := th.z.within(i, t)
	return cuts.Point{Y: y, Z: z}
}

// param solves x(t) = x by Newton inside the bracketing span, and tells which that is.
func (th *thread) param(x float64) (t float64, i int) {
	i = Spline{t: th.x.y}.span(x)
	lo, hi := th.x.t[i], th.x.t[i+1]
	t = lo + (hi-lo)*(x-th.x.y[i])/(th.x.y[i+1]-th.x.y[i])
	for range 60 {
		v, d, _ := th.x.within(i, t)
		if v > x {
			hi = t
		} else {
			lo = t
		}
		next := t - (v-x)/d
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-t) <= 1e-14*(1+math.Abs(t)) {
			return next, i
		}
		t = next
	}
	return t, i
}
