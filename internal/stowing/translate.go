package stowing

import (
	"fmt"
	"math"
)

// alike is a key under which items are the same in everything but their names.
func (j *job) alike(i int) string {
	it := j.Items[i]
	return fmt.Sprint(it.Units, it.Mass, it.Volume, j.share[i], j.far[i], j.goes[i], j.most[i], j.apart[i], it.Pins, j.fresh[i], j.keeps[i])
}

// layout reads a layout off a solution.
func (p *program) layout(x []float64) Layout {
	j := p.j
	l := Layout{Where: make([][]int, len(j.Items)), Take: make([][][]int, len(j.Items))}
	at := func(c int) int {
		if c < 0 {
			return 0
		}
		return int(math.Round(x[c]))
	}
	for i := range j.Items {
		l.Where[i] = make([]int, len(j.Places))
		for k := range j.Places {
			l.Where[i][k] = at(p.where[i][k])
		}
		for b := range p.take[i] {
			take := make([]int, len(j.Places))
			for k := range take {
				take[k] = at(p.take[i][b][k])
				l.Where[i][k] += take[k]
			}
			l.Take[i] = append(l.Take[i], take)
		}
	}
	return l
}

// values writes a layout as a solution of the program, brought into the order that the
// program asks of plans that are as good as each other.
func (p *program) values(l Layout) []float64 {
	j := p.j
	l = l.Clone()
	p.sortAlike(&l)
	if p.side >= 0 {
		s := 0.0
		for k, n := range l.Where[p.side] {
			s += float64(n) * sign(j.Places[k].At.Y)
		}
		if s > 0 {
			l = mirrorImage(l, j.mirror())
			p.sortAlike(&l)
		}
	}
	x := make([]float64, len(p.m.Columns))
	set := func(c int, v float64) {
		if c >= 0 {
			x[c] = v
		}
	}
	holds := map[[2]int]bool{}
	_, sort := j.sorts()
	for i := range j.Items {
		for k, n := range l.Where[i] {
			set(p.where[i][k], float64(n))
			if n > 0 {
				set(p.lies[i][k], 1)
				if sort[i] >= 0 {
					holds[[2]int{sort[i], k}] = true
				}
			}
			set(p.much[i][k], float64(max(0, n-j.share[i])))
		}
		for b := range p.take[i] {
			for k, n := range l.Take[i][b] {
				set(p.take[i][b][k], float64(n))
				if n > 0 {
					set(p.open[b][k], 1)
				}
			}
		}
	}
	for n := 0; n < len(p.holds); n += 3 {
		if holds[[2]int{p.holds[n], p.holds[n+1]}] {
			set(p.holds[n+2], 1)
		}
	}
	p.weigh(l, x)
	return x
}

// weigh sets the masses by check day, and by how much the limits are broken.
func (p *program) weigh(l Layout, x []float64) {
	j := p.j
	if p.mass == nil {
		return
	}
	for c := len(j.ends) - 1; c >= 0; c-- {
		m := j.rest[j.ends[c]].Moment
		for k, pl := range j.Places {
			v := 0.0
			if c < len(j.ends)-1 {
				v = x[p.mass[c+1][k]]
			}
			for i := range j.Items {
				switch {
				case c == len(j.ends)-1 && j.need[i] == nil:
					v += j.Items[i].Mass * float64(l.Where[i][k])
				case c < len(j.ends)-1 && j.need[i] != nil:
					v += j.Items[i].Mass * float64(l.Take[i][c][k])
				}
			}
			x[p.mass[c][k]] = v
			m.X, m.Y, m.Z = m.X+v*pl.At.X, m.Y+v*pl.At.Y, m.Z+v*pl.At.Z
		}
		for q, pair := range [...][2]Kind{{TrimByBow, TrimByStern}, {HeelToPort, HeelToStarboard}, {TooHigh, TooHigh}} {
			if p.worst[q] < 0 {
				continue
			}
			over := max(0, j.outside(pair[0], j.ends[c], m), j.outside(pair[1], j.ends[c], m))
			x[p.over[q][c]] = over
			x[p.worst[q]] = max(x[p.worst[q]], over)
		}
	}
}
