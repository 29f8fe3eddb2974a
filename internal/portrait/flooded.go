package portrait

import (
	"fmt"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/sheet"
)

// Flooded is the boat cut open along her length as she lies with compartments open to the sea, the water in
// them and her openings as small crosses. rooms are the compartments' indices; at is nil for a boat that
// sinks: then they are drawn full, and no sea. Heeled by more than 60 degrees she is drawn without the sea too.
func Flooded(t *afloat.Trip, at *hydro.Attitude, rooms []int) sheet.Drawing {
	p := pen{trip: t}
	p.frame()
	var f afloat.Floating
	wet := at != nil && at.Heel < tooFar && at.Heel > -tooFar
	if wet {
		f.Rest.Attitude = *at
		p.sea(f)
	}
	p.body()
	b := &t.Folder.Boat
	for _, i := range rooms {
		shape := p.compartment(&b.Compartments[i])
		if wet {
			pl := at.Plane()
			y := t.Ship.Rooms[i].Centre.Y
			shape = under(shape, func(q [2]float64) float64 { return q[1]*pl.Cos - y*pl.Sin - pl.Slope*q[0] - pl.Level })
		}
		if len(shape) > 2 {
			p.add(sheet.Sea, "the sea in "+b.Compartments[i].Name, true, shape)
		}
	}
	p.spaces()
	p.skin()
	if wet {
		p.water(f)
	}
	const arm = 0.025
	for _, o := range b.Openings {
		name := o.Name
		if wet {
			name = fmt.Sprintf("%s, %.0f mm above the water", o.Name, 1000*at.Above(o.At))
		}
		x, z := o.At.X, o.At.Z
		p.add(sheet.Thing, name, false, [][2]float64{{x - arm, z - arm}, {x + arm, z + arm}})
		p.add(sheet.Thing, name, false, [][2]float64{{x - arm, z + arm}, {x + arm, z - arm}})
	}
	return p.d
}

// tooFar is the heel beyond which the water on the centre plane says nothing.
const tooFar = 1.0472

// under is what of a closed outline lies where a height is not above nothing.
//
// Source: Sutherland and Hodgman (1974), one side
func under(loop [][2]float64, height func([2]float64) float64) [][2]float64 {
	var out [][2]float64
	for i, b := range loop {
		a := loop[(i+len(loop)-1)%len(loop)]
		ha, hb := height(a), height(b)
		if (ha > 0) != (hb > 0) {
			s := ha / (ha - hb)
			out = append(out, [2]float64{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])})
		}
		if hb <= 0 {
			out = append(out, b)
		}
	}
	return out
}
