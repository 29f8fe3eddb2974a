package underway

import (
	"fmt"
	"math"

	"thole/internal/model"
	"thole/internal/rowing"
	"thole/internal/units"
)

// What is taken where the folder does not say.
const (
	usualBoard       = 42 * math.Pi / 180 // of a stretcher: published rigging notes, 39 to 45
	usualBladeLength = 0.50               // modelling choice
	usualBladeWidth  = 0.165              // modelling choice
	shaft            = 0.025              // from the oar's rest to its axis: half the loom's thickness. Modelling choice
	heelAsked        = 10 * math.Pi / 180 // told, not counted
	// crotch is the inside leg of a body of published proportions over its stature. Source: the army survey of rowing.OfStature, crotch
	// height, from memory.
	crotch = 0.48
	// near is how far fore and aft of the gates an edge is looked at, m: as far as an oar's outboard reaches.
	near = 2.2
	// even is how near two settings' least room must lie to be alike, m.
	even = 1e-4
)

// Seat is one of the crew at one rowing place, with all its settings.
type Seat struct {
	Person, Place int
	Body          rowing.Body
	Gates, Holes  []float64 // shifts of gates and stretcher, aft positive
	base          rowing.Setup
}

// Lacks is what a rowing place or a person is without, so that no fit can be told.
type Lacks struct{ File, Key, Why string }

// seats are all of the crew at the places that they row from in any condition.
func (w *Way) seats() (out []Seat, lacks []Lacks) {
	f := w.Trip.Folder
	if len(f.Boat.Rowing) == 0 {
		return nil, []Lacks{{"boat.yaml", "rowing", "where the rower sits and braces the feet, and where the oars work: - {name: rowing well, seat: [2.84 m, 0 m, 0.60 m], travel: 480 mm, stretcher: {at: [3.65 m, 0 m, 0.44 m], angle: 42 deg}, gates: {at: [3.30 m, 0.88 m, 0.80 m]}, oars: {length: 3.10 m, inboard: 0.92 m}}"}}
	}
	for i := range f.Boat.Rowing {
		lacks = append(lacks, lacking(&f.Boat.Rowing[i], i)...)
	}
	if f.Voyage == nil || len(f.Voyage.Crew) == 0 {
		return nil, append(lacks, Lacks{"voyage.yaml", "crew", "who rows: a line for each, with mass, places and stature"})
	}
	for i, p := range f.Voyage.Crew {
		if p.Stature == 0 {
			lacks = append(lacks, Lacks{"voyage.yaml", fmt.Sprintf("crew[%d].stature", i), "how tall " + p.Name + " is: the arms, the legs and the trunk follow from it; the inside leg makes it surer"})
		}
	}
	if len(lacks) > 0 {
		return nil, lacks
	}
	for _, at := range w.sits() {
		s, err := w.seat(at[0], at[1])
		if err != nil {
			lacks = append(lacks, Lacks{"voyage.yaml", fmt.Sprintf("crew[%d].stature", at[0]), err.Error()})
			continue
		}
		out = append(out, s)
	}
	return out, lacks
}

// lacking is what a rowing place is without.
func lacking(r *model.RowingPlace, i int) (out []Lacks) {
	put := func(key, why string) {
		out = append(out, Lacks{"boat.yaml", fmt.Sprintf("rowing[%d].%s", i, key), why})
	}
	if r.Stretcher == nil {
		put("stretcher", "where the heels stand: {at: [3.65 m, 0 m, 0.44 m], angle: 42 deg}")
	}
	if r.Gates == nil {
		put("gates", "where the oars work: {at: [3.30 m, 0.88 m, 0.80 m]}")
	}
	if r.Oars == nil {
		put("oars", "how long they are: {length: 3.10 m, inboard: 0.92 m, blade: [500 mm, 165 mm]}")
	}
	return out
}

// sits are the pairs of person and rowing place of all conditions; where nobody's place lies at a seat, each in turn.
func (w *Way) sits() (out [][2]int) {
	seen := map[[2]int]bool{}
	for _, c := range w.Trip.Conditions {
		for person, place := range AtOars(w.Trip.Folder, c) {
			if at := [2]int{person, place}; place >= 0 && !seen[at] {
				seen[at] = true
				out = append(out, at)
			}
		}
	}
	if len(out) == 0 {
		for i := range w.Trip.Folder.Voyage.Crew {
			out = append(out, [2]int{i, i % len(w.Trip.Folder.Boat.Rowing)})
		}
	}
	return out
}

