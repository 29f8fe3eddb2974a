package spare

import (
	"fmt"
	"slices"
	"strings"

	"thole/internal/faulttree"
	"thole/internal/model"
)

// Names of the causes in the tree.
const (
	batteryLost = "battery lost"
	noCalm      = "no calm"
)

// apart is what a battery provides that is wired apart from the others, and so is not lost with them.
const apart = "battery apart"

func roomID(i int) string   { return fmt.Sprintf("compartment %d", i) }
func cabinID(i int) string  { return fmt.Sprintf("cabin %d", i) }
func personID(i int) string { return fmt.Sprintf("person %d", i) }

// crew are the people aboard; one nobody has named where the folder has none.
func crew(f *model.Folder) []string {
	if f.Voyage == nil || len(f.Voyage.Crew) == 0 {
		return []string{"the rower"}
	}
	var out []string
	for _, p := range f.Voyage.Crew {
		out = append(out, p.Name)
	}
	return out
}

// floodID is the cause that spoils what lies in a compartment.
func floodID(b *model.Boat, i int) string {
	if cabin, same := b.FloodsWith(i); cabin >= 0 && same {
		return cabinID(cabin)
	}
	return roomID(i)
}

// places makes the causes and the people, before anything that may name them.
func (g *grower) places() {
	b := &g.f.Boat
	cause := func(id, what, kind string, k faulttree.Kind) {
		g.tree.Causes = append(g.tree.Causes, faulttree.Cause{Name: id, Kind: k})
		g.atoms[id] = atom{id, what, kind, -1}
	}
	for i := range b.Cabins {
		cause(cabinID(i), b.Cabins[i].Name+" floods", "cabin", faulttree.Cabin)
	}
	for i := range b.Compartments {
		if floodID(b, i) == roomID(i) {
			cause(roomID(i), model.RoomName(b, i)+" floods", "compartment", faulttree.Compartment)
		}
	}
	for i := range b.Compartments {
		if cabin, same := b.FloodsWith(i); cabin >= 0 && !same {
			c := &g.tree.Causes[cabin]
			c.Fails = append(c.Fails, roomID(i))
		}
	}
	cause(batteryLost, "the battery is lost", "battery", faulttree.Battery)
	cause(noCalm, "it never falls calm", "weather", faulttree.Other)
	for i, name := range crew(g.f) {
		g.tree.Events = append(g.tree.Events, faulttree.Event{Name: personID(i), Kind: faulttree.Person})
		g.atoms[personID(i)] = atom{personID(i), name + " is hurt", "person", -1}
	}
}

// condition is the node of a condition; is when the name is one, ok when the boat can meet it at all.
func (g *grower) condition(key string) (id string, is, ok bool) {
	gate := faulttree.Gate{Name: "condition " + key}
	switch key {
	case "calm":
		return noCalm, true, true
	case "battery":
		if g.state[gate.Name] == open { // a battery that needs itself
			g.enter(gate.Name, "battery")
			return gate.Name, true, false
		}
	case plain("dry cabin"):
		for i := range g.f.Boat.Cabins {
			gate.Of = append(gate.Of, cabinID(i))
		}
	case "crew", plain("crew of two"):
		gate.Rule, gate.Least = faulttree.AtLeast, 1
		if key != "crew" {
			gate.Least = 2
		}
		for i := range crew(g.f) {
			gate.Of = append(gate.Of, personID(i))
		}
	default:
		if name, dry := strings.CutPrefix(key, "dry"); dry {
			for i := range g.f.Boat.Cabins {
				if plain(g.f.Boat.Cabins[i].Name) == name {
					return cabinID(i), true, true
				}
			}
		}
		return "", false, false
	}
	if g.state[gate.Name] == done {
		return gate.Name, true, g.possible[gate.Name]
	}
	g.enter(gate.Name, key)
	if key == "battery" {
		for _, p := range append(slices.Clone(g.words[key]), g.words[plain(apart)]...) {
			gate.Of = add(gate.Of, g.things(p)...)
		}
		if len(g.words[key])+len(g.words[plain(apart)]) == 0 {
			gate.Of = []string{batteryLost}
		}
	}
	ok = len(gate.Of) > 0 && gate.Least <= len(gate.Of)
	if ok {
		g.tree.Gates = append(g.tree.Gates, gate)
	}
	return gate.Name, true, g.leave(gate.Name, ok)
}

// hardy tells whether a thing outlasts the flooding of a compartment: water does it no harm, or it stands in the wet already.
func (p *part) hardy(c *model.Compartment) bool {
	return p.dry == model.MayBeWet || p.dry == model.DryUnsaid && c.Wet
}

// stow adds every piece to the causes that spoil it.
func (g *grower) stow() {
	b := &g.f.Boat
	at := map[string]int{}
	for i, c := range g.tree.Causes {
		at[c.Name] = i
	}
	for _, s := range g.spoilt {
		p := &g.parts[s.part]
		var by []string
		for _, r := range p.rooms {
			if !p.hardy(&b.Compartments[r]) {
				by = add(by, floodID(b, r))
			}
		}
		if g.isBattery(s.part) {
			by = append(by, batteryLost)
		}
		for _, name := range by {
			c := &g.tree.Causes[at[name]]
			c.Fails = append(c.Fails, s.piece)
		}
	}
}

// uses are the parts that a function rests on, by way of others too.
func (g *grown) uses() map[int][]int {
	of := map[string][]string{}
	for _, gate := range g.tree.Gates {
		of[gate.Name] = gate.Of
	}
	for _, fn := range g.tree.Functions {
		of[fn.Name] = fn.Of
	}
	for _, e := range g.tree.Events {
		of[e.Name] = e.Needs
	}
	out := map[int][]int{}
	for id, i := range g.tops {
		seen := map[string]bool{id: true}
		queue := []string{id}
		for len(queue) > 0 {
			n := queue[0]
			queue = queue[1:]
			if a, is := g.atoms[n]; is && a.part >= 0 && !slices.Contains(out[i], a.part) {
				out[i] = append(out[i], a.part)
			}
			for _, next := range of[n] {
				if !seen[next] {
					seen[next] = true
					queue = append(queue, next)
				}
			}
		}
	}
	return out
}
