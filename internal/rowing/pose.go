package rowing

import (
	"fmt"
	"math"
)

// Pose is where the joints are, on the rower's starboard half (the left side of somebody
// who faces aft), in the boat's frame.
type Pose struct {
	Heel, Toe, Ankle, Knee, Hip Point
	Shoulder, Elbow, Hand       Point
	Crown                       Point
	KneeAngle                   float64 // radians, straight is half a turn
	Trunk                       float64 // from upright, towards the stern positive
}

// Stop says what ended the seat's or the oar's movement.
type Stop string

// What may end it.
const (
	ByHabit  Stop = "the posture kept for hours"
	ByFore   Stop = "the fore end of the slide"
	ByAft    Stop = "the aft end of the slide"
	ByKnees  Stop = "the knees"
	ByGate   Stop = "the oar's most angle"
	ByNobody Stop = "out of reach"
)

// Stroke is one stroke of one oar in one water.
type Stroke struct {
	Catch, Finish Pose
	// CatchAngle and FinishAngle are the oar's, from square to the boat, both positive in a good stroke.
	CatchAngle, FinishAngle float64
	// Heights of the hands over the seat: with the blade buried at the catch, with the oar square to the boat, and at the
	// finish; and with the blade clear of the water at the finish.
	HandCatch, HandSquare, HandFinish, HandClear float64
	// Slide is how far the seat moves. SlideEnd and OarEnd say what ended it at the catch.
	Slide            float64
	SlideEnd, OarEnd Stop
	// Run is the handle's way along its arc, the length of the stroke.
	Run float64
}

// Arc is the angle the oar sweeps.
func (s Stroke) Arc() float64 { return s.CatchAngle + s.FinishAngle }

// Path is the hand's way from finish to catch, in so many steps: with the blade buried, and clear of the water.
//
// In:     steps, 1 to 10000
// Error:  ErrInput
func (s Setup) Path(w Water, side Side, steps int) (drive, recovery []Point, err error) {
	stroke, err := s.Stroke(w, side)
	if err != nil {
		return nil, nil, err
	}
	if err := within("the number of steps", float64(steps), 1, 10000, ""); err != nil {
		return nil, nil, err
	}
	o := s.line(w, side)
	for i := range steps + 1 {
		a := -stroke.FinishAngle + stroke.Arc()*float64(i)/float64(steps)
		drive, recovery = append(drive, o.drive(a)), append(recovery, o.above(a, s.Habits.Clear))
	}
	return drive, recovery, nil
}

// Stroke works out where body and oar are at the catch and at the finish.
//
// In:     a water; the side whose oar it is
// Out:    always a pose, with limbs drawn out straight where they do not reach: Fit says so
// Error:  ErrInput
// Good to: angles 1e-6 rad for the chain of segments; what a person does differs by
// 10 degrees in an end of the stroke (Fit carries the spread)
func (s Setup) Stroke(w Water, side Side) (Stroke, error) {
	if err := s.valid([]Water{w}); err != nil {
		return Stroke{}, err
	}
	if side != Port && side != Starboard {
		return Stroke{}, fmt.Errorf("%w: the side is %d; give Port or Starboard", ErrInput, side)
	}
	out, _ := s.stroke(w, side)
	return out, nil
}

// ends is what the legs want and what the slide gives.
type ends struct {
	catch, finish           float64 // places of the hip
	wantedCatch, wantedLegs float64 // where the posture alone would put it
	shortest, longest       float64 // leg's stretch at the limits of the knee
	distance                float64 // fixed seat: hip to ankle
	stop                    Stop
}

