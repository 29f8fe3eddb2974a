package head

import (
	"fmt"
	"math"

	"thole/internal/drift"
	"thole/internal/heading"
	"thole/internal/model"
	"thole/internal/underway"
)

// Drift is how she goes with nobody rowing.
type Drift struct {
	To    string  `json:"to"` // empty: left alone
	Wind  float64 `json:"wind_m_s"`
	From  float64 `json:"from_deg"` // where the wind comes from off the bow
	Speed Range   `json:"speed_m_s"`
	Off   float64 `json:"off_downwind_deg"`
	Pull  Range   `json:"pull_n"`
}

// Device is a sea anchor or a drogue with what it must bear.
type Device struct {
	Name     string  `json:"name"`
	End      string  `json:"end"`
	Area     float64 `json:"drag_area_m2"`
	Diameter float64 `json:"diameter_m"`
	// Wanted is what the published report asks of its diameter; nil for a series.
	Wanted *Range  `json:"diameter_wanted_m,omitempty"`
	Note   string  `json:"note,omitempty"`
	Design Range   `json:"design_load_n"`  // the boat struck by a breaking crest
	Steady Range   `json:"steady_load_n"`  // in 40 knots
	Line   *Bears  `json:"line,omitempty"` // nil where the folder gives no strength
	Fit    *Bears  `json:"fitting,omitempty"`
	Length float64 `json:"line_length_m,omitempty"`
}

// Bears is a strength, what is left of it, and how many times that is the design load.
type Bears struct {
	Strength float64 `json:"strength_n"`
	Left     float64 `json:"left_n"`
	Factor   float64 `json:"factor"`
	// Needs is the thinnest new nylon rope that would do with a factor of two, metres; 0 for a fitting or where none does.
	Needs float64 `json:"needs_m,omitempty"`
}

// Among is where her drift falls among published ones.
type Among struct {
	Share  float64 `json:"share_of_wind"`
	Rank   int     `json:"rank"`
	Of     int     `json:"of"`
	Slower string  `json:"slower,omitempty"`
	Faster string  `json:"faster,omitempty"`
	Low    float64 `json:"boats_low_m_s"`
	High   float64 `json:"boats_high_m_s"`
}

// driftWinds are those of the table of drift, knots; the last is that of the steady load.
var driftWinds = []float64{10, 20, 30, 40}

// drifts are left alone and to each device, by wind; brief, in the wind asked for alone.
func (q *ask) drifts(f *Figures, y *underway.Yaw, brief bool) error {
	b := y.Boat(y.AsTold())
	devices := q.c.Folder.Boat.SeaAnchors
	put := func(to string, wind float64, l []drift.Lying) {
		if i := beam(l); i >= 0 {
			f.Drifts = append(f.Drifts, Drift{To: to, Wind: wind, From: l[i].From.Value / deg, Speed: plain(l[i].Speed), Off: l[i].Divergence.Value / deg,
				Pull: Range{l[i].Steady.Value, l[i].Steady.Low, l[i].Steady.High}})
		}
	}
	one := func(wind float64, doubts []heading.Doubt) error {
		l, err := drift.Left(b, wind, doubts)
		if err != nil {
			return err
		}
		put("", wind, l)
		if i := beam(l); i >= 0 && doubts != nil {
			s := l[i].Among
			f.Among = &Among{Share: s.Share, Rank: s.Rank, Of: s.Of, Low: s.CraftLow, High: s.CraftHigh}
			if s.Slower != nil {
				f.Among.Slower = s.Slower.Object
			}
			if s.Faster != nil {
				f.Among.Faster = s.Faster.Object
			}
		}
		for k := range devices {
			l, err := drift.To(b, wind, underway.Device(&devices[k]), y.Fitting(&devices[k]), doubts)
			if err != nil {
				return err
			}
			put(devices[k].Name, wind, l)
		}
		return nil
	}
	if err := one(q.wind, heading.Doubts()); err != nil {
		return err
	}
	if brief {
		return q.gear(f, y)
	}
	told := len(f.Drifts)
	for _, k := range driftWinds {
		if math.Abs(k*knot-q.wind) < 1e-6 {
			continue
		}
		if err := one(k*knot, nil); err != nil {
			return err
		}
	}
	// The forces are square laws, so that a spread found in one wind is the same share in another.
	for i := told; i < len(f.Drifts); i++ {
		for j := range told {
			if d, r := &f.Drifts[i], f.Drifts[j]; d.To == r.To && r.Speed.Value > 0 {
				d.Speed.Low, d.Speed.High = d.Speed.Value*r.Speed.Low/r.Speed.Value, d.Speed.Value*r.Speed.High/r.Speed.Value
				if r.Pull.Value > 0 {
					d.Pull.Low, d.Pull.High = d.Pull.Value*r.Pull.Low/r.Pull.Value, d.Pull.Value*r.Pull.High/r.Pull.Value
				}
			}
		}
	}
	return q.gear(f, y)
}

