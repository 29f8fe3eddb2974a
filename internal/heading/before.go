package heading

import "math"

// Sweep is the courses either side of dead downwind that she can be steered on.
type Sweep struct {
	Half float64 // radians
	Bow  float64 // where the wind comes from off the bow at the last of them
	Ways []Way   // from dead downwind on, the wind on the starboard side
}

// Before is how far either side of dead downwind she can be steered, radians: she runs before the wind and is
// brought up to it little by little, until rudder and oars have no more to give, the flow over board or rudder
// lets go, or she makes no headway. Half a turn is every course there is. Courses beyond that she could still crab
// along with the board stalled stand in Sector and do not count here: nobody steers so.
//
// In:     wind m/s at 10 m; thrust N by speed ahead
// Out:    half the sector, and how she goes on every heading looked at, from dead downwind on
// Error:  ErrInput, ErrUnconverged
// Good to: 0.05 degrees of heading (TestBefore)
// Source: continuation: Newton's method on speeds and helm together, each heading from the last
func (m *Model) Before(wind float64, thrust func(float64) float64, h Helm) (Sweep, error) {
	const stride = slice / 2
	w, err := m.Row(wind, math.Pi-stride, thrust, h)
	if err != nil || !w.Held || w.Ahead <= 0 {
		return Sweep{Bow: math.Pi}, err
	}
	most := m.controls(h)
	demand := w.Uneven
	if h.Rudder && m.rudder >= 0 {
		demand += w.Rudder / m.blades[m.rudder].max
	}
	in, at := w.Lie, math.Pi-stride
	out := Sweep{Half: math.Pi - math.Abs(in.Course()), Ways: []Way{w}}
	for step := stride; at > 0; {
		next := math.Max(0, at-step)
		guess := in
		guess.From = next
		l, d, ok := m.trim(wind, guess, demand, thrust, h)
		if ok && l.Ahead > 0 && math.Abs(math.Abs(l.Course())-math.Abs(in.Course())) < 3*step+1e-6 {
			in, demand, at = l, d, next
			c := m.control(h, demand, nil)
			margin := 1.0
			if most > 0 {
				margin = 1 - math.Abs(d)/most
			}
			out.Ways = append(out.Ways, Way{Lie: l, Rudder: c.Rudder, Uneven: c.Uneven, Held: true, Margin: margin})
			out.Half = math.Max(out.Half, math.Pi-math.Abs(in.Course()))
			continue
		}
		if step /= 2; step < edge {
			out.Bow = at
			return out, nil
		}
	}
	out.Half = math.Pi
	return out, nil
}
