package answer

import (
	"math"
	"testing"

	"thole/internal/units"
)

// The figure has a sign and the unit that the folder asks for.
//
// Source: NIST SP 811 for the inch and the pound
func TestShownChange(t *testing.T) {
	for _, c := range []struct {
		name   string
		change float64
		unit   string
		sys    units.System
		want   string
		source string
	}{
		{"far", 0.0123, "m", units.Metric, "+12 mm", "1000 mm to the metre"},
		{"near", -0.0004, "m", units.Metric, "−0.4 mm", "1000 mm to the metre"},
		{"nothing", 0.000001, "m", units.Metric, "0", "less than is written"},
		{"inches", 0.0254, "m", units.Feet, "+1.00 in", "25.4 mm to the inch"},
		{"pounds", -0.45359237 * 20, "kg", units.Feet, "−20 lb", "exact by definition"},
		{"turn", math.Pi / 180, "rad", units.Metric, "+1.00 deg", "180 degrees to pi"},
		{"one lost", 1, "losses", units.Metric, "+1 loss", "counted"},
		{"two lost", -2, "losses", units.Feet, "−2 losses", "counted"},
		{"none lost", 0, "losses", units.Metric, "0", "counted"},
		{"water", 0.0123, "m3", units.Metric, "+12 L", "1000 L to the cubic metre"},
		{"days", -2.5, "d", units.Metric, "−2.5 days", "as it is"},
		{"time", 12.4, "s", units.Metric, "+12 s", "as it is"},
	} {
		if got := ShownChange(c.change, c.unit, c.sys); got != c.want {
			t.Errorf("%s: %q, want %q (%s)", c.name, got, c.want, c.source)
		}
	}
}
