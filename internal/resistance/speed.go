package resistance

import (
	"cmp"
	"errors"
	"fmt"
	"math"
)

// Errors of the searches for a speed or a wind.
var (
	ErrTooFast = errors.New("she would go faster than the waves are known for")
	ErrNoWind  = errors.New("no wind stops her")
)

// Made is the speed that comes of a thrust.
type Made struct {
	Speed      float64 // m/s through the water; negative: she is driven astern while rowing
	Spread     float64 // m/s, half width of the 19-in-20 range
	Resistance Force   // at that speed, all told
	Thrust     Force
}

// quickest is how far past the table's end a speed is looked for, in tables.
const quickest = 4

// Speed is the speed at which the oars' thrust and the resistance are equal.
//
// Where a hollow in the wave resistance leaves more than one, the slowest is taken: it is the one she comes to from rest.
// Nothing is said of leeway, of the current or of whether she can be steered there.
//
// In:     what drives her (Idle lets her drift), the wind at 10 m
// Error:  ErrInput; ErrTooFast past 2.4 times the square root of g times her length
// Good to: 1e-9 m/s as a root; what it is worth stands in Spread, from the doubts of thrust and resistance
func (t *Table) Speed(d Drive, w Wind) (Made, error) {
	if err := cmp.Or(drives(d), w.check()); err != nil {
		return Made{}, err
	}
	v, err := t.balance(d, w, nil)
	if err != nil {
		return Made{}, err
	}
	m := Made{Speed: v, Resistance: t.Total(v, w), Thrust: d(v)}
	// The doubts at this speed, as forces, put on and taken off, are carried to the speed by asking again.
	most := math.Hypot(m.Resistance.Spread, m.Thrust.Spread)
	if most == 0 {
		return m, nil
	}
	less, err1 := t.balance(d, w, func(v float64) float64 { return -t.doubtAt(d, w, v) })
	more, err2 := t.balance(d, w, func(v float64) float64 { return t.doubtAt(d, w, v) })
	if err1 != nil || err2 != nil {
		return m, cmp.Or(err1, err2)
	}
	m.Spread = (more - less) / 2
	return m, nil
}

// Calm is the speed of Speed where no wind blows, without its spread: for asking often.
//
// Error:  as Speed
func (t *Table) Calm(d Drive) (float64, error) {
	if err := drives(d); err != nil {
		return 0, err
	}
	return t.balance(d, Wind{}, nil)
}

// doubtAt is the doubt of the net force at a speed.
func (t *Table) doubtAt(d Drive, w Wind, v float64) float64 {
	return math.Hypot(t.Total(v, w).Spread, d(v).Spread)
}

// balance is the slowest speed ahead at which the net force falls to nothing, or the slowest astern at which it rises to it.
func (t *Table) balance(d Drive, w Wind, extra func(v float64) float64) (float64, error) {
	net := func(v float64) float64 {
		f := d(v).Value - t.total(v, w)
		if extra != nil {
			f += extra(v)
		}
		return f
	}
	at := net(0)
	if at == 0 {
		return 0, nil
	}
	step := 4 * t.step
	if at < 0 {
		step = -step
	}
	a, fa := 0.0, at
	for math.Abs(a) < quickest*t.top {
		b := a + step
		fb := net(b)
		if fb == 0 {
			return b, nil
		}
		if (fb < 0) != (fa < 0) {
			return root(net, a, b, fa, fb), nil
		}
		a, fa = b, fb
	}
	return 0, fmt.Errorf("%w: oars and wind still drive her at %.1f m/s; look at the power and the parts in the wind", ErrTooFast, a)
}

// root closes in on a change of sign by false position with the idle end's weight halved, and by halves where that is slow.
//
// Source: the Illinois method; Dowell & Jarratt, BIT 11 (1971)
func root(f func(float64) float64, a, b, fa, fb float64) float64 {
	side := 0
	for i := range 100 {
		if math.Abs(b-a) < 1e-10 {
			break
		}
		m := b - fb*(b-a)/(fb-fa)
		if i%3 == 2 || !(m > math.Min(a, b) && m < math.Max(a, b)) {
			m = (a + b) / 2
		}
		fm := f(m)
		if fm == 0 {
			return m
		}
		if (fm < 0) == (fa < 0) {
			a, fa = m, fm
			if side == 1 {
				fb /= 2
			}
			side = 1
		} else {
			b, fb = m, fm
			if side == -1 {
				fa /= 2
			}
			side = -1
		}
	}
	return (a + b) / 2
}

// StopWind is the wind at 10 m, from an angle off the bow, in which rowing just holds her where she is in the water.
//
// The sea of the day counts as it does at rest, which by the rule is next to nothing; in truth a head sea of that wind
// stops her sooner. Read the answer as the most she could stand.
//
// In:     what drives her; angle off the bow in radians, under a right angle
// Out:    m/s and its spread
// Error:  ErrInput; ErrNoWind where nothing stands in the wind, it comes from abeam or astern, or it would blow over 100 m/s
// Good to: closed form
func (t *Table) StopWind(d Drive, from float64) (speed, spread float64, err error) {
	if err := cmp.Or(drives(d), Wind{From: from}.check()); err != nil {
		return 0, 0, err
	}
	one := air(t.boat.blows, 0, Wind{Speed: 1, From: from}) // it grows with the square
	if !(one > 1e-9) {
		return 0, 0, fmt.Errorf("%w: nothing of her holds this wind; give the parts that stand in it, and an angle under 90 degrees", ErrNoWind)
	}
	push := d(0)
	left := push.Value - t.sea(0)
	if left <= 0 {
		return 0, 0, nil // the sea alone holds her
	}
	speed = math.Sqrt(left / one)
	if speed > 100 {
		return 0, 0, fmt.Errorf("%w: it would have to blow %.0f m/s; look at the parts in the wind", ErrNoWind, speed)
	}
	// force grows with the square, so half of the doubts' share
	doubt := math.Hypot(math.Hypot(push.Spread, seasDoubt*t.sea(0))/left, airDoubt)
	return speed, speed * doubt / 2, nil
}

// CalmSpeeds is the speed in still air of the same boat at several loads, each with its own hull.
//
// In:     boats; one day's water and growth, its sea left out
// Error:  as In and Speed, naming which
func CalmSpeeds(boats []*Boat, d Drive, c Condition) ([]Made, error) {
	c.Sea = Sea{}
	out := make([]Made, len(boats))
	for i, b := range boats {
		if b == nil {
			return nil, fmt.Errorf("load %d: %w: no boat", i+1, ErrInput)
		}
		t, err := b.In(c)
		if err == nil {
			out[i], err = t.Speed(d, Wind{})
		}
		if err != nil {
			return nil, fmt.Errorf("load %d: %w", i+1, err)
		}
	}
	return out, nil
}
