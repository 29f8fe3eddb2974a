package sustenance

import (
	"fmt"
	"math"
)

// Stock is the fresh water aboard, kg. Only the first is drunk by the ledger.
type Stock struct {
	Drinking float64 // carried to be drunk
	Reserve  float64 // sealed, for when something has gone wrong
	Ballast  float64 // fresh water that rights the boat: drunk only against sea water let in, and righting asked again
}

// Maker turns sea water into fresh.
type Maker struct {
	Name    string
	PerHour Value   // kg an hour
	Hours   float64 // most hours a day that it may run: battery, sun or hands
	Hand    bool    // worked by hand: the hours are a rower's, and come off rowing or sleep
	Energy  float64 // J of electricity for each kilogram
	From    int     // first day on which it works
	Breaks  int     // day on which it stops for good; 0 for never
}

// WattHour is in joules.
const WattHour = 3600.0

// Electric is a small desalinator.
//
// Source: about 4 A at 12 V for 4.5 to 6 kg an hour (makers' sheets as quoted in oceannavigator.com, October 2009): 0.7
// to 0.9 Ah a kilogram; no less than 0.767 Wh, the least that physics allows
func Electric(hours float64) Maker {
	return Maker{Name: "desalinator", PerHour: Value{5, 1}, Hours: hours, Energy: 12 * 0.8 * WattHour}
}

// HandPump is the small survival pump.
//
// Source: 0.6 kg an hour (crews' figures; makers print about 0.9)
func HandPump(hours float64) Maker {
	return Maker{Name: "hand pump", PerHour: Value{0.6, 0.2}, Hours: hours, Hand: true}
}

// LargeHandPump is the larger one.
//
// Source: about 2 kg an hour, 4.5 in two hours (crews' figures)
func LargeHandPump(hours float64) Maker {
	return Maker{Name: "large hand pump", PerHour: Value{2, 0.4}, Hours: hours, Hand: true}
}

// HoursFor is how long it must run for so much water; hours.
//
// Error:  ErrInput: a maker that makes nothing
// Source: division; 6 kg at 0.6 an hour is a day of ten hours
func (m Maker) HoursFor(kg float64) (Value, error) {
	if err := first(within("the water wanted", kg, 0, 1e4, "kg"), within("what "+m.Name+" makes", m.PerHour.Value, 1e-3, 1e4, "kg an hour")); err != nil {
		return Value{}, err
	}
	h := kg / m.PerHour.Value
	return Value{h, h * m.PerHour.Spread / m.PerHour.Value}, nil
}

// works tells whether it runs on a day.
func (m Maker) works(day int) bool { return day >= m.From && (m.Breaks == 0 || day < m.Breaks) }

// valid checks a maker.
func (m Maker) valid() error {
	return first(valued("what "+m.Name+" makes", m.PerHour, 0, 1e4, "kg an hour"), within("the hours of "+m.Name, m.Hours, 0, 24, "h a day"), within("the energy of "+m.Name, m.Energy, 0, 1e7, "J/kg"))
}

// valid checks a stock.
func (s Stock) valid() error {
	return first(within("the drinking water", s.Drinking, 0, 1e5, "kg"), within("the sealed reserve", s.Reserve, 0, 1e5, "kg"), within("the ballast water", s.Ballast, 0, 1e5, "kg"))
}

// Dryness is what a body that lacks so much water comes to.
//
// In:     water lacking as a share of the body's mass
// Source: Adolph, Physiology of Man in the Desert (1947), as told in Natural History: nausea at 5 per cent, speech and
// walking fail to 10, delirium past it; 15 per cent is the end above 32 C (90 F) and 25 anywhere
func Dryness(share float64) string {
	switch {
	case share < 0.02:
		return "thirst at most"
	case share < 0.05:
		return "thirst, tired, no appetite: rows badly"
	case share < 0.10:
		return "sick, dizzy; speech and walking fail"
	case share < 0.15:
		return "delirium"
	}
	return "death, in heat at 15 per cent and anywhere at 25"
}

// The least and the most that a body can lack and live, shares of its mass.
//
// Source: Adolph 1947; see Dryness
const (
	FatalHot  = 0.15 // above 32 C
	FatalCool = 0.25
)

// Published survival rations.
//
// Source: nothing for the first 24 hours, then 0.4 to 0.5 kg a day (life-raft manuals); 2.5 to 3 kg a day for a
// settled camp (WHO technical note 9, from memory); life-raft 1.5 kg and 10,000 kJ, lifeboat 3 kg and 10,000 kJ a
// person (LSA Code 4.1.5 and 4.4.8, from memory and as quoted)
const (
	RaftRation = 0.5  // kg a day after the first
	CampRation = 2.5  // kg a day
	RaftWater  = 1.5  // kg a person
	BoatWater  = 3.0  // kg a person
	RaftFood   = 10e6 // J a person
)

// RaftDays is how many days a sealed reserve gives at the raft's ration, the first day dry.
//
// In:     kg for all, people
// Error:  ErrInput
// Source: see RaftRation
func RaftDays(kg float64, people int) (float64, error) {
	if err := first(within("the reserve", kg, 0, 1e5, "kg"), within("the people", float64(people), 1, 100, "")); err != nil {
		return 0, err
	}
	return 1 + kg/(RaftRation*float64(people)), nil
}

// Dry is how a person without water fares.
type Dry struct {
	PerDay float64 // kg lost each day
	Days   Value   // until a share of the mass between FatalHot and FatalCool is gone; or FatalHot alone above 32 C
}

// WithoutWater is how long a person who does nothing lives without any water, in the shade.
//
// In:     air in the shade, dress; drunk kg a day
// Out:    days, the middle of the two limits; infinite days for one who drinks enough
// Error:  ErrInput
// Good to: a third. Nobody in the wars' boats lasted longer than 11 days, and 8 to 12 were told to sailors (TestWithoutWater)
// Source: Adolph 1947 for the limits; the losses as in Losses with Scant urine and no food
func (p Person) WithoutWater(a Air, d Dress, drunk float64) (Dry, error) {
	rest, err := p.Resting(Mifflin)
	if err = first(err, a.valid(), d.valid(), within("what is drunk", drunk, 0, 100, "kg a day")); err != nil {
		return Dry{}, err
	}
	th := Scant()
	th.Faeces = 0
	w := rest.Value * 1.1 // lying, and turning over: modelling choice
	l := p.losses(day{rowing: w, resting: w, burnt: w * Day, out: a, in: a, at: d, off: d, thirst: th, diet: Diet{Fat: 0.9, Protein: 0.1}}, 1)
	lost := l.Need - drunk
	if lost <= 0 {
		return Dry{0, Value{math.Inf(1), 0}}, nil
	}
	low, high := FatalHot*p.Mass/lost, FatalCool*p.Mass/lost
	if a.Celsius > 32 {
		return Dry{lost, Value{low, low / 3}}, nil
	}
	return Dry{lost, Value{(low + high) / 2, math.Hypot((high-low)/2, (low+high)/2*Sweating)}}, nil
}

// describe names a maker among several.
func describe(i int, m Maker) string {
	if m.Name != "" {
		return fmt.Sprintf("%q", m.Name)
	}
	return fmt.Sprintf("maker %d", i+1)
}
