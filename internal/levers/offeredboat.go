package levers

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
	"thole/internal/units"
)

// seats offers the first place of everybody lower.
func (o *offer) seats() {
	o.pen.edits = nil
	place := ""
	for i, p := range o.f.Voyage.Crew {
		for _, c := range p.Places {
			if place == "" {
				place = c.Name
			}
			if c.Name == place && !c.Where.None && c.Where.Compartment < 0 {
				o.pen.up(voyageFile, fmt.Sprintf("crew[%d].places.%s", i, c.Name), p.Name, c.Where.At, -float64(o.size.low))
			}
		}
	}
	o.written(loading, fmt.Sprintf("the crew %s, %s lower", place, o.length(o.size.low)), o.pen.edits, nil)
}

// guesses offers every guessed weight put on a scale: nothing moves, but more is known.
func (o *offer) guesses() {
	o.pen.edits = nil
	guessed := func(m model.Mass) bool { return !m.Given && (m.Known == model.Estimated || m.Known == model.Unsaid) }
	for i, w := range o.f.Boat.Weights {
		if guessed(w.Mass) {
			o.pen.set(boatFile, fmt.Sprintf("weights[%d].known", i), w.What, "weighed")
		}
	}
	for i, s := range o.f.Stores {
		if _, column := o.pen.value(storesFile, fmt.Sprintf("rows[%d].known", i)); column && guessed(s.Mass) {
			o.pen.set(storesFile, fmt.Sprintf("rows[%d].known", i), s.What, "weighed")
		}
	}
	o.written(loading, "every guessed weight weighed, and found right", o.pen.edits, nil)
}

// hatches offers each way into a cabin left open, the rest of them together, and what stands open shut.
func (o *offer) hatches() {
	var others, open []string
	for _, h := range o.f.Boat.Openings {
		cabin := slices.ContainsFunc(o.f.Boat.Cabins, func(c model.Cabin) bool { return c.Name == h.Into })
		if i := slices.IndexFunc(o.f.Boat.Compartments, func(c model.Compartment) bool { return c.Name == h.Into }); i >= 0 {
			cabin = cabin || o.f.Boat.Compartments[i].Cabin != ""
		}
		switch {
		case !h.Closed && !h.NonReturn:
			open = append(open, h.Name)
		case h.Closed && cabin:
			o.one(hatches, h.Name+" left open", model.Act{Do: model.Open, What: []string{h.Name}})
		case h.Closed:
			others = append(others, h.Name)
		}
	}
	if len(others) > 0 {
		o.one(hatches, "every other hatch left open", model.Act{Do: model.Open, What: others})
	}
	for _, name := range open {
		o.one(hatches, name+" shut", model.Act{Do: model.Shut, What: []string{name}})
	}
}

// hull offers fuller and finer ends.
func (o *offer) hull() {
	st := o.f.Boat.Hull.Readings.Stations
	if len(st) < 4 {
		return
	}
	fore, aft := st[0].X, st[len(st)-1].X
	for _, v := range o.f.Boat.Hull.Readings.Stern {
		aft = math.Max(aft, v.X)
	}
	for _, v := range o.f.Boat.Hull.Readings.Stem {
		fore = math.Min(fore, v.X)
	}
	long := aft - fore
	for _, c := range []struct {
		name     string
		from, to float64
	}{
		{"stern", fore + 0.5*long, aft},
		{"bow", fore, fore + 0.5*long},
	} {
		for _, share := range []float64{0.05, -0.05} {
			o.one(shaping, fmt.Sprintf("%s 5 %% %s", c.name, word(share > 0, "fuller", "finer")),
				model.Act{Do: model.Fuller, Start: c.from, End: c.to, Change: model.MassChange{Share: share, ByShare: true}})
		}
	}
	if now := o.f.Boat.Camber; now > 0 {
		o.pen.edits = nil
		o.pen.length(boatFile, "deck.camber", "", float64(now+o.size.camber))
		o.written(shaping, o.length(o.size.camber)+" more deck camber", o.pen.edits, nil)
	}
}

// word picks one of two.
func word(first bool, yes, no string) string {
	if first {
		return yes
	}
	return no
}

