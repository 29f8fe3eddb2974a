package boatfolder

import (
	"time"

	"thole/internal/model"
	"thole/internal/units"
)

// voyage takes voyage.yaml into the model.
func (r *reader) voyage(n *node) *model.Voyage {
	v := &model.Voyage{
		From: r.waypoint(n.get("from")), To: r.bound(n.get("to")),
		Days: int(n.get("days").value()), Source: n.at,
	}
	for _, by := range n.get("by").all() {
		v.By = append(v.By, r.bound(by))
	}
	if leave := n.get("leave"); leave != nil {
		// The date has been checked.
		v.Leave, _ = time.Parse(time.DateOnly, leave.text)
	}
	r.bottom(n, v)
	r.passage(n, v)
	names := map[string]bool{}
	for _, p := range n.get("crew").all() {
		r.unique(names, p, "person")
		v.Crew = append(v.Crew, r.person(p))
	}
	return v
}

func (r *reader) waypoint(n *node) model.Waypoint {
	w := model.Waypoint{Name: n.get("name").str()}
	if at := n.get("at"); at != nil {
		w.Lat, w.Lon = units.Angle(r.exact(at.items[0])), units.Angle(r.exact(at.items[1]))
		w.Given = true
	}
	return w
}

// bound reads a place that she is bound for, or passes, and how near counts as there.
func (r *reader) bound(n *node) model.Waypoint {
	w := r.waypoint(n)
	w.Within = units.Length(r.in(n.get("within"), "within", withinBounds))
	return w
}

func (r *reader) person(n *node) model.Person {
	p := model.Person{Name: n.get("name").str(), Mass: knownMass(n.get("mass"), "")}
	r.body(n, &p)
	r.eating(n, &p)
	places := n.get("places")
	if places == nil {
		return p
	}
	if len(places.pairs) == 0 {
		r.fault(places.at, "", "write places: {at the oars: [3.42 m, 0 m, 0.78 m]}", "person %q has no place", shorten(p.Name))
	}
	for _, pair := range places.pairs {
		if pair.value.bad {
			continue
		}
		p.Places = append(p.Places, model.CrewPlace{Name: pair.key, Where: r.crewPlace(pair.value, p.Name+", "+pair.key)})
	}
	return p
}

func (r *reader) crewPlace(n *node, name string) model.Place {
	switch n.form {
	case scalar:
		return model.Place{Compartment: -1, None: true}
	case mapping:
		if in := n.get("in"); in != nil {
			return r.compartmentPlace(in.at, in.text)
		}
		return model.Place{Compartment: -1}
	}
	place := pointPlace(n)
	r.aboard(n, place.At, "place", name)
	return place
}
