// Package exchange gives a folder's lists and stores out as plain csv, and takes a table that was changed elsewhere, in a
// spreadsheet for one, back as edits of the folder.
//
// What is given out follows RFC 4180: lines end in CR LF, a cell is in quotation marks where it has to be. Columns are separated by
// commas, or by semicolons with decimal commas where the folder's own stores.csv is. The byte order mark is written only where a letter
// beyond ASCII stands in the file, since some spreadsheets take such a file for another alphabet without it.
//
// A cell of words that a spreadsheet would take for a formula (one that begins with = + - @, a tab or a line end) is given out
// with an apostrophe before it, so that it is shown and not carried out; taking it back drops that apostrophe. A cell that has
// one of its own there gets one more, so that every text comes back as it was.
package exchange

import (
	"fmt"

	"thole/internal/boatfolder"
	"thole/internal/lists"
	"thole/internal/model"
	"thole/internal/sheet"
)

// storesFile is the folder's table of stores.
const storesFile = "stores.csv"

// File is a file to be written.
type File struct {
	Name    string
	Content []byte
}

// Lists gives every list of a folder as csv, and its stores as they are written there. Those lists that are of a day are of the
// end of that day; 0 is the departure.
//
// Error: what is wrong with the folder
func Lists(dir string, day int) ([]File, error) {
	d, f, err := open(dir)
	if err != nil {
		return nil, err
	}
	stores, err := storesOf(d)
	if err != nil {
		return nil, err
	}
	var out []File
	for _, l := range lists.All {
		rows := flat(l.Flat(f, day), stores.dialect)
		if l.Kind == inventory {
			rows = countingRows(f, stores, day)
		}
		out = append(out, File{l.Kind + ".csv", write(rows, stores.dialect)})
	}
	if len(stores.rows) > 0 {
		out = append(out, File{storesFile, write(guarded(append([][]string{stores.header}, stores.rows...)), stores.dialect)})
	}
	return out, nil
}

// open reads a folder that has no faults.
func open(dir string) (*boatfolder.Draft, *model.Folder, error) {
	d, faults := boatfolder.Open(dir)
	if len(faults) > 0 {
		return nil, nil, faults
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		return nil, nil, faults
	}
	return d, f, nil
}

// Table is a table as csv, for a list of another's making.
func Table(t sheet.Table) []byte { return write(flat(t, dialect{}), dialect{}) }

// flat turns a table into cells: words guarded, numbers in the dialect, units in the header.
func flat(t sheet.Table, d dialect) [][]string {
	header := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		header[i] = guard(c.Name)
		if c.Unit != "" {
			header[i] = guard(fmt.Sprintf("%s (%s)", c.Name, c.Unit))
		}
	}
	out := [][]string{header}
	for _, r := range t.Rows {
		row := make([]string, len(header))
		for i := range min(len(r), len(row)) {
			switch c := r[i]; {
			case c.Empty:
			case c.Text != "" || t.Columns[i].Text:
				row[i] = guard(c.Text)
			default:
				row[i] = d.number(c.Value, t.Columns[i].Places)
			}
		}
		out = append(out, row)
	}
	return out
}

// guarded guards every cell of a table.
func guarded(rows [][]string) [][]string {
	out := make([][]string, len(rows))
	for i, r := range rows {
		out[i] = make([]string, len(r))
		for k, c := range r {
			out[i][k] = guard(c)
		}
	}
	return out
}
