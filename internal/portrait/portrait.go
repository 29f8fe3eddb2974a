// Package portrait draws the boat cut open along her length, afloat on a day:
// her skin, deck and cabins on the centre line, the compartments and wells
// inside, the weights as dots, and the water at that day's trim.
package portrait

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/shape"
	"thole/internal/sheet"
)

// steps along the length at which the profile is taken.
const steps = 120

// Draw draws a case on a day in a condition. The paper's x is the boat's x, y her z, in
// metres; the water is the sloping line. A boat that cannot float is drawn without water.
//
// Error: the shape could not be built, or there is no such day or condition
func Draw(c *answer.Case, day int, condition string) (sheet.Drawing, error) {
	t, err := c.Trip()
	if err != nil {
		return sheet.Drawing{}, err
	}
	day, cond, err := answer.Options{Day: day, Condition: condition}.Pick(t)
	if err != nil {
		return sheet.Drawing{}, err
	}
	p := pen{trip: t}
	p.frame()
	state := t.State(day, cond)
	var f afloat.Floating
	wet := false
	if !c.Weightless() {
		f = t.Float(state, nil)
		wet = f.Err == nil && math.Abs(f.Rest.Heel) < math.Pi/3
	}
	if wet {
		p.sea(f)
	}
	p.body()
	p.spaces()
	p.skin()
	p.things(&state)
	p.d.Heading = c.Folder.Boat.Name
	p.d.Alt = fmt.Sprintf("%s cut open along her length, bow to the left", c.Folder.Boat.Name)
	if wet {
		p.water(f)
		p.d.Alt += fmt.Sprintf(", afloat on day %d with the crew %s: trim %.1f degrees, least freeboard %.0f mm",
			day, t.Conditions[cond].Name, f.Rest.Trim()*180/math.Pi, 1000*f.Freeboard)
	}
	return p.d, nil
}

type pen struct {
	trip *afloat.Trip
	d    sheet.Drawing
}

func (p *pen) add(role sheet.Role, name string, closed bool, pts [][2]float64) {
	for i := range pts { // a tenth of a millimetre is finer than any line
		pts[i] = [2]float64{math.Round(pts[i][0]*1e4) / 1e4, math.Round(pts[i][1]*1e4) / 1e4}
	}
	p.d.Paths = append(p.d.Paths, sheet.Path{Role: role, Name: name, Points: pts, Closed: closed})
}

// frame sets the drawing's extent about the whole boat.
func (p *pen) frame() {
	lo, hi := p.trip.Ship.Body.Envelope.Box()
	length := hi[0] - lo[0]
	p.d.MinX, p.d.MaxX = lo[0]-0.06*length, hi[0]+0.06*length
	p.d.MinY, p.d.MaxY = lo[2]-0.05*length, hi[2]+0.03*length
}

// along samples a line of the boat between two places, on either side of each break.
func along(from, to float64, z func(x float64) float64, breaks ...float64) [][2]float64 {
	n := max(2, int(math.Ceil(steps*(to-from)/7)))
	var xs []float64
	for i := 0; i <= n; i++ {
		xs = append(xs, from+float64(i)/float64(n)*(to-from))
	}
	for _, b := range breaks {
		if b > from && b < to {
			xs = append(xs, b-1e-6, b+1e-6)
		}
	}
	slices.Sort(xs)
	pts := make([][2]float64, 0, len(xs))
	for _, x := range xs {
		pts = append(pts, [2]float64{x, z(x)})
	}
	return pts
}

func reversed(pts [][2]float64) [][2]float64 {
	out := make([][2]float64, len(pts))
	for i, q := range pts {
		out[len(pts)-1-i] = q
	}
	return out
}

// above is the profile of a cabin over the deck that it stands on.
func (p *pen) above(c *shape.Solid) [][2]float64 {
	return p.within(c.From, c.To, func(x float64) (float64, float64) {
		foot, head := c.Span(x)
		if hull := p.trip.Ship.Hull; x >= hull.From && x <= hull.To {
			_, deck := hull.Span(x)
			foot = math.Max(foot, math.Min(deck, head))
		}
		return foot, head
	})
}

// outline is a solid's profile on the centre line, all round.
func outline(s *shape.Solid) [][2]float64 {
	foot := along(s.From, s.To, func(x float64) float64 { f, _ := s.Span(x); return f })
	head := along(s.From, s.To, func(x float64) float64 { _, h := s.Span(x); return h })
	return append(foot, reversed(head)...)
}

// sea fills the water from the surface down, behind the boat.
func (p *pen) sea(f afloat.Floating) {
	a, b := p.level(f, p.d.MinX), p.level(f, p.d.MaxX)
	p.add(sheet.Sea, "the sea", true, [][2]float64{{p.d.MinX, a}, {p.d.MaxX, b}, {p.d.MaxX, p.d.MinY}, {p.d.MinX, p.d.MinY}})
}

