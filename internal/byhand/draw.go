package byhand

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"thole/internal/afloat"
	"thole/internal/cuts"
	"thole/internal/fairing"
	"thole/internal/lines"
	"thole/internal/model"
	"thole/internal/shape"
	"thole/internal/sheet"
	"thole/internal/units"
)

// along is the number of places, besides the stations, at which the lines are taken; shore that of
// the outlines, which bend hard at the ends and cost less.
const (
	along = 36
	shore = 100
)

// pen draws the three views off one surface.
type pen struct {
	trip       *afloat.Trip
	folder     *model.Folder
	system     units.System
	xs         []float64
	girths     []fairing.Girth // at xs
	stations   []station
	waterlines []lines.Plane
	buttocks   []lines.Plane
	edges      edges
	water      func(x float64) float64 // height of the sea on the centre plane; nil when she is not afloat

	minX, maxX, minZ, maxZ, wide, half, sheer float64
}

// station is a measured section, faired.
type station struct {
	label  string
	x      float64
	aft    bool
	line   []cuts.Point // from keel to sheer
	index  int          // in the readings
	faired int          // in the fairing's own list; -1 when it left the station out
}

// lay takes the surface apart: its girths along the boat, and the planes.
func (p *pen) lay() {
	hull := p.trip.Ship.Hull
	s := hull.Surface
	from, to := s.Ends()
	for i := 0; i <= along; i++ {
		p.xs = append(p.xs, from+float64(i)/along*(to-from))
	}
	faired := s.Faired()
	for i, st := range p.folder.Boat.Hull.Readings.Stations {
		at := station{label: st.Label, x: st.X, aft: st.X > (from+to)/2, index: i, faired: -1}
		for k, c := range faired {
			if c.X == st.X {
				at.faired = k
			}
		}
		p.stations = append(p.stations, at)
		if st.X > from && st.X < to {
			p.xs = append(p.xs, st.X)
		}
	}
	slices.Sort(p.xs)
	p.xs = slices.CompactFunc(p.xs, func(a, b float64) bool { return math.Abs(b-a) < 1e-9 })
	p.girths = make([]fairing.Girth, len(p.xs))
	for i, x := range p.xs {
		p.girths[i] = s.Girth(x)
	}
	for _, pl := range lines.Usual(s) {
		switch pl.Kind {
		case lines.Waterline:
			pl.Name = "waterline " + p.system.Length(units.Length(pl.At))
			p.waterlines = append(p.waterlines, pl)
		case lines.Buttock:
			pl.Name = "buttock " + p.system.Length(units.Length(pl.At))
			p.buttocks = append(p.buttocks, pl)
		}
	}
	for i := range p.stations {
		p.stations[i].line = p.section(p.stations[i].x)
	}
	p.layEdges()
}

// section is the fair section at x as points: close enough to be drawn, and every place at which a waterline
// or a buttock crosses it, so that the views say the same.
func (p *pen) section(x float64) []cuts.Point {
	i, found := slices.BinarySearchFunc(p.xs, x, func(a, b float64) int {
		if math.Abs(a-b) < 1e-9 {
			return 0
		}
		return cmp.Compare(a, b)
	})
	if !found {
		return nil
	}
	g := &p.girths[i]
	knots := g.Knots()
	type spot struct {
		s float64
		p cuts.Point
	}
	var all []spot
	for k, s := range knots {
		if k > 0 {
			mid := (knots[k-1] + s) / 2
			q, _, _ := g.At(mid)
			all = append(all, spot{mid, q})
		}
		q, _, _ := g.At(s)
		all = append(all, spot{s, q})
	}
	for _, pl := range append(slices.Clone(p.waterlines), p.buttocks...) {
		for _, q := range lines.Cross(g, pl) {
			// between which two it stands: the one whose way round by it is least longer
			best, at := math.Inf(1), 0
			for k := 1; k < len(all); k++ {
				a, b := all[k-1].p, all[k].p
				d := math.Hypot(q.Y-a.Y, q.Z-a.Z) + math.Hypot(b.Y-q.Y, b.Z-q.Z) - math.Hypot(b.Y-a.Y, b.Z-a.Z)
				if d < best {
					best, at = d, k
				}
			}
			if at > 0 {
				all = slices.Insert(all, at, spot{all[at-1].s, q})
			}
		}
	}
	out := make([]cuts.Point, len(all))
	for k := range all {
		out[k] = all[k].p
	}
	return out
}

