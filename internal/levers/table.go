package levers

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

// standingAnswers are the answers of a folder as it stands, and why there is none.
type standingAnswers struct {
	answers []answer.Answer
	faults  []error
}

// Base asks every question of the folder as it stands. It is worked out once for a case, a day and a crew place.
//
// Out: an answer for each, and why a question could not be asked; its answer has no verdict then
// Error: the context's end
func Base(ctx context.Context, base *answer.Case, table []answer.Question, o answer.Options) ([]answer.Answer, []error, error) {
	key := fmt.Sprintf("levers, day %d, %q", o.Day, o.Condition)
	for _, q := range table {
		key += " " + q.ID
	}
	kept, err := base.Keep(key, func() (any, error) {
		all := standingAnswers{make([]answer.Answer, len(table)), make([]error, len(table))}
		each(len(table), func(i int) {
			if ctx.Err() != nil {
				return
			}
			q := table[i]
			a, err := ask(ctx, q, base, answer.Options{Day: o.Day, Condition: o.Condition, Brief: true})
			if err != nil {
				a = answer.Answer{Question: q.ID, Title: q.Title, Sentence: err.Error()}
			}
			all.answers[i], all.faults[i] = a, err
		})
		return all, ctx.Err()
	})
	if err != nil {
		return nil, nil, err
	}
	all := kept.(standingAnswers)
	return all.answers, all.faults, nil
}

// bareOf are the answers of the folder as it stands that rows are set beside: where a question draws by chance, those of as many
// draws as a row makes, since a row meets the same chances; else those that Base gave.
//
// Error: the context's end
func bareOf(ctx context.Context, base *answer.Case, table []answer.Question, full []answer.Answer, faults []error, o answer.Options) ([]answer.Answer, error) {
	out := slices.Clone(full)
	for i, q := range table {
		if q.Draws == "" || faults[i] != nil {
			continue
		}
		kept, err := base.Keep(fmt.Sprintf("levers, bare, day %d, %q, %s", o.Day, o.Condition, q.ID), func() (any, error) {
			return ask(ctx, q, base, answer.Options{Day: o.Day, Condition: o.Condition, Bare: true})
		})
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err == nil {
			out[i] = kept.(answer.Answer)
		} else {
			faults[i] = err
		}
	}
	return out, nil
}

// each does a number of things on all cores.
func each(n int, do func(i int)) {
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(n, max(1, runtime.GOMAXPROCS(0))) {
		wait.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
}

// ask asks one question; one that breaks down is an error and not the end of the program.
func ask(ctx context.Context, q answer.Question, c *answer.Case, o answer.Options) (a answer.Answer, err error) {
	defer func() {
		if broke := recover(); broke != nil {
			err = fmt.Errorf("the question broke down: %v", broke)
		}
	}()
	return q.Ask(ctx, c, o)
}

// Table asks every question again with every lever. told is called with each row as it comes, from one
// goroutine at a time; it may be nil.
//
// Out: the rows in the order that Result promises. A question that cannot be asked of the folder as it stands is not
// asked with a lever either; its cells say why
// Error: the context's end, with the rows done until then
func Table(ctx context.Context, d *boatfolder.Draft, base *answer.Case, table []answer.Question, ls []Lever, o answer.Options, told func(Row)) (Result, error) {
	r := Result{Levers: ls}
	var err error
	if r.Base, r.Faults, err = Base(ctx, base, table, o); err != nil {
		return r, err
	}
	tight := tightest(r.Base)
	if tight >= 0 {
		r.Tightest = table[tight].ID
	}
	r.Faults = slices.Clone(r.Faults) // what is kept stays as it is
	was, err := bareOf(ctx, base, table, r.Base, r.Faults, o)
	if err != nil {
		return r, err
	}
	t := tableMaker{ctx: ctx, draft: d, base: base, table: table, was: was, full: r.Base, faults: r.Faults, options: o}
	var one sync.Mutex
	each(len(ls), func(i int) {
		if ctx.Err() != nil {
			return
		}
		row := t.row(i, ls[i])
		if ctx.Err() != nil {
			return // half asked
		}
		one.Lock()
		defer one.Unlock()
		r.Rows = append(r.Rows, row)
		if told != nil {
			told(row)
		}
	})
	sortRows(r.Rows, r.Base, tight)
	return r, ctx.Err()
}

// tableMaker makes the rows of one table.
type tableMaker struct {
	ctx     context.Context
	draft   *boatfolder.Draft
	base    *answer.Case
	table   []answer.Question
	was     []answer.Answer // what rows are set beside
	full    []answer.Answer // what is told of the folder as it stands
	faults  []error
	options answer.Options
}

// row asks every question with one lever made.
func (t *tableMaker) row(index int, l Lever) Row {
	row := Row{Lever: index, Trouble: l.Fault}
	now := make([]answer.Answer, len(t.table))
	if row.Trouble == "" {
		if err := t.askAll(l, now); err != nil {
			row.Trouble = err.Error()
		}
	}
	sys := t.base.Folder.Boat.Units
	row.Nothing = row.Trouble == ""
	for i := range t.table {
		c := Cell{Question: t.table[i].ID, Was: t.was[i].Verdict}
		switch {
		case t.faults[i] != nil:
			c.Trouble = t.faults[i].Error()
		case row.Trouble != "":
			c.Verdict = answer.CannotTell
		default:
			var same bool
			c, same = compare(t.table[i].ID, t.was[i], now[i], sys)
			row.Nothing = row.Nothing && same
			if c.Was == c.Verdict { // few draws may fall on the other side of a limit than all do: only a change is a row's to tell
				c.Was, c.Verdict = t.full[i].Verdict, t.full[i].Verdict
			}
		}
		row.Cells = append(row.Cells, c)
	}
	return row
}

// askAll makes the lever and asks every question.
func (t *tableMaker) askAll(l Lever, now []answer.Answer) error {
	d, faults := t.draft.With(l.Edits...)
	if len(faults) > 0 {
		return faults
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		return faults
	}
	c := answer.NewCaseFrom(f, t.base)
	o := answer.Options{Day: min(t.options.Day, f.LastDay()), Condition: t.options.Condition, Bare: true}
	var told []string // each trouble once, with all the questions that have it
	who := map[string][]string{}
	for i, q := range t.table {
		if t.faults[i] != nil {
			continue
		}
		a, err := ask(t.ctx, q, c, o)
		if err != nil {
			if who[err.Error()] == nil {
				told = append(told, err.Error())
			}
			who[err.Error()] = append(who[err.Error()], q.ID)
		}
		now[i] = a
	}
	for i, trouble := range told {
		told[i] = trouble + " (asking " + strings.Join(who[trouble], ", ") + ")"
	}
	if len(told) > 0 {
		return errors.New(strings.Join(told, "; "))
	}
	return nil
}