// seat is one person at one place.
func (w *Way) seat(person, place int) (Seat, error) {
	p := &w.Trip.Folder.Voyage.Crew[person]
	body, err := rowing.OfStature(p.Name, float64(p.Stature))
	if err != nil {
		return Seat{}, err
	}
	return w.Seat(person, place, legs(body, float64(p.InsideLeg))), nil
}

// legs is a body with its legs to a measured inside leg, the trunk taking up the difference.
func legs(b rowing.Body, inside float64) rowing.Body {
	if inside <= 0 {
		return b
	}
	k := inside / (crotch * b.Stature)
	b.Trunk += (1 - k) * (b.Shank + b.Thigh)
	b.Shank *= k
	b.Thigh *= k
	return b
}

// Seat is a body at a rowing place that has stretcher, gates and oars.
func (w *Way) Seat(person, place int, body rowing.Body) Seat {
	r := &w.Trip.Folder.Boat.Rowing[place]
	s := Seat{Person: person, Place: place, Body: body, Gates: r.Gates.Places, Holes: r.Stretcher.Places}
	if len(s.Gates) == 0 {
		s.Gates = []float64{0}
	}
	if len(s.Holes) == 0 {
		s.Holes = []float64{0}
	}
	habits := rowing.Sliding()
	if r.Travel == 0 {
		habits = rowing.FixedSeat()
	}
	habits.Wants.Thigh, habits.Wants.Edge = 0, 0 // what is asked beyond touching stands in limits.clearance
	angle := float64(r.Stretcher.Angle)
	if angle == 0 {
		angle = usualBoard
	}
	oar := rowing.Oar{Length: float64(r.Oars.Length), Inboard: float64(r.Oars.Inboard), Blade: float64(r.Oars.BladeLength), Width: float64(r.Oars.BladeWidth), Sweep: r.OneSide}
	if oar.Blade == 0 {
		oar.Blade = usualBladeLength
	}
	if oar.Width == 0 {
		oar.Width = usualBladeWidth
	}
	s.base = rowing.Setup{Body: body, Habits: habits, Oar: oar,
		Seat:      rowing.Seat{Fore: r.Seat.X, Aft: r.Seat.X + float64(r.Travel), Height: r.Seat.Z},
		Stretcher: rowing.Stretcher{X: r.Stretcher.At.X, Z: r.Stretcher.At.Z, Angle: angle},
		Gate:      rowing.Gate{X: r.Gates.At.X, Half: math.Abs(r.Gates.At.Y), Z: r.Gates.At.Z + shaft - float64(r.Gates.Above)/2},
		Edges:     w.edges(r.Gates.At.X)}
	return s
}

// edges are what an oar may strike near the gates: the deck's edge and the cabins' sides.
func (w *Way) edges(gate float64) (out []rowing.Edge) {
	line := func(name string, from, to float64, at func(x float64) (y, z float64)) {
		from, to = math.Max(from, gate-near), math.Min(to, gate+near)
		if to-from < 0.05 {
			return
		}
		const parts = 16
		e := rowing.Edge{Name: name}
		for i := range parts + 1 {
			x := from + (to-from)*float64(i)/parts
			y, z := at(x)
			e.Points = append(e.Points, rowing.Point{X: x, Y: y, Z: z})
		}
		out = append(out, e)
	}
	h := w.Trip.Ship.Hull
	line("gunwale", h.From, h.To, func(x float64) (float64, float64) { p := h.Edge(x); return p.Y, p.Z })
	for _, c := range w.Trip.Ship.Cabins {
		line(c.Name, c.From, c.To, func(x float64) (float64, float64) { // its shoulder: the widest place above its foot
			y, z := 0.0, 0.0
			for _, e := range c.Section(x, 0) {
				if e.A.Y > y+1e-6 || math.Abs(e.A.Y-y) <= 1e-6 && e.A.Z > z {
					y, z = e.A.Y, e.A.Z
				}
			}
			return y, z
		})
	}
	return out
}

// Setup is a seat with its gates and its stretcher in one of their places each.
func (s *Seat) Setup(gate, hole int) rowing.Setup {
	out := s.base
	out.Gate.X += s.Gates[gate]
	out.Stretcher.X += s.Holes[hole]
	return out
}

// Fitted is a seat in its best setting.
type Fitted struct {
	Seat
	Gate, Hole int // indices into Gates and Holes
	Setup      rowing.Setup
	Fit        rowing.Fit
	Tightest   rowing.Check
	Left       float64 // m, of the tightest; an angle that is short counts as the way of the hands
	Spread     float64
}

