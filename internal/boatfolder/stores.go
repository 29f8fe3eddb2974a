package boatfolder

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"thole/internal/model"
	"thole/internal/units"
)

// storesColumns are the columns of stores.csv.
var storesColumns = []key{
	text("what", "day bags", "its name"),
	of(whole, "count", "3", "how many; 1 if blank"),
	of(mass, "mass", "2.4 kg", "of one"),
	text("where", "locker 203", "a compartment's name or number, or a point x; y; z"),
	text("used", "days 1-80", "when it is used up: days 1-80, day 12, days 1-80 into 301; kept aboard if blank"),
	knownKey,
	of(namesByMark, "provides", "steer; signal", "functions of needs.yaml that it serves, or words that they name, with ; between"),
	of(namesByMark, "needs", "battery", "functions, words or conditions without which it is of no use, with ; between"),
	of(volume, "volume", "1.2 L", "of one"),
	of(sides, "size", "300 x 200 x 150 mm", "of one: its three sides"),
	text("group", "food", "what it is of: food, fuel, tools, ..."),
	of(namesByMark, "apart", "fuel", "groups that it may not lie with, with ; between"),
	of(yesNo, "dry", "yes", "yes when it must lie dry; no when water does it no harm"),
	of(share, "most", "50%", "the most of them that may lie in one compartment"),
	oneOf("reach", "the least convenient place allowed", reachWords...),
	of(yesNo, "pinned", "yes", "yes when it stays where it is"),
	of(date, "expires", "2027-06-30", "the last day on which it is good"),
	of(date, "inspect", "2027-01-01", "the day by which it is to be looked at"),
	of(energy, "energy", "4800 kcal", "food energy of one"),
	of(volume, "soaks", "1.5 L", "the water that one needs to be food"),
	of(volume, "drink", "0.5 L", "fresh water in one"),
	keptKey,
	text("notes", "ends first", "anything worth keeping"),
}

// usualHeader is that of a table begun anew.
var usualHeader = []string{"what", "count", "mass", "where", "used", "known", "provides", "notes"}

var storesHeader = keyNames(storesColumns)

func keyNames(keys []key) []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = k.name
	}
	return out
}

// stores reads stores.csv.
func (r *reader) stores(data []byte) []model.Store {
	t := r.split(storesFile, data)
	if t == nil {
		return nil
	}
	columns := r.columns(t, storesHeader, func(name string) (string, bool) {
		for _, known := range storesHeader {
			if plainName(name) == known {
				return known, true
			}
		}
		return "", false
	})
	good := true
	for _, name := range []string{"what", "mass", "where"} {
		if _, ok := columns[name]; !ok {
			good = false
			if _, slip := columns[name+"?"]; !slip {
				r.fault(t.header[0].at, t.header[0].text, "the header is "+strings.Join(usualHeader, ","), "the table has no column %s", name)
			}
		}
	}
	if !good {
		return nil
	}
	var out []model.Store
	for i, row := range t.body {
		out = append(out, r.store(t, columns, row, i))
	}
	return out
}