// inside offers cabins higher and lower, soles up and down, and larger drains.
func (o *offer) inside() {
	for _, c := range o.f.Boat.Cabins {
		for _, by := range []units.Length{o.size.cabin, -o.size.cabin} {
			o.one(shaping, fmt.Sprintf("%s's crown %s %s", c.Name, o.length(o.size.cabin), word(by > 0, "higher", "lower")),
				model.Act{Do: model.Raise, Part: "cabin", Name: c.Name, By: r3.Vec{Z: float64(by)}})
		}
	}
	largest := -1
	for i, w := range o.f.Boat.Wells {
		if largest < 0 || area(w) > area(o.f.Boat.Wells[largest]) {
			largest = i
		}
	}
	for i, w := range o.f.Boat.Wells {
		for _, by := range []units.Length{o.size.sole, -o.size.sole} {
			if i == largest {
				o.one(shaping, fmt.Sprintf("%s's sole %s %s", w.Name, o.length(o.size.sole), word(by > 0, "higher", "lower")),
					model.Act{Do: model.Raise, Part: "well", Name: w.Name, By: r3.Vec{Z: float64(by)}})
			}
		}
		o.drains(i, w)
	}
}

// area is that of the box round a well, from above.
func area(w model.Well) float64 {
	st := w.Readings.Stations
	if len(st) == 0 {
		return 0
	}
	wide := 0.0
	for _, s := range st {
		for _, r := range s.Points {
			wide = math.Max(wide, r.Y)
		}
	}
	return (st[len(st)-1].X - st[0].X) * wide
}

// bores are the sizes that pipes come in, m: millimetres and inches.
//
// Common practice, no source
var bores = map[units.System][]units.Length{
	units.Metric: {0.025, 0.032, 0.038, 0.050, 0.063, 0.075, 0.090, 0.110, 0.125, 0.160},
	units.Feet:   {1 * inch, 1.25 * inch, 1.5 * inch, 2 * inch, 2.5 * inch, 3 * inch, 4 * inch, 5 * inch, 6 * inch},
}

// drains offers a well's round drains a size larger.
func (o *offer) drains(well int, w model.Well) {
	o.pen.edits = nil
	to := ""
	for j, d := range w.Drains {
		for _, bore := range bores[o.f.Boat.Units] {
			if d.Diameter > 0 && bore > d.Diameter*1.1 {
				key := fmt.Sprintf("wells[%d].drains[%d].diameter", well, j)
				v, _ := o.pen.value(boatFile, key)
				o.pen.set(boatFile, key, d.Name, units.LengthLike(v.Text, bore, 0.0005, o.f.Boat.Units))
				to = o.length(bore)
				break
			}
		}
	}
	o.written(shaping, fmt.Sprintf("%s's drains a size larger, %s", w.Name, to), o.pen.edits, nil)
}

// skinWords are in the names of weights that are the skin's.
var skinWords = []string{"planking", "skin", "topsides", "bilge panel", "bottom panel", "strakes"}

// built offers her built heavier, and with a thicker skin.
func (o *offer) built() {
	var parts, skin []string
	for _, w := range o.f.Boat.Weights {
		if w.Ballast || w.Mass.Known == model.Weighed {
			continue
		}
		parts = append(parts, w.What)
		for _, s := range skinWords {
			if strings.Contains(strings.ToLower(w.What), s) && !slices.Contains(skin, w.What) {
				skin = append(skin, w.What)
			}
		}
	}
	if len(parts) > 1 {
		o.one(loading, "everything built 10 % heavier", model.Act{Do: model.Heavier, What: unique(parts), Change: model.MassChange{Share: 0.1, ByShare: true}})
	}
	if thick := o.f.Boat.Hull.Planking; thick > 0 {
		o.pen.edits = nil
		a := model.Act{Do: model.Heavier, What: skin, Change: model.MassChange{Share: float64(o.size.skin / thick), ByShare: true}}
		if len(skin) == 0 || o.pen.act(a) == nil {
			o.pen.length(boatFile, "hull.planking", "", float64(thick+o.size.skin))
			o.written(shaping, fmt.Sprintf("skin %s thicker", o.length(o.size.skin)), o.pen.edits, nil)
		}
	}
	if n := o.f.Boat.Loft.Strakes; n > 0 {
		o.pen.edits = nil
		o.pen.set(boatFile, "loft.strakes", "", fmt.Sprint(n+1))
		o.written(shaping, "one strake more on a side", o.pen.edits, nil)
	}
}

func unique(names []string) []string {
	var out []string
	for _, n := range names {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// fresh is the density of fresh water, kg/m³.
//
// Source: IAPWS-95 gives 999.97 kg/m³ at 4 °C
const fresh = 1000

// time offers other dates, and the water of a river.
func (o *offer) time() {
	o.one(voyages, "leave a month later", model.Act{Do: model.Leave, Months: 1})
	o.one(voyages, "leave a month earlier", model.Act{Do: model.Leave, Months: -1})
	o.day()
	if o.f.Boat.Water != fresh {
		o.pen.edits = nil
		o.pen.set(boatFile, "water", "", "1000 kg/m3")
		o.written(voyages, "afloat in fresh water", o.pen.edits, nil)
	}
}
