package web

import (
	"container/list"
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	"thole/internal/answer"
)

// keptBytes bounds what the answers kept may come to, counted as they are sent.
const keptBytes = 96 << 20

// wish is one question about one state of one edition of the folder.
type wish struct {
	stamp     string // of the folder, with the units
	question  string
	day       int
	condition string
	brief     bool // the verdict is enough
}

// asking asks questions: no more at once than there are processors, none twice
// at the same time, none for somebody who has gone; and it keeps answers.
type asking struct {
	questions map[string]answer.Question
	slots     chan struct{}
	open      context.Context
	close     context.CancelFunc

	mu    sync.Mutex
	kept  map[wish]*list.Element // of *keptAnswer
	order *list.List             // the last used in front
	bytes int
	going map[wish]*errand

	hurried int           // how many answers a finger waits for
	calm    chan struct{} // closed when it waits no more; nil while it does not
}

// keptAnswer is an answer that may be wanted again.
type keptAnswer struct {
	wish   wish
	answer answer.Answer
	bytes  int
}

// errand is a question being asked, for one or several who wait.
type errand struct {
	waiting int
	cancel  context.CancelFunc
	done    chan struct{}
	step    atomic.Pointer[Progress] // nil until it has told one
	answer  answer.Answer
	fault   error
}

func newAsking(table []answer.Question) *asking {
	a := &asking{
		questions: make(map[string]answer.Question, len(table)),
		slots:     make(chan struct{}, runtime.GOMAXPROCS(0)),
		kept:      map[wish]*list.Element{},
		order:     list.New(),
		going:     map[wish]*errand{},
	}
	for _, q := range table {
		a.questions[q.ID] = q
	}
	a.open, a.close = context.WithCancel(context.Background())
	return a
}

// Close ends the questions under way.
func (a *asking) Close() error {
	a.close()
	return nil
}

// ask gives the answer to w about boat, from those kept if it was asked before.
func (a *asking) ask(ctx context.Context, boat *answer.Case, w wish) (answer.Answer, error) {
	return a.follow(ctx, boat, w, nil)
}

// follow is ask, with a word now and then on how far the working out is; told may be nil.
func (a *asking) follow(ctx context.Context, boat *answer.Case, w wish, told func(Progress) error) (answer.Answer, error) {
	if err := ctx.Err(); err != nil {
		return answer.Answer{}, err
	}
	a.mu.Lock()
	if e, ok := a.kept[w]; ok {
		a.order.MoveToFront(e)
		found := e.Value.(*keptAnswer).answer
		a.mu.Unlock()
		return found, nil
	}
	run, ok := a.going[w]
	if !ok {
		run = &errand{done: make(chan struct{})}
		var work context.Context
		work, run.cancel = context.WithCancel(a.open)
		a.going[w] = run
		go a.run(work, boat, w, run)
	}
	run.waiting++
	a.mu.Unlock()

	var look <-chan time.Time
	if told != nil {
		clock := time.NewTicker(progressPause)
		defer clock.Stop()
		look = clock.C
	}
	var last *Progress
	for {
		select {
		case <-run.done:
			return run.answer, run.fault
		case <-ctx.Done():
			a.leave(w, run)
			return answer.Answer{}, ctx.Err()
		case <-look:
			if now := run.step.Load(); now != nil && now != last && now.Total > 0 {
				if err := told(*now); err != nil {
					a.leave(w, run)
					return answer.Answer{}, err
				}
				last = now
			}
		}
	}
}

// leave takes one who waited away; with the last one the errand ends, and the
// next to ask begins another.
func (a *asking) leave(w wish, run *errand) {
	a.mu.Lock()
	defer a.mu.Unlock()
	run.waiting--
	if run.waiting == 0 {
		run.cancel()
		if a.going[w] == run {
			delete(a.going, w)
		}
	}
}

// run asks one question and keeps what came of it.
func (a *asking) run(ctx context.Context, boat *answer.Case, w wish, run *errand) {
	defer run.cancel()
	bytes := 0
	done, err := a.turn(ctx)
	if err == nil {
		run.answer, run.fault = a.once(ctx, boat, w, func(done, total int) { run.step.Store(&Progress{done, total}) })
		done()
		if run.fault == nil {
			bytes, run.fault = size(run.answer)
		}
	} else {
		run.fault = err
	}
	a.mu.Lock()
	if a.going[w] == run {
		delete(a.going, w)
	}
	if run.fault == nil {
		a.keep(&keptAnswer{wish: w, answer: run.answer, bytes: bytes})
	}
	a.mu.Unlock()
	close(run.done)
}

// once asks the question itself.
func (a *asking) once(ctx context.Context, boat *answer.Case, w wish, step func(done, total int)) (answer.Answer, error) {
	return askSafely(ctx, a.questions[w.question], boat, answer.Options{Day: w.day, Condition: w.condition, Brief: w.brief, Progress: step})
}

// askSafely asks a question. One that breaks down takes neither the page nor the other questions
// with it.
func askSafely(ctx context.Context, q answer.Question, boat *answer.Case, o answer.Options) (got answer.Answer, fault error) {
	defer func() {
		if broken := recover(); broken != nil {
			slog.Error("a question broke down", "question", q.ID, "why", broken, "stack", string(debug.Stack()))
			fault = fmt.Errorf("the question broke down while it was worked out (%v): this is the program's fault, not the folder's", broken)
		}
	}()
	return q.Ask(ctx, boat, o)
}

// turn waits for a processor while no finger moves; the work it is given for ends with done.
func (a *asking) turn(ctx context.Context) (done func(), err error) {
	for {
		a.mu.Lock()
		calm := a.calm
		a.mu.Unlock()
		if calm == nil {
			break
		}
		select {
		case <-calm:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
	select {
	case a.slots <- struct{}{}:
		return func() { <-a.slots }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// hurry is for what a finger waits for: until done is called, nothing that can wait is begun.
func (a *asking) hurry() (done func()) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.hurried++; a.hurried == 1 {
		a.calm = make(chan struct{})
	}
	return func() {
		a.mu.Lock()
		defer a.mu.Unlock()
		if a.hurried--; a.hurried == 0 {
			close(a.calm)
			a.calm = nil
		}
	}
}

// size is what an answer comes to when sent, and tells whether it can be: a
// figure that is not a number cannot.
func size(got answer.Answer) (int, error) {
	words, err := json.Marshal(got)
	if err != nil {
		return 0, fmt.Errorf("the answer cannot be shown: %w", err)
	}
	sheet, err := json.Marshal(got.Sheet)
	if err != nil {
		return 0, fmt.Errorf("the answer's sheet cannot be shown: %w", err)
	}
	patterns, err := json.Marshal(got.Patterns)
	if err != nil {
		return 0, fmt.Errorf("the answer's parts to cut cannot be shown: %w", err)
	}
	return len(words) + len(sheet) + len(patterns), nil
}

// keep puts an answer in front and lets the longest unused go.
func (a *asking) keep(k *keptAnswer) {
	if old, ok := a.kept[k.wish]; ok {
		a.drop(old)
	}
	a.kept[k.wish] = a.order.PushFront(k)
	a.bytes += k.bytes
	for a.bytes > keptBytes && a.order.Len() > 1 {
		a.drop(a.order.Back())
	}
}

func (a *asking) drop(e *list.Element) {
	k := a.order.Remove(e).(*keptAnswer)
	delete(a.kept, k.wish)
	a.bytes -= k.bytes
}
