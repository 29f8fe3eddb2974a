package plan

import (
	"fmt"
	"strings"

	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/model"
)

// Carry is what carrying pieces of a thing into a compartment writes: count of them, or all when that is 0. into is the
// compartment as Locker.Word has it. Carried to where it lies, it writes nothing.
//
// Error: nothing has that id, no compartment is called so, or the thing is not one that is carried about
func Carry(f *model.Folder, d *boatfolder.Draft, id, into string, count int) ([]boatfolder.Edit, error) {
	row := -1
	if rest, ok := strings.CutPrefix(id, storesFile+":rows["); ok {
		if _, err := fmt.Sscanf(rest, "%d]", &row); err != nil {
			row = -1
		}
	}
	if row < 0 || row >= len(f.Stores) {
		return nil, fmt.Errorf("nothing to be carried is called %q (a row of %s: %s:rows[0] is the first)", id, storesFile, storesFile)
	}
	to := -1
	for i, c := range f.Boat.Compartments {
		if word(c) == into || model.PlainName(c.Name) == model.PlainName(into) {
			to = i
			break
		}
	}
	if to < 0 {
		return nil, fmt.Errorf("no compartment is called %q", into)
	}
	s := &f.Stores[row]
	if s.Where.Compartment == to {
		return nil, nil
	}
	pieces := max(1, s.Count)
	if count < 0 || count > pieces {
		return nil, fmt.Errorf("there are %d of %s, not %d", pieces, s.What, count)
	}
	if count == 0 || count == pieces {
		return []boatfolder.Edit{{File: storesFile, Key: keyOf(d, row, "where"), Of: s.What, Was: textOf(d, row, "where"), Text: word(f.Boat.Compartments[to])}}, nil
	}
	act := model.Act{Do: model.Put, What: []string{s.What}, To: word(f.Boat.Compartments[to]), Count: count}
	if at := s.Where.Compartment; at >= 0 {
		act.From = word(f.Boat.Compartments[at])
	}
	for i := range f.Stores {
		o := &f.Stores[i]
		if i != row && model.PlainName(o.What) == model.PlainName(s.What) && (o.Where.Compartment == s.Where.Compartment || act.From == "") {
			return nil, fmt.Errorf("two rows of %s are called %s and lie in one place (lines %d and %d): give one another name, or carry all of it", storesFile, s.What, s.Source.Line, o.Source.Line)
		}
	}
	return levers.Edits(f, d, []model.Act{act})
}

// word is a compartment as the table of stores names it: its number, or its name.
func word(c model.Compartment) string {
	if c.Number > 0 {
		return fmt.Sprint(c.Number)
	}
	return c.Name
}

// keyOf is the key of a cell, however its column's header is written.
func keyOf(d *boatfolder.Draft, row int, column string) string { return cell(d, row, column).Key }

// textOf is what stands in a cell.
func textOf(d *boatfolder.Draft, row int, column string) string { return cell(d, row, column).Text }

func cell(d *boatfolder.Draft, row int, column string) boatfolder.Value {
	begins := fmt.Sprintf("rows[%d].", row)
	for _, v := range d.Values(storesFile) {
		if rest, ok := strings.CutPrefix(v.Key, begins); ok && model.PlainName(rest) == column {
			return v
		}
	}
	return boatfolder.Value{Key: begins + column}
}
