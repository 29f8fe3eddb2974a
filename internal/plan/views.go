package plan

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/afloat"
	"thole/internal/cuts"
	"thole/internal/model"
	"thole/internal/shape"
	"thole/internal/sheet"
)

// pen draws the views.
type pen struct {
	trip *afloat.Trip
	boat *model.Boat
	now  *Stowed

	rooms []reached
}

// reached is how far a compartment reaches across and up, along the boat.
type reached struct {
	xs                     []float64
	left, right, low, high []float64
}

// views are the boat from above, a view a layer, and her two sides.
func (p *pen) views() []StowView {
	for i := range p.boat.Compartments {
		p.rooms = append(p.rooms, p.reach(i))
	}
	layer, deepest := p.layers()
	var out []StowView
	for k := range deepest + 1 {
		v := StowView{Name: "From above", Drawing: p.plan()}
		if deepest > 0 {
			v.Name = [...]string{"From above, the upper ones", "From above, those under them"}[min(k, 1)]
			if k > 1 {
				v.Name = fmt.Sprintf("From above, layer %d", k+1)
			}
		}
		for i := range p.rooms {
			if layer[i] == k {
				v.Lockers = append(v.Lockers, p.outline(i, p.rooms[i].left, p.rooms[i].right))
			}
		}
		if k == 0 {
			p.loose(&v, func(at [3]float64) ([2]float64, bool) { return [2]float64{at[0], at[1]}, true })
		}
		v.Drawing.Alt = fmt.Sprintf("%s from above, bow to the left, starboard up", p.boat.Name)
		out = append(out, v)
	}
	for _, side := range []model.Side{model.Starboard, model.Port} {
		name := map[model.Side]string{model.Starboard: "Starboard side", model.Port: "Port side"}[side]
		v := StowView{Name: name, Drawing: p.profile()}
		for i, c := range p.boat.Compartments {
			if c.Side == side || c.Side == model.Both {
				v.Lockers = append(v.Lockers, p.outline(i, p.rooms[i].low, p.rooms[i].high))
			}
		}
		p.loose(&v, func(at [3]float64) ([2]float64, bool) {
			return [2]float64{at[0], at[2]}, side == model.Starboard && at[1] >= 0 || side == model.Port && at[1] <= 0
		})
		v.Drawing.Alt = fmt.Sprintf("%s from the side, bow to the left: what lies on her %s", p.boat.Name, map[model.Side]string{model.Starboard: "starboard side", model.Port: "port side"}[side])
		out = append(out, v)
	}
	for i := range out {
		if out[i].Lockers == nil {
			out[i].Lockers = []Outline{}
		}
	}
	return out
}

// reach reads a compartment's breadth and height off its cuts. Its cuts stand at the places at which it is summed, which
// leave out its ends: there it is drawn as at the last of them.
func (p *pen) reach(i int) reached {
	var r reached
	p.trip.Ship.Rooms[i].Stack.Each(func(x float64, runs [][]cuts.Point) {
		left, right, low, high := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, run := range runs {
			for _, q := range run {
				left, right, low, high = math.Min(left, q.Y), math.Max(right, q.Y), math.Min(low, q.Z), math.Max(high, q.Z)
			}
		}
		if right < left {
			return
		}
		r.add(x, left, right, low, high)
	})
	if n := len(r.xs); n > 0 {
		from, to := p.ends(i)
		l := reached{}
		if from < r.xs[0] {
			l.add(from, r.left[0], r.right[0], r.low[0], r.high[0])
		}
		for k, x := range r.xs {
			l.add(x, r.left[k], r.right[k], r.low[k], r.high[k])
		}
		if to > r.xs[n-1] {
			l.add(to, r.left[n-1], r.right[n-1], r.low[n-1], r.high[n-1])
		}
		r = l
	}
	return r
}

func (r *reached) add(x, left, right, low, high float64) {
	r.xs, r.left, r.right = append(r.xs, x), append(r.left, left), append(r.right, right)
	r.low, r.high = append(r.low, low), append(r.high, high)
}

// ends are how far along the boat a compartment reaches: as it is written, within what it lies in.
func (p *pen) ends(i int) (from, to float64) {
	c, s := &p.boat.Compartments[i], p.trip.Ship
	first, last := s.Hull.From, s.Hull.To
	for _, cabin := range s.Cabins {
		if cabin.Name == c.Cabin {
			first, last = math.Min(first, cabin.From), math.Max(last, cabin.To)
		}
	}
	return math.Max(c.From, first), math.Min(c.To, last)
}

// under is the share of a compartment's plan above which it lies in a lower layer than what covers it.
const under = 0.03

