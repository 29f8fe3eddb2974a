package terminal

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"thole/internal/exchange"
	"thole/internal/levers"
	"thole/internal/lists"
)

// listing is what the flags ask about lists.
type listing struct {
	wanted
	kind string
	csv  parts // the folder to write to, and whether files that are not ours may be overwritten
	take string
	keep bool
	try  string
	on   bool // plan on from an inventory
}

// onSeconds is how long a new order of use is looked for.
const onSeconds = 6

// lists are the lists that a boat is packed, eaten from and counted by; and the way out to a spreadsheet and back.
func (v verbs) lists() *cobra.Command {
	var w listing
	var kinds []string
	for _, l := range lists.All {
		kinds = append(kinds, l.Kind)
	}
	c := &cobra.Command{
		Use:   "lists FOLDER",
		Short: "What lies where, what is taken when, what to get and to weigh",
		Long: "Lists for packing, finding, eating, shopping, weighing and counting. --csv gives them out for a spreadsheet, with the\n" +
			"stores; --take reads the stores or the counted inventory back, and shows what would change. Nothing in the folder is\n" +
			"written without --keep.",
		Args: takes("FOLDER"),
		RunE: func(c *cobra.Command, args []string) error {
			if w.take == "" && (w.keep || w.on || w.try != "") {
				return misused(c, fmt.Errorf("--keep, --try and --again go with --take FILE"))
			}
			if w.csv.dir == "" && w.csv.over {
				return misused(c, fmt.Errorf("--over goes with --csv FOLDER"))
			}
			if w.keep && w.try != "" || w.take != "" && w.csv.dir != "" {
				return misused(c, fmt.Errorf("one thing at a time: --csv, --take with --keep, or --take with --try"))
			}
			s, err := v.open(args[0], w.wanted)
			if err != nil {
				return err
			}
			var shown []lists.List
			for _, l := range lists.All {
				if w.kind == "" || w.kind == l.Kind {
					shown = append(shown, l)
				}
			}
			switch {
			case len(shown) == 0:
				return fmt.Errorf("there is no list %q (one of: %s)", w.kind, strings.Join(kinds, ", "))
			case w.take != "":
				return v.takeIn(c.Context(), args[0], w)
			case w.csv.dir != "":
				return v.giveOut(c.Context(), args[0], s, w)
			case w.json:
				all := map[string]any{}
				for _, l := range shown {
					all[l.Kind] = l.Of(s.folder, w.day)
				}
				return v.json(all)
			}
			p := &page{w: v.out, look: LookOf(v.out, v.t.Env)}
			p.line(p.look.dim(p.look.say(headed(s.folder.Boat.Name, v.stamp(args[0])))))
			for _, l := range shown {
				p.gap()
				p.line(p.look.bold(p.look.say(strings.ToUpper(l.Title))))
				for _, b := range l.Sheet(s.folder, w.day).Blocks {
					p.block(b)
				}
			}
			return p.err
		},
	}
	f := c.Flags()
	f.BoolVar(&w.json, "json", false, "write the lists for machines")
	f.IntVar(&w.day, "day", 0, "what lies there at the end of this day; 0 is the departure")
	f.StringVar(&w.kind, "kind", "", "one list only: "+strings.Join(kinds, ", "))
	f.StringVar(&w.csv.dir, "csv", "", "write all lists and the stores into this folder, as csv")
	f.BoolVar(&w.csv.over, "over", false, "with --csv: overwrite files that thole did not write, or that were changed since")
	f.StringVar(&w.take, "take", "", "read a csv back, stores or a counted inventory, and show what would change")
	f.BoolVar(&w.keep, "keep", false, "with --take: write the changes into the folder")
	f.StringVar(&w.try, "try", "", "with --take: keep the changes as a try of this name instead")
	f.BoolVar(&w.on, "again", false, "with --take of an inventory: plan anew in what order the rest is used")
	return c
}