// level is the height of the water on the centre plane at x.
func (p *pen) level(f afloat.Floating, x float64) float64 {
	pl := f.Rest.Plane()
	return (pl.Level + pl.Slope*x) / pl.Cos
}

func (p *pen) water(f afloat.Floating) {
	p.add(sheet.Water, "water line", false, [][2]float64{{p.d.MinX, p.level(f, p.d.MinX)}, {p.d.MaxX, p.level(f, p.d.MaxX)}})
}

func (p *pen) body() {
	p.add(sheet.Body, "hull", true, outline(p.trip.Ship.Hull))
	for _, c := range p.trip.Ship.Cabins {
		p.add(sheet.Body, c.Name, true, p.above(c))
	}
}

// spaces draws the compartments and the wells within the boat.
func (p *pen) spaces() {
	for _, w := range p.trip.Ship.Wells {
		p.add(sheet.Space, w.Name, true, p.within(w.From, w.To, func(x float64) (float64, float64) {
			foot, head := w.Span(x)
			_, deck := p.trip.Ship.Hull.Span(x)
			return foot, math.Min(head, deck)
		}))
	}
	b := &p.trip.Folder.Boat
	for i := range b.Compartments {
		c := &b.Compartments[i]
		name := c.Name
		if c.Number > 0 {
			name = fmt.Sprintf("%d %s", c.Number, c.Name)
		}
		p.add(sheet.Space, name, true, p.compartment(c))
		at := p.trip.Ship.Rooms[i].Centre
		if c.Number > 0 && c.Side != model.Starboard {
			p.d.Labels = append(p.d.Labels, sheet.Label{X: at.X, Y: at.Z, Text: fmt.Sprint(c.Number), Anchor: "middle", Role: sheet.Space})
		}
	}
}

// within is the outline between two lines.
func (p *pen) within(from, to float64, span func(x float64) (foot, head float64)) [][2]float64 {
	var breaks []float64
	for _, c := range p.trip.Ship.Cabins {
		breaks = append(breaks, c.From, c.To)
	}
	foot := along(from, to, func(x float64) float64 { f, _ := span(x); return f }, breaks...)
	head := along(from, to, func(x float64) float64 { f, h := span(x); return math.Max(f, h) }, breaks...)
	return append(foot, reversed(head)...)
}

func (p *pen) compartment(c *model.Compartment) [][2]float64 {
	hull := p.trip.Ship.Hull
	from, to := math.Max(c.From, hull.From), math.Min(c.To, hull.To)
	return p.within(from, to, func(x float64) (float64, float64) {
		foot, head := hull.Span(x)
		for _, cabin := range p.trip.Ship.Cabins {
			if cabin.Name == c.Cabin && x >= cabin.From && x <= cabin.To {
				_, top := cabin.Span(x)
				head = math.Max(head, top)
			}
		}
		if c.Sole != nil {
			foot = math.Max(foot, *c.Sole)
		}
		if c.Top != nil {
			head = math.Min(head, *c.Top)
		}
		return foot, head
	})
}

func (p *pen) skin() {
	for _, c := range p.trip.Ship.Cabins {
		p.add(sheet.Skin, c.Name, true, p.above(c))
	}
	p.add(sheet.Skin, "hull", true, outline(p.trip.Ship.Hull))
	s := p.trip.Ship.Sheer
	var line [][2]float64
	for _, q := range s {
		line = append(line, [2]float64{q.X, q.Z})
	}
	p.add(sheet.Other, "sheer", false, line)
}

// things are the weights, as small crosses, and the crew and the centre of gravity by name.
func (p *pen) things(s *model.State) {
	const arm = 0.02
	for _, it := range s.Items {
		size := arm
		if it.Crew {
			size = 2 * arm
		}
		name := fmt.Sprintf("%s, %.0f kg", it.What, it.Mass)
		p.add(sheet.Thing, name, false, [][2]float64{{it.At.X - size, it.At.Z}, {it.At.X + size, it.At.Z}})
		p.add(sheet.Thing, name, false, [][2]float64{{it.At.X, it.At.Z - size}, {it.At.X, it.At.Z + size}})
		if it.Crew {
			p.d.Labels = append(p.d.Labels, sheet.Label{X: it.At.X, Y: it.At.Z + 3*arm, Text: it.What, Anchor: "middle", Role: sheet.Thing})
		}
	}
	if s.Mass > 0 {
		p.d.Labels = append(p.d.Labels, sheet.Label{X: s.G.X, Y: s.G.Z, Text: "G", Anchor: "middle", Role: sheet.Main})
	}
}
