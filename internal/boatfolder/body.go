package boatfolder

import (
	"thole/internal/model"
	"thole/internal/units"
)

// What figures of a person and of the water can be and commonly are. From memory: statures of grown people from a small
// woman's to a tall man's, with room; what is kept up at the oars for hours.
var (
	statureBounds = bounds{length, 1.0, 1.45, 2.05, 2.5, "a grown person's stature"}
	powerBounds   = bounds{power, 5, 25, 220, 600, "what a rower keeps up for hours"}
	hoursBounds   = bounds{duration, 600, 2 * 3600, 16 * 3600, 24 * 3600, "the time at the oars in a day"}
	seaBounds     = bounds{temperature, -2, 0, 32, 40, "the sea"}
)

// The inside leg over the stature: outside of the first two one of them is wrong. From memory, with room.
const (
	shortestLeg, longestLeg = 0.35, 0.60
	youngest, oldest        = 10, 100
)

// body reads what the oars are fitted to.
func (r *reader) body(n *node, p *model.Person) {
	tall, leg, effort := n.get("stature"), n.get("inside leg"), n.get("power")
	p.Stature = units.Length(r.in(tall, "stature", statureBounds))
	p.InsideLeg = units.Length(r.exact(leg))
	if leg != nil {
		of := float64(p.Stature)
		if tall == nil {
			of = statureBounds.most
		}
		share := float64(p.InsideLeg) / of
		if share > longestLeg || tall != nil && share < shortestLeg || p.InsideLeg <= 0 {
			r.fault(leg.at, leg.text, "it is measured from the crotch to the floor, and is near half the stature", "inside leg %q cannot be", shorten(leg.text))
		}
	}
	p.Body = model.Build(n.get("body").str())
	if age := n.get("age"); age != nil {
		p.Age = int(age.number)
		if p.Age < youngest || p.Age > oldest {
			r.fault(age.at, age.text, "write the age in years", "age %q cannot be", shorten(age.text))
		}
	}
	if effort != nil {
		r.likely(effort, "power", powerBounds)
		p.Power = model.Power{Value: units.Power(effort.number), Tolerance: units.Power(effort.half), Given: effort.given}
	}
	p.Hours = units.Duration(r.in(n.get("hours"), "hours", hoursBounds))
}

// bottom reads how often she is scraped, and how warm the water is that things grow in.
func (r *reader) bottom(n *node, v *model.Voyage) {
	v.Scrape = int(n.get("scrape").value())
	if k := n.get("water temperature"); k != nil {
		t := units.Temperature(r.in(k, "water temperature", seaBounds))
		v.WaterTemperature = &t
	}
}
