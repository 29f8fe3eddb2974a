package resistance

import (
	"fmt"
	"math"
	"sort"
)

// ITTC57 is the friction coefficient of a smooth skin, on its wetted area, with the flow turbulent from the bow on.
//
// In:     Reynolds number on the wetted length, 1e3 or more (NaN below)
// Out:    force over ½ rho S v²
// Good to: it is a line agreed on, not a law; a small boat with a clean bow may keep laminar patches and stand lower
// Source: ITTC 1957; values in Tupper, table 8.3 (TestITTC57)
func ITTC57(re float64) float64 {
	if !(re >= 1e3) {
		return math.NaN()
	}
	d := math.Log10(re) - 2
	return 0.075 / (d * d)
}

// leastRe is the Reynolds number below which the friction coefficient is held: she hardly moves, and the line was
// never meant for it.
const leastRe = 1e5

// friction is ITTC57 for any speed.
func friction(re float64) float64 { return ITTC57(math.Max(re, leastRe)) }

// rough is how fast a sand roughness shifts the law of the wall: the shift is ln(1 + rough ks+) / kappa.
//
// Source: Colebrook (1939) as used by Grigson (1992); 0.26 joins the smooth wall's 5.2 to the fully rough one's 8.5
// (Schlichting, Boundary-Layer Theory), from memory
const rough = 0.26

// RoughRise is what roughness adds to the friction coefficient of a plate.
//
// The smooth plate's line (Kármán and Schoenherr, 0.242/sqrt Cf = log10(Re Cf)) is shifted by the roughness
// function, and the line's own smooth value taken off, so that the rise may be put on ITTC57.
//
// In:     Reynolds number; sand roughness over length (both 0 or more; held to a tenth)
// Out:    rise of the coefficient, 0 for a smooth skin
// Good to: 10 % of Prandtl and Schlichting's fully rough plate from length/roughness 1e3 to 1e5 (TestRough)
// Source: Granville (1958), similarity of rough plates; Schoenherr (1932)
func RoughRise(re, roughness float64) float64 {
	if math.IsNaN(re) || math.IsNaN(roughness) {
		return math.NaN()
	}
	if roughness <= 0 {
		return 0
	}
	re, roughness = math.Max(re, leastRe), math.Min(roughness, 0.1)
	a, b := plate(re, roughness), plate(re, 0)
	return math.Max(0, 1/(a*a)-1/(b*b))
}

// plate is 1/sqrt Cf of a plate, by Newton's method on a rising function.
func plate(re, r float64) float64 {
	x := 17.0
	target := math.Log(re)
	for range 30 {
		g := rough * r * re / (math.Sqrt2 * x) // rough times ks+ by the mean shear speed, v sqrt(Cf/2)
		f := 0.242*math.Ln10*x + 2*math.Log(x) + math.Log1p(g) - target
		d := 0.242*math.Ln10 + (2-g/(1+g))/x
		step := f / d
		x = math.Max(x-step, x/4)
		if math.Abs(step) < 1e-9*x {
			break
		}
	}
	return x
}

// Townsin is the roughness allowance of a painted ship, times one of area; it is nothing or less at a rowed boat's
// Reynolds number, where paint lies inside the smooth layer. It is here to be held against RoughRise.
//
// In:     average hull roughness over length; Reynolds number
// Source: Townsin & others (1984), as taken up by the 19th ITTC (1990), from memory
func Townsin(roughness, re float64) float64 {
	return 1e-3 * (44*(math.Cbrt(roughness)-10/math.Cbrt(re)) + 0.125)
}

// BowdenDavison is the ships' correlation allowance of 1974. It holds more than roughness and knows no speed: for a
// boat of 7 m it would nearly double the friction. It is not used; it is here to show why.
//
// In:     average hull roughness (usually 150e-6 m) over length
// Source: Bowden & Davison (1974), 15th ITTC (1978), from memory
func BowdenDavison(roughness float64) float64 { return 1e-3 * (105*math.Cbrt(roughness) - 0.64) }

// Growth is how rough her skin has become some days after scraping.
type Growth struct {
	Days  float64
	Sand  float64 // equivalent sand roughness, m
	Words string
}

// Growths is how she fouls in warm seas, moving slowly, with an ordinary antifouling.
//
// The roughness of each state is Schultz, Biofouling 23 (2007), table 1, from memory. The days are a modelling choice
// within what rowers write ("growth from day 20 on", scraped about fortnightly): real growth may come in half or
// twice the time, and that is the spread of every force that hangs on it.
var Growths = []Growth{
	{0, 30e-6, "clean paint"},
	{7, 100e-6, "light slime"},
	{21, 300e-6, "heavy slime"},
	{42, 1000e-6, "small barnacles or weed"},
	{90, 3000e-6, "barnacles"},
	{180, 10000e-6, "heavy barnacles"},
}

// Skin is the state of her bottom.
type Skin struct {
	Paint  float64  // sand roughness of the bare skin, m; 0 is perfectly smooth
	Growth []Growth // days rising; nil takes Growths
}

// Sand is the equivalent sand roughness some days after scraping: between the rows of the growth by equal ratios,
// after the last of them as the last, and never below the paint's.
//
// Out:    m
func (s Skin) Sand(days float64) float64 {
	g := s.Growth
	if g == nil {
		g = Growths
	}
	if len(g) == 0 {
		return s.Paint
	}
	i := sort.Search(len(g), func(i int) bool { return g[i].Days >= days })
	var k float64
	switch {
	case i == 0:
		k = g[0].Sand
		if days <= 0 {
			k = 0
		}
	case i == len(g):
		k = g[i-1].Sand
	default:
		f := (days - g[i-1].Days) / (g[i].Days - g[i-1].Days)
		k = g[i-1].Sand * math.Pow(g[i].Sand/g[i-1].Sand, f)
	}
	return math.Max(k, s.Paint)
}

// roughest is more than any skin that is still a skin, m.
const roughest = 0.05

func (s Skin) check() error {
	if err := within("the paint's roughness", s.Paint, 0, roughest, "m"); err != nil {
		return err
	}
	for i, g := range s.Growth {
		if err := within(fmt.Sprintf("the roughness of growth after %g days", g.Days), g.Sand, 1e-9, roughest, "m"); err != nil {
			return err
		}
		if !(g.Days >= 0) || i > 0 && !(g.Days > s.Growth[i-1].Days) {
			return fmt.Errorf("%w: growth after %g days; give days from 0 on, rising", ErrInput, g.Days)
		}
	}
	return nil
}
