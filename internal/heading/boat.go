package heading

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"
)

// Towed is something that drags in the water from a place on the centre line: a sea anchor
// from the bow, a drogue from the stern.
type Towed struct {
	X        float64 // m aft of station 0, of the fitting that the line leaves
	DragArea float64 // m2: drag coefficient times area
}

// Oars are where the blades push.
type Oars struct {
	// Arm is how far off the centre line a blade's middle is in the water, m.
	Arm float64
	// OneSide is the thrust of one side alone as a share of both; 0 is taken as a half.
	OneSide float64
}

// Boat is what the balance needs to know.
type Boat struct {
	Hull  Hull
	Parts []Part
	Foils []Foil
	Oars  Oars
	Towed []Towed
	// Resistance is the water's drag along the boat, N, at a speed ahead, m/s, none negative.
	// It is called thousands of times: hand over a table (Resistances) or a square law. Astern it
	// is taken as ahead.
	Resistance   func(speed float64) float64
	Water, Air   float64 // densities, kg/m3; 0 takes SeaWater and Air
	Coefficients Coefficients
}

// Quadratic is a resistance that grows as the square of the speed.
//
// In:     N s2/m2
func Quadratic(factor float64) func(float64) float64 {
	return func(speed float64) float64 { return factor * speed * speed }
}

// Resistances is a resistance by a table: it rises between any two rows where they rise,
// starts at none, and goes on past the last row as the square of the speed.
//
// In:     speeds m/s, rising, above 0; forces N, none negative
// Error:  ErrInput
// Source: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984), as in gonum/interp, on
// force over speed squared's root so that a square law comes back exactly
func Resistances(speeds, forces []float64) (func(float64) float64, error) {
	if len(speeds) < 2 || len(speeds) != len(forces) {
		return nil, fmt.Errorf("%w: a resistance of %d speeds and %d forces; give as many of each, two or more", ErrInput, len(speeds), len(forces))
	}
	x, y := []float64{0}, []float64{0}
	for i, v := range speeds {
		if !finite(v) || v <= x[len(x)-1] {
			return nil, fmt.Errorf("%w: row %d: speed %g m/s; the speeds must rise from above 0", ErrInput, i+1, v)
		}
		if !finite(forces[i]) || forces[i] < 0 {
			return nil, fmt.Errorf("%w: row %d: a resistance of %g N; give 0 N or more", ErrInput, i+1, forces[i])
		}
		x, y = append(x, v), append(y, math.Sqrt(forces[i]))
	}
	var curve interp.FritschButland
	if err := curve.Fit(x, y); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrInput, err)
	}
	last := len(x) - 1
	return func(v float64) float64 {
		if v >= x[last] {
			r := y[last] * v / x[last]
			return r * r
		}
		r := curve.Predict(math.Max(v, 0))
		return r * r
	}, nil
}

// Model is a boat made ready: it does not change, and may be used by many goroutines.
type Model struct {
	middle     float64 // the origin, m aft of station 0
	length     float64
	hull       flow
	sails      []sail
	blades     []blade
	rudder     int // the first blade that turns, -1 for none
	oars       Oars
	towed      []Towed
	resistance func(float64) float64
	more       float64
	halfAir    float64
	halfWater  float64
	shift      float64
	extreme    float64 // m2 under water, broadside, for a first guess
}

// Control is what the crew does.
type Control struct {
	Rudder float64                     // radians, positive turns a boat going ahead to starboard; within each foil's MaxAngle
	Uneven float64                     // -1 to 1: 1 rows on the port side alone, which turns her to starboard
	Thrust func(speed float64) float64 // N at a speed ahead, of both sides together; nil for none
}

