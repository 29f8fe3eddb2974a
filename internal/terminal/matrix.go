package terminal

import (
	"strings"

	"thole/internal/sheet"
)

// matrix shows a letter for each state, a space between the groups of columns. Groups of columns are named
// by numbers, which are spelt out below.
func (p *page) matrix(m *sheet.Matrix) {
	p.heading(m.Heading)
	letters := map[sheet.Standing]string{sheet.Absent: " "}
	for _, k := range m.Key {
		letters[k.Standing] = p.look.say(k.Letter)
	}
	label := 0
	for _, r := range m.Rows {
		label = max(label, columns(p.look.say(r.Name)))
	}
	label = min(label, p.look.Width/3)
	space := " "
	if label+3+2*len(m.Columns)+2*len(m.Columns)/3 > p.look.Width {
		space = ""
	}
	var legend [][2]string
	head := pad("", label+3)
	for c := range m.Columns {
		if opens(m.Columns, c) {
			if c > 0 {
				head += " "
			}
			legend = append(legend, [2]string{string(tags[len(legend)%len(tags)]), spelt(m.Columns, c)})
			head += legend[len(legend)-1][0] + space
			continue
		}
		head += " " + space
	}
	p.line(head)
	for r, l := range m.Rows {
		if l.Group != "" && (r == 0 || m.Rows[r-1].Group != l.Group) {
			for _, s := range wrap(p.look.say(l.Group), p.look.Width) {
				p.line(s)
			}
		}
		name := []rune(p.look.say(l.Name))
		line := pad("  "+string(name[:min(len(name), label)]), label+3)
		for c := range m.Columns {
			if c > 0 && opens(m.Columns, c) {
				line += " "
			}
			s := sheet.Absent
			if r < len(m.Cells) && c < len(m.Cells[r]) {
				s = m.Cells[r][c].Standing
			}
			line += letters[s] + space
		}
		p.line(line)
	}
	for _, l := range legend {
		p.hang(2, l[0]+"  ", l[1])
	}
	for _, k := range m.Key {
		p.hang(2, k.Letter+"  ", k.Text)
	}
	for _, s := range []string{m.Alt, m.Note} {
		if s != "" {
			p.para(0, s)
		}
	}
}

// opens tells whether a column is the first of its group.
func opens(all []sheet.Line, c int) bool { return c == 0 || all[c-1].Group != all[c].Group }

// spelt is a group and the names of its columns.
func spelt(all []sheet.Line, c int) string {
	var parts []string
	for k := c; k < len(all) && all[k].Group == all[c].Group; k++ {
		parts = append(parts, all[k].Name)
	}
	return strings.TrimPrefix(all[c].Group+": ", ": ") + strings.Join(parts, ", ")
}
