package float

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/cuts"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/units"
)

// heap is what stands in one row of bars along the boat.
type heap int

// The rows, from the foot of the pile up.
const (
	along heap = iota
	fixed
	stores
	crew
	ballast
	heaps
)

var heapNames = [heaps]string{"runs along her: planking, frames, paint", "fixed in one place", "stores", "crew", "ballast"}

// near is how close to the middle of her skin, as a share of her length, the centre of a weight must lie to be
// taken as running along her.
const near = 0.05

// wide is how long a bar is: a quarter of a metre, or a foot; on a long hull no more bars than can be told apart.
func (q *ask) wide() float64 {
	least := 0.25
	if q.sys == units.Feet {
		least = 0.3048
	}
	return math.Max(least, (q.t.Ship.Hull.To-q.t.Ship.Hull.From)/60)
}

// part is a piece of her weight with where it lies along her.
type part struct {
	heap     heap
	mass     float64
	from, to float64
}

// parts are all that is aboard on the day shown, and what runs along her with its centre.
func (q *ask) parts() (all []part, running, centre float64) {
	b := &q.c.Folder.Boat
	_, middle, _ := q.t.Ship.Hull.Skin()
	lo, hi := q.t.Ship.Hull.From, q.t.Ship.Hull.To
	length, wide := hi-lo, q.wide()
	put := func(h heap, mass float64, p model.Place) {
		if p.None || mass == 0 {
			return
		}
		if p.Compartment >= 0 && p.Compartment < len(b.Compartments) {
			r := &b.Compartments[p.Compartment]
			x := q.t.Ship.Rooms[p.Compartment].Centre.X // its volume's middle: the two ends are as far from it
			half := math.Max(math.Min(x-r.From, r.To-x), wide/2)
			all = append(all, part{h, mass, x - half, x + half})
			return
		}
		if h == fixed && math.Abs(p.At.X-middle) < near*length {
			running += mass
			centre += mass * p.At.X
			return
		}
		x := math.Max(lo-wide, math.Min(hi+wide, p.At.X)) // what stands off beyond her ends is shown at them
		half := wide / 2
		switch h {
		case crew:
			half = math.Max(half, body/2)
		case ballast:
			half = math.Max(half, q.roomAbout(p.At))
		}
		all = append(all, part{h, mass, x - half, x + half})
	}
	for _, w := range b.Weights {
		h := fixed
		if w.Ballast {
			h = ballast
		}
		put(h, float64(w.Mass.Value)*float64(max(1, w.Count)), w.Where)
	}
	for _, s := range q.c.Folder.Stores {
		n, left := float64(s.Mass.Value)*float64(max(1, s.Count)), s.Use.Left(q.day)
		put(stores, n*left, s.Where)
		if s.Use.Into != nil {
			put(stores, n*(1-left), *s.Use.Into)
		}
	}
	if v := q.c.Folder.Voyage; v != nil {
		for i, p := range v.Crew {
			if places := q.t.Conditions[q.cond].Places; i < len(places) && places[i] < len(p.Places) {
				put(crew, float64(p.Mass.Value), p.Places[places[i]].Where)
			}
		}
	}
	if running > 0 {
		centre /= running
	}
	return all, running, centre
}

// body is how much of her length a person takes, metres; common practice, no source.
const body = 1.0

// roomAbout is how far ballast at a point can reach fore and aft of it within the compartment that it stands in; nothing
// where it stands in none.
func (q *ask) roomAbout(at r3.Vec) float64 {
	for _, r := range q.c.Folder.Boat.Compartments {
		if at.X > r.From && at.X < r.To && (r.Sole == nil || at.Z >= *r.Sole) && (r.Top == nil || at.Z <= *r.Top) &&
			(r.Inboard == nil || math.Abs(at.Y) >= *r.Inboard) {
			return math.Min(at.X-r.From, r.To-at.X)
		}
	}
	return 0
}

// bar is the weight of each heap in a length of her, kg a metre.
type bar struct {
	x    float64
	load [heaps]float64
}