// layers puts every compartment below those that cover it when seen from above.
func (p *pen) layers() (layer []int, deepest int) {
	n := len(p.rooms)
	layer = make([]int, n)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	height := func(i int) float64 { return p.trip.Ship.Rooms[i].Centre.Z }
	slices.SortStableFunc(order, func(a, b int) int { return -cmpFloat(height(a), height(b)) })
	for k, i := range order {
		for _, j := range order[:k] {
			if height(j) > height(i)+0.01 && p.covered(i, j) > under {
				layer[i] = max(layer[i], layer[j]+1)
			}
		}
		deepest = max(deepest, layer[i])
	}
	return layer, deepest
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// covered is the share of a compartment's plan that another covers.
func (p *pen) covered(i, j int) float64 {
	a, b := p.rooms[i], p.rooms[j]
	if len(a.xs) == 0 || len(b.xs) == 0 {
		return 0
	}
	const steps = 40
	from, to := a.xs[0], a.xs[len(a.xs)-1]
	all, both := 0.0, 0.0
	for k := range steps {
		x := from + (float64(k)+0.5)/steps*(to-from)
		l, r := a.at(x, a.left), a.at(x, a.right)
		all += r - l
		if x > b.xs[0] && x < b.xs[len(b.xs)-1] {
			both += math.Max(0, math.Min(r, b.at(x, b.right))-math.Max(l, b.at(x, b.left)))
		}
	}
	if all <= 0 {
		return 0
	}
	return both / all
}

// at is a line of a compartment between its cuts.
func (r *reached) at(x float64, v []float64) float64 {
	k, _ := slices.BinarySearch(r.xs, x)
	switch {
	case k == 0:
		return v[0]
	case k == len(r.xs):
		return v[k-1]
	}
	t := (x - r.xs[k-1]) / (r.xs[k] - r.xs[k-1])
	return v[k-1] + t*(v[k]-v[k-1])
}

// outline is a compartment between two lines, with its number's place and the spots of what lies in it.
func (p *pen) outline(i int, low, high []float64) Outline {
	r := p.rooms[i]
	out := Outline{Locker: i, Points: [][2]float64{}, Spots: []Dot{}}
	for k, x := range r.xs {
		out.Points = append(out.Points, [2]float64{round(x), round(low[k])})
	}
	for k := len(r.xs) - 1; k >= 0; k-- {
		out.Points = append(out.Points, [2]float64{round(r.xs[k]), round(high[k])})
	}
	if len(r.xs) == 0 {
		return out
	}
	// As far forward as there is room for a number: where it is more than half as broad as it gets.
	most := 0.0
	for k := range r.xs {
		most = math.Max(most, high[k]-low[k])
	}
	for k, x := range r.xs {
		if high[k]-low[k] > 0.55*most {
			out.At = [2]float64{round(x), round(high[k])}
			break
		}
	}
	out.Spots = p.spots(i, func(x float64) (float64, float64) { return r.at(x, low), r.at(x, high) })
	return out
}

// steps is the number of places along a solid at which its outline is taken.
const steps = 48

// trace is a solid's outline between two lines along it.
func trace(d *sheet.Drawing, role sheet.Role, name string, from, to float64, span func(x float64) (low, high float64)) {
	low, high := make([][2]float64, 0, steps+1), make([][2]float64, 0, steps+1)
	for k := range steps + 1 {
		x := from + (to-from)*(1-math.Cos(math.Pi*float64(k)/steps))/2 // closer towards the ends, which bend hardest
		l, h := span(x)
		low, high = append(low, [2]float64{round(x), round(l)}), append(high, [2]float64{round(x), round(math.Max(l, h))})
	}
	slices.Reverse(high)
	d.Paths = append(d.Paths, sheet.Path{Role: role, Name: name, Points: append(low, high...), Closed: true})
}

// paper is the extent of a view, with a margin about her.
func (p *pen) paper(axis int) sheet.Drawing {
	lo, hi := p.trip.Ship.Body.Envelope.Box()
	edge := 0.02 * (hi[0] - lo[0])
	return sheet.Drawing{MinX: round(lo[0] - edge), MaxX: round(hi[0] + edge), MinY: round(lo[axis] - edge), MaxY: round(hi[axis] + edge)}
}

// plan is the hull, the cabins and the wells from above.
func (p *pen) plan() sheet.Drawing {
	d, s := p.paper(1), p.trip.Ship
	broad := func(b *shape.Solid) func(x float64) (float64, float64) {
		return func(x float64) (float64, float64) {
			// Half the greatest breadth of the section, which at the very ends there may not be.
			sec := b.Section(math.Max(b.From+1e-6, math.Min(b.To-1e-6, x)), 0)
			if len(sec) == 0 {
				return 0, 0
			}
			lo, hi := sec.Bounds()
			return lo.Y, hi.Y
		}
	}
	trace(&d, sheet.Body, "hull", s.Hull.From, s.Hull.To, broad(s.Hull))
	for _, c := range s.Cabins {
		trace(&d, sheet.Space, c.Name, c.From, c.To, broad(c))
	}
	for _, w := range s.Wells {
		trace(&d, sheet.Space, w.Name, w.From, w.To, broad(w.Solid))
	}
	trace(&d, sheet.Skin, "hull", s.Hull.From, s.Hull.To, broad(s.Hull))
	return d
}

// profile is the hull, the cabins over their deck and the wells from the side.
func (p *pen) profile() sheet.Drawing {
	d, s := p.paper(2), p.trip.Ship
	deck := func(x float64) (float64, bool) {
		if x < s.Hull.From || x > s.Hull.To {
			return 0, false
		}
		_, head := s.Hull.Span(x)
		return head, true
	}
	above := func(c *shape.Solid) func(x float64) (float64, float64) {
		return func(x float64) (float64, float64) {
			foot, head := c.Span(x)
			if z, ok := deck(x); ok {
				foot = math.Max(foot, math.Min(z, head))
			}
			return foot, head
		}
	}
	trace(&d, sheet.Body, "hull", s.Hull.From, s.Hull.To, s.Hull.Span)
	for _, c := range s.Cabins {
		trace(&d, sheet.Body, c.Name, c.From, c.To, above(c))
	}
	for _, w := range s.Wells {
		trace(&d, sheet.Space, w.Name, w.From, w.To, func(x float64) (float64, float64) {
			foot, head := w.Span(x)
			if z, ok := deck(x); ok {
				head = math.Min(head, z)
			}
			return foot, head
		})
	}
	trace(&d, sheet.Skin, "hull", s.Hull.From, s.Hull.To, s.Hull.Span)
	return d
}
