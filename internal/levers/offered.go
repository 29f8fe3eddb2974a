package levers

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

// The groups of levers: what they touch.
const (
	loading = "load"
	shaping = "shape"
	hatches = "hatches"
	voyages = "voyage"
)

// offer makes the levers that a folder suggests by itself.
type offer struct {
	pen  *pen
	f    *model.Folder
	out  []Lever
	size sizes
}

// sizes are how much the offered levers change, in figures that are round in the folder's units.
type sizes struct {
	stores, ballast, crew units.Mass
	high, low, cabin      units.Length // how much lower high things, how much lower batteries and seats, how much higher cabins
	sole, camber, skin    units.Length
	along                 units.Length
}

var (
	metric = sizes{20, 10, 8, 0.100, 0.050, 0.050, 0.020, 0.020, 0.001, 0.5}
	feet   = sizes{45 * pound, 20 * pound, 15 * pound, 4 * inch, 2 * inch, 2 * inch, 1 * inch, 1 * inch, inch / 16, 18 * inch}
)

// Source: NIST Special Publication 811 (2008), Appendix B.8; exact by definition.
const (
	pound = 0.45359237
	inch  = 0.0254
)

// offered are the levers that make sense on this folder, each written as its edits.
func offered(f *model.Folder, d *boatfolder.Draft) []Lever {
	o := &offer{pen: newPen(f, d), f: f, size: metric}
	if f.Boat.Units == units.Feet {
		o.size = feet
	}
	o.moves()
	o.ballast()
	o.stores()
	o.water()
	o.lower()
	o.people()
	o.guesses()
	o.hatches()
	o.hull()
	o.inside()
	o.built()
	o.time()
	return o.out
}

// put offers a lever if it can be made.
func (o *offer) put(group, name string, acts ...model.Act) {
	edits, err := Edits(o.f, o.pen.d, acts)
	o.written(group, name, edits, err)
}

// one offers a lever of one act, which shares what has been read of the folder.
func (o *offer) one(group, name string, a model.Act) {
	o.pen.edits = nil
	err := o.pen.act(a)
	o.written(group, name, o.pen.edits, err)
}

func (o *offer) written(group, name string, edits []boatfolder.Edit, err error) {
	taken := slices.ContainsFunc(o.out, func(l Lever) bool { return l.Name == name })
	if err == nil && len(edits) > 0 && !taken {
		o.out = append(o.out, Lever{Name: name, Group: group, Edits: edits})
	}
}

// mass and length are for people; 8 kg rather than 8.0 kg.
func (o *offer) mass(m units.Mass) string {
	return strings.Replace(o.f.Boat.Units.Mass(m), ".0 ", " ", 1)
}

func (o *offer) length(l units.Length) string { return o.f.Boat.Units.Length(l) }

// short is a thing's name up to its first comma.
func short(name string) string {
	name, _, _ = strings.Cut(name, ",")
	return name
}

// hold is a compartment with stores in it.
type hold struct {
	index  int
	middle float64
	height float64 // of its middle, by the soles and tops that are given
	stores units.Mass
}

// least is the least that is worth carrying from one compartment to another, kg.
const least = 4

// holds are the compartments, from the bow aft, with what is stowed in them and not pinned there.
func (o *offer) holds() []hold {
	b := &o.f.Boat
	deck := 0.0
	for _, s := range b.Hull.Readings.Stations {
		for _, r := range s.Points {
			deck = math.Max(deck, r.Z)
		}
	}
	out := make([]hold, len(b.Compartments))
	for i, c := range b.Compartments {
		low, high := 0.0, deck
		if c.Sole != nil {
			low = *c.Sole
		}
		if c.Top != nil {
			high = *c.Top
		}
		out[i] = hold{index: i, middle: (c.From + c.To) / 2, height: (low + high) / 2}
	}
	for _, s := range o.f.Stores {
		if c := s.Where.Compartment; c >= 0 && c < len(out) && !s.Pinned {
			out[c].stores += s.Mass.Value * units.Mass(max(1, s.Count))
		}
	}
	slices.SortStableFunc(out, func(a, b hold) int { return cmp.Compare(a.middle, b.middle) })
	return out
}

