package units

import (
	"math"
	"regexp"
	"testing"

	"pgregory.net/rapid"
)

// Every sixteenth from -100 ft to 100 ft is written and read back.
func TestEighthsRoundTrip(t *testing.T) {
	for n := -100 * 192; n <= 100*192; n++ {
		l := Length(float64(n) * inch / 16)
		text := FeetInchesEighths(l)
		back, err := ParseLength(text)
		if err != nil || math.Abs(float64(back-l)) > 1e-12 {
			t.Fatalf("%d sixteenths: %q reads back as %v, %v", n, text, back, err)
		}
	}
}

func TestShown(t *testing.T) {
	for _, r := range []struct{ got, want string }{
		{FeetInchesEighths(0.6985), "2-3-4"},
		{FeetInchesEighths(0.3286125), "1-0-7+"},
		{FeetInchesEighths(0.2841625), "0-11-1+"},
		{Metric.Length(0.038), "38 mm"},
		{Metric.Length(-0.0001), "0 mm"},
		{Metric.Length(0.9996), "1.000 m"},
		{Metric.Length(3.42), "3.420 m"},
		{Metric.Length(12.345), "12.35 m"},
		{Feet.Length(0.0381), "1 1/2 in"},
		{Feet.Length(6.5532), "21 ft 6 in"},
		{Feet.Length(0.3048), "1 ft"},
		{Feet.Length(-0.3175), "-1 ft 1/2 in"},
		{Metric.Mass(0.35), "350 g"},
		{Metric.Mass(2.44), "2.4 kg"},
		{Metric.Mass(619.7), "620 kg"},
		{Feet.Mass(620), "1367 lb"},
		{Metric.Angle(math.Pi / 2), "90.0 deg"},
		{Metric.Density(1025), "1025 kg/m3"},
		{Feet.Density(1025), "64.0 lb/ft3"},
		{Metric.Volume(0.03), "30 L"},
		{Metric.Volume(1.25), "1.25 m3"},
		{Feet.Volume(0.03), "1.06 ft3"},
		{Metric.Fine().Show(0.0384), "38 mm"},
		{Feet.Fine().Show(0.0254), "1.00 in"},
		{Feet.Coarse().Show(0.3048), "1.00 ft"},
		{Feet.Heavy().Show(0.45359237), "1 lb"},
		{Feet.Pull().Show(4.4482216152605), "1.0 lbf"},
		{Feet.Turning().Show(1.3558179483314004), "1 lbf·ft"}, // NIST SP 811, appendix B.8
		{Metric.String() + Feet.String(), "metricfeet"},
	} {
		if r.got != r.want {
			t.Errorf("shown as %q, want %q", r.got, r.want)
		}
	}
}

// What is shown to people reads back, within half a step of what is shown.
func TestShownReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-30, 30).Draw(t, "metres")
		for _, c := range []struct {
			s   System
			tol float64
		}{{Metric, 0.005 + 1e-9}, {Feet, inch/16 + 1e-9}} {
			text := c.s.Length(Length(v))
			back, err := ParseLength(text)
			if err != nil || math.Abs(float64(back)-v) > c.tol {
				t.Fatalf("%v shown as %q, read back as %v, %v", v, text, back, err)
			}
		}
		kg := rapid.Float64Range(-3000, 3000).Draw(t, "kilograms")
		for _, s := range []System{Metric, Feet} {
			text := s.Mass(Mass(kg))
			back, err := ParseMass(text)
			if err != nil || math.Abs(float64(back)-kg) > 0.5+1e-9 {
				t.Fatalf("%v shown as %q, read back as %v, %v", kg, text, back, err)
			}
		}
		a := rapid.Float64Range(-7, 7).Draw(t, "radians")
		if back, err := ParseAngle(Metric.Angle(Angle(a))); err != nil || math.Abs(float64(back)-a) > 0.001 {
			t.Fatalf("%v read back as %v, %v", a, back, err)
		}
	})
}

// Each parser keeps to finite numbers, points inside the text, and to the
// pattern that the schema publishes.
func fuzz(f *testing.F, k Kind, parse func(string) (float64, error), seeds ...string) {
	for _, s := range append(seeds, "", " ", "+-", "42", "1e999 kg", "½", "\xff", "3 1/2 1/2", "−1 °", "42 kg +- 3%") {
		f.Add(s)
	}
	pattern := regexp.MustCompile(Pattern(k))
	plain := regexp.MustCompile(`^[ -~°′″’”½¼¾⅛⅜⅝⅞−³±]*$`)
	f.Fuzz(func(t *testing.T, text string) {
		v, err := parse(text)
		if err == nil {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%q is read as %v", text, v)
			}
			if plain.MatchString(text) && !pattern.MatchString(text) {
				t.Fatalf("%q is read, but does not fit %s", text, pattern)
			}
			return
		}
		e, ok := err.(*Error)
		if !ok || e.Offset < 0 || e.Offset > len(text) || e.Say == "" || e.Mend == "" || e.Kind == "" || e.Text != text {
			t.Fatalf("%q: poor error %#v", text, err)
		}
	})
}

func spreading[Q ~float64](parse func(string) (Q, error)) func(string) (float64, error) {
	return func(text string) (float64, error) {
		v, half, _, err := WithTolerance(text, parse)
		return float64(v) + float64(half), err
	}
}

func FuzzLength(f *testing.F) {
	fuzz(f, Lengths, spreading(ParseLength), "9 mm", "0.42 m", "21 ft 6 in", `6' 3 1/2"`, "2-3-4+", "-0-3-2-", "0", "2-3-4+ +- 3 mm")
}

func FuzzMass(f *testing.F) {
	fuzz(f, Masses, spreading(ParseMass), "620 kg", "3.5 lb", "12 st", "42 kg +- 10%", "42 kg ± 3 kg")
}

func FuzzDensity(f *testing.F) {
	fuzz(f, Densities, spreading(ParseDensity), "1025 kg/m3", "1.025 kg/L", "64 lb/ft³")
}

func FuzzVolume(f *testing.F) {
	fuzz(f, Volumes, spreading(ParseVolume), "30 L", "5 US gal", "5 imp gal", "5 gal", "0.2 m³")
}

func FuzzAngle(f *testing.F) {
	fuzz(f, Angles, spreading(ParseAngle), "12 deg", "12°", "0.2 rad", "2 deg ± 0.5 deg")
}

func FuzzLatitude(f *testing.F) {
	fuzz(f, Latitudes, plainly(ParseLatitude), "16.886 N", "16 53.2 N", "16° 53' 12\" S")
}

func FuzzLongitude(f *testing.F) {
	fuzz(f, Longitudes, plainly(ParseLongitude), "24.988 W", "24 59.3 E")
}

func FuzzDays(f *testing.F) {
	for _, s := range []string{"80 days", "80", "1 day", "1e9", "-1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if n, err := ParseDays(text); err == nil && (n < 1 || n > mostDays) {
			t.Fatalf("%q is read as %d days", text, n)
		}
	})
}

func FuzzShare(f *testing.F) {
	fuzz(f, Shares, ParseShare, "60%", "1/3 %", "101%")
}
