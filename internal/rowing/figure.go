package rowing

import "math"

// Trait says what a line of a figure is.
type Trait string

// What lines there are.
const (
	Limb     Trait = "limb"  // a segment of the body
	HeadLine Trait = "head"  // closed
	OarShaft Trait = "shaft" // handle's end to where the blade begins
	OarBlade Trait = "blade" // closed
	BoatPart Trait = "boat"  // an edge, the seat, the stretcher
	PinMark  Trait = "pin"   // the gate, closed
	Surface  Trait = "water" // the water's surface
	HandPath Trait = "path"  // the hand's way
)

// Line is one polyline of a figure, metres.
type Line struct {
	Trait  Trait
	Name   string
	Points [][2]float64
	Closed bool
}

// Phase is an end of the stroke.
type Phase int

// The two ends.
const (
	AtCatch Phase = iota
	AtFinish
)

// FromSide is the rower from the starboard side: across the boat's length x, up z. With the bow at the left she is
// seen from starboard; the rower looks to the right, towards the stern.
//
// In:     water and phase
// Out:    lines to scale in metres, back to front: water, boat, legs, trunk, head, arms, oar, the hand's path in the drive and on the
// recovery. The shaft and the blade are foreshortened as seen
// Error:  ErrInput
func (s Setup) FromSide(w Water, phase Phase) ([]Line, error) {
	return s.figure(w, phase, func(p Point) [2]float64 { return [2]float64{p.X, p.Z} }, false)
}

// FromAbove is the same from above: across the boat's length x, up y to starboard.
//
// In, Out, Error: as FromSide; both oars of a sculler
func (s Setup) FromAbove(w Water, phase Phase) ([]Line, error) {
	return s.figure(w, phase, func(p Point) [2]float64 { return [2]float64{p.X, p.Y} }, true)
}

// figure draws a pose through a projection.
func (s Setup) figure(w Water, phase Phase, seen func(Point) [2]float64, above bool) ([]Line, error) {
	st, err := s.Stroke(w, Starboard)
	if err != nil {
		return nil, err
	}
	var out []Line
	draw := func(t Trait, name string, closed bool, points ...Point) {
		l := Line{Trait: t, Name: name, Closed: closed}
		for _, p := range points {
			l.Points = append(l.Points, seen(p))
		}
		out = append(out, l)
	}
	sides := []Side{Starboard}
	if above {
		sides = []Side{Starboard, Port}
	}
	p, angle := st.Catch, st.CatchAngle
	if phase == AtFinish {
		p, angle = st.Finish, -st.FinishAngle
	}
	reach := s.Oar.BladeArm() + s.Oar.Blade
	if !above {
		from, to := math.Min(s.Gate.X-reach, s.Seat.Fore-1), math.Max(s.Gate.X+reach, p.Toe.X+0.3)
		y := s.Gate.Half
		draw(Surface, "water", false, Point{from, y, w.height(from, y)}, Point{to, y, w.height(to, y)})
	}
	for _, e := range s.Edges {
		for _, side := range sides {
			var points []Point
			for _, q := range e.Points {
				points = append(points, q.mirrored(side))
			}
			draw(BoatPart, e.Name, false, points...)
		}
	}
	s.furniture(draw, p, sides)
	for _, side := range sides {
		draw(Limb, "leg", false, p.Toe.mirrored(side), p.Heel.mirrored(side), p.Ankle.mirrored(side), p.Knee.mirrored(side), p.Hip.mirrored(side))
	}
	base := Point{p.Hip.X, 0, p.Hip.Z}
	neck := Point{p.Shoulder.X, 0, p.Shoulder.Z}
	draw(Limb, "trunk", false, base, neck)
	draw(Limb, "shoulders", false, p.Shoulder.mirrored(Port), p.Shoulder)
	s.head(draw, p, neck, above)
	for _, side := range sides {
		arm := side
		if s.Oar.Sweep && side == Port {
			continue // one oar, one gate: the other hand lies beside the first
		}
		if s.Oar.Sweep {
			arm = Port
		}
		draw(Limb, "arm", false, p.Shoulder.mirrored(arm), p.Elbow.mirrored(arm), p.Hand.mirrored(side))
		s.oar(draw, w, side, angle)
		o := s.line(w, side)
		var in, clear []Point
		for i := range steps + 1 {
			a := -st.FinishAngle + st.Arc()*float64(i)/steps
			in, clear = append(in, o.drive(a)), append(clear, o.above(a, s.Habits.Clear))
		}
		draw(HandPath, "hand, blade in", false, in...)
		draw(HandPath, "hand, blade out", false, clear...)
	}
	return out, nil
}

// pen adds a line to a figure.
type pen func(t Trait, name string, closed bool, points ...Point)

// furniture draws seat and stretcher.
func (s *Setup) furniture(draw pen, p Pose, sides []Side) {
	half, z := s.Seat.length()/2, s.Seat.Height
	wide := s.Body.Hips / 2
	draw(BoatPart, "seat", true, Point{p.Hip.X - half, wide, z}, Point{p.Hip.X + half, wide, z}, Point{p.Hip.X + half, -wide, z}, Point{p.Hip.X - half, -wide, z})
	if !s.Seat.Fixed() {
		draw(BoatPart, "slide", false, Point{s.Seat.Fore - half, wide, z - 0.05}, Point{s.Seat.Aft + half, wide, z - 0.05})
	}
	for _, side := range sides {
		draw(BoatPart, "stretcher", false, p.Heel.mirrored(side), p.Heel.plus(p.Toe.minus(p.Heel).times(1.1)).mirrored(side))
	}
}

// head draws the head as a round.
func (s *Setup) head(draw pen, p Pose, neck Point, above bool) {
	const n = 24
	r := s.Body.Head / 3
	axis := p.Crown.minus(neck)
	middle := p.Crown.minus(axis.times(r / math.Max(axis.length(), 1e-9)))
	if !above {
		draw(Limb, "neck", false, neck, middle.minus(axis.times(r/math.Max(axis.length(), 1e-9))))
	}
	var ring []Point
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		if above {
			ring = append(ring, middle.plus(Point{X: r * cos, Y: r * sin}))
		} else {
			ring = append(ring, middle.plus(Point{X: r * cos, Z: r * sin}))
		}
	}
	draw(HeadLine, "head", true, ring...)
}

// oar draws shaft, blade and pin.
func (s *Setup) oar(draw pen, w Water, side Side, angle float64) {
	o := s.line(w, side)
	e, _ := o.elevation(angle, o.cover)
	tip := -(s.Oar.Length - s.Oar.Inner())
	root, end := o.at(angle, e, tip+s.Oar.Blade), o.at(angle, e, tip)
	draw(OarShaft, "oar", false, o.at(angle, e, s.Oar.Inner()), root)
	up := Point{Z: s.Oar.Width / 2}
	draw(OarBlade, "blade", true, root.plus(up), end.plus(up), end.minus(up), root.minus(up))
	const pin = 0.03
	g := o.gate
	draw(PinMark, "gate", true, Point{g.X - pin, g.Y - pin, g.Z - pin}, Point{g.X + pin, g.Y - pin, g.Z - pin}, Point{g.X + pin, g.Y + pin, g.Z + pin}, Point{g.X - pin, g.Y + pin, g.Z + pin})
}
