package terminal

import (
	"strings"

	"thole/internal/draw"
	"thole/internal/sheet"
)

// table writes rows under named columns, numbers aligned on the point. Columns
// that do not fit beside one another are set as a second table under the first,
// each with the first column again.
func (p *page) table(t *sheet.Table) {
	p.heading(t.Heading)
	if len(t.Columns) > 0 {
		for _, part := range p.split(t) {
			p.columns(t, part)
		}
	}
	if loud(t) {
		p.line("* what decides")
	}
	if t.Note != "" {
		p.para(0, t.Note)
	}
}

// loud tells whether a table has a cell that matters most.
func loud(t *sheet.Table) bool {
	for _, r := range t.Rows {
		for _, c := range r {
			if c.Loud && !c.Empty {
				return true
			}
		}
	}
	return false
}

// cell is what a cell shows.
func (p *page) cell(t *sheet.Table, row, col int) string {
	if col >= len(t.Rows[row]) {
		return ""
	}
	c := t.Rows[row][col]
	s := ""
	switch {
	case c.Empty:
	case c.Text != "" || t.Columns[col].Text:
		s = c.Text
	default:
		s = draw.Number(c.Value, t.Columns[col].Places)
	}
	if c.Loud && s != "" {
		s = "*" + s
	}
	return p.look.say(s)
}

// width is how many columns of the terminal a column of the table takes.
func (p *page) width(t *sheet.Table, col int) int {
	w := 0
	for _, l := range p.head(t.Columns[col]) {
		w = max(w, columns(l))
	}
	for r := range t.Rows {
		w = max(w, columns(p.cell(t, r, col)))
	}
	return min(w, p.look.Width)
}

// head is a column's name and, under it, its unit.
func (p *page) head(c sheet.Column) []string {
	lines := wrap(p.look.say(c.Name), 14)
	if c.Unit != "" {
		lines = append(lines, p.look.say(c.Unit))
	}
	return lines
}

// split groups the columns so that each group fits the width, words wrapped as
// far as they may be.
func (p *page) split(t *sheet.Table) [][]int {
	var groups [][]int
	group, used := []int{0}, p.least(t, 0)
	for c := 1; c < len(t.Columns); c++ {
		w := p.least(t, c) + 2
		if used+w > p.look.Width && len(group) > 1 {
			groups = append(groups, group)
			group, used = []int{0}, p.least(t, 0)
		}
		group, used = append(group, c), used+w
	}
	return append(groups, group)
}

// narrow is how far a column of words may be pressed.
const narrow = 18

// least is the least a column can do with.
func (p *page) least(t *sheet.Table, col int) int {
	w := p.width(t, col)
	if t.Columns[col].Text {
		return min(w, narrow)
	}
	return w
}

// columns writes one group of columns. Where they do not fit, the widest column
// of words is pressed first, and its words are wrapped under one another.
func (p *page) columns(t *sheet.Table, cols []int) {
	widths, total := make([]int, len(cols)), -2
	for i, c := range cols {
		widths[i] = p.width(t, c)
		total += widths[i] + 2
	}
	for ; total > p.look.Width; total-- {
		press := 0
		for i, c := range cols {
			if widths[i]-p.least(t, c) > widths[press]-p.least(t, cols[press]) {
				press = i
			}
		}
		if widths[press] <= 8 {
			break
		}
		widths[press]--
	}
	p.header(t, cols, widths)
	for r := range t.Rows {
		cells := make([][]string, len(cols))
		for i, c := range cols {
			cells[i] = wrap(p.cell(t, r, c), widths[i])
		}
		p.row(t, cols, widths, cells)
	}
}

// header writes the names, the units under them, and a line.
func (p *page) header(t *sheet.Table, cols, widths []int) {
	heads, tall := make([][]string, len(cols)), 0
	for i, c := range cols {
		heads[i] = p.head(t.Columns[c])
		tall = max(tall, len(heads[i]))
	}
	for i := range heads {
		for len(heads[i]) < tall {
			heads[i] = append([]string{""}, heads[i]...)
		}
	}
	p.row(t, cols, widths, heads)
	rule := "-"
	if p.look.Unicode {
		rule = "─"
	}
	parts := make([]string, len(cols))
	for i := range cols {
		parts[i] = strings.Repeat(rule, widths[i])
	}
	p.line(p.look.dim(strings.Join(parts, "  ")))
}

// row writes the lines of one row: words flush left, numbers flush right.
func (p *page) row(t *sheet.Table, cols, widths []int, cells [][]string) {
	tall := 0
	for _, c := range cells {
		tall = max(tall, len(c))
	}
	for k := range tall {
		parts := make([]string, len(cols))
		for i, c := range cols {
			s := ""
			if k < len(cells[i]) {
				s = cells[i][k]
			}
			if t.Columns[c].Text {
				parts[i] = pad(s, widths[i])
				continue
			}
			parts[i] = padLeft(s, widths[i])
		}
		p.line(strings.Join(parts, "  "))
	}
}

// figures writes named numbers, their points under one another.
func (p *page) figures(f *sheet.Figures) {
	p.heading(f.Heading)
	name, whole := 0, 0
	for _, r := range f.Rows {
		name = max(name, columns(p.look.say(r.Name)))
		if r.Text == "" {
			whole = max(whole, columns(before(p.figure(r))))
		}
	}
	name = min(name, p.look.Width/2)
	for _, r := range f.Rows {
		v := p.figure(r)
		unit := r.Unit
		if r.Text != "" {
			unit = ""
		}
		spread := ""
		if r.Spread > 0 && r.Text == "" {
			spread = " ± " + draw.Number(r.Spread, r.Places)
		}
		value := v
		if r.Text == "" {
			value = strings.Repeat(" ", whole-columns(before(v))) + v
		}
		value = p.look.say(strings.TrimRight(value+spread+" "+unit, " "))
		lines := wrap(p.look.say(r.Name), name)
		p.line(pad(lines[0], name) + "  " + value)
		for _, l := range lines[1:] {
			p.line(l)
		}
		if r.Why != "" {
			p.para(4, r.Why)
		}
	}
}

// figure is the number or the words of a figure.
func (p *page) figure(r sheet.Figure) string {
	if r.Text != "" {
		return r.Text
	}
	return draw.Number(r.Value, r.Places)
}

// before is the part of a number before its point.
func before(s string) string {
	whole, _, _ := strings.Cut(s, ".")
	return whole
}
