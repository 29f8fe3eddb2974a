package boatfolder

import (
	"fmt"
	"unicode/utf8"
)

// kindNames are the kinds of values, for people.
var kindNames = map[kind]string{
	words: "words", filename: "file", length: "length", mass: "mass", density: "density", volume: "volume", angle: "angle",
	share: "share", days: "days", whole: "whole number", dayOfTrip: "day of the trip", number: "number", yesNo: "yes or no",
	choice: "choice", date: "date", latitude: "latitude", longitude: "longitude", crewPlace: "place",
	oneOrMore: "words", anyText: "words", changeOfMass: "change of mass", changeOfShare: "change by a share",
	changeOfDays: "change of days", changeOfDate: "change of date",
	namesByMark: "names", sides: "size", speed: "speed", force: "force", power: "power", duration: "time", temperature: "temperature",
	everyDays: "days", seaWay: "way", energy: "energy", percent: "share", nearShare: "share", clock: "part of the day", onDay: "day of the trip",
	daysOrNone: "days", changeOfTime: "change of time",
}

// Values are the values of a file in the order in which they stand.
func (d *Draft) Values(file string) []Value {
	l := d.leaf(file)
	if l.isTable() {
		return d.cellValues(l)
	}
	return l.keyValues()
}

// keyValues are the values of a yaml file that can be found in its text.
func (l *leaf) keyValues() []Value {
	s, known := shapeOf(l.name)
	if !known {
		return nil
	}
	tree, _ := l.yaml()
	if tree == nil {
		return nil
	}
	y := l.layout()
	var out []Value
	add := func(n *node, sp span, k key, path, of string) {
		at := y.spot(sp.start)
		width := utf8.RuneCountInString(y.text[sp.start:min(sp.end, y.ends[at.line-1])])
		out = append(out, Value{
			File: l.name, Key: path, Of: of, Line: at.line, Column: at.column, Width: width,
			Text: n.text, Kind: kindNames[k.shape.kind], Choices: k.shape.choices, What: k.about,
		})
	}
	var walk func(n *node, k key, path, of string)
	walk = func(n *node, k key, path, of string) {
		for i, p := range n.pairs {
			next, ok := below(k, step{name: p.key, at: i})
			if !ok {
				continue
			}
			name := p.key
			if path != "" {
				name = path + "." + p.key
			}
			if p.value.form == scalar || p.value.form == nothing && kindNames[next.shape.kind] != "" {
				if sp, ok := y.pairSpan(p); ok {
					add(p.value, sp, next, name, of)
				}
				continue
			}
			walk(p.value, next, name, of)
		}
		for i, item := range n.items {
			next, ok := below(k, step{at: i, list: true})
			if !ok {
				continue
			}
			name := fmt.Sprintf("%s[%d]", path, i)
			if item.form != scalar {
				inner := of
				if names := item.called(); len(names) > 0 {
					inner = names[0]
				}
				walk(item, next, name, inner)
				continue
			}
			sp, ok := y.span(item, 0)
			if !n.flow {
				sp, ok = y.itemSpan(item)
			}
			if ok {
				add(item, sp, next, name, of)
			}
		}
	}
	walk(tree, key{shape: s}, "", "")
	return out
}
