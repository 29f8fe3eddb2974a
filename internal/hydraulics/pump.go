package hydraulics

import (
	"cmp"
	"fmt"
	"math"
)

// HandPump is a pump worked by hand.
type HandPump struct {
	Stroke float64 // m3 swept by a full stroke
	// Travel is the way of the hand in a working stroke, m. A handle's ratio is Travel
	// over the piston's way, and the piston's area times its way is Stroke.
	Travel     float64
	Filled     float64 // share of Stroke that is water: leaking valves, air, short strokes
	Efficiency float64 // share of the hand's work that lifts water
}

// Check says what is wrong with a hand pump, or nil.
func (p HandPump) Check() error {
	err := cmp.Or(positive("the volume of a stroke", p.Stroke, "m3"), positive("the hand's travel", p.Travel, "m"))
	for _, s := range []struct {
		what  string
		value float64
	}{{"the share filled", p.Filled}, {"the efficiency", p.Efficiency}} {
		if err == nil && !(s.value > 0 && s.value <= 1) {
			err = fmt.Errorf("%w: %s is %g; give more than 0, at most 1", ErrInput, s.what, s.value)
		}
	}
	if err != nil {
		return fmt.Errorf("hand pump: %w", err)
	}
	return nil
}

// Worked is a hand pump at work.
type Worked struct {
	Flow  float64 // m3/s
	Head  float64 // m: the lift and what the hose costs
	Force float64 // N at the hand, mean over the working stroke
	Power float64 // W of the arm
}

// Work is what a hand pump gives and asks at a rate.
//
// In:     strokes a second; lift m, from the water to the outlet; hose; density kg/m3
// Error:  ErrInput
// Source: work of the hand = work on the water: F s e = rho g H V (closed form); the hose
// by its mean flow, so the pulses' extra loss is not counted
func (p HandPump) Work(rate, lift float64, hose Hose, density float64) (Worked, error) {
	if err := cmp.Or(p.Check(), hose.Check(), positive("the rate", rate, "strokes a second"),
		notNegative("the lift", lift, "m"), positive("the density", density, "kg/m3")); err != nil {
		return Worked{}, err
	}
	w := Worked{Flow: p.Stroke * p.Filled * rate}
	w.Head = lift + hose.loss(w.Flow).Head
	w.Force = density * G * w.Head * p.Stroke / (p.Travel * p.Efficiency)
	w.Power = w.Force * p.Travel * rate
	return w, nil
}

// Strokes is how many strokes move a volume.
//
// In:     m3, 0 or more
// Error:  ErrInput
func (p HandPump) Strokes(volume float64) (int, error) {
	if err := cmp.Or(p.Check(), notNegative("the volume", volume, "m3")); err != nil {
		return 0, err
	}
	n := volume / (p.Stroke * p.Filled)
	if !(n < 1e9) {
		return 0, fmt.Errorf("%w: %g strokes; look at the stroke's volume, %g m3", ErrInput, n, p.Stroke)
	}
	return int(math.Ceil(n * (1 - 1e-12))), nil
}

// HeadFlow is a point of a pump's line.
type HeadFlow struct {
	Head float64 // m
	Flow float64 // m3/s
}

// ElectricPump is a pump by its maker's line: points from no head, where it gives most,
// to the head at which it gives nothing; straight between. With the maker's open flow
// alone, give its shut-off head too: {{0, open}, {shut, 0}}.
type ElectricPump []HeadFlow

// Check says what is wrong with a pump's line, or nil.
func (p ElectricPump) Check() error {
	if len(p) < 2 {
		return fmt.Errorf("%w: pump: a line of %d points; give two or more, from no head to no flow", ErrInput, len(p))
	}
	for i, at := range p {
		if !finite(at.Head) || !finite(at.Flow) || i > 0 && (at.Head <= p[i-1].Head || at.Flow >= p[i-1].Flow) {
			return fmt.Errorf("%w: pump: point %d (%g m, %g m3/s): the head must rise and the flow fall", ErrInput, i+1, at.Head, at.Flow)
		}
	}
	if p[0].Head != 0 || p[len(p)-1].Flow != 0 {
		return fmt.Errorf("%w: pump: the line runs from %g m to %g m3/s; begin at 0 m, end at 0 m3/s", ErrInput, p[0].Head, p[len(p)-1].Flow)
	}
	return nil
}

// gives is the flow against a head.
func (p ElectricPump) gives(head float64) float64 {
	if head <= 0 {
		return p[0].Flow
	}
	for i := 1; i < len(p); i++ {
		if head < p[i].Head {
			s := (head - p[i-1].Head) / (p[i].Head - p[i-1].Head)
			return p[i-1].Flow + s*(p[i].Flow-p[i-1].Flow)
		}
	}
	return 0
}

// Point is where a pump and its hose agree.
type Point struct {
	Flow float64 // m3/s; 0 when it cannot lift so high
	Head float64 // m, what the pump works against
	Loss Loss
}

// Operate is where the pump's line crosses its hose's.
//
// In:     hose; lift m from the water to the outlet (or to the sea over a drowned one)
// Error:  ErrInput
// Good to: 1e-12; Source: halving, one line falls and the other rises
func (p ElectricPump) Operate(hose Hose, lift float64) (Point, error) {
	if err := cmp.Or(p.Check(), hose.Check(), number("the lift", lift)); err != nil {
		return Point{}, err
	}
	return p.operate(hose, lift), nil
}

func (p ElectricPump) operate(hose Hose, lift float64) Point {
	freely := p.gives(lift)
	if freely <= 0 {
		return Point{Head: lift, Loss: hose.loss(0)}
	}
	q := halve(0, freely, func(q float64) bool { return q < p.gives(lift+hose.loss(q).Head) })
	l := hose.loss(q)
	return Point{Flow: q, Head: lift + l.Head, Loss: l}
}

// Lifting is the pump in a basin, for Draining.Pump: what it moves with the water at a
// level. It draws nothing when the water is not above its strainer.
//
// In:     hose; heights of the outlet and of the strainer, as the basin's are
// Error:  ErrInput
func (p ElectricPump) Lifting(hose Hose, outlet, strainer float64) (func(level float64) float64, error) {
	if err := cmp.Or(p.Check(), hose.Check(), number("the outlet", outlet), number("the strainer", strainer)); err != nil {
		return nil, err
	}
	return func(level float64) float64 {
		if level <= strainer {
			return 0
		}
		return p.operate(hose, outlet-level).Flow
	}, nil
}

// Contest is a pump against a hole, both steady.
type Contest struct {
	In, Out, Net float64 // m3/s; Net is what leaves, less what comes in
	Wins         bool
	Time         float64 // s to empty when it wins, else to fill the room; +Inf when they are equal
}

// Against sets a pump against a hole whose flow does not change: the quick answer. With
// a basin, give Draining both, and it follows the levels.
//
// In:     what comes in and goes out, m3/s; water aboard and room left for more, m3
// Error:  ErrInput
func Against(in, out, aboard, room float64) (Contest, error) {
	if err := cmp.Or(notNegative("what comes in", in, "m3/s"), notNegative("what goes out", out, "m3/s"),
		notNegative("the water aboard", aboard, "m3"), notNegative("the room left", room, "m3")); err != nil {
		return Contest{}, err
	}
	c := Contest{In: in, Out: out, Net: out - in, Wins: out > in, Time: math.Inf(1)}
	switch {
	case c.Wins:
		c.Time = aboard / c.Net
	case out < in:
		c.Time = room / -c.Net
	}
	return c, nil
}
