package terminal

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"thole/internal/answer"
	"thole/internal/draw"
	"thole/internal/sheet"
	"thole/internal/units"
)

// parts is what the flags ask about parts to cut.
type parts struct {
	dir   string
	on    string
	roll  string
	scale float64
	over  bool
}

// flags adds the flags to a verb of one question.
func (p *parts) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&p.dir, "to", "", "write the parts to cut into this folder, at true size (where a question has parts)")
	f.StringVar(&p.on, "paper", "a4", "with --to: a4, a3 or roll")
	f.StringVar(&p.roll, "roll-width", "", "with --paper roll: its width (default 914 mm)")
	f.Float64Var(&p.scale, "scale", 0, "with --to: scale of drawings that are no parts, 10 for 1:10 (default: what fits a sheet)")
	f.BoolVar(&p.over, "over", false, "with --to: overwrite files that thole did not write")
}

// paper is the paper asked for.
func (p *parts) paper(c *cobra.Command) (draw.Paper, error) {
	for _, name := range []string{"paper", "roll-width", "scale", "over"} {
		if p.dir == "" && c.Flags().Changed(name) {
			return draw.Paper{}, misused(c, fmt.Errorf("--%s goes with --to FOLDER", name))
		}
	}
	width := 0.0
	if p.roll != "" {
		if p.on != draw.Roll.Name {
			return draw.Paper{}, misused(c, fmt.Errorf("--roll-width goes with --paper roll"))
		}
		l, err := units.ParseLength(p.roll)
		if err != nil {
			return draw.Paper{}, fmt.Errorf("--roll-width: %w", err)
		}
		width = float64(l)
	}
	paper, err := draw.PaperNamed(p.on, width)
	if err != nil {
		return paper, fmt.Errorf("--paper: %w", err)
	}
	if c.Flags().Changed("scale") && !(p.scale >= 1 && p.scale <= 1000) {
		return paper, fmt.Errorf("--scale: 1:%g is no scale to draw a boat at (1 to 1000)", p.scale)
	}
	paper.Scale = p.scale
	return paper, nil
}

// output is a file to be written.
type output struct {
	name    string
	content []byte
}