// stroke is Stroke after the checks, with what the legs wanted.
func (s *Setup) stroke(w Water, side Side) (Stroke, ends) {
	o := s.line(w, side)
	heel, ankle, toe := s.feet()
	e := s.legs(ankle)
	h, b := s.Habits, s.Body
	out := Stroke{Slide: e.catch - e.finish, SlideEnd: e.stop}
	out.Catch = s.lower(heel, ankle, toe, e.catch)
	out.Finish = s.lower(heel, ankle, toe, e.finish)
	s.lean(&out.Catch, h.TrunkFore, h.Shoulder*b.Stature)
	s.lean(&out.Finish, -h.TrunkAft, 0)

	alpha := s.finish(&o, out.Finish)
	out.FinishAngle = -alpha
	catch, end := s.catch(&o, out.Catch)
	out.CatchAngle, out.OarEnd = catch, end
	s.arm(&out.Catch, o.drive(catch), side)
	s.arm(&out.Finish, o.drive(alpha), side)
	out.HandCatch, out.HandFinish = out.Catch.Hand.Z-s.Seat.Height, out.Finish.Hand.Z-s.Seat.Height
	out.HandSquare = o.drive(0).Z - s.Seat.Height
	out.HandClear = o.above(alpha, h.Clear).Z - s.Seat.Height
	out.Run = o.hand * math.Max(0, out.Arc())
	return out, e
}

// feet are heel, ankle and toe on the board.
func (s *Setup) feet() (heel, ankle, toe Point) {
	sin, cos := math.Sincos(s.Stretcher.Angle)
	along, off := Point{X: cos, Z: sin}, Point{X: -sin, Z: cos}
	heel = Point{s.Stretcher.X, s.Stretcher.apart() / 2, s.Stretcher.Z}
	ankle = heel.plus(along.times(ankleAlong * s.Body.Foot)).plus(off.times(s.Body.Ankle))
	return heel, ankle, heel.plus(along.times(s.Body.Foot))
}

// legs finds the hip's places at both ends of the stroke.
func (s *Setup) legs(ankle Point) ends {
	b, h := s.Body, s.Habits
	e := ends{shortest: b.leg(h.KneeLeast), longest: b.leg(h.KneeMost), stop: ByHabit}
	up := s.Seat.Height + b.HipHeight - ankle.Z
	e.wantedLegs = ankle.X - math.Sqrt(math.Max(0, e.longest*e.longest-up*up))
	if s.Seat.Fixed() {
		e.catch, e.finish = s.Seat.Fore, s.Seat.Fore
		e.distance = math.Hypot(ankle.X-s.Seat.Fore, up)
		e.wantedCatch = s.Seat.Fore
		return e
	}
	e.finish = clamp(e.wantedLegs, s.Seat.Fore, s.Seat.Aft)
	// The shin leans to its angle and the thigh comes down from the knee to the hip; no further than the knee closes.
	sin, cos := math.Sincos(h.Shin)
	drop := b.Shank*sin - up
	e.wantedCatch = ankle.X + b.Shank*cos - math.Sqrt(math.Max(0, b.Thigh*b.Thigh-drop*drop))
	if closed := ankle.X - math.Sqrt(math.Max(0, e.shortest*e.shortest-up*up)); closed < e.wantedCatch {
		e.wantedCatch, e.stop = closed, ByKnees
	}
	e.catch = e.wantedCatch
	switch {
	case e.catch > s.Seat.Aft:
		e.catch, e.stop = s.Seat.Aft, ByAft
	case e.catch < s.Seat.Fore:
		e.catch, e.stop = s.Seat.Fore, ByFore
	}
	return e
}