// bars piles her weight up along her. Their sum times their length is what she weighs.
func (q *ask) bars() []bar {
	all, running, centre := q.parts()
	lo, hi, wide := q.t.Ship.Hull.From, q.t.Ship.Hull.To, q.wide()
	for _, p := range all {
		lo, hi = math.Min(lo, p.from), math.Max(hi, p.to)
	}
	first := math.Floor(lo/wide) * wide
	out := make([]bar, int(math.Ceil((hi-first)/wide-1e-9)))
	for i := range out {
		out[i].x = first + (float64(i)+0.5)*wide
	}
	for _, p := range all {
		for i := range out {
			share := math.Min(p.to, out[i].x+wide/2) - math.Max(p.from, out[i].x-wide/2)
			if share > 0 {
				out[i].load[p.heap] += p.mass * share / (p.to - p.from) / wide
			}
		}
	}
	q.spread(out, running/wide, centre)
	return out
}

// spread lays what runs along her, its mass over the length of a bar, like the girth of her sections, tilted so that its centre is kept.
func (q *ask) spread(out []bar, mass, centre float64) {
	girth := make([]float64, len(out))
	var sum, first, second float64
	for i := range out {
		girth[i] = around(q.t.Ship.Hull.Section(out[i].x, 0))
		sum += girth[i]
		first += girth[i] * out[i].x
	}
	if sum == 0 {
		return
	}
	middle := first / sum
	for i := range out {
		second += girth[i] * (out[i].x - middle) * (out[i].x - middle)
	}
	tilt := 0.0
	if second > 0 {
		tilt = (centre - middle) * sum / second
	}
	for i := range out {
		out[i].load[along] += mass * girth[i] / sum * (1 + tilt*(out[i].x-middle))
	}
}

// around is the length of a section's outline.
func around(s cuts.Section) float64 {
	var sum float64
	for _, e := range s {
		sum += math.Hypot(e.B.Y-e.A.Y, e.B.Z-e.A.Z)
	}
	return sum
}

// weights charts where along her the weight lies, and what of the water bears it.
func (q *ask) weights() *sheet.Chart {
	coarse, heavy := q.sys.Coarse(), q.sys.Heavy()
	per := heavy.Factor / coarse.Factor // kg/m, lb/ft
	length := "metre"
	if q.sys == units.Feet {
		length = "foot"
	}
	ch := &sheet.Chart{Heading: "Weight along her, and what bears it", X: sheet.Axis{Name: "aft of station 0", Unit: coarse.Unit, Places: 1},
		Y: sheet.Axis{Name: "on each " + length + " of her length", Unit: heavy.Unit}}
	all, wide := q.bars(), q.wide()
	base := make([]float64, len(all))
	most, at := 0.0, 0.0
	for h := range heaps {
		s := sheet.Series{Name: heapNames[h], Role: sheet.Thing, Width: wide * coarse.Factor}
		any := false
		for i, b := range all {
			v := tenth(b.load[h] * per)
			s.X, s.Y, s.Base = append(s.X, tidy(b.x*coarse.Factor)), append(s.Y, v), append(s.Base, base[i])
			base[i] = tenth(base[i] + v)
			any = any || v > 0
			if base[i] > most {
				most, at = base[i], b.x
			}
		}
		if any {
			ch.Series = append(ch.Series, s)
		}
	}
	line := sheet.Series{Name: "borne by the water", Role: sheet.Main}
	xs, areas := q.t.Ship.Body.Areas(q.all[q.cond][q.day].Rest.Plane())
	high := most
	for i, x := range xs {
		v := tenth(areas[i] * q.t.Sea.Density * per)
		line.X, line.Y = append(line.X, tidy(x*coarse.Factor)), append(line.Y, v)
		high = math.Max(high, v)
	}
	ch.Series = append(ch.Series, line)
	ch.X.Min, ch.X.Max, ch.X.Ticks = sheet.Ticks(math.Min(0, (all[0].x-wide/2)*coarse.Factor), (all[len(all)-1].x+wide/2)*coarse.Factor)
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(0, high)
	ch.Alt = fmt.Sprintf("Day %d, %s: she is heaviest about %s aft of station 0, %.0f %s on a %s of her length. For the picture alone: stores and ballast lie evenly in their compartments, a person over %s; a weight whose middle is within a twentieth of her length of her skin's is taken to run along her as the skin does; the rest stand over %s.",
		q.day, q.t.Conditions[q.cond].Name, coarse.Show(at), most, heavy.Unit, length, coarse.Show(body), coarse.Show(wide))
	return ch
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }
func tidy(v float64) float64  { return math.Round(v*1e4) / 1e4 }

