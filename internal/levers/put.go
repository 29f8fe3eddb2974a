package levers

import (
	"errors"
	"fmt"
	"strings"

	"thole/internal/boatfolder"
	"thole/internal/model"
)

// put carries stores elsewhere. All its acts are followed before a line is written, so that a row is split at most once for each place
// that its pieces come to lie in.
func (p *pen) put(acts []model.Act) error {
	lots := model.LotsOf(p.f.Stores)
	for _, a := range acts {
		from, to, err := p.fromTo(a)
		if err != nil {
			return err
		}
		if to < 0 {
			return errors.New("put does not say where to")
		}
		for _, name := range a.What {
			if _, err := lots.Put(p.f, name, from, to, a.Count); err != nil {
				return err
			}
		}
	}
	for row := len(lots) - 1; row >= 0; row-- { // the last first: no index changes under an edit that is still to be made
		if err := p.lay(row, lots[row]); err != nil {
			return err
		}
	}
	return nil
}

// lay writes where the pieces of a row lie: the first of its places in the row itself, each other in one like it below.
func (p *pen) lay(row int, lots []model.Lot) error {
	key, s := fmt.Sprintf("rows[%d]", row), p.f.Stores[row]
	if !lots[0].Own {
		p.set(storesFile, key+".where", s.What, p.callIt(lots[0].Place.Compartment))
	}
	if lots[0].Count != max(1, s.Count) {
		p.set(storesFile, key+".count", s.What, fmt.Sprint(lots[0].Count))
	}
	for k := len(lots) - 1; k > 0; k-- {
		text, err := p.rowLike(row, map[string]string{"where": p.callIt(lots[k].Place.Compartment), "count": fmt.Sprint(lots[k].Count)})
		if err != nil {
			return err
		}
		p.insert(storesFile, fmt.Sprintf("rows[%d]", row+1), text)
	}
	return nil
}

// callIt is a compartment as the folder's tables name it: its number, or its name.
func (p *pen) callIt(room int) string {
	c := p.f.Boat.Compartments[room]
	if c.Number > 0 {
		return fmt.Sprint(c.Number)
	}
	return c.Name
}

// fromTo are the two compartments of an act, by index; -1 for one that it does not name.
func (p *pen) fromTo(a model.Act) (from, to int, err error) {
	at := [2]int{-1, -1}
	for k, name := range [2]string{a.From, a.To} {
		if name == "" {
			continue
		}
		if at[k] = p.compartment(name); at[k] < 0 {
			return 0, 0, fmt.Errorf("no compartment is called %q", name)
		}
	}
	return at[0], at[1], nil
}

// another lays more of a row of the stores, or of a weight, into a compartment, in a row of their own below it, to be kept until they are needed.
func (p *pen) another(a model.Act) error {
	from, to, err := p.fromTo(a)
	if err != nil {
		return err
	}
	lots := model.LotsOf(p.f.Stores)
	for _, name := range a.What {
		t, err := lots.Another(p.f, name, from)
		if err != nil {
			return err
		}
		if t.Weight >= 0 {
			p.anotherWeight(t.Weight, to, max(1, a.Count))
			continue
		}
		if _, has := p.value(storesFile, fmt.Sprintf("rows[%d].count", t.Store)); !has && a.Count > 1 {
			return errors.New("stores.csv has no column count: it holds one of each row")
		}
		cells := map[string]string{"used": "", "pinned": "", "notes": "", "count": fmt.Sprint(max(1, a.Count))}
		if to >= 0 {
			cells["where"] = p.callIt(to)
		}
		text, err := p.rowLike(t.Store, cells)
		if err != nil {
			return err
		}
		p.insert(storesFile, fmt.Sprintf("rows[%d]", t.Store+1), text)
	}
	return nil
}

// anotherWeight puts a weight like another below it, in a compartment or, for -1, where that one is.
func (p *pen) anotherWeight(i, to, count int) {
	w, key := p.f.Boat.Weights[i], fmt.Sprintf("weights[%d]", i)
	item := []string{"what: " + boatfolder.Flow(w.What)}
	put := func(name, text string) {
		if text != "" {
			item = append(item, name+": "+text)
		}
	}
	text := func(at string) string {
		v, _ := p.value(boatFile, key+at)
		return v.Text
	}
	put("mass", boatfolder.Flow(text(".mass")))
	if count > 1 {
		put("count", fmt.Sprint(count))
	}
	switch in := text(".in"); {
	case to >= 0:
		put("in", boatfolder.Flow(p.callIt(to)))
	case in != "":
		put("in", boatfolder.Flow(in))
	default:
		put("at", fmt.Sprintf("[%s, %s, %s]", text(".at[0]"), text(".at[1]"), text(".at[2]")))
	}
	put("known", text(".known"))
	for _, list := range []struct {
		key   string
		names []string
	}{{"provides", w.Provides}, {"needs", w.Needs}} {
		var names []string
		for _, n := range list.names {
			names = append(names, boatfolder.Flow(n))
		}
		if names != nil {
			put(list.key, "["+strings.Join(names, ", ")+"]")
		}
	}
	for _, k := range []string{"dry", "expires", "inspect", "drink", "kept"} {
		put(k, text("."+k))
	}
	p.insert(boatFile, fmt.Sprintf("weights[%d]", i+1), "{"+strings.Join(item, ", ")+"}")
}
