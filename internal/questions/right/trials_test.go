package right

import (
	"math"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/units"
)

func tableOf(a answer.Answer, heading string) *sheet.Table {
	for _, b := range a.Sheet.Blocks {
		if b.Table != nil && strings.HasPrefix(b.Table.Heading, heading) {
			return b.Table
		}
	}
	return nil
}

// tried is a box 6 x 1.5 x 0.8 m of 1500 kg, inclined as if her gravity lay at kg.
func tried(kg float64) *model.Folder {
	f := prism(6, [][2]float64{{0, 0}, {0.75, 0}, {0.75, 0.8}}, 1500, r3.Vec{X: 3, Z: 0.3})
	f.Boat.Weights[0].Mass.Tolerance = 15
	f.Stamp = "now"
	draft := 1500 / (6 * 1.5 * 1025.0)
	bm := 1.5 * 1.5 / (12 * draft)
	var moves []model.Move
	for _, heel := range []float64{2 * deg, 3 * deg, -3 * deg} {
		tan := math.Tan(heel)
		moves = append(moves, model.Move{Mass: model.Mass{Value: 50, Tolerance: 0.5}, Across: 30 * tan * (draft/2 + bm - kg + bm/2*tan*tan), Pendulum: 1.5, Deflection: 1.5 * tan})
	}
	f.Trials = &model.Trials{Inclined: []model.Inclined{{Moves: moves}}, Rolled: []model.Rolled{{Rolls: 10, Seconds: 18}}}
	return f
}

func cautioned(a answer.Answer, part string) bool {
	return strings.Contains(strings.Join(a.Cautions, "\n"), part)
}

// TestInclinedAgainstTheBook: the wall-sided formula, closed form, gives the heels; the table gives the height back.
func TestInclinedAgainstTheBook(t *testing.T) {
	a, _ := answered(t, tried(0.40), answer.Options{})
	row := tableOf(a, "Height of gravity, inclined").Rows[0]
	run(t, []check{
		{"measured, mm", row[1].Value, 400, 1e-4, "wall-sided formula, closed form"},
		{"by the book, mm", row[3].Value, 300, 1e-9, "the folder"},
		{"higher, mm", row[5].Value, 100, 1e-4, "difference"},
	})
	if !row[5].Loud || !cautioned(a, "100 mm higher than the book") {
		t.Errorf("a boat 100 mm top-heavier than her book: %v", a.Cautions)
	}
	draft := 1500 / (6 * 1.5 * 1025.0)
	gm := draft/2 + 1.5*1.5/(12*draft) - 0.4
	run(t, []check{{"her own f", tableOf(a, "Rolls counted").Rows[0][4].Value, 1.8 * math.Sqrt(gm) / 1.5, 1e-6, "GM = (f B / T)² solved for f"}})
	if a, _ = answered(t, tried(0.30), answer.Options{}); cautioned(a, "higher than the book") {
		t.Errorf("she is as her book: %v", a.Cautions)
	}
	f := tried(0.3)
	f.Trials.Inclined[0].Moves[1].Deflection *= -1
	a, _ = answered(t, f, answer.Options{})
	if row := tableOf(a, "Height of gravity, inclined").Rows[0]; !strings.Contains(row[7].Text, "heeled away from the weight") || !row[1].Empty {
		t.Errorf("%+v", row)
	}
}

// TestTurnedOver: a test that no longer covers her is told, one that does is not, and one that failed is believed.
func TestTurnedOver(t *testing.T) {
	on := time.Date(2026, 9, 19, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name    string
		mass, z float64
		stamp   string
		righted bool
		want    string // in a caution; empty for none
	}{
		{"as she was", 1500, 0.3, "now", true, ""},
		{"no stamp", 1500.2, 0.3, "", true, ""},
		{"a mast", 1490, 0.295, "then", true, "You changed something above deck since 2026-09-19: 10 kg heavier, centre of gravity 5 mm higher. Your last test no longer covers her."},
		{"less ballast", 1550, 0.29, "then", true, "You changed something aboard since 2026-09-19: 50 kg lighter, centre of gravity 10 mm higher."},
		{"another file", 1500, 0.3, "then", true, "The folder has been changed since she was turned over on 2026-09-19."},
		{"stayed over", 1500, 0.3, "now", false, "Turned over on 2026-09-19 she did not come back by herself."},
	} {
		f := tried(0.3)
		f.Trials.Turned = []model.TurnedOver{{Trial: model.Trial{Date: on}, Righted: c.righted, Mass: &model.Mass{Value: units.Mass(c.mass)}, Height: &c.z, Stamp: c.stamp}}
		a, _ := answered(t, f, answer.Options{})
		if c.want != "" && !cautioned(a, c.want) {
			t.Errorf("%s: want %q in %q", c.name, c.want, a.Cautions)
		}
		if c.want == "" && (cautioned(a, "test") && cautioned(a, "2026-09-19")) {
			t.Errorf("%s: %q", c.name, a.Cautions)
		}
		if len(tableOf(a, "Turned over in harbour").Rows) != 1 {
			t.Errorf("%s: no row", c.name)
		}
	}
	// An older test of the same load is history once there is a newer one.
	f := tried(0.3)
	z := 0.3
	f.Trials.Turned = []model.TurnedOver{{Trial: model.Trial{Date: on}}, {Trial: model.Trial{Date: on.AddDate(0, 1, 0)}, Righted: true, Height: &z}}
	if a, _ := answered(t, f, answer.Options{}); cautioned(a, "did not come back") {
		t.Errorf("%q", a.Cautions)
	}
}
