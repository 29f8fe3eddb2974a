// Package materials tells what a wooden skin and structure weigh, and what must be bought
// for them: plywood by thickness, glue, resin, cloth, coats, fillets.
//
// Every rate can be changed by the caller; the defaults are named as assumptions with
// their source, so that an answer can say what it stands on. Rates of glue and resin are
// what hands spread, not what a maker promises, and differ between people by more than
// anything else here; weigh the pots of the first panel and put the rates right.
//
// Inside everything is SI. Results carry a standard deviation, found by adding the parts'
// squares, as the rates are judged one by one (JCGM 100:2008, 5.1).
package materials

import (
	"fmt"
	"math"
	"reflect"
)

// Rates are the quantities that the sums rest on. A rate that is 0 is 0, not the default:
// start from Defaults and change what is known better.
type Rates struct {
	GlueLine   float64 // kg/m2 of glue between two layers
	FirstCoat  float64 // kg/m2 of resin, the first coat on bare wood
	LaterCoat  float64 // kg/m2 of resin, each coat after it
	ResinCloth float64 // kg of resin for a kg of dry cloth
	Waste      float64 // share bought beyond what stays on the boat: glue, resin, cloth
	SheetWaste float64 // share of a sheet that is not part, where no layout has been made
	Plywood    float64 // kg/m3, for thicknesses beyond the table and for planks of ply cut to measure
	Glass      float64 // kg/m3 of the fibre
	Resin      float64 // kg/m3 of cured resin
	Fillet     float64 // kg/m3 of thickened resin
	Doubt      Doubts
}

// Doubts are the standard deviations of the rates, as shares of them.
type Doubts struct {
	Plywood, Glue, Coats, Cloth, Fillet, Area float64
}

// Defaults are the rates used where the person has stated none.
func Defaults() Rates {
	return Rates{
		GlueLine: 0.37, FirstCoat: 0.14, LaterCoat: 0.12, ResinCloth: 1, Waste: 0.175, SheetWaste: 0.25,
		Plywood: 450, Glass: 2550, Resin: 1150, Fillet: 1150,
		Doubt: Doubts{Plywood: 0.10, Glue: 0.20, Coats: 0.20, Cloth: 0.15, Fillet: 0.30, Area: 0.02},
	}
}

// Assumption is a default that an answer rests on.
type Assumption struct {
	What, Value, Source string
}

// known says of each default what it is and where it comes from, by its field.
var known = []struct {
	field, what, value, source string
}{
	{"GlueLine", "glue between two layers", "0.37 kg/m2", "cold-moulding by hand lay-up as described by builders, 2.7 m2 from a kg; read 2026"},
	{"FirstCoat", "first coat of resin on bare wood", "0.14 kg/m2", "as described by builders; read 2026"},
	{"LaterCoat", "each later coat of resin", "0.12 kg/m2", "as described by builders; read 2026"},
	{"ResinCloth", "resin to wet out cloth", "its own weight", "jamestowndistributors.com, cloth and resin 1:1 by weight; read 2026"},
	{"Waste", "glue, resin and cloth bought beyond what stays on the boat", "17.5 %", "15 to 20 %; epoxyworks.com counts 15 %; read 2026"},
	{"SheetWaste", "sheets bought beyond the parts' area", "25 % of a sheet", "15 to 25 % with care, 30 to 40 % without; from memory, no source"},
	{"Plywood", "plywood", "450 kg/m3", "okoume, meijiawoodproducts.com; others 500 +- 50, boatdesign.net; read 2026"},
	{"Glass", "glass fibre", "2550 kg/m3", "common E-glass figure; from memory, no source"},
	{"Resin", "cured resin", "1150 kg/m3", "common epoxy figure; from memory, no source"},
	{"Fillet", "fillets", "1150 kg/m3", "taken as resin: light fillers make it less, wood flour hardly; no source"},
}

// Assumptions lists the rates that are still the defaults.
func (r Rates) Assumptions() []Assumption {
	have, std := reflect.ValueOf(r), reflect.ValueOf(Defaults())
	var out []Assumption
	for _, k := range known {
		if have.FieldByName(k.field).Float() == std.FieldByName(k.field).Float() {
			out = append(out, Assumption{k.what, k.value, k.source})
		}
	}
	return out
}

// Valid refuses rates that cannot be.
func (r Rates) Valid() error {
	v := reflect.ValueOf(r)
	for _, k := range known {
		x := v.FieldByName(k.field).Float()
		if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
			return fmt.Errorf("rate of %s: %g (write a number from 0 up, as %s)", k.what, x, k.value)
		}
	}
	for _, d := range []float64{r.Doubt.Plywood, r.Doubt.Glue, r.Doubt.Coats, r.Doubt.Cloth, r.Doubt.Fillet, r.Doubt.Area} {
		if !(d >= 0 && d < 1) {
			return fmt.Errorf("doubt of a rate: %g (write a share from 0 up to 1)", d)
		}
	}
	if r.SheetWaste >= 1 {
		return fmt.Errorf("waste of a sheet: %g (write a share below 1)", r.SheetWaste)
	}
	if r.Glass == 0 || r.Resin == 0 {
		return fmt.Errorf("density of glass %g or resin %g kg/m3: it cannot be nothing", r.Glass, r.Resin)
	}
	return nil
}
