package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"thole/internal/fleet"
)

// usualPassages is how many passages of each variant a sweep makes when nothing is said.
const usualPassages = 10_000

// swept is what the flags of a sweep ask for.
type swept struct {
	fleet.Wish
	fleet.Where
	workers int
	json    bool
	dir     string
	forget  bool
}

// sweep is the verb that simulates many passages of many variants of a folder.
func (v verbs) sweep() *cobra.Command {
	var w swept
	c := &cobra.Command{
		Use:   "sweep FOLDER",
		Short: "Many simulated passages of many variants: days of leaving, routes, loads",
		Long: "Makes so many simulated passages of each variant of the folder, and sets the variants side by side. Days of leaving\n" +
			"are listed (--leave) or taken in steps (--every). Each --try is a group of levers of whatif.yaml with strokes between\n" +
			"them; groups are crossed with one another and with the days. Nothing in the folder is written.\n\n" +
			"This process does the work on all cores; --workers starts processes instead, and with --listen or --at other machines\n" +
			"help: there, thole work ADDRESS. The folder's content goes to whoever works. A sweep that has a name (--job) is kept\n" +
			"when it is stopped, and the same command takes it up again.",
		Example: "  thole sweep FOLDER --every month\n" +
			"  thole sweep FOLDER --leave 2027-01-12,2027-02-12 --try \"as she is|the southern route\" --passages 100000 --job winter",
		Args: takes("FOLDER"),
		RunE: func(c *cobra.Command, args []string) error {
			w.Folder, w.Where.Workers = args[0], fleet.Here
			if c.Flags().Changed("workers") {
				if w.Where.Workers = w.workers; w.workers < 0 {
					return misused(c, fmt.Errorf("--workers %d: 0 or more", w.workers))
				}
			}
			return v.sweeping(c.Context(), w)
		},
	}
	f := c.Flags()
	f.StringVar(&w.Dates.Leave, "leave", "", "days of leaving, with commas between: 2027-01-12,2027-02-12")
	f.StringVar(&w.Dates.Every, "every", "", "leave in steps: month, 2 weeks, 10 days")
	f.StringVar(&w.Dates.From, "from", "", "with --every: the first day; the folder's own if left out")
	f.StringVar(&w.Dates.To, "to", "", "with --every: the last day; within a year if left out")
	f.StringArrayVar(&w.Tries, "try", nil, "a group of levers of whatif.yaml: \"as she is|NAME|NAME\"; may be given several times")
	f.Uint64Var(&w.Passages, "passages", usualPassages, "passages of each variant")
	f.Uint64Var(&w.Seed, "seed", 0, "other chances than the folder's own; 0 for those")
	f.BoolVar(&w.Quick, "quick", false, "with a coarser table of her motion")
	f.IntVar(&w.workers, "workers", 0, "start so many processes to work; left out, this one does")
	f.StringVar(&w.At, "at", "", "the queue of a server that runs already: nats://host:4222")
	f.StringVar(&w.Listen, "listen", "", "let other machines work, at this address of this machine: host:port")
	f.StringVar(&w.TokenFile, "token-file", "", "the file with the server's token; else THOLE_TOKEN of the environment")
	f.StringVar(&w.Job, "job", "", "the sweep's name: it is kept, and can be taken up again")
	f.BoolVar(&w.forget, "forget", false, "drop what is kept of the sweep --job, and do nothing else")
	f.BoolVar(&w.json, "json", false, "write the result for machines")
	f.StringVar(&w.dir, "out", "", "also write sweep.json and sweep.csv into this folder")
	return c
}

// sweeping does a sweep and shows what came of it.
func (v verbs) sweeping(ctx context.Context, w swept) error {
	w.Tell = func(what string) { fmt.Fprintln(v.errs, "thole: "+what) }
	if w.forget {
		return v.t.Forget(ctx, w.Where)
	}
	bar := newBar(v.errs, "sweeping", 1)
	defer bar.end()
	r, err := v.t.Sweep(ctx, w.Wish, w.Where, func(done, parts int) { bar.at(0, done, parts) })
	bar.end()
	var stopped *fleet.Stopped
	if errors.As(err, &stopped) {
		fmt.Fprintln(v.errs, "thole: "+stopped.Error())
		return status(Stopped)
	}
	if err != nil {
		return err
	}
	if w.dir != "" {
		if err := v.sweepFiles(w.dir, r); err != nil {
			return err
		}
	}
	if w.json {
		return v.json(r)
	}
	p := &page{w: v.out, look: LookOf(v.out, v.t.Env)}
	p.line(p.look.dim(p.look.say(headed(r.Boat, r.Stamp))))
	for _, b := range r.Sheet().Blocks {
		p.block(b)
	}
	return p.err
}

// sweepFiles writes a result for programs and for a spreadsheet.
func (v verbs) sweepFiles(dir string, r fleet.Result) error {
	d := v.t.files()
	if err := d.MkdirAll(dir); err != nil {
		return err
	}
	err := writeFile(d, filepath.Join(dir, "sweep.json"), func(w io.Writer) error { return verbs{out: w}.json(r) })
	if err != nil {
		return err
	}
	return writeFile(d, filepath.Join(dir, "sweep.csv"), r.CSV)
}

// work is the verb that does parts of sweeps for others.
func (v verbs) work() *cobra.Command {
	var token string
	var cores int
	c := &cobra.Command{
		Use:   "work ADDRESS",
		Short: "Do parts of the sweeps on a queue, until stopped",
		Long: "Takes parts of sweeps from the queue at an address and does them until Ctrl-C. Nothing is written on this machine.\n" +
			"It must be the same build of this program as the one that began the sweep; another one is told so and ends.",
		Args: takes("ADDRESS"),
		RunE: func(c *cobra.Command, args []string) error {
			n := &counted{out: v.errs}
			if f, ok := v.errs.(*os.File); ok {
				n.live = term.IsTerminal(int(f.Fd()))
			}
			defer n.end()
			return v.t.Work(c.Context(), args[0], token, cores, n.part)
		},
	}
	f := c.Flags()
	f.StringVar(&token, "token-file", "", "the file with the server's token; else THOLE_TOKEN of the environment")
	f.IntVar(&cores, "cores", 0, "work on so many cores; 0 for all")
	return c
}

// counted shows on one line what a worker does. There is none where nobody looks on.
type counted struct {
	mu   sync.Mutex
	out  io.Writer
	live bool
	n    int
}

// part says that a part has been begun.
func (c *counted) part(job, boat string, part int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.n++
	if c.live {
		fmt.Fprintf(c.out, "%s%d begun; now part %d of %s, %s", clearLine, c.n, part, job, boat)
	}
}

// end leaves the line.
func (c *counted) end() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.live {
		fmt.Fprint(c.out, clearLine)
	}
}
