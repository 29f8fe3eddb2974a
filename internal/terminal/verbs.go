package terminal

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"thole/internal/answer"
)

// command builds the tree of verbs.
func command(t Tools, out, errs io.Writer) (*cobra.Command, error) {
	root := &cobra.Command{
		Use:   "thole",
		Short: "Answers the questions on which a voyage in a small rowing boat hangs",
		Long: "Thole keeps a small decked boat, her load and her voyage as one folder of plain text,\n" +
			"and answers questions from it. Start with: thole check FOLDER",
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          unknown,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SuggestionsMinimumDistance = 2
	root.SetOut(out)
	root.SetErr(errs)
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return misused(c, err) })
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddGroup(&cobra.Group{ID: "work", Title: "The work:"}, &cobra.Group{ID: "questions", Title: "One question:"},
		&cobra.Group{ID: "help", Title: "Besides:"})
	v := verbs{t, out, errs}
	add := func(group string, cs ...*cobra.Command) {
		for _, c := range cs {
			c.GroupID = group
			root.AddCommand(c)
		}
	}
	add("work", v.check(), v.ask(), v.levers(), v.seek(), v.sweep(), v.lists(), v.serve(), v.book(), v.start())
	add("help", v.work(), v.schema(), v.version())
	root.SetHelpCommandGroupID("help")
	taken := map[string]bool{"help": true, "completion": true}
	for _, c := range root.Commands() {
		taken[c.Name()] = true
	}
	for _, q := range t.Table {
		if taken[q.ID] {
			return nil, fmt.Errorf("the question %q bears the name of another verb", q.ID)
		}
		taken[q.ID] = true
		add("questions", v.one(q))
	}
	return root, nil
}

// misused puts the way to the help behind a wrong command line.
func misused(c *cobra.Command, err error) error {
	return fmt.Errorf("%w\nhow to write it: %s\nmore: %s --help", err, c.UseLine(), c.CommandPath())
}

// takes checks that a verb got what it needs, by name.
func takes(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < len(names):
			return misused(c, fmt.Errorf("%s needs a %s", c.CommandPath(), strings.Join(names[len(args):], " and a ")))
		case len(args) > len(names):
			return misused(c, fmt.Errorf("%s takes nothing more: %q", c.CommandPath(), args[len(names)]))
		}
		return nil
	}
}

// unknown says that there is no such verb, and which are like it.
func unknown(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	like := ""
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		like = " (did you mean " + strings.Join(near, " or ") + "?)"
	}
	return fmt.Errorf("there is no verb %q%s\nall of them: thole --help", args[0], like)
}

// verbs makes the commands.
type verbs struct {
	t         Tools
	out, errs io.Writer
}

func (v verbs) check() *cobra.Command {
	var w wanted
	c := &cobra.Command{
		Use:   "check FOLDER",
		Short: "Every question, a line each, then the closest ones explained",
		Args:  takes("FOLDER"),
		RunE: func(c *cobra.Command, args []string) error {
			s, err := v.open(args[0], w)
			if err != nil {
				return err
			}
			s.options.Brief = true // a line each; the sheets are for asking one
			all, err := s.ask(c.Context(), v.t.Table)
			if err != nil {
				return err
			}
			if w.json {
				err = v.json(all)
			} else {
				p := &page{w: v.out, look: LookOf(v.out, v.t.Env)}
				p.summary(s.folder, v.t.Table, all, v.stamp(args[0]))
				err = p.err
			}
			if err != nil {
				return err
			}
			return verdicts(all)
		},
	}
	w.flags(c)
	return c
}

func (v verbs) ask() *cobra.Command {
	var w wanted
	var to parts
	c := &cobra.Command{
		Use:   "ask QUESTION FOLDER",
		Short: "One question, with its drawings, figures and method",
		Args:  takes("QUESTION", "FOLDER"),
		RunE: func(c *cobra.Command, args []string) error {
			for _, q := range v.t.Table {
				if q.ID == args[0] {
					return v.answer(c, q, args[1], w, to)
				}
			}
			var ids []string
			for _, q := range v.t.Table {
				ids = append(ids, q.ID)
			}
			return fmt.Errorf("there is no question %q (ask one of: %s)", args[0], strings.Join(ids, ", "))
		},
	}
	w.flags(c)
	w.drawn(c, "draws (where a question draws by chance)")
	to.flags(c)
	return c
}

// one is a question's own verb.
func (v verbs) one(q answer.Question) *cobra.Command {
	var w wanted
	var to parts
	c := &cobra.Command{
		Use:   q.ID + " FOLDER",
		Short: q.Title,
		Args:  takes("FOLDER"),
		RunE:  func(c *cobra.Command, args []string) error { return v.answer(c, q, args[0], w, to) },
	}
	w.flags(c)
	if q.Numbered {
		w.drawn(c, q.Draws)
	}
	to.flags(c)
	return c
}

// answer asks one question and writes the whole of it, and its parts to cut
// where they are asked for.
func (v verbs) answer(c *cobra.Command, q answer.Question, dir string, w wanted, to parts) error {
	paper, err := to.paper(c)
	if err != nil {
		return err
	}
	again, err := w.again(q)
	if err != nil {
		return err
	}
	s, err := v.open(dir, w)
	if err != nil {
		return err
	}
	s.options.Again = again
	all, err := s.ask(c.Context(), []answer.Question{q})
	if err != nil {
		return err
	}
	stamp := v.stamp(dir)
	if w.json {
		err = v.json(all[0])
	} else {
		p := &page{w: v.out, look: LookOf(v.out, v.t.Env)}
		if c.Flags().Changed("day") {
			p.day = &w.day
		}
		p.line(p.look.dim(p.look.say(headed(s.folder.Boat.Name, stamp))))
		p.whole(all[0])
		err = p.err
	}
	if err != nil {
		return err
	}
	if to.dir != "" {
		said := v.out
		if w.json {
			said = io.Discard // machines read nothing but the answer
		}
		if err := v.write(c.Context(), said, all[0], to, paper, headed(s.folder.Boat.Name, stamp), stamp); err != nil {
			return err
		}
	}
	return verdicts(all)
}

// headed is the boat's name with the folder's stamp.
func headed(name, stamp string) string {
	if stamp == "" {
		return name
	}
	return name + ", folder " + stamp
}

// stamp is the folder's version, or nothing where it cannot be told.
func (v verbs) stamp(dir string) string {
	s, err := v.t.Stamp(dir)
	if err != nil {
		return ""
	}
	return s
}

// json writes an answer for machines.
func (v verbs) json(what any) error {
	e := json.NewEncoder(v.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(what)
}
