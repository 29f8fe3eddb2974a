package drain

import (
	"context"
	"math"

	"thole/internal/afloat"
	"thole/internal/hydraulics"
	"thole/internal/hydro"
)

// Full is how she lies with every well filled to its brim.
type Full struct {
	Water     float64 `json:"water_kg"`
	Draft     float64 `json:"draft_m"`
	Trim      float64 `json:"trim_deg"`
	Heel      float64 `json:"heel_deg"`
	Freeboard float64 `json:"freeboard_min_m"`
	// GM is her stiffness upright with the water loose in her, over all that she then displaces.
	GM      float64 `json:"gm_m"`
	GMDry   float64 `json:"gm_dry_m"`
	Stable  bool    `json:"stable"`
	Swamped bool    `json:"swamped"` // the sea stands over a rim
}

// Well is one well, with those that open into it.
type Well struct {
	Name   string  `json:"name"`
	Volume float64 `json:"volume_m3"` // to the brim, as she lies full
	Mass   float64 `json:"water_kg"`
	// SoleAbove is how far the lowest of the sole stands above the sea, the wells empty.
	SoleAbove float64 `json:"sole_above_sea_m"`
	// SoleAboveFull is the same with the wells full: below nothing most drains are under water.
	SoleAboveFull float64 `json:"sole_above_sea_full_m"`
	Drains        float64 `json:"drains_m2"`
	// Times are from full; left out where it is never reached.
	Half  *float64 `json:"time_half_s,omitempty"`
	Clear *float64 `json:"time_clear_s,omitempty"` // to 20 mm over the whole sole
	Sole  *float64 `json:"time_sole_s,omitempty"`  // to the sole; over a sill never
	// Stays is the water that no drain takes: what lies below them, or below the sea.
	Stays   float64  `json:"stays_kg"`
	Buckets float64  `json:"bucket_loads"` // to bail what stays; without drains, all of it
	Bailing float64  `json:"bailing_s"`
	Pumping float64  `json:"pumping_s"` // the same, by the least pump that ISO 15083 asks of her length
	Track   []Moment `json:"track"`
}

// Drain is one drain on the day shown.
type Drain struct {
	Name        string  `json:"name"`
	Well        string  `json:"well"`
	Count       int     `json:"count"`
	Area        float64 `json:"area_m2"` // of all that are alike
	Coefficient float64 `json:"coefficient"`
	Flow        float64 `json:"flow_full_m3_per_s"` // with the wells full
	Above       float64 `json:"above_sea_m"`        // its lowest edge, the wells empty
	AboveFull   float64 `json:"above_sea_full_m"`
	Flap        bool    `json:"flap"`
}

// Reference is a published yardstick beside hers.
type Reference struct {
	Well   string  `json:"well"`
	What   string  `json:"what"`
	Hers   float64 `json:"hers"`
	Asked  float64 `json:"asked"`
	Unit   string  `json:"unit"`
	Most   bool    `json:"at_most"`
	Never  bool    `json:"never"` // hers is a time that is never reached
	Source string  `json:"source"`
}

// Figures are for the day and the condition asked for.
type Figures struct {
	Day        int         `json:"day"`
	Condition  string      `json:"condition"`
	Full       Full        `json:"full"`
	Wells      []Well      `json:"wells"`
	Drains     []Drain     `json:"drains"`
	Arms       []Arm       `json:"arms"`
	References []Reference `json:"references"`
}

func (q *ask) figures(ctx context.Context, s *loaded) Figures {
	l := afloat.Load(&s.dry.State)
	r := &s.full.rest
	f := Figures{Day: s.day, Condition: q.t.Conditions[s.cond].Name}
	free, _ := q.t.Freeboard(r.Attitude)
	f.Full = Full{Water: q.loose(&s.full), Draft: q.t.Ship.Body.Envelope.Lowest(r.Plane()), Trim: r.Trim() / deg, Heel: r.Heel / deg,
		Freeboard: free, GM: s.full.gm, GMDry: s.dry.Rest.Stiffness(l), Stable: s.full.gm > 0, Swamped: s.full.swamped}
	for i, p := range q.all {
		f.Wells = append(f.Wells, q.wellOf(s, i, p))
		f.Drains = append(f.Drains, q.drainsOf(s, i, p)...)
		f.References = append(f.References, q.references(s, i, p)...)
	}
	if s.full.gm > 0 {
		f.Arms = q.arms(ctx, l, s.full, &s.dry.Rest.Attitude)
	}
	return f
}

