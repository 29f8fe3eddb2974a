package model

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Condition is a way the boat may be on any day: who is where.
type Condition struct {
	Name string
	// Places holds for each of the crew the index of the place that they are in.
	Places []int
}

// AsLoaded is the name of the one condition of a folder without a crew.
const AsLoaded = "as loaded"

// mostConditions bounds the product of places; a crew of two with four places each makes 16.
const mostConditions = 16

// Conditions are all ways in which the crew may be placed, the one whose figures are shown first:
// everybody in the first place named for them. A folder without a crew has one.
func (f *Folder) Conditions() []Condition {
	if f.Voyage == nil || len(f.Voyage.Crew) == 0 {
		return []Condition{{Name: AsLoaded}}
	}
	out := []Condition{{}}
	for _, p := range f.Voyage.Crew {
		var next []Condition
		for _, c := range out {
			for i := range max(1, len(p.Places)) {
				if len(next) < mostConditions {
					places := append(append([]int{}, c.Places...), i)
					next = append(next, Condition{Places: places})
				}
			}
		}
		out = next
	}
	for i := range out {
		out[i].Name = f.conditionName(out[i].Places)
	}
	return out
}

// conditionName says who is where: one place for all, or each by name.
func (f *Folder) conditionName(places []int) string {
	crew := f.Voyage.Crew
	same, text := true, ""
	first := crew[0].placeName(places[0])
	for i, p := range crew {
		n := p.placeName(places[i])
		same = same && n == first
		if i > 0 {
			text += ", "
		}
		text += p.Name + " " + n
	}
	switch {
	case len(crew) == 1:
		return first
	case same && len(crew) == 2:
		return "both " + first
	case same:
		return "all " + first
	}
	return text
}

func (p *Person) placeName(i int) string {
	if i >= len(p.Places) {
		return "nowhere named"
	}
	return p.Places[i].Name
}

// LastDay is the last day of the trip: that of the voyage, or the day by which the
// last store is used up; 0 for a boat with neither.
func (f *Folder) LastDay() int {
	last := 0
	if f.Voyage != nil {
		last = f.Voyage.Days
	}
	for _, s := range f.Stores {
		last = max(last, s.Use.Last)
	}
	return last
}

// Left is the share of a store that is still there at the end of a day; day 0 is the start.
func (u Use) Left(day int) float64 {
	switch {
	case u.Last == 0 || day < u.First:
		return 1
	case day >= u.Last:
		return 0
	}
	return 1 - float64(day-u.First+1)/float64(u.Last-u.First+1)
}

// Item is one thing aboard on a day: how heavy, where, how well known.
type Item struct {
	What  string
	Mass  float64 // kg, all of it
	At    r3.Vec
	Doubt float64 // standard deviation of the mass, kg
	Shift r3.Vec  // standard deviation of the place, m
	Known Known
	Given bool // the tolerance was given, not a default
	Crew  bool
	// Ballast: it is there to be heavy.
	Ballast bool
}

// State is the boat's weight on one day in one condition.
type State struct {
	Day       int
	Condition Condition
	Mass      float64
	G         r3.Vec
	// Gyration is the radii of gyration about axes through G: roll (x), pitch (y), yaw (z).
	// Items count as points, so each is a little small.
	Gyration r3.Vec
	// Doubt is the standard deviations that the tolerances give: mass, and G.
	Doubt  float64
	DoubtG r3.Vec
	Items  []Item
}

// PlaceTolerance is how well a place is taken as known when the folder does not say: the half width
// of the 19-in-20 range. Breadthwise it is nothing, since what stands on the centre line is put there on purpose.
// Common practice, no source.
var PlaceTolerance = r3.Vec{X: 0.05, Z: 0.03}

// half turns a 19-in-20 half width into a standard deviation.
const half = 1 / 1.959964

