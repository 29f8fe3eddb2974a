package byhand

import (
	"encoding/csv"
	"fmt"
	"strings"
	"unicode/utf8"

	"thole/internal/boatfolder"
	"thole/internal/units"
)

// text is what is needed of a draft: its files as they stand.
type text interface {
	Text(file string) (string, bool)
	Values(file string) []boatfolder.Value
	Changes() []boatfolder.Change
}

// table is a csv file as its rows stand, row 0 the first below the header, remarks and blank rows left out as the
// folder's reader does.
type table struct {
	file   string
	header []string
	rows   []row
	byLine map[int]int
	commas bool // numbers are written with a decimal comma
}

type row struct {
	line  int
	cells []string // trimmed
	at    []int    // the column in letters at which each begins, 1 the first
}

func readTable(d text, file string) (*table, error) {
	words, ok := d.Text(file)
	if !ok {
		return nil, fmt.Errorf("%s: is not in the folder", file)
	}
	words = strings.TrimPrefix(words, "\ufeff")
	words = strings.ReplaceAll(strings.ReplaceAll(words, "\r\n", "\n"), "\r", "\n")
	lines := strings.Split(words, "\n")
	first := ""
	for _, l := range lines {
		if strings.Trim(l, " \t,;") != "" && l[0] != '#' {
			first = l
			break
		}
	}
	t := &table{file: file, byLine: map[int]int{}}
	in := csv.NewReader(strings.NewReader(words))
	in.Comment, in.FieldsPerRecord, in.LazyQuotes = '#', -1, true
	semicolons := strings.Count(first, ";") > strings.Count(first, ",")
	if semicolons {
		in.Comma = ';'
	}
	for {
		record, err := in.Read()
		if err != nil {
			break // at a fault the folder's reader has stopped too, and told it
		}
		if strings.Trim(strings.Join(record, ""), " \t") == "" {
			continue
		}
		line, _ := in.FieldPos(0)
		r := row{line: line}
		for i, c := range record {
			at, b := in.FieldPos(i)
			here := lines[min(at-1, len(lines)-1)]
			before := min(b-1, len(here))
			column := 1 + utf8.RuneCountInString(here[:before])
			if strings.HasPrefix(here[before:], `"`) {
				column++
			}
			column += utf8.RuneCountInString(c[:len(c)-len(strings.TrimLeft(c, " \t"))])
			r.cells, r.at = append(r.cells, strings.TrimSpace(c)), append(r.at, column)
			t.commas = t.commas || semicolons && decimalComma(c)
		}
		if t.header == nil {
			t.header = r.cells
			continue
		}
		t.byLine[line] = len(t.rows)
		t.rows = append(t.rows, r)
	}
	return t, nil
}

// decimalComma tells whether a comma stands between two digits.
func decimalComma(s string) bool {
	for i := 1; i+1 < len(s); i++ {
		if s[i] == ',' && digit(s[i-1]) && digit(s[i+1]) {
			return true
		}
	}
	return false
}

func digit(b byte) bool { return b >= '0' && b <= '9' }

// plain is a name without capitals, spaces and hyphens.
func plain(name string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(" -_()", r) {
			return -1
		}
		return r
	}, strings.ToLower(name))
}

// column finds a column by the beginning of its name, the rest being a unit; -1 when there is none.
func (t *table) column(name string) (at int, unit float64) {
	for i, h := range t.header {
		rest, ok := strings.CutPrefix(plain(h), name)
		if !ok {
			continue
		}
		if rest == "" {
			return i, 0
		}
		if u, known := metres[rest]; known {
			return i, u
		}
	}
	return -1, 0
}

// cell is one cell, or nothing where the row is short.
func (t *table) cell(r, column int) string {
	if r < 0 || r >= len(t.rows) || column < 0 || column >= len(t.rows[r].cells) {
		return ""
	}
	return t.rows[r].cells[column]
}

// key names a cell as an edit does.
func (t *table) key(r, column int) string { return fmt.Sprintf("rows[%d].%s", r, t.header[column]) }

// metres are the units that a column's name may end on.
var metres = map[string]float64{"mm": 0.001, "cm": 0.01, "m": 1, "in": 0.0254, "ft": 0.3048}

// value reads a cell as the folder's reader does; false where it holds no length.
func (t *table) value(s string, unit float64) (float64, bool) {
	if t.commas {
		s = strings.Replace(s, ",", ".", 1)
	}
	if unit != 0 {
		if v, err := units.ParseNumber(s); err == nil {
			return v * unit, true
		}
	}
	v, err := units.ParseLength(s)
	return float64(v), err == nil
}
