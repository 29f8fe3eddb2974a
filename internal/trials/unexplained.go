package trials

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat/distuv"

	"thole/internal/afloat"
)

// Cause is what explains the difference from the weights book best.
type Cause int

// The causes, from the least to look into to the most.
const (
	// ReadingError: the book's own freeboards lie within the readings' error.
	ReadingError Cause = iota
	// Within: the difference is more than the readings' error, and less than the book's own doubts allow.
	Within
	// Weight: she is heavier or lighter than the book, by something that could stand aboard.
	Weight
	// Position: the weight agrees and its place does not.
	Position
	// Both: the weight differs, and no one thing aboard could make up for its place.
	Both
	// Disagreement: the readings do not fit any way of lying: a slip, a swell, or a hull not built to her lines.
	Disagreement
)

// Unexplained is what would have to be added to the weights book to agree with the freeboards.
type Unexplained struct {
	Mass      float64 // kg; negative when the book is too heavy
	At        r3.Vec  // where it stands
	Deviation float64 // standard deviation of the mass, of the measurement alone
	Spread    r3.Vec  // standard deviation of the place
	Doubt     float64 // of the difference, the book's own doubts included
	// Height is true where an inclining with the same load tells At.Z; else it is the book's height of gravity.
	Height bool
	Cause  Cause
	// Shift is how much further aft, to starboard and up her centre of gravity lies than the book has it.
	Shift r3.Vec
	// Aboard is true where At lies within her ends and sides, so that one weight may stand there.
	Aboard bool
}

// sure is how many standard deviations are taken as more than chance: 19 in 20.
const sure = 1.959964

// explain sets the freeboards against the book.
//
// Source: JCGM 100:2008 (law of propagation); Pearson's chi-squared test at 19 in 20, and 99 in 100 for disagreement
func (f *Floated) explain(t *afloat.Trip, inclined []Inclined) {
	u := &f.Unexplained
	b := &f.Book
	u.Mass = f.Mass - b.Mass
	u.Deviation, u.Doubt = f.Deviation, math.Hypot(f.Deviation, b.Doubt)
	u.Shift = r3.Sub(f.G, b.G)
	moment := r3.Sub(r3.Scale(f.Mass, f.G), r3.Scale(b.Mass, b.G))
	if math.Abs(u.Mass) > 1e-9 {
		u.At = r3.Scale(1/u.Mass, moment)
		u.Spread = r3.Vec{X: f.placed(1, u.At.X, u.Mass), Y: f.placed(2, u.At.Y, u.Mass)}
	} else {
		u.At = b.G
	}
	u.At.Z, u.Spread.Z = b.G.Z, math.Inf(1)
	for i := range inclined {
		in := &inclined[i]
		if in.Err != nil || !same(t, &f.Trial.Trial, &in.Trial.Trial) || math.Abs(u.Mass) < 1e-9 {
			continue
		}
		// Of her without what was aboard for either trial.
		bare := f.Mass - f.extra.Mass
		u.At.Z = (bare*in.Height - f.bare.Mass*f.bare.G.Z) / u.Mass
		u.Spread.Z = math.Hypot(bare*in.Deviation, (in.Height-u.At.Z)*f.Deviation) / math.Abs(u.Mass)
		u.Shift.Z, u.Height = in.Height-f.bare.G.Z, true
		break
	}
	low, high := t.Ship.Body.Envelope.Box()
	u.Aboard = u.Mass > 0 && u.At.X > low[0] && u.At.X < high[0] && math.Abs(u.At.Y) < high[1]
	x := math.Abs(u.Shift.X) / math.Max(1e-9, math.Hypot(f.DeviationG.X, b.DoubtG.X))
	y := math.Abs(u.Shift.Y) / math.Max(1e-9, math.Hypot(f.DeviationG.Y, b.DoubtG.Y))
	heavier := math.Abs(u.Mass)/math.Max(1e-9, u.Doubt) > sure
	switch {
	case f.Spare > 0 && f.Misfit > distuv.ChiSquared{K: float64(f.Spare)}.Quantile(0.99):
		u.Cause = Disagreement
	case f.BookMisfit <= (distuv.ChiSquared{K: float64(len(f.Readings))}).Quantile(0.95):
		u.Cause = ReadingError
	case !heavier && x <= sure && y <= sure:
		u.Cause = Within
	case !heavier:
		u.Cause = Position
	case u.Aboard || u.Mass < 0 && x <= sure && y <= sure:
		u.Cause = Weight
	default:
		u.Cause = Both
	}
}
