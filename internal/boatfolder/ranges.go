package boatfolder

import (
	"math"
	"strconv"

	"thole/internal/units"
)

// bounds are what a figure can be, and what it commonly is, both in SI. Outside of the first the unit or the place of
// the point is wrong, which is a fault; outside of the second it is read with a remark.
type bounds struct {
	kind       kind
	least      float64
	low, high  float64
	most       float64
	commonlyOf string // what the common range is of, for the remark
}

// in gives a figure's value, and tells whether it can be so.
func (r *reader) in(n *node, name string, b bounds) float64 {
	v := r.exact(n)
	r.likely(n, name, b)
	return v
}

// likely tells whether a figure can be so, and remarks on one that is rare.
func (r *reader) likely(n *node, name string, b bounds) {
	if n == nil {
		return
	}
	switch v := n.number; {
	case v < b.least || v > b.most:
		r.fault(n.at, n.text, "it can be from "+r.figure(b.kind, b.least)+" to "+r.figure(b.kind, b.most)+"; look at the unit and the point",
			"%s %q cannot be", name, shorten(n.text))
	case v < b.low || v > b.high:
		r.note(n.at, "it is taken as written; "+b.commonlyOf+" is commonly from "+r.figure(b.kind, b.low)+" to "+r.figure(b.kind, b.high),
			"%s %q is rare", name, shorten(n.text))
	}
}

// figure shows a quantity of a kind.
func (r *reader) figure(k kind, v float64) string {
	s := r.boat.Units
	switch k {
	case mass:
		return s.Mass(units.Mass(v))
	case angle:
		return s.Angle(units.Angle(v))
	case speed:
		return s.Speed(units.Speed(v))
	case force:
		return s.Force(units.Force(v))
	case power:
		return s.Power(units.Power(v))
	case duration:
		return s.Duration(units.Duration(v))
	case seaWay:
		return s.Way(units.Length(v))
	case share:
		return strconv.FormatFloat(math.Round(v*1000)/10, 'f', -1, 64) + " %"
	case volume:
		return units.Metric.Volume(units.Volume(v)) // litres: what is asked of so is small
	case temperature:
		return s.Temperature(units.Temperature(v))
	}
	return s.Length(units.Length(v))
}
