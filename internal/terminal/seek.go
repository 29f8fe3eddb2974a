package terminal

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"thole/internal/answer"
	"thole/internal/levers"
)

// Bounds on how long is looked, in seconds.
const (
	usualSeconds = 9
	mostSeconds  = 3600
)

// sought is what the flags of a search ask for.
type sought struct {
	json    bool
	seconds float64
	keep    bool
	try     string
}

// seek looks for a better folder, for as long as it is let.
func (v verbs) seek() *cobra.Command {
	w := sought{}
	c := &cobra.Command{
		Use:   "seek QUESTION FOLDER",
		Short: "Look for what answers a question best, for as long as it is let",
		Long: "Looks for a better folder as one question sees it, and shows what it comes to and the lines that would change. Ctrl-C\n" +
			"ends the looking with the best so far. Nothing in the folder is written without --keep.\n" + v.searchable(),
		Args: takes("QUESTION", "FOLDER"),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case w.keep && w.try != "":
				return misused(c, fmt.Errorf("one thing at a time: --keep, or --try"))
			case !(w.seconds > 0 && w.seconds <= mostSeconds):
				return misused(c, fmt.Errorf("--seconds %v is not a time to look for (up to %d)", w.seconds, mostSeconds))
			}
			for _, s := range v.t.Searches {
				if s.ID == args[0] {
					return v.look(c.Context(), s, args[1], w)
				}
			}
			return fmt.Errorf("nothing is looked for in answer to %q\n%s", args[0], v.searchable())
		},
	}
	f := c.Flags()
	f.BoolVar(&w.json, "json", false, "write what was found for machines")
	f.Float64Var(&w.seconds, "seconds", usualSeconds, "how long to look")
	f.BoolVar(&w.keep, "keep", false, "write the best that was found into the folder")
	f.StringVar(&w.try, "try", "", "keep the best that was found as a try of this name instead")
	return c
}

// searchable lists what can be looked for.
func (v verbs) searchable() string {
	if len(v.t.Searches) == 0 {
		return "No question has anything to look for."
	}
	lines := []string{"What can be looked for:"}
	for _, s := range v.t.Searches {
		lines = append(lines, fmt.Sprintf("  %s  %s. %s", s.ID, strings.TrimSuffix(s.Title, "."), s.About))
	}
	return strings.Join(lines, "\n")
}

// look runs a search and shows what came of it.
func (v verbs) look(ctx context.Context, s answer.Search, dir string, w sought) error {
	desk, err := v.t.Levers(dir)
	if err != nil {
		return err
	}
	line := newProgressLine(v.errs, v.t.Env)
	best, err := s.Run(ctx, desk.Case(), w.seconds, line.found)
	line.end()
	if err != nil {
		return err
	}
	var first *levers.Lever
	if len(best.Offers) > 0 {
		made, err := desk.Offered(best.Offers[0])
		if err != nil {
			return err
		}
		first = &made
	}
	done := "Nothing is written: --keep writes these lines, --try NAME keeps them to be tried."
	written := false
	switch {
	case len(best.Offers) == 0:
		done = "Nothing would change: nothing better than the folder as it stands was found."
	case w.keep:
		if err := desk.Keep(*first); err != nil {
			return err
		}
		written = true
		done = "Written. What stood there before is in " + filepath.Join(dir, "earlier") + "."
	case w.try != "":
		if err := desk.Try(w.try, *first); err != nil {
			return err
		}
		done = fmt.Sprintf("Kept as the try %q; the folder is as it was.", w.try)
	}
	if w.json {
		return v.json(struct {
			Question string `json:"question"`
			answer.Finding
			Offers  []answer.Offer `json:"offers"`
			Lever   *levers.Lever  `json:"lever"` // the first offer's; null when there is none
			Written bool           `json:"written"`
		}{s.ID, best, best.Offers, first, written})
	}
	p := &page{w: v.out, look: LookOf(v.out, v.t.Env)}
	p.line(p.look.dim(p.look.say(headed(desk.Folder.Boat.Name, v.stamp(dir)))))
	p.heading(s.Title)
	p.para(0, best.Sentence)
	p.para(0, sentence(best.HowFar()))
	for _, b := range best.Sheet.Blocks {
		p.block(b)
	}
	if len(best.Offers) > 0 {
		p.heading("What it comes to")
		for i, o := range best.Offers {
			p.hang(0, p.look.bullet(), offered(o))
			if i > 0 {
				continue
			}
			lines, err := desk.Lines(*first)
			if err != nil {
				return err
			}
			p.changes(lines)
		}
	}
	p.gap()
	p.para(0, done)
	return p.err
}

// sentence begins a text with a capital and ends it with a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// offered is an offer in a line.
func offered(o answer.Offer) string {
	return strings.TrimSpace(sentence(o.Name) + " " + o.Why)
}

// offers writes what would help, each with the lever that it is, to be put into whatif.yaml.
func (p *page) offers(all []answer.Offer) {
	if len(all) == 0 {
		return
	}
	p.heading("What would mend it")
	for _, o := range all {
		p.hang(0, p.look.bullet(), offered(o))
	}
	p.heading("The same as levers of whatif.yaml")
	p.line("levers:")
	for _, o := range all {
		for _, l := range strings.Split(strings.TrimRight(levers.Text(o), "\n"), "\n") {
			p.yaml(l)
		}
	}
}

// yaml writes a line of yaml, and what does not fit on it further in, which yaml reads as one.
func (p *page) yaml(line string) {
	text := strings.TrimLeft(line, " ")
	indent := strings.Repeat(" ", len(line)-len(text))
	const in = "      "
	for i, l := range wrap(text, max(16, p.look.Width-len(indent)-len(in))) {
		if i == 0 {
			p.line(indent + l)
			continue
		}
		p.line(indent + in + l)
	}
}

// progressLine shows how far a search has come, on one line that is written over. There is none where nobody looks on.
type progressLine struct {
	mu   sync.Mutex
	out  io.Writer // nil: nothing is shown
	look Look
}

func newProgressLine(out io.Writer, env func(string) string) *progressLine {
	l := &progressLine{look: LookOf(out, env)}
	if f, ok := out.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		l.out = out
	}
	return l
}

const clearLine = "\r\x1b[K"

// found shows the best so far.
func (l *progressLine) found(f answer.Finding) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.out == nil {
		return
	}
	text := []rune(l.look.say(sentence(f.HowFar()) + " " + f.Sentence))
	if room := max(16, l.look.Width-1); len(text) > room {
		text = append(text[:room-3], []rune("...")...)
	}
	fmt.Fprint(l.out, clearLine+string(text))
}

// end takes the line away.
func (l *progressLine) end() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.out != nil {
		fmt.Fprint(l.out, clearLine)
		l.out = nil
	}
}
