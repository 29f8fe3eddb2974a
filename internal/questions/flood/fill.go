package flood

import (
	"math"

	"thole/internal/answer"
	"thole/internal/cuts"
	"thole/internal/hydraulics"
	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/units"
)

// holeSize is the diameter of the hole that times are told for. A choice, no source.
const holeSize = 0.05

// nearlyFull is the share of the water she ends with at which a space is said to be full: the last of it
// comes ever more slowly.
const nearlyFull = 0.95

// What a pump is taken at where boat.yaml does not say. All common practice, no source.
const (
	usualBore   = 0.025
	usualLength = 3.0
	usualShut   = 4.0
	strokeFill  = 0.8  // share of a hand pump's stroke that is water
	handTravel  = 0.30 // m; for the work only, of which nothing is shown
	handYield   = 0.6
	strainer    = 1.5 // loss coefficient of a foot strainer
)

// Filling is one compartment running full through the hole.
type Filling struct {
	Compartment string  `json:"compartment"`
	Volume      float64 `json:"volume_m3"`         // of all of it
	Water       float64 `json:"water_m3"`          // once she is at rest with it holed
	Dry         bool    `json:"above_water"`       // it stands above the water: no hole at the water line reaches it
	First       float64 `json:"inflow_m3_per_s"`   // while it is empty
	Minutes     float64 `json:"minutes,omitempty"` // to nineteen twentieths of Water; 0 when it never gets there
}

// Pumping is one pump in one compartment.
type Pumping struct {
	Compartment string  `json:"compartment"`
	Pump        string  `json:"pump"`
	Lift        float64 `json:"lift_m"` // from the compartment's bottom to the hose's end
	Loss        float64 `json:"hose_loss_m"`
	Flow        float64 `json:"flow_m3_per_s"`
	Strokes     int     `json:"strokes,omitempty"` // of a hand pump, to empty it with the hole stopped
	Minutes     float64 `json:"minutes"`           // likewise; 0 when the pump cannot lift so high
	Beats       bool    `json:"beats_the_hole"`    // it moves more than the hole lets in while the compartment is empty
}

// height is how high a plane of water stands over a room's middle, along the boat's own upright.
func (r *room) height(p cuts.Plane) float64 {
	return (p.Level + p.Slope*r.centre.X + r.centre.Y*p.Sin) / p.Cos
}

// basin is the water a room holds by the height over its middle, its surface tilted as the sea's is to the
// boat at rest; ok is false for a room too thin to be one.
func (r *room) basin(a hydro.Attitude, share float64) (b hydraulics.Basin, ok bool) {
	const steps = 24
	lo, hi := r.stack.Box()
	p := a.Plane()
	low, high := math.Inf(1), math.Inf(-1)
	for i := range 8 {
		at := [3]float64{}
		for k := range 3 {
			at[k] = lo[k]
			if i>>k&1 == 1 {
				at[k] = hi[k]
			}
		}
		// the height over the middle of a surface that passes through this corner
		q := p
		q.Level = at[2]*p.Cos - at[1]*p.Sin - p.Slope*at[0]
		h := r.height(q)
		low, high = math.Min(low, h), math.Max(high, h)
	}
	var levels, volumes []float64
	for i := 0; i <= steps; i++ {
		z := low + (high-low)*float64(i)/steps
		q := p
		q.Level = z*p.Cos - r.centre.Y*p.Sin - p.Slope*r.centre.X
		v := share * r.stack.Below(q).Volume
		if n := len(volumes); n > 0 && v <= volumes[n-1]+1e-9*r.volume {
			if volumes[n-1] > 0.5*share*r.volume {
				break // full
			}
			levels[n-1], volumes[n-1] = z, v // still below its bottom
			continue
		}
		levels, volumes = append(levels, z), append(volumes, v)
	}
	if len(levels) < 3 || volumes[0] > 1e-6*r.volume {
		return b, false
	}
	b, err := hydraulics.Volumes(levels, volumes)
	return b, err == nil
}

// filling runs a room full from where she floats dry to where she lies with it holed. The sea's height at the room
// is taken to go with the water in it, straight from the one to the other.
func (q *ask) filling(s *state, r *result) Filling {
	m := &q.rooms[r.holed[0]]
	share := s.shares[m.index]
	out := Filling{Compartment: m.name, Volume: m.volume}
	dry := s.dry.Rest.Attitude
	if math.Abs(dry.Heel) > 60*deg {
		return out
	}
	basin, ok := m.basin(dry, share)
	if !ok {
		return out
	}
	sea := m.height(dry.Plane())
	whole := basin.Volume(basin.Top())
	out.Water = whole
	end := math.Max(sea, basin.Top())
	if r.rest.Err == nil && math.Abs(r.rest.Rest.Heel) < 60*deg {
		p := r.rest.Rest.Plane()
		out.Water, end = share*m.stack.Below(p).Volume, m.height(p)
	}
	if sea <= basin.Bottom() || !(out.Water > 1e-6) {
		out.Dry, out.Water = sea <= basin.Bottom(), 0
		return out
	}
	hole := hydraulics.Opening{Name: "hole", Face: hydraulics.Upright, Diameter: holeSize, Coefficient: hydraulics.Sharp,
		Level: math.Max(basin.Bottom(), math.Min(sea, basin.Top())-holeSize)}
	d := hydraulics.Draining{Basin: basin, Openings: []hydraulics.Opening{hole},
		Sea: func(level float64) float64 { return sea + (end-sea)*math.Min(1, basin.Volume(level)/out.Water) }}
	out.First = -d.Flow(basin.Bottom())
	if to, err := basin.Level(math.Min(whole, nearlyFull*out.Water)); err == nil {
		if run, err := d.Run(basin.Bottom(), to); err == nil && run.Reached && !math.IsInf(run.Time, 0) {
			out.Minutes = run.Time / 60
		}
	}
	return out
}

