package materials

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// check is one number against where it comes from.
type check struct {
	name   string
	got    float64
	want   float64
	tol    float64
	source string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.9g, want %.9g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

const printed = "meijiawoodproducts.com, weight of okoume plywood"

func TestPlywood(t *testing.T) {
	r := Defaults()
	at := func(mm float64) float64 { return r.Sheet(mm/1000, true).Mass }
	run(t, []check{
		{"4 mm", at(4), 1.8, 1e-9, printed},
		{"5 mm", at(5), 2.3, 1e-9, printed},
		{"6 mm", at(6), 2.7, 1e-9, printed},
		{"8 mm", at(8), 3.6, 1e-9, printed},
		{"9 mm", at(9), 4.1, 1e-9, printed},
		{"10 mm", at(10), 4.5, 1e-9, printed},
		{"12 mm", at(12), 5.4, 1e-9, printed},
		{"15 mm", at(15), 6.8, 1e-9, printed},
		{"18 mm", at(18), 8.1, 1e-9, printed},
		{"20 mm", at(20), 9.0, 1e-9, printed},
		{"7 mm, between rows", at(7), 3.15, 1e-9, "halfway from 2.7 to 3.6, arithmetic"},
		{"3.6 mm, below the table", at(3.6), 1.62, 1e-9, "450 kg/m3 x 3.6 mm, arithmetic"},
		{"25 mm, above it", at(25), 11.25, 1e-9, "450 kg/m3 x 25 mm, arithmetic"},
		{"no thickness", at(0), 0, 0, "nothing weighs nothing"},
		{"not a number", at(math.NaN()), 0, 0, "nothing is known, so nothing is said"},
	})
	for mm := 4.0; mm <= 20; mm += 0.25 {
		if d := math.Abs(at(mm) - 0.45*mm); d > 0.05+1e-9 {
			t.Errorf("%g mm: %g off 450 kg/m3, the table is rounded to 0.1", mm, d)
		}
	}
	heavy := r
	heavy.Plywood = 500
	run(t, []check{{"500 kg/m3", heavy.Sheet(0.006, true).Mass, 3.0, 1e-9, "2.7 x 500 / 450, arithmetic; 500 +- 50 after boatdesign.net"}})
	nominal, gauged := r.Sheet(0.004, false), r.Sheet(0.004, true)
	if !strings.Contains(nominal.Caution, "3.6") || gauged.Caution != "" || nominal.Doubt <= gauged.Doubt || gauged.Beyond {
		t.Errorf("nominal %+v, measured %+v", nominal, gauged)
	}
	if scant := r.Sheet(0.0036, true); !scant.Beyond || nominal.Mass-2*nominal.Doubt > scant.Mass {
		t.Errorf("the doubt of nominal 4 mm, %+v, does not reach the scant sheet's %g", nominal, scant.Mass)
	}
}

func TestWoods(t *testing.T) {
	by := map[string]Plank{}
	for _, w := range Woods() {
		by[w.Name] = w
	}
	const osu = "USDA Wood Handbook via owic.oregonstate.edu"
	run(t, []check{
		{"Douglas-fir", by["Douglas-fir"].Density, 545, 0, osu},
		{"Engelmann spruce", by["Engelmann spruce"].Density, 432, 0, osu},
		{"western larch", by["western larch"].Density, 577, 0, osu},
		{"Douglas-fir from its gravity", by["Douglas-fir"].Gravity * 1120, 545, 0.02 * 545, "the rule density = gravity x 1.12 at 12 % against the printed 545"},
		{"larch from its gravity", by["western larch"].Gravity * 1120, 577, 0.02 * 577, "the same rule against the printed 577"},
		{"Sitka spruce", by["Sitka spruce"].Density, 448, 0.5, "0.40 x 1.12 x 1000, arithmetic; the gravity from memory"},
		{"white oak, modulus", by["white oak"].Modulus, 12.3e9, 0, "Wood Handbook 2010, from memory"},
	})
}

func TestGlass(t *testing.T) {
	r := Defaults()
	six := r.Laminate(0.5, 0.2034)
	thin := r.Laminate(0.4, 0.2034) // the printed layers are of 203.4 g, 6 oz rounded
	const closed = "closed form with 2.55 and 1.15 g/cm3, worked outside"
	run(t, []check{
		{"4 oz", Cloth(4), 0.135623, 1e-6, "NIST SP 811"},
		{"6 oz", Cloth(6), 0.203434, 1e-6, "NIST SP 811"},
		{"10 oz", Cloth(10), 0.339057, 1e-6, "NIST SP 811"},
		{"fibre at 50 %", six.Fibre, 0.310811, 1e-6, closed},
		{"density at 50 %", six.Density, 1585.135, 1e-3, closed},
		{"layer at 50 %", six.Thickness, 0.256634e-3, 1e-9, closed},
		{"fibre at 40 %", thin.Fibre, 0.231156, 1e-6, closed},
		{"density at 40 %", thin.Density, 1473.618, 1e-3, closed},
		{"layer at 40 %", thin.Thickness, 0.345069e-3, 1e-9, closed},
		{"all glass", r.Laminate(1, 1).Density, 2550, 1e-9, "no resin at all"},
		{"no glass", r.Laminate(0, 1).Density, 0, 0, "not a laminate"},
		{"weight of a layer", six.Thickness * six.Density, 2 * 0.2034, 1e-12, "cloth and as much resin: conservation of mass"},
		{"gallons, 12 oz on 8057 square inches", Gallons(8057.0/144*SquareFoot, Cloth(12)), 0.99, 0.005, "epoxyworks.com, worked example"},
		{"gallons, 6 oz on 8777 square inches", Gallons(8777.0/144*SquareFoot, Cloth(6)), 0.77, 0.005, "epoxyworks.com, worked example"},
		{"gallons, 56 square feet", Gallons(56*SquareFoot, Cloth(12)), 0.9912, 1e-9, "the same, the area rounded as printed"},
		{"gallons, 61 square feet", Gallons(61*SquareFoot, Cloth(6)), 0.7686, 1e-9, "the same, the area rounded as printed"},
	})
}

// TestGallonsAgainstRates: the rule of thumb and the rates are two opinions on the same
// job, a cloth and three filling coats with waste. They should be of one size.
func TestGallonsAgainstRates(t *testing.T) {
	r := Defaults()
	r.Waste = 0.15
	for _, oz := range []float64{4, 6, 10, 12} {
		b, err := r.Bill(Skin{Area: 10, Outside: Side{Cloths: []float64{Cloth(oz)}, Coats: 3}})
		if err != nil {
			t.Fatal(err)
		}
		rule := b.Gallons * Gallon * r.Resin
		if ours := b.Resin * (1 + r.Waste); ours < 0.6*rule || ours > 1.4*rule {
			t.Errorf("%g oz: %.2f kg by the rates, %.2f kg by the rule", oz, ours, rule)
		}
	}
}

func TestFillet(t *testing.T) {
	run(t, []check{
		{"right angle", Fillet(2, 0.03, math.Pi/2), 2 * 9e-4 * (1 - math.Pi/4), 1e-15, "square less quarter circle, closed form"},
		{"sixty degrees", Fillet(1, 1, math.Pi/3), math.Sqrt(3) - math.Pi/3, 1e-12, "kite of two 30-60-90 triangles less a third of the circle's half, closed form"},
		{"nearly flat", Fillet(1, 1, math.Pi-1e-6), 0, 1e-12, "no corner"},
		{"flat", Fillet(1, 1, math.Pi), 0, 0, "no corner"},
	})
}

func bill(t *testing.T, s Skin) Bill {
	t.Helper()
	b, err := Defaults().Bill(s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestBill(t *testing.T) {
	three := []Layer{{Thickness: 0.003, Measured: true}, {Thickness: 0.003, Measured: true}, {Thickness: 0.003, Measured: true}}
	b := bill(t, Skin{Area: 22, Layers: three, Outside: Side{Coats: 3}, Inside: Side{Coats: 3}})
	sheathed := bill(t, Skin{Area: 1, Outside: Side{Cloths: []float64{0.5}, Coats: 3, Paint: 0.3}})
	run(t, []check{
		{"glue, three layers on 22 m2", b.Glue, 16, 0.5, "builders' account of a cold-moulded hull: about 16 kg; from memory, worked"},
		{"coats on 22 m2, both faces", b.Resin, 17, 0.5, "the same account: about 17 kg of coats; three coats a face"},
		{"glue for a kilogram", 1 / Defaults().GlueLine, 2.7, 0.005, "2.7 m2 from a kg, the same rate as printed"},
		{"wood, three layers", b.Wood, 22 * 450 * 0.009, 1e-9, "area x density x thickness"},
		{"sheathed and painted outside, 1 m2", sheathed.Mass, 1.7, 0.1, "published total 1.7 kg/m2; its make-up is not printed, so 500 g cloth, three coats and 0.3 kg of paint are ours"},
		{"mass is the sum", b.Mass, b.Wood + b.Glue + b.Resin, 1e-12, "conservation of mass"},
		{"doubt", bill(t, Skin{Area: 10, Layers: three[:1]}).Doubt, 13.5 * math.Hypot(0.10, 0.02), 1e-12, "10 % of density and 2 % of area as a root of squares; JCGM 100:2008 5.1"},
		{"strip plank", bill(t, Skin{Area: 2, Layers: []Layer{{Thickness: 0.01, Density: 350}}}).Wood, 7, 1e-12, "2 m2 x 10 mm x 350 kg/m3"},
		{"fillet", bill(t, Skin{Corners: []Corner{{Length: 10, Radius: 0.02}}}).Fillets, 10 * 4e-4 * (1 - math.Pi/4) * 1150, 1e-12, "square less quarter circle"},
	})
	if len(b.Assumptions) != len(known) {
		t.Errorf("%d assumptions named of %d", len(b.Assumptions), len(known))
	}
	own := Defaults()
	own.GlueLine = 0.3
	if got := own.Assumptions(); len(got) != len(known)-1 {
		t.Errorf("a stated rate still counts as assumed: %v", got)
	}
}

// TestBuy: what is bought is what stays on plus the waste, and every row has its unit.
func TestBuy(t *testing.T) {
	b := bill(t, Skin{Area: 10, Layers: []Layer{{Thickness: 0.004}, {Thickness: 0.004}, {Thickness: 0.006}},
		Outside: Side{Cloths: []float64{0.2}, Coats: 3, Paint: 0.2}, Inside: Side{Coats: 2}, Corners: []Corner{{Length: 5, Radius: 0.02}}})
	want := map[string][2]float64{
		"plywood 4 mm": {20, 20 / 0.75}, "plywood 6 mm": {10, 10 / 0.75}, "cloth 200 g/m2": {10, 11.75},
		"glue": {7.4, 7.4 * 1.175}, "resin for coats and cloth": {2 + 3.8 + 2.6, 8.4 * 1.175}, "paint": {2, 2},
		"thickened resin for fillets": {b.Fillets, b.Fillets * 1.175},
	}
	if len(b.Rows) != len(want) {
		t.Errorf("%d rows, want %d: %+v", len(b.Rows), len(want), b.Rows)
	}
	for _, row := range b.Rows {
		w, ok := want[row.What]
		if !ok || row.Unit == "" || math.Abs(row.Needed-w[0]) > 1e-9 || math.Abs(row.Buy-w[1]) > 1e-9 {
			t.Errorf("%+v, want %v", row, w)
		}
	}
	if len(b.Cautions) != 2 {
		t.Errorf("two nominal thicknesses, cautions %q", b.Cautions)
	}
	r := Defaults()
	run(t, []check{
		{"sheets", float64(r.Sheets(10, 2.44*1.22)), 5, 0, "10 / (2.9768 x 0.75) = 4.48, whole sheets"},
		{"sheets of nothing", float64(r.Sheets(0, 3)), 0, 0, "nothing"},
		{"exactly three sheets", float64(r.Sheets(6.75, 3)), 3, 0, "6.75 / 2.25"},
	})
}

// TestScales: twice the area is twice everything, and two skins weigh what one of both does.
func TestScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, hi float64) float64 { return rapid.Float64Range(1e-4, hi).Draw(t, name) }
		s := Skin{Area: f("area", 50), Layers: []Layer{{Thickness: f("a", 0.03)}, {Thickness: f("b", 0.03), Density: f("d", 900)}},
			Outside: Side{Cloths: []float64{f("c", 0.6)}, Coats: rapid.IntRange(0, 6).Draw(t, "n")}}
		r := Defaults()
		one, err := r.Bill(s)
		if err != nil {
			t.Fatal(err)
		}
		s.Area *= 2
		two, err := r.Bill(s)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(two.Mass-2*one.Mass) > 1e-9*two.Mass || math.Abs(two.Doubt-2*one.Doubt) > 1e-9*two.Mass || one.Doubt <= 0 {
			t.Fatalf("%+v is not twice %+v", two, one)
		}
	})
}

