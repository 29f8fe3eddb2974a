package materials

import (
	"fmt"
	"math"
)

// sheetWeights are okoume plywood by nominal thickness in mm, kg/m2.
//
// Source: meijiawoodproducts.com, read 2026. They round 450 kg/m3 to a tenth.
var sheetWeights = []struct{ mm, kg float64 }{
	{4, 1.8}, {5, 2.3}, {6, 2.7}, {8, 3.6}, {9, 4.1}, {10, 4.5}, {12, 5.4}, {15, 6.8}, {18, 8.1}, {20, 9.0},
}

// Weight is a weight a square metre and what must be known with it.
type Weight struct {
	Mass, Doubt float64 // kg/m2, and its standard deviation
	Beyond      bool    // thinner or thicker than the table: density times thickness
	Caution     string
}

// scant is what a nominal 4 mm sheet often measures.
const scant = 0.9 // 3.6 of 4 mm, boatcraft.com.au, read 2026

// Sheet is the weight of plywood by its thickness in metres: between the rows of the
// table by proportion, beyond it by density. measured tells that the thickness comes from
// a gauge. A nominal one may be scant, so that layers do not add up to the skin that was
// drawn; the doubt then allows for it.
//
// The table is okoume; a Plywood rate other than 450 kg/m3 scales it.
// Out: kg/m2, nothing for no thickness
func (r Rates) Sheet(thickness float64, measured bool) Weight {
	if !(thickness > 0) || math.IsInf(thickness, 0) {
		return Weight{}
	}
	mm := thickness * 1000
	first, last := sheetWeights[0], sheetWeights[len(sheetWeights)-1]
	w := Weight{Mass: r.Plywood * thickness, Beyond: mm < first.mm-1e-9 || mm > last.mm+1e-9}
	if !w.Beyond {
		k := 1
		for k < len(sheetWeights)-1 && sheetWeights[k].mm < mm {
			k++
		}
		a, b := sheetWeights[k-1], sheetWeights[k]
		w.Mass = (a.kg + (b.kg-a.kg)*(mm-a.mm)/(b.mm-a.mm)) * r.Plywood / Defaults().Plywood
	}
	doubt := r.Doubt.Plywood
	if !measured {
		doubt = math.Hypot(doubt, (1-scant)/2)
		w.Caution = fmt.Sprintf("%.3g mm is nominal: sheets are often scant (4 mm measures 3.6); measure them, or layers will not add up", mm)
	}
	w.Doubt = w.Mass * doubt
	return w
}

// Plank is a wood as it lies in the shed at 12 % moisture.
type Plank struct {
	Name     string
	Gravity  float64 // specific gravity, oven-dry weight over volume at 12 %
	Density  float64 // kg/m3 at 12 %, with its water
	Rupture  float64 // Pa, modulus of rupture
	Modulus  float64 // Pa, modulus of elasticity in bending
	Printed  bool    // the density stands in the source; otherwise it is gravity times 1.12
	Recalled bool    // the figures are from memory
}

// Woods are clear straight-grained wood of the USDA Wood Handbook. What a yard sells has
// knots: these are no strengths to design with.
//
// Source: USDA Forest Products Laboratory, Wood Handbook (2010), as given by Oregon State
// University, owic.oregonstate.edu, read 2026; Sitka spruce, teak and white oak from
// memory of the same table.
func Woods() []Plank {
	const mega, giga = 1e6, 1e9
	list := []Plank{
		{Name: "Douglas-fir", Gravity: 0.48, Density: 545, Rupture: 85.0 * mega, Modulus: 13.4 * giga, Printed: true},
		{Name: "Engelmann spruce", Gravity: 0.35, Density: 432, Rupture: 64 * mega, Modulus: 8.9 * giga, Printed: true},
		{Name: "western larch", Gravity: 0.52, Density: 577, Rupture: 90 * mega, Modulus: 12.9 * giga, Printed: true},
		{Name: "Sitka spruce", Gravity: 0.40, Rupture: 70 * mega, Modulus: 10.8 * giga, Recalled: true},
		{Name: "teak", Gravity: 0.55, Rupture: 100.7 * mega, Modulus: 10.7 * giga, Recalled: true},
		{Name: "white oak", Gravity: 0.68, Rupture: 105 * mega, Modulus: 12.3 * giga, Recalled: true},
	}
	for i, w := range list {
		if !w.Printed {
			list[i].Density = math.Round(w.Gravity * 1.12 * 1000)
		}
	}
	return list
}