// judge says how a reading stands to the fair surface.
func (p *pen) judge(s *spot) {
	if s.Kind != Reading || s.station < 0 {
		return
	}
	st := &p.stations[s.station]
	s.Aft = st.aft
	if len(st.line) < 2 || st.faired < 0 {
		return
	}
	s.Off = off(st.line, cuts.Point{Y: s.Y, Z: s.Z})
	size := p.system.Length(units.Length(math.Abs(s.Off)))
	way := "proud of"
	if s.Off < 0 {
		way = "inside"
	}
	s.Fair = "on the fair line"
	if math.Abs(s.Off) >= 0.0005 {
		s.Fair = fmt.Sprintf("stands %s %s the fair line", size, way)
	}
	for _, m := range p.trip.Ship.Hull.Surface.Moves {
		if m.Suspect && m.Station == st.faired && m.Point == s.point {
			s.Misread = true
			s.Fair = fmt.Sprintf("looks misread: it stands %s %s what its neighbours make, and was left out of the fairing; measure it again", size, way)
		}
	}
}

// off is how far a point stands from a section, positive outside it.
func off(line []cuts.Point, q cuts.Point) float64 {
	best, out := math.Inf(1), 0.0
	for k := 1; k < len(line); k++ {
		a, b := line[k-1], line[k]
		ty, tz := b.Y-a.Y, b.Z-a.Z
		l := math.Hypot(ty, tz)
		if l < 1e-9 {
			continue
		}
		t := math.Max(0, math.Min(1, ((q.Y-a.Y)*ty+(q.Z-a.Z)*tz)/(l*l)))
		if d := math.Hypot(q.Y-a.Y-t*ty, q.Z-a.Z-t*tz); d < best {
			best = d
			out = math.Copysign(d, (q.Y-a.Y)*tz-(q.Z-a.Z)*ty)
		}
	}
	return out
}

// extent is how much paper the views take: profile and plan have the same length; the body plan holds the hull alone, larger.
func (p *pen) extent(handles []Handle) {
	lo, hi := p.trip.Ship.Body.Envelope.Box()
	p.minX, p.maxX, p.minZ, p.maxZ = lo[0], hi[0], math.Min(lo[2], 0), hi[2]
	p.wide, p.half = hi[1], hi[1]
	for _, q := range p.edges.sheer {
		p.sheer = math.Max(p.sheer, q[1])
	}
	for _, h := range handles {
		p.minX, p.maxX = math.Min(p.minX, h.X), math.Max(p.maxX, h.X)
		p.minZ, p.maxZ = math.Min(p.minZ, h.Z), math.Max(p.maxZ, h.Z)
		p.wide = math.Max(p.wide, math.Abs(h.Y))
	}
	edge := 0.02 * (hi[0] - lo[0])
	const words = 2.5 // so many edges are left at the bow, for what is written there
	p.minX, p.maxX, p.minZ, p.maxZ, p.wide = p.minX-words*edge, p.maxX+edge, p.minZ-edge, p.maxZ+edge, p.wide+edge
	p.half, p.sheer = p.half+edge/2, p.sheer+edge/2
}

// sheetOf is an empty drawing.
func sheetOf(heading string, minX, minY, maxX, maxY float64) *sheet.Drawing {
	return &sheet.Drawing{Heading: heading, MinX: tenth(minX), MinY: tenth(minY), MaxX: tenth(maxX), MaxY: tenth(maxY)}
}

// tenth rounds to a tenth of a millimetre divided by ten: finer than any line, and short to send.
func tenth(v float64) float64 { return math.Round(v*1e5) / 1e5 }

func add(d *sheet.Drawing, role sheet.Role, name string, closed bool, pts [][2]float64) {
	if len(pts) < 2 {
		return
	}
	for i := range pts {
		pts[i] = [2]float64{tenth(pts[i][0]), tenth(pts[i][1])}
	}
	d.Paths = append(d.Paths, sheet.Path{Role: role, Name: name, Points: pts, Closed: closed})
}