// fit is the form of a part's name that every machine takes for a file.
var fit = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]*$`)

// write writes the parts of an answer into a folder: for each a PDF over sheets
// of paper, a drawing, a file for plotters, its points as a table and as a sheet
// for the wall, and a list of them all. Everything is made before the first file
// is touched; each file is written under another name, synced, then renamed.
func (v verbs) write(ctx context.Context, said io.Writer, a answer.Answer, to parts, paper draw.Paper, boat, stamp string) error {
	if len(a.Patterns) == 0 {
		err := fmt.Errorf("--to %s: the answer to %q holds no parts to cut; nothing is written", to.dir, a.Title)
		if a.Verdict == answer.CannotTell {
			err = fmt.Errorf("%w\n%s", err, a.Sentence)
		}
		return err
	}
	bar := newBar(v.errs, "writing", len(a.Patterns)+1)
	defer bar.end()
	var all []output
	taken := map[string]bool{strings.ToLower(ledgerName): true, "index.txt": true}
	entries := make([][]string, len(a.Patterns))
	made, err := makeAll(ctx, a.Patterns, paper, stamp, func(i int) { bar.at(i, 1, 1) })
	if err != nil {
		return err
	}
	for i, p := range a.Patterns {
		files := made[i]
		for _, f := range files {
			// Some machines do not tell a from A in the names of files.
			if low := strings.ToLower(f.name); taken[low] {
				return fmt.Errorf("two parts would be written to %s (parts %q)", f.name, p.Name)
			} else {
				taken[low] = true
			}
			entries[i] = append(entries[i], f.name)
		}
		all = append(all, files...)
	}
	n, left, err := put(ctx, v.t.files(), to, all,
		func(left []string) ([]byte, error) { return indexOf(a, paper, boat, entries, left) },
		func(done, total int) { bar.at(len(a.Patterns), done, total) })
	if err != nil {
		return err
	}
	bar.end()
	p := &page{w: said, look: LookOf(v.out, v.t.Env)}
	p.heading(fmt.Sprintf("Written to %s", to.dir))
	p.para(0, fmt.Sprintf("%d files of %s; index.txt says what they are. Measure the bars on every printed sheet before cutting.", n, plural(len(a.Patterns), "part")))
	if len(left) > 0 {
		p.para(0, "Left there from an earlier writing and no part of this answer any more: "+strings.Join(left, ", ")+".")
	}
	return p.err
}

// makeAll makes the files of all parts, several parts at once, in the parts' order.
func makeAll(ctx context.Context, patterns []sheet.Pattern, paper draw.Paper, stamp string, made func(i int)) ([][]output, error) {
	files, faults := make([][]output, len(patterns)), make([]error, len(patterns))
	free := make(chan struct{}, max(runtime.GOMAXPROCS(0), 1))
	var wait sync.WaitGroup
	for i, p := range patterns {
		wait.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			if faults[i] = ctx.Err(); faults[i] == nil {
				files[i], faults[i] = filesOf(p, paper, stamp)
			}
			made(i)
		})
	}
	wait.Wait()
	for _, err := range faults {
		if err != nil {
			return nil, err
		}
	}
	return files, nil
}

// put puts files and their list for people into a folder, unless that would
// overwrite what is not ours. It returns how many files were written and the
// names of those that an earlier writing left.
func put(ctx context.Context, d disk, to parts, all []output, index func(left []string) ([]byte, error), progress func(done, total int)) (int, []string, error) {
	was, err := readLedger(d, to.dir)
	if err != nil && !to.over {
		return 0, nil, err
	}
	list := output{name: "index.txt"}
	left := was.left(d, to.dir, append(all, list))
	if list.content, err = index(left); err != nil {
		return 0, nil, err
	}
	all = append(all, list)
	if !to.over {
		foreign, err := was.foreign(d, to.dir, all)
		if err != nil {
			return 0, nil, err
		}
		if len(foreign) > 0 {
			return 0, nil, fmt.Errorf("%s holds files that thole did not write, or that were changed since: %s\nnothing is written (choose another folder, or --over to overwrite them)",
				to.dir, strings.Join(foreign, ", "))
		}
	}
	n, err := store(ctx, d, to.dir, was, all, left, func(done int) { progress(done, len(all)) })
	if err != nil {
		return n, nil, fmt.Errorf("%w\n%d of %d files are written, each of them whole; the rest stands as it was in %s", err, n, len(all), to.dir)
	}
	return n + 1, left, nil // and the list of sums
}

// store writes the files and keeps the list of them true at every moment: before
// a file is replaced the list knows both what stands there and what will. It
// returns how many files are written.
func store(ctx context.Context, d disk, dir string, was ledger, all []output, left []string, progress func(done int)) (int, error) {
	if err := d.MkdirAll(dir); err != nil {
		return 0, err
	}
	now := ledger{}
	for _, f := range all {
		was.add(f.name, sum(f.content))
		now.add(f.name, sum(f.content))
	}
	for _, name := range left {
		now[name] = was[name]
	}
	if err := was.write(d, dir); err != nil {
		return 0, err
	}
	if err := d.SyncDir(dir); err != nil {
		return 0, err
	}
	for i, f := range all {
		if err := ctx.Err(); err != nil {
			return i, err
		}
		err := writeFile(d, filepath.Join(dir, f.name), func(w io.Writer) error {
			_, err := w.Write(f.content)
			return err
		})
		if err != nil {
			return i, err
		}
		progress(i + 1)
	}
	if err := now.write(d, dir); err != nil {
		return len(all), err
	}
	return len(all), d.SyncDir(dir)
}

// filesOf makes the files of one part.
func filesOf(p sheet.Pattern, paper draw.Paper, stamp string) ([]output, error) {
	if !fit.MatchString(p.Name) {
		return nil, fmt.Errorf("the part %q has a name that is not fit for a file (letters, digits, - _ .)", p.Name)
	}
	kinds := []struct {
		name string
		fill func(io.Writer) error
	}{
		{".pdf", func(w io.Writer) error { return draw.Tile(w, []sheet.Pattern{p}, paper, stamp) }},
		{".svg", func(w io.Writer) error { _, err := w.Write(draw.PatternSVG(p, 1, stamp)); return err }},
		{".dxf", func(w io.Writer) error { return draw.DXF(w, p, stamp) }},
	}
	if len(p.Points) > 0 {
		kinds = append(kinds, []struct {
			name string
			fill func(io.Writer) error
		}{
			{".csv", func(w io.Writer) error { return draw.Points(w, p) }},
			{"-wall.pdf", func(w io.Writer) error { return draw.Wall(w, p, stamp) }},
		}...)
	}
	var out []output
	for _, k := range kinds {
		var b bytes.Buffer
		if err := k.fill(&b); err != nil {
			return nil, fmt.Errorf("%s: %w", p.Name+k.name, err)
		}
		out = append(out, output{p.Name + k.name, b.Bytes()})
	}
	return out, nil
}

// indexOf is the list of parts, for people.
func indexOf(a answer.Answer, paper draw.Paper, boat string, entries [][]string, left []string) ([]byte, error) {
	var b bytes.Buffer
	p := &page{w: &b, look: Look{Width: usual, Unicode: true}}
	p.line(boat)
	p.para(0, a.Title+" "+a.Sentence)
	p.gap()
	p.para(0, "Printed for "+paper.Name+". Print at 100 %, never \"fit to page\". Measure the bars of 100 mm in both directions "+
		"on every sheet before cutting. Where paper is damp, plot the listed points and spring a batten through them.")
	for i, q := range a.Patterns {
		n, scale, err := draw.Sheets(q, paper)
		if err != nil {
			return nil, err
		}
		p.heading(q.Name + ": " + q.Title)
		if q.Face != "" {
			p.hang(2, "face: ", q.Face)
		}
		p.hang(2, "size: ", strings.Join(slicesOf(draw.Cutting(q), "printed at "+scale, plural(n, "sheet")+" of "+paper.Name), ", "))
		for _, s := range q.Notes {
			p.hang(2, "note: ", s)
		}
		for _, c := range draw.Checks(q) {
			p.hang(2, "check: ", c.String())
		}
		p.hang(2, "files: ", strings.Join(entries[i], ", "))
	}
	p.list("Cautions", a.Cautions)
	p.list("Left from an earlier writing, no part of this answer any more", left)
	return b.Bytes(), p.err
}

// slicesOf drops the words that are empty.
func slicesOf(words ...string) []string {
	var out []string
	for _, w := range words {
		if w != "" {
			out = append(out, w)
		}
	}
	return out
}

// plural counts things in words.
func plural(n int, thing string) string {
	if n != 1 {
		thing += "s"
	}
	return fmt.Sprintf("%d %s", n, thing)
}
