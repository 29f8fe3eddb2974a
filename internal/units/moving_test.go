package units

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestMovingQuantities(t *testing.T) {
	check(t, []row{
		{"knot", "1 kn", 0.5144444, 5e-8, "NIST SP 811 (2008), B.8: knot 5.144 444 E-01, to its last figure"},
		{"knots", "36 knots", 36 * 1852.0 / 3600, rounding * 20, "NIST SP 811 (2008), B.8: the nautical mile is 1852 m exactly"},
		{"metres a second", "10 m/s", 10, 0, si},
		{"kilometres an hour", "36 km/h", 10, rounding * 10, si},
		{"miles an hour", "1 mph", 0.44704, rounding, nist},
	}, plainly(ParseSpeed))
	check(t, []row{
		{"kilonewtons", "22 kN", 22000, 0, si},
		{"newtons", "84 N", 84, 0, si},
		{"decanewtons", "1000 daN", 10000, 0, si},
		{"kilogram-force", "1 kgf", 9.80665, 0, nist},
		{"pound-force", "1 lbf", 4.448222, 5e-7, "NIST SP 811 (2008), B.8: pound-force 4.448 222 E+00, to its last figure"},
	}, plainly(ParseForce))
	check(t, []row{
		{"watts", "75 W", 75, 0, si},
		{"kilowatts", "0.1 kW", 100, 1e-13, si},
		{"horsepower", "1 hp", 745.6999, 5e-5, "NIST SP 811 (2008), B.8: horsepower (550 ft.lbf/s) 7.456 999 E+02, to its last figure"},
	}, plainly(ParsePower))
	check(t, []row{
		{"hours", "12 h", 43200, 0, si},
		{"minutes", "90 min", 5400, 0, si},
		{"half hours", "1 1/2 hours", 5400, 0, si},
		{"seconds", "40 s", 40, 0, si},
	}, plainly(ParseDuration))
	check(t, []row{
		{"Celsius", "26 C", 26, 0, si},
		{"below freezing", "-1.5 °C", -1.5, 0, si},
		{"freezing", "32 F", 0, 0, "NIST SP 811 (2008), B.8: t/°C = (t/°F - 32)/1.8"},
		{"boiling", "212 °F", 100, rounding * 100, "NIST SP 811 (2008), B.8: t/°C = (t/°F - 32)/1.8"},
		{"where the scales meet", "-40 deg F", -40, rounding * 100, "NIST SP 811 (2008), B.8: t/°C = (t/°F - 32)/1.8"},
	}, plainly(ParseTemperature))
	check(t, []row{
		{"every", "every 14 days", 14, 0, "docs/boat-folder.md, voyage.yaml: scrape"},
		{"every day", "Every 1 day", 1, 0, "docs/boat-folder.md, voyage.yaml: scrape"},
		{"days", "14 days", 14, 0, "docs/boat-folder.md, voyage.yaml: scrape"},
	}, everyDay)
}

func everyDay(text string) (float64, error) { n, err := ParseEvery(text); return float64(n), err }

