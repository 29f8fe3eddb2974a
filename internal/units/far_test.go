package units

import (
	"errors"
	"testing"
)

func nearShare(text string) (float64, error) {
	v, half, _, err := ParseNearShare(text)
	return v + half, err
}

func TestFarQuantities(t *testing.T) {
	const sp811 = "NIST SP 811 (2008), B.8: the nautical mile is 1852 m exactly"
	check(t, []row{
		{"sea miles", "8 nmi", 8 * 1852, 0, sp811},
		{"sea miles in words", "1 sea mile", 1852, 0, sp811},
		{"nautical miles in words", "2.5 nautical miles", 4630, 0, sp811},
		{"kilometres", "15 km", 15000, 0, si},
		{"metres", "800 m", 800, 0, si},
	}, plainly(ParseWay))
	check(t, []row{
		{"kilocalories", "1 kcal", 4184, 0, "NIST SP 811 (2008), B.8: calorie (th) 4.184 J exactly; FAO Food and Nutrition Paper 77 (2003) for food"},
		{"kilojoules", "850 kJ", 850e3, 0, si},
		{"megajoules", "20 MJ", 20e6, 0, si},
		{"watt-hours", "1 Wh", 3600, 0, "NIST SP 811 (2008), B.8: watt hour 3.6 E+03"},
		{"kilowatt-hours", "1 kWh", 3.6e6, 0, "NIST SP 811 (2008), B.8: kilowatt hour 3.6 E+06"},
	}, plainly(ParseEnergy))
	check(t, []row{
		{"more than the whole", "150 %", 1.5, 0, "closed form: hundredths"},
		{"ten times", "1000%", 10, 0, "closed form: hundredths"},
	}, ParsePercent)
	check(t, []row{
		{"a share and its range", "18 % +- 4 %", 0.22, 1e-15, "docs/boat-folder.md: hundredths of the whole"},
		{"a share alone", "18%", 0.18, 0, "closed form: hundredths"},
	}, nearShare)
}

func TestFarErrors(t *testing.T) {
	for _, r := range []struct {
		parse   func(string) (float64, error)
		input   string
		offset  int
		message string
	}{
		{plainly(ParseWay), "8", 0, `way "8" has no unit (write 8 nmi)`},
		{plainly(ParseWay), "8 nm", 2, `way "8 nm" has "nm", which may be more than one unit (write 8 nmi for sea miles, or km)`},
		{plainly(ParseWay), "8M", 1, `way "8M" has "M", which may be more than one unit (write 8 nmi for sea miles, or km)`},
		{plainly(ParseWay), "60 miles ", 3, `way "60 miles " has "miles", which may be more than one unit (write 60 nmi for sea miles, or km)`},
		{plainly(ParseWay), "8 ft", 2, `way "8 ft" has "ft" where a unit of way is due (write nmi, km or m)`},
		{plainly(ParseEnergy), "550", 0, `energy "550" has no unit (write 550 kcal)`},
		{plainly(ParseEnergy), "550 cal", 4, `energy "550 cal" has "cal" where a unit of energy is due (write kcal, kJ, MJ, Wh or kWh)`},
		{plainly(ParseEnergy), "550 KCAL", 4, `energy "550 KCAL" has "KCAL" where a unit of energy is due (write 550 kcal)`},
		{ParsePercent, "150", 3, `share "150" has no % (write 150 %)`},
		{ParsePercent, "1500 %", 0, `share "1500 %" is out of all bounds (write 1000 % or less)`},
		{nearShare, "18 % +- 4", 9, `quantity "18 % +- 4" has the tolerance "4", which has no % (write 4%)`},
	} {
		v, err := r.parse(r.input)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q is read as %v, want an error", r.input, v)
			continue
		}
		if e.Error() != r.message || e.Offset != r.offset {
			t.Errorf("%q: at %d %s\nwant at %d %s", r.input, e.Offset, e, r.offset, r.message)
		}
	}
}

func TestFarShown(t *testing.T) {
	for _, r := range []struct{ got, want string }{
		{Metric.Way(2043 * 1852), "2,043 sea miles"},
		{Feet.Way(8 * 1852), "8 sea miles"},
		{Metric.Way(8.46 * 1852), "8.5 sea miles"},
		{Metric.Way(0.25 * 1852), "0.25 sea miles"},
		{Metric.Way(1852), "1 sea mile"},
		{Metric.Way(-1234567 * 1852), "-1,234,567 sea miles"},
		{Metric.Way(0), "0 sea miles"},
		{Metric.Way(999.6 * 1852), "1,000 sea miles"},
		{Metric.Energy(4800 * 4184), "20.1 MJ (4,800 kcal)"},
		{Feet.Energy(110 * 4184), "460 kJ (110 kcal)"},
		{Metric.Energy(408000 * 4184), "1,707 MJ (408,000 kcal)"},
		{Metric.Energy(-5123 * 4184), "-21.4 MJ (-5,120 kcal)"},
		{Metric.Miles().Show(2043 * 1852), "2043 sea miles"},
		{Metric.Food().Show(4800 * 4184), "4800 kcal"},
		{TimesLike("4550 kcal", 0.5), "2275 kcal"},
		{TimesLike("1,4 L +- 10 %", 0.5), "0,7 L +- 10 %"},
		{TimesLike("1/2 L", 0.5), "0.25 L"},
		{TimesLike("10.0 L", 1./3), "3.33 L"},
		{TimesLike("half", 2), "half"},
	} {
		if r.got != r.want {
			t.Errorf("shown as %q, want %q", r.got, r.want)
		}
	}
}

func FuzzWay(f *testing.F) {
	fuzz(f, Ways, spreading(ParseWay), "8 nmi", "15 km", "60 sea miles", "8 NM", "1 1/2 nmi +- 10 %")
}

func FuzzEnergy(f *testing.F) {
	fuzz(f, Energies, spreading(ParseEnergy), "4800 kcal", "20.1 MJ", "1 kWh ± 100 Wh")
}

func FuzzPercent(f *testing.F) { fuzz(f, Percents, ParsePercent, "150 %", "1001%") }

func FuzzNearShare(f *testing.F) { fuzz(f, NearShares, nearShare, "18 % +- 4 %", "18%±1/2%") }
