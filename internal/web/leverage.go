package web

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"slices"
	"sync"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/model"
)

// keptTables is how many whole lever tables are kept.
const keptTables = 8

// LeverList is the first event of /api/levers: what the rows are about.
type LeverList struct {
	Levers    []levers.Lever  `json:"levers"`
	Questions []LeverQuestion `json:"questions" doc:"in the order of a row's cells"`
	Base      []LeverBase     `json:"base" doc:"the answers without any lever, in the same order"`
	Tightest  string          `json:"tightest" doc:"the question whose answer is tightest; empty when none can be told"`
}

// LeverQuestion is a column of the lever table.
type LeverQuestion struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// LeverBase is an answer in short.
type LeverBase struct {
	Question string         `json:"question"`
	Verdict  answer.Verdict `json:"verdict" doc:"empty when the question could not be asked"`
	Margin   *answer.Margin `json:"margin,omitempty"`
	Sentence string         `json:"sentence" doc:"or why it could not be asked"`
}

// LeverRow is one lever against every question.
type LeverRow struct {
	Lever   int         `json:"lever" doc:"index into the list"`
	Cells   []LeverCell `json:"cells"`
	Trouble string      `json:"trouble,omitempty" doc:"why it could not be asked"`
	Nothing bool        `json:"nothing,omitempty" doc:"no margin, no verdict and nothing of how sure they are moves"`
}

// LeverCell is one lever against one question.
type LeverCell levers.Cell

// LeverEnd is the last event of /api/levers.
type LeverEnd struct {
	Order   []int  `json:"order" doc:"the levers' indexes, what helps the tightest answer most in front"`
	Stamp   string `json:"stamp"`
	Trouble string `json:"trouble,omitempty" doc:"why the table is not whole"`
}

// levering is how levers are found and pulled.
type levering struct {
	list  func(f *model.Folder, d *boatfolder.Draft) []levers.Lever
	table func(ctx context.Context, d *boatfolder.Draft, base *answer.Case, table []answer.Question, ls []levers.Lever, o answer.Options, each func(levers.Row)) (levers.Result, error)
	edits func(f *model.Folder, d *boatfolder.Draft, acts []model.Act) ([]boatfolder.Edit, error)
}

// leverage holds the lever tables being worked out and those that are done.
type leverage struct {
	mu   sync.Mutex
	runs map[string]*leverRun
	done []string // keys of whole tables, the latest last
}

// leverRun is one lever table, for one or several who watch it grow.
type leverRun struct {
	cancel context.CancelFunc

	mu      sync.Mutex
	list    *LeverList
	rows    []LeverRow
	end     *LeverEnd
	grown   chan struct{} // closed when there is more
	waiting int           // guarded by leverage.mu
}

func newLeverage() *leverage { return &leverage{runs: map[string]*leverRun{}} }

func (r *leverRun) add(change func()) {
	r.mu.Lock()
	defer r.mu.Unlock()
	change()
	close(r.grown)
	r.grown = make(chan struct{})
}

// join watches a table; the first to do so has it begun.
func (l *leverage) join(key string, open context.Context, begin func(context.Context, *leverRun)) *leverRun {
	l.mu.Lock()
	defer l.mu.Unlock()
	run, ok := l.runs[key]
	if !ok {
		run = &leverRun{grown: make(chan struct{})}
		var ctx context.Context
		ctx, run.cancel = context.WithCancel(open)
		l.runs[key] = run
		go func() {
			defer run.cancel()
			begin(ctx, run)
			l.ended(key, run)
		}()
	}
	run.waiting++
	return run
}

// leave ends a table that is not whole with the last who watched it.
func (l *leverage) leave(key string, run *leverRun) {
	l.mu.Lock()
	defer l.mu.Unlock()
	run.waiting--
	run.mu.Lock()
	whole := run.end != nil
	run.mu.Unlock()
	if run.waiting == 0 && !whole {
		run.cancel()
		if l.runs[key] == run {
			delete(l.runs, key)
		}
	}
}

// ended keeps a whole table, and lets the oldest go.
func (l *leverage) ended(key string, run *leverRun) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.runs[key] != run {
		return
	}
	if run.end.Trouble != "" {
		delete(l.runs, key)
		return
	}
	l.done = append(l.done, key)
	if len(l.done) > keptTables {
		delete(l.runs, l.done[0])
		l.done = slices.Delete(l.done, 0, 1)
	}
}

// registerLevers adds the stream of the lever table.
func (s *service) registerLevers(api huma.API) {
	sse.Register(api, huma.Operation{
		OperationID: "levers", Method: http.MethodGet, Path: "/api/levers",
		Summary: "What would change the answers: every lever against every question, each row as soon as it is worked out",
	}, map[string]any{"list": LeverList{}, "row": LeverRow{}, "end": LeverEnd{}}, s.levers)
}

