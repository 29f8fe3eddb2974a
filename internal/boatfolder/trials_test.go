package boatfolder

import (
	"math"
	"strings"
	"testing"

	"thole/internal/model"
)

// allTrials shows every kind of trial, for a boat without a voyage.
const allTrials = `floated:
  - date: 2026-09-14
    water: 1000 kg/m3
    remarks: flat calm
    freeboards:
      - {at: 0.60 m, side: both, height: 412 mm +- 4 mm}
      - {at: 5 m, side: port, height: 16 in}
      - {at: 5 m, side: starboard, height: 0.4 m}
inclined:
  - date: 2026-09-14
    also aboard: [{what: sand, mass: 25 kg, count: 2, at: [3 m, 0 m, 0.3 m]}]
    moves:
      - {mass: 25 kg, across: 1.2 m +- 3 mm, pendulum: 1.5 m, deflection: 83 mm +- 1 mm}
      - {mass: 25 kg +- 1 kg, across: -1.2 m, angle: -3.2 deg}
rolled:
  - {date: 2026-09-14, day: 0, crew: As Loaded, rolls: 10, seconds: 21.4}
turned over:
  - {date: 2026-09-20, ballast: jugs, hatches: dogged, seconds: 4, righted: no, mass: 884 kg +- 1 kg, height of gravity: 448 mm +- 2 mm, stamp: "9d6d"}
`

func TestTrials(t *testing.T) {
	f := mustRead(t, map[string]string{"trials.yaml": allTrials})
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %v, want %v (docs/boat-folder.md; NIST SP 811 for the inch)", what, got, want)
		}
	}
	fl := f.Trials.Floated[0]
	near("height", fl.Freeboards[0].Height, 0.412)
	near("its tolerance", fl.Freeboards[0].Tolerance, 0.004)
	near("inches", fl.Freeboards[1].Height, 16*0.0254)
	near("water", float64(fl.Water), 1000)
	if fl.Freeboards[0].Side != model.Both || fl.Freeboards[1].Side != model.Port || fl.Freeboards[2].Side != model.Starboard || fl.Remarks != "flat calm" {
		t.Errorf("floated %+v", fl)
	}
	in := f.Trials.Inclined[0]
	near("across", in.Moves[0].AcrossTolerance, 0.003)
	near("deflection", in.Moves[0].Deflection, 0.083)
	near("2 % of a weighed mass", float64(in.Moves[0].Mass.Tolerance), 0.5)
	near("angle", in.Moves[1].Angle, -3.2*math.Pi/180)
	if len(in.Also) != 1 || in.Also[0].Count != 2 || in.Moves[1].Pendulum != 0 {
		t.Errorf("inclined %+v", in)
	}
	if r := f.Trials.Rolled[0]; r.Rolls != 10 || r.Seconds != 21.4 || r.Crew != model.AsLoaded {
		t.Errorf("rolled %+v", r)
	}
	o := f.Trials.Turned[0]
	near("height of gravity", *o.Height, 0.448)
	near("its tolerance", o.HeightTolerance, 0.002)
	if o.Righted || o.Stamp != "9d6d" || float64(o.Mass.Value) != 884 || o.Date.Format("2006-01-02") != "2026-09-20" {
		t.Errorf("turned over %+v", o)
	}
}

// The folder's stamp that is written down in trials.yaml does not change by being written there.
func TestStampLeavesTrialsOut(t *testing.T) {
	a := mustRead(t, map[string]string{"trials.yaml": allTrials})
	b := mustRead(t, map[string]string{"trials.yaml": strings.Replace(allTrials, "9d6d", a.Stamp, 1)})
	c := mustRead(t, map[string]string{"trials.yaml": allTrials, "stores.csv": "what,mass,where\nrice,2 kg,3 m; 0 m; 0.2 m\n"})
	if a.Stamp == "" || a.Stamp != b.Stamp || a.Stamp == c.Stamp {
		t.Errorf("stamps %q, %q, %q", a.Stamp, b.Stamp, c.Stamp)
	}
}