// edges charts the height of the deck's edge at four places over the trip.
func (q *ask) edges() *sheet.Chart {
	sheer := q.t.Ship.Sheer
	if len(sheer) < 2 {
		return nil
	}
	bow, stern := sheer[0], sheer[len(sheer)-1]
	mid := abeam(sheer, (bow.X+stern.X)/2)
	port := mid
	port.Y = -mid.Y
	ch := q.heights("Freeboard by day, "+q.t.Conditions[q.cond].Name, "freeboard",
		[]string{"at the bow", "amidships, starboard", "amidships, port", "at the stern"}, []r3.Vec{bow, mid, port, stern}, 1)
	ends := []float64{0, float64(q.t.Days)}
	fine := q.sys.Fine()
	asked := q.freeboard * fine.Factor
	ch.Series = append(ch.Series, sheet.Series{Name: "asked for, at the least place", Role: sheet.Limit, X: ends, Y: []float64{asked, asked}})
	q.scale(ch)
	return ch
}

// abeam is the deck's edge at a place.
func abeam(sheer []r3.Vec, x float64) r3.Vec {
	for i := 1; i < len(sheer); i++ {
		if sheer[i].X >= x {
			t := (x - sheer[i-1].X) / math.Max(sheer[i].X-sheer[i-1].X, 1e-9)
			return r3.Add(sheer[i-1], r3.Scale(t, r3.Sub(sheer[i], sheer[i-1])))
		}
	}
	return sheer[len(sheer)-1]
}

// marksByDay charts the water at each of her marks over the trip.
func (q *ask) marksByDay() *sheet.Chart {
	var names []string
	var at []r3.Vec
	for _, m := range q.c.Folder.Boat.Marks {
		names, at = append(names, m.Name), append(at, r3.Vec{X: m.X, Z: m.Z})
	}
	ch := q.heights("Water at her marks by day, "+q.t.Conditions[q.cond].Name, "water above the mark", names, at, -1)
	ch.Series = append(ch.Series, sheet.Series{Name: "on the mark", Role: sheet.Limit, X: []float64{0, float64(q.t.Days)}, Y: []float64{0, 0}})
	q.scale(ch)
	return ch
}

// heights charts how far points of her stand above the water (sign 1) or under it (-1), day by day.
func (q *ask) heights(heading, what string, names []string, at []r3.Vec, sign float64) *sheet.Chart {
	fine := q.sys.Fine()
	ch := &sheet.Chart{Heading: heading, X: days(q.t.Days), Y: sheet.Axis{Name: what, Unit: fine.Unit, Places: fine.Places}}
	for i, p := range at {
		s := sheet.Series{Name: names[i], Role: sheet.Other}
		for d, f := range q.all[q.cond] {
			if f.Err == nil {
				s.X, s.Y = append(s.X, float64(d)), append(s.Y, tenth(sign*f.Rest.Above(p)*fine.Factor*10)/10)
			}
		}
		if n := len(s.Y); n > 0 {
			if ch.Alt != "" {
				ch.Alt += "; "
			}
			ch.Alt += fmt.Sprintf("%s from %s to %s", names[i], fine.Show(s.Y[0]/fine.Factor), fine.Show(s.Y[n-1]/fine.Factor))
		}
		ch.Series = append(ch.Series, s)
	}
	ch.Alt = fmt.Sprintf("%s%s, from leaving to day %d: %s.", strings.ToUpper(what[:1]), what[1:], q.t.Days, ch.Alt)
	return ch
}

// scale fits the upright axis to all of a chart's curves.
func (q *ask) scale(ch *sheet.Chart) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range ch.Series {
		for _, v := range s.Y {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	if low > 0 {
		low = 0
	}
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(low, high)
}