// moves offers stores carried between compartments: aft, forward, across and down.
func (o *offer) moves() {
	all := o.holds()
	if len(all) < 2 {
		return
	}
	middle := (all[0].middle + all[len(all)-1].middle) / 2
	fullest := func(ok func(h hold) bool) *hold {
		var best *hold
		for i := range all {
			if h := &all[i]; h.stores >= least && ok(*h) && (best == nil || h.stores > best.stores) {
				best = h
			}
		}
		return best
	}
	fore := fullest(func(h hold) bool { return h.middle < middle })
	aft := fullest(func(h hold) bool { return h.middle > middle })
	if fore != nil && aft != nil {
		o.carry(*fore, *aft)
		o.carry(*aft, *fore)
	}
	for _, side := range []model.Side{model.Port, model.Starboard} {
		from := fullest(func(h hold) bool {
			return o.f.Boat.Compartments[h.index].Side == side && o.across(h) >= 0
		})
		if from != nil {
			o.carry(*from, hold{index: o.across(*from)})
		}
	}
	high := slices.Clone(all)
	slices.SortStableFunc(high, func(a, b hold) int { return cmp.Compare(b.height, a.height) })
	lowest := high[len(high)-1]
	for _, h := range high {
		if h.stores >= least && h.height > lowest.height+0.1 {
			// Straight down where there is room below, else to the lowest of all.
			down := lowest
			for _, l := range high {
				c, under := o.f.Boat.Compartments[h.index], o.f.Boat.Compartments[l.index]
				if l.height < h.height-0.1 && !o.wet(l) && under.From < c.To && under.To > c.From && (under.Side == c.Side || c.Side == model.Both || under.Side == model.Both) {
					down = l
				}
			}
			o.carry(h, down)
			break
		}
	}
	var ends *hold
	for i := range all {
		if h := &all[i]; h.stores >= least && (ends == nil || math.Abs(h.middle-middle) > math.Abs(ends.middle-middle)) {
			ends = h
		}
	}
	if ends != nil {
		var near *hold
		for i := range all {
			if h := &all[i]; !o.wet(*h) && (near == nil || math.Abs(h.middle-middle) < math.Abs(near.middle-middle)) {
				near = h
			}
		}
		if near != nil {
			o.carry(*ends, *near)
		}
	}
}

// wet tells whether water may stand where the stores would go.
func (o *offer) wet(h hold) bool { return o.f.Boat.Compartments[h.index].Wet }

// across is the compartment on the other side of one; -1 for none.
func (o *offer) across(h hold) int {
	c := o.f.Boat.Compartments[h.index]
	return slices.IndexFunc(o.f.Boat.Compartments, func(other model.Compartment) bool {
		return other.From == c.From && other.To == c.To && other.Side != c.Side && other.Side != model.Both &&
			(other.Top == nil) == (c.Top == nil) && (other.Sole == nil) == (c.Sole == nil)
	})
}

// carry offers stores of one compartment in another, by the mass that is really moved.
func (o *offer) carry(from, to hold) {
	if from.index == to.index {
		return
	}
	b := &o.f.Boat
	a := model.Act{Do: model.MoveStores, From: b.Compartments[from.index].Name, To: b.Compartments[to.index].Name}
	a.Change.Mass = min(o.size.stores, from.stores)
	_, moved := parcels(o.f, from.index, a.Change.Mass)
	o.one(loading, fmt.Sprintf("%s of stores from %s to %s", o.mass(moved), called(b.Compartments[from.index]), called(b.Compartments[to.index])), a)
}

// called is a compartment's number, or its name where it has none.
func called(c model.Compartment) string {
	if c.Number > 0 {
		return fmt.Sprint(c.Number)
	}
	return c.Name
}

