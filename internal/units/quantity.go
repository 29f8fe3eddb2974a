package units

import (
	"fmt"
	"math"
	"strings"
)

// pound is the avoirdupois pound in kilograms, exact by definition.
//
// Source: NIST Special Publication 811 (2008), Appendix B.8.
const pound = 0.45359237

// cubicFoot is 0.3048 m cubed, exact.
const cubicFoot = 0.028316846592

var massUnits = []unit{
	{1, 1, []string{"kg", "kilo", "kilos"}},
	{1, 1000, []string{"g", "gram", "grams"}},
	{1000, 1, []string{"t", "tonne", "tonnes"}},
	{pound, 1, []string{"lb", "lbs", "pound", "pounds"}},
	{pound, 16, []string{"oz", "ounce", "ounces"}},
	{14 * pound, 1, []string{"st", "stone"}},
}

var densityUnits = []unit{
	{1, 1, []string{"kg/m3", "kg/m³", "kg/m^3"}},
	{1000, 1, []string{"kg/L", "kg/l"}},
	{1000, 1, []string{"g/cm3", "g/cm³", "g/cm^3"}},
	{pound, cubicFoot, []string{"lb/ft3", "lb/ft³", "lb/ft^3"}},
}

// The US gallon is 231 cubic inches and the imperial one 4.54609 L, exact.
//
// Source: NIST Special Publication 811 (2008), Appendix B.8.
var volumeUnits = []unit{
	{1, 1000, []string{"L", "l", "litre", "litres", "liter", "liters"}},
	{1, 1e6, []string{"mL", "ml"}},
	{1, 1, []string{"m3", "m³", "m^3"}},
	{cubicFoot, 1, []string{"ft3", "ft³", "ft^3"}},
	{3.785411784, 1000, []string{"US gal"}},
	{4.54609, 1000, []string{"imp gal"}},
}

var angleUnits = []unit{
	{math.Pi, 180, []string{"deg", "degree", "degrees", "°"}},
	{1, 1, []string{"rad", "radian", "radians"}},
}

// ParseMass reads a mass: 620 kg, 350 g, 1.2 t, 3.5 lb, 8 oz, 12 st.
func ParseMass(text string) (Mass, error) {
	v, err := one("mass", text, "42 kg", "kg", massUnits)
	return Mass(v), err
}

// ParseDensity reads a density: 1025 kg/m3, 1.025 kg/L, 64 lb/ft3.
func ParseDensity(text string) (Density, error) {
	v, err := one("density", text, "1025 kg/m3", "kg/m3", densityUnits)
	return Density(v), err
}

// ParseVolume reads a volume: 30 L, 0.2 m3, 5 US gal, 5 imp gal. A gallon must
// say which it is: the imperial one is a fifth larger.
func ParseVolume(text string) (Volume, error) {
	if at := strings.Index(text, "gal"); at >= 0 && !strings.Contains(text, "US gal") && !strings.Contains(text, "imp gal") {
		number := Shorten(strings.TrimSpace(text[:at]))
		return 0, &Error{Kind: "volume", Text: text, Offset: at, Say: "does not say which gallon",
			Mend: fmt.Sprintf("write %s US gal or %[1]s imp gal", number)}
	}
	v, err := one("volume", text, "30 L", "L", volumeUnits)
	return Volume(v), err
}

// ParseAngle reads an angle: 12 deg, 12°, 0.2 rad.
func ParseAngle(text string) (Angle, error) {
	v, err := one("angle", text, "12 deg", "deg", angleUnits)
	return Angle(v), err
}

// ParseNumber reads a number without a unit: 12, -0.5, 3 1/2.
func ParseNumber(text string) (float64, error) {
	s, err := newScan("number", text, "8")
	if err != nil {
		return 0, err
	}
	sign := s.sign()
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	return sign * v, s.done()
}

// ParseShare reads a share of a whole, 60%, and gives 0.6.
//
// Out: from 0 to 1
func ParseShare(text string) (float64, error) {
	s, err := newScan("share", text, "60%")
	if err != nil {
		return 0, err
	}
	at := s.at
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	if s.end() {
		return 0, s.fail(len(text), "has no %", fmt.Sprintf("write %s%%", strings.TrimSpace(text)))
	}
	if !s.take("%") {
		return 0, s.fail(s.at, "is not a share", "write it like 60%")
	}
	if v > 100 {
		return 0, s.fail(at, "is more than the whole", "write 100% or less")
	}
	return v / 100, s.done()
}

// mostDays bounds a count of days: no voyage in a small boat lasts three years.
const mostDays = 1000

// ParseDays reads a whole number of days: 80 days, 80.
//
// Out: from 1 to 1000
func ParseDays(text string) (int, error) {
	s, err := newScan("days", text, "80 days")
	if err != nil {
		return 0, err
	}
	at := s.at
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	if v != math.Trunc(v) || v < 1 || v > mostDays {
		return 0, s.fail(at, "is not a whole number of days from 1 to 1000", "write it like 80 days")
	}
	s.take("days", "day")
	return int(v), s.done()
}

// WithTolerance reads a quantity that may say how well it is known: 42 kg,
// 42 kg +- 10%, 42 kg ± 3 kg. A share is of the value.
//
// Out: the value, the half width of its 19-in-20 range, and whether it was given
func WithTolerance[Q ~float64](text string, parse func(string) (Q, error)) (value, half Q, given bool, err error) {
	at, after := split(text)
	if at < 0 {
		value, err = parse(text)
		return value, 0, false, err
	}
	if value, err = parse(text[:at]); err != nil {
		return 0, 0, false, shift(err, text, 0)
	}
	half, err = tolerance(text[after:], value, parse)
	if err != nil {
		return 0, 0, false, inTolerance(err, text, after)
	}
	return value, half, true, nil
}

// split finds the sign of a tolerance: where it starts and ends.
func split(text string) (start, end int) {
	start = -1
	for _, sign := range []string{"+/-", "+-", "±"} {
		if i := strings.Index(text, sign); i >= 0 && (start < 0 || i < start) {
			start, end = i, i+len(sign)
		}
	}
	return start, end
}

func tolerance[Q ~float64](part string, value Q, parse func(string) (Q, error)) (Q, error) {
	if strings.Contains(part, "%") {
		share, err := ParseShare(part)
		if err == nil && value == 0 {
			err = &Error{Text: part, Say: "is a share of nothing", Mend: "write a quantity behind +-"}
		}
		return Q(share * math.Abs(float64(value))), err
	}
	half, err := parse(part)
	if err == nil && half < 0 {
		err = &Error{Text: part, Say: "is negative", Mend: "write the half width without a sign"}
	}
	return half, err
}

// inTolerance tells an error inside the tolerance as one of the whole text.
func inTolerance(err error, whole string, at int) error {
	e, ok := shift(err, whole, at).(*Error)
	if !ok {
		return err
	}
	e.Say = fmt.Sprintf("has the tolerance %q, which %s", Shorten(strings.TrimSpace(whole[at:])), e.Say)
	if e.Kind == "" || e.Kind == "share" {
		e.Kind = "quantity"
	}
	return e
}
