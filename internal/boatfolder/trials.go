package boatfolder

import (
	"math"
	"slices"
	"time"

	"thole/internal/model"
	"thole/internal/units"
)

// trials takes trials.yaml into the model. What the readings make of themselves (a
// heel to the wrong side, moves that disagree) is told with the answer, so that
// a folder can be read while a trial is still being written down.
func (r *reader) trials(n *node, f *model.Folder) *model.Trials {
	t := &model.Trials{}
	// A voyage at fault has not all its places; an unknown one is then no fault of the trial.
	sure := !slices.ContainsFunc(r.faults, func(f Fault) bool { return f.File == voyageFile || f.File == storesFile })
	trial := func(n *node) model.Trial { return r.trial(n, f, sure) }
	for _, k := range n.get("floated").all() {
		t.Floated = append(t.Floated, r.floated(k, trial(k)))
	}
	for _, k := range n.get("inclined").all() {
		t.Inclined = append(t.Inclined, r.inclined(k, trial(k)))
	}
	for _, k := range n.get("rolled").all() {
		t.Rolled = append(t.Rolled, model.Rolled{Trial: trial(k), Rolls: int(k.get("rolls").value()), Seconds: k.get("seconds").value()})
	}
	for _, k := range n.get("turned over").all() {
		t.Turned = append(t.Turned, r.turnedOver(k, trial(k)))
	}
	return t
}

func (r *reader) trial(n *node, f *model.Folder, sure bool) model.Trial {
	t := model.Trial{Day: int(n.get("day").value()), Remarks: n.get("remarks").str(), Source: n.at}
	if date := n.get("date"); date != nil {
		t.Date, _ = time.Parse(time.DateOnly, date.text)
	}
	t.Water = units.Density(n.get("water").value())
	r.plain(n.get("water"))
	if day := n.get("day"); day != nil && sure && t.Day > f.LastDay() {
		r.fault(day.at, day.text, "0 is the departure", "day %q is after the trip's last, day %d", shorten(day.text), f.LastDay())
	}
	if crew := n.get("crew"); crew != nil && sure {
		var known []string
		for _, c := range f.Conditions() {
			if known = append(known, c.Name); plainName(c.Name) == plainName(crew.text) {
				t.Crew = c.Name
			}
		}
		if t.Crew == "" {
			r.fault(crew.at, crew.text, meant(crew.text, known, "crew places"), "no crew place is called %q", shorten(crew.text))
		}
	}
	for _, w := range n.get("also aboard").all() {
		t.Also = append(t.Also, r.weight(w))
	}
	return t
}

func (r *reader) floated(n *node, trial model.Trial) model.Floated {
	t := model.Floated{Trial: trial}
	for _, k := range n.get("freeboards").all() {
		f := model.Freeboard{Source: k.at}
		at, height := k.get("at"), k.get("height")
		if at == nil || height == nil || k.get("side") == nil {
			continue
		}
		f.X, f.Height, f.Tolerance = r.exact(at), height.number, height.half
		switch k.get("side").str() {
		case "port":
			f.Side = model.Port
		case "starboard":
			f.Side = model.Starboard
		}
		if e := r.extent; e.known() && (f.X < e.minX || f.X > e.maxX) {
			r.fault(at.at, at.text, "the boat runs "+r.along(), "freeboard at %q is beyond her ends", shorten(at.text))
		} else if e.known() && math.Abs(f.Height) > e.maxZ-e.minZ {
			r.fault(height.at, height.text, "measure from the deck's edge to the water", "height %q is more than she is deep", shorten(height.text))
		}
		t.Freeboards = append(t.Freeboards, f)
	}
	return t
}

func (r *reader) inclined(n *node, trial model.Trial) model.Inclined {
	t := model.Inclined{Trial: trial}
	for _, k := range n.get("moves").all() {
		m := model.Move{Mass: knownMass(k.get("mass"), "weighed"), Source: k.at}
		across, read := k.get("across"), k.get("deflection")
		if across == nil {
			continue
		}
		m.Across, m.AcrossTolerance = across.number, across.half
		if e := r.extent; m.Across == 0 || e.known() && math.Abs(m.Across) > 2*(e.maxY+reachSides) {
			r.fault(across.at, across.text, "write how far it was moved to starboard; minus is to port", "across %q is no way across her", shorten(across.text))
		}
		if pendulum := k.get("pendulum"); pendulum != nil {
			if m.Pendulum = r.exact(pendulum); m.Pendulum <= 0 {
				r.fault(pendulum.at, pendulum.text, "measure from its pin to where it is read", "pendulum %q is not above nothing", shorten(pendulum.text))
			}
		}
		if read != nil {
			m.Deflection, m.Tolerance = read.number, read.half
		}
		if a := k.get("angle"); a != nil {
			m.Angle, m.Tolerance = a.number, a.half
			if math.Abs(m.Angle) > math.Pi/2 {
				r.fault(a.at, a.text, "a heel of a few degrees is due", "angle %q is past lying on her side", shorten(a.text))
			}
		}
		t.Moves = append(t.Moves, m)
	}
	return t
}

func (r *reader) turnedOver(n *node, trial model.Trial) model.TurnedOver {
	t := model.TurnedOver{Trial: trial, Ballast: n.get("ballast").str(), Hatches: n.get("hatches").str(),
		Seconds: n.get("seconds").value(), Righted: n.get("righted").yes(), Stamp: n.get("stamp").str()}
	if m := n.get("mass"); m != nil {
		mass := knownMass(m, "weighed")
		t.Mass = &mass
	}
	if h := n.get("height of gravity"); h != nil {
		z := h.number
		t.Height, t.HeightTolerance = &z, h.half
	}
	return t
}
