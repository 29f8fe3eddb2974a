package boatfolder

import (
	"fmt"
	"strings"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
	"thole/internal/units"
)

// whatif takes whatif.yaml into the model. What is written wrongly there is a fault of the folder, like any. A name
// that the other files do not hold is told with its place as well, but spoils only its lever: a lever may
// speak of a thing that is left ashore for a trial, and the boat is still the boat.
func (r *reader) whatif(n *node, f *model.Folder) []model.Lever {
	sure := len(r.faults) == 0
	names := map[string]bool{}
	var out []model.Lever
	for _, k := range n.get("levers").all() {
		r.unique(names, k, "lever")
		if k.form != mapping {
			continue
		}
		before := len(r.faults)
		l := model.Lever{Name: k.get("name").str(), Source: k.at}
		for _, key := range leverShape.keys[1:] {
			acts := k.get(key.name)
			if acts == nil {
				continue
			}
			for _, a := range each(acts, model.Doing(key.name)) {
				if !a.bad {
					l.Acts = append(l.Acts, r.act(model.Doing(key.name), a))
				}
			}
		}
		if len(k.pairs) < 2 || len(k.pairs) == 1 && k.has("name") {
			r.fault(k.at, "", "write what it does: move, put, another, shift, heavier, add, leave out, days, leave, hours, open, shut, raise, fuller, food, ballast or set",
				"%s does nothing", title("lever", k))
		}
		if sure && len(r.faults) == before {
			r.leverNames(k, f)
			if told := r.faults[before:]; len(told) > 0 {
				var lines []string
				for _, fault := range told {
					lines = append(lines, fault.String())
				}
				l.Fault = strings.Join(lines, "; ")
				r.faults = r.faults[:before]
			}
		}
		out = append(out, l)
	}
	return out
}

// each gives the acts of a key: one, or those of a list. Names go together into one act.
func each(n *node, do model.Doing) []*node {
	switch do {
	case model.LeaveOut, model.Open, model.Shut:
		return []*node{n}
	}
	if n.form == list {
		return n.all()
	}
	return []*node{n}
}

// texts are the names of a key that takes one or a list.
func (n *node) texts() []string {
	if n == nil {
		return nil
	}
	if n.form == scalar {
		return []string{n.text}
	}
	var out []string
	for _, i := range n.all() {
		out = append(out, i.text)
	}
	return out
}

// act takes one act into the model; its keys have been checked.
func (r *reader) act(do model.Doing, n *node) model.Act {
	a := model.Act{Do: do, Source: n.at}
	switch do {
	case model.MoveStores:
		a.From, a.To = n.get("from").str(), n.get("to").str()
		a.Change.Mass = units.Mass(n.get("mass").value())
		r.plain(n.get("mass"))
	case model.Another:
		a.What, a.From, a.To, a.Count = []string{n.get("what").str()}, n.get("from").str(), n.get("to").str(), int(n.get("count").value())
	case model.Stow:
		a.What, a.Portions = []string{n.get("what").str()}, r.portions(n)
	case model.Put:
		a.What, a.From, a.To = n.get("what").texts(), n.get("from").str(), n.get("to").str()
		if c := n.get("count"); c != nil {
			a.Count = int(c.number)
			if len(a.What) > 1 {
				r.fault(c.at, c.text, "write each as a put of its own", "count is of one name, and here are %d", len(a.What))
			}
		}
	case model.Shift:
		a.What = n.get("what").texts()
		if by := n.get("by"); by != nil {
			a.By = r.exactPoint(by)
			if a.By == (r3.Vec{}) {
				r.fault(by.at, "", "write by: [0 m, 0 m, -100 mm]", "a shift by nothing")
			}
		}
	case model.Heavier:
		a.What = n.get("what").texts()
		a.Change, _ = massChange(n.get("by").str())
	case model.Add:
		a.What, a.Item = []string{n.get("what").str()}, weightLine(n)
	case model.LeaveOut, model.Open, model.Shut:
		a.What = n.texts()
	case model.Days:
		a.Days, _ = daysLater(n.text)
	case model.Food:
		a.Days, _ = daysLater(n.get("days").str())
	case model.Leave:
		a.Days, a.Months, _ = dateLater(n.text)
	case model.MoreHours:
		a.Time, _ = timeLater(n.text)
	case model.Raise:
		for _, part := range raised {
			if k := n.get(part); k != nil {
				a.Part, a.Name = part, k.text
			}
		}
		if by := n.get("by"); by != nil {
			if a.By.Z = r.exact(by); a.By.Z == 0 {
				r.fault(by.at, by.text, "write by: 50 mm, or by: -50 mm", "raised by nothing")
			}
		}
	case model.Fuller:
		a.Start, a.End = r.exact(n.get("from")), r.exact(n.get("to"))
		a.Change.Share, _ = shareChange(n.get("by").str())
		a.Change.ByShare = true
		if from, to := n.get("from"), n.get("to"); from != nil && to != nil && a.End <= a.Start {
			r.fault(to.at, to.text, "x runs aft: from is the smaller one", "to %q is not aft of from", shorten(to.text))
		}
	case model.MoreBallast:
		a.Change, _ = massChange(n.text)
	case model.SetValue:
		for _, p := range n.pairs {
			a.File, a.Key, _ = strings.Cut(p.key, ":")
			a.File, a.Key, a.Text = strings.TrimSpace(a.File), strings.TrimSpace(a.Key), p.value.text
			if a.File == "" || a.Key == "" || strings.ContainsAny(a.File, "/\\") {
				r.fault(p.keyAt, p.key, `write the file and its key: "boat.yaml: deck.camber": 80 mm`, "%q does not say where", shorten(p.key))
			}
			if len(n.pairs) > 1 {
				r.fault(n.at, "", `write several as a list: each - {"FILE: KEY": value}`, "set has more than one place")
				break
			}
		}
	}
	return a
}

