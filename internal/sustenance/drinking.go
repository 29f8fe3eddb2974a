package sustenance

import "math"

// Diet is what the food is made of, shares of its energy; the rest is carbohydrate.
type Diet struct{ Fat, Protein float64 }

// SeaDiet is the mixture of common sea rations: 54 per cent carbohydrate, 29 fat, 16 protein.
//
// Source: 500 g of carbohydrate, 150 of protein and 120 of fat: 3680 kcal, Atwater
func SeaDiet() Diet { return Diet{Fat: 0.293, Protein: 0.163} }

// Atwater is the energy of food by what it is made of, joules.
//
// In:     kilograms of carbohydrate, protein and fat
// Source: Atwater's general factors: 4, 4 and 9 kcal a gram
func Atwater(carbohydrate, protein, fat float64) float64 {
	return (4*carbohydrate + 4*protein + 9*fat) * 1000 * Kilocalorie
}

// WaterOfBurning is the water that burning a joule of the diet makes, kg/J.
//
// Source: 0.60, 1.07 and 0.41 g of water from a gram of carbohydrate, fat and protein (physiology textbooks)
func (d Diet) WaterOfBurning() float64 {
	carbohydrate := 1 - d.Fat - d.Protein
	return (0.60*carbohydrate/4 + 1.07*d.Fat/9 + 0.41*d.Protein/4) / 1000 / Kilocalorie
}

// Thirst is how freely a rower drinks.
type Thirst struct {
	Urine  Value   // kg a day
	Faeces float64 // kg of water a day while eating
	Wash   float64 // kg a day of fresh water for washing and rinsing
}

// Plenty is drinking freely: 1.5 kg of urine a day, as a body well watered passes.
//
// Source: 1 to 2 kg a day, physiology textbooks; faeces 0.1 to 0.2
func Plenty() Thirst { return Thirst{Urine: Value{1.5, 0.6}, Faeces: 0.15} }

// Scant is the least that keeps a rower at work: urine as thick as kidneys make it.
//
// Source: 600 mOsm of waste a day at the kidney's 1200 mOsm/kg: 0.5 kg (physiology textbooks)
func Scant() Thirst { return Thirst{Urine: Value{0.5, 0.15}, Faeces: 0.1} }

// Losses is where a day's water goes and what must be drunk, kg for one rower.
type Losses struct {
	SweatRowing  float64 // at the oars
	SweatResting float64
	Skin         float64 // through dry skin
	Breath       float64
	Urine        float64
	Faeces       float64
	Wash         float64
	Made         float64 // by burning food and body
	Need         float64 // to be taken in: the losses less what burning makes
	Hourly       float64 // sweat an hour at the oars
	Hot          bool    // at the oars more heat is made than sweat can shed: rest, shade or less power
}

// Losses is the water of a day.
//
// In:     W burnt at the oars and W of it that goes to the oar; hours; W burnt the rest of the day; weather at the oars
// and in the cabin; drinking; the diet, and J burnt in the day
// Error:  ErrInput
// Good to: a third; see Sweating
// Source: Balance; no less than comfortable's; skin: Fanger, Thermal Comfort (1970), 3.05e-3 (5733 - 6.99 (M - W) - p) W/m2
func (p Person) Losses(rowing, power, hours, resting float64, out, in Air, at, off Dress, th Thirst, d Diet, burnt float64) (Losses, error) {
	err := first(p.valid(), within("the hours at the oars", hours, 0, 24, "h"), within("the power", power, 0, 1000, "W"), within("the energy burnt in the day", burnt, 0, 1e8, "J"),
		within("what is burnt at the oars", rowing, power+30, 2500, "W"), within("what is burnt off the oars", resting, 30, 1000, "W"),
		out.valid(), in.valid(), at.valid(), off.valid(), th.valid(), d.valid())
	if err != nil {
		return Losses{}, err
	}
	return p.losses(day{rowing, power, hours, resting, burnt, out, in, at, off, th, d}, 1), nil
}

// day is what a day's losses follow from.
type day struct {
	rowing, power, hours, resting, burnt float64
	out, in                              Air
	at, off                              Dress
	thirst                               Thirst
	diet                                 Diet
}

// Sweating is by how much a person's sweat differs from the balance's, as a share, 19 in 20.
//
// Source: published rates of 0.5 to 2 kg an hour at like work (ACSM position stand, from memory); a quarter to a third
// between people in the studies behind the regressions; modelling choice
const Sweating = 0.35

// losses is Losses on numbers that were checked, the sweat scaled.
func (p Person) losses(d day, sweats float64) Losses {
	area := p.Skin()
	row := balance(d.rowing, d.power, area, d.out, d.at)
	rest := balance(d.resting, 0, area, d.in, d.off)
	kg := area / latent // of water a second for each W/m2
	dryRow, dryRest := insensible(d.rowing-d.power, area, d.out), insensible(d.resting, area, d.in)
	off := 24 - d.hours
	var l Losses
	// Skin that sweats passes no dry water besides: the larger of the two counts.
	sweat := func(h Heat, heat, dry float64) float64 {
		return math.Max(math.Max(0, h.Sweat-dry), comfortable(heat/area)) * kg * Hour * sweats
	}
	l.Hourly = sweat(row, d.rowing-d.power, dryRow)
	l.SweatRowing = l.Hourly * d.hours
	l.SweatResting = sweat(rest, d.resting, dryRest) * off
	l.Skin = (dryRow*d.hours + dryRest*off) * kg * Hour
	l.Breath = (row.BreathWet*d.hours + rest.BreathWet*off) * kg * Hour
	l.Urine, l.Faeces, l.Wash = d.thirst.Urine.Value, d.thirst.Faeces, d.thirst.Wash
	l.Made = d.burnt * d.diet.WaterOfBurning()
	l.Hot = row.Limited && d.hours > 0
	l.Need = math.Max(0, l.SweatRowing+l.SweatResting+l.Skin+l.Breath+l.Urine+l.Faeces+l.Wash-l.Made)
	return l
}

// comfortable is the sweat of people who are neither hot nor cold at their work, W/m2. In cool air or a breeze a rower dresses
// until it is so, and sweats no less than this, though the balance in the light clothes that are taken would ask for none.
//
// In:     heat made, W/m2
// Source: Fanger, Thermal Comfort (1970): 0.42 (M - W - 58.15)
func comfortable(heat float64) float64 { return math.Max(0, 0.42*(heat-58.15)) }

// insensible is the heat that water through dry skin takes, W/m2.
func insensible(heat, area float64, a Air) float64 {
	vapour := 1000 * a.Humidity * saturated(a.Celsius)
	return math.Max(0, 3.05e-3*(5733-6.99*heat/area-vapour))
}

// valid checks a way of drinking.
func (t Thirst) valid() error {
	return first(valued("the urine", t.Urine, 0.2, 10, "kg a day"), within("the faeces' water", t.Faeces, 0, 5, "kg a day"), within("the washing water", t.Wash, 0, 50, "kg a day"))
}

// valid checks a diet.
func (d Diet) valid() error {
	return first(within("the diet's fat", d.Fat, 0, 1, "of the energy"), within("the diet's protein", d.Protein, 0, 1-d.Fat, "of the energy"))
}