// beam is the lying nearest beam-on, where a boat that is let go comes to lie first; -1 for none.
func beam(l []drift.Lying) int {
	out := -1
	for i := range l {
		if out < 0 || math.Abs(l[i].From.Value-math.Pi/2) < math.Abs(l[out].From.Value-math.Pi/2) {
			out = i
		}
	}
	return out
}

// gear is what sea anchors and drogues must bear.
func (q *ask) gear(f *Figures, y *underway.Yaw) error {
	mass := y.State.Mass
	for i := range q.c.Folder.Boat.SeaAnchors {
		s := &q.c.Folder.Boat.SeaAnchors[i]
		area, err := underway.Device(s).DragArea()
		if err != nil {
			return fmt.Errorf("boat.yaml: sea anchors: %s: %w", s.Name, err)
		}
		load, err := drift.DesignLoad(mass)
		if err != nil {
			return err
		}
		d := Device{Name: s.Name, End: string(underway.End(s)), Area: area.Value, Diameter: float64(s.Diameter), Note: load.Outside, Design: Range{load.Value, load.Low, load.High}}
		if s.Kind != model.SeriesDrogue {
			stern, bow, err := drift.DrogueDiameter(mass)
			if err != nil {
				return err
			}
			w := stern
			if underway.End(s) == model.Bow {
				w = bow
			}
			d.Wanted = &Range{w.Value, w.Low, w.High}
		}
		for _, r := range f.Drifts {
			if r.To == s.Name && math.Abs(r.Wind-driftWinds[len(driftWinds)-1]*knot) < 1e-6 {
				d.Steady = r.Pull
			}
		}
		if s.Line != nil {
			d.Length = float64(s.Line.Length)
			if s.Line.Strength > 0 {
				d.Line = bears(float64(s.Line.Strength), drift.ShareSpliced*drift.ShareWet, load.Value)
				if n, err := drift.Breaking(load.Value, drift.FactorPeak, drift.ShareSpliced*drift.ShareWet); err == nil {
					if rope, err := drift.Line(n); err == nil {
						d.Line.Needs = rope.Diameter
					}
				}
			}
		}
		if s.Fitting > 0 {
			d.Fit = bears(float64(s.Fitting), 1, load.Value)
		}
		f.Devices = append(f.Devices, d)
	}
	return nil
}

func bears(strength, share, load float64) *Bears {
	return &Bears{Strength: strength, Left: strength * share, Factor: strength * share / load}
}

// Anchor is one for the ground with what it must hold.
type Anchor struct {
	Name  string  `json:"name"`
	Mass  float64 `json:"mass_kg"`
	Load  Range   `json:"load_n"` // in 30 knots
	Note  string  `json:"note,omitempty"`
	Line  *Bears  `json:"line,omitempty"`
	Depth float64 `json:"deepest_m"` // at which her line and chain make seven to one
	Lies  []Lies  `json:"lies"`
}

// Lies is what an anchor wants in a depth.
type Lies struct {
	Depth float64 `json:"depth_m"`
	Out   float64 `json:"line_out_m"`
	Swing float64 `json:"swing_m"` // radius that her stern sweeps
	Short bool    `json:"short"`   // she has not so much
}

// What an anchor is asked: the wind of the table's own column, and seven times the height for a line with a short
// chain (common practice, no source).
const (
	anchorWind = 30 * knot
	scope      = 7
)

var depths = []float64{5, 10, 15}

// anchors is what her anchors must hold and how much room she swings in.
func (q *ask) anchors(f *Figures, y *underway.Yaw) error {
	length := y.View.To - y.View.From
	bow := 0.0
	if s := q.t.Ship.Sheer; len(s) > 0 {
		bow = math.Max(0, y.Above(s[0].X, s[0].Z))
	}
	for i := range q.c.Folder.Boat.Anchors {
		k := &q.c.Folder.Boat.Anchors[i]
		load, err := drift.HoldingLoad(length, anchorWind)
		if err != nil {
			return fmt.Errorf("boat.yaml: anchors: %s: %w", k.Name, err)
		}
		a := Anchor{Name: k.Name, Mass: float64(k.Mass), Load: Range{load.Value, load.Low, load.High}, Note: load.Outside}
		aboard := 0.0
		if k.Chain != nil {
			aboard += float64(k.Chain.Length)
		}
		if k.Line != nil {
			aboard += float64(k.Line.Length)
			if k.Line.Strength > 0 {
				a.Line = bears(float64(k.Line.Strength), drift.ShareSpliced*drift.ShareWet, load.Value)
			}
		}
		a.Depth = math.Max(0, aboard/scope-bow)
		for _, d := range depths {
			out, err := drift.Scope(d, bow, 0, scope)
			if err != nil {
				return err
			}
			swing, err := drift.Swing(d+bow, out, length)
			if err != nil {
				return err
			}
			a.Lies = append(a.Lies, Lies{Depth: d, Out: out, Swing: swing, Short: out > aboard})
		}
		f.Anchors = append(f.Anchors, a)
	}
	return nil
}
