package exchange

import (
	"fmt"
	"slices"
	"strings"

	"thole/internal/boatfolder"
	"thole/internal/model"
)

// takeStores turns a stores table that came back into edits: cells that differ are set, rows that are new are put in behind the row
// that they stand behind, rows that are missing go. A column that did not come back is left alone.
func takeStores(s *stores, in *taken, name string) (*Taking, error) {
	header, rows := in.rows[0], in.rows[1:]
	t := &Taking{What: "stores", Edits: []boatfolder.Edit{}}
	for i, h := range header {
		switch at := find(s.header, h); {
		case blankColumn(rows, i):
		case h == "":
			t.Notes = append(t.Notes, fmt.Sprintf("column %d is not taken: it has no name", i+1))
		case find(header, h) != i:
			t.Notes = append(t.Notes, fmt.Sprintf("column %q is there twice: only the first is taken", h))
		case s.header != nil && at < 0:
			t.Notes = append(t.Notes, fmt.Sprintf("column %q is not taken: %s has none of that name (write it into its header first)", h, storesFile))
		}
	}
	for i, row := range rows {
		if beyond := row[min(len(row), len(header)):]; strings.Join(beyond, "") != "" {
			return nil, fmt.Errorf("%s:%d: %q stands beyond the last column (look for a separator too many in this row)", name, in.lines[i+1], strings.Join(beyond, " "))
		}
	}
	if s.header == nil {
		s.header = usual
	}
	var shared, unnamed []string
	for _, h := range s.header {
		if h != "" && find(header, h) >= 0 {
			shared = append(shared, h)
			if model.PlainName(h) != "what" {
				unnamed = append(unnamed, h)
			}
		}
	}
	p := pair(s, header, rows, [][]string{shared, {"what", "where", "used"}, {"what", "where"}, {"what", "used"}, {"what"}, unnamed})
	for i, row := range rows {
		if k := p.of[i]; k >= 0 {
			t.set(s, header, row, k)
		}
	}
	// What stays keeps its order; rows are taken out from the last, so that those before keep their numbers.
	var stand []int // rows of the table as they stand after the edits so far; -1 is a new one
	for k := range s.rows {
		if p.taken[k] {
			stand = append(stand, k)
		}
	}
	for k := len(s.rows) - 1; k >= 0; k-- {
		if !p.taken[k] {
			t.Edits = append(t.Edits, boatfolder.Edit{File: storesFile, Key: fmt.Sprintf("rows[%d]", k), Do: boatfolder.Remove, Of: s.at(k, "what")})
		}
	}
	behind := 0
	for i, row := range rows {
		if k := p.of[i]; k >= 0 {
			behind = slices.Index(stand, k) + 1
			continue
		}
		t.Edits = append(t.Edits, boatfolder.Edit{File: storesFile, Key: fmt.Sprintf("rows[%d]", behind), Do: boatfolder.Insert, Text: s.line(s.from(header, row))})
		stand = slices.Insert(stand, behind, -1)
		behind++
	}
	return t, nil
}

// usual is the header of a stores table begun anew, as boatfolder begins it.
var usual = []string{"what", "count", "mass", "where", "used", "known", "provides", "notes"}

// set sets the cells of a row that came back otherwise; its name last, since the others find the row by it.
func (t *Taking) set(s *stores, header, row []string, k int) {
	var last []boatfolder.Edit
	for i, h := range header {
		at := find(s.header, h)
		if at < 0 || h == "" || find(header, h) != i {
			continue
		}
		now := ""
		if i < len(row) {
			now = row[i]
		}
		if alike(h, s.rows[k][at], now) {
			continue
		}
		e := boatfolder.Edit{File: storesFile, Key: fmt.Sprintf("rows[%d].%s", k, s.header[at]), Of: s.at(k, "what"), Was: s.rows[k][at], Text: points(h, now)}
		switch model.PlainName(h) {
		case "expires", "inspect":
			if dates := datesOf(now); len(dates) == 1 {
				e.Text = dates[0]
			}
		case "what":
			last = append(last, e)
			continue
		}
		t.Edits = append(t.Edits, e)
	}
	t.Edits = append(t.Edits, last...)
}

// from is a row that came back in the columns of the table.
func (s *stores) from(header, row []string) []string {
	out := make([]string, len(s.header))
	for k, h := range s.header {
		if i := find(header, h); h != "" && i >= 0 && i < len(row) {
			out[k] = points(h, row[i])
			if plain := model.PlainName(h); plain == "expires" || plain == "inspect" {
				if dates := datesOf(row[i]); len(dates) == 1 {
					out[k] = dates[0]
				}
			}
		}
	}
	return out
}

// blankColumn tells whether nothing stands in a column.
func blankColumn(rows [][]string, i int) bool {
	return !slices.ContainsFunc(rows, func(r []string) bool { return i < len(r) && r[i] != "" })
}
