package questions

import (
	"context"
	"encoding/json"
	"flag"
	"math"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"thole/internal/answer"
	"thole/internal/house/patience"
	"thole/internal/model"
	"thole/internal/units"
)

// anyBoat draws a boat that nobody would build, but that the reader would let through.
func anyBoat(t *rapid.T) *model.Folder {
	f := &model.Folder{}
	b := &f.Boat
	b.Hull.Scale, b.Hull.File = 1, "offsets.csv"
	if rapid.Bool().Draw(t, "measured") {
		b.Hull.Tolerance = units.Length(rapid.Float64Range(0.0001, 0.02).Draw(t, "tolerance"))
	}
	b.Camber = units.Length(rapid.SampledFrom([]float64{0, 0, 0.05, 0.3}).Draw(t, "camber"))
	n := rapid.IntRange(2, 7).Draw(t, "stations")
	x := 0.0
	for i := range n {
		st := model.Station{Label: string(rune('0' + i)), X: x}
		x += rapid.Float64Range(0.01, 3).Draw(t, "step")
		m := rapid.IntRange(1, 7).Draw(t, "points")
		var ys []float64
		for range m {
			ys = append(ys, rapid.SampledFrom([]float64{0, 0, 0.001, 0.3, 0.5, 0.8, 1.2}).Draw(t, "y"))
		}
		z := rapid.Float64Range(-0.5, 0.5).Draw(t, "keel")
		for k, y := range ys {
			p := model.Reading{Y: y, Z: z, Corner: k > 0 && k < m-1 && rapid.Bool().Draw(t, "corner")}
			if p.Corner && rapid.Bool().Draw(t, "named") {
				p.Knuckle = []string{"a", "b", "c", "d", "e", "f", "g"}[k]
			}
			st.Points = append(st.Points, p)
			z += rapid.SampledFrom([]float64{0.001, 0.1, 0.4}).Draw(t, "dz")
		}
		b.Hull.Readings.Stations = append(b.Hull.Readings.Stations, st)
	}
	if rapid.Bool().Draw(t, "well") {
		b.Wells = append(b.Wells, model.Well{Name: "well", OpenToTheSea: rapid.Bool().Draw(t, "open"), Readings: boxed(x*0.3, x*0.6, 0.4, 0.3, 3)})
	}
	if rapid.Bool().Draw(t, "cabin") {
		b.Cabins = append(b.Cabins, model.Cabin{Name: "cabin", Readings: boxed(x*0.5, x*rapid.SampledFrom([]float64{0.7, 1, 1.2}).Draw(t, "cabin end"), 0.5, 0.4, 1.5)})
	}
	rooms := rapid.IntRange(0, 4).Draw(t, "compartments")
	for i := range rooms {
		c := model.Compartment{Name: string(rune('A' + i)), From: x * float64(i) / float64(rooms), To: x * float64(i+1) / float64(rooms), Side: rapid.SampledFrom([]model.Side{model.Both, model.Both, model.Port, model.Starboard}).Draw(t, "side")}
		if top := rapid.Float64Range(-0.2, 1).Draw(t, "top"); rapid.Bool().Draw(t, "topped") {
			c.Top = &top
		}
		b.Compartments = append(b.Compartments, c)
		b.Openings = append(b.Openings, model.Opening{Name: "hatch " + c.Name, Width: 0.3, Height: 0.3, Into: c.Name, Closed: rapid.Bool().Draw(t, "closed"),
			At: r3.Vec{X: c.From, Y: rapid.Float64Range(-0.5, 0.5).Draw(t, "hatch y"), Z: rapid.Float64Range(-0.2, 1).Draw(t, "hatch z")}})
		b.Pumps = append(b.Pumps, model.Pump{Name: "pump " + c.Name, Hand: rapid.Bool().Draw(t, "by hand"), Stroke: 0.0004, Rate: 0.5, Flow: 0.0005, Reaches: []int{i}})
	}
	at := r3.Vec{X: x * rapid.Float64Range(0, 1).Draw(t, "gx"), Y: rapid.SampledFrom([]float64{0, 0, 0.01, -0.4}).Draw(t, "gy"), Z: rapid.Float64Range(-0.5, 2).Draw(t, "gz")}
	b.Weights = []model.Weight{{What: "all up", Count: 1, Mass: model.Mass{Value: units.Mass(rapid.Float64Range(0.5, 6000).Draw(t, "mass"))}, Where: model.Place{At: at, Compartment: -1}}}
	return f
}

func boxed(from, to, half, low, high float64) model.Readings {
	var r model.Readings
	for _, x := range []float64{from, to} {
		r.Stations = append(r.Stations, model.Station{X: x, Points: []model.Reading{{Z: low}, {Z: low, Y: half, Corner: true}, {Z: high, Y: half}}})
	}
	return r
}

// TestAnyBoat: whatever the boat, an answer or a plain error; never a panic, and no number
// that is not one (JSON has no word for those).
func TestAnyBoat(t *testing.T) {
	// Each boat is asked everything, which is slow under the race detector: fewer of them unless more are asked for.
	if f := flag.Lookup("rapid.checks"); f != nil && f.Value.String() == f.DefValue {
		checks := strconv.Itoa(patience.Rounds(40, 400))
		if testing.Short() {
			checks = "6"
		}
		if err := flag.Set("rapid.checks", checks); err != nil {
			t.Fatal(err)
		}
		defer func() { _ = flag.Set("rapid.checks", f.DefValue) }()
	}
	rapid.Check(t, func(rt *rapid.T) {
		f := anyBoat(rt)
		if !slices.ContainsFunc(f.Boat.Hull.Readings.Stations, func(s model.Station) bool {
			return slices.ContainsFunc(s.Points, func(p model.Reading) bool { return p.Y > 0 })
		}) {
			return
		}
		c := answer.NewCase(f)
		brief := rapid.IntRange(0, 3).Draw(rt, "in full when 0") > 0 // the whole sheet costs much and is asked of a quarter
		for _, q := range Table {
			a, err := q.Ask(context.Background(), c, answer.Options{Brief: brief})
			if err != nil {
				continue
			}
			if _, err := json.Marshal(a); err != nil {
				rt.Fatalf("%s: %v: %+v", q.ID, err, a)
			}
			if _, err := json.Marshal(a.Sheet); err != nil {
				rt.Fatalf("%s: sheet: %v", q.ID, err)
			}
			if a.Sentence == "" || a.Verdict == "" {
				rt.Fatalf("%s: no sentence: %+v", q.ID, a)
			}
			if a.Margin != nil && math.IsNaN(a.Margin.Value) {
				rt.Fatalf("%s: margin %+v", q.ID, a.Margin)
			}
		}
	})
}
