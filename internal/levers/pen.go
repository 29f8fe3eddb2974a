package levers

import (
	"fmt"
	"math"
	"strings"

	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

// Files that edits go into, as boatfolder reads them.
const (
	boatFile   = "boat.yaml"
	storesFile = "stores.csv"
	voyageFile = "voyage.yaml"
)

// How near what is written comes to what is meant.
const (
	goodMass  = units.Mass(0.01)     // of all of a thing, kg
	goodPlace = units.Length(0.0005) // of a weight, m
	goodShape = 0.00005              // of a shape's point at full size, m
)

// pen writes edits on a folder as it stands.
type pen struct {
	f      *model.Folder
	d      *boatfolder.Draft
	values map[string]map[string]boatfolder.Value
	edits  []boatfolder.Edit
}

func newPen(f *model.Folder, d *boatfolder.Draft) *pen {
	return &pen{f: f, d: d, values: map[string]map[string]boatfolder.Value{}}
}

// value finds what stands at a key.
func (p *pen) value(file, key string) (boatfolder.Value, bool) {
	all := p.values[file]
	if all == nil {
		all = map[string]boatfolder.Value{}
		for _, v := range p.d.Values(file) {
			all[v.Key] = v
			if row, column, ok := strings.Cut(v.Key, "]."); ok && file == storesFile {
				all[row+"]."+model.PlainName(column)] = v // however its header is written
			}
		}
		p.values[file] = all
	}
	v, ok := all[key]
	return v, ok
}

// set puts a text at a key, or adds the key to what is called of.
func (p *pen) set(file, key, of, text string) {
	v, ok := p.value(file, key)
	if ok && v.Text == text {
		return
	}
	if ok {
		key, of = v.Key, v.Of
	}
	p.edits = append(p.edits, boatfolder.Edit{File: file, Key: key, Of: of, Was: v.Text, Text: text})
}

// length puts a length at a key, written as the one that stands there. aside is a value whose way of writing is taken
// where there is none, or none with a unit.
func (p *pen) length(file, key, of string, l float64, aside ...string) {
	v, _ := p.value(file, key)
	like := v.Text
	for _, other := range aside {
		if strings.Trim(like, "+-−0., ") == "" {
			v, _ := p.value(file, other)
			like = v.Text
		}
	}
	p.set(file, key, of, units.LengthLike(like, units.Length(l), goodPlace, p.f.Boat.Units))
}

// point puts a place at a key that holds three lengths; only those that move are touched.
func (p *pen) point(file, key, of string, was, at [3]float64) {
	for k := range at {
		if at[k] != was[k] {
			var aside []string
			for j := range at {
				if j != k {
					aside = append(aside, fmt.Sprintf("%s[%d]", key, j))
				}
			}
			p.length(file, fmt.Sprintf("%s[%d]", key, k), of, at[k], aside...)
		}
	}
}

// insert puts a new item or row in.
func (p *pen) insert(file, key, text string) {
	p.edits = append(p.edits, boatfolder.Edit{File: file, Key: key, Do: boatfolder.Insert, Text: text})
}

// remove takes an item or a row out.
func (p *pen) remove(file, key, of string) {
	p.edits = append(p.edits, boatfolder.Edit{File: file, Key: key, Of: of, Do: boatfolder.Remove})
}

// where gives the file, the key and the name of a thing.
func (p *pen) where(t model.Thing) (file, key, name string) {
	switch {
	case t.Weight >= 0:
		return boatFile, fmt.Sprintf("weights[%d]", t.Weight), p.f.Boat.Weights[t.Weight].What
	case t.Store >= 0:
		return storesFile, fmt.Sprintf("rows[%d]", t.Store), p.f.Stores[t.Store].What
	}
	return voyageFile, fmt.Sprintf("crew[%d]", t.Person), p.f.Voyage.Crew[t.Person].Name
}

// things finds what is aboard under some names.
func (p *pen) things(names []string) ([]model.Thing, error) {
	var out []model.Thing
	for _, name := range names {
		found := p.f.Things(name)
		if len(found) == 0 {
			return nil, fmt.Errorf("nothing aboard is called %q", name)
		}
		out = append(out, found...)
	}
	return out, nil
}

// compartment finds one by its name or number, or -1.
func (p *pen) compartment(name string) int {
	plain := model.PlainName(name)
	for _, key := range []string{plain, strings.TrimPrefix(plain, "locker"), strings.TrimPrefix(plain, "compartment")} {
		for i, c := range p.f.Boat.Compartments {
			if model.PlainName(c.Name) == key || c.Number > 0 && fmt.Sprint(c.Number) == key {
				return i
			}
		}
	}
	return -1
}

// amount makes all of a thing so many times as heavy: its count where that is whole, else the mass of each, in whole things.
func (p *pen) amount(t model.Thing, times float64) {
	file, key, name := p.where(t)
	one, count := p.f.Mass(t)
	n := float64(count) * times
	switch {
	case count > 1 && math.Abs(n-math.Round(n)) < 1e-9 && math.Round(n) >= 1:
		p.set(file, key+".count", name, fmt.Sprint(int(math.Round(n))))
		return
	case count > 1 && t.Store >= 0:
		whole := math.Ceil(n - 1e-9)
		p.set(file, key+".count", name, fmt.Sprint(int(whole)))
		p.mass(t, one*units.Mass(n/whole), int(whole))
		p.contents(t, n/whole)
		return
	}
	p.mass(t, one*units.Mass(times), count)
	p.contents(t, times)
}

// contentKeys are what a thing holds in proportion to its mass, where a part of it is taken.
var contentKeys = []string{"energy", "soaks", "drink"}

// contents makes what one of a thing holds so many times as much.
func (p *pen) contents(t model.Thing, times float64) {
	file, key, name := p.where(t)
	for _, k := range contentKeys {
		if v, ok := p.value(file, key+"."+k); ok && v.Text != "" {
			p.set(file, key+"."+k, name, units.TimesLike(v.Text, times))
		}
	}
}

// mass writes the mass of one of a thing.
func (p *pen) mass(t model.Thing, one units.Mass, count int) {
	file, key, name := p.where(t)
	v, _ := p.value(file, key+".mass")
	p.set(file, key+".mass", name, units.MassLike(v.Text, one, goodMass/units.Mass(2*max(1, count))))
}

// shown is a length for people.
func (p *pen) shown(l float64) string { return p.f.Boat.Units.Length(units.Length(l)) }