// lower is the pose of the legs with the hip at a place. The knee stands up; where the
// ankle is out of reach the leg points at it, straight.
func (s *Setup) lower(heel, ankle, toe Point, hip float64) Pose {
	b := s.Body
	p := Pose{Heel: heel, Ankle: ankle, Toe: toe, Hip: Point{hip, b.Hips / 4, s.Seat.Height + b.HipHeight}}
	dx, dz := ankle.X-hip, ankle.Z-p.Hip.Z
	d := math.Hypot(dx, dz)
	reach := clamp(d, math.Abs(b.Thigh-b.Shank), b.Thigh+b.Shank)
	p.KneeAngle = b.knee(reach)
	along := (b.Thigh*b.Thigh - b.Shank*b.Shank + reach*reach) / (2 * math.Max(reach, 1e-9))
	off := math.Sqrt(math.Max(0, b.Thigh*b.Thigh-along*along))
	ux, uz := 1.0, 0.0
	if d > 0 {
		ux, uz = dx/d, dz/d
	}
	p.Knee = Point{hip + along*ux - off*uz, (p.Hip.Y + ankle.Y) / 2, p.Hip.Z + along*uz + off*ux}
	return p
}

// lean sets the trunk, its lean and how far the shoulder gives towards the stern.
func (s *Setup) lean(p *Pose, trunk, give float64) {
	sin, cos := math.Sincos(trunk)
	p.Trunk = trunk
	p.Shoulder = Point{p.Hip.X + s.Body.Trunk*sin + give, s.Body.Shoulders / 2, p.Hip.Z + s.Body.Trunk*cos}
	p.Crown = Point{p.Hip.X + s.Body.Trunk*sin + s.Body.Head*sin/2, 0, p.Shoulder.Z + s.Body.Head*math.Cos(trunk/2)}
}

// shoulder is the one that reaches furthest: over a scull the one of its own side, over a
// sweep oar the other, whose hand holds the handle's end. Twisting of the trunk is left out.
func (s *Setup) shoulder(p Pose, o *oarline) Point {
	side := o.side
	if s.Oar.Sweep {
		side = -side
	}
	return Point{p.Shoulder.X, side * p.Shoulder.Y, p.Shoulder.Z}
}

// catch is the largest angle at which the straight arm still reaches the handle.
func (s *Setup) catch(o *oarline, p Pose) (float64, Stop) {
	shoulder, reach := s.shoulder(p, o), s.Body.Reach()
	holds := func(a float64) bool { return o.drive(a).minus(shoulder).length() <= reach }
	most := s.Habits.SweepMost
	if holds(most) {
		return most, ByGate
	}
	const step = 6 * degree
	for a := most - step; a > -most; a -= step {
		if holds(a) {
			return falling(a, a+step, holds), ByHabit
		}
	}
	return -most, ByNobody
}

// finish is the angle at which the hand comes to the body; negative is past square.
func (s *Setup) finish(o *oarline, p Pose) float64 {
	tan, cos := math.Tan(p.Trunk), math.Cos(p.Trunk)
	front := s.Body.TrunkHalf/cos + fistHalf + s.Habits.Gap
	clear := func(a float64) bool {
		h := o.drive(-a)
		return h.X >= p.Hip.X+(h.Z-p.Hip.Z)*tan+front
	}
	most := s.Habits.SweepMost
	if !clear(-most) {
		return most
	}
	if clear(most) {
		return -most
	}
	return -falling(-most, most, clear)
}

// arm bends the elbow down and out between shoulder and hand, on the starboard half.
func (s *Setup) arm(p *Pose, at Point, side Side) {
	p.Hand = at.mirrored(side)
	b := s.Body
	line := p.Hand.minus(p.Shoulder)
	d := math.Max(line.length(), 1e-9)
	u := line.times(1 / d)
	reach := clamp(d, math.Abs(b.UpperArm-b.Forearm), b.Reach())
	along := (b.UpperArm*b.UpperArm - b.Forearm*b.Forearm + reach*reach) / (2 * reach)
	off := math.Sqrt(math.Max(0, b.UpperArm*b.UpperArm-along*along))
	pole := Point{-0.3, 0.5, -0.8} // towards the bow, outward, down
	pole = pole.minus(u.times(pole.dot(u)))
	if l := pole.length(); l > 0 {
		pole = pole.times(1 / l)
	}
	p.Elbow = p.Shoulder.plus(u.times(along)).plus(pole.times(off))
}
