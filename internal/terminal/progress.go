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

// steps is how finely the progress of one piece of the work is shown.
const steps = 1000

// bar shows how far the work has come. It appears only on a terminal, and only
// when the work lasts.
type bar struct {
	mu    sync.Mutex
	doing string
	done  []int64 // of each piece of the work, out of steps
	out   io.Writer
	timer *time.Timer // nil: nothing is ever shown
	all   *mpb.Progress
	bar   *mpb.Bar
}

// newBar makes a bar for some pieces of work; doing is the word before it.
func newBar(out io.Writer, doing string, pieces int) *bar {
	b := &bar{doing: doing, done: make([]int64, pieces), out: out}
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
		mpb.BarRemoveOnComplete(), mpb.PrependDecorators(decor.Name(b.doing+" ")), mpb.AppendDecorators(decor.Percentage()))
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

// at says how far one piece has come.
func (b *bar) at(piece, done, total int) {
	if total <= 0 {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.done[piece] = int64(done) * steps / int64(total)
	if b.bar != nil {
		b.draw()
	}
}

// end takes the bar away; no later call shows it again. It may be called twice.
func (b *bar) end() {
	b.mu.Lock()
	if b.timer != nil {
		b.timer.Stop()
		b.timer = nil
	}
	shown := b.bar
	b.bar = nil
	b.mu.Unlock()
	if shown != nil {
		shown.Abort(true)
		b.all.Wait()
	}
}
