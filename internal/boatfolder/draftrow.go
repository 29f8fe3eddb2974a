package boatfolder

import (
	"fmt"
	"slices"
	"strings"
)

// rowKey reads rows[7].mass; stores[7].mass, as places in stores.csv are called elsewhere, is the same.
func rowKey(key string) (row int, column string, ok bool) {
	rest, is := strings.CutPrefix(key, "rows")
	if !is {
		rest, is = strings.CutPrefix(key, "stores")
	}
	if !is {
		return 0, "", false
	}
	row, size, ok := indexed(rest)
	if !ok {
		return 0, "", false
	}
	column, dotted := strings.CutPrefix(rest[size:], ".")
	return row, column, dotted && column != "" || rest[size:] == ""
}

// soughtRow gives the row that an edit means.
func soughtRow(t *table, e Edit, index int) (int, *Fault) {
	of := strings.TrimSpace(e.Of)
	if of == "" || index < len(t.body) && slices.Contains(t.called(t.body[index]), of) {
		return index, nil
	}
	var found []int
	for i, row := range t.body {
		if slices.Contains(t.called(row), of) {
			found = append(found, i)
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	at, is := t.rowSpot(index), "is not there"
	if index < len(t.body) {
		is = "is without a name"
		if names := t.called(t.body[index]); len(names) > 0 {
			is = fmt.Sprintf("is %q, not %q", shorten(names[0]), shorten(of))
		}
	}
	none := "none is called so"
	if len(found) > 1 {
		none = fmt.Sprintf("%d are called so", len(found))
	}
	return 0, faultAt(e, at, of, "look again: the table has changed", "row %d %s, and %s", index, is, none)
}

func (t *table) rowSpot(index int) spot {
	row := t.header
	if index < len(t.body) {
		row = t.body[index]
	}
	if len(row) == 0 {
		return spot{}
	}
	return spot{row[0].at.Line, 1}
}

// planRow plans an edit of a table.
func planRow(l *leaf, e Edit) (plan, *Fault) {
	index, column, ok := rowKey(e.Key)
	if !ok {
		return plan{}, faultAt(e, spot{}, e.Key, "write rows[7].mass, or rows[7] for a row", "%q is no place in a table", shorten(e.Key))
	}
	t, _ := l.cells()
	if t == nil {
		return newTable(l, e)
	}
	index, fault := soughtRow(t, e, index)
	if fault != nil {
		return plan{}, fault
	}
	at := t.rowSpot(index)
	if index > len(t.body) || index == len(t.body) && e.Do != Insert {
		return plan{}, faultAt(e, at, "", "look again: the table has changed", "row %d is not there: the table has %d", index, len(t.body))
	}
	if column != "" && e.Do != Set {
		return plan{}, faultAt(e, at, e.Key, fmt.Sprintf("name the row, as rows[%d]", index), "only a row can be put in or taken out, not %s", e.Key)
	}
	y := l.layout()
	if index < len(t.body) {
		if fault := wasRow(t, y, e, index, column); fault != nil {
			return plan{}, fault
		}
	}
	switch {
	case e.Do == Set && column != "":
		return planCell(t, y, e, index, column)
	case e.Do == Set, e.Do == Insert:
		return planLine(t, y, e, index)
	case e.Do == Remove:
		line := t.body[index][0].at.Line - 1
		p := plan{at: at, alone: true, start: y.starts[line], end: y.next(line), texts: []string{""}}
		if p.end == y.ends[line] && line > 0 {
			p.start = y.ends[line-1] // the file has no last line end; nor will it
		}
		p.rows = func(t *table) { t.body = slices.Delete(t.body, index, index+1) }
		return p, nil
	}
	return plan{}, faultAt(e, at, string(e.Do), "write insert, remove, or nothing to set a value", "%q is nothing that can be done", shorten(string(e.Do)))
}

// wasRow checks what stands there against what the edit was made for.
func wasRow(t *table, y *layout, e Edit, index int, column string) *Fault {
	if e.Was == "" {
		return nil
	}
	row := t.body[index]
	is, at := y.content(row[0].at.Line-1), t.rowSpot(index)
	if column != "" {
		if i := t.column(column); i >= 0 {
			c := under(row, i, true)
			is = c.text
			if i < len(row) {
				at = spot{c.at.Line, c.at.Column}
			}
		}
	}
	if strings.TrimSpace(e.Was) == strings.TrimSpace(is) {
		return nil
	}
	return faultAt(e, at, is, "look again: it has been changed since", "%s is %q, not %q", e.Key, shorten(is), shorten(e.Was))
}

// planCell plans the setting of one cell.
func planCell(t *table, y *layout, e Edit, index int, column string) (plan, *Fault) {
	row := t.body[index]
	at := t.rowSpot(index)
	i := t.column(column)
	if i < 0 {
		var names []string
		for _, c := range t.header {
			names = append(names, c.text)
		}
		return plan{}, faultAt(e, at, column, meant(column, names, "columns"), "the table has no column %q", shorten(column))
	}
	old := under(row, i, true)
	if i < len(row) {
		at = spot{old.at.Line, old.at.Column}
	}
	text := strings.TrimSpace(e.Text)
	if t.commas {
		text = t.withCommas(text, old.text, t.header[i].text)
	}
	if strings.ContainsAny(text, "\r\n") {
		return plan{}, faultAt(e, at, e.Text, "write it on one line", "%s: a cell that runs over the end of its line", e.Key)
	}
	p := plan{at: at, alone: slices.Contains(nameKeys, plainName(t.header[i].text))}
	line := row[0].at.Line - 1
	fields := y.fields(line, t.separator()[0])
	if len(fields) != len(row) {
		return plan{}, faultAt(e, at, "", "change it in the file itself", "the row is written in a way that is not edited here")
	}
	before, behind, wasQuoted := "", "", false
	if i < len(fields) {
		p.start, p.end = fields[i].start, fields[i].end
		if in := y.inner(fields[i]); in.start < in.end { // the spaces round it stay
			before, behind = y.text[p.start:in.start], y.text[in.end:p.end]
			wasQuoted = y.text[in.start] == '"' && before == ""
		}
	} else {
		p.start, p.end = y.ends[line], y.ends[line]
		before = strings.Repeat(t.separator(), i-len(fields)+1)
	}
	if text == old.text {
		return p, nil
	}
	quoted := `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
	if !wasQuoted && !strings.ContainsAny(text, `"#`+t.separator()) {
		p.texts = []string{before + text + behind}
	}
	// A mark of quotation is one only where the cell begins with it.
	p.texts = append(p.texts, strings.TrimLeft(before, " \t")+quoted)
	p.rows = func(t *table) {
		for len(t.body[index]) <= i {
			t.body[index] = append(t.body[index], cell{})
		}
		t.body[index][i].text = text
	}
	return p, nil
}

// withCommas gives a quantity the decimal comma of the file.
func (t *table) withCommas(text, old, column string) string {
	if decimals(old, '.') || !decimals(old, ',') && !t.usesCommas() {
		return text
	}
	switch plainName(column) {
	case "what", "notes", "provides", "needs", "apart", "group", "station", "knuckle", "used", "known", "kept", "line", "measure":
		return text
	}
	out := []byte(text)
	for i := 1; i+1 < len(out); i++ {
		if out[i] == '.' && digit(out[i-1]) && digit(out[i+1]) {
			out[i] = ','
		}
	}
	return string(out)
}

// usesCommas tells whether the table's decimals are written with commas.
func (t *table) usesCommas() bool {
	for _, row := range t.body {
		for _, c := range row {
			if decimals(c.text, ',') {
				return true
			}
		}
	}
	return false
}

func decimals(text string, sign byte) bool {
	for i := 1; i+1 < len(text); i++ {
		if text[i] == sign && digit(text[i-1]) && digit(text[i+1]) {
			return true
		}
	}
	return false
}

// planLine plans the setting or putting in of a whole row.
func planLine(t *table, y *layout, e Edit, index int) (plan, *Fault) {
	p := plan{at: t.rowSpot(index), alone: true}
	row, fault := rowOf(t, e, p.at)
	if fault != nil {
		return p, fault
	}
	text := strings.TrimRight(e.Text, "\r\n")
	if e.Do == Set {
		line := t.body[index][0].at.Line - 1
		p.start, p.end = y.starts[line], y.ends[line]
		if y.content(line) == text {
			return p, nil
		}
		p.texts = []string{text}
		p.rows = func(t *table) { t.body[index] = row }
		return p, nil
	}
	last := t.header
	if index > 0 {
		last = t.body[index-1]
	}
	if index < len(t.body) {
		line := t.body[index][0].at.Line - 1
		for line > last[0].at.Line && strings.HasPrefix(y.content(line-1), "#") {
			line-- // a remark above a row belongs to it
		}
		p.start = y.starts[line]
	} else {
		p.start = y.next(last[0].at.Line - 1)
	}
	p.end = p.start
	before, behind := y.ownLine(p.start, "")
	p.texts = []string{before + text + behind}
	p.rows = func(t *table) { t.body = slices.Insert(t.body, index, row) }
	return p, nil
}

// rowOf reads the text of a row on its own.
func rowOf(t *table, e Edit, at spot) ([]cell, *Fault) {
	text := strings.TrimRight(e.Text, "\r\n")
	r := newReader(nil)
	refuse := func(why string) *Fault {
		return faultAt(e, at, e.Text, "write its cells in one line, with "+t.separator()+" between", "a row that %s", why)
	}
	switch {
	case strings.ContainsAny(text, "\r\n"):
		return nil, refuse("runs over several lines")
	case strings.HasPrefix(text, "#"):
		return nil, refuse("is a remark")
	}
	header := make([]string, 2)
	for i := range header {
		header[i] = "x"
	}
	one := r.cells(e.File, []byte(strings.Join(header, t.separator())+"\n"+text+"\n"))
	if one == nil || len(one.body) != 1 {
		return nil, refuse("is blank or cannot be read")
	}
	return one.body[0], nil
}

// newTable plans the first row of stores.csv, whose header then is written too.
func newTable(l *leaf, e Edit) (plan, *Fault) {
	if e.File != storesFile || e.Do != Insert || !strings.HasPrefix(e.Key, "rows[0]") && !strings.HasPrefix(e.Key, "stores[0]") {
		return plan{}, faultAt(e, spot{}, "", "insert rows[0] into stores.csv, or write the table", "%s: the table is not there yet", e.Key)
	}
	header := strings.Join(usualHeader, ",")
	row, fault := rowOf(&table{}, e, spot{})
	if fault != nil {
		return plan{}, fault
	}
	y := l.layout()
	p := plan{alone: true, start: len(y.text), end: len(y.text)}
	before, behind := y.ownLine(p.start, "")
	p.texts = []string{before + header + y.lineEnd() + strings.TrimRight(e.Text, "\r\n") + behind}
	p.rows = func(t *table) {
		for _, name := range usualHeader {
			t.header = append(t.header, cell{text: name})
		}
		t.body = append(t.body, row)
	}
	return p, nil
}
