package trials

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/cuts"
	"thole/internal/hydro"
	"thole/internal/model"
)

// Reading is one freeboard set against the book.
type Reading struct {
	At        r3.Vec  // of the deck's edge, in the boat's frame
	Height    float64 // as read, metres
	Deviation float64 // standard deviation of it
	Book      float64 // as the weights book has it
	Fitted    float64 // as she lay by all readings together
}

// Floated is her weight and where it lies, from freeboards.
type Floated struct {
	Trial *model.Floated
	Err   error // why it tells nothing

	Readings []Reading
	Attitude hydro.Attitude // as she lay
	// Mass and G are of all that was aboard. G.Z is the book's: freeboards do not tell it.
	Mass float64
	G    r3.Vec
	// Deviation and DeviationG are standard deviations, of the readings and of the hull's own.
	Deviation  float64
	DeviationG r3.Vec
	Book       model.State // what the book says was aboard
	// Misfit is the sum of the squared differences from the fit over the readings' variances, and Spare how many
	// readings there were beyond the three that are needed; BookMisfit is the same from the book.
	Misfit, BookMisfit float64
	Spare              int

	Unexplained Unexplained

	bare, extra model.State
	covariance  [3][3]float64 // of mass, and its moments about x and y
}

// Errors of a set of freeboards.
var (
	errFewFreeboards = errors.New("three freeboards or more are needed, on both sides")
	errOneSide       = errors.New("all freeboards are on one side: read one on the other side too")
	errOnePlace      = errors.New("the freeboards are too close together along her: read some near the bow and some near the stern")
	errAground       = errors.New("no way of lying fits these freeboards: look for a slip, or she touched something")
)

// least is the share of her length over which freeboards must be spread.
const least = 0.1

// float finds how she lay by least squares of the heights, and from that what she pushed aside and
// where its middle was, which at rest are her weight and where that lies.
//
// Good to: 1e-6 m and 1e-6 of the weight on boxes (TestFloatedBoxes)
// Source: Gauss-Newton least squares, JCGM 100:2008 for what the readings' doubts do; the balance is Archimedes'
func float(t *afloat.Trip, trial *model.Floated) Floated {
	f := Floated{Trial: trial}
	a, err := bookOf(t, &trial.Trial)
	if err != nil {
		f.Err = err
		return f
	}
	f.Book, f.bare, f.extra = a.state, a.bare, a.extra
	f.readings(t)
	if f.Err = f.enough(t); f.Err != nil {
		return f
	}
	book, err := hydro.Float(t.Ship.Body, afloat.Load(&a.state), a.sea, nil)
	if err != nil {
		f.Err = err
		return f
	}
	for i := range f.Readings {
		r := &f.Readings[i]
		r.Book = book.Above(r.At)
		f.BookMisfit += sq((r.Height - r.Book) / r.Deviation)
	}
	normal, err := f.lie(book.Attitude)
	if err != nil {
		f.Err = err
		return f
	}
	f.Err = f.weigh(t, a, normal)
	return f
}

// readings lists the freeboards by side, each at its place on the deck's edge.
func (f *Floated) readings(t *afloat.Trip) {
	for _, b := range f.Trial.Freeboards {
		e := t.Ship.Hull.Edge(b.X)
		for _, side := range []struct {
			of   model.Side
			sign float64
		}{{model.Port, -1}, {model.Starboard, 1}} {
			if b.Side == model.Both || b.Side == side.of {
				f.Readings = append(f.Readings, Reading{At: r3.Vec{X: b.X, Y: side.sign * e.Y, Z: e.Z}, Height: b.Height,
					Deviation: or(b.Tolerance, usualFreeboard) * half})
			}
		}
	}
}

// enough tells whether the readings can tell sinkage, trim and heel.
func (f *Floated) enough(t *afloat.Trip) error {
	if len(f.Readings) < 3 {
		return errFewFreeboards
	}
	low, high := r3.Vec{X: math.Inf(1), Y: math.Inf(1)}, r3.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, r := range f.Readings {
		low.X, high.X = math.Min(low.X, r.At.X), math.Max(high.X, r.At.X)
		low.Y, high.Y = math.Min(low.Y, r.At.Y), math.Max(high.Y, r.At.Y)
	}
	switch {
	case high.X-low.X < least*(t.Ship.Hull.To-t.Ship.Hull.From):
		return errOnePlace
	case low.Y >= 0 || high.Y <= 0:
		return errOneSide
	}
	return nil
}

