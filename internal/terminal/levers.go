package terminal

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"thole/internal/levers"
)

// roomy is the width from which the table has room for the new margins.
const roomy = 120

// levers is the table of what would change the answers.
func (v verbs) levers() *cobra.Command {
	var w wanted
	var show string
	c := &cobra.Command{
		Use:   "levers FOLDER",
		Short: "What would change the answers, and by how much",
		Long: "Asks every question again with one change at a time: those of whatif.yaml and others that the folder\n" +
			"suggests. Nothing is written; --show has the lines that one of them would write.",
		Args: takes("FOLDER"),
		RunE: func(c *cobra.Command, args []string) error {
			s, err := v.open(args[0], w)
			if err != nil {
				return err
			}
			desk, err := v.t.Levers(args[0])
			if err != nil {
				return err
			}
			p := &page{w: v.out, look: LookOf(v.out, v.t.Env)}
			if show != "" {
				return v.showLever(p, desk, show, w)
			}
			r, err := v.pull(c.Context(), desk, s)
			if err != nil {
				return err
			}
			if w.json {
				return v.json(r)
			}
			p.line(p.look.bold(p.look.say(headed(s.folder.Boat.Name, v.stamp(args[0])))))
			p.levers(r)
			return p.err
		},
	}
	f := c.Flags()
	f.BoolVar(&w.json, "json", false, "write the table for machines")
	f.IntVar(&w.day, "day", 0, "show the figures of this day of the trip; 0 is the start")
	f.StringVar(&w.condition, "condition", "", "show the figures with the crew in this place")
	f.StringVar(&show, "show", "", "the lines that this lever would write, by its number or name")
	return c
}

// pull asks every question with every lever, and shows how far it has come.
func (v verbs) pull(ctx context.Context, desk *levers.Desk, s *session) (levers.Result, error) {
	bar := newBar(v.errs, "asking", len(desk.Levers))
	defer bar.end()
	return desk.Table(ctx, v.t.Table, s.options, func(row levers.Row) { bar.at(row.Lever, 1, 1) })
}

// changes is the table of a folder, for the book.
func (v verbs) changes(ctx context.Context, dir string, s *session) (levers.Result, error) {
	desk, err := v.t.Levers(dir)
	if err != nil {
		return levers.Result{}, err
	}
	return v.pull(ctx, desk, s)
}

// showLever writes the lines of a lever, before and after, as the files have them.
func (v verbs) showLever(p *page, desk *levers.Desk, name string, w wanted) error {
	l, err := desk.Find(name)
	if err != nil {
		return err
	}
	if l.Fault != "" {
		return fmt.Errorf("%s cannot be made: %s", l.Name, l.Fault)
	}
	lines, err := desk.Lines(l)
	if err != nil {
		return err
	}
	if w.json {
		return v.json(struct {
			levers.Lever
			Lines []levers.Change `json:"lines"`
		}{l, lines})
	}
	p.line(p.look.bold(p.look.say(l.Name)))
	p.changes(lines)
	return p.err
}

// leverColumn is how wide a question's column is, and leverName the least for a lever's name.
const (
	leverColumn = 9
	leverName   = 24
)

// levers writes the table: a lever a row, a question a column. Questions that do not fit beside one another stand
// in a second table under the first.
func (p *page) levers(r levers.Result) {
	margins, column := false, leverColumn
	if p.look.Width >= roomy {
		margins, column = true, leverColumn+8
	}
	fit := max(1, (p.look.Width-leverName)/(column+2))
	for from := 0; from < len(r.Base); from += fit {
		p.leverPart(r, from, min(from+fit, len(r.Base)), column, margins)
	}
	p.gap()
	p.para(0, r.Note())
	if idle := r.Idle(); len(idle) > 0 {
		p.heading("Change nothing that a question's margin hangs on")
		p.para(0, strings.Join(idle, "; ")+".")
	}
	p.list("Cannot be asked", r.Troubled())
	p.list("Cautions", r.Cautions())
	p.gap()
	p.para(0, "The lines that one would write: thole levers FOLDER --show NUMBER")
}

// leverPart writes the columns of some questions.
func (p *page) leverPart(r levers.Result, from, to, column int, margins bool) {
	name := p.look.Width - (to-from)*(column+2)
	name = min(name, leverName+24)
	write := func(first []string, cells [][]string) {
		tall := len(first)
		for _, c := range cells {
			tall = max(tall, len(c))
		}
		for k := range tall {
			s := ""
			if k < len(first) {
				s = first[k]
			}
			line := pad(s, name)
			for _, c := range cells {
				s := ""
				if k < len(c) {
					s = c[k]
				}
				line += "  " + padLeft(s, column)
			}
			p.line(line)
		}
	}
	folded := func(texts ...string) []string {
		var out []string
		for _, s := range texts {
			out = append(out, wrap(p.look.say(s), column)...)
		}
		return out
	}
	var heads, now [][]string
	standing := r.Standing(margins)
	for i := from; i < to; i++ {
		heads = append(heads, folded(r.Base[i].Question))
		now = append(now, folded(standing[i]))
	}
	p.gap()
	write([]string{"lever"}, heads)
	rule := "-"
	if p.look.Unicode {
		rule = "─"
	}
	p.line(p.look.dim(strings.Repeat(rule, name+(to-from)*(column+2))))
	write([]string{"as she is"}, now)
	for _, row := range r.Telling() {
		var cells [][]string
		for _, c := range row.Cells[from:to] {
			cells = append(cells, folded(c.Said(margins)...))
		}
		lead := fmt.Sprintf("%3d ", row.Number())
		lines := wrap(p.look.say(r.Levers[row.Lever].Name), name-len(lead))
		for i := range lines {
			if i > 0 {
				lead = "    "
			}
			lines[i] = lead + lines[i]
		}
		write(lines, cells)
	}
}