// At works out the load at the end of a day (0 is the departure) in a condition.
// rooms are the compartments' centres, in the order of Boat.Compartments.
func (f *Folder) At(day int, c Condition, rooms []r3.Vec) State {
	s := State{Day: day, Condition: c}
	s.Items = make([]Item, 0, len(f.Boat.Weights)+2*len(f.Stores)+len(c.Places))
	place := func(p Place) r3.Vec {
		if p.Compartment >= 0 && p.Compartment < len(rooms) {
			return rooms[p.Compartment]
		}
		return p.At
	}
	add := func(what string, m Mass, share float64, p Place, crew, ballast bool) {
		if p.None || share == 0 {
			return
		}
		if p.Tolerance == (r3.Vec{}) {
			p.Tolerance = PlaceTolerance
		}
		s.Items = append(s.Items, Item{What: what, Mass: float64(m.Value) * share, At: place(p),
			Doubt: float64(m.Tolerance) * share * half, Shift: r3.Scale(half, p.Tolerance), Known: m.Known, Given: m.Given, Crew: crew, Ballast: ballast})
	}
	for _, w := range f.Boat.Weights {
		add(w.What, w.Mass, float64(max(1, w.Count)), w.Where, false, w.Ballast)
	}
	for _, st := range f.Stores {
		left := st.Use.Left(day)
		n := float64(max(1, st.Count))
		add(st.What, st.Mass, n*left, st.Where, false, false)
		if st.Use.Into != nil {
			add(st.What+" (used)", st.Mass, n*(1-left), *st.Use.Into, false, false)
		}
	}
	if f.Voyage != nil {
		for i, p := range f.Voyage.Crew {
			if i < len(c.Places) && c.Places[i] < len(p.Places) {
				add(p.Name, p.Mass, 1, p.Places[c.Places[i]].Where, true, false)
			}
		}
	}
	s.sum()
	return s
}

// Ballast is the mass of what is there to be heavy, kg.
func (s *State) Ballast() float64 {
	var m float64
	for _, it := range s.Items {
		if it.Ballast {
			m += it.Mass
		}
	}
	return m
}

// WithBallast is the same state with so much of its ballast: 0 for none of it, more than 1 for heavier.
func (s *State) WithBallast(share float64) State {
	return s.with(func(it Item) Item {
		if it.Ballast {
			it.Mass *= share
			it.Doubt *= share
		}
		return it
	})
}

// WithoutCrew is the same state with nobody aboard.
func (s *State) WithoutCrew() State {
	return s.with(func(it Item) Item {
		if it.Crew {
			it.Mass, it.Doubt = 0, 0
		}
		return it
	})
}

// with is the state with each of its items changed; those of no mass are left out.
func (s *State) with(change func(Item) Item) State {
	out := State{Day: s.Day, Condition: s.Condition}
	for _, it := range s.Items {
		if it = change(it); it.Mass > 0 {
			out.Items = append(out.Items, it)
		}
	}
	out.sum()
	return out
}

// sum adds the items up.
func (s *State) sum() {
	var moment r3.Vec
	for _, it := range s.Items {
		s.Mass += it.Mass
		moment = r3.Add(moment, r3.Scale(it.Mass, it.At))
	}
	if s.Mass <= 0 {
		return
	}
	s.G = r3.Scale(1/s.Mass, moment)
	var roll, pitch, yaw, mass, gx, gy, gz float64
	for _, it := range s.Items {
		d := r3.Sub(it.At, s.G)
		roll += it.Mass * (d.Y*d.Y + d.Z*d.Z)
		pitch += it.Mass * (d.X*d.X + d.Z*d.Z)
		yaw += it.Mass * (d.X*d.X + d.Y*d.Y)
		mass += it.Doubt * it.Doubt
		// A doubt in a mass moves G by its distance from G; one in a place by its share of the whole.
		gx += sq(it.Doubt*d.X) + sq(it.Mass*it.Shift.X)
		gy += sq(it.Doubt*d.Y) + sq(it.Mass*it.Shift.Y)
		gz += sq(it.Doubt*d.Z) + sq(it.Mass*it.Shift.Z)
	}
	s.Doubt = math.Sqrt(mass)
	s.DoubtG = r3.Vec{X: math.Sqrt(gx) / s.Mass, Y: math.Sqrt(gy) / s.Mass, Z: math.Sqrt(gz) / s.Mass}
	s.Gyration = r3.Vec{X: math.Sqrt(roll / s.Mass), Y: math.Sqrt(pitch / s.Mass), Z: math.Sqrt(yaw / s.Mass)}
}

func sq(v float64) float64 { return v * v }

// Guessed is the share of the mass that was estimated, or of which nothing was said.
func (s *State) Guessed() float64 {
	var g float64
	for _, it := range s.Items {
		if it.Known == Estimated || it.Known == Unsaid {
			g += it.Mass
		}
	}
	if s.Mass == 0 {
		return 0
	}
	return g / s.Mass
}

// String is how a mass came to be known, in a word.
func (k Known) String() string {
	switch k {
	case Estimated:
		return "estimated"
	case Weighed:
		return "weighed"
	case Calculated:
		return "calculated"
	}
	return "not said"
}
