package motion

import "math"

// Leg is what comes of wanting a course: the nearest that she can be kept on, and her speed
// along it.
type Leg struct {
	Course float64 // where the wind comes from off the track that she makes, radians
	Speed  float64 // along that track, m/s
	Bow    float64 // where the wind comes from off the bow, radians
	// Margin is the share of rudder and oars still in hand where the course wanted can be kept;
	// where it cannot, less than nothing: how far off the nearest one is, over half a turn.
	Margin float64
}

// Kept says that the course wanted is the course made.
func (l Leg) Kept() bool { return l.Margin >= 0 }

// The figures of a leg.
const (
	legCourse = iota
	legSpeed
	legBow
	legMargin
	strides
)

// layLegs works out, at every point of the table, what comes of wanting each of its angles
// as a course.
func (t *Table) layLegs() {
	na := len(t.angles)
	rows := len(t.loads) * len(t.winds)
	for f := range t.legs {
		t.legs[f] = make([]float64, rows*na)
	}
	for r := range rows {
		load, wind := t.loads[r/len(t.winds)], t.winds[r%len(t.winds)]
		for k, want := range t.angles {
			l := t.leg(wind, want, load)
			i := r*na + k
			t.legs[legCourse][i], t.legs[legSpeed][i] = l.Course, l.Speed
			t.legs[legBow][i], t.legs[legMargin][i] = l.Bow, l.Margin
		}
	}
}

// leg looks for a course by way of every heading.
func (t *Table) leg(wind, want, load float64) Leg {
	if off, c, err := t.Keep(wind, want, load); err == nil {
		return Leg{want, c.Speed(), off, c.Margin}
	}
	best := Leg{Margin: -2}
	consider := func(l Leg) {
		l.Margin = -math.Abs(l.Course-want) / math.Pi
		if l.Margin > best.Margin {
			best = l
		}
	}
	const parts = 4
	for i := 0; i <= (len(t.angles)-1)*parts; i++ {
		g := min(i/parts, len(t.angles)-2)
		at := t.angles[0]
		if len(t.angles) > 1 {
			at = t.angles[g] + (t.angles[g+1]-t.angles[g])*float64(i-g*parts)/parts
		}
		if c := t.Row(wind, at, load); c.Held() {
			consider(Leg{Course: math.Abs(math.Remainder(at-c.Leeway(), 2*math.Pi)), Speed: c.Speed(), Bow: at})
		}
	}
	if best.Margin < -1 { // on no course at all: she drifts
		d := t.Drift(wind, load)
		consider(Leg{Course: math.Pi - math.Abs(math.Atan2(d.Across, d.Down)), Speed: math.Hypot(d.Down, d.Across), Bow: d.From})
	}
	return best
}

// Leg is how she goes when a course is wanted, in one look at the table: the quick form of
// Keep, for simulating many passages.
//
// In:     wind m/s; course wanted, where the wind comes from off it, radians either side; load kg.
// Past the table's ends, that at the end
// Out:    for a wind on the port side the mirror image
// Good to: Keep at the table's points; between them as fine as its steps
func (t *Table) Leg(wind, course, load float64) Leg {
	a := math.Remainder(course, 2*math.Pi)
	w, k, l := t.winds.find(wind), t.angles.find(math.Abs(a)), t.loads.find(load)
	var out [strides]float64
	for f := range out {
		out[f] = t.blend3(t.legs[f], &l, &w, &k)
	}
	g := Leg{out[legCourse], out[legSpeed], out[legBow], out[legMargin]}
	if a < 0 {
		g.Course, g.Bow = -g.Course, -g.Bow
	}
	return g
}
