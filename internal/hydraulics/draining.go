package hydraulics

import (
	"fmt"
	"math"
	"slices"
)

// Draining is a basin with its openings, what stands outside them, and perhaps a pump.
// Water may run either way: the same thing is a well that drains and a compartment that
// fills through a hole.
type Draining struct {
	Basin    Basin
	Openings []Opening
	// Sea is the level outside as the water stands at a level inside: a flooding boat
	// sinks and carries her holes deeper. Still makes one that does not change.
	Sea func(level float64) float64
	// Pump is what is pumped out with the water at a level inside, m3/s; nil for none.
	Pump func(level float64) float64
}

// Still is a sea that stays where it is.
func Still(level float64) func(float64) float64 { return func(float64) float64 { return level } }

// Dry is no sea at all: every outlet lets go into the air.
func Dry() func(float64) float64 { return Still(-1e9) }

// Sinking is the sea of a boat that goes down as water comes aboard: its level outside
// by the volume of water in the basin, m3 to m, heights measured as the basin's are.
func Sinking(b Basin, sea func(volume float64) float64) func(float64) float64 {
	return func(level float64) float64 { return sea(b.Volume(level)) }
}

// Check says what is wrong with it, or nil.
func (d Draining) Check() error {
	if d.Basin.area == nil {
		return fmt.Errorf("%w: there is no basin; make one with Box, Areas or Volumes", ErrInput)
	}
	if d.Sea == nil {
		return fmt.Errorf("%w: the level outside is not given; Still(height), or Dry()", ErrInput)
	}
	for _, z := range []float64{d.Basin.bottom, d.Basin.top} {
		if err := number(fmt.Sprintf("the sea's level with the water at %g m", z), d.Sea(z)); err != nil {
			return err
		}
	}
	for _, o := range d.Openings {
		if err := o.Check(); err != nil {
			return err
		}
	}
	return nil
}

// Flow is all that leaves, less all that comes in, with the water at a level: m3/s.
func (d Draining) Flow(level float64) float64 {
	sea := d.Sea(level)
	q := 0.0
	for i := range d.Openings {
		q += d.Openings[i].Flow(level, sea)
	}
	if d.Pump != nil {
		q += d.Pump(level)
	}
	return q
}

// Rest is where the water comes to rest.
type Rest struct {
	Level, Volume float64
	// InTime: it gets there in a finite time. A weir, or a pump that just holds a hole,
	// only ever comes nearer.
	InTime bool
	// Brim: the basin is full to its top and more is coming.
	Brim bool
}

// Run is how the water got from one level towards another.
type Run struct {
	From, To float64 // where it began, and where the time ends
	Reached  bool    // To is the level that was asked for
	Time     float64 // s
	Error    float64 // s, a bound on the error of the sum
	Volume   float64 // m3 that left the basin; negative when it filled
	Rest     Rest    // where it would end if left alone
}

// Near is how close to a rest that is never reached a run is followed: 1 mm.
const Near = 1e-3

// precise is the share of a time that may be missed.
const precise = 1e-9

// Run follows the water from one level until it reaches another, or comes to rest
// before it: then Reached is false, To is where it rests (to within Near of a rest that
// is never quite reached) and Rest says what is left. It may rest the other way, when
// the sea runs in.
//
// In:     levels in m, within the basin
// Error:  ErrInput, ErrOutside, ErrUnconverged
// Good to: Run.Error, some 1e-9 of the time (TestRunAgainstClosedForms), so long as no two
// levels lie nearer than a ten thousandth of the depth without being the same
// Source: dt = A dh / Q, summed between the levels where an opening begins, ends, or
// drowns, with h = a + (b - a) (1 - cos t) / 2, which takes the roots at both ends away
func (d Draining) Run(from, to float64) (Run, error) {
	rest, err := d.Rest(from)
	if err != nil {
		return Run{}, err
	}
	if !(to >= d.Basin.bottom && to <= d.Basin.top) {
		return Run{}, fmt.Errorf("%w: to %g m; it reaches from %g to %g m", ErrOutside, to, d.Basin.bottom, d.Basin.top)
	}
	run := Run{From: from, To: to, Reached: true, Rest: rest}
	short := rest.Level - math.Copysign(math.Min(Near, math.Abs(rest.Level-from)/2), rest.Level-from)
	atRest := math.Abs(to-rest.Level) <= 1e-12*(d.Basin.top-d.Basin.bottom)
	switch {
	case to == from:
		return run, nil
	case atRest && rest.InTime:
		run.To = rest.Level
	case atRest || (to-from)*(rest.Level-to) <= 0: // not on the way to the rest
		run.Reached, run.To = false, rest.Level
		if !rest.InTime {
			run.To = short
		}
	}
	err = d.follow(&run)
	if err != nil && run.To == rest.Level { // it dies away after all: a sill a hair off the sea
		run = Run{From: from, To: short, Rest: rest}
		run.Rest.InTime = false
		err = d.follow(&run)
	}
	if err != nil {
		return Run{}, err
	}
	run.Volume = d.Basin.Volume(from) - d.Basin.Volume(run.To)
	return run, nil
}

