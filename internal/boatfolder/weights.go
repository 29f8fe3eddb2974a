package boatfolder

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
	"thole/internal/units"
)

// shares are how well a mass is known where no +- says so.
//
// Source: docs/boat-folder.md, weights; common practice, no source
var shares = map[model.Known]units.Mass{
	model.Unsaid: 0.15, model.Estimated: 0.15, model.Calculated: 0.10, model.Weighed: 0.02,
}

var knownWords = map[string]model.Known{
	"": model.Unsaid, "estimated": model.Estimated, "weighed": model.Weighed, "calculated": model.Calculated,
}

// knownMass puts a mass and what is known of it together.
func knownMass(n *node, known string) model.Mass {
	m := model.Mass{Value: units.Mass(n.value()), Known: knownWords[known]}
	if n != nil && n.given {
		m.Tolerance, m.Given = units.Mass(n.half), true
	} else {
		m.Tolerance = m.Value * shares[m.Known]
	}
	return m
}

func (r *reader) weight(n *node) model.Weight {
	w := model.Weight{
		What: n.get("what").str(), Count: 1, Ballast: n.get("ballast").yes(), Source: n.at,
		Mass:     knownMass(n.get("mass"), n.get("known").str()),
		Where:    model.Place{Compartment: -1},
		Provides: namesIn(n.get("provides")), Needs: namesIn(n.get("needs")), Expires: dateOf(n.get("expires")), Inspect: dateOf(n.get("inspect")),
	}
	w.Dry = dryness(n.get("dry"))
	if count := n.get("count"); count != nil {
		w.Count = int(count.number)
	}
	drink := n.get("drink")
	w.Drink = units.Volume(r.exact(drink))
	w.Kept = keptFor(n.get("kept"), w.Ballast, w.Drink)
	r.provisioned(w.Mass, nil, nil, drink)
	if at := n.get("at"); at != nil {
		w.Where = pointPlace(at)
		r.aboard(at, w.Where.At, "weight", w.What)
	}
	if in := n.get("in"); in != nil {
		w.Where = r.compartmentPlace(in.at, in.text)
	}
	return w
}

// pointPlace is a point with what is known of it.
func pointPlace(at *node) model.Place {
	x, y, z := at.items[0], at.items[1], at.items[2]
	return model.Place{
		At:          r3.Vec{X: x.number, Y: y.number, Z: z.number},
		Tolerance:   r3.Vec{X: x.half, Y: y.half, Z: z.half},
		Compartment: -1,
	}
}

// compartmentPlace finds a compartment by its name or number.
func (r *reader) compartmentPlace(at model.Source, name string) model.Place {
	plain := plainName(name)
	for _, key := range []string{plain, strings.TrimPrefix(plain, "locker"), strings.TrimPrefix(plain, "compartment")} {
		if i, ok := r.compartments[key]; ok {
			return model.Place{Compartment: i}
		}
	}
	if !r.named {
		return model.Place{Compartment: -1}
	}
	mend := "mend the name"
	if len(r.faults) < mostFaults {
		mend = meant(name, r.compartmentNames(), "compartments")
	}
	r.fault(at, name, mend, "no compartment is called %q", shorten(name))
	return model.Place{Compartment: -1}
}

// Beyond the boat's own space by more than this, a place is a slip of the pen:
// an oar's blade and a mast's top still lie within.
const (
	reachEnds  = 1.0
	reachSides = 1.0
	reachBelow = 1.0
	reachAbove = 2.0
)

// aboard checks that a point lies in or near the boat.
func (r *reader) aboard(at *node, p r3.Vec, what, name string) {
	e := r.extent
	if !e.known() || at == nil {
		return
	}
	tell := func(i int, mend string) {
		n := at
		if i < len(at.items) {
			n = at.items[i]
		}
		r.fault(n.at, n.text, mend, "%s %q lies outside the boat", what, shorten(name))
	}
	if p.X < e.minX-reachEnds || p.X > e.maxX+reachEnds {
		tell(0, "the boat runs "+r.along())
	}
	if p.Y < -e.maxY-reachSides || p.Y > e.maxY+reachSides {
		tell(1, fmt.Sprintf("the boat's greatest half-breadth is %s", r.shown(e.maxY)))
	}
	if p.Z < e.minZ-reachBelow || p.Z > e.maxZ+reachAbove {
		tell(len(at.items)-1, fmt.Sprintf("the boat stands from %s to %s above the base line", r.shown(e.minZ), r.shown(e.maxZ)))
	}
}
