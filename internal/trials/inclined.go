package trials

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat/distuv"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/model"
)

// Heel made by one move, between which it is good for working out her height of gravity: less
// drowns in the reading's error, more is past small heels for which the moves should agree.
//
// Source: inclining practice of the US authorities asks for 2 to 4 degrees; the wider range is common practice, no source
const (
	leastHeel = 0.5 * math.Pi / 180
	mostHeel  = 8 * math.Pi / 180
)

// fewest is how many moves are asked for, so that they can be seen to agree.
const fewest = 3

// Move is one weight moved and what it says.
type Move struct {
	Moment    float64 // kg m, to starboard positive
	Heel      float64 // made by it, radians
	GM        float64 // by the formula for small heels: moment over weight and tangent
	Height    float64 // of gravity above the base line, on the exact curve
	Deviation float64 // standard deviation of Height from this move's readings
	Left      string  // why it was left out; empty where it was not
}

// Inclined is her height of gravity from weights moved across.
type Inclined struct {
	Trial *model.Inclined
	Err   error // why it tells nothing

	Moves []Move
	// Height is of her centre of gravity above the base line, without what was aboard for the trial only.
	Height    float64
	Deviation float64 // standard deviation of Height
	Scatter   float64 // standard deviation of the moves among themselves
	GM        float64 // upright, with all that was aboard
	Mass      float64 // what was aboard
	Measured  bool    // Mass is from freeboards of the same load, not from the book
	// Book and BookDoubt are the height by the weights book, and its standard deviation.
	Book, BookDoubt float64
	// Loose is true where the moves scatter more than their readings' error allows.
	Loose bool
}

// Errors of an inclining.
var (
	errFewMoves = errors.New("three good moves are needed, to see that they agree")
	errSide     = errors.New("she heeled away from the weight: a slip of a sign, a line fast to the quay, or water loose in her")
	errScatter  = errors.New("the moves do not agree: do it again in a calm, lines slack, with nobody moving")
	errNoHeight = errors.New("no height of gravity fits this heel")
)

// SmallHeel is the metacentric height by the formula for small heels: the moment over weight and tangent of the heel.
//
// Source: Barrass & Derrett, Ship Stability for Masters and Mates, ch. "The inclining test"
func SmallHeel(moment, mass, heel float64) float64 { return moment / (mass * math.Tan(heel)) }

// HeightOfGravity finds how high a body's centre of gravity lies from the heel that a moment makes, on the
// body's own curve, free to sink and to trim.
//
// In:     the body's weight; where its centre lies before, its Z a first guess; moment in kg m to starboard; the
// heel that it makes in radians from where she lay before
// Out:    height above the base line, metres
// Error:  as hydro.Float and Hold; the heel is nothing; no height fits
// Good to: 1e-8 m on boxes by the wall-sided formula, heels to 10 degrees (TestHeightOfGravity)
// Source: the balance across before and after, solved for the height that both share
func HeightOfGravity(b *hydro.Body, sea hydro.Sea, l hydro.Load, moment, heel float64) (float64, error) {
	var before, after *hydro.Attitude
	across := func(l hydro.Load, heel float64, near *hydro.Attitude) (hydro.Rest, float64, error) {
		r, err := hydro.Hold(b, l, sea, heel, near)
		if err != nil {
			return r, 0, err
		}
		return r, r.Sums.Across / r.Sums.Volume, nil
	}
	for range 60 {
		list := 0.0
		if math.Abs(l.G.Y) > 1e-9 {
			r, err := hydro.Float(b, l, sea, before)
			if err != nil {
				return 0, err
			}
			list = r.Heel
		}
		r0, a0, err := across(l, list, before)
		if err != nil {
			return 0, err
		}
		moved := l.Raised(r3.Vec{Y: moment / l.Mass})
		r1, a1, err := across(moved, list+heel, after)
		if err != nil {
			return 0, err
		}
		before, after = &r0.Attitude, &r1.Attitude
		s0, c0 := math.Sincos(list)
		s1, c1 := math.Sincos(list + heel)
		if s0 == s1 {
			return 0, errNoHeight
		}
		z := (a1 - a0 - moved.G.Y*c1 + l.G.Y*c0) / (s1 - s0)
		if math.IsNaN(z) || math.Abs(z-l.G.Z) > 100 {
			return 0, errNoHeight
		}
		done := math.Abs(z-l.G.Z) < 1e-11
		l.G.Z = z
		if done {
			return z, nil
		}
	}
	return 0, errNoHeight
}

func incline(t *afloat.Trip, trial *model.Inclined, floated []Floated) Inclined {
	in := Inclined{Trial: trial}
	a, err := bookOf(t, &trial.Trial)
	if err != nil {
		in.Err = err
		return in
	}
	in.Book, in.BookDoubt = a.bare.G.Z, a.bare.DoubtG.Z
	l, doubt := in.weight(t, a, floated)
	in.Mass = l.Mass
	in.Err = in.work(t.Ship.Body, a.sea, l, doubt)
	if in.Err == nil {
		// What was aboard for the trial only is taken off again.
		if bare := l.Mass - a.extra.Mass; a.extra.Mass > 0 && bare > 0 {
			in.Height = (l.Mass*in.Height - a.extra.Mass*a.extra.G.Z) / bare
			in.Deviation *= l.Mass / bare
		}
	}
	return in
}

