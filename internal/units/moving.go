package units

import (
	"math"
	"strings"
)

// Speed is in metres a second.
type Speed float64

// Force is in newtons.
type Force float64

// Power is in watts.
type Power float64

// Energy is in joules.
type Energy float64

// Temperature is in degrees Celsius.
type Temperature float64

// Duration is in seconds.
type Duration float64

// The knot is 1852 m an hour and the mile 1609.344 m, exact by definition.
//
// Source: NIST Special Publication 811 (2008), Appendix B.8.
var speedUnits = []unit{
	{1852, 3600, []string{"kn", "knot", "knots", "kt", "kts"}},
	{1, 1, []string{"m/s"}},
	{1000, 3600, []string{"km/h"}},
	{1609.344, 3600, []string{"mph"}},
}

// gravity is the standard one, exact by definition: what a kilogram and a pound weigh.
//
// Source: NIST Special Publication 811 (2008), Appendix B.8.
const gravity = 9.80665

var forceUnits = []unit{
	{1000, 1, []string{"kN"}},
	{1, 1, []string{"N", "newton", "newtons"}},
	{10, 1, []string{"daN"}},
	{gravity, 1, []string{"kgf"}},
	{pound * gravity, 1, []string{"lbf"}},
}

// A horsepower is 550 foot-pounds-force a second.
//
// Source: NIST Special Publication 811 (2008), Appendix B.8.
var powerUnits = []unit{
	{1, 1, []string{"W", "watt", "watts"}},
	{1000, 1, []string{"kW"}},
	{550 * 0.3048 * pound * gravity, 1, []string{"hp"}},
}

var durationUnits = []unit{
	{3600, 1, []string{"h", "hour", "hours"}},
	{60, 1, []string{"min", "minute", "minutes"}},
	{1, 1, []string{"s", "second", "seconds"}},
}

// temperatureUnits are steps of a degree Celsius; the second row's scale starts at freezeF.
var temperatureUnits = []unit{
	{1, 1, []string{"C", "°C", "deg C"}},
	{5, 9, []string{"F", "°F", "deg F"}},
}

const (
	fahrenheitRow = 1
	// freezeF is 0 degrees Celsius in degrees Fahrenheit, exact by definition.
	//
	// Source: NIST Special Publication 811 (2008), section B.8, temperature.
	freezeF = 32
)

// ParseSpeed reads a speed: 20 kn, 10 m/s, 36 km/h, 23 mph.
func ParseSpeed(text string) (Speed, error) {
	v, err := one("speed", text, "20 kn", "kn", speedUnits)
	return Speed(v), err
}

// ParseForce reads a force: 22 kN, 84 N, 2200 kgf, 500 lbf.
func ParseForce(text string) (Force, error) {
	v, err := one("force", text, "22 kN", "kN", forceUnits)
	return Force(v), err
}

// ParsePower reads a power: 75 W, 0.1 kW, 0.1 hp.
func ParsePower(text string) (Power, error) {
	v, err := one("power", text, "75 W", "W", powerUnits)
	return Power(v), err
}

// ParseDuration reads a time: 12 h, 90 min, 40 s.
func ParseDuration(text string) (Duration, error) {
	v, err := one("time", text, "12 h", "h", durationUnits)
	return Duration(v), err
}

// ParseTemperature reads a temperature: 26 C, -1.5 °C, 79 F. It takes no tolerance: a share of a temperature says
// nothing, and a step of it is not written like one.
func ParseTemperature(text string) (Temperature, error) {
	s, err := newScan("temperature", text, "26 C")
	if err != nil {
		return 0, err
	}
	sign := s.sign()
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	if s.end() {
		return 0, s.bare("C")
	}
	i, err := s.unit(temperatureUnits)
	if err != nil {
		return 0, err
	}
	if v *= sign; i == fahrenheitRow {
		v -= freezeF
	}
	return Temperature(v * temperatureUnits[i].mul / temperatureUnits[i].div), s.done()
}

// ParseEvery reads how often a thing is done, in whole days: every 14 days, 14 days, 14.
//
// Out: from 1 to 1000
func ParseEvery(text string) (int, error) {
	rest := strings.TrimLeft(text, " ")
	if len(rest) >= 6 && strings.EqualFold(rest[:5], "every") && rest[5] == ' ' {
		rest = rest[6:]
	}
	n, err := ParseDays(rest)
	if e, ok := shift(err, text, len(text)-len(rest)).(*Error); ok {
		e.Mend = "write it like every 14 days"
		return 0, e
	}
	return n, err
}

// Speed writes a speed for people, in knots: 1.8 kn.
func (s System) Speed(v Speed) string { return fixed(float64(v)*3600/1852, 1) + " kn" }

// Force writes a force for people: 84 N, 22.0 kN; or 4946 lbf.
func (s System) Force(f Force) string {
	switch v := float64(f); {
	case s == Feet:
		return fixed(v/(pound*gravity), 0) + " lbf"
	case math.Abs(v) < 999.5:
		return fixed(v, 0) + " N"
	default:
		return fixed(v/1000, 1) + " kN"
	}
}

// Power writes a power for people: 75 W.
func (s System) Power(p Power) string { return fixed(float64(p), 0) + " W" }

// Temperature writes a temperature for people: 26.0 C; or 78.8 F.
func (s System) Temperature(t Temperature) string {
	if s == Feet {
		return fixed(float64(t)*9/5+freezeF, 1) + " F"
	}
	return fixed(float64(t), 1) + " C"
}

// Duration writes a time for people: 40 s, 25 min, 12.0 h.
func (s System) Duration(d Duration) string {
	switch v := math.Abs(float64(d)); {
	case v < 59.5:
		return fixed(float64(d), 0) + " s"
	case v < 59.5*60:
		return fixed(float64(d)/60, 0) + " min"
	}
	return fixed(float64(d)/3600, 1) + " h"
}
