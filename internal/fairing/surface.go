package fairing

import (
	"errors"
	"math"
	"slices"

	"thole/internal/cuts"
)

// Surface is a fair half surface, starboard side, from keel to sheer.
type Surface struct {
	threads []thread
	corner  []int // threads that are knuckles, keel and sheer among them
	stops   []float64
	stem    *end
	stern   *end
	faired  []Cut
	// Moves is what the fairing did to each reading; empty where the readings were taken as exact.
	Moves []Move
	// Unfaired is the number of readings where there were too many to fair at once; they are used as they stand.
	Unfaired int
	// Assumed is the corners that were taken for such without being marked.
	Assumed []Assumed
	// Knuckles names the knuckle threads in order, keel and sheer left out.
	Knuckles []string
	// ClosedFore and ClosedAft tell that an end runs to nothing: no transom.
	ClosedFore, ClosedAft bool
}

// Errors of Fit.
var (
	ErrFew    = errors.New("a surface needs at least two stations")
	ErrNarrow = errors.New("no station has any width")
)

// Fit lays a surface over measured cuts.
//
// In:     cuts from the bow aft, each from keel to sheer; the profiles may be empty;
// tolerance is the 19-in-20 half width of a reading in metres, 0 where they are exact
// Out:    the surface; the cuts given are not changed
// Error:  ErrFew, ErrNarrow, or knuckles that change places
// Good to: fourth order in the spacing of smooth readings (shape: TestSpindleConverges)
func Fit(given []Cut, stem, stern Profile, tolerance float64) (*Surface, error) {
	cs := make([]Cut, 0, len(given))
	for _, c := range given {
		cs = append(cs, Cut{X: c.X, Points: slices.Clone(c.Points)})
	}
	cs = underway(cs, stem, stern)
	if len(cs) < 2 {
		return nil, ErrFew
	}
	widest := 0.0
	for _, c := range cs {
		widest = math.Max(widest, width(c))
	}
	if widest == 0 {
		return nil, ErrNarrow
	}
	order, assumed, err := corners(cs)
	if err != nil {
		return nil, err
	}
	finer := len(stem) > 1 || len(stern) > 1
	g := weave(layOut(cs, order), finer)
	s := &Surface{Assumed: assumed, Knuckles: order, faired: cs}
	if n := readings(cs); tolerance > 0 && n > mostFaired {
		s.Unfaired = n
	} else if tolerance > 0 {
		raw := make([]Cut, len(cs))
		for i, c := range cs {
			raw[i] = Cut{X: c.X, Points: slices.Clone(c.Points)}
		}
		misread := standouts(cs, order, suspicious*tolerance)
		if len(misread) > 0 { // chords along a misread section mislead too
			g = weave(layOut(cs, order), finer)
		}
		s.Moves = smooth(g, tolerance, misread)
		s.sinceRead(raw)
		g = weave(layOut(cs, order), finer)
	}
	s.corner = g.corner
	s.spin(g, stem, stern)
	last := len(cs) - 1
	s.ClosedFore = s.stem != nil || width(cs[0]) < 1e-9
	s.ClosedAft = s.stern != nil || width(cs[last]) < 1e-9
	return s, nil
}

// mostFaired is how many readings are faired at once: the work grows with the cube.
const mostFaired = 900

func readings(cs []Cut) int {
	n := 0
	for _, c := range cs {
		n += len(c.Points)
	}
	return n
}

// suspicious is how many tolerances a reading must stand off to be taken for misread.
const suspicious = 2.5

// sinceRead counts each move from the reading itself: a misread one had been set
// on its neighbours' line before the fairing. What would be fair is the nearest place on the fair section.
func (s *Surface) sinceRead(raw []Cut) {
	for i := range s.Moves {
		m := &s.Moves[i]
		if !m.Suspect {
			continue
		}
		read := raw[m.Station].Points[m.Point].Point
		var line []cuts.Point
		for _, p := range s.faired[m.Station].Points {
			line = append(line, p.Point)
		}
		off, fair := offLine(line, read)
		m.Off, m.DY, m.DZ = off, fair.Y-read.Y, fair.Z-read.Z
	}
}

