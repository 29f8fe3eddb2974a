package exchange

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"thole/internal/boatfolder"
	"thole/internal/model"
)

// stores is stores.csv as it is written: its header and rows, cell by cell, without remarks and blank rows, so that row k
// is rows[k] of an edit and store k of the model.
type stores struct {
	dialect
	commas bool // decimals are written with commas
	header []string
	rows   [][]string
}

// storesOf reads the cells of a draft's stores, as boatfolder reads them; a folder without stores has none.
func storesOf(d *boatfolder.Draft) (*stores, error) {
	out := &stores{}
	text, ok := d.Text(storesFile)
	if !ok || strings.TrimSpace(text) == "" {
		return out, nil
	}
	text = strings.TrimPrefix(text, byteMark)
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	for line := range strings.Lines(text) {
		if line[0] != '#' && strings.Trim(line, " \t\n,;") != "" {
			out.semicolons = strings.Count(line, ";") > strings.Count(line, ",")
			break
		}
	}
	in := csv.NewReader(strings.NewReader(text))
	in.Comma, in.Comment, in.FieldsPerRecord, in.LazyQuotes = rune(out.separator()[0]), '#', -1, true
	for {
		row, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", storesFile, err)
		}
		for i := range row {
			row[i] = strings.TrimSpace(row[i])
			out.commas = out.commas || out.semicolons && decimalComma.MatchString(row[i])
		}
		switch {
		case strings.Join(row, "") == "":
		case out.header == nil:
			out.header = row
		default:
			for len(row) < len(out.header) {
				row = append(row, "")
			}
			out.rows = append(out.rows, row[:len(out.header)])
		}
	}
	return out, nil
}

// at is a row's cell in a column by its name; empty where there is no such column.
func (s *stores) at(row int, column string) string {
	if i := find(s.header, column); i >= 0 {
		return s.rows[row][i]
	}
	return ""
}

// find is where a column stands, by its name; -1 where there is none.
func find(header []string, column string) int {
	return slices.IndexFunc(header, func(h string) bool { return h != "" && model.PlainName(h) == model.PlainName(column) })
}

var (
	decimalComma = regexp.MustCompile(`[0-9],[0-9]`)
	bareNumber   = regexp.MustCompile(`^[-+]?[0-9]+[.,][0-9]+$`)
	commaInside  = regexp.MustCompile(`([0-9]),([0-9])`)
)

// wordy are the columns whose commas are no decimals.
var wordy = map[string]bool{"what": true, "notes": true, "provides": true, "needs": true, "apart": true, "group": true, "used": true, "known": true, "reach": true, "kept": true}

// quantities are the columns whose figures may have decimals.
var quantities = map[string]bool{"count": true, "mass": true, "where": true, "volume": true, "size": true, "most": true,
	"energy": true, "soaks": true, "drink": true}

// points gives a text the decimal point where its column holds figures.
func points(column, text string) string {
	plain := model.PlainName(column)
	if quantities[plain] || !wordy[plain] && bareNumber.MatchString(text) {
		return commaInside.ReplaceAllString(text, "$1.$2")
	}
	return text
}

// alike tells whether a cell that came back says what stands there: the same letters, the same figures with another decimal
// sign, or the same date in another country's order.
func alike(column, old, now string) bool {
	if old == now || points(column, old) == points(column, now) {
		return true
	}
	switch model.PlainName(column) {
	case "expires", "inspect":
		return slices.Contains(datesOf(now), old)
	}
	return false
}

// line writes a row as the folder's table has it.
func (s *stores) line(cells []string) string {
	out := make([]string, len(cells))
	for i, c := range cells {
		c = strings.TrimSpace(c)
		if s.commas && quantities[model.PlainName(s.header[i])] {
			c = decimalPoint.ReplaceAllString(c, "$1,$2")
		}
		if strings.ContainsAny(c, "\"#"+s.separator()) {
			c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
		}
		out[i] = c
	}
	return strings.Join(out, s.separator())
}

var decimalPoint = regexp.MustCompile(`([0-9])\.([0-9])`)
