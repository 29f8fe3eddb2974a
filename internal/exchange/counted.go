package exchange

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"thole/internal/boatfolder"
	"thole/internal/lists"
	"thole/internal/model"
)

// inventory is the kind of the list that is counted, and counted the column for what is there.
const (
	inventory = "inventory"
	counted   = "there are"
)

// countingRows is the inventory of a day, with what the rows are found again by: their name, place and days of use as the folder has them.
func countingRows(f *model.Folder, s *stores, day int) [][]string {
	out := [][]string{{"no.", "compartment", "what", "where", "used", "day", "left", counted}}
	for _, i := range lists.Inventory(f, day) {
		number := ""
		if i.Where.Number > 0 {
			number = strconv.Itoa(i.Where.Number)
		}
		row := guarded([][]string{{number, i.Where.Name, s.at(i.Store, "what"), s.at(i.Store, "where"), s.at(i.Store, "used")}})[0]
		out = append(out, append(row, strconv.Itoa(day), strconv.Itoa(i.Left), ""))
	}
	return out
}

// takeInventory turns what was counted on a day into edits, so that from that day on the folder tells what is there: where it differs from
// what should be left, the count is what was counted, and it is used from the next day to its last. What is left when its days are over is kept.
// What was used and went into another place stays there, as a row of its own.
func takeInventory(f *model.Folder, s *stores, in *taken, day int, name string) (*Taking, error) {
	header, rows := in.rows[0], in.rows[1:]
	t := &Taking{What: inventory, Edits: []boatfolder.Edit{}}
	var err error
	if t.Day, err = dayOf(in, day, f.LastDay(), name); err != nil {
		return nil, err
	}
	p := pair(s, header, rows, [][]string{{"what", "where", "used"}, {"what", "where"}, {"what", "used"}, {"what"}})
	var wrong []error
	var spent, gone []boatfolder.Edit
	at := find(header, counted)
	counts := map[int]Count{}
	due := lists.Stocks(f)
	for i, row := range rows {
		if at >= len(row) || row[at] == "" {
			continue
		}
		n, err := strconv.Atoi(row[at])
		if err != nil || n < 0 || n > 1e6 {
			wrong = append(wrong, fmt.Errorf("%s:%d: %q is no count (write how many there are, 0 for none, or leave it blank)", name, in.lines[i+1], row[at]))
			continue
		}
		what := row[find(header, "what")]
		k := p.of[i]
		if k < 0 {
			t.Notes = append(t.Notes, fmt.Sprintf("%s is not taken: %s has no such row (put it in there)", what, storesFile))
			continue
		}
		counts[k] = Count{Store: k, What: s.at(k, "what"), Where: s.at(k, "where"), Due: due[k][t.Day], Counted: n}
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	for k := range s.rows {
		c, ok := counts[k]
		if !ok {
			continue
		}
		t.Stock = append(t.Stock, c)
		if c.Counted == c.Due {
			continue
		}
		use := f.Stores[k].Use
		if used := max(1, f.Stores[k].Count) - c.Counted; use.Into != nil && used > 0 && use.First <= t.Day {
			spent = append(spent, boatfolder.Edit{File: storesFile, Do: boatfolder.Insert, Text: s.line(s.spent(k, used))})
		}
		if c.Counted == 0 {
			gone = append(gone, boatfolder.Edit{File: storesFile, Key: fmt.Sprintf("rows[%d]", k), Do: boatfolder.Remove, Of: c.What})
			continue
		}
		if err := t.reset(s, k, "count", strconv.Itoa(c.Counted)); err != nil {
			return nil, err
		}
		switch {
		case use.Last == 0 || use.First > t.Day: // kept, or not begun
		case use.Last <= t.Day:
			t.Notes = append(t.Notes, fmt.Sprintf("%s: %d are left though their days are over; they are kept until you say when they are used", c.What, c.Counted))
			if err := t.reset(s, k, "used", ""); err != nil {
				return nil, err
			}
		default:
			if err := t.reset(s, k, "used", usedFrom(s.at(k, "used"), t.Day+1, use.Last)); err != nil {
				return nil, err
			}
		}
	}
	for i := len(gone) - 1; i >= 0; i-- {
		t.Edits = append(t.Edits, gone[i])
	}
	for i := range spent {
		spent[i].Key = fmt.Sprintf("rows[%d]", len(s.rows)-len(gone)+i)
	}
	t.Edits = append(t.Edits, spent...)
	if len(t.Edits) > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("With this the folder is right from day %d on, and no longer for the days before.", t.Day))
	}
	return t, nil
}

// reset sets a cell of a row to what it is from now on.
func (t *Taking) reset(s *stores, k int, column, text string) error {
	at := find(s.header, column)
	if at < 0 {
		return fmt.Errorf("%s has no column %s, which %s needs now (write it into its header)", storesFile, column, s.at(k, "what"))
	}
	if s.rows[k][at] != text {
		t.Edits = append(t.Edits, boatfolder.Edit{File: storesFile, Key: fmt.Sprintf("rows[%d].%s", k, s.header[at]), Of: s.at(k, "what"), Was: s.rows[k][at], Text: text})
	}
	return nil
}

var into = regexp.MustCompile(`(?i)[,; ]+into +(.+)$`)

// usedFrom is the text of a use that goes on from a day, into where it went.
func usedFrom(text string, first, last int) string {
	out := fmt.Sprintf("days %d-%d", first, last)
	if first == last {
		out = fmt.Sprintf("day %d", first)
	}
	if m := into.FindStringSubmatch(text); m != nil {
		out += " into " + m[1]
	}
	return out
}

// spent is the row of what was used of a store and lies elsewhere now.
func (s *stores) spent(k, n int) []string {
	row := append([]string{}, s.rows[k]...)
	for i, h := range s.header {
		switch model.PlainName(h) {
		case "what":
			row[i] += " (used)"
		case "count":
			row[i] = strconv.Itoa(n)
		case "where":
			if m := into.FindStringSubmatch(s.at(k, "used")); m != nil {
				row[i] = m[1]
			}
		case "used", "provides", "needs", "most", "pinned", "expires", "inspect", "energy", "soaks", "drink", "kept":
			row[i] = ""
		}
	}
	return row
}

// dayOf is the day of an inventory: that of its rows, which is one for all, or else the one given.
func dayOf(in *taken, day, last int, name string) (int, error) {
	at := find(in.rows[0], "day")
	said := ""
	for i, row := range in.rows[1:] {
		if at < 0 || at >= len(row) || row[at] == "" {
			continue
		}
		if said != "" && row[at] != said {
			return 0, fmt.Errorf("%s:%d: day %s stands below day %s (an inventory is of one day)", name, in.lines[i+1], row[at], said)
		}
		said = row[at]
	}
	if said != "" {
		n, err := strconv.Atoi(strings.TrimSpace(said))
		if err != nil {
			return 0, fmt.Errorf("%s: day %q is no day (write its number; 0 is the departure)", name, said)
		}
		day = n
	}
	if day < 0 || day > last {
		return 0, fmt.Errorf("%s: day %d is outside the trip (day 0 to day %d)", name, day, last)
	}
	return day, nil
}