// run follows a plane along the boat. Where it begins or leaves off between two places, its end is found on the keel
// or the sheer that it runs into.
func (p *pen) run(pl lines.Plane) [][][2]float64 {
	var all [][][2]float64
	var now [][2]float64
	for i := range p.xs {
		hits := lines.Cross(&p.girths[i], pl)
		if len(hits) == 0 {
			if len(now) > 0 {
				if q, ok := p.endOf(pl, p.xs[i-1], p.xs[i]); ok {
					now = append(now, q)
				}
				all, now = append(all, now), nil
			}
			continue
		}
		if len(now) == 0 && i > 0 {
			if q, ok := p.endOf(pl, p.xs[i], p.xs[i-1]); ok {
				now = append(now, q)
			}
		}
		q := hits[len(hits)-1]
		v := q.Y
		if pl.Kind == lines.Buttock {
			v = hits[0].Z
		}
		now = append(now, [2]float64{p.xs[i], v})
	}
	if len(now) > 0 {
		all = append(all, now)
	}
	return all
}

// endOf is where a line runs out between a place that has it and one that has not: on the keel or on the sheer,
// whichever passes through the plane there.
//
// Source: false position with the idle end halved (Dowell & Jarratt, BIT 11 (1971))
func (p *pen) endOf(pl lines.Plane, has, not float64) ([2]float64, bool) {
	s := p.trip.Ship.Hull.Surface
	sheer := false
	from := func(x float64) (v float64, q cuts.Point) {
		if sheer {
			q = s.Top(x)
		} else {
			q = s.Half(x)[0]
		}
		if pl.Kind == lines.Buttock {
			return q.Y - pl.At, q
		}
		return q.Z - pl.At, q
	}
	a, at := from(has)
	b, _ := from(not)
	if a*b > 0 {
		sheer = true
		a, at = from(has)
		if b, _ = from(not); a*b > 0 {
			return [2]float64{}, false // it folds within the section, and has no end on an edge
		}
	}
	lo, hi, x, last := has, not, has, 0
	for range 20 {
		if math.Abs(a-b) < 1e-12 {
			break
		}
		x = lo - a*(hi-lo)/(b-a)
		var v float64
		if v, at = from(x); math.Abs(v) < 1e-5 {
			break
		}
		if (v < 0) == (a < 0) {
			lo, a = x, v
			if last == 1 {
				b /= 2
			}
			last = 1
		} else {
			hi, b = x, v
			if last == -1 {
				a /= 2
			}
			last = -1
		}
	}
	if pl.Kind == lines.Buttock {
		return [2]float64{x, at.Z}, true
	}
	return [2]float64{x, at.Y}, true
}

// edges are the keel, the sheer in height and in breadth, and the crown of the deck along the boat.
type edges struct{ keel, sheer, breadth, crown [][2]float64 }

func (p *pen) layEdges() {
	hull := p.trip.Ship.Hull
	e := &p.edges
	for i := 0; i <= shore; i++ {
		// closer towards the ends, where stem and stern rise
		x := hull.From + (hull.To-hull.From)*(1-math.Cos(math.Pi*float64(i)/shore))/2
		half := hull.Surface.Half(x)
		top := half[len(half)-1]
		e.keel, e.sheer = append(e.keel, [2]float64{x, half[0].Z}), append(e.sheer, [2]float64{x, top.Z})
		e.breadth = append(e.breadth, [2]float64{x, top.Y})
		if p.folder.Boat.Camber > 0 && i%2 == 0 {
			_, head := hull.Span(x)
			e.crown = append(e.crown, [2]float64{x, head})
		}
	}
}

// top is the line of a cabin over the deck, from where it begins to where it ends.
func (p *pen) top(c *shape.Solid) [][2]float64 {
	deck := func(x float64) float64 {
		hull := p.trip.Ship.Hull
		_, head := hull.Span(math.Max(hull.From, math.Min(hull.To, x)))
		return head
	}
	out := [][2]float64{{c.From, deck(c.From)}}
	const steps = 24
	for i := 0; i <= steps; i++ {
		x := c.From + (c.To-c.From)*float64(i)/steps
		_, head := c.Span(x)
		out = append(out, [2]float64{x, head})
	}
	return append(out, [2]float64{c.To, deck(c.To)})
}
