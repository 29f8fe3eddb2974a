package rowing

import (
	"cmp"
	"fmt"
	"math"
)

// Seat is where the rower sits. Places are those of the seat's middle, on which the hip
// joint is taken to stand; Fore equal to Aft is a fixed seat.
type Seat struct {
	Fore, Aft float64 // x, metres
	Height    float64 // z of its top
	Length    float64 // fore and aft; 0 means 0.24 m
}

// Fixed tells whether the seat does not slide.
func (s Seat) Fixed() bool { return s.Aft == s.Fore }

// length is the seat's length, or the usual one.
func (s Seat) length() float64 {
	if s.Length == 0 {
		return 0.24
	}
	return s.Length
}

// Stretcher is a place of the footboard: one hole of several.
type Stretcher struct {
	Name  string
	X, Z  float64 // of the heel's bottom
	Angle float64 // of the board above the horizontal, radians
	Apart float64 // between the middles of the feet; 0 means 0.30 m
}

// apart is the distance between the feet, or the usual one.
func (s Stretcher) apart() float64 {
	if s.Apart == 0 {
		return 0.30
	}
	return s.Apart
}

// Gate is a place of a pair of gates: the point at which the oar's axis passes the pin. It
// may stand inboard or outside of the gunwale.
type Gate struct {
	Name string
	X    float64 // aft of station 0
	Half float64 // half the span between the pins
	Z    float64 // of the oar's axis
}

// Oar is one oar of a pair, or of a sweep crew.
type Oar struct {
	Length  float64 // handle's end to blade's tip
	Inboard float64 // handle's end to the face of the button
	Blade   float64 // length of the blade
	Width   float64 // height of the blade
	Swivel  float64 // width of the swivel along the oar; 0 for a thole or rowlock, where Inboard is to the pin
	Grip    float64 // handle's end to the middle of the hand; 0 means 0.06 m
	Radius  float64 // of the shaft at the gate; 0 means 0.025 m
	Sweep   bool    // both hands on the one oar
}

// grip is where the hand is, or the usual place.
func (o Oar) grip() float64 {
	if o.Grip == 0 {
		return 0.06
	}
	return o.Grip
}

// radius is the shaft's, or the usual one.
func (o Oar) radius() float64 {
	if o.Radius == 0 {
		return 0.025
	}
	return o.Radius
}

// Inner is the handle's end to the pin, metres.
func (o Oar) Inner() float64 { return o.Inboard + o.Swivel/2 }

// HandArm is the pin to the middle of the hand, metres.
func (o Oar) HandArm() float64 { return o.Inner() - o.grip() }

// BladeArm is the pin to the blade's middle, metres.
func (o Oar) BladeArm() float64 { return o.Length - o.Inner() - o.Blade/2 }

// Edge is something of the boat that an oar may strike: gunwale, wash strake, coaming, a
// cabin's side. Its points run along the boat; y is the half-breadth, and the same is to port.
type Edge struct {
	Name   string
	Points []Point
}

// Water is how she floats: the water's surface in the boat's frame. Heeled, give the level
// that the boat heeled floats at.
type Water struct {
	Name       string
	Level      float64 // z of the surface on the centre plane at x = At
	At         float64
	Heel, Trim float64
}

// height is the surface over a point of the boat's frame.
func (w Water) height(x, y float64) float64 {
	return w.Level + (x-w.At)*math.Tan(w.Trim) + y*math.Tan(w.Heel)
}

// steep is the length of the surface's upward normal with z part 1: a depth so many times
// measures along z.
func (w Water) steep() float64 {
	return math.Hypot(math.Hypot(1, math.Tan(w.Trim)), math.Tan(w.Heel))
}

// Setup is one person at one seat, hole, gate and oar.
type Setup struct {
	Body      Body
	Seat      Seat
	Stretcher Stretcher
	Gate      Gate
	Oar       Oar
	Edges     []Edge
	Habits    Habits
}

// valid checks a set-up and the waters it is tried in.
func (s Setup) valid(waters []Water) error {
	err := cmp.Or(s.Body.valid(), s.Habits.valid(),
		within("the seat's foremost place", s.Seat.Fore, -5, 100, "m"), within("the seat's travel", s.Seat.Aft-s.Seat.Fore, 0, 2, "m"),
		within("the seat's height", s.Seat.Height, -5, 20, "m"), within("the seat's length", s.Seat.Length, 0, 1, "m"),
		within("the stretcher's place", s.Stretcher.X, -5, 100, "m"), within("the heel's height", s.Stretcher.Z, -5, 20, "m"),
		within("the stretcher's angle", s.Stretcher.Angle, 0, math.Pi/2, "rad"), within("the distance between the feet", s.Stretcher.Apart, 0, 1, "m"),
		within("the gate's place", s.Gate.X, -5, 100, "m"), within("the gate's half span", s.Gate.Half, 0.1, 5, "m"),
		within("the gate's height", s.Gate.Z, -5, 20, "m"), s.Oar.valid())
	if err != nil {
		return err
	}
	if len(waters) == 0 {
		return fmt.Errorf("%w: no water given; give at least one, the boat level at her day's draft", ErrInput)
	}
	for _, w := range waters {
		at := "water " + fmt.Sprintf("%q", w.Name) + ": the "
		if err := cmp.Or(within(at+"level", w.Level, -10, 20, "m"), within(at+"place of the level", w.At, -10, 100, "m"),
			within(at+"heel", w.Heel, -1, 1, "rad"), within(at+"trim", w.Trim, -0.5, 0.5, "rad")); err != nil {
			return err
		}
	}
	for _, e := range s.Edges {
		for i, p := range e.Points {
			if math.IsNaN(p.X+p.Y+p.Z) || math.IsInf(p.X+p.Y+p.Z, 0) {
				return fmt.Errorf("%w: edge %q, point %d is %v; give finite numbers", ErrInput, e.Name, i+1, p)
			}
		}
	}
	return nil
}

// valid checks an oar.
func (o Oar) valid() error {
	return cmp.Or(within("the oar's length", o.Length, 0.5, 8, "m"), within("the inboard", o.Inboard, 0.1, o.Length-0.1, "m"),
		within("the blade's length", o.Blade, 0.01, 2, "m"), within("the blade's width", o.Width, 0.01, 1, "m"),
		within("the swivel's width", o.Swivel, 0, 0.2, "m"), within("the shaft's radius", o.Radius, 0, 0.1, "m"),
		within("the distance from the pin to the hand", o.HandArm(), 0.05, 4, "m"),
		within("the distance from the pin to the middle of the blade", o.BladeArm(), 0.05, 7, "m"))
}