// raised are the parts that raise knows.
var raised = []string{"cabin", "well", "compartment"}

// leverNames tells every name in a lever that the folder does not hold, and what cannot be done with it.
func (r *reader) leverNames(n *node, f *model.Folder) {
	for _, k := range each(list0(n.get(string(model.MoveStores))), model.MoveStores) {
		r.moveNames(k, f)
	}
	lots := r.putNames(n, f)
	r.anotherNames(n, f, lots)
	r.stowNames(n, f)
	for _, k := range each(list0(n.get(string(model.Shift))), model.Shift) {
		for _, t := range r.thingNames(k.get("what"), f, true) {
			if p, one := f.Place(t); !one {
				r.fault(k.get("what").at, "", "move puts stores of one compartment into another", "%q is stowed in %s, not at a point", k.get("what").text, f.Boat.Compartments[p.Compartment].Name)
			}
		}
	}
	for _, k := range each(list0(n.get(string(model.Heavier))), model.Heavier) {
		r.lighter(k, f)
	}
	for _, k := range each(list0(n.get(string(model.Add))), model.Add) {
		if in := k.get("in"); in != nil {
			r.compartmentPlace(in.at, in.text)
		}
	}
	r.thingNames(n.get(string(model.LeaveOut)), f, false)
	for _, do := range []model.Doing{model.Open, model.Shut} {
		r.openingNames(n.get(string(do)), f)
	}
	for _, k := range each(list0(n.get(string(model.Raise))), model.Raise) {
		r.raiseNames(k, f)
	}
	for _, k := range each(list0(n.get(string(model.Fuller))), model.Fuller) {
		e := extentOf(f.Boat.Hull.Readings)
		if from, to := k.get("from"), k.get("to"); e.known() && (from.number >= e.maxX || to.number <= e.minX) {
			r.fault(from.at, from.text, "the boat runs "+r.along(), "that is beyond her ends")
		}
	}
	r.timeNames(n, f)
}

// list0 is a list without items for a key that is not there.
func list0(n *node) *node {
	if n == nil {
		return &node{form: list}
	}
	return n
}

func (r *reader) moveNames(k *node, f *model.Folder) {
	before := len(r.faults)
	from, to := r.compartmentPlace(k.get("from").at, k.get("from").text), r.compartmentPlace(k.get("to").at, k.get("to").text)
	if len(r.faults) > before {
		return
	}
	if from.Compartment == to.Compartment {
		r.fault(k.get("to").at, k.get("to").text, "name another", "the stores are there already")
		return
	}
	var there units.Mass
	for _, s := range f.Stores {
		if s.Where.Compartment == from.Compartment {
			there += s.Mass.Value * units.Mass(max(1, s.Count))
		}
	}
	m, name := k.get("mass"), f.Boat.Compartments[from.Compartment].Name
	switch {
	case there == 0:
		r.fault(k.get("from").at, k.get("from").text, "name a compartment that stores.csv fills", "nothing to move: no stores are in %s", name)
	case units.Mass(m.number) > there*(1+1e-9):
		r.fault(m.at, m.text, "write "+f.Boat.Units.Mass(there)+" or less", "%s holds less than %s of stores", name, m.text)
	}
}