func (q *ask) wellOf(s *loaded, i int, p *pool) Well {
	w := Well{Name: p.Name, Track: []Moment{}}
	w.SoleAbove, _ = p.soleAbove(s.dry.Rest.Attitude)
	w.SoleAboveFull, _ = p.soleAbove(s.full.rest.Attitude)
	for _, d := range p.drains {
		w.Drains += d.area
	}
	w.Volume = s.full.water.volume[i]
	if s.pools != nil {
		c := &s.pools[i]
		w.Volume = c.full
		w.Half, w.Clear, w.Sole = reached(c.half), reached(c.clear), reached(c.sole)
		w.Stays = c.rest * q.t.Sea.Density
		w.Buckets = math.Max(0, math.Ceil(c.rest/loadOf-dregs))
		w.Bailing = c.rest / loadOf / paceOf
		if y, err := hydraulics.BilgePump(q.t.Ship.Hull.To-q.t.Ship.Hull.From, 0); err == nil {
			w.Pumping = c.rest / y.Asked
		}
		if c.track != nil {
			w.Track = c.track
		}
	}
	w.Mass = w.Volume * q.t.Sea.Density
	return w
}

// dregs is the share of a bucket that is left to dry.
const dregs = 0.05

// reached is nil for a time that never comes.
func reached(t float64) *float64 {
	if math.IsInf(t, 0) || math.IsNaN(t) {
		return nil
	}
	return &t
}

func (q *ask) drainsOf(s *loaded, i int, p *pool) []Drain {
	var out []Drain
	for k := range p.drains {
		d := &p.drains[k]
		v := Drain{Name: d.Name, Well: d.well, Count: d.Count, Area: d.area, Coefficient: d.Coefficient, Flap: d.Flap,
			Above: math.Inf(1), AboveFull: math.Inf(1)}
		a := s.full.rest.Attitude
		for _, o := range p.outlets {
			if o.drain != k {
				continue
			}
			v.Above = math.Min(v.Above, s.dry.Rest.Above(o.at))
			v.AboveFull = math.Min(v.AboveFull, a.Above(o.at))
			if !s.full.water.open[i] {
				open := o.opening
				open.Level = height(a, o.at)
				v.Flow += open.Flow(p.level(a, s.full.water.volume[i], math.NaN()), sea(a))
			}
		}
		out = append(out, v)
	}
	return out
}

// sea is the level of the sea, measured as height measures.
func sea(a hydro.Attitude) float64 { return a.Level / math.Sqrt(1+a.Slope*a.Slope) }

// never stands for a time that is never reached, where a yardstick wants a number: a day.
const never = 86400.0

// references sets a well beside the published yardsticks. None was made for rowing boats.
func (q *ask) references(s *loaded, i int, p *pool) []Reference {
	if s.pools == nil {
		return nil
	}
	m := hydro.Measure(q.t.Ship.Body, afloat.Load(&s.dry.State), s.dry.Rest)
	_, hi := q.t.Ship.Body.Envelope.Box()
	low, _ := p.soleAbove(s.dry.Rest.Attitude)
	t := q.time(s, i)
	w := hydraulics.Well{Volume: s.pools[i].full, Length: q.t.Ship.Hull.To - q.t.Ship.Hull.From, Breadth: 2 * hi[1], Freeboard: s.dry.Freeboard,
		Waterline: m.Length, Sole: low, DrainTime: math.Min(t, never)}
	for _, d := range p.drains {
		w.Drains += d.area
	}
	if len(p.drains) == 0 {
		w.DrainTime, t = never, never
	}
	var all []hydraulics.Yardstick
	add := func(ys []hydraulics.Yardstick, err error) {
		if err == nil {
			all = append(all, ys...)
		}
	}
	add(w.QuickDraining('A'))
	add(w.Offshore(true))
	if y, err := w.SmallPassenger(p.To-p.From, hydraulics.Exposed); err == nil {
		all = append(all, y)
	}
	var out []Reference
	for _, y := range all {
		out = append(out, Reference{Well: p.Name, What: y.Name, Hers: y.Had, Asked: y.Asked, Unit: y.Unit, Most: y.Most,
			Never: y.Unit == "s" && t >= never, Source: y.Source})
	}
	return out
}
