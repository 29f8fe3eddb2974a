package boatfolder

import (
	"errors"

	"thole/internal/model"
)

// putNames tells what a lever's puts cannot do. They are followed one after the other, since one may take up what another laid down.
//
// Out: where the stores then lie
func (r *reader) putNames(n *node, f *model.Folder) model.Lots {
	lots := model.LotsOf(f.Stores)
	// What is moved before them may lie anywhere: then only the names are looked at.
	moved := n.has(string(model.MoveStores))
	for _, k := range each(list0(n.get(string(model.Put))), model.Put) {
		before, from := len(r.faults), -1
		if c := k.get("from"); c != nil {
			from = r.compartmentPlace(c.at, c.text).Compartment
		}
		to := r.compartmentPlace(k.get("to").at, k.get("to").text).Compartment
		if len(r.faults) > before || to < 0 {
			continue
		}
		if from == to {
			r.fault(k.get("to").at, k.get("to").text, "name another", "the stores are there already")
			continue
		}
		count := int(k.get("count").value())
		for _, name := range nodesOf(k.get("what")) {
			is, err := lots.Put(f, name.text, from, to, count)
			var wrong *model.PutError
			switch {
			case errors.As(err, &wrong) && (!moved || wrong.Part == "what" && from >= 0):
				r.putFault(k, name, f, wrong)
			case err == nil && !is && !moved:
				r.fault(k.get("to").at, k.get("to").text, "name another", "%q lies there already", shorten(name.text))
			}
		}
	}
	return lots
}

// anotherNames tells what a lever has nothing to make another of, once its puts are done.
func (r *reader) anotherNames(n *node, f *model.Folder, lots model.Lots) {
	for _, k := range each(list0(n.get(string(model.Another))), model.Another) {
		before, from := len(r.faults), -1
		for _, part := range []string{"from", "to"} {
			c := k.get(part)
			if c == nil {
				continue
			}
			if at := r.compartmentPlace(c.at, c.text).Compartment; part == "from" {
				from = at
			}
		}
		if len(r.faults) > before {
			continue
		}
		var wrong *model.PutError
		_, err := lots.Another(f, k.get("what").text, from)
		if errors.As(err, &wrong) && !(n.has(string(model.MoveStores)) && wrong.Part == "from") {
			r.putFault(k, k.get("what"), f, wrong)
		}
	}
}

// putFault tells a fault at its part of a put.
func (r *reader) putFault(k, name *node, f *model.Folder, wrong *model.PutError) {
	at, mend := name, wrong.Mend
	if part := k.get(wrong.Part); wrong.Part != "what" && part != nil {
		at = part
	}
	if len(f.Things(name.text)) == 0 {
		var known []string
		for _, s := range f.Stores {
			known = append(known, s.What)
		}
		mend = meant(name.text, known, "stores")
	}
	r.fault(at.at, at.text, mend, "%s", wrong.Say)
}
