package boatfolder

import (
	"thole/internal/model"
	"thole/internal/units"
)

// Food and fresh water in a thing, as weights and stores have them.

// What food can hold of energy and take up of water, for its mass.
//
// Source: fat holds 9 kcal/g (the Atwater factors, FAO Food and Nutrition Paper 77, 2003), and nothing that is eaten holds more; the other
// bounds from memory: dried meals hold 3.5 to 5.5 kcal/g and take up one to five times their mass of water
const (
	richest      = 9.3 * 4184e3 // J/kg, with room for rounding
	leanest      = 0.2 * 4184e3 // J/kg, rarer below
	mostSoaked   = 0.02         // m3/kg
	waterDensity = 1000.0       // kg/m3, fresh
	roomForWater = 1.05         // a thing holds no more water than it weighs, rounding allowed for
)

// provisioned checks the food and the water in one thing against its mass.
func (r *reader) provisioned(m model.Mass, energy, soaks, drink *node) {
	kg := float64(m.Value)
	if kg <= 0 {
		return
	}
	if energy != nil {
		switch per := energy.number / kg; {
		case per > richest:
			r.fault(energy.at, energy.text, "write the energy of one; pure fat has 9 kcal a gram", "energy %q is more than %s of food can hold", shorten(energy.text), r.boat.Units.Mass(m.Value))
		case per < leanest:
			r.note(energy.at, "it is taken as written; look whether it is of one", "energy %q is little for %s of food", shorten(energy.text), r.boat.Units.Mass(m.Value))
		}
	}
	if soaks != nil && soaks.number/kg > mostSoaked {
		r.fault(soaks.at, soaks.text, "write the water that one needs to be food", "soaks %q is more than %s of food takes up", shorten(soaks.text), r.boat.Units.Mass(m.Value))
	}
	if drink != nil && drink.number*waterDensity > kg*roomForWater {
		r.fault(drink.at, drink.text, "write the mass of one with the water in it; of an empty one leave drink out",
			"drink %q is heavier than the whole thing, %s", shorten(drink.text), r.boat.Units.Mass(m.Value))
	}
}

// keptFor reads what a thing is kept for; ballast that can be drunk is kept as ballast unless something else is said.
func keptFor(n *node, ballast bool, drink units.Volume) model.Keeping {
	switch {
	case n != nil:
		return model.Keeping(n.text)
	case ballast && drink > 0:
		return model.KeptBallast
	}
	return model.KeptForUse
}
