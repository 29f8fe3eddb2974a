package boatfolder

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// cellValues are the cells of a table below its header, blank ones included.
func (d *Draft) cellValues(l *leaf) []Value {
	t, _ := l.cells()
	if t == nil {
		return nil
	}
	y := l.layout()
	var out []Value
	for i, row := range t.body {
		line := row[0].at.Line - 1
		fields := y.fields(line, t.separator()[0])
		if len(fields) != len(row) {
			continue // a cell that runs over the end of its line
		}
		of := ""
		if names := t.called(row); len(names) > 0 {
			of = names[0]
		}
		for j, c := range fields {
			if j >= len(t.header) || t.header[j].text == "" || t.column(t.header[j].text) != j {
				continue // no name, or one that another column has
			}
			in := y.inner(c)
			at := y.spot(in.start)
			v := Value{
				File: l.name, Key: fmt.Sprintf("rows[%d].%s", i, t.header[j].text), Of: of,
				Line: at.line, Column: at.column, Width: utf8.RuneCountInString(y.text[in.start:in.end]), Text: row[j].text,
			}
			k := columnKey(l.name, t, row, j)
			v.Kind, v.Choices, v.What = kindNames[k.shape.kind], k.shape.choices, k.about
			out = append(out, v)
		}
	}
	return out
}

// columnKey is what a cell is for.
func columnKey(file string, t *table, row []cell, column int) key {
	name := plainName(t.header[column].text)
	if file == storesFile {
		for _, k := range storesColumns {
			if k.name == name {
				return k
			}
		}
		return key{}
	}
	if plainName(t.header[0].text) == "measure" {
		if column < 2 {
			return key{}
		}
		r := newReader(nil)
		if m, unit, ok := r.measureOf(row[0]); ok {
			return sizedKey(unit, measureNames[m])
		}
		return key{}
	}
	for _, base := range pointsHeader[1:4] {
		base = strings.TrimSuffix(base, "_mm")
		if rest, ok := strings.CutPrefix(name, base); ok {
			return sizedKey(unitsOf[rest], base)
		}
	}
	return key{}
}

// sizedKey is of a measured cell: a number where its column or row says the unit, a length else.
func sizedKey(unit float64, what string) key {
	if unit != 0 {
		return key{shape: shape{kind: number}, about: what}
	}
	return key{shape: shape{kind: length}, about: what}
}