// pumping is a pump emptying a room.
func (q *ask) pumping(p *model.Pump, m *room, f Filling) (Pumping, bool) {
	lo, _ := m.stack.Box()
	outlet := q.t.Ship.Hull.Edge(math.Max(q.t.Ship.Hull.From, math.Min(q.t.Ship.Hull.To, m.centre.X))).Z
	if p.Outlet != nil {
		outlet = *p.Outlet
	}
	hose := hydraulics.Hose{Bore: or(float64(p.Bore), usualBore), Length: or(float64(p.Length), usualLength), Viscosity: viscosity,
		Roughness: rubber, Losses: 0.5 + 1 + strainer}
	out := Pumping{Compartment: m.name, Pump: p.Name, Lift: math.Max(0, outlet-lo[2])}
	if p.Hand {
		pump := hydraulics.HandPump{Stroke: float64(p.Stroke), Travel: handTravel, Filled: strokeFill, Efficiency: handYield}
		w, err := pump.Work(p.Rate, out.Lift, hose, q.t.Sea.Density)
		if err != nil {
			return out, false
		}
		out.Flow, out.Loss = w.Flow, w.Head-out.Lift
		out.Strokes, _ = pump.Strokes(f.Water)
	} else {
		pump := hydraulics.ElectricPump{{Head: 0, Flow: p.Flow}, {Head: or(float64(p.Shut), usualShut), Flow: 0}}
		at, err := pump.Operate(hose, out.Lift)
		if err != nil {
			return out, false
		}
		out.Flow, out.Loss = at.Flow, at.Loss.Head
	}
	if out.Flow > 0 {
		out.Minutes = f.Water / out.Flow / 60
	}
	out.Beats = out.Flow > f.First
	return out, true
}

// rubber is the roughness of a smooth rubber hose, and viscosity that of sea water at 15 °C.
//
// Source: from memory (Crane, Flow of Fluids, TP 410); ITTC 7.5-02-01-03 (1.19e-6 m²/s at 15 °C)
const (
	rubber    = 1e-5
	viscosity = 1.19e-6
)

func or(v, usual float64) float64 {
	if v > 0 {
		return v
	}
	return usual
}

// fill works out the times of every compartment on the day and in the condition asked for.
func (q *ask) fill(f *Figures) {
	s := q.shown()
	if s.dry.Err != nil {
		return
	}
	reached := map[int]bool{}
	for i := range q.rooms {
		r := q.flood(s, []int{i}, &s.dry.Rest.Attitude, leftOpen)
		one := q.filling(s, &r)
		f.Filling = append(f.Filling, one)
		for k := range q.c.Folder.Boat.Pumps {
			p := &q.c.Folder.Boat.Pumps[k]
			for _, to := range p.Reaches {
				if to != i {
					continue
				}
				if row, ok := q.pumping(p, &q.rooms[i], one); ok {
					f.Pumping = append(f.Pumping, row)
					reached[i] = true
				}
			}
		}
		if !reached[i] {
			f.Unreached = append(f.Unreached, q.rooms[i].name)
		}
	}
}

// shown is the state of the day and the condition asked for, which need not be among those looked at.
func (q *ask) shown() *state {
	for i := range q.states {
		if s := &q.states[i]; s.day == q.day && s.cond == q.cond {
			return s
		}
	}
	return &state{day: q.day, cond: q.cond, shares: q.shares(q.day), dry: q.t.Float(q.t.State(q.day, q.cond), nil)}
}

// takenPumps lists what the folder's pumps do not say.
func (q *ask) takenPumps() []answer.Assumption {
	var out []answer.Assumption
	fine := q.sys.Fine()
	put := func(p *model.Pump, what, value, key string) {
		out = append(out, answer.Assumption{What: what + " of pump " + p.Name, Value: value, Why: "common practice, no source", File: "boat.yaml: pumps." + key})
	}
	for i := range q.c.Folder.Boat.Pumps {
		p := &q.c.Folder.Boat.Pumps[i]
		if p.Hand {
			put(p, "water in a stroke", "80 % of its stroke", "stroke")
		} else if p.Shut == 0 {
			put(p, "greatest lift", q.sys.Length(units.Length(usualShut)), "greatest lift")
		}
		if p.Bore == 0 {
			put(p, "bore of the hose", fine.Show(usualBore), "bore")
		}
		if p.Length == 0 {
			put(p, "length of the hose", q.sys.Length(units.Length(usualLength)), "length")
		}
		if p.Outlet == nil {
			put(p, "end of the hose", "at the deck's edge abreast of the compartment", "outlet")
		}
	}
	return out
}