func (s *service) levers(ctx context.Context, in *State, send sse.Sender) {
	now, err := s.place(in.Which, &in.Moment)
	if err != nil {
		send.Data(LeverEnd{Order: []int{}, Trouble: err.Error()})
		return
	}
	key := fmt.Sprintf("%s %d %q", now.key(), in.Day, in.Condition)
	run := s.leverage.join(key, s.asking.open, func(ctx context.Context, run *leverRun) {
		s.pullLevers(ctx, run, now, in.Moment)
	})
	defer s.leverage.leave(key, run)
	sent, listed := 0, false
	for {
		run.mu.Lock()
		list, rows, end, grown := run.list, run.rows[sent:], run.end, run.grown
		run.mu.Unlock()
		if list != nil && !listed {
			if send.Data(*list) != nil {
				return
			}
			listed = true
		}
		for _, row := range rows {
			if send.Data(row) != nil {
				return
			}
			sent++
		}
		if end != nil {
			send.Data(*end)
			return
		}
		select {
		case <-grown:
		case <-ctx.Done():
			return
		}
	}
}

// pullLevers works a table out. It always comes to an end, whatever happens.
func (s *service) pullLevers(ctx context.Context, run *leverRun, now edition, m Moment) {
	end := LeverEnd{Order: []int{}, Stamp: now.stamp}
	defer func() {
		if broken := recover(); broken != nil {
			slog.Error("the lever table broke down", "why", broken, "stack", string(debug.Stack()))
			end.Trouble = fmt.Sprintf("the lever table broke down while it was worked out (%v): this is the program's fault, not the folder's", broken)
		}
		run.add(func() { run.end = &end })
	}()
	list := LeverList{Levers: []levers.Lever{}, Questions: []LeverQuestion{}, Base: []LeverBase{}}
	list.Levers = append(list.Levers, s.from.levers.list(now.boat.Folder, now.draft)...)
	for i := range list.Levers {
		if list.Levers[i].Edits == nil {
			list.Levers[i].Edits = []boatfolder.Edit{}
		}
	}
	base, faults := s.askAll(ctx, now, m)
	for i, q := range s.table {
		list.Questions = append(list.Questions, LeverQuestion{q.ID, q.Title})
		b := LeverBase{Question: q.ID, Verdict: base[i].Verdict, Margin: base[i].Margin, Sentence: base[i].Sentence}
		if faults[i] != nil {
			b.Sentence = faults[i].Error()
		}
		list.Base = append(list.Base, b)
	}
	table, o := s.leverTable(now, base, faults), answer.Options{Day: m.Day, Condition: m.Condition}
	// Without levers it is the folder as it stands, and tells which answer is tightest.
	stands, err := s.from.levers.table(ctx, now.draft, now.boat, table, nil, o, nil)
	list.Tightest = stands.Tightest
	run.add(func() { run.list = &list })
	if err != nil {
		end.Trouble = err.Error()
		return
	}
	result, err := s.from.levers.table(ctx, now.draft, now.boat, table, list.Levers, o, func(r levers.Row) {
		row := LeverRow{Lever: r.Lever, Cells: []LeverCell{}, Trouble: r.Trouble, Nothing: r.Nothing}
		for _, c := range r.Cells {
			row.Cells = append(row.Cells, LeverCell(c))
		}
		run.add(func() { run.rows = append(run.rows, row) })
	})
	if err != nil {
		end.Trouble = err.Error()
	}
	for _, r := range result.Rows {
		end.Order = append(end.Order, r.Lever)
	}
}

// askAll asks every question about an edition, as for the list of verdicts.
func (s *service) askAll(ctx context.Context, now edition, m Moment) ([]answer.Answer, []error) {
	answers, faults := make([]answer.Answer, len(s.table)), make([]error, len(s.table))
	var all sync.WaitGroup
	for i, q := range s.table {
		all.Go(func() {
			answers[i], faults[i] = s.asking.ask(ctx, now.boat, wish{now.key(), q.ID, m.Day, m.Condition, true})
		})
	}
	all.Wait()
	return answers, faults
}

// leverTable is the table of questions as the levers ask it: what was asked of the folder without
// a lever is not asked again, and the rest takes its turn behind whoever waits for an answer.
func (s *service) leverTable(now edition, base []answer.Answer, faults []error) []answer.Question {
	table := slices.Clone(s.table)
	for i, q := range table {
		table[i].Ask = func(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
			if c == now.boat && !o.Bare { // asked bare, it is what rows are set beside
				return base[i], faults[i]
			}
			done, err := s.asking.turn(ctx)
			if err != nil {
				return answer.Answer{}, err
			}
			defer done()
			return askSafely(ctx, q, c, o)
		}
	}
	return table
}
