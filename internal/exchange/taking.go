package exchange

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"thole/internal/boatfolder"
	"thole/internal/model"
)

// Taking is what a table that came back would change. Nothing is written until it is kept.
type Taking struct {
	What  string              `json:"what"` // stores or inventory
	Day   int                 `json:"day"`  // of an inventory
	Stock []Count             `json:"stock,omitempty"`
	Edits []boatfolder.Edit   `json:"edits"`
	Lines []boatfolder.Change `json:"lines"` // before and after, as the files have them
	Notes []string            `json:"notes,omitempty"`

	dir    string
	before *model.Folder
	after  *boatfolder.Draft
}

// Count is what was counted of a store at the end of a day.
type Count struct {
	Store   int    `json:"store"`
	What    string `json:"what"`
	Where   string `json:"where"`
	Due     int    `json:"due"`     // what should have been left
	Counted int    `json:"counted"` // what was there
}

// Take reads a table that came back: a stores table, or an inventory with a column of what is there. The name is the file's, for
// what is told of it; the day is that of an inventory that says none itself.
//
// Out: the edits, checked: the folder that they would make has no faults
// Error: what cannot be read or made, with its place and the mend
func Take(dir string, day int, name string, data []byte) (*Taking, error) {
	d, f, err := open(dir)
	if err != nil {
		return nil, err
	}
	in, err := read(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(in.rows) < 2 {
		return nil, fmt.Errorf("%s: it holds no row below a header (give the stores or the inventory as thole lists --csv writes them)", name)
	}
	s, err := storesOf(d)
	if err != nil {
		return nil, err
	}
	if find(in.rows[0], "what") < 0 {
		return nil, fmt.Errorf("%s:%d: the header names no column what, and by its name a thing is found (columns: %s)", name, in.lines[0], strings.Join(in.rows[0], ", "))
	}
	for i, row := range in.rows {
		for k, cell := range row {
			row[k] = strings.TrimSpace(cell)
			if strings.ContainsAny(row[k], "\r\n") {
				return nil, fmt.Errorf("%s:%d: a cell runs over the end of its line (write %q on one line)", name, in.lines[i], cell)
			}
		}
	}
	var t *Taking
	if find(in.rows[0], counted) >= 0 {
		t, err = takeInventory(f, s, in, day, name)
	} else {
		t, err = takeStores(s, in, name)
	}
	if err != nil {
		return nil, err
	}
	t.dir, t.before = dir, f
	var faults boatfolder.Faults
	if t.after, faults = d.With(t.Edits...); len(faults) > 0 {
		return nil, fmt.Errorf("%s cannot be taken:\n%w", name, faults)
	}
	if _, faults = t.after.Read(); len(faults) > 0 {
		return nil, fmt.Errorf("%s: with it the folder would have faults:\n%w", name, faults)
	}
	if t.Lines = t.after.Changes(); t.Lines == nil {
		t.Lines = []boatfolder.Change{}
	}
	return t, nil
}

// Keep writes the edits to the folder; what stood there before goes to earlier/.
//
// Error: when a file was changed meanwhile, or cannot be written
func (t *Taking) Keep() error { return t.after.Save() }

// Try keeps the edits as a try under a name, beside those that are there.
//
// Error: when there is one of that name, or the tries cannot be written
func (t *Taking) Try(name string) error {
	if len(t.Edits) == 0 {
		return errors.New("nothing would change, so there is nothing to try")
	}
	return boatfolder.AddTry(t.dir, boatfolder.Try{Name: name, Edits: t.Edits})
}

// ways are the orders in which countries write a date.
var ways = []string{"2.1.2006", "2/1/2006", "1/2/2006", "2-1-2006", "2006/1/2", "2006-1-2", "2.1.06", "2/1/06", "1/2/06", "2 Jan 2006", "2-Jan-06", "2-Jan-2006", "2 January 2006"}

// datesOf are the dates that a text may mean, as the folder writes them.
func datesOf(text string) []string {
	var out []string
	for _, way := range ways {
		if d, err := time.Parse(way, text); err == nil && !slices.Contains(out, d.Format(time.DateOnly)) {
			out = append(out, d.Format(time.DateOnly))
		}
	}
	return out
}

// pairing finds, for rows that came back, the rows of the folder's table that they are: by as many of the name, the place and the days of use
// as agree, the surest first, those alike in the order in which they stand.
type pairing struct {
	of    []int // row that came back → row of the table, or -1
	taken []bool
}

// pair pairs the rows of one table with those of another over some columns at a time.
func pair(s *stores, header []string, rows [][]string, levels [][]string) *pairing {
	p := &pairing{of: make([]int, len(rows)), taken: make([]bool, len(s.rows))}
	for i := range p.of {
		p.of[i] = -1
	}
	for _, columns := range levels {
		known := true
		for _, c := range columns {
			known = known && find(header, c) >= 0 && find(s.header, c) >= 0
		}
		if !known || len(columns) == 0 {
			continue
		}
		waiting := map[string][]int{}
		for k := range s.rows {
			if !p.taken[k] {
				key := keyOf(s.header, s.rows[k], columns)
				waiting[key] = append(waiting[key], k)
			}
		}
		for i, row := range rows {
			if p.of[i] >= 0 {
				continue
			}
			key := keyOf(header, row, columns)
			if queue := waiting[key]; len(queue) > 0 && strings.Trim(key, "\x00") != "" {
				p.of[i], p.taken[queue[0]], waiting[key] = queue[0], true, queue[1:]
			}
		}
	}
	return p
}

// keyOf is a row's cells in some columns, whatever their capitals and spaces.
func keyOf(header, row, columns []string) string {
	var b strings.Builder
	for _, c := range columns {
		text := ""
		if i := find(header, c); i >= 0 && i < len(row) {
			text = row[i]
		}
		plain := model.PlainName(text)
		switch {
		case model.PlainName(c) == "where" && !strings.Contains(text, ";"): // a compartment, by its name or number
			text = strings.TrimPrefix(strings.TrimPrefix(plain, "locker"), "compartment")
		case model.PlainName(c) == "what":
			text = plain
		default: // a minus and a hyphen count
			text = strings.ToLower(strings.Join(strings.Fields(points(c, text)), ""))
		}
		b.WriteString(text)
		b.WriteByte(0)
	}
	return b.String()
}
