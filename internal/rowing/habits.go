package rowing

import (
	"cmp"
	"math"
)

// Habits is how a person rows: the posture at the ends of the stroke, what the blade does,
// and what is asked of a set-up that fits. Angles in radians, lengths in metres.
type Habits struct {
	TrunkFore float64 // swing of the trunk towards the stern at the catch, from upright
	TrunkAft  float64 // lean towards the bow at the finish, from upright
	Shoulder  float64 // how far the shoulder blades let the shoulders come at the catch, share of stature
	Shin      float64 // sliding seat: the shin at the catch, from the horizontal; a right angle is upright
	KneeLeast float64 // smallest angle of the knee
	KneeMost  float64 // largest
	SweepMost float64 // most angle of the oar at the catch
	Cover     float64 // water over the blade's upper edge in the drive
	Clear     float64 // air under the feathered blade on the recovery, boat level
	Gap       float64 // from the hand to the body at the finish
	Wants     Wants
}

// Wants is what a set-up must do to fit. All are modelling choices after common practice
// (no source), and all may be changed.
type Wants struct {
	Catch, Finish, Arc float64 // least angles of the oar: catch, finish, and both together
	Apart              float64 // between the handles' ends at the finish: a fist
	Overlap            float64 // most overlap of the handles
	Thigh              float64 // air between fist and thigh
	Edge               float64 // air between shaft and boat
	High               float64 // highest handle in the drive, as a share of the trunk from hip to shoulder
	Heeled             bool    // what is looked at heeled counts too; left out it is told and not counted, since a rower eases one oar
}

// Sliding is how a sliding seat is rowed for hours.
//
// Source: trunk's swing 50 degrees between catch and finish: 44 to 52 on sliding seats (Agius et al., "The
// Kinematics of Fixed-Seat Rowing", Bioengineering 10 (2023) 774); shin 91.6 degrees, standard deviation 6.7
// (Kleshnev, "Analysis of Angles of Body Segments", 2024: 60 medallists); knee 50 to 172 degrees and the
// rest modelling choices, gentler than racing.
func Sliding() Habits {
	return Habits{TrunkFore: 30 * degree, TrunkAft: 20 * degree, Shoulder: 0.02, Shin: 91.6 * degree,
		KneeLeast: 50 * degree, KneeMost: 172 * degree, SweepMost: 70 * degree, Cover: 0.02, Clear: 0.10, Gap: 0.03,
		Wants: Wants{Catch: 40 * degree, Finish: 20 * degree, Arc: 70 * degree, Apart: 0.09, Overlap: 0.20, Thigh: 0.02, High: 0.65}}
}

// FixedSeat is how a fixed seat is rowed for hours: more swing, legs that stay as they are.
//
// Source: 75 to 77 degrees of swing were measured on practised fixed-seat racers (Agius et al. 2023); 60 is
// taken here for a whole day. Knees between 100 and 165 degrees: common practice, no source.
func FixedSeat() Habits {
	h := Sliding()
	h.TrunkFore, h.TrunkAft = 35*degree, 25*degree
	h.KneeLeast, h.KneeMost = 100*degree, 165*degree
	h.Wants.Catch, h.Wants.Finish, h.Wants.Arc = 30*degree, 15*degree, 50*degree
	return h
}

// valid checks habits.
func (h Habits) valid() error {
	const right = math.Pi / 2
	w := h.Wants
	return cmp.Or(within("the trunk's swing at the catch", h.TrunkFore, -0.5, 1.4, "rad"), within("the trunk's lean at the finish", h.TrunkAft, -0.5, 1.2, "rad"),
		within("the shoulders' give", h.Shoulder, 0, 0.1, "of stature"), within("the shin's angle at the catch", h.Shin, 0.8, 2.4, "rad"),
		within("the smallest angle of the knee", h.KneeLeast, 0.3, 3, "rad"), within("the largest angle of the knee", h.KneeMost, h.KneeLeast, math.Pi, "rad"),
		within("the oar's most angle", h.SweepMost, 0.2, right-0.05, "rad"), within("the water over the blade", h.Cover, -0.3, 1, "m"),
		within("the air under the blade", h.Clear, 0, 1, "m"), within("the gap at the finish", h.Gap, 0, 0.5, "m"),
		within("the catch asked", w.Catch, 0, right, "rad"), within("the finish asked", w.Finish, 0, right, "rad"), within("the arc asked", w.Arc, 0, 2*right, "rad"),
		within("the distance asked between the handles", w.Apart, -1, 1, "m"), within("the overlap allowed", w.Overlap, -1, 2, "m"),
		within("the air asked over the thighs", w.Thigh, -0.2, 0.5, "m"), within("the air asked over the edges", w.Edge, -0.2, 0.5, "m"),
		within("the highest handle", w.High, 0.1, 2, "of the trunk"))
}