// New makes a boat ready.
//
// Error:  ErrInput, naming what cannot be
func New(b Boat) (*Model, error) {
	if b.Water == 0 {
		b.Water = SeaWater
	}
	if b.Air == 0 {
		b.Air = Air
	}
	c := b.Coefficients
	if c == (Coefficients{}) {
		c = Usual()
	}
	if b.Oars.OneSide == 0 {
		b.Oars.OneSide = 0.5
	}
	err := cmp.Or(b.Hull.check(), c.check(),
		need("the water's density", b.Water, 500, 1500, "give about 1025 kg/m3"),
		need("the air's density", b.Air, 0.5, 2, "give about 1.2 kg/m3"),
		need("the arm of the oars", b.Oars.Arm, 0, 20, "give metres off the centre line"),
		need("the share of one side's oars", b.Oars.OneSide, 0.5, 1, "give 0.5 to 1"))
	if b.Resistance == nil {
		err = cmp.Or(err, fmt.Errorf("%w: no resistance; give newtons by speed", ErrInput))
	}
	for _, p := range b.Parts {
		err = cmp.Or(err, p.check())
	}
	for _, f := range b.Foils {
		err = cmp.Or(err, f.check())
	}
	for i, d := range b.Towed {
		err = cmp.Or(err, need(fmt.Sprintf("the drag area of towed thing %d", i+1), d.DragArea, 0, 1e5, "give m2"),
			need(fmt.Sprintf("the fitting of towed thing %d", i+1), d.X, -1e3, 1e3, "give metres aft of station 0"))
	}
	if err != nil {
		return nil, err
	}
	s := b.Hull.Stations
	m := &Model{
		middle: (s[0].X + s[len(s)-1].X) / 2, length: s[len(s)-1].X - s[0].X, rudder: -1,
		oars: b.Oars, towed: append([]Towed(nil), b.Towed...), resistance: b.Resistance, more: c.Resistance,
		halfAir: b.Air / 2, halfWater: b.Water / 2, shift: c.Shift,
	}
	m.extreme, _, _ = b.Hull.Lateral()
	m.hull = b.Hull.ready(m.middle, b.Water, &c)
	for _, p := range b.Parts {
		m.sails = append(m.sails, p.ready(m.middle, c.Gradient, &c))
	}
	for _, f := range b.Foils {
		if f.Up {
			continue
		}
		if f.MaxAngle > 0 && m.rudder < 0 {
			m.rudder = len(m.blades)
		}
		m.blades = append(m.blades, f.ready(m.middle, b.Water, &c))
	}
	return m, nil
}

// Forces are what acts on the boat, ahead, to starboard and turning her to starboard about
// the middle of her waterline, N and Nm.
//
// In:     wind m/s at 10 m and where it comes from off the bow; speeds through the water m/s
func (m *Model) Forces(wind, from, u, v float64, c Control) (x, y, n float64) {
	s, k := math.Sincos(from)
	return m.forces(-wind*k, -wind*s, u, v, &c)
}

// forces is Forces with the wind as a velocity.
func (m *Model) forces(wa, ws, u, v float64, c *Control) (x, y, n float64) {
	y, n = m.hull.force(u, v)
	// Friction lies along the stream: of the resistance at the whole speed she feels ahead the
	// share of her speed ahead (modelling choice; none but friction matters in a drift).
	if speed := math.Sqrt(u*u + v*v); speed > 0 {
		x = -m.more * m.resistance(speed) * u / speed
	}
	for i := range m.sails {
		a, b, t := m.sails[i].force(wa, ws, u, v, m.halfAir, m.shift)
		x, y, n = x+a, y+b, n+t
	}
	for i := range m.blades {
		d := clamp(c.Rudder, -m.blades[i].max, m.blades[i].max)
		a, b, t := m.blades[i].force(u, v, d)
		x, y, n = x+a, y+b, n+t
	}
	if len(m.towed) > 0 {
		speed := math.Sqrt(u*u + v*v)
		for _, d := range m.towed {
			q := m.halfWater * d.DragArea * speed
			x -= q * u
			y -= q * v
			n -= q * v * (m.middle - d.X)
		}
	}
	if c.Thrust != nil {
		t, e := c.Thrust(u), math.Abs(c.Uneven)
		both := t * (1 - (1-m.oars.OneSide)*e)
		less := t / 2 * (1 - e)
		x += both
		n += math.Copysign(m.oars.Arm*(both-2*less), c.Uneven)
	}
	return x, y, n
}
