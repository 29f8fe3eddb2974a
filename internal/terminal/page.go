package terminal

import (
	"fmt"
	"io"
	"strings"
)

// page is where text goes: it wraps, indents and remembers the first failure to write.
type page struct {
	w    io.Writer
	look Look
	err  error
	day  *int // the day that was asked for, if one was
}

// line writes one line without the blanks at its end.
func (p *page) line(s string) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.w, strings.TrimRight(s, " "))
	}
}

// gap leaves a line empty.
func (p *page) gap() { p.line("") }

// para writes a text wrapped and indented.
func (p *page) para(indent int, s string) { p.hang(indent, "", s) }

// hang writes a text wrapped behind a lead that stands out to the left of it.
func (p *page) hang(indent int, lead, s string) {
	lead = p.look.say(lead)
	in := indent + columns(lead)
	for i, l := range wrap(p.look.say(s), max(p.look.Width-in, 16)) {
		if i == 0 {
			p.line(strings.Repeat(" ", indent) + lead + l)
			continue
		}
		p.line(strings.Repeat(" ", in) + l)
	}
}

// heading writes a heading with an empty line before it.
func (p *page) heading(s string) {
	if s == "" {
		return
	}
	p.gap()
	for _, l := range wrap(p.look.say(s), p.look.Width) {
		p.line(p.look.bold(l))
	}
}

// list writes the items of a named list, if there are any.
func (p *page) list(name string, items []string) {
	if len(items) == 0 {
		return
	}
	p.heading(name)
	for _, s := range items {
		p.hang(0, p.look.bullet(), s)
	}
}

// bullet leads an item of a list.
func (l Look) bullet() string {
	if l.Unicode {
		return "– "
	}
	return "- "
}
