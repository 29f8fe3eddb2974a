// Package terminal is the face for a terminal: one verb a question, and check,
// which asks them all.
//
// It shows answers and works nothing out. The verbs come from the table of
// questions, so a new question appears here by itself. Text is plain where it
// goes into a pipe or a file; on a terminal bold and dim type help the eye and
// never alone carry a meaning.
package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"thole/internal/answer"
	"thole/internal/exchange"
	"thole/internal/fleet"
	"thole/internal/levers"
	"thole/internal/model"
)

// Tools is what the verbs are wired to.
type Tools struct {
	Table []answer.Question
	// Searches are what can be looked for, each by the question that it serves.
	Searches []answer.Search
	Version  string
	Read     func(dir string) (*model.Folder, error)
	Stamp    func(dir string) (string, error)
	Start    func(dir string) error
	Schema   func(name string) []byte
	Serve    func(ctx context.Context, dir string, table []answer.Question, addr string, ready func(url string)) error
	// ServeBeyond is Serve at an address of a network.
	ServeBeyond func(ctx context.Context, dir string, table []answer.Question, addr string, ready func(url string)) error
	Print       func(w io.Writer, c *answer.Case, answers []answer.Answer, changes levers.Result, stamp string) error
	// Levers opens a folder with what would change its answers.
	Levers func(dir string) (*levers.Desk, error)
	// Lists gives a folder's lists as files for a spreadsheet, and Take reads one of them back.
	Lists func(dir string, day int) ([]exchange.File, error)
	Take  func(dir string, day int, name string, data []byte) (*exchange.Taking, error)
	// Sweep makes many passages of many variants, Forget drops what is kept of a sweep, and Work does parts of others' sweeps.
	Sweep  func(ctx context.Context, wish fleet.Wish, where fleet.Where, told fleet.Told) (fleet.Result, error)
	Forget func(ctx context.Context, where fleet.Where) error
	Work   func(ctx context.Context, address, tokenFile string, cores int, told func(job, boat string, part int)) error
	Env    func(string) string
	disk   disk // nil is the machine's own
}

// The exit statuses.
const (
	Held       = 0 // every answer asked for is yes or close
	Short      = 1 // some answer is no
	Unread     = 2 // the folder cannot be read, or the command was wrong
	Untold     = 3 // some answer cannot be told, and none is no
	Stopped    = 130
	unexpected = Unread
)

// status ends a run with an exit status that is no failure of the run itself.
type status int

func (s status) Error() string { return fmt.Sprintf("exit status %d", int(s)) }

// Run carries out one command line and returns the exit status. What went wrong
// is written to errs, one fault a line.
func Run(ctx context.Context, t Tools, args []string, out, errs io.Writer) int {
	root, err := command(t, out, errs)
	if err == nil {
		root.SetArgs(args)
		err = root.ExecuteContext(ctx)
	}
	var s status
	switch {
	case err == nil:
		return Held
	case errors.As(err, &s):
		return int(s)
	case errors.Is(err, context.Canceled) || ctx.Err() != nil:
		fmt.Fprintln(errs, "thole: stopped")
		return Stopped
	}
	fmt.Fprintln(errs, strings.TrimRight(err.Error(), "\n"))
	return unexpected
}

// verdicts is the exit status that some answers come to.
func verdicts(all []answer.Answer) error {
	untold := false
	for _, a := range all {
		switch a.Verdict {
		case answer.No:
			return status(Short)
		case answer.CannotTell:
			untold = true
		}
	}
	if untold {
		return status(Untold)
	}
	return nil
}
