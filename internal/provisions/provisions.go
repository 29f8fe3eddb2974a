// Package provisions is the food and the water of a boat folder as package sustenance asks for them: the crew's bodies and
// days, the bags that the stores' calendar opens, the drinking water with its reserve and ballast kept apart, and the makers.
//
// What a folder does not give is taken from published figures and listed; what no sensible figure can be taken for is listed as lacking,
// and then there is no plan. No food energy is ever taken for granted: bags of one mass differ by two to one.
package provisions

import (
	"fmt"

	"thole/internal/afloat"
	"thole/internal/model"
	"thole/internal/sustenance"
)

// Lacks is what a folder does not say and no ledger can be kept without.
type Lacks struct{ File, Key, Why string }

// Assumed is what the folder does not give, and what was taken.
type Assumed struct{ What, Value, Why, File string }

// Provisions are a folder's.
type Provisions struct {
	Plan    sustenance.Plan
	Days    []Day // what the stores' calendar opens, day by day, for all; the first day of the trip at 0
	Lacks   []Lacks
	Assumed []Assumed
}

// Day is what is packed for a day, for everybody.
type Day struct {
	Energy float64 // J
	Mass   float64 // kg
	Water  float64 // kg that the food wants
}

const (
	stores = "stores.csv"
	voyage = "voyage.yaml"
	boat   = "boat.yaml"
)

// Of reads a folder's provisions.
//
// In:     on, the conditions of a day of the passage, or nil for the trades'
// Out:    the plan; where Lacks is not empty there is none
// Error:  figures that no ledger can be kept with
func Of(t *afloat.Trip, on func(day int) sustenance.Conditions) (*Provisions, error) {
	p := &Provisions{}
	f := t.Folder
	if f.Voyage == nil || len(f.Voyage.Crew) == 0 {
		p.lack(voyage, "crew", "food and water are for people: their mass, stature, age, and hours at the oars")
		return p, nil
	}
	p.crew(f)
	p.food(f)
	p.water(f)
	p.diet(f)
	if len(p.Lacks) > 0 {
		return p, nil
	}
	p.Plan.Days = max(1, f.Voyage.Days)
	if f.Voyage.Days == 0 {
		p.Plan.Days = max(1, f.LastDay())
	}
	p.Plan.On = on
	if on == nil {
		tr := sustenance.Trades()
		p.assume("air and sun", fmt.Sprintf("%.0f C, %.0f %% humid, %.0f W/m2 of sun at the oars", tr.Out.Celsius, 100*tr.Out.Humidity, tr.Out.Sun),
			"a fair day in the trades, every day: the folder's route and date do not tell it", voyage+": leave")
	}
	if _, err := p.Plan.SpareDays(); err != nil { // which checks the plan, and costs little
		return nil, err
	}
	return p, nil
}

func (p *Provisions) lack(file, key, why string) { p.Lacks = append(p.Lacks, Lacks{file, key, why}) }

func (p *Provisions) assume(what, value, why, file string) {
	p.Assumed = append(p.Assumed, Assumed{what, value, why, file})
}

// diet is what the food is made of.
func (p *Provisions) diet(f *model.Folder) {
	d := sustenance.SeaDiet()
	given := f.Voyage.Diet
	if given.Fat != nil {
		d.Fat = *given.Fat
	}
	if given.Protein != nil {
		d.Protein = *given.Protein
	}
	p.Plan.Diet = d
	if given.Fat == nil || given.Protein == nil {
		p.assume("what the food is made of", fmt.Sprintf("%.0f %% of its energy from fat, %.0f %% from protein", 100*d.Fat, 100*d.Protein),
			"common sea rations; it bears only on the water that burning makes", voyage+": diet")
	}
}
