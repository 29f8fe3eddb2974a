package passage

import (
	"context"
	"encoding/json"
	"math"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/units"
)

// at is a place in degrees.
func at(name string, lat, lon float64) model.Waypoint {
	return model.Waypoint{Name: name, Lat: units.Angle(lat * math.Pi / 180), Lon: units.Angle(lon * math.Pi / 180), Given: true}
}

// TestOddVoyages: voyages that nobody plans but that a file may hold are answered or refused in words; a map over the 180th meridian is one piece.
//
// Source: property
func TestOddVoyages(t *testing.T) {
	base := answer.NewCase(demo(t, "sanderling"))
	for i, c := range []struct {
		name   string
		change func(v *model.Voyage)
		full   bool
	}{
		{"over the 180th meridian", func(v *model.Voyage) {
			v.From, v.To, v.By, v.Days = at("A", -8, 178), at("B", -9.5, -179.4), nil, 20
		}, true},
		{"nowhere", func(v *model.Voyage) { v.To = v.From; v.By = nil }, false},
		{"one day", func(v *model.Voyage) { v.Days = 1 }, false},
		{"to the middle of a continent", func(v *model.Voyage) { v.To = at("inland", 15, 10); v.By = nil }, false},
		{"against the trades", func(v *model.Voyage) { v.From, v.To, v.By = v.To, v.From, nil }, false},
		{"from the pole", func(v *model.Voyage) { v.From = at("pole", 90, 0) }, false},
		{"a leap day far off", func(v *model.Voyage) { v.Leave = time.Date(2400, 2, 29, 0, 0, 0, 0, time.UTC) }, false},
	} {
		if testing.Short() && i > 1 {
			return
		}
		f := demo(t, "sanderling")
		c.change(f.Voyage)
		a, err := Ask(context.Background(), answer.NewCaseFrom(f, base), answer.Options{Bare: !c.full || testing.Short()})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		t.Logf("%s: %s", c.name, a.Sentence)
		for _, v := range []any{a, a.Sheet} {
			if _, err := json.Marshal(v); err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
		}
		if a.Margin != nil && a.Margin.Judge() != a.Verdict || a.Margin == nil && a.Verdict != answer.CannotTell {
			t.Errorf("%s: %s with %+v", c.name, a.Verdict, a.Margin)
		}
		if len(a.Sheet.Blocks) == 0 || a.Sheet.Blocks[0].Map == nil {
			continue
		}
		m := a.Sheet.Blocks[0].Map
		for _, tr := range m.Tracks {
			for k := 1; k < len(tr.Points); k++ { // a day's way is no leap over the map
				if d := math.Hypot(tr.Points[k][0]-tr.Points[k-1][0], tr.Points[k][1]-tr.Points[k-1][1]); d > 200*m.Mile {
					t.Errorf("%s: %s goes %.0f miles in a day on the map", c.name, tr.Name, d/m.Mile)
				}
			}
		}
		for k := 1; k < len(m.X); k++ {
			if m.X[k] <= m.X[k-1] {
				t.Errorf("%s: columns do not rise: %v", c.name, m.X)
				break
			}
		}
	}
}