// thingNames finds things aboard by their names and tells those that there are not.
func (r *reader) thingNames(n *node, f *model.Folder, people bool) []model.Thing {
	var out []model.Thing
	for _, name := range nodesOf(n) {
		found := f.Things(name.text)
		if len(found) == 0 {
			var known []string
			for _, w := range f.Boat.Weights {
				known = append(known, w.What)
			}
			for _, s := range f.Stores {
				known = append(known, s.What)
			}
			r.fault(name.at, name.text, meant(name.text, known, "things aboard"), "nothing aboard is called %q", shorten(name.text))
		}
		if !people && len(found) > 0 && found[0].Person >= 0 {
			r.fault(name.at, name.text, "leave out things; a person's place may be: none", "%q is one of the crew", shorten(name.text))
			continue
		}
		out = append(out, found...)
	}
	return out
}

// nodesOf are the values of a key that takes one or a list.
func nodesOf(n *node) []*node {
	if n == nil {
		return nil
	}
	if n.form == list {
		return n.all()
	}
	return []*node{n}
}

// lighter tells when no mass would be left.
func (r *reader) lighter(k *node, f *model.Folder) {
	var all units.Mass
	for _, t := range r.thingNames(k.get("what"), f, true) {
		one, count := f.Mass(t)
		all += one * units.Mass(count)
	}
	by, _ := massChange(k.get("by").str())
	if all > 0 && all+by.Of(all) <= 0 {
		r.fault(k.get("by").at, k.get("by").text, "write leave out for what stays ashore", "that is all of %s", f.Boat.Units.Mass(all))
	}
}

func (r *reader) openingNames(n *node, f *model.Folder) {
	for _, name := range nodesOf(n) {
		var known []string
		found := false
		for _, o := range f.Boat.Openings {
			known = append(known, o.Name)
			found = found || plainName(o.Name) == plainName(name.text)
		}
		if !found {
			r.fault(name.at, name.text, meant(name.text, known, "openings"), "no opening is called %q", shorten(name.text))
		}
	}
}

func (r *reader) raiseNames(k *node, f *model.Folder) {
	if c := k.get("cabin"); c != nil {
		r.cabinNamed(c)
	}
	if w := k.get("well"); w != nil {
		var known []string
		for _, well := range f.Boat.Wells {
			if known = append(known, well.Name); plainName(well.Name) == plainName(w.text) {
				return
			}
		}
		r.fault(w.at, w.text, meant(w.text, known, "wells"), "no well is called %q", shorten(w.text))
	}
	if c := k.get("compartment"); c != nil {
		if i := r.compartmentPlace(c.at, c.text).Compartment; i >= 0 && f.Boat.Compartments[i].Sole == nil {
			r.fault(c.at, c.text, "give it a sole in boat.yaml", "%s has no sole of its own: it goes down to the skin", f.Boat.Compartments[i].Name)
		}
	}
}

// timeNames tells what the acts on days, food and ballast have nothing to work on.
func (r *reader) timeNames(n *node, f *model.Folder) {
	v := f.Voyage
	if days := n.get(string(model.Days)); days != nil {
		by, _ := daysLater(days.text)
		if v == nil || v.Days == 0 {
			r.fault(days.at, days.text, "write days: 80 in voyage.yaml", "voyage.yaml does not say how many days")
		} else if left := v.Days + by; left < 1 || left > mostDays {
			r.fault(days.at, days.text, "the voyage has "+fmt.Sprint(v.Days), "that leaves %d days", left)
		}
	}
	if leave := n.get(string(model.Leave)); leave != nil && (v == nil || v.Leave.Equal(time.Time{})) {
		r.fault(leave.at, leave.text, "write leave: 2027-01-12 in voyage.yaml", "voyage.yaml does not say when she leaves")
	}
	if hours := n.get(string(model.MoreHours)); hours != nil {
		by, _ := timeLater(hours.text)
		if _, err := v.WithHours(by); err != nil {
			r.fault(hours.at, hours.text, "write the hours at the oars in voyage.yaml, and a change that leaves some", "%s", err)
		}
	}
	if food := n.get(string(model.Food)); food != nil {
		used := 0
		for _, s := range f.Stores {
			used = max(used, s.Use.Last)
		}
		by, _ := daysLater(food.get("days").str())
		if used == 0 {
			r.fault(food.at, "", "fill the column used of stores.csv", "nothing in stores.csv is used up")
		} else if used+by < 1 {
			r.fault(food.at, "", fmt.Sprintf("it lasts %d days", used), "that leaves no food")
		}
	}
	if b := n.get(string(model.MoreBallast)); b != nil {
		var all units.Mass
		for _, w := range f.Boat.Weights {
			if w.Ballast {
				all += w.Mass.Value * units.Mass(max(1, w.Count))
			}
		}
		by, _ := massChange(b.text)
		if all == 0 {
			r.fault(b.at, b.text, "write ballast: yes to a weight in boat.yaml", "nothing is marked ballast")
		} else if all+by.Of(all) < 0 {
			r.fault(b.at, b.text, "there are "+f.Boat.Units.Mass(all), "that is more than there is")
		}
	}
}
