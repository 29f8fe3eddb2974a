package model

import (
	"fmt"
	"slices"
)

// Lot is so many pieces of a store that lie in one place.
type Lot struct {
	Place Place
	Count int
	// Own is set for pieces that lie where the row says, not where they have been put.
	Own bool
}

// Lots are where the pieces of every store lie, by its place in Folder.Stores.
type Lots [][]Lot

// LotsOf are the stores as the folder has them: all of a row in one place.
func LotsOf(stores []Store) Lots {
	out := make(Lots, len(stores))
	for i, s := range stores {
		out[i] = []Lot{{s.Where, max(1, s.Count), true}}
	}
	return out
}

// PutError says why an act of Put cannot be done, and which part of it is at fault: what, from, to or count.
type PutError struct {
	Part, Name string
	Say, Mend  string
}

// Error is the fault with its mend.
func (e *PutError) Error() string { return e.Say + " (" + e.Mend + ")" }

// Put carries the stores of a name from one compartment into another, count pieces of them or, at 0, all that lie there.
// From is -1 for wherever they lie, which then must be one place. Rows are taken in their order. Nothing is
// changed when it cannot be done; moved is false when all of it lies there already.
//
// Error: *PutError
func (l Lots) Put(f *Folder, name string, from, to, count int) (moved bool, err error) {
	rows, there, err := l.named(f, name, from)
	switch {
	case err != nil:
		return false, err
	case count > there:
		return false, &PutError{"count", fmt.Sprint(count), fmt.Sprintf("there are %d of %s there, not %d", there, name, count), fmt.Sprintf("write count: %d, or leave it out for all", there)}
	}
	left := count
	if left == 0 {
		left = there
	}
	for _, row := range rows {
		for k := 0; k < len(l[row]) && left > 0; k++ {
			lot := &l[row][k]
			if !lies(lot.Place, from) || lot.Place.Compartment == to && !lot.Place.None {
				continue
			}
			n := min(left, lot.Count)
			lot.Count -= n
			left -= n
			moved = true
			l[row] = put(l[row], to, n)
		}
		l[row] = slices.DeleteFunc(l[row], func(lot Lot) bool { return lot.Count == 0 })
	}
	return moved, nil
}

// Another finds what another is wanted of: the first row of a name with pieces in a compartment, by index, or in the one
// place where they lie, for -1; where no row bears the name, the one weight that does.
//
// Error: *PutError
func (l Lots) Another(f *Folder, name string, from int) (Thing, error) {
	rows, _, err := l.named(f, name, from)
	if err != nil && len(rows) == 0 {
		found := f.Things(name)
		switch {
		case len(found) > 1 && from < 0:
			return Thing{}, &PutError{"what", name, fmt.Sprintf("several weights are called %q", name), "give each a name of its own"}
		case len(found) == 1 && found[0].Weight >= 0:
			return found[0], nil
		}
	}
	if err != nil {
		return Thing{}, err
	}
	i := slices.IndexFunc(rows, func(row int) bool {
		return slices.ContainsFunc(l[row], func(lot Lot) bool { return lies(lot.Place, from) })
	})
	return Thing{-1, rows[i], -1}, nil
}

// Stores are the rows that the lots come to: each keeps its first, and has one like it below for every other.
func (l Lots) Stores(stores []Store) []Store {
	var out []Store
	for i, lots := range l {
		for _, lot := range lots {
			s := stores[i]
			s.Where, s.Count = lot.Place, lot.Count
			out = append(out, s)
		}
	}
	return out
}

// named are the rows of a name that may be taken from, and how many pieces lie there.
func (l Lots) named(f *Folder, name string, from int) (rows []int, there int, err error) {
	rows, places, there := l.called(f, name, from)
	switch {
	case len(rows) == 0:
		err = notStored(f, name)
	case there == 0:
		err = &PutError{"from", f.Boat.Compartments[from].Name, fmt.Sprintf("no %s lie in %s", name, RoomName(&f.Boat, from)), "they lie in " + l.lie(f, name)}
	case len(places) > 1:
		err = &PutError{"what", name, fmt.Sprintf("several rows are called %s: they lie in %s", name, l.lie(f, name)), "say which: from"}
	}
	return rows, there, err
}

// called are the rows of a name with pieces to be taken, the places that these lie in and how many they are. Rows is nil only when no row
// bears the name.
func (l Lots) called(f *Folder, name string, from int) (rows []int, places []Place, there int) {
	plain := PlainName(name)
	for i := range f.Stores {
		if PlainName(f.Stores[i].What) != plain {
			continue
		}
		rows = append(rows, i)
		for _, lot := range l[i] {
			if !lies(lot.Place, from) {
				continue
			}
			there += lot.Count
			if !slices.ContainsFunc(places, func(p Place) bool { return samePlace(p, lot.Place) }) {
				places = append(places, lot.Place)
			}
		}
	}
	return rows, places, there
}

// lies tells whether a place is a compartment, by index; any for -1.
func lies(p Place, room int) bool { return room < 0 || p.Compartment == room && !p.None }

func samePlace(a, b Place) bool {
	return a.None == b.None && a.Compartment == b.Compartment && (a.Compartment >= 0 || a.At == b.At)
}

// put lays so many pieces into a compartment, with those that lie there already.
func put(lots []Lot, to, n int) []Lot {
	for k := range lots {
		if p := lots[k].Place; p.Compartment == to && !p.None {
			lots[k].Count += n
			return lots
		}
	}
	return append(lots, Lot{Place{Compartment: to}, n, false})
}

// lie are the places that the rows of a name lie in, in words.
func (l Lots) lie(f *Folder, name string) string {
	_, places, _ := l.called(f, name, -1)
	said := ""
	for k, p := range places {
		if k > 0 {
			said += " and "
		}
		if p.Compartment >= 0 {
			said += RoomName(&f.Boat, p.Compartment)
		} else {
			said += "a place of their own"
		}
	}
	return said
}

// notStored says what bears a name instead, or that nothing does.
func notStored(f *Folder, name string) error {
	e := &PutError{"what", name, fmt.Sprintf("nothing in stores.csv is called %q", name), "mend the name"}
	for _, t := range f.Things(name) {
		if e.Say, e.Mend = fmt.Sprintf("%q is a weight in boat.yaml, not a row of stores.csv", name), "write shift, or set its place"; t.Person >= 0 {
			e.Say, e.Mend = fmt.Sprintf("%q is one of the crew", name), "put carries stores"
		}
	}
	return e
}

// RoomName is a compartment as people call it: its number and its name.
func RoomName(b *Boat, i int) string {
	c := &b.Compartments[i]
	if c.Number > 0 {
		return fmt.Sprintf("%d %s", c.Number, c.Name)
	}
	return c.Name
}