// weight is what she carried: by freeboards of the same load where there are any, by the book elsewhere.
func (in *Inclined) weight(t *afloat.Trip, a aboard, floated []Floated) (hydro.Load, float64) {
	for i := range floated {
		f := &floated[i]
		if f.Err != nil || !same(t, &f.Trial.Trial, &in.Trial.Trial) {
			continue
		}
		in.Measured = true
		bare := f.Mass - f.extra.Mass
		l := hydro.Load{Mass: bare + a.extra.Mass}
		sum := r3.Sub(r3.Scale(f.Mass, f.G), r3.Scale(f.extra.Mass, f.extra.G))
		l.G = r3.Scale(1/l.Mass, r3.Add(sum, r3.Scale(a.extra.Mass, a.extra.G)))
		return l, f.Deviation
	}
	return afloat.Load(&a.state), a.state.Doubt
}

// work takes the moves one by one and puts them together.
func (in *Inclined) work(b *hydro.Body, sea hydro.Sea, l hydro.Load, doubt float64) error {
	var good []int
	for i := range in.Trial.Moves {
		m := readMove(&in.Trial.Moves[i])
		if m.Heel*m.Moment < 0 {
			in.Moves = append(in.Moves, m)
			return fmt.Errorf("move %d: %w", i+1, errSide)
		}
		switch heel := math.Abs(m.Heel); {
		case heel < leastHeel:
			m.Left = "heel under half a degree: too little to read"
		case heel > mostHeel:
			m.Left = "heel over 8 degrees: too much for inclining"
		default:
			z, err := HeightOfGravity(b, sea, l, m.Moment, m.Heel)
			if err != nil {
				return fmt.Errorf("move %d: %w", i+1, err)
			}
			m.GM = SmallHeel(m.Moment, l.Mass, m.Heel)
			m.Height, m.Deviation = z, m.GM*m.Deviation
			good = append(good, i)
		}
		in.Moves = append(in.Moves, m)
	}
	if len(good) < fewest {
		return fmt.Errorf("%w (there are %d)", errFewMoves, len(good))
	}
	var weight, sum float64
	for _, i := range good {
		w := 1 / sq(in.Moves[i].Deviation)
		weight, sum = weight+w, sum+w*in.Moves[i].Height
	}
	in.Height = sum / weight
	var misfit, scatter float64
	for _, i := range good {
		m := &in.Moves[i]
		misfit += sq((m.Height - in.Height) / m.Deviation)
		scatter += sq(m.Height - in.Height)
	}
	spare := float64(len(good) - 1)
	in.Scatter = math.Sqrt(scatter / spare)
	in.Loose = misfit > distuv.ChiSquared{K: spare}.Quantile(0.99)
	upright := l
	upright.G.Z = in.Height
	r, err := hydro.Float(b, upright, sea, nil)
	if err != nil {
		return err
	}
	in.GM = r.Stiffness(upright)
	if in.Loose && in.Scatter > widest*math.Abs(in.GM) {
		return fmt.Errorf("%w (metacentric heights scatter by %.0f %%)", errScatter, 100*in.Scatter/math.Abs(in.GM))
	}
	in.Deviation = math.Sqrt(math.Max(1, misfit/spare) / weight)
	// The weight's own doubt falls on all moves alike.
	first := &in.Moves[good[0]]
	heavier := l
	heavier.Mass += doubt
	if z, err := HeightOfGravity(b, sea, heavier, first.Moment, first.Heel); err == nil {
		in.Deviation = math.Hypot(in.Deviation, z-first.Height)
	}
	return finite(in.Height, in.Deviation, in.Scatter, in.GM)
}

// widest is the share of the metacentric height by which moves may scatter before they are
// refused. Common practice, no source.
const widest = 0.1

// readMove is a move's moment, heel, and the relative standard deviation of their quotient.
func readMove(r *model.Move) Move {
	m := Move{Moment: float64(r.Mass.Value) * r.Across, Heel: r.Angle}
	angle := or(r.Tolerance, usualAngle)
	var pendulum float64
	if r.Pendulum > 0 {
		m.Heel = math.Atan2(r.Deflection, r.Pendulum)
		angle = 0
		pendulum = math.Hypot(or(r.Tolerance, usualDeflection)/math.Max(1e-9, math.Abs(r.Deflection)), usualPendulum/r.Pendulum)
	}
	sin, cos := math.Sincos(m.Heel)
	tangent := angle / math.Max(1e-9, math.Abs(sin*cos))
	m.Deviation = half * math.Sqrt(sq(pendulum)+sq(tangent)+sq(float64(r.Mass.Tolerance/r.Mass.Value))+sq(or(r.AcrossTolerance, usualAcross)/r.Across))
	return m
}
