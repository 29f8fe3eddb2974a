package sustenance

import (
	"fmt"
	"math"
)

// Sex is which of the published equations apply.
type Sex int

// The two for which there are equations.
const (
	Man Sex = iota
	Woman
)

// Person is a rower's body on the day of leaving.
type Person struct {
	Name    string
	Sex     Sex
	Mass    float64 // kg
	Stature float64 // m
	Age     float64 // years
	Fat     Value   // share of the mass that is fat; nothing when not measured
}

// valid checks a person.
func (p Person) valid() error {
	at := "the rower's "
	if p.Name != "" {
		at = fmt.Sprintf("%q's ", p.Name)
	}
	err := first(within(at+"mass", p.Mass, 30, 250, "kg"), within(at+"stature", p.Stature, 1.2, 2.3, "m"), within(at+"age", p.Age, 14, 100, "years"))
	if err == nil && p.Sex != Man && p.Sex != Woman {
		err = fmt.Errorf("%w: %ssex is %d; give Man or Woman", ErrInput, at, int(p.Sex))
	}
	if err == nil && p.Fat != (Value{}) {
		err = valued(at+"share of fat", p.Fat, 0.02, 0.7, "")
	}
	return err
}

// Equation is a published equation for resting metabolism.
type Equation int

// The equations, the one used first.
const (
	Mifflin     Equation = iota // Mifflin and St Jeor 1990
	Schofield                   // Schofield 1985, as taken up by WHO
	HarrisFirst                 // Harris and Benedict 1919
	HarrisLater                 // Roza and Shizgal 1984
)

// String names an equation.
func (e Equation) String() string {
	switch e {
	case Mifflin:
		return "Mifflin and St Jeor 1990"
	case Schofield:
		return "Schofield 1985"
	case HarrisFirst:
		return "Harris and Benedict 1919"
	case HarrisLater:
		return "Roza and Shizgal 1984"
	}
	return fmt.Sprintf("equation %d", int(e))
}

// Equations are all of them.
func Equations() []Equation { return []Equation{Mifflin, Schofield, HarrisFirst, HarrisLater} }

// linear is kcal a day = constant + kg + cm + years, each times its coefficient.
type linear struct{ constant, kg, cm, years float64 }

// coefficients of the equations in mass, stature and age, men then women.
//
// Source: Mifflin et al., American Journal of Clinical Nutrition 51 (1990) 241-247; Harris and Benedict,
// Carnegie Institution publication 279 (1919); Roza and Shizgal, American Journal of Clinical Nutrition
// 40 (1984) 168-182; all from memory, checked against worked values (TestResting)
var coefficients = map[Equation][2]linear{
	Mifflin:     {{5, 10, 6.25, -5}, {-161, 10, 6.25, -5}},
	HarrisFirst: {{66.4730, 13.7516, 5.0033, -6.7550}, {655.0955, 9.5634, 1.8496, -4.6756}},
	HarrisLater: {{88.362, 13.397, 4.799, -5.677}, {447.593, 9.247, 3.098, -4.330}},
}

// band is one of Schofield's bands of age: kcal a day = slope kg + constant, with the standard error of one person.
type band struct{ below, slope, constant, see float64 }

// schofield are his bands for men and for women, up to the age named.
//
// Source: Schofield, Human Nutrition: Clinical Nutrition 39C suppl. 1 (1985) 5-41, table in kcal as reprinted
var schofield = [2][]band{
	{{18, 17.686, 658.2, 105}, {30, 15.057, 692.2, 153}, {60, 11.472, 873.1, 167}, {math.Inf(1), 11.711, 587.7, 164}},
	{{18, 13.384, 692.6, 111}, {30, 14.818, 486.6, 119}, {60, 8.126, 845.6, 111}, {math.Inf(1), 9.082, 658.5, 108}},
}

// byFormula is the half width, as a share, of a resting rate told by the three equations that print no error by age.
//
// Source: within a tenth for most healthy adults, about one standard deviation (Frankenfield et al., Journal of the
// American Dietetic Association 105 (2005) 775-789, from memory); twice that for 19 in 20
const byFormula = 0.20

// Resting is the metabolic rate of a person lying still, watts, by one equation.
//
// Error:  ErrInput
// Good to: its spread; a fit rower lies above it oftener than below
// Source: see coefficients and schofield
func (p Person) Resting(e Equation) (Value, error) {
	if err := p.valid(); err != nil {
		return Value{}, err
	}
	if e == Schofield {
		for _, b := range schofield[p.Sex] {
			if p.Age < b.below {
				return Value{b.slope*p.Mass + b.constant, 2 * b.see}.times(Kilocalorie / Day), nil
			}
		}
	}
	c, ok := coefficients[e]
	if !ok {
		return Value{}, fmt.Errorf("%w: no equation %v; give Mifflin, Schofield, HarrisFirst or HarrisLater", ErrInput, e)
	}
	k := c[p.Sex]
	day := k.constant + k.kg*p.Mass + k.cm*100*p.Stature + k.years*p.Age
	return Value{day, byFormula * day}.times(Kilocalorie / Day), nil
}

// Skin is the area of the skin, square metres.
//
// Source: DuBois and DuBois, Archives of Internal Medicine 17 (1916) 863-871: 0.007184 kg^0.425 cm^0.725
func (p Person) Skin() float64 {
	return 0.007184 * math.Pow(p.Mass, 0.425) * math.Pow(100*p.Stature, 0.725)
}

// FatShare is the share of the mass that is fat: as measured, or told from stature and mass.
//
// Good to: 4.1 per cent of the mass, one standard error; rowers with much muscle are told too fat
// Source: Deurenberg, Weststrate and Seidell, British Journal of Nutrition 65 (1991) 105-114, from memory:
// per cent = 1.20 kg/m2 + 0.23 years - 10.8 (men) - 5.4; kept between 4 (men) or 10 (women) and 60 per cent
func (p Person) FatShare() Value {
	if p.Fat != (Value{}) {
		return p.Fat
	}
	least, less := 4.0, 10.8
	if p.Sex == Woman {
		least, less = 10.0, 0
	}
	percent := 1.20*p.Mass/(p.Stature*p.Stature) + 0.23*p.Age - less - 5.4
	return Value{clamp(percent, least, 60) / 100, 2 * 0.041}
}