// Moment is one point of a run.
type Moment struct {
	Time, Level, Volume float64
	Flow                float64 // out of the basin, m3/s
}

// Track is a run cut into equal steps of level, for a curve of level over time.
//
// In:     as Run; the number of steps, 1 or more
// Error:  as Run
func (d Draining) Track(from, to float64, steps int) (Run, []Moment, error) {
	run, err := d.Run(from, to)
	if err != nil {
		return Run{}, nil, err
	}
	if steps < 1 {
		return Run{}, nil, fmt.Errorf("%w: %d steps; give 1 or more", ErrInput, steps)
	}
	track := []Moment{{0, from, d.Basin.Volume(from), d.Flow(from)}}
	for i := 1; i <= steps && run.To != from; i++ {
		step := Run{From: track[i-1].Level, To: from + (run.To-from)*float64(i)/float64(steps)}
		if i == steps {
			step.To = run.To
		}
		if err := d.follow(&step); err != nil {
			return Run{}, nil, err
		}
		track = append(track, Moment{track[i-1].Time + step.Time, step.To, d.Basin.Volume(step.To), d.Flow(step.To)})
	}
	return run, track, nil
}

// follow sums the time of a run all of whose flow is one way.
func (d Draining) follow(run *Run) error {
	marks := d.marks(run.From, run.To)
	for i := 1; i < len(marks); i++ {
		a, b := marks[i-1], marks[i]
		half := (b - a) / 2
		t, miss, err := integral(func(t float64) float64 {
			sin, cos := math.Sincos(t)
			// From the nearer end, so that a head that goes to nothing keeps its figures.
			h := a + half*(1-cos)
			if cos < 0 {
				h = b - half*(1+cos)
			}
			return d.Basin.area(h) * half * sin / -d.Flow(h)
		}, precise, run.Time)
		if err != nil || t < 0 {
			return fmt.Errorf("%w: between %.4g and %.4g m (%.3g s so far)", ErrUnconverged, a, b, run.Time)
		}
		run.Time += t
		run.Error += miss
	}
	return nil
}

// marks is the way from one level to another, cut where something begins or ends.
func (d Draining) marks(from, to float64) []float64 {
	lo, hi := math.Min(from, to), math.Max(from, to)
	seaLo, seaHi := d.Sea(lo), d.Sea(hi)
	marks := append(make([]float64, 0, 16), lo, hi)
	// What is this close together is one level, told apart only by rounding.
	same := 1e-10 * (hi - lo)
	add := func(z float64) {
		if z > lo+same && z < hi-same {
			marks = append(marks, z)
		}
	}
	for _, z := range d.Basin.breaks {
		add(z)
	}
	for _, o := range d.Openings {
		add(o.Level)
		if o.Face == Upright {
			add(o.Level + o.Height + o.Diameter)
		}
		if seaLo == seaHi {
			add(o.handover(seaLo))
		}
	}
	add(seaLo)
	add(seaHi)
	if seaLo != seaHi { // her level outside moves: look more closely
		for i := 1; i < 8; i++ {
			add(lo + (hi-lo)*float64(i)/8)
		}
	}
	slices.Sort(marks)
	marks = slices.CompactFunc(marks, func(a, b float64) bool { return math.Abs(b-a) <= same })
	if to < from {
		slices.Reverse(marks)
	}
	return marks
}
