package sustenance

import "math"

// The two stores that a body lives on.
//
// Source: Hall, International Journal of Obesity 32 (2008) 573-576, and Hall et al., Lancet 378 (2011) 826-837;
// Forbes, Annals of the New York Academy of Sciences 904 (2000) 359-365: lean = 10.4 kg ln(fat) + constant.
// fatDensity, rule and forbes as printed; the others from memory
const (
	fatDensity  = 39.5e6                   // J/kg of body fat
	leanDensity = 7.6e6                    // J/kg of lean mass, most of it water
	forbes      = 10.4                     // kg of lean lost for each e-fold of fat
	rule        = 32.2e6                   // J/kg: 3500 kcal a pound, the rule of thumb
	tissue      = 7700 * Kilocalorie       // J/kg: the same in kcal a kilogram
	fatRests    = 3.2 * Kilocalorie / Day  // W that a kilogram of fat burns at rest
	leanRests   = 22.0 * Kilocalorie / Day // W that a kilogram of lean burns at rest
	adapts      = 14.0                     // days in which a body has nearly done adapting to less food
	glycogen    = 0.5                      // kg stored when well fed
	bound       = 2.7                      // kg of water bound to each kilogram of it
	emptied     = 3.0                      // days in which glycogen follows the food; modelling choice
)

// Adapting is by how much a body spends less for each joule that it is short of, once it has adapted.
//
// Source: 0.14, Hall et al. 2011, from memory; found on people at rest and at home, so that the spread is as large
const adapting = 0.14

// RuleLoss is the mass that a shortage costs by the rule of thumb, kg.
//
// Good to: it holds for people with 30 kg of fat and more; a lean rower loses a third to a half more, since lean
// tissue, mostly water, goes with the fat (TestDensity)
// Source: 7700 kcal/kg, the rule of 3500 kcal a pound
func RuleLoss(shortage float64) float64 { return shortage / tissue }

// Density is the energy that a body gives for each kilogram that it loses, J/kg, at so much fat.
//
// In:     kg of fat left
// Source: Hall 2008 with Forbes's curve, dLean/dFat = 10.4 kg / fat
func Density(fat float64) float64 {
	return (fatDensity*fat + leanDensity*forbes) / (fat + forbes)
}

// Body is what a rower's body has left, kg.
type Body struct {
	Fat, Lean float64
	Quick     float64 // glycogen and its water that are gone
	Saved     float64 // W that the body spends less, having adapted
}

// Body is the rower's body on leaving.
func (p Person) Body() (Body, error) {
	if err := p.valid(); err != nil {
		return Body{}, err
	}
	return p.body(0), nil
}

// body is Body with the share of fat moved by so many of its spreads.
func (p Person) body(moved float64) Body {
	f := p.FatShare()
	share := clamp(f.Value+moved*f.Spread, 0.03, 0.7)
	return Body{Fat: share * p.Mass, Lean: (1 - share) * p.Mass}
}

// Mass is what the body weighs, kg, its water made good.
func (b Body) Mass() float64 { return b.Fat + b.Lean - b.Quick }

// Rests is how much less the body burns at rest than another, W: that of the tissue it lost.
func (b Body) rests(before Body) float64 {
	return fatRests*(before.Fat-b.Fat) + leanRests*(before.Lean-b.Lean)
}

// After is the body one day later.
//
// In:     J eaten and J spent in the day
// Error:  ErrInput
// Good to: the closed form of Forbes's curve within 1e-6 kg a day (TestForbesCurve); against people, a fifth of what
// is lost: lean rowers at hard work keep more muscle than Forbes's dieters (only the calf shrank on the Atlantic)
// Source: Hall et al. 2011, with Forbes's division of what is missing; glycogen and its water as the root of the share eaten
func (b Body) After(eaten, spent float64) (Body, error) {
	if err := first(within("what was eaten", eaten, 0, 1e8, "J"), within("what was spent", spent, 1e5, 1e8, "J"), within("the body's fat", b.Fat, 0.1, 200, "kg"), within("the body's lean mass", b.Lean, 10, 200, "kg")); err != nil {
		return Body{}, err
	}
	return b.after(eaten, spent, adapting), nil
}

// after is After on numbers that were checked. Half a step finds the middle of the day and the whole step uses it.
func (b Body) after(eaten, spent, adapting float64) Body {
	missing := spent - eaten
	fat, lean := b.rates()
	mid := Body{Fat: math.Max(leastFat, b.Fat-missing/2*fat), Lean: b.Lean - missing/2*lean}
	fat, lean = mid.rates()
	next := Body{Fat: math.Max(leastFat, b.Fat-missing*fat), Lean: b.Lean - missing*lean}
	asked := glycogen * (1 + bound) * (1 - math.Sqrt(clamp(eaten/spent, 0, 1)))
	next.Quick = b.Quick + (asked-b.Quick)*(1-math.Exp(-1/emptied))
	goal := math.Max(0, adapting*missing/Day)
	next.Saved = b.Saved + (goal-b.Saved)*(1-math.Exp(-1/adapts))
	return next
}

// leastFat keeps the sums finite in a body that has starved; such a body is dead. kg
const leastFat = 0.5

// rates are the kilograms of fat and of lean that go for each joule missing.
func (b Body) rates() (fat, lean float64) {
	c := forbes * leanDensity / fatDensity
	share := c / (c + b.Fat) // of the energy, from lean
	return (1 - share) / fatDensity, share / leanDensity
}

// Wasting is what the loss of a share of the body's mass means.
//
// Source: 10 per cent in 46 days is what ocean rowers lost on the mean (49 rowers, 2020 and 2021); a quarter in 24
// weeks is where the volunteers of Keys et al., The Biology of Human Starvation (1950), could hardly work; a half
// or a body mass index of 12 to 13 ends lives (Henry, British Journal of Nutrition 64 (1990) 375, from memory). The
// steps between are modelling choices
func Wasting(share float64) string {
	switch {
	case share < 0.05:
		return "less than most ocean rowers lose"
	case share < 0.12:
		return "what ocean rowers lose"
	case share < 0.18:
		return "more than most ocean rowers lose: weaker, colder, slower to heal"
	case share < 0.25:
		return "wasting: hard work fails"
	}
	return "starvation: as in the volunteers who could hardly work, and past it a danger to life"
}

// Able is the share of the usual work that a body still gives which has lost a share of its mass: all of it up to the
// tenth that ocean rowers lose and arrive, none at the quarter where Keys's volunteers could hardly work, a straight
// line between.
//
// Source: see Wasting; the line is a modelling choice
func Able(lost float64) float64 { return clamp((0.25-lost)/(0.25-0.10), 0, 1) }
