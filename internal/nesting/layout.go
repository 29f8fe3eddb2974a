package nesting

import (
	"context"
	"math"
)

// gene is a piece in the order and how it is to be laid: aim is 1 to keep to the left, 0
// to keep low, and anything between.
type gene struct {
	item
	aim    float64
	rather int // the pose tried first, or anyPose
}

// anyPose is no wish.
const anyPose = -1

// step is where a gene went.
type step struct {
	item
	sheet, pose int
	at          point
}

// failure is that a part found no place on a sheet when it was tried at a step. It
// will find none later either, as the sheet only gets fuller.
type failure struct{ step, sheet, part int }

// layout is an order and what came of it.
type layout struct {
	genes    []gene
	steps    []step
	failures []failure
	sheets   int
	cost     float64
}

// proven lays a layout, unless from says that it is laid, and measures it. If two places
// prove too near, by rounding, it is laid again with every place measured.
func (c *chain) proven(ctx context.Context, l *layout, from int) (*layout, error) {
	if from < len(l.genes) {
		if err := c.lay(ctx, l, from); err != nil {
			return nil, err
		}
	}
	if c.sound(l) {
		return l, nil
	}
	c.careful = true
	defer func() { c.careful = false }()
	again := &layout{genes: l.genes}
	return again, c.lay(ctx, again, 0)
}

// sound measures every pair of pieces on the same sheet.
func (c *chain) sound(l *layout) bool {
	sheets := c.copied()
	for _, s := range l.steps {
		c.replay(&sheets, s)
	}
	for _, s := range sheets {
		var solids []*solid
		for _, piece := range s.laid {
			solids = append(solids, c.solid(piece))
		}
		for i, a := range solids {
			for _, b := range solids[i+1:] {
				if _, _, clash := a.clash(b, c.stock.Gap); clash {
					return false
				}
			}
		}
	}
	return true
}

// lay lays the genes in order, each on the first sheet that takes it. Steps before from
// are kept.
func (c *chain) lay(ctx context.Context, l *layout, from int) error {
	c.layouts++
	c.work += 1000
	sheets := c.copied()
	steps := append(make([]step, 0, len(l.genes)), l.steps[:from]...)
	for _, s := range steps {
		c.replay(&sheets, s)
	}
	var failures []failure
	failed := map[[2]int]bool{}
	for _, f := range l.failures {
		if f.step < from {
			failures = append(failures, f)
			failed[[2]int{f.sheet, f.part}] = true
		}
	}
	length, width := c.stock.usable()
	for i := from; i < len(l.genes); i++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		g := l.genes[i]
		c.work += 100 // a step costs something even where nothing is in its way
		for n := 0; ; n++ {
			if n == len(sheets) {
				sheets = append(sheets, sheet{})
			}
			if failed[[2]int{n, g.part}] || sheets[n].area+c.shapes[g.part].area > length*width*(1+touch) {
				continue
			}
			spot, ok := c.place(&sheets[n], g)
			if !ok {
				failed[[2]int{n, g.part}] = true
				failures = append(failures, failure{i, n, g.part})
				continue
			}
			s := step{g.item, n, spot.pose, spot.at}
			steps = append(steps, s)
			c.replay(&sheets, s)
			break
		}
	}
	l.steps, l.failures = steps, failures
	l.cost, l.sheets = c.cost(sheets)
	return nil
}

// cost counts sheets, and between layouts of as many it favours the one whose emptiest
// sheet is the emptier and leaves the longer offcut, and whose others are the fuller.
func (c *chain) cost(sheets []sheet) (cost float64, used int) {
	length, width := c.stock.usable()
	least, end, sum, squares := math.Inf(1), 0.0, 0.0, 0.0
	for i := range sheets {
		s := &sheets[i]
		if len(s.laid) == 0 {
			continue
		}
		used++
		share := s.area / (length * width)
		sum, squares = sum+share, squares+share*share
		if share < least {
			least, end = share, s.end()
		}
	}
	if used == 0 {
		return 0, 0
	}
	return float64(used-1) + 0.4*least + 0.3*(end-c.stock.Margin)/length + 0.3*(1-squares/sum), used
}
