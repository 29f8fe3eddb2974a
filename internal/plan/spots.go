package plan

import "math"

// radius of the round that shows a mass: 20 mm for 5 kg, and never lost nor larger than a locker.
func radius(mass float64) float64 {
	return math.Max(0.014, math.Min(0.07, 0.009*math.Sqrt(math.Max(mass, 0))))
}

// spots finds places within an outline for what lies in a compartment on the day: rows of one pitch, as wide as they can be.
func (p *pen) spots(locker int, span func(x float64) (low, high float64)) []Dot {
	out := []Dot{}
	var mine []Thing
	for _, t := range p.now.Things {
		if t.Locker == locker && t.Left > 0 {
			mine = append(mine, t)
		}
	}
	if len(mine) == 0 {
		return out
	}
	xs := p.rooms[locker].xs
	from, to := xs[0], xs[len(xs)-1]
	for pitch := 0.15; pitch > 0.005; pitch *= 0.88 {
		found := fill(from, to, pitch, span)
		if len(found) < len(mine) {
			continue
		}
		// Spread over what there is of room, so that they do not crowd at one end.
		for k, t := range mine {
			at := found[k*len(found)/len(mine)]
			out = append(out, Dot{t.ID, [2]float64{round(at[0]), round(at[1])}, round(math.Min(radius(t.MassLeft), 0.46*pitch))})
		}
		return out
	}
	return out
}

// fill is a grid of places inside an outline, no nearer to its edge than half a pitch.
func fill(from, to, pitch float64, span func(x float64) (low, high float64)) [][2]float64 {
	var out [][2]float64
	columns := math.Floor((to - from) / pitch)
	start := from + (to-from-(columns-1)*pitch)/2
	for c := 0.0; c < columns; c++ {
		x := start + c*pitch
		low, high := span(x)
		rows := math.Floor((high - low) / pitch)
		for r := 0.0; r < rows; r++ {
			out = append(out, [2]float64{x, (low+high)/2 + (r-(rows-1)/2)*pitch})
		}
	}
	return out
}

// loose draws what lies at a point where it lies. It belongs to no compartment: a last outline without one holds it.
func (p *pen) loose(v *StowView, onto func(at [3]float64) ([2]float64, bool)) {
	rest := Outline{Locker: -1, Points: [][2]float64{}, Spots: []Dot{}}
	for _, t := range p.now.Things {
		if t.Locker >= 0 || t.Left == 0 {
			continue
		}
		if at, ok := onto(t.At); ok {
			rest.Spots = append(rest.Spots, Dot{t.ID, [2]float64{round(at[0]), round(at[1])}, round(radius(t.MassLeft))})
		}
	}
	v.Lockers = append(v.Lockers, rest)
}
