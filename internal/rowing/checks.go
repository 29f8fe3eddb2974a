package rowing

import (
	"fmt"
	"math"
)

// Kind is one thing that must hold for a set-up to fit.
type Kind string

// What is looked at, in this order.
const (
	LegsReach    Kind = "the stretcher is within reach"
	LegsRoom     Kind = "there is room for the legs"
	CatchAngle   Kind = "the oar goes far enough aft at the catch"
	FinishAngle  Kind = "the oar goes far enough past square at the finish"
	Arc          Kind = "the stroke is long enough"
	HandlesApart Kind = "the handles are apart at the finish"
	Overlap      Kind = "the handles do not overlap too much"
	OverThighs   Kind = "the handle passes over the thighs with the blade out"
	OverKnees    Kind = "the handle is clear of the knees at the catch"
	NotTooHigh   Kind = "the handle is not too high in the drive"
	DriveEdge    Kind = "the oar clears the boat with the blade in"
	ClearEdge    Kind = "the oar clears the boat with the blade out"
	HighSide     Kind = "heeled, the blade of the high side reaches the water"
	LowSide      Kind = "heeled, the blade of the low side can be got out"
	HeeledEdge   Kind = "heeled, the oars clear the boat"
)

// kinds is the order of the checks.
var kinds = [...]Kind{LegsReach, LegsRoom, CatchAngle, FinishAngle, Arc, HandlesApart, Overlap, OverThighs, OverKnees, NotTooHigh, DriveEdge, ClearEdge, HighSide, LowSide, HeeledEdge}

// Check is one thing looked at: how much is left of what is asked, and in which water it is least.
type Check struct {
	Kind   Kind
	Margin float64 // of metres or radians; below nothing it does not fit
	Spread float64 // half width of the 19-in-20 range
	Unit   string  // m or rad
	Water  string  // where it is least; empty where the water has no part
	Edge   string  // the edge struck, if any
	Angle  float64 // of the oar where it is least, aft of square positive; nothing where it has no part
	Asked  bool    // false where there was nothing to look at: no edges given, no heeled water
	Noted  bool    // told, and not counted against the fit: the heeled boat, unless Wants.Heeled
}

// counts tells whether the check has a say in the fit.
func (c Check) counts() bool { return c.Asked && !c.Noted }

// Holds tells whether it fits, sure or not.
func (c Check) Holds() bool { return !c.Asked || c.Margin >= 0 }

// Sure tells whether Holds stays the same over the whole spread.
func (c Check) Sure() bool { return !c.Asked || math.Abs(c.Margin) > c.Spread }

// String says it in words.
func (c Check) String() string {
	if !c.Asked {
		return fmt.Sprintf("%s: nothing to look at", c.Kind)
	}
	margin, spread, unit := 1000*c.Margin, 1000*c.Spread, "mm"
	if c.Unit == "rad" {
		margin, spread, unit = c.Margin/degree, c.Spread/degree, "degrees"
	}
	words := "holds by"
	if margin < 0 {
		words, margin = "misses by", -margin
	}
	s := fmt.Sprintf("%s: %s %.0f ± %.0f %s", c.Kind, words, margin, spread, unit)
	if c.Edge != "" {
		s += ", at the " + c.Edge
	}
	if c.Water != "" {
		s += ", " + c.Water
	}
	return s
}

// level is the heel under which the boat counts as level, radians.
const level = 0.5 * degree

// margins is every check's margin for one set-up; the array's order is that of kinds.
type margins [len(kinds)]Check

// put keeps the worst of a kind.
func (m *margins) put(i int, margin float64, water string, angle float64, edge string) {
	c := &m[i]
	if math.IsInf(margin, 1) || c.Asked && c.Margin <= margin {
		return
	}
	c.Asked, c.Margin, c.Water, c.Angle, c.Edge = true, margin, water, angle, edge
}

// The places of the checks in kinds.
const (
	iReach = iota
	iRoom
	iCatch
	iFinish
	iArc
	iApart
	iOverlap
	iThighs
	iKnees
	iHigh
	iDriveEdge
	iClearEdge
	iHighSide
	iLowSide
	iHeeledEdge
)

// margins works out every check, the worst of all waters.
func (s *Setup) margins(waters []Water) (m margins) {
	for i, k := range kinds {
		m[i] = Check{Kind: k, Unit: "m", Noted: i >= iHighSide && !s.Habits.Wants.Heeled}
	}
	m[iCatch].Unit, m[iFinish].Unit, m[iArc].Unit = "rad", "rad", "rad"
	if !s.Oar.Sweep {
		m.put(iOverlap, s.Habits.Wants.Overlap-(2*s.Oar.Inner()-2*s.Gate.Half), "", 0, "")
	}
	for i := range waters {
		w := &waters[i]
		for _, side := range [2]Side{Port, Starboard} {
			if math.Abs(w.Heel) >= level {
				s.heeled(&m, w, side)
			} else if side == Starboard || math.Abs(w.Heel) > 0 {
				s.upright(&m, w, side)
			}
		}
	}
	return m
}