// underway leaves out end stations of no width where a profile says how the boat ends.
func underway(cs []Cut, stem, stern Profile) []Cut {
	for len(stem) > 1 && len(cs) > 0 && width(cs[0]) == 0 {
		cs = cs[1:]
	}
	for len(stern) > 1 && len(cs) > 0 && width(cs[len(cs)-1]) == 0 {
		cs = cs[:len(cs)-1]
	}
	return cs
}

func width(c Cut) float64 {
	w := 0.0
	for _, p := range c.Points {
		w = math.Max(w, p.Y)
	}
	return w
}

// spin makes the threads through the stations' points and on to the profiles.
func (s *Surface) spin(g grid, stem, stern Profile) {
	st := g.stations
	n := len(st)
	s.stem = newEnd(stem, st[0].x, true)
	s.stern = newEnd(stern, st[n-1].x, false)
	threads := len(g.rows[0])
	for k := range threads {
		var x, y, z []float64
		share := func(i int) float64 { return shareOf(g, i, k) }
		if s.stem != nil {
			if p := s.stem.at(share(0)); p.X < st[0].x-1e-6 {
				x, y, z = append(x, p.X), append(y, 0), append(z, p.Z)
			}
		}
		for i := range st {
			py, pz := g.rows[i][k].of(st[i].points)
			x, y, z = append(x, st[i].x), append(y, math.Max(0, py)), append(z, pz)
		}
		if s.stern != nil {
			if p := s.stern.at(share(n - 1)); p.X > st[n-1].x+1e-6 {
				x, y, z = append(x, p.X), append(y, 0), append(z, p.Z)
			}
		}
		th := newThread(x, y, z)
		th.fore, th.aft = share(0), share(n-1)
		s.threads = append(s.threads, th)
	}
	for i := range st {
		s.stops = append(s.stops, st[i].x)
	}
}

// shareOf is how far up the girth of a station a thread stands, 0 to 1.
func shareOf(g grid, i, k int) float64 {
	var run, at float64
	var py, pz float64
	for j, r := range g.rows[i] {
		y, z := r.of(g.stations[i].points)
		if j > 0 {
			run += math.Hypot(y-py, z-pz)
		}
		if j == k {
			at = run
		}
		py, pz = y, z
	}
	if run == 0 {
		return 0
	}
	return at / run
}

// end is a stem or stern profile beyond the outermost station.
type end struct {
	x, z Spline
	from float64 // parameter where it leaves the outermost station
	to   float64 // at the sheer
}

func newEnd(p Profile, outermost float64, fore bool) *end {
	if len(p) < 2 {
		return nil
	}
	t, x, z := make([]float64, len(p)), make([]float64, len(p)), make([]float64, len(p))
	for i, q := range p {
		x[i], z[i] = q.X, q.Z
		if i > 0 {
			t[i] = t[i-1] + math.Max(1e-12, math.Hypot(x[i]-x[i-1], z[i]-z[i-1]))
		}
	}
	e := &end{x: NewSpline(t, x), z: NewSpline(t, z), to: t[len(t)-1]}
	beyond := func(t float64) bool {
		if fore {
			return e.x.At(t) < outermost
		}
		return e.x.At(t) > outermost
	}
	if !beyond(e.to) {
		return nil
	}
	// from the sheer down to where the profile passes the outermost station
	const steps = 400
	hi := e.to
	for i := steps - 1; i >= 0; i-- {
		lo := e.to * float64(i) / steps
		if !beyond(lo) {
			for range 50 {
				if mid := (lo + hi) / 2; beyond(mid) {
					hi = mid
				} else {
					lo = mid
				}
			}
			e.from = hi
			break
		}
		hi = lo
	}
	return e
}

// at is the profile's point at a share of its run beyond the outermost station.
func (e *end) at(share float64) ProfilePoint {
	t := e.from + share*(e.to-e.from)
	return ProfilePoint{X: e.x.At(t), Z: e.z.At(t)}
}

// height is where the profile stands at x, between two shares of its run.
func (e *end) height(x, a, b float64) float64 {
	lo, hi := e.from+a*(e.to-e.from), e.from+b*(e.to-e.from)
	rising := e.x.At(hi) > e.x.At(lo)
	for range 40 {
		if mid := (lo + hi) / 2; (e.x.At(mid) < x) == rising {
			lo = mid
		} else {
			hi = mid
		}
	}
	return e.z.At((lo + hi) / 2)
}