// giveOut writes the lists as csv into a folder, unless that would overwrite what is not ours.
func (v verbs) giveOut(ctx context.Context, dir string, s *session, w listing) error {
	files, err := v.t.Lists(dir, w.day)
	if err != nil {
		return err
	}
	var all []output
	var names []string
	for _, f := range files {
		all = append(all, output{f.Name, f.Content})
		names = append(names, f.Name)
	}
	index := func(left []string) ([]byte, error) {
		var b strings.Builder
		p := &page{w: &b, look: Look{Width: usual, Unicode: true}}
		p.line(headed(s.folder.Boat.Name, v.stamp(dir)))
		p.para(0, fmt.Sprintf("Lists at the end of day %d; 0 is the departure. Those of no day are of the whole trip.", w.day))
		for _, l := range lists.All {
			p.hang(0, l.Kind+".csv  ", l.Title)
		}
		p.gap()
		p.para(0, "stores.csv holds the stores as the folder has them. Changed, it can be taken back: thole lists FOLDER --take stores.csv. "+
			"So can inventory.csv, once what is there stands in its last column. An apostrophe before a sign keeps a spreadsheet from taking the cell for a formula; it goes when the table is taken back.")
		p.list("Left from an earlier writing", left)
		return []byte(b.String()), p.err
	}
	n, left, err := put(ctx, v.t.files(), w.csv, all, index, func(int, int) {})
	if err != nil {
		return err
	}
	if w.json {
		return v.json(names)
	}
	p := &page{w: v.out, look: LookOf(v.out, v.t.Env)}
	p.para(0, fmt.Sprintf("%s written to %s: %s; index.txt says what they are.", plural(n, "file"), w.csv.dir, strings.Join(names, ", ")))
	if len(left) > 0 {
		p.para(0, "Left there from an earlier writing: "+strings.Join(left, ", ")+".")
	}
	return p.err
}

// takeIn reads a table back and shows what it would change; it is written only where that is asked for.
func (v verbs) takeIn(ctx context.Context, dir string, w listing) error {
	data, err := v.t.files().Read(w.take)
	if err != nil {
		return err
	}
	t, err := v.t.Take(dir, w.day, filepath.Base(w.take), data)
	if err != nil {
		return err
	}
	var on *exchange.Onward
	if w.on {
		if on, err = t.Again(ctx, onSeconds); err != nil {
			return err
		}
	}
	done := ""
	switch {
	case len(t.Edits) == 0:
		done = "Nothing would change."
	case w.keep:
		if err := t.Keep(); err != nil {
			return err
		}
		done = "Written. What stood there before is in " + filepath.Join(dir, "earlier") + "."
	case w.try != "":
		if err := t.Try(w.try); err != nil {
			return err
		}
		done = fmt.Sprintf("Kept as the try %q; the folder is as it was.", w.try)
	default:
		done = "Nothing is written: --keep writes these lines, --try NAME keeps them to be tried."
	}
	if w.json {
		return v.json(struct {
			*exchange.Taking
			Onward  *exchange.Onward `json:"onward,omitempty"`
			Written bool             `json:"written"`
		}{t, on, w.keep && len(t.Edits) > 0})
	}
	p := &page{w: v.out, look: LookOf(v.out, v.t.Env)}
	p.changes(t.Lines)
	p.list("To be known", t.Notes)
	if len(t.Lines) > 0 || len(t.Notes) > 0 {
		p.gap()
	}
	p.para(0, done)
	if on != nil {
		for _, b := range on.Sheet().Blocks {
			p.block(b)
		}
	}
	return p.err
}

// changes writes lines before and after, as the files have them.
func (p *page) changes(lines []levers.Change) {
	for _, c := range lines {
		p.line(p.look.dim(fmt.Sprintf("%s:%d", c.File, c.Line)))
		if !c.New {
			p.line("- " + c.Before)
		}
		if !c.Gone {
			p.line("+ " + c.After)
		}
	}
}
