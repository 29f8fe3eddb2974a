package boatfolder

import (
	"slices"
	"strings"
)

// clone copies a table, for one who changes it.
func (t *table) clone() *table {
	if t == nil {
		return &table{}
	}
	out := *t
	out.header = slices.Clone(t.header)
	out.body = slices.Clone(t.body)
	for i, row := range out.body {
		out.body[i] = slices.Clone(row)
	}
	return &out
}

// same tells whether two tables read alike; blank cells at a row's end count for nothing.
func (t *table) same(other *table) bool {
	alike := func(a, b []cell) bool {
		for i := range max(len(a), len(b)) {
			if under(a, i, true).text != under(b, i, true).text {
				return false
			}
		}
		return true
	}
	if len(t.body) != len(other.body) || t.commas != other.commas || !alike(t.header, other.header) {
		return false
	}
	for i := range t.body {
		if !alike(t.body[i], other.body[i]) {
			return false
		}
	}
	return true
}

func (t *table) separator() string {
	if t.commas {
		return ";"
	}
	return ","
}

// column finds a column by its name, its plain name, or without its unit.
func (t *table) column(name string) int {
	for _, alike := range []func(string) bool{
		func(c string) bool { return c == name },
		func(c string) bool { return plainName(c) == plainName(name) },
		func(c string) bool {
			plain := plainName(c)
			for unit := range unitsOf {
				if plain == plainName(name)+unit {
					return true
				}
			}
			return false
		},
	} {
		for i, c := range t.header {
			if c.text != "" && alike(c.text) {
				return i
			}
		}
	}
	return -1
}

// called gives the names of a row.
func (t *table) called(row []cell) []string {
	var out []string
	for _, key := range nameKeys {
		for i, c := range t.header {
			if text := under(row, i, true).text; plainName(c.text) == key && text != "" {
				out = append(out, text)
			}
		}
	}
	if len(t.header) > 1 && plainName(t.header[0].text) == "measure" { // height keel
		out = append(out, strings.TrimSpace(under(row, 0, true).text+" "+under(row, 1, true).text))
	}
	return out
}

// fields splits the line of a row as it is written: the bytes of each cell, spaces and quotation marks included.
func (y *layout) fields(line int, separator byte) []span {
	start, end := y.starts[line], y.ends[line]
	var out []span
	for at := start; ; at++ {
		from := at
		if at < end && y.text[at] == '"' {
			for at++; at < end; at++ {
				if y.text[at] != '"' {
					continue
				}
				// As encoding/csv reads it when quotes may stand anywhere: a mark ends the cell only before a separator.
				if at+1 < end && y.text[at+1] == '"' {
					at++
				} else if at+1 >= end || y.text[at+1] == separator {
					at++
					break
				}
			}
		}
		for at < end && y.text[at] != separator {
			at++
		}
		out = append(out, span{from, at})
		if at >= end {
			return out
		}
	}
}

// inner is a cell without the spaces round it.
func (y *layout) inner(c span) span {
	text := y.text[c.start:c.end]
	c.start += len(text) - len(strings.TrimLeft(text, " \t"))
	c.end = c.start + len(strings.TrimSpace(text))
	return c
}
