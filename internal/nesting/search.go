package nesting

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"sort"
	"sync"
)

// chains is how many searches run side by side. It is fixed, so that the answer does not
// depend on the machine; one core runs them one after another.
const chains = 4

// workPerEffort is the number of segments looked at, by all chains, for an effort of 1.
const workPerEffort = 2.0e8

// search runs the chains and takes the best layout; of equals, the first chain's. With an
// error it returns what there was by then.
func (j *job) search(ctx context.Context, items []item, o Options, bound int) (*layout, int, error) {
	effort := o.Effort
	if !(effort > 0) {
		effort = 1
	}
	t := &told{f: o.Progress}
	var best [chains]*layout
	var count [chains]int
	var errs [chains]error
	var wait sync.WaitGroup
	room := make(chan struct{}, min(chains, runtime.GOMAXPROCS(0)))
	for c := range chains {
		wait.Add(1)
		go func() {
			defer wait.Done()
			room <- struct{}{}
			defer func() { <-room }()
			ch := &chain{bench: bench{job: j}, told: t, number: c, bound: bound,
				budget: effort * workPerEffort / chains, random: rand.New(rand.NewPCG(o.Seed, uint64(c)))}
			best[c], errs[c] = ch.run(ctx, items)
			count[c] = ch.layouts
		}()
	}
	wait.Wait()
	var winner *layout
	var err error
	layouts := 0
	for c := range chains {
		layouts += count[c]
		if b := best[c]; b != nil && (winner == nil || b.cost < winner.cost) {
			winner = b
		}
		if errs[c] != nil {
			err = errs[c]
		}
	}
	return winner, layouts, err
}

// told passes progress on, one call at a time.
type told struct {
	mu     sync.Mutex
	f      func(float64, int)
	share  [chains]float64
	sheets int
}

func (t *told) say(chain int, share float64, sheets int) {
	if t.f == nil {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.share[chain] = math.Min(1, share)
	if t.sheets == 0 || sheets < t.sheets {
		t.sheets = sheets
	}
	sum := 0.0
	for _, s := range t.share {
		sum += s
	}
	t.f(sum/chains, t.sheets)
}

// chain is one annealing search.
type chain struct {
	bench
	told          *told
	number, bound int
	budget        float64
	random        *rand.Rand
	layouts       int
}

// run starts from the best of a few plain orders and anneals.
func (c *chain) run(ctx context.Context, items []item) (*layout, error) {
	var now, best *layout
	for _, aim := range [...]float64{1, 0.5, 0} {
		l, err := c.proven(ctx, &layout{genes: c.first(items, aim)}, 0)
		if err != nil {
			return best, err
		}
		if best == nil || l.cost < best.cost {
			now, best = l, l
		}
	}
	for len(items) > 0 {
		share := float64(c.work) / c.budget
		if best.sheets <= c.bound {
			share *= 3 // only the offcut can still be bettered
		}
		c.told.say(c.number, share, best.sheets)
		if share >= 1 {
			break
		}
		const hot, cold = 0.03, 0.0005
		heat := hot * math.Pow(cold/hot, share)
		genes, from := c.change(now)
		l := &layout{genes: genes, steps: now.steps, failures: now.failures}
		if err := c.lay(ctx, l, from); err != nil {
			return best, err
		}
		if l.cost < best.cost {
			l, err := c.proven(ctx, l, len(genes))
			if err != nil {
				return best, err
			}
			if l.cost < best.cost {
				now, best = l, l
			}
		} else if l.cost <= now.cost || c.random.Float64() < math.Exp((now.cost-l.cost)/heat) {
			now = l
		}
	}
	c.told.say(c.number, 1, best.sheets)
	return best, nil
}

// first is a plain order: the largest first, by a measure that differs from chain to chain.
func (c *chain) first(items []item, aim float64) []gene {
	size := make([]float64, len(c.parts))
	for i := range size {
		s := c.shapes[i]
		b := around(s.ring)
		w, h := b.x1-b.x0, b.y1-b.y0
		size[i] = [chains]float64{area(s.ring), math.Max(w, h), w * h, math.Min(w, h)}[c.number]
	}
	genes := make([]gene, len(items))
	for i, it := range items {
		genes[i] = gene{it, aim, anyPose}
	}
	sort.SliceStable(genes, func(i, k int) bool { return size[genes[i].part] > size[genes[k].part] })
	return genes
}

// change makes a neighbour of a layout and tells from which piece on it differs.
func (c *chain) change(l *layout) ([]gene, int) {
	genes := append([]gene(nil), l.genes...)
	n := len(genes)
	for i, s := range l.steps {
		genes[i].rather = s.pose
	}
	i, k := c.random.IntN(n), c.random.IntN(n)
	if c.random.IntN(2) == 0 {
		i = c.spilt(l)
		k = c.random.IntN(i + 1)
	}
	if genes[i].rather = anyPose; c.random.IntN(2) == 0 {
		genes[i].rather = c.random.IntN(len(c.shapes[genes[i].part].poses))
	}
	switch what := c.random.Float64(); {
	case what < 0.25 || n == 1:
		genes[i].aim = [...]float64{0, 0.25, 0.5, 0.75, 1}[c.random.IntN(5)]
		return genes, i
	case what < 0.6 && genes[i].part != genes[k].part:
		genes[i], genes[k] = genes[k], genes[i]
	default:
		g := genes[i]
		genes = append(genes[:i], genes[i+1:]...)
		genes = append(genes[:k], append([]gene{g}, genes[k:]...)...)
	}
	return genes, min(i, k)
}

// spilt picks a piece from the last sheet: to lay it earlier is how a sheet is saved.
func (c *chain) spilt(l *layout) int {
	last := 0
	for _, s := range l.steps {
		last = max(last, s.sheet)
	}
	var on []int
	for i, s := range l.steps {
		if s.sheet == last {
			on = append(on, i)
		}
	}
	return on[c.random.IntN(len(on))]
}