// lie fits level, slope and heel to the readings.
//
// Out: the normal equations' matrix at the fit
func (f *Floated) lie(a hydro.Attitude) (*mat.SymDense, error) {
	for range 60 {
		n, g := mat.NewSymDense(3, nil), mat.NewVecDense(3, nil)
		sin, cos := math.Sincos(a.Heel)
		tilt := math.Sqrt(1 + sq(a.Slope))
		f.Misfit = 0
		for i := range f.Readings {
			r := &f.Readings[i]
			r.Fitted = a.Above(r.At)
			off := (r.Height - r.Fitted) / r.Deviation
			f.Misfit += sq(off)
			d := [3]float64{-1 / tilt, -r.At.X/tilt - a.Slope*r.Fitted/sq(tilt), (-r.At.Z*sin - r.At.Y*cos) / tilt}
			for j := range d {
				g.SetVec(j, g.AtVec(j)+d[j]/r.Deviation*off)
				for k := j; k < 3; k++ {
					n.SetSym(j, k, n.At(j, k)+d[j]*d[k]/sq(r.Deviation))
				}
			}
		}
		var chol mat.Cholesky
		var step mat.VecDense
		if !chol.Factorize(n) || chol.SolveVecTo(&step, g) != nil {
			return nil, errOnePlace
		}
		a.Level, a.Slope, a.Heel = a.Level+step.AtVec(0), a.Slope+step.AtVec(1), a.Heel+step.AtVec(2)
		if math.IsNaN(a.Level+a.Slope+a.Heel) || math.Abs(a.Heel) > 0.8 || math.Abs(a.Slope) > 0.8 {
			return nil, errAground
		}
		if mat.Norm(&step, math.Inf(1)) < 1e-13 {
			f.Attitude, f.Spare = a, len(f.Readings)-3
			return n, nil
		}
	}
	return nil, errAground
}

// moments is what she pushes aside in an attitude: its mass and the moments that a weight at rest
// there with its centre at a height must have.
func moments(b *hydro.Body, sea hydro.Sea, a hydro.Attitude, z float64) ([3]float64, cuts.Sums) {
	m := b.Below(a.Plane())
	sin, cos := math.Sincos(a.Heel)
	y := (m.Across - m.Volume*z*sin) / cos
	up := m.Volume*z*cos - y*sin
	x := m.X + a.Slope*(m.Up-up)
	return [3]float64{sea.Density * m.Volume, sea.Density * x, sea.Density * y}, m
}

// weigh works out weight, centre and their doubts from how she lay.
func (f *Floated) weigh(t *afloat.Trip, a aboard, normal *mat.SymDense) error {
	body := t.Ship.Body
	z := a.state.G.Z
	at, sums := moments(body, a.sea, f.Attitude, z)
	if !(at[0] > 0) || sums.Volume >= body.Volume() {
		return fmt.Errorf("%w: by them she floats clear of the water or lies wholly under it", errAground)
	}
	var chol mat.Cholesky
	var inverse mat.SymDense
	if !chol.Factorize(normal) || chol.InverseTo(&inverse) != nil {
		return errOnePlace
	}
	scale := 1.0 // readings that scatter more than they should are known less well
	if f.Spare > 0 {
		scale = math.Max(1, f.Misfit/float64(f.Spare))
	}
	const step = 1e-5
	var slope [3][3]float64
	for j := range 3 {
		up, down := f.Attitude, f.Attitude
		*[]*float64{&up.Level, &up.Slope, &up.Heel}[j] += step
		*[]*float64{&down.Level, &down.Slope, &down.Heel}[j] -= step
		p, _ := moments(body, a.sea, up, z)
		q, _ := moments(body, a.sea, down, z)
		for i := range p {
			slope[i][j] = (p[i] - q[i]) / (2 * step)
		}
	}
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				for l := range 3 {
					f.covariance[i][j] += slope[i][k] * inverse.At(k, l) * slope[j][l] * scale
				}
			}
		}
	}
	// A hull proud or lean all over by one deviation of a reading pushes aside more or less, about the flotation.
	skin := t.Ship.Tolerance / 3 * body.Envelope.Wetted(f.Attitude.Plane()) * a.sea.Density
	flotation := [3]float64{skin, 0, 0}
	if sums.Breadth > 0 {
		flotation[1] = skin * sums.BreadthX / sums.Breadth
	}
	// The book's height of gravity is used where she heels or trims.
	sin, cos := math.Sincos(f.Attitude.Heel)
	high := a.state.DoubtG.Z * at[0]
	height := [3]float64{0, -f.Attitude.Slope * high / cos, -high * sin / cos}
	for i := range 3 {
		for j := range 3 {
			f.covariance[i][j] += flotation[i]*flotation[j] + height[i]*height[j]
		}
	}
	f.Mass, f.G = at[0], r3.Vec{X: at[1] / at[0], Y: at[2] / at[0], Z: z}
	f.Deviation = math.Sqrt(f.covariance[0][0])
	f.DeviationG = r3.Vec{X: f.placed(1, f.G.X, f.Mass), Y: f.placed(2, f.G.Y, f.Mass), Z: a.state.DoubtG.Z}
	return finite(f.Mass, f.G.X, f.G.Y, f.Deviation, f.DeviationG.X, f.DeviationG.Y)
}

// placed is the standard deviation of a place that is a moment over a mass.
func (f *Floated) placed(axis int, place, mass float64) float64 {
	c := &f.covariance
	v := c[axis][axis] - 2*place*c[0][axis] + sq(place)*c[0][0]
	return math.Sqrt(math.Max(0, v)) / math.Abs(mass)
}

func sq(v float64) float64 { return v * v }