// upright are the checks with the boat as good as level.
func (s *Setup) upright(m *margins, w *Water, side Side) {
	st, e := s.stroke(*w, side)
	want := s.Habits.Wants
	if s.Seat.Fixed() {
		m.put(iReach, e.longest-e.distance, "", 0, "")
		m.put(iRoom, e.distance-e.shortest, "", 0, "")
	} else {
		// Legs come straight before the seat meets its fore stop, and past its aft stop the feet are too far away.
		m.put(iReach, s.Seat.Aft-e.wantedLegs, "", 0, "")
		m.put(iRoom, math.Min(e.wantedLegs, e.wantedCatch)-s.Seat.Fore, "", 0, "")
	}
	m.put(iCatch, st.CatchAngle-want.Catch, w.Name, st.CatchAngle, "")
	m.put(iFinish, st.FinishAngle-want.Finish, w.Name, -st.FinishAngle, "")
	m.put(iArc, st.Arc()-want.Arc, w.Name, 0, "")
	o := s.line(*w, side)
	if !s.Oar.Sweep {
		end, _ := o.elevation(-st.FinishAngle, o.cover)
		m.put(iApart, 2*o.side*o.at(-st.FinishAngle, end, s.Oar.Inner()).Y-want.Apart, w.Name, -st.FinishAngle, "")
	}
	s.overThighs(m, iThighs, &o, st, s.Habits.Clear)
	knee := st.Catch.Knee
	past := st.Catch.Hand.X - fistHalf - (knee.X + s.Body.KneeHalf)
	over := st.Catch.Hand.Z - fistHalf - (knee.Z + s.Body.KneeHalf)
	wide := st.Catch.Hand.Y - fistHalf - (knee.Y + s.Body.KneeHalf)
	m.put(iKnees, math.Max(past, math.Max(over, wide)), w.Name, st.CatchAngle, "")
	top := math.Max(st.HandCatch, math.Max(st.HandSquare, st.HandFinish))
	m.put(iHigh, s.Body.HipHeight+want.High*s.Body.Trunk-top, w.Name, 0, "")
	s.edges(m, iDriveEdge, iClearEdge, &o, st, s.Habits.Clear)
}

// steps is into how many parts the arc is cut to look for the tightest place. The curves are
// flat there: 24 parts are within 1 mm of 400 (TestSteps).
const steps = 24

// overThighs is the air between fist and thigh on the way from the body to past the knees, the legs as they
// are at the finish: a rower sends the hands away before the knees rise.
func (s *Setup) overThighs(m *margins, i int, o *oarline, st Stroke, air float64) {
	hip, knee := st.Finish.Hip, st.Finish.Knee
	span := math.Max(knee.X-hip.X, 1e-6)
	wide := s.Body.Hips/2 + fistHalf
	for j := range steps + 1 {
		a := -st.FinishAngle + st.Arc()*float64(j)/steps
		h := o.above(a, air)
		if h.X > knee.X+fistHalf {
			return
		}
		if h.Y*o.side > wide {
			continue // beside the legs, not over them
		}
		share := clamp((h.X-hip.X)/span, 0, 1)
		top := hip.Z + share*(knee.Z-hip.Z) + s.Body.ThighHalf + share*(s.Body.KneeHalf-s.Body.ThighHalf)
		m.put(i, h.Z-fistHalf-top-s.Habits.Wants.Thigh, o.water.Name, a, "")
	}
}

// edges is the air between shaft and boat over the whole arc, blade in and so far out of the water.
func (s *Setup) edges(m *margins, in, out int, o *oarline, st Stroke, air float64) {
	if len(s.Edges) == 0 {
		return
	}
	for j := range steps + 1 {
		a := -st.FinishAngle + st.Arc()*float64(j)/steps
		for k, depth := range [2]float64{o.cover, -air * o.steep} {
			e, _ := o.elevation(a, depth)
			if left, i := s.strikes(o, a, e); i >= 0 {
				m.put([2]int{in, out}[k], left-s.Habits.Wants.Edge, o.water.Name, a, s.Edges[i].Name)
			}
		}
	}
}

// heeled are the checks with the boat heeled: the high side's hand goes no higher than the shoulder, and the
// low side's blade comes just out of the water before the hand meets the thigh.
func (s *Setup) heeled(m *margins, w *Water, side Side) {
	plain := *w
	plain.Heel = 0
	st, _ := s.stroke(plain, side) // the body sits in the boat as before; only the oars move
	o := s.line(*w, side)
	if w.Heel*float64(side) < 0 {
		for j := range steps + 1 {
			a := -st.FinishAngle + st.Arc()*float64(j)/steps
			limit := math.Min(st.Catch.Shoulder.Z, st.Finish.Shoulder.Z)
			m.put(iHighSide, limit-o.drive(a).Z, w.Name, a, "")
		}
	} else {
		s.overThighs(m, iLowSide, &o, st, 0)
	}
	s.edges(m, iHeeledEdge, iHeeledEdge, &o, st, 0)
}
