package units

import (
	"fmt"
	"math"
	"strings"
)

// The nautical mile is 1852 m, exact by definition. A mile without a word before it may be either of two and is none here, and nm is
// a nanometre in SI: the sea mile is nmi.
//
// Source: NIST Special Publication 811 (2008), Appendix B.8.
var wayUnits = []unit{
	{seaMile, 1, []string{"nmi", "sea mile", "sea miles", "nautical mile", "nautical miles"}},
	{1000, 1, []string{"km"}},
	{1, 1, []string{"m"}},
}

const seaMile = 1852

// kilocalorie is the one that food is counted in, in joules.
//
// Source: the thermochemical one of NIST Special Publication 811 (2008), Appendix B.8, 4.184 J exactly; FAO Food and Nutrition Paper 77
// (2003) takes it for food
const kilocalorie = 4184

var energyUnits = []unit{
	{kilocalorie, 1, []string{"kcal"}},
	{1000, 1, []string{"kJ"}},
	{1e6, 1, []string{"MJ"}},
	{3600, 1, []string{"Wh"}},
	{3.6e6, 1, []string{"kWh"}},
}

// ParseWay reads a way over the sea: 8 nmi, 15 km, 800 m.
func ParseWay(text string) (Length, error) {
	number := func(at int) string { return Shorten(strings.TrimSpace(text[:at])) }
	for _, short := range []string{"nm", "NM", "Nm", "M", "mi", "mile", "miles"} {
		at := len(strings.TrimRight(text, " ")) - len(short)
		if at <= 0 || !strings.HasPrefix(text[at:], short) {
			continue
		}
		if before := strings.TrimSpace(text[:at]); before != "" && strings.ContainsAny(before[len(before)-1:], "0123456789.") {
			return 0, &Error{Kind: "way", Text: text, Offset: at, Say: fmt.Sprintf("has %q, which may be more than one unit", short),
				Mend: fmt.Sprintf("write %s nmi for sea miles, or km", number(at))}
		}
	}
	v, err := one("way", text, "8 nmi", "nmi", wayUnits)
	return Length(v), err
}

// ParseEnergy reads an energy: 4800 kcal, 20 MJ, 850 kJ, 1.2 kWh.
func ParseEnergy(text string) (Energy, error) {
	v, err := one("energy", text, "550 kcal", "kcal", energyUnits)
	return Energy(v), err
}

// ParsePercent reads a share that may be more than the whole, 150 %, and gives 1.5.
//
// Out: from 0 to 10
func ParsePercent(text string) (float64, error) {
	s, err := newScan("share", text, "100 %")
	if err != nil {
		return 0, err
	}
	at := s.at
	v, err := s.number()
	switch {
	case err != nil:
		return 0, err
	case s.end():
		return 0, s.fail(len(text), "has no %", fmt.Sprintf("write %s %%", strings.TrimSpace(text)))
	case !s.take("%"):
		return 0, s.fail(s.at, "is not a share", "write it like 100 %")
	case v > 1000:
		return 0, s.fail(at, "is out of all bounds", "write 1000 % or less")
	}
	return v / 100, s.done()
}

// ParseNearShare reads a share that may say how well it is known: 18 %, 18 % +- 4 %. What stands behind +- is so many
// hundredths of the whole, not of the share: 14 to 22 %.
//
// Out: the share, from 0 to 1, the half width of its 19-in-20 range, and whether it was given
func ParseNearShare(text string) (value, half float64, given bool, err error) {
	at, after := split(text)
	if at < 0 {
		value, err = ParseShare(text)
		return value, 0, false, err
	}
	if value, err = ParseShare(text[:at]); err != nil {
		return 0, 0, false, shift(err, text, 0)
	}
	if half, err = ParseShare(text[after:]); err != nil {
		return 0, 0, false, inTolerance(err, text, after)
	}
	return value, half, true, nil
}

// Way writes a way over the sea for people, in sea miles in both systems: 0.25 sea miles, 8 sea miles, 2,043 sea miles.
func (s System) Way(l Length) string {
	v := float64(l) / seaMile
	places := 0
	switch {
	case math.Abs(v) < 0.945:
		places = 2
	case math.Abs(v) < 9.95:
		places = 1
	}
	text := fixed(v, places)
	if places > 0 {
		text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	if text == "1" || text == "-1" {
		return text + " sea mile"
	}
	return thousands(text) + " sea miles"
}

// Energy writes an energy for people, what food tables say behind it: 20.1 MJ (4,800 kcal), 452 kJ (108 kcal).
func (s System) Energy(e Energy) string {
	v := math.Abs(float64(e))
	joules := fixed(float64(e)/1e6, 1) + " MJ"
	switch {
	case v < 999.5e3:
		joules = fixed(float64(e)/1e3, 0) + " kJ"
	case v > 99.95e6:
		joules = thousands(fixed(float64(e)/1e6, 0)) + " MJ"
	}
	k := float64(e) / kilocalorie
	for step := 1.0; step <= 1e9; step *= 10 { // three figures
		if math.Abs(k) < 999.5*step {
			k = math.Round(k/step) * step
			break
		}
	}
	return joules + " (" + thousands(fixed(k, 0)) + " kcal)"
}

// Miles is the scale for ways over the sea, the same in both systems.
func (s System) Miles() Scale { return Scale{Unit: "sea miles", Factor: 1.0 / seaMile} }

// Food is the scale for the energy of food, the same in both systems.
func (s System) Food() Scale { return Scale{Unit: "kcal", Factor: 1.0 / kilocalorie} }

// thousands puts a comma between the thousands of a number that is written already.
func thousands(text string) string {
	whole, rest, dot := strings.Cut(text, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if dot {
		whole += "." + rest
	}
	return sign + whole
}
