package boatfolder

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"thole/internal/model"
	"thole/internal/units"
)

// Bounds on a csv file.
const (
	mostRows    = 20000
	longestLine = 1 << 16
)

// cell is one cell of a table with its place.
type cell struct {
	text string
	at   model.Source
}

// table is a csv file split into cells. Blank rows and remarks are gone.
type table struct {
	file   string
	header []cell
	body   [][]cell
	// commas: the file is separated by semicolons, as spreadsheets write it
	// where the decimal sign is a comma.
	commas bool
}

// cells splits a csv file; nil when there is nothing to go on with.
func (r *reader) cells(file string, data []byte) *table {
	text, ok := r.readable(file, data)
	if !ok {
		return nil
	}
	lines := strings.Split(text, "\n")
	if len(lines) > mostRows {
		r.fault(model.Source{File: file, Line: mostRows + 1, Column: 1}, "", "a boat's table has some hundred rows: is it the right file?", "more than %d rows", mostRows)
		return nil
	}
	first := ""
	for i, line := range lines {
		if len(line) > longestLine {
			r.fault(model.Source{File: file, Line: i + 1, Column: 1}, "", "is it the right file?", "a line longer than %d letters", longestLine)
			return nil
		}
		if first == "" && strings.Trim(line, " \t,;") != "" && line[0] != '#' {
			first = line
		}
	}
	t := &table{file: file, commas: strings.Count(first, ";") > strings.Count(first, ",")}
	in := csv.NewReader(strings.NewReader(text))
	in.Comment, in.FieldsPerRecord, in.LazyQuotes = '#', -1, true
	if t.commas {
		in.Comma = ';'
	}
	for {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.unreadable(file, err)
			return nil
		}
		if row, ok := r.row(t, in, record, lines); ok {
			if t.header == nil {
				t.header = row
			} else {
				t.body = append(t.body, row)
			}
		}
	}
	if t.header == nil {
		r.fault(model.Source{File: file, Line: 1, Column: 1}, "", "docs/boat-folder.md shows one", "the table is empty")
		return nil
	}
	if len(t.body) == 0 {
		r.fault(t.header[0].at, "", "put a row for each thing below the header", "the table has a header and no rows")
	}
	return t
}

func (r *reader) unreadable(file string, err error) {
	var p *csv.ParseError
	at := model.Source{File: file, Line: 1, Column: 1}
	say := err.Error()
	if errors.As(err, &p) {
		at.Line, at.Column = p.Line, max(p.Column, 1)
		say = p.Err.Error()
	}
	r.fault(at, "", "look at the quotation marks here", "%s", say)
}

// row gives the cells of a row with their places; false for a blank row.
func (r *reader) row(t *table, in *csv.Reader, record, lines []string) ([]cell, bool) {
	row := make([]cell, len(record))
	blank := true
	for i, text := range record {
		line, column := in.FieldPos(i)
		trimmed := strings.TrimSpace(text)
		blank = blank && trimmed == ""
		// FieldPos counts bytes; people count letters.
		before := min(column-1, len(lines[line-1]))
		column = 1 + utf8.RuneCountInString(lines[line-1][:before])
		if strings.HasPrefix(lines[line-1][before:], `"`) {
			column++
		}
		column += utf8.RuneCountInString(text[:len(text)-len(strings.TrimLeft(text, " \t"))])
		row[i] = cell{text: trimmed, at: model.Source{File: t.file, Line: line, Column: column}}
		if strings.Contains(text, "\n") {
			r.fault(row[i].at, shorten(text), "close the quotation mark on the same line", "a cell that runs over the end of its line")
			row[i].text = ""
		}
	}
	return row, !blank
}

// decimal gives a cell's text with a decimal point, whatever the file uses.
func (t *table) decimal(c cell) string {
	if !t.commas {
		return c.text
	}
	out := []byte(c.text)
	for i := 1; i+1 < len(out); i++ {
		if out[i] == ',' && digit(out[i-1]) && digit(out[i+1]) {
			out[i] = '.'
		}
	}
	return string(out)
}

func digit(b byte) bool { return b >= '0' && b <= '9' }

// unitsOf are the units that a column's name may end on, in metres.
var unitsOf = map[string]float64{"mm": 0.001, "cm": 0.01, "m": 1, "in": 0.0254, "ft": 0.3048}

// sized reads a cell of a column whose unit is in its name, or one that
// carries its own. A unit of 0 means that the cell must carry one.
func (r *reader) sized(t *table, c cell, name string, unit float64) (float64, bool) {
	text := t.decimal(c)
	if unit != 0 {
		if v, err := units.ParseNumber(text); err == nil {
			return scaled(v, unit), true
		}
	}
	v, err := units.ParseLength(text)
	if err == nil {
		return float64(v), true
	}
	if unit != 0 && !strings.ContainsAny(text, "0123456789") {
		r.fault(c.at, c.text, "write a number, or leave the cell blank", "%s %q is not a number", name, shorten(c.text))
		return 0, false
	}
	at := c.at
	at.Key = name
	r.quantityFault(at, name, false, err)
	return 0, false
}

// scaled keeps 112.5 mm the same float as 0.1125.
func scaled(v, unit float64) float64 {
	switch unit {
	case 0.001:
		return v / 1000
	case 0.01:
		return v / 100
	}
	return v * unit
}

// columns finds the columns of a table by name, in any order. A column whose
// name is nearly a known one is a fault; any other unknown one is passed over.
func (r *reader) columns(t *table, known []string, match func(name string) (column string, ok bool)) map[string]int {
	found := map[string]int{}
	for i, c := range t.header {
		if c.text == "" {
			continue
		}
		name, ok := match(c.text)
		if !ok {
			if near := nearest(c.text, known); near != "" {
				r.fault(c.at, c.text, fmt.Sprintf("did you mean %s?", near), "unknown column %q", shorten(c.text))
				found[near+"?"] = i
			} else {
				r.note(c.at, "its name is not one of a table's columns", "column %q passed over", shorten(c.text))
			}
			continue
		}
		if _, twice := found[name]; twice {
			r.fault(c.at, c.text, "keep one of them", "column %q is given twice", shorten(c.text))
			continue
		}
		found[name] = i
	}
	for _, row := range t.body {
		for _, c := range row[min(len(row), len(t.header)):] {
			if c.text != "" {
				r.fault(c.at, c.text, "look for a comma too many in this row", "%q stands beyond the last column", shorten(c.text))
			}
		}
	}
	return found
}

// under gives a row's cell in a column, blank when the row is short.
func under(row []cell, column int, ok bool) cell {
	if !ok || column >= len(row) {
		c := cell{}
		if len(row) > 0 {
			c.at = row[len(row)-1].at
		}
		return c
	}
	return row[column]
}
