package sustenance

import (
	"fmt"
	"math"
)

// Ration is what is packed for one rower's day, over a run of days.
type Ration struct {
	Name   string
	Days   int     // how many such days are packed for each rower
	Energy float64 // J in a day's bag
	Mass   float64 // kg of a day's bag with its wrapping
	Water  float64 // kg of water that a day's bag needs to be food
}

// Rations are the bags in the order in which they are opened.
type Rations []Ration

// Dried is a ration of dried food of so much energy.
//
// Source: bags of main dishes 800 kcal, 4.2 to 5.2 kcal a gram, 0.3 to 0.45 kg of water each (makers' figures, from
// memory); a plan of 500,000 kcal that weighed 102 kg came to 4.9 kcal a gram. The wrapping is a tenth, and half
// the energy is in things eaten dry: modelling choices
func Dried(name string, days int, energy float64) Ration {
	kcal := energy / Kilocalorie
	return Ration{Name: name, Days: days, Energy: energy, Mass: 1.1 * kcal / 4700, Water: 0.5 * kcal / 800 * 0.375}
}

// Days is how many days are packed.
func (r Rations) Days() int {
	n := 0
	for _, x := range r {
		n += x.Days
	}
	return n
}

// Total is the energy (J) and the mass (kg) packed for each rower.
func (r Rations) Total() (energy, mass float64) {
	for _, x := range r {
		energy += float64(x.Days) * x.Energy
		mass += float64(x.Days) * x.Mass
	}
	return energy, mass
}

// valid checks rations.
func (r Rations) valid() error {
	for _, x := range r {
		at := fmt.Sprintf("the ration %q: ", x.Name)
		if err := first(within(at+"its days", float64(x.Days), 0, 2000, ""), within(at+"its energy", x.Energy, 0, 1e8, "J a day"),
			within(at+"its mass", x.Mass, 0, 20, "kg a day"), within(at+"its water", x.Water, 0, 20, "kg a day")); err != nil {
			return err
		}
	}
	return nil
}

// opened are the rations as one rower opens them, added up over the bags: a place is a number of bags, parts counted.
type opened struct {
	bags          []float64 // up to the end of each ration
	energy, water []float64 // J and kg up to there
}

// open adds up the rations.
func (r Rations) open() opened {
	o := opened{make([]float64, len(r)+1), make([]float64, len(r)+1), make([]float64, len(r)+1)}
	for i, x := range r {
		n := float64(x.Days)
		o.bags[i+1], o.energy[i+1], o.water[i+1] = o.bags[i]+n, o.energy[i]+n*x.Energy, o.water[i]+n*x.Water
	}
	return o
}

// total is how many bags there are.
func (o opened) total() float64 { return o.bags[len(o.bags)-1] }

// which is the ration at a place; past the last one, the last; -1 of none.
func (o opened) which(place float64) int {
	for i := 1; i < len(o.bags); i++ {
		if place < o.bags[i]-1e-9 {
			return i - 1
		}
	}
	return len(o.bags) - 2
}

// upTo are the energy and the water of all bags up to a place.
func (o opened) upTo(place float64) (energy, water float64) {
	place = clamp(place, 0, o.total())
	i := o.which(place)
	if i < 0 {
		return 0, 0
	}
	part := 0.0
	if n := o.bags[i+1] - o.bags[i]; n > 0 {
		part = (place - o.bags[i]) / n
	}
	return o.energy[i] + part*(o.energy[i+1]-o.energy[i]), o.water[i] + part*(o.water[i+1]-o.water[i])
}

// place is the last place up to which there is no more than so much energy.
func (o opened) place(energy float64) float64 {
	at := 0.0
	for i := 1; i < len(o.bags); i++ {
		if energy < o.energy[i] {
			return at + (energy-o.energy[i-1])/(o.energy[i]-o.energy[i-1])*(o.bags[i]-o.bags[i-1])
		}
		at = o.bags[i]
	}
	return at
}

// Appetite is what a rower can and will eat at sea.
type Appetite struct {
	Most     Value   // most energy taken in a day, in resting rates
	Liked    Value   // share of a full bag that is eaten; the rest is disliked or will not go down
	SickDays float64 // days until all of that is eaten; 0 for a rower who is never sick
	SickLeft float64 // share of that eaten on the first day
	Kept     float64 // share of what is not eaten that stays good for later
}

// AtSea is the appetite taken for granted.
//
// Source: most: 2.5, standard deviation 0.5, resting rates in men and 2.3, 0.4 in women (49 Atlantic rowers, from their
// packs in the last week). Liked: such that rowers with the 19.1 MJ packs of Reid et al. 2017 lose the 10 per cent of
// their mass that the 49 lost in 46 days, and its spread such that the loss has theirs (TestLossOfTheMeasured); Reid's
// two, by the same sums, ate less than half. Sick for a week,
// from two fifths on: crews' logs, no published figures. Half of the leftovers keep: modelling choice
func AtSea(s Sex) Appetite {
	most := Value{2.5, 1.0}
	if s == Woman {
		most = Value{2.3, 0.8}
	}
	return Appetite{Most: most, Liked: Value{0.70, 0.12}, SickDays: 7, SickLeft: 0.4, Kept: 0.5}
}

// eats is what is eaten on a day, J, day 0 the first: of a full bag the share that is liked, of a cut one all up to that
// much, since hunger eats what plenty leaves (modelling choice); most in W.
func (a Appetite) eats(offered, full, most, liked, day float64) float64 {
	well := 1.0
	if day < a.SickDays {
		well = a.SickLeft + (1-a.SickLeft)*day/a.SickDays
	}
	return math.Max(0, math.Min(offered, well*math.Min(full*liked, most*Day)))
}

// valid checks an appetite.
func (a Appetite) valid() error {
	return first(valued("the most that is eaten", a.Most, 0, 10, "resting rates"), valued("the share that is liked", a.Liked, 0, 1, ""),
		within("the days of sickness", a.SickDays, 0, 1000, ""), within("what a sick rower eats", a.SickLeft, 0, 1, "of what is liked"), within("what keeps", a.Kept, 0, 1, "of the leftovers"))
}
