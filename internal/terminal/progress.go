package terminal

import (
	"io"
	"os"
	"sync"
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"
)

// patience is how long work may last before a bar is shown.
const patience = 300 * time.Millisecond

// steps is how finely one question's progress is shown.
const steps = 1000

// bar shows how far the asking has come. It appears only on a terminal, and
// only when the work lasts.
type bar struct {
	mu    sync.Mutex
	done  []int64 // of each question, out of steps
	out   io.Writer
	timer *time.Timer // nil: nothing is ever shown
	all   *mpb.Progress
	bar   *mpb.Bar
}

func newBar(out io.Writer, questions int) *bar {
	b := &bar{done: make([]int64, questions), out: out}
	if f, ok := out.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		b.timer = time.AfterFunc(patience, b.show)
	}
	return b
}

// show brings the bar up.
func (b *bar) show() {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.timer == nil {
		return
	}
	b.all = mpb.New(mpb.WithOutput(b.out), mpb.WithWidth(64))
	b.bar = b.all.New(int64(len(b.done))*steps, mpb.BarStyle().Lbound("").Rbound("").Filler("=").Tip("").Padding("-"),
		mpb.BarRemoveOnComplete(), mpb.PrependDecorators(decor.Name("asking ")), mpb.AppendDecorators(decor.Percentage()))
	b.draw()
}

// draw shows the sum of what is done.
func (b *bar) draw() {
	sum := int64(0)
	for _, d := range b.done {
		sum += d
	}
	b.bar.SetCurrent(sum)
}

// at says how far one question has come.
func (b *bar) at(question, done, total int) {
	if total <= 0 {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.done[question] = int64(done) * steps / int64(total)
	if b.bar != nil {
		b.draw()
	}
}

// end takes the bar away; no later call shows it again.
func (b *bar) end() {
	b.mu.Lock()
	if b.timer != nil {
		b.timer.Stop()
		b.timer = nil
	}
	shown := b.bar
	b.mu.Unlock()
	if shown != nil {
		shown.Abort(true)
		b.all.Wait()
	}
}
