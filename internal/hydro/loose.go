package hydro

import (
	"math"

	"thole/internal/cuts"
)

// Flooded is a space that the sea has come into and stands in as outside: its buoyancy is lost.
type Flooded struct {
	Name  string
	Stack *cuts.Stack
	Share float64 // of the space that water can fill: its permeability, 0 to 1
}

// Loose is a liquid in a closed space: so much of it, whatever the heel, its surface level.
type Loose struct {
	Name   string
	Stack  *cuts.Stack
	Volume float64 // m³ of liquid
	Ratio  float64 // density of the liquid over that of the sea
}

// Fits tells whether there is room for the liquid.
func (l *Loose) Fits() bool { return l.Volume >= 0 && l.Volume <= l.Stack.Volume() }

// standing is the liquid as it lies under a tilted sea: volume and moments of what there is, and of its
// surface only what a surface of fixed volume can do, the second moments about its own middle.
//
// Good to: the volume, 1e-11 of the space
// Source: the shift of a liquid's centre with its surface level, exactly; for small heels this is the free-surface rule
func (l *Loose) standing(p cuts.Plane) cuts.Sums {
	whole := l.Stack.Volume()
	if l.Volume <= 0 || whole <= 0 {
		return cuts.Sums{}
	}
	if l.Volume >= whole*(1-1e-12) { // pressed full: it cannot move
		p.Level = math.Inf(1)
		return l.Stack.Below(p)
	}
	m := l.level(p, whole)
	if m.Breadth > 0 {
		x, o := m.BreadthX/m.Breadth, m.Offset/m.Breadth
		m.BreadthXX -= x * m.BreadthX
		m.OffsetX -= x * m.Offset
		m.OffsetOffset -= o * m.Offset
		m.Breadth, m.BreadthX, m.Offset = 0, 0, 0
	}
	return m
}

// level finds the liquid's own level by Newton's method within halved bounds.
func (l *Loose) level(p cuts.Plane, whole float64) cuts.Sums {
	lo, hi := l.Stack.Box()
	low, high := math.Inf(1), math.Inf(-1)
	for i := range 8 {
		x, y, z := pick(lo, hi, i)
		h := z*p.Cos - y*p.Sin - p.Slope*x
		low, high = math.Min(low, h), math.Max(high, h)
	}
	p.Level = low + (high-low)*l.Volume/whole
	var m cuts.Sums
	for range 60 {
		m = l.Stack.Below(p)
		if math.Abs(m.Volume-l.Volume) <= 1e-11*whole {
			break
		}
		if m.Volume < l.Volume {
			low = p.Level
		} else {
			high = p.Level
		}
		next := p.Level + (l.Volume-m.Volume)/m.Breadth
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		p.Level = next
	}
	return m
}

// liquid is the volume of sea water that weighs what the loose liquids weigh.
func (b *Body) liquid() float64 {
	var v float64
	for i := range b.Loose {
		v += b.Loose[i].Ratio * math.Min(b.Loose[i].Volume, b.Loose[i].Stack.Volume())
	}
	return v
}

// With is the same body with more flooded and loose spaces.
func (b *Body) With(flooded []Flooded, loose []Loose) *Body {
	return &Body{Envelope: b.Envelope, Pockets: b.Pockets,
		Flooded: append(append([]Flooded(nil), b.Flooded...), flooded...),
		Loose:   append(append([]Loose(nil), b.Loose...), loose...)}
}

// even tells whether what stands in her lies alike on both sides; the envelope always does.
func (b *Body) even() bool {
	for i := range b.Flooded {
		if _, y, _ := b.Flooded[i].Stack.Centroid(); math.Abs(y) > 1e-9 && b.Flooded[i].Share > 0 {
			return false
		}
	}
	for i := range b.Loose {
		if _, y, _ := b.Loose[i].Stack.Centroid(); math.Abs(y) > 1e-9 && b.Loose[i].Volume > 0 {
			return false
		}
	}
	return true
}

// Upright is where the liquid lies with the boat level: its centre, and the second moment of its surface about
// the fore-and-aft line through its middle, m⁴.
func (l *Loose) Upright() (x, y, z, second float64) {
	m := l.standing(cuts.Plane{Cos: 1})
	if m.Volume == 0 {
		return 0, 0, 0, 0
	}
	return m.X / m.Volume, m.Across / m.Volume, m.Up / m.Volume, m.OffsetOffset
}