// Left is how much room a check leaves, m: an angle as the hands' way along their arc.
func Left(c rowing.Check, s *rowing.Setup) (left, spread float64) {
	if c.Unit == "rad" {
		return c.Margin * s.Oar.HandArm(), c.Spread * s.Oar.HandArm()
	}
	return c.Margin, c.Spread
}

// tightest is the check that counts and leaves least.
func tightest(checks []rowing.Check, s *rowing.Setup) (at rowing.Check, left, spread float64) {
	left = math.Inf(1)
	for _, c := range checks {
		if l, d := Left(c, s); c.Asked && !c.Noted && l < left {
			at, left, spread = c, l, d
		}
	}
	return at, left, spread
}

// Room is what a set-up leaves where it is tightest, m, without its spread, and what that is.
//
// Error:  as rowing.Setup.Fit
func Room(s rowing.Setup, waters []rowing.Water) (float64, rowing.Check, error) {
	checks, err := s.Checks(waters)
	if err != nil {
		return 0, rowing.Check{}, err
	}
	at, left, _ := tightest(checks, &s)
	return left, at, nil
}

// Best tries every setting and takes the one that leaves most where it is tightest.
//
// Error:  as rowing.Setup.Fit
func (s *Seat) Best(waters []rowing.Water) (Fitted, error) {
	best, most := Fitted{Seat: *s, Left: math.Inf(-1)}, math.Inf(-1)
	for g := range s.Gates {
		for h := range s.Holes {
			set := s.Setup(g, h)
			checks, err := set.Checks(waters)
			if err != nil {
				return best, err
			}
			_, left, _ := tightest(checks, &set)
			lack := 0.0 // of all, which decides between settings alike in the tightest
			for _, c := range checks {
				if room, _ := Left(c, &set); c.Asked && !c.Noted {
					lack += math.Min(0, room)
				}
			}
			if left > best.Left+even || left > best.Left-even && lack > most {
				best.Gate, best.Hole, best.Left, most = g, h, left, lack
			}
		}
	}
	best.Setup = s.Setup(best.Gate, best.Hole)
	var err error
	if best.Fit, err = best.Setup.Fit(waters); err != nil {
		return best, err
	}
	best.Tightest, best.Left, best.Spread = tightest(best.Fit.Checks, &best.Setup)
	return best, nil
}

// Waters are the sea on the deepest and the lightest day as she is rowed, level, and the same heeled when asked for.
//
// Error:  a state in which she does not float
func (w *Way) Waters(heeled bool) ([]rowing.Water, error) {
	rowed, _ := Conditions(w.Trip)
	rowed = max(rowed, 0)
	days := w.Spread(rowed)
	days = []int{days[0], days[len(days)-1]}
	if days[0] == days[1] {
		days = days[:1]
	}
	var out []rowing.Water
	mid := (w.Trip.Ship.Hull.From + w.Trip.Ship.Hull.To) / 2
	for _, d := range days {
		f := w.Trip.Float(w.Trip.State(d, rowed), nil)
		if f.Err != nil {
			return nil, fmt.Errorf("%s she does not float: %w", w.Trip.When(d, rowed), f.Err)
		}
		a := upright(f.Rest.Attitude)
		out = append(out, rowing.Water{Name: fmt.Sprintf("on day %d", d), At: mid, Level: a.Level + a.Slope*mid, Trim: a.Trim()})
	}
	if heeled {
		for _, x := range out[:len(days)] { // a boat of these sides heels about the middle of her water line, within some millimetres
			x.Name += ", heeled 10 degrees"
			x.Heel = heelAsked
			out = append(out, x)
		}
	}
	return out, nil
}

// RigTaken lists what was taken of rowing places.
func (w *Way) RigTaken() (out []Assumed) {
	sys := w.Trip.Folder.Boat.Units
	for i, r := range w.Trip.Folder.Boat.Rowing {
		if r.Stretcher != nil && r.Stretcher.Angle == 0 {
			out = append(out, Assumed{"the stretcher's angle at " + r.Name, sys.Angle(usualBoard), "published rigging notes, 39 to 45 degrees", fmt.Sprintf("boat.yaml: rowing[%d].stretcher.angle", i)})
		}
		if r.Oars != nil && (r.Oars.BladeLength == 0 || r.Oars.BladeWidth == 0) {
			out = append(out, Assumed{"the blades at " + r.Name, sys.Length(units.Length(usualBladeLength)) + " by " + sys.Length(units.Length(usualBladeWidth)), "a modelling choice", fmt.Sprintf("boat.yaml: rowing[%d].oars.blade", i)})
		}
	}
	return out
}
