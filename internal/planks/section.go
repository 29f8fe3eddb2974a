package planks

import (
	"math"

	"thole/internal/fairing"

	"gonum.org/v1/gonum/spatial/r3"
)

// section is the skin at a constant x, one curve for each stretch between the corners.
// Where the section begins on a stem above a stretch, that stretch has no girth.
type section struct {
	x       float64
	stretch []girth
}

// girth is one smooth curve, measured along itself.
type girth struct {
	y, z   fairing.Spline
	t, s   []float64 // chord parameter and girth, rising
	length float64
}

// girthSteps is how many chords measure the girth between two points of it; each falls short by
// a 24th of its squared turn, a few parts in a hundred thousand on a round bilge.
const girthSteps = 8

func (k *skin) section(x float64) *section {
	half := k.surface.Half(x)
	sec := &section{x: x}
	for c := 1; c < len(k.corners); c++ {
		p := half[k.corners[c-1] : k.corners[c]+1]
		t, y, z := []float64{0}, []float64{p[0].Y}, []float64{p[0].Z}
		for i := 1; i < len(p); i++ {
			if d := math.Hypot(p[i].Y-p[i-1].Y, p[i].Z-p[i-1].Z); d > 1e-9 {
				t, y, z = append(t, t[len(t)-1]+d), append(y, p[i].Y), append(z, p[i].Z)
			}
		}
		g := girth{y: fairing.NewSpline(t, y), z: fairing.NewSpline(t, z), t: []float64{0}, s: []float64{0}}
		py, pz := y[0], z[0]
		for i := 1; i < len(t); i++ {
			for j := 1; j <= girthSteps; j++ {
				at := t[i-1] + (t[i]-t[i-1])*float64(j)/girthSteps
				qy, qz := g.y.At(at), g.z.At(at)
				g.length += math.Hypot(qy-py, qz-pz)
				g.t, g.s, py, pz = append(g.t, at), append(g.s, g.length), qy, qz
			}
		}
		sec.stretch = append(sec.stretch, g)
	}
	return sec
}

// down is the point of a stretch so far down from its upper corner along the girth; held to its ends.
func (s *section) down(c int, d float64) r3.Vec {
	g := &s.stretch[c]
	t := look(g.s, g.t, g.length-d)
	return r3.Vec{X: s.x, Y: math.Max(0, g.y.At(t)), Z: g.z.At(t)}
}

// depth is how far down from the upper corner of a stretch the girth comes nearest to a point.
func (s *section) depth(c int, p r3.Vec) float64 {
	g := &s.stretch[c]
	best, at := math.Inf(1), 0.0
	for i := 1; i < len(g.t); i++ {
		ay, az := g.y.At(g.t[i-1]), g.z.At(g.t[i-1])
		ey, ez := g.y.At(g.t[i])-ay, g.z.At(g.t[i])-az
		f := 0.0
		if l := ey*ey + ez*ez; l > 0 {
			f = math.Min(math.Max(((p.Y-ay)*ey+(p.Z-az)*ez)/l, 0), 1)
		}
		if d := math.Hypot(p.Y-ay-f*ey, p.Z-az-f*ez); d < best {
			best, at = d, g.s[i-1]+f*(g.s[i]-g.s[i-1])
		}
	}
	return g.length - at
}

// post is the keel line and one end's profile as a run from amidships to the sheer.
type post struct {
	x, z  fairing.Spline
	heel  float64   // run at which the keel line turns up into the stem or stern
	stops []float64 // runs at which the corners' threads end, the keel's replaced by the heel
}

// steep is the slope at which a keel line becomes a stem: 45 degrees. Common practice, no source.
const steep = 1

// newPost traces one end; nil where the boat has no profile there and the lines end on the
// outermost station.
func (k *skin) newPost(fore bool) *post {
	ends, station, on := k.from, k.stops[0], k.fore
	if !fore {
		ends, station, on = k.to, k.stops[len(k.stops)-1], k.aft
	}
	if !on {
		return nil
	}
	const steps = 200
	mid := (k.stops[0] + k.stops[len(k.stops)-1]) / 2
	var xs, zs []float64
	for i := range steps {
		x := mid + (station-mid)*math.Sin(math.Pi/2*float64(i)/steps)
		xs, zs = append(xs, x), append(zs, k.surface.Half(x)[0].Z)
	}
	foot := len(xs)
	xs, zs = append(xs, station), append(zs, k.surface.Half(station)[0].Z)
	runs := make([]float64, 1, len(xs)+len(ends))
	index := make([]int, len(ends)) // of each thread's end
	index[0] = foot
	for i := 1; i < len(ends); i++ {
		u := 0.0
		if !fore {
			u = 1
		}
		x, z := ends[i], k.z[i].At(u)
		if math.Hypot(x-xs[len(xs)-1], z-zs[len(zs)-1]) > 1e-7 {
			xs, zs = append(xs, x), append(zs, z)
		}
		index[i] = len(xs) - 1
	}
	p := &post{}
	for i := 1; i < len(xs); i++ {
		runs = append(runs, runs[i-1]+math.Hypot(xs[i]-xs[i-1], zs[i]-zs[i-1]))
	}
	p.x, p.z = fairing.NewSpline(runs, xs), fairing.NewSpline(runs, zs)
	// the heel: where the line first rises as steeply as it runs, or else at the outermost station
	p.heel = runs[foot]
	whole := runs[len(runs)-1]
	for i := range 2 * steps {
		run := whole * float64(i) / (2 * steps)
		_, dx, _ := p.x.Derivatives(run)
		if _, dz, _ := p.z.Derivatives(run); dz > steep*math.Abs(dx) {
			p.heel = run
			break
		}
	}
	for _, c := range k.corners {
		p.stops = append(p.stops, runs[index[c]])
	}
	p.stops[0] = math.Min(p.heel, p.stops[1])
	return p
}

func (p *post) at(run float64) r3.Vec { return r3.Vec{X: p.x.At(run), Z: p.z.At(run)} }
