package units

import (
	"errors"
	"math"
	"strings"
	"testing"
)

const (
	nist = "NIST SP 811 (2008), Appendix B.8, exact factors"
	si   = "SI Brochure, 9th ed. (2019), prefixes and table 8"
	form = "definition of feet-inches-eighths: (12 ft + in + eighths/8) x 25.4 mm, NIST inch"
)

// row is one check; its source must not be empty.
type row struct {
	name, input string
	want, tol   float64
	source      string
}

func check(t *testing.T, rows []row, parse func(string) (float64, error)) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" {
			t.Errorf("%s: no source", r.name)
		}
		got, err := parse(r.input)
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
		} else if !(math.Abs(got-r.want) <= r.tol) {
			t.Errorf("%s: %q is %.17g, want %.17g within %g (%s)", r.name, r.input, got, r.want, r.tol, r.source)
		}
	}
}

// plainly drops a named type, so that one table serves every parser.
func plainly[Q ~float64](parse func(string) (Q, error)) func(string) (float64, error) {
	return func(text string) (float64, error) {
		v, err := parse(text)
		return float64(v), err
	}
}

// rounding is a few units in the last place of the values checked.
const rounding = 1e-15

func TestLengths(t *testing.T) {
	check(t, []row{
		{"foot", "1 ft", 0.3048, 0, nist},
		{"inch", "1 in", 0.0254, 0, nist},
		{"millimetres", "9 mm", 0.009, 0, si},
		{"centimetres", "12.5 cm", 0.125, 0, si},
		{"metres", "0.42 m", 0.42, 0, si},
		{"feet and inches", "21 ft 6 in", 258 * 0.0254, rounding, nist},
		{"run together", "21ft6in", 258 * 0.0254, rounding, nist},
		{"ticks", `6' 3 1/2"`, 75.5 * 0.0254, rounding, nist},
		{"curled ticks", "6’ 3½”", 75.5 * 0.0254, rounding, nist},
		{"mixed fraction", "3 1/2 in", 0.0889, rounding, nist},
		{"fraction", "5/8 in", 0.015875, rounding, nist},
		{"minus is for the whole", "-2 ft 6 in", -0.762, rounding, nist},
		{"nothing", "0", 0, 0, "docs/boat-folder.md: a length of nothing may be written 0"},
		{"2-3-4", "2-3-4", 0.6985, rounding, form},
		{"sixteenth more", "1-0-7+", 0.3286125, rounding, form},
		{"sixteenth less", "0-11-2-", 0.2841625, rounding, form},
		{"no eighths", "3-10-0", 1.1684, rounding, form},
		{"small", "0-0-5+", 0.0174625, rounding, form},
		{"just under", "1-11-7+", 0.6080125, rounding, form},
		{"typeset minus", "0-11-2−", 0.2841625, rounding, form},
		{"exponent", "1.2e3 mm", 1.2, rounding, si},
	}, plainly(ParseLength))
}

func TestOtherQuantities(t *testing.T) {
	check(t, []row{
		{"pound", "1 lb", 0.45359237, 0, nist},
		{"ounce", "16 oz", 0.45359237, rounding, nist},
		{"stone", "12 st", 76.20351816, 1e-13, "UK Weights and Measures Act 1985, sch. 1: 14 lb; " + nist},
		{"gram", "350 g", 0.35, 0, si},
		{"tonne", "1.2 t", 1200, 1e-12, si},
		{"kilogram", "620 kg", 620, 0, si},
	}, plainly(ParseMass))
	check(t, []row{
		{"plain", "1025 kg/m3", 1025, 0, si},
		{"raised", "1025 kg/m³", 1025, 0, si},
		{"a litre", "1.025 kg/L", 1025, 1e-12, si},
		{"pounds", "1 lb/ft3", 16.01846, 5e-6, "NIST SP 811 (2008), B.9: pound per cubic foot 1.601 846 E+01, to its last figure"},
	}, plainly(ParseDensity))
	check(t, []row{
		{"litre", "30 L", 0.03, 0, si},
		{"cubic foot", "1 ft3", 0.028316846592, rounding, "0.3048 cubed; " + nist},
		{"US gallon", "1 US gal", 231 * 0.0254 * 0.0254 * 0.0254, rounding, "231 in3; " + nist},
		{"imperial gallon", "1 imp gal", 0.00454609, rounding, nist},
	}, plainly(ParseVolume))
	check(t, []row{
		{"degrees", "180 deg", math.Pi, rounding, si},
		{"sign", "90°", math.Pi / 2, rounding, si},
		{"radians", "0.2 rad", 0.2, 0, si},
	}, plainly(ParseAngle))
	check(t, []row{
		{"degrees", "16.886 N", 16.886 * math.Pi / 180, rounding, si},
		{"minutes", "16 53.2 N", (16 + 53.2/60) * math.Pi / 180, rounding, si},
		{"seconds", "16° 53′ 12″ S", -(16 + 53.2/60) * math.Pi / 180, rounding, si},
		{"pole", "90 N", math.Pi / 2, rounding, si},
	}, plainly(ParseLatitude))
	check(t, []row{
		{"west", "24.988 W", -24.988 * math.Pi / 180, rounding, si},
		{"date line", "180 E", math.Pi, rounding, si},
	}, plainly(ParseLongitude))
	check(t, []row{
		{"share", "60%", 0.6, 0, "arithmetic"},
		{"share, spaced", " 60 % ", 0.6, 0, "arithmetic"},
	}, ParseShare)
	check(t, []row{
		{"days", "80 days", 80, 0, "arithmetic"},
		{"one", "1 day", 1, 0, "arithmetic"},
		{"bare", "80", 80, 0, "docs/boat-folder.md, voyage.yaml: days: 80"},
	}, func(text string) (float64, error) { n, err := ParseDays(text); return float64(n), err })
}

