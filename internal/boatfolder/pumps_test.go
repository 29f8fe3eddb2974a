package boatfolder

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Pumps are read with their units, and reach compartments by name or number.
func TestPumps(t *testing.T) {
	yaml := smallest + `
compartments:
  - {number: 101, name: fore, from: 0.1 m, to: 0.4 m}
  - {name: aft, from: 0.5 m, to: 0.8 m}
pumps:
  - {name: by hand, kind: hand, stroke: 0.5 L, strokes a minute: 30, bore: 1 in, length: 2 m, outlet: 0.7 m, reaches: [aft, locker 101, aft]}
  - {name: electric, kind: electric, flow a minute: 30 L, greatest lift: 4 m, reaches: [101]}
`
	f, faults := inMemory(map[string]string{"boat.yaml": yaml, "offsets.csv": box})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	hand, other := f.Boat.Pumps[0], f.Boat.Pumps[1]
	const inch = 0.0254 // NIST SP 811, exactly
	if !hand.Hand || math.Abs(float64(hand.Stroke)-0.0005) > 1e-12 || math.Abs(hand.Rate-0.5) > 1e-12 || math.Abs(float64(hand.Bore)-inch) > 1e-9 ||
		hand.Outlet == nil || *hand.Outlet != 0.7 || !slices.Equal(hand.Reaches, []int{1, 0}) {
		t.Errorf("read as %+v", hand)
	}
	if other.Hand || math.Abs(other.Flow-0.0005) > 1e-12 || other.Shut != 4 || other.Outlet != nil || !slices.Equal(other.Reaches, []int{0}) {
		t.Errorf("read as %+v", other)
	}
	for _, bad := range []struct{ old, new, says string }{
		{"kind: hand", "kind: foot", `kind "foot" is not known`},
		{"kind: electric", "kind: hand", "worked by hand but has no stroke"},
		{"kind: hand", "kind: electric", "is electric but has a stroke"},
		{"stroke: 0.5 L, ", "", "neither stroke nor flow a minute"},
		{"strokes a minute: 30, ", "", "has stroke but no strokes a minute"},
		{"stroke: 0.5 L", "stroke: 0.5", "has no unit"},
		{"stroke: 0.5 L", "stroke: 0 L", "not above nothing"},
		{"bore: 1 in", "bore: -1 in", "not above nothing"},
		{"[101]", "[102]", `no compartment is called "102"`},
	} {
		text := strings.Replace(yaml, bad.old, bad.new, 1)
		if text == yaml {
			t.Fatalf("%q is not in the folder", bad.old)
		}
		_, faults := inMemory(map[string]string{"boat.yaml": text, "offsets.csv": box})
		if !slices.ContainsFunc(faults, func(f Fault) bool { return strings.Contains(f.String(), bad.says) }) {
			t.Errorf("%q: %v", bad.new, faults)
		}
	}
}
