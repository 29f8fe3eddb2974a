package book

import (
	"thole/internal/draw"
	"thole/internal/draw/letters"
	"thole/internal/sheet"
)

// between is the white between two columns of a table, in millimetres.
const between = 5.0

// table prints rows under named columns, numbers aligned on the point. Columns
// that do not fit beside one another stand in a second table under the first.
func (p *paper) table(t *sheet.Table) {
	p.heading(t.Heading)
	if len(t.Columns) > 0 {
		for _, part := range p.split(t) {
			p.columns(t, part)
		}
	}
	p.set(letters.Serif, "I", small)
	if t.Note != "" {
		p.lines(t.Note, flush)
	}
	p.gap(2)
}

// cell is what a cell shows, and whether it is set heavy.
func cell(t *sheet.Table, row, col int) (string, bool) {
	if col >= len(t.Rows[row]) {
		return "", false
	}
	c := t.Rows[row][col]
	switch {
	case c.Empty:
		return "", false
	case c.Text != "" || t.Columns[col].Text:
		return c.Text, c.Loud
	}
	return draw.Number(c.Value, t.Columns[col].Places), c.Loud
}

// head is a column's name, wrapped, and its unit under it.
func (p *paper) head(c sheet.Column) []string {
	lines := p.doc.SplitText(c.Name, 34)
	if c.Unit != "" {
		lines = append(lines, c.Unit)
	}
	return lines
}

// width is what a column needs; heavy letters are the wider.
func (p *paper) width(t *sheet.Table, col int) float64 {
	p.set(letters.Sans, "B", small)
	w := 4.0
	for _, s := range p.head(t.Columns[col]) {
		w = max(w, p.doc.GetStringWidth(s))
	}
	for r := range t.Rows {
		s, _ := cell(t, r, col)
		w = max(w, p.doc.GetStringWidth(s))
	}
	return w + 0.5
}

// narrow is how far a column of words may be pressed, in millimetres.
const narrow = 34.0

// least is the least a column can do with.
func (p *paper) least(t *sheet.Table, col int) float64 {
	w := p.width(t, col)
	if t.Columns[col].Text {
		return min(w, narrow)
	}
	return w
}

// split groups the columns so that each group fits the page, the first column
// again in each, words wrapped as far as they may be.
func (p *paper) split(t *sheet.Table) [][]int {
	first := p.least(t, 0)
	groups, group, used := [][]int(nil), []int{0}, first
	for c := 1; c < len(t.Columns); c++ {
		w := p.least(t, c)
		if used+between+w > width && len(group) > 1 {
			groups, group, used = append(groups, group), []int{0}, first
		}
		group, used = append(group, c), used+between+w
	}
	return append(groups, group)
}

// columns prints one group of columns. Where they do not fit, the columns of
// words are pressed, the one with the most to give first.
func (p *paper) columns(t *sheet.Table, cols []int) {
	widths, total := make([]float64, len(cols)), -between
	least := make([]float64, len(cols))
	for i, c := range cols {
		widths[i], least[i] = p.width(t, c), p.least(t, c)
		total += widths[i] + between
	}
	for step := 1.0; total > width; total -= step {
		press := 0
		for i := range widths {
			if widths[i]-least[i] > widths[press]-least[press] {
				press = i
			}
		}
		if widths[press] <= 10 {
			break
		}
		widths[press] -= step
	}
	p.header(t, cols, widths)
	for r := range t.Rows {
		cells, heavy := make([][]string, len(cols)), make([]bool, len(cols))
		tall := 1
		p.set(letters.Sans, "B", small)
		for i, c := range cols {
			s, loud := cell(t, r, c)
			cells[i], heavy[i] = p.doc.SplitText(s, widths[i]+0.01), loud
			tall = max(tall, len(cells[i]))
		}
		room := float64(tall) * p.lead()
		if r == len(t.Rows)-2 { // the last row is not left alone on the next page
			room += p.lead()
		}
		if p.doc.GetY()+room > 297-bottom {
			p.doc.AddPage()
			p.header(t, cols, widths)
		}
		p.row(t, cols, widths, cells, heavy)
	}
	p.gap(2)
}

// header prints the names and units over a thin line.
func (p *paper) header(t *sheet.Table, cols []int, widths []float64) {
	p.set(letters.Sans, "B", small)
	heads, tall := make([][]string, len(cols)), 0
	heavy := make([]bool, len(cols))
	for i, c := range cols {
		heads[i], heavy[i] = p.head(t.Columns[c]), true
		tall = max(tall, len(heads[i]))
	}
	for i := range heads {
		for len(heads[i]) < tall {
			heads[i] = append([]string{""}, heads[i]...)
		}
	}
	p.need(float64(tall+2) * p.lead())
	p.row(t, cols, widths, heads, heavy)
	y, x := p.doc.GetY()+0.4, left
	p.doc.SetDrawColor(28, 32, 38)
	p.doc.SetLineWidth(0.18)
	for _, w := range widths {
		p.doc.Line(x, y, x+w, y)
		x += w + between
	}
	p.doc.SetY(y + 0.8)
}

// row prints the lines of one row: words flush left, numbers flush right.
func (p *paper) row(t *sheet.Table, cols []int, widths []float64, cells [][]string, heavy []bool) {
	y, x, tall := p.doc.GetY(), left, 1
	for i, c := range cols {
		style := ""
		if heavy[i] {
			style = "B"
		}
		p.set(letters.Sans, style, small)
		align := "R"
		if t.Columns[c].Text {
			align = "L"
		}
		for k, s := range cells[i] {
			p.doc.SetXY(x, y+float64(k)*p.lead())
			p.doc.CellFormat(widths[i], p.lead(), s, "", 0, align, false, 0, "")
		}
		tall = max(tall, len(cells[i]))
		x += widths[i] + between
	}
	p.doc.SetXY(left, y+float64(tall)*p.lead())
}
