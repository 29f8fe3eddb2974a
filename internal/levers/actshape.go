package levers

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
)

// level is how far apart two heights may be that are the same sole.
const level = 0.005

// slack is how far a drain or a hatch may stand off the sole that it lies on.
const slack = 0.02

// fuller makes the hull's half-breadths between two places broader: most midway, and
// nothing, without a step or a kink, at both.
func (p *pen) fuller(a model.Act) error {
	h := p.f.Boat.Hull
	g, err := p.gridOf(h.File, h.Scale)
	if err != nil {
		return err
	}
	all, err := g.spots("halfbreadth")
	if err != nil {
		return err
	}
	fore, aft := math.Inf(1), math.Inf(-1)
	for _, s := range all {
		fore, aft = math.Min(fore, s.x), math.Max(aft, s.x)
	}
	for _, s := range all {
		if s.x < a.Start || s.x > a.End || s.value <= 0 {
			continue
		}
		if w := swell(s.x, a.Start, a.End, a.Start <= fore, a.End >= aft); w > 0 {
			g.write(s.cell, s.unit, s.value*(1+a.Change.Share*w))
		}
	}
	if len(p.edits) == 0 {
		return errors.New("no station of the hull's table lies between the two places")
	}
	return nil
}

// swell is how much of a change a place between two others gets: all of it in the middle and none at the two, without a
// step or a corner. At an end of the boat it does not die away: a bow made fuller is fuller
// right up to the stem, and a swelling that came and went within a bow's length would not be fair.
func swell(x, from, to float64, foremost, aftmost bool) float64 {
	share := (x - from) / (to - from)
	w := 0.0
	switch {
	case foremost && aftmost:
		return 1
	case foremost:
		w = math.Cos(math.Pi / 2 * share)
	case aftmost:
		w = math.Sin(math.Pi / 2 * share)
	default:
		w = math.Sin(math.Pi * share)
	}
	return w * w
}

// raise changes the height of a cabin, or of a sole.
func (p *pen) raise(a model.Act) error {
	plain := model.PlainName(a.Name)
	switch a.Part {
	case "cabin":
		for i, c := range p.f.Boat.Cabins {
			if model.PlainName(c.Name) == plain {
				return p.crown(i, a.By.Z)
			}
		}
	case "well":
		for i, w := range p.f.Boat.Wells {
			if model.PlainName(w.Name) == plain {
				return p.wellSole(i, a.By.Z)
			}
		}
	default:
		i := p.compartment(a.Name)
		if i < 0 {
			break
		}
		c := p.f.Boat.Compartments[i]
		if c.Sole == nil {
			return fmt.Errorf("%s has no sole of its own", c.Name)
		}
		inner, outer := math.Inf(-1), math.Inf(1)
		switch c.Side {
		case model.Starboard:
			inner = 0
		case model.Port:
			outer = 0
		}
		p.sole(*c.Sole, c.From, c.To, inner, outer, a.By.Z)
		return nil
	}
	return fmt.Errorf("no %s is called %q", a.Part, a.Name)
}

// crown makes a cabin higher: each station's heights in proportion to how far they are above its foot.
func (p *pen) crown(cabin int, by float64) error {
	file, ok := p.value(boatFile, fmt.Sprintf("cabins[%d].offsets", cabin))
	if !ok {
		return errors.New("the cabin's table is not named")
	}
	g, err := p.gridOf(file.Text, 1)
	if err != nil {
		return err
	}
	all, err := g.spots("height")
	if err != nil {
		return err
	}
	foot, top := map[string]float64{}, map[string]float64{}
	for _, s := range all {
		if v, ok := foot[s.station]; !ok || s.value < v {
			foot[s.station] = s.value
		}
		if v, ok := top[s.station]; !ok || s.value > v {
			top[s.station] = s.value
		}
	}
	for _, s := range all {
		low, high := foot[s.station], top[s.station]
		if high-low+by <= 0 {
			return fmt.Errorf("station %s of the cabin is only %s high", s.station, p.shown(high-low))
		}
		g.write(s.cell, s.unit, s.value+by*(s.value-low)/(high-low))
	}
	return nil
}

// wellSole raises a well's sole, which is a number in boat.yaml for a well that is a box.
func (p *pen) wellSole(well int, by float64) error {
	key := fmt.Sprintf("wells[%d]", well)
	w := p.f.Boat.Wells[well]
	if _, box := p.value(boatFile, key+".sole"); !box || len(w.Readings.Stations) == 0 {
		return fmt.Errorf("%s has a table of its own: change that", w.Name)
	}
	st := w.Readings.Stations
	sole, side := math.Inf(1), 0.0
	for _, s := range st {
		for _, r := range s.Points {
			sole, side = math.Min(sole, r.Z), math.Max(side, r.Y)
		}
	}
	p.length(boatFile, key+".sole", w.Name, sole+by)
	for j, d := range w.Drains {
		if math.Abs(d.At.Z-sole) <= slack {
			p.up(boatFile, fmt.Sprintf("%s.drains[%d].at", key, j), d.Name, d.At, by)
		}
	}
	p.sole(sole, st[0].X, st[len(st)-1].X, -side, side, by)
	return nil
}

// sole raises what lies at a sole's height between two places along her and two across her: tops and soles of compartments,
// openings, and the crew's places over it.
func (p *pen) sole(height, from, to, inner, outer, by float64) {
	b := &p.f.Boat
	for i, c := range b.Compartments {
		if c.To <= from+slack || c.From >= to-slack || inner >= 0 && c.Side == model.Port || outer <= 0 && c.Side == model.Starboard {
			continue
		}
		key := fmt.Sprintf("compartments[%d]", i)
		if c.Sole != nil && math.Abs(*c.Sole-height) <= level {
			p.length(boatFile, key+".sole", c.Name, *c.Sole+by)
		}
		if c.Top != nil && math.Abs(*c.Top-height) <= level {
			p.length(boatFile, key+".top", c.Name, *c.Top+by)
		}
	}
	over := func(at r3.Vec) bool {
		return at.X >= from-slack && at.X <= to+slack && at.Y >= inner-slack && at.Y <= outer+slack
	}
	for i, o := range b.Openings {
		if over(o.At) && math.Abs(o.At.Z-height) <= slack {
			p.up(boatFile, fmt.Sprintf("openings[%d].at", i), o.Name, o.At, by)
		}
	}
	if p.f.Voyage == nil {
		return
	}
	for i, person := range p.f.Voyage.Crew {
		for _, place := range person.Places {
			w := place.Where
			if !w.None && w.Compartment < 0 && over(w.At) && w.At.Z > height {
				p.up(voyageFile, fmt.Sprintf("crew[%d].places.%s", i, place.Name), person.Name, w.At, by)
			}
		}
	}
}

// up raises a point.
func (p *pen) up(file, key, of string, at r3.Vec, by float64) {
	p.point(file, key, of, xyz(at), xyz(r3.Add(at, r3.Vec{Z: by})))
}