func TestMovingErrors(t *testing.T) {
	for _, r := range []struct {
		parse   func(string) (float64, error)
		input   string
		offset  int
		message string
	}{
		{plainly(ParseSpeed), "20", 0, `speed "20" has no unit (write 20 kn)`},
		{plainly(ParseSpeed), "20 kN", 3, `speed "20 kN" has "kN" where a unit of speed is due (write 20 kn)`},
		{plainly(ParseForce), "22 kn", 3, `force "22 kn" has "kn" where a unit of force is due (write 22 kN)`},
		{plainly(ParseForce), "2200 kg", 5, `force "2200 kg" has "kg" where a unit of force is due (write kN, N, daN, kgf or lbf)`},
		{plainly(ParsePower), "75", 0, `power "75" has no unit (write 75 W)`},
		{plainly(ParseTemperature), "26", 0, `temperature "26" has no unit (write 26 C)`},
		{plainly(ParseTemperature), "26 K", 3, `temperature "26 K" has "K" where a unit of temperature is due (write C or F)`},
		{plainly(ParseTemperature), "26 C +- 2 C", 5, `temperature "26 C +- 2 C" has "+- 2 C" left over at its end (write it like 26 C)`},
		{plainly(ParseDuration), "12", 0, `time "12" has no unit (write 12 h)`},
		{everyDay, "every 2.5 days", 6, `days "every 2.5 days" is not a whole number of days from 1 to 1000 (write it like every 14 days)`},
		{everyDay, "every fortnight", 6, `days "every fortnight" does not start with a number (write it like every 14 days)`},
		{everyDay, "every ", 6, `days "every " is empty (write it like every 14 days)`},
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

func TestMovingShown(t *testing.T) {
	for _, r := range []struct{ got, want string }{
		{Metric.Speed(0.926), "1.8 kn"},
		{Feet.Speed(-0.001), "0.0 kn"},
		{Metric.Force(84.4), "84 N"},
		{Metric.Force(999.7), "1.0 kN"},
		{Metric.Force(-22000), "-22.0 kN"},
		{Feet.Force(22000), "4946 lbf"},
		{Metric.Power(74.6), "75 W"},
		{Metric.Temperature(26), "26.0 C"},
		{Feet.Temperature(26), "78.8 F"},
		{Metric.Duration(40), "40 s"},
		{Metric.Duration(1500), "25 min"},
		{Metric.Duration(43200), "12.0 h"},
	} {
		if r.got != r.want {
			t.Errorf("shown as %q, want %q", r.got, r.want)
		}
	}
}

// What is shown to people reads back, within half a step of what is shown.
func TestMovingShownReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, c := range []struct {
			name  string
			most  float64
			show  func(s System, v float64) string
			parse func(string) (float64, error)
			tol   func(v float64) float64
		}{
			{"speed", 60, func(s System, v float64) string { return s.Speed(Speed(v)) }, plainly(ParseSpeed), func(float64) float64 { return 0.05 * 1852 / 3600 }},
			{"force", 1e5, func(s System, v float64) string { return s.Force(Force(v)) }, plainly(ParseForce), func(v float64) float64 {
				if math.Abs(v) < 999.5 {
					return pound * gravity / 2
				}
				return 50
			}},
			{"power", 1000, func(s System, v float64) string { return s.Power(Power(v)) }, plainly(ParsePower), func(float64) float64 { return 0.5 }},
			{"temperature", 60, func(s System, v float64) string { return s.Temperature(Temperature(v)) }, plainly(ParseTemperature), func(float64) float64 { return 0.05 }},
			{"time", 1e5, func(s System, v float64) string { return s.Duration(Duration(v)) }, plainly(ParseDuration), func(v float64) float64 {
				switch {
				case math.Abs(v) < 59.5:
					return 0.5
				case math.Abs(v) < 59.5*60:
					return 30
				}
				return 180
			}},
		} {
			v := rapid.Float64Range(-c.most, c.most).Draw(t, c.name)
			for _, s := range []System{Metric, Feet} {
				text := c.show(s, v)
				back, err := c.parse(text)
				if err != nil || math.Abs(back-v) > c.tol(v)+1e-9 {
					t.Fatalf("%v shown as %q, read back as %v, %v", v, text, back, err)
				}
			}
		}
	})
}

func FuzzSpeed(f *testing.F) {
	fuzz(f, Speeds, spreading(ParseSpeed), "20 kn", "10 m/s", "36 km/h", "23 mph", "20 kn +- 10%")
}

func FuzzForce(f *testing.F) {
	fuzz(f, Forces, spreading(ParseForce), "22 kN", "84 N", "2200 kgf", "500 lbf ± 3 N")
}

func FuzzPower(f *testing.F) {
	fuzz(f, Powers, spreading(ParsePower), "75 W +- 15 W", "0.1 hp", "1 kW")
}

func FuzzDuration(f *testing.F) {
	fuzz(f, Durations, spreading(ParseDuration), "12 h", "90 min", "1 1/2 hours")
}

func FuzzTemperature(f *testing.F) {
	fuzz(f, Temperatures, plainly(ParseTemperature), "26 C", "-1.5 °C", "79 F", "26 deg C")
}

func FuzzEvery(f *testing.F) {
	for _, s := range []string{"every 14 days", "14 days", "14", "every", "every every 3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, err := ParseEvery(text)
		if err == nil && (n < 1 || n > mostDays) {
			t.Fatalf("%q is read as every %d days", text, n)
		}
		if e, ok := err.(*Error); err != nil && (!ok || e.Offset < 0 || e.Offset > len(text) || e.Text != text) {
			t.Fatalf("%q: poor error %#v", text, err)
		}
	})
}