func (o *offer) ballast() {
	s := o.size.ballast
	for _, c := range []struct {
		name   string
		change model.MassChange
	}{
		{o.mass(s) + " more ballast", model.MassChange{Mass: s}},
		{o.mass(s) + " less ballast", model.MassChange{Mass: -s}},
		{"half the ballast gone", model.MassChange{Share: -0.5, ByShare: true}},
		{"no ballast", model.MassChange{Share: -1, ByShare: true}},
	} {
		o.one(loading, c.name, model.Act{Do: model.MoreBallast, Change: c.change})
	}
}

// stores offers more and less of what is eaten.
func (o *offer) stores() {
	o.one(loading, "a week more of food", model.Act{Do: model.Food, Days: 7})
	if v := o.f.Voyage; v != nil && v.Days > 7 {
		o.put(voyages, "a week fewer days, and their food left ashore",
			model.Act{Do: model.Days, Days: -7}, model.Act{Do: model.Food, Days: -7})
	}
}

// loose is a thing that stands at a point and can be put elsewhere.
type loose struct {
	name string
	all  units.Mass
	at   r3.Vec
}

// looseThings are what was weighed by itself and stands at a point: fittings, and stores that are not pinned, not the boat's own parts.
func (o *offer) looseThings() []loose {
	var out []loose
	add := func(name string, m model.Mass, count int, w model.Place) {
		if m.Known == model.Weighed && w.Compartment < 0 && !w.None {
			out = append(out, loose{name, m.Value * units.Mass(max(1, count)), w.At})
		}
	}
	for _, w := range o.f.Boat.Weights {
		if !w.Ballast {
			add(w.What, w.Mass, w.Count, w.Where)
		}
	}
	for _, s := range o.f.Stores {
		if !s.Pinned {
			add(s.What, s.Mass, s.Count, s.Where)
		}
	}
	return out
}

// lower offers heavy things lower down, and the heaviest further aft and forward.
func (o *offer) lower() {
	things := o.looseThings()
	if len(things) == 0 {
		return
	}
	var mass, moment float64
	for _, t := range things {
		mass, moment = mass+float64(t.all), moment+float64(t.all)*t.at.Z
	}
	lever := func(t loose) float64 { return float64(t.all) * (t.at.Z - moment/mass) }
	high := slices.Clone(things)
	slices.SortStableFunc(high, func(a, b loose) int { return cmp.Compare(lever(b), lever(a)) })
	for _, t := range high[:min(3, len(high))] {
		if lever(t) > 0 {
			o.shift(fmt.Sprintf("%s %s lower", short(t.name), o.length(o.size.high)), t.name, r3.Vec{Z: -float64(o.size.high)})
		}
	}
	for _, t := range things {
		if strings.Contains(strings.ToLower(t.name), "batter") && t.at.Z > 2*float64(o.size.low) {
			o.shift(fmt.Sprintf("%s %s lower", short(t.name), o.length(o.size.low)), t.name, r3.Vec{Z: -float64(o.size.low)})
			break
		}
	}
	heaviest := slices.MaxFunc(things, func(a, b loose) int { return cmp.Compare(a.all, b.all) })
	o.shift(fmt.Sprintf("%s %s further aft", short(heaviest.name), o.length(o.size.along)), heaviest.name, r3.Vec{X: float64(o.size.along)})
	o.shift(fmt.Sprintf("%s %s further forward", short(heaviest.name), o.length(o.size.along)), heaviest.name, r3.Vec{X: -float64(o.size.along)})
}

func (o *offer) shift(name, what string, by r3.Vec) {
	o.one(loading, name, model.Act{Do: model.Shift, What: []string{what}, By: by})
}

// people offers heavier crew, and a lower seat.
func (o *offer) people() {
	if o.f.Voyage == nil {
		return
	}
	for _, p := range o.f.Voyage.Crew {
		o.one(loading, fmt.Sprintf("%s %s heavier", p.Name, o.mass(o.size.crew)),
			model.Act{Do: model.Heavier, What: []string{p.Name}, Change: model.MassChange{Mass: o.size.crew}})
	}
	o.seats()
}