func TestRefused(t *testing.T) {
	layer := func(v float64) Skin { return Skin{Area: 1, Layers: []Layer{{Thickness: v}}} }
	for _, c := range []struct {
		name string
		skin Skin
		says string
	}{
		{"area", Skin{Area: math.NaN()}, "area"},
		{"negative area", Skin{Area: -1}, "area"},
		{"thickness in millimetres", layer(4), "write metres"},
		{"no thickness", layer(0), "layer 1"},
		{"cloth in grams", Skin{Area: 1, Outside: Side{Cloths: []float64{200}}}, "write kg/m2"},
		{"coats", Skin{Area: 1, Inside: Side{Coats: -1}}, "coats"},
		{"corner", Skin{Corners: []Corner{{Length: 1, Radius: 0.1, Angle: 4}}}, "corner 1"},
		{"density", Skin{Area: 1, Layers: []Layer{{Thickness: 0.01, Density: math.Inf(1)}}}, "density"},
	} {
		if _, err := Defaults().Bill(c.skin); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v does not say %q", c.name, err, c.says)
		}
	}
	for _, spoil := range []func(*Rates){
		func(r *Rates) { r.GlueLine = -1 }, func(r *Rates) { r.Resin = 0 }, func(r *Rates) { r.SheetWaste = 1 },
		func(r *Rates) { r.Doubt.Glue = math.NaN() }, func(r *Rates) { r.Waste = math.Inf(1) },
	} {
		r := Defaults()
		spoil(&r)
		if _, err := r.Bill(layer(0.004)); err == nil {
			t.Errorf("rates %+v were taken", r)
		}
	}
}
