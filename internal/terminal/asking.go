package terminal

import (
	"context"
	"fmt"
	"math"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"thole/internal/answer"
	"thole/internal/model"
)

// wanted is what the flags of a question ask for.
type wanted struct {
	json      bool
	day       int
	condition string
	heels     string
	number    int // of one of a question's draws; less than 0 for none named
}

// flags adds a question's flags to a verb.
func (w *wanted) flags(c *cobra.Command) {
	f := c.Flags()
	f.BoolVar(&w.json, "json", false, "write the answer for machines")
	f.IntVar(&w.day, "day", 0, "show the figures of this day of the trip; 0 is the start")
	f.StringVar(&w.condition, "condition", "", "show the figures with the crew in this place")
	f.StringVar(&w.heels, "heels", "", "heels to work out, in degrees: 0,10,30 (where a question takes heels)")
	w.number = -1
}

// drawn adds the flag that names one of a question's draws.
func (w *wanted) drawn(c *cobra.Command, what string) {
	c.Flags().IntVar(&w.number, "number", -1, "show this one of the "+what+" in full")
}

// again is the draw that is asked for in full; nil for none named.
//
// Error: a question that draws nothing by chance
func (w *wanted) again(q answer.Question) (*uint64, error) {
	if w.number < 0 {
		return nil, nil
	}
	if !q.Numbered {
		return nil, fmt.Errorf("--number %d: %s draws nothing by chance that could be shown by its number", w.number, q.ID)
	}
	n := uint64(w.number)
	return &n, nil
}

// session is a folder read and made ready, with what is asked of it.
type session struct {
	folder  *model.Folder
	asked   *answer.Case
	options answer.Options
	v       verbs
}

// open reads a folder and checks what is asked of it.
func (v verbs) open(dir string, w wanted) (*session, error) {
	f, err := v.t.Read(dir)
	if err != nil {
		return nil, err
	}
	if last := f.LastDay(); w.day < 0 || w.day > last {
		return nil, fmt.Errorf("--day %d is outside the trip (day 0 to day %d)", w.day, last)
	}
	if w.condition != "" {
		var names []string
		known := false
		for _, c := range f.Conditions() {
			names = append(names, c.Name)
			known = known || c.Name == w.condition
		}
		if !known {
			return nil, fmt.Errorf("--condition %q is not one of this folder's (%s)", w.condition, strings.Join(names, ", "))
		}
	}
	heels, err := heels(w.heels)
	if err != nil {
		return nil, err
	}
	return &session{folder: f, asked: answer.NewCase(f), options: answer.Options{Day: w.day, Condition: w.condition, Heels: heels}, v: v}, nil
}

// heels reads a list of heels in degrees.
func heels(list string) ([]float64, error) {
	if strings.TrimSpace(list) == "" {
		return nil, nil
	}
	var out []float64
	for _, s := range strings.Split(list, ",") {
		d, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
		if err != nil || !(d >= -180 && d <= 180) {
			return nil, fmt.Errorf("--heels: %q is not a heel (degrees from -180 to 180, with commas between: 0,10,30)", strings.TrimSpace(s))
		}
		out = append(out, d*math.Pi/180)
	}
	return out, nil
}

// ask asks some questions, several at once, and returns the answers in order.
func (s *session) ask(ctx context.Context, table []answer.Question) ([]answer.Answer, error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	bar := newBar(s.v.errs, "asking", len(table))
	defer bar.end()
	all := make([]answer.Answer, len(table))
	faults := make([]error, len(table))
	free := make(chan struct{}, max(runtime.GOMAXPROCS(0), 1))
	var wait sync.WaitGroup
	for i, q := range table {
		wait.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			if faults[i] = ctx.Err(); faults[i] != nil {
				return
			}
			o := s.options
			o.Progress = func(done, total int) { bar.at(i, done, total) }
			all[i], faults[i] = q.Ask(ctx, s.asked, o)
			bar.at(i, 1, 1)
			if faults[i] != nil {
				cancel()
			}
		})
	}
	wait.Wait()
	return all, first(faults, table)
}

// first is the fault that stopped the asking: one that is not only the stop
// which another fault brought about, if there is one.
func first(faults []error, table []answer.Question) error {
	var stop error
	for i, err := range faults {
		switch {
		case err == nil:
		case err == context.Canceled:
			stop = err
		default:
			return fmt.Errorf("%w (asking %s)", err, table[i].ID)
		}
	}
	return stop
}

// open shows an address in the person's browser, if the machine has one. The
// address is printed as well, so a failure here is no loss.
func open(url string) {
	name, args := "xdg-open", []string{url}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", url}
	}
	c := exec.Command(name, args...)
	if c.Start() == nil {
		go func() { _ = c.Wait() }()
	}
}