func (r *reader) store(t *table, columns map[string]int, row []cell, i int) model.Store {
	get := func(name string) cell {
		at, ok := columns[name]
		c := under(row, at, ok)
		c.at.Key = fmt.Sprintf("stores[%d].%s", i, name)
		return c
	}
	source := row[0].at
	source.Key = fmt.Sprintf("stores[%d]", i)
	s := model.Store{Count: 1, Where: model.Place{Compartment: -1}, Source: source}
	for _, c := range row {
		r.checkText(c.at, "cell", c.text)
	}
	// read checks a cell as the table of columns has it; nil where it is blank or at fault.
	read := func(name string) *node {
		c := get(name)
		if c.text == "" {
			return nil
		}
		k := storesColumns[slices.Index(storesHeader, name)]
		n := &node{form: scalar, text: c.text, at: c.at}
		if k.shape.kind != words && k.shape.kind != namesByMark {
			n.text = t.decimal(c)
		}
		r.check(n, name, k.shape, k.example)
		if n.bad {
			return nil
		}
		return n
	}
	for _, name := range []string{"what", "mass", "where"} {
		if c := get(name); c.text == "" {
			r.fault(c.at, "", "fill its cell", "a row without %s", name)
		}
	}
	s.What, s.Notes, s.Group = get("what").text, get("notes").text, get("group").text
	if n := read("count"); n != nil {
		s.Count = int(n.number)
	}
	known := read("known")
	if n := read("mass"); n != nil {
		s.Mass = knownMass(n, known.str())
	}
	s.Volume, s.Size = units.Volume(read("volume").value()), sidesOf(read("size"))
	s.Provides, s.Needs, s.Apart = namesIn(read("provides")), namesIn(read("needs")), namesIn(read("apart"))
	s.Dry = dryness(read("dry"))
	s.Most, s.Reach, s.Pinned = read("most").value(), reachNamed(read("reach")), read("pinned").yes()
	s.Expires, s.Inspect = dateOf(read("expires")), dateOf(read("inspect"))
	energy, soaks, drink := read("energy"), read("soaks"), read("drink")
	s.Energy, s.Soaks, s.Drink = units.Energy(r.exact(energy)), units.Volume(r.exact(soaks)), units.Volume(r.exact(drink))
	s.Kept = keptFor(read("kept"), false, s.Drink)
	r.provisioned(s.Mass, energy, soaks, drink)
	if c := get("where"); c.text != "" {
		s.Where = r.where(t, c, s.What)
	}
	if c := get("used"); c.text != "" {
		s.Use = r.use(t, c, s.What)
	}
	return s
}

// where reads a place in a table: a compartment, or a point x; y; z.
func (r *reader) where(t *table, c cell, what string) model.Place {
	if !strings.Contains(c.text, ";") {
		return r.compartmentPlace(c.at, c.text)
	}
	parts := strings.Split(c.text, ";")
	if len(parts) != 3 {
		r.fault(c.at, c.text, "write it like 3.10 m; 0 m; 0.42 m", "place %q has %d parts where x; y; z is due", shorten(c.text), len(parts))
		return model.Place{Compartment: -1}
	}
	before := len(r.faults)
	at := &node{form: list, at: c.at}
	column := c.at.Column
	for i, part := range parts {
		place := c.at
		place.Column = column + len([]rune(part)) - len([]rune(strings.TrimLeft(part, " ")))
		column += len([]rune(part)) + 1
		n := &node{form: scalar, text: t.decimal(cell{text: strings.TrimSpace(part)}), at: place}
		r.check(n, point[i].name, point[i].shape, point[i].example)
		at.items = append(at.items, n)
	}
	if len(r.faults) > before {
		return model.Place{Compartment: -1}
	}
	place := pointPlace(at)
	r.aboard(at, place.At, "store", what)
	return place
}

var usedForm = regexp.MustCompile(`(?i)^(?:days? *([0-9]{1,6})(?: *(?:-|–|to) *([0-9]{1,6}))?)(?:[,; ] *into +(.+))?$`)

// use reads when a store is used up: days 1-80, day 12, days 1-80 into 301.
func (r *reader) use(t *table, c cell, what string) model.Use {
	m := usedForm.FindStringSubmatch(c.text)
	if m == nil {
		r.fault(c.at, c.text, "write days 1-80, day 12, days 1-80 into 301, or leave it blank", "used %q is not understood", shorten(c.text))
		return model.Use{}
	}
	first, _ := strconv.Atoi(m[1])
	last := first
	if m[2] != "" {
		last, _ = strconv.Atoi(m[2])
	}
	const most = 1000 // as units.ParseDays
	switch {
	case first < 1:
		r.fault(c.at, c.text, "the first day is day 1", "used %q starts before the voyage", shorten(c.text))
	case last < first:
		r.fault(c.at, c.text, "write the earlier day first", "used %q ends before it starts", shorten(c.text))
	case last > most:
		r.fault(c.at, c.text, "write a day from 1 to 1000", "used %q lasts too long", shorten(c.text))
	}
	u := model.Use{First: first, Last: last}
	if m[3] != "" {
		place := r.where(t, cell{text: strings.TrimSpace(m[3]), at: c.at}, what)
		u.Into = &place
	}
	return u
}
