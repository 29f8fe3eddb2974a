package byhand

import (
	"math"
	"slices"

	"thole/internal/lines"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/units"
)

// profile is the view from the side: keel, sheer, buttocks, cabins and wells, the waterlines as level strokes.
func (p *pen) profile(state *model.State, spots []spot) sheet.Drawing {
	d := sheetOf("Profile", p.minX, p.minZ, p.maxX, p.maxZ)
	for _, w := range p.waterlines {
		add(d, sheet.Grid, w.Name, false, [][2]float64{{p.minX, w.At}, {p.maxX, w.At}})
		p.measure(d, p.minX, w.At)
	}
	add(d, sheet.Grid, "base line", false, [][2]float64{{p.minX, 0}, {p.maxX, 0}})
	p.uprights(d, p.minZ, p.maxZ)
	for _, w := range p.trip.Ship.Wells {
		var foot, rim [][2]float64
		const steps = 12
		for i := 0; i <= steps; i++ {
			x := w.From + (w.To-w.From)*float64(i)/steps
			lo, hi := w.Span(x)
			_, deck := p.trip.Ship.Hull.Span(x)
			foot, rim = append(foot, [2]float64{x, lo}), append(rim, [2]float64{x, math.Max(lo, math.Min(hi, deck))})
		}
		slices.Reverse(rim)
		add(d, sheet.Space, w.Name, true, append(foot, rim...))
	}
	for _, b := range p.buttocks {
		for _, run := range p.run(b) {
			add(d, sheet.Other, b.Name, false, run)
		}
	}
	for _, c := range p.trip.Ship.Cabins {
		add(d, sheet.Space, c.Name, false, p.top(c))
	}
	add(d, sheet.Space, "deck at the centre line", false, p.edges.crown)
	p.rest(d, state, spots)
	if p.water != nil {
		add(d, sheet.Water, "the water", false, [][2]float64{{p.minX, p.water(p.minX)}, {p.maxX, p.water(p.maxX)}})
	}
	up := slices.Clone(p.edges.sheer)
	slices.Reverse(up)
	add(d, sheet.Skin, "hull", true, append(slices.Clone(p.edges.keel), up...))
	return *d
}

// uprights draws the stations, with their names at the foot.
func (p *pen) uprights(d *sheet.Drawing, foot, head float64) {
	for _, st := range p.stations {
		add(d, sheet.Grid, "station "+st.label, false, [][2]float64{{st.x, foot}, {st.x, head}})
		d.Labels = append(d.Labels, sheet.Label{X: st.x, Y: foot, Text: st.label, Anchor: "middle", Role: sheet.Grid})
	}
}

// measure writes at the left end of a stroke how high, or how far out, it is.
func (p *pen) measure(d *sheet.Drawing, x, at float64) {
	d.Labels = append(d.Labels, sheet.Label{X: x, Y: at, Text: p.system.Length(units.Length(at)), Anchor: "start", Role: sheet.Grid})
}

// rest draws the weights that no hand may pull here, those in compartments and the crew, as small rounds: their area
// goes by their mass.
func (p *pen) rest(d *sheet.Drawing, state *model.State, spots []spot) {
	own := map[[3]float64]bool{}
	for i := range spots {
		if spots[i].Kind == Weight {
			own[[3]float64{spots[i].X, spots[i].Y, spots[i].Z}] = true
		}
	}
	for _, it := range state.Items {
		if it.Mass <= 0 || !it.Crew && own[[3]float64{it.At.X, it.At.Y, it.At.Z}] {
			continue
		}
		const sides = 10
		r := radius(it.Mass)
		var round [][2]float64
		for k := range sides {
			s, c := math.Sincos(2 * math.Pi * float64(k) / sides)
			round = append(round, [2]float64{it.At.X + r*c, it.At.Z + r*s})
		}
		add(d, sheet.Thing, it.What+", "+p.system.Mass(units.Mass(it.Mass)), true, round)
	}
}

// radius of the round that shows a mass: 20 mm for a kilogram, and never lost or larger than a locker.
func radius(mass float64) float64 {
	return math.Max(0.008, math.Min(0.09, 0.009*math.Sqrt(mass)))
}

// plan is the view from above: the sheer and the waterlines to starboard, the sheer alone to port.
func (p *pen) plan() sheet.Drawing {
	d := sheetOf("Plan", p.minX, -p.wide, p.maxX, p.wide)
	for _, b := range p.buttocks {
		add(d, sheet.Grid, b.Name, false, [][2]float64{{p.minX, b.At}, {p.maxX, b.At}})
		p.measure(d, p.minX, b.At)
	}
	p.uprights(d, -p.wide, p.wide)
	var port [][2]float64
	for _, q := range p.edges.breadth {
		port = append(port, [2]float64{q[0], -q[1]})
	}
	add(d, sheet.Pointer, "sheer to port", false, port)
	add(d, sheet.Space, "centre line", false, [][2]float64{{p.minX, 0}, {p.maxX, 0}})
	for _, w := range p.waterlines {
		for _, run := range p.run(w) {
			add(d, sheet.Other, w.Name, false, run)
		}
	}
	if p.water != nil {
		var edge [][2]float64
		for i, x := range p.xs {
			hits := lines.Cross(&p.girths[i], lines.Plane{Kind: lines.Waterline, At: p.water(x)})
			if len(hits) > 0 {
				edge = append(edge, [2]float64{x, hits[len(hits)-1].Y})
			}
		}
		add(d, sheet.Water, "the water's edge", false, edge)
	}
	add(d, sheet.Skin, "sheer", false, slices.Clone(p.edges.breadth))
	return *d
}

// body is the sections, the fore body to starboard and the after body to port.
func (p *pen) body() sheet.Drawing {
	d := sheetOf("Body plan", -p.half, p.minZ, p.half, p.sheer)
	for _, w := range p.waterlines {
		add(d, sheet.Grid, w.Name, false, [][2]float64{{-p.half, w.At}, {p.half, w.At}})
	}
	add(d, sheet.Grid, "base line", false, [][2]float64{{-p.half, 0}, {p.half, 0}})
	for _, b := range p.buttocks {
		for _, y := range []float64{-b.At, b.At} {
			add(d, sheet.Grid, b.Name, false, [][2]float64{{y, p.minZ}, {y, p.sheer}})
		}
	}
	add(d, sheet.Space, "centre line", false, [][2]float64{{0, p.minZ}, {0, p.sheer}})
	if p.water != nil {
		from, to := p.trip.Ship.Hull.Surface.Ends()
		z := p.water((from + to) / 2)
		add(d, sheet.Water, "the water amidships", false, [][2]float64{{-p.half, z}, {p.half, z}})
	}
	for _, st := range p.stations {
		if len(st.line) == 0 {
			continue
		}
		hand := 1.0
		if st.aft {
			hand = -1
		}
		var line [][2]float64
		for _, q := range st.line {
			line = append(line, [2]float64{hand * q.Y, q.Z})
		}
		top := line[len(line)-1]
		add(d, sheet.Main, "station "+st.label, false, line)
		d.Labels = append(d.Labels, sheet.Label{X: top[0], Y: top[1] + 0.012, Text: st.label, Anchor: "middle", Role: sheet.Grid})
	}
	return *d
}