func TestTolerances(t *testing.T) {
	check(t, []row{
		{"share", "42 kg +- 10%", 4.2, rounding, "arithmetic"},
		{"mass", "42 kg +- 3 kg", 3, 0, "arithmetic"},
		{"sign", "42 kg ± 500 g", 0.5, 0, "arithmetic"},
		{"slash", "42 kg +/- 3 kg", 3, 0, "arithmetic"},
		{"none", "42 kg", 0, 0, "arithmetic"},
	}, func(text string) (float64, error) {
		v, half, given, err := WithTolerance(text, ParseMass)
		if v != 42 || given != (text != "42 kg") {
			t.Errorf("%q: value %v, given %v", text, v, given)
		}
		return float64(half), err
	})
	check(t, []row{
		{"share of a negative", "-2 m +- 10%", 0.2, rounding, "arithmetic"},
		{"nothing give or take", "0 +- 20 mm", 0.02, 0, "arithmetic"},
		{"behind eighths", "2-3-4+ +- 3 mm", 0.003, 0, "arithmetic"},
	}, func(text string) (float64, error) {
		_, half, _, err := WithTolerance(text, ParseLength)
		return float64(half), err
	})
}

func TestFaults(t *testing.T) {
	length := plainly(ParseLength)
	mass := plainly(ParseMass)
	spread := func(text string) (float64, error) {
		v, _, _, err := WithTolerance(text, ParseMass)
		return float64(v), err
	}
	for _, r := range []struct {
		parse   func(string) (float64, error)
		input   string
		offset  int
		message string
	}{
		{mass, "42", 0, `mass "42" has no unit (write 42 kg)`},
		{mass, "42 Kg", 3, `mass "42 Kg" has "Kg" where a unit of mass is due (write 42 kg)`},
		{mass, "42 m", 3, `mass "42 m" has "m" where a unit of mass is due (write kg, g, t, lb, oz or st)`},
		{mass, "heavy", 0, `mass "heavy" does not start with a number (write it like 42 kg)`},
		{mass, "1,025 kg", 1, `mass "1,025 kg" has a comma in the number (write a point before decimals and nothing between thousands)`},
		{mass, "NaN kg", 0, `mass "NaN kg" does not start with a number (write it like 42 kg)`},
		{mass, "Inf kg", 0, `mass "Inf kg" does not start with a number (write it like 42 kg)`},
		{mass, "1e999 kg", 0, `mass "1e999 kg" is out of all bounds (write it like 42 kg)`},
		{mass, "", 0, `mass "" is empty (write it like 42 kg)`},
		{mass, strings.Repeat("9", 200), 80, `mass "9999999999999999999999999999999999999999…" is too long for a quantity (write it like 42 kg)`},
		{mass, "42 kg net", 6, `mass "42 kg net" has "net" left over at its end (write it like 42 kg)`},
		{spread, "42 kg +- 3", 9, `mass "42 kg +- 3" has the tolerance "3", which has no unit (write 3 kg)`},
		{spread, "42 kg +- 300%", 9, `quantity "42 kg +- 300%" has the tolerance "300%", which is more than the whole (write 100% or less)`},
		{spread, "42 kg +- -3 kg", 8, `quantity "42 kg +- -3 kg" has the tolerance "-3 kg", which is negative (write the half width without a sign)`},
		{length, "3.1", 0, `length "3.1" has no unit (write 3.1 m, or 3.1 mm)`},
		{length, "2-3", 0, `length "2-3" has two figures of feet-inches-eighths (write 2-3-0, or a unit)`},
		{length, "2-3-8", 4, `length "2-3-8" has 8 eighths or more at its end (feet-inches-eighths: eighths go from 0 to 7)`},
		{length, "2-12-0", 2, `length "2-12-0" has 12 inches or more in the middle (feet-inches-eighths: inches go from 0 to 11)`},
		{length, "2 ft 13 in", 5, `length "2 ft 13 in" has 12 inches or more behind feet (carry them into the feet)`},
		{length, "2 ft 3 mm", 7, `length "2 ft 3 mm" has something else than inches behind feet (write it like 21 ft 6 in)`},
		{length, "3 1/0 in", 1, `length "3 1/0 in" has a fraction that is not one (write it like 3 1/2 in)`},
		{plainly(ParseVolume), "5 gal", 2, `volume "5 gal" does not say which gallon (write 5 US gal or 5 imp gal)`},
		{plainly(ParseLatitude), "16.886", 6, `latitude "16.886" does not say N or S (write it like 16 53.2 N)`},
		{plainly(ParseLatitude), "16 60 N", 3, `latitude "16 60 N" has 60 minutes or seconds or more (carry them, and write it like 16 53.2 N)`},
		{plainly(ParseLatitude), "91 N", 0, `latitude "91 N" is more than 90 degrees (write it like 16 53.2 N)`},
		{ParseShare, "60", 2, `share "60" has no % (write 60%)`},
		{func(s string) (float64, error) { n, err := ParseDays(s); return float64(n), err }, "80.5", 0,
			`days "80.5" is not a whole number of days from 1 to 1000 (write it like 80 days)`},
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
