package stowing

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// slow is what a layout costs, worked out the long way: the package's page, read aloud.
// +Inf where a rule is broken.
func slow(p *Problem, l Layout) (objective float64, days []Load) {
	w := p.Weights
	blocks, _ := Blocks(p)
	check := map[int]bool{0: true}
	for _, b := range blocks {
		check[b[1]] = true
	}
	for k, pl := range p.Places {
		volume, mass := 0.0, 0.0
		for i, it := range p.Items {
			n := float64(l.Where[i][k])
			volume += n * it.Volume
			mass += n * it.Mass
			if n > 0 && (it.Dry && pl.Wet || it.Banned[k] || !slowPasses(it.Size, pl.Opening)) || int(n) < it.Pins[k] {
				return math.Inf(1), nil
			}
			for o, other := range p.Items {
				for _, g := range it.Apart {
					if o != i && g == other.Group && n > 0 && l.Where[o][k] > 0 {
						return math.Inf(1), nil
					}
				}
			}
		}
		if volume > pl.Volume+1e-6 || pl.MassLimit > 0 && mass > pl.MassLimit+1e-6 {
			return math.Inf(1), nil
		}
	}
	for _, keep := range p.Keeps {
		units := 0
		for _, o := range keep.Of {
			last := -1
			for b, take := range l.Take[o.Item] {
				for _, n := range take {
					if n > 0 {
						last = b
					}
				}
			}
			if keep.ToEnd && last >= 0 {
				units += l.Take[o.Item][last][o.Place]
			} else {
				units += l.Where[o.Item][o.Place]
			}
		}
		if units < keep.Least {
			return math.Inf(1), nil
		}
	}
	for i, it := range p.Items {
		n := 0
		for k, u := range l.Where[i] {
			if u > 0 {
				n++
				if it.Was != nil && !it.Was[k] {
					objective += w.Move
				}
			}
			if it.MostShare > 0 {
				objective += w.Share * math.Max(0, float64(u)-math.Max(1, math.Floor(it.MostShare*float64(it.Units)+1e-9)))
			}
			if !it.AnyReach && p.Places[k].Reach > it.Reach {
				objective += w.Reach * float64(u) * float64(p.Places[k].Reach-it.Reach)
			}
		}
		if it.Last == 0 && n > 1 {
			objective += w.Spread * float64(n-1)
		} else if n > 1 {
			objective += w.Part * float64(n-1)
		}
	}
	stock := Layout{Where: l.Where}.Clone().Where
	opened := map[[2]int]bool{}
	var over [3][]float64
	for d := 0; d <= p.Trip.Days; d++ {
		if d > 0 {
			b := 0
			for blocks[b][1] < d {
				b++
			}
			slowUse(p, l, b, d, blocks[b], stock, opened)
		}
		at := p.Trip.Rest[min(d, len(p.Trip.Rest)-1)]
		for i, it := range p.Items {
			for k, n := range stock[i] {
				at.Mass += float64(n) * it.Mass
				at.Moment = r3.Add(at.Moment, r3.Scale(float64(n)*it.Mass, p.Places[k].At))
			}
		}
		days = append(days, at)
		if check[d] {
			lim, m := p.Trip.Limits[min(d, len(p.Trip.Limits)-1)], at.Moment
			for q, v := range []float64{math.Max(lim.XMin-m.X, m.X-lim.XMax), math.Abs(m.Y) - lim.YMax, m.Z - lim.ZMax} {
				over[q] = append(over[q], math.Max(0, v))
			}
		}
	}
	for key := range opened {
		b := blocks[key[0]]
		objective += w.Open[p.Places[key[1]].Reach] * float64(b[1]-b[0]+1) / float64(p.Trip.Days)
	}
	for q, price := range []float64{w.Trim, w.Heel, w.Height} {
		worst, sum := 0.0, 0.0
		for _, v := range over[q] {
			worst, sum = math.Max(worst, v), sum+v
		}
		objective += price * (worst + sum/float64(len(over[q])))
	}
	return objective, days
}

// slowUse takes one day's units out of the stock: each out of the place that is furthest
// behind its even share of the block.
func slowUse(p *Problem, l Layout, b, day int, block [2]int, stock [][]int, opened map[[2]int]bool) {
	for i, it := range p.Items {
		if it.Last == 0 || it.Units == 0 {
			continue
		}
		by := func(d int) int {
			part := float64(min(max(d-it.First+1, 0), it.Last-it.First+1)) / float64(it.Last-it.First+1)
			return int(math.Floor(part*float64(it.Units) + 0.5 + 1e-9))
		}
		total := by(block[1]) - by(block[0]-1)
		for u := by(day-1) + 1; u <= by(day); u++ {
			best, lag := -1, 0.0
			for k, n := range l.Take[i][b] {
				taken := l.Where[i][k] - stock[i][k]
				for earlier := range b {
					taken -= l.Take[i][earlier][k]
				}
				share := float64(n)*float64(u-by(block[0]-1))/float64(total) - float64(taken)
				if taken < n && (best < 0 || share > lag+1e-9) {
					best, lag = k, share
				}
			}
			stock[i][best]--
			opened[[2]int{b, best}] = true
		}
	}
}

// slowPasses tries the three ways of holding a thing, and both ways round.
func slowPasses(s [3]float64, o [2]float64) bool {
	if o[0] == 0 {
		return true
	}
	for _, f := range [][2]float64{{s[0], s[1]}, {s[0], s[2]}, {s[1], s[2]}} {
		if f[0] <= o[0]+1e-6 && f[1] <= o[1]+1e-6 || f[0] <= o[1]+1e-6 && f[1] <= o[0]+1e-6 {
			return true
		}
	}
	return false
}

// tiny is a made-up problem small enough to try every layout: two blocks at most, four
// places at most, six items at most.
func tiny(r *rand.Rand) *Problem {
	p := &Problem{Weights: UsualWeights()}
	p.Trip.Days, p.Trip.Block = 4, 2
	for k := range 2 + r.IntN(3) {
		pl := Place{Volume: 0.02 + 0.03*r.Float64(), At: r3.Vec{X: 1 + 5*r.Float64(), Y: r.Float64() - 0.5, Z: 0.6 * r.Float64()}, Reach: Reach(r.IntN(3)), Wet: r.IntN(3) == 0}
		if k%2 == 1 {
			pl.Opening = [2]float64{0.2, 0.3}
			pl.MassLimit = 25
		}
		p.Places = append(p.Places, pl)
	}
	rest := Load{Mass: 100, Moment: r3.Vec{X: 330, Y: 2 * (r.Float64() - 0.5), Z: 30}}
	p.Trip.Rest = []Load{rest}
	for range 2 + r.IntN(5) {
		it := Item{Units: 1 + r.IntN(2), Mass: 1 + 9*r.Float64(), Volume: 0.004 + 0.008*r.Float64(), Dry: r.IntN(3) == 0, Reach: Reach(r.IntN(3)), AnyReach: r.IntN(2) == 0}
		it.Size = [3]float64{0.1 + 0.15*r.Float64(), 0.1 + 0.15*r.Float64(), 0.4}
		if r.IntN(2) == 0 {
			it.First, it.Last = 1+r.IntN(2), 3+r.IntN(2)
			it.Units = 2 + r.IntN(2)
		} else if it.Units > 1 && r.IntN(2) == 0 {
			it.MostShare = 0.5
		}
		switch r.IntN(5) {
		case 0:
			it.Group, it.Apart = "food", []string{"fuel"}
		case 1:
			it.Group = "fuel"
		case 2:
			it.Pins = map[int]int{r.IntN(len(p.Places)): 1}
		case 3:
			it.Banned = map[int]bool{r.IntN(len(p.Places)): true}
		}
		p.Items = append(p.Items, it)
	}
	for i := range p.Items {
		if r.IntN(2) == 0 {
			p.Items[i].Was = map[int]bool{r.IntN(len(p.Places)): true}
		}
	}
	if len(p.Items) > 2 && r.IntN(2) == 0 { // two things that do not both lie in one place
		k := r.IntN(len(p.Places))
		keep := Keep{Name: "one apart", Least: 1 + r.IntN(5)/4, ToEnd: r.IntN(2) == 0}
		for at := range p.Places {
			if at != k {
				keep.Of = append(keep.Of, Part{0, at}, Part{1, at})
			}
		}
		p.Keeps = append(p.Keeps, keep)
	}
	for d := 0; d <= p.Trip.Days; d++ {
		p.Trip.Limits = append(p.Trip.Limits, Limits{XMin: 340 - 2*float64(d), XMax: 420, YMax: 2, ZMax: 38})
	}
	return p
}

// every calls f with every layout of a problem, and tells how many there are; with f nil it
// only counts.
func every(p *Problem, f func(Layout)) float64 {
	j, err := prepare(p)
	if err != nil {
		panic(err)
	}
	s := j.newSearch(0)
	count := 1.0
	for _, l := range s.lots {
		c := 1.0 // ways to put n units into m places
		for n := 1; n < len(p.Places); n++ {
			c = c * float64(l.units+n) / float64(n)
		}
		count *= c
	}
	if f == nil {
		return count
	}
	var walk func(lot, place, left int)
	walk = func(n, k, left int) {
		if n == len(s.lots) {
			f(s.l)
			return
		}
		l := s.lots[n]
		if k == len(p.Places)-1 {
			s.add(l.item, l.block, k, left)
			if n+1 < len(s.lots) {
				walk(n+1, 0, s.lots[n+1].units)
			} else {
				walk(n+1, 0, 0)
			}
			s.add(l.item, l.block, k, -left)
			return
		}
		for u := 0; u <= left; u++ {
			s.add(l.item, l.block, k, u)
			walk(n, k+1, left-u)
			s.add(l.item, l.block, k, -u)
		}
	}
	walk(0, 0, s.lots[0].units)
	return count
}

// TestEvaluateAgainstSlow: source: the slow twin above.
func TestEvaluateAgainstSlow(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	kept := 0
	for n := range 400 {
		p := tiny(r)
		if n%4 == 0 { // longer trips, uneven blocks
			p.Trip.Days, p.Trip.Block = 23, 5
			p.Trip.Limits = p.Trip.Limits[:1]
			for i := range p.Items {
				if p.Items[i].Last > 0 {
					p.Items[i].Units, p.Items[i].Last = 1+r.IntN(40), 5+r.IntN(19)
					p.Items[i].Volume /= 20
				}
			}
		}
		e, err := NewEvaluator(p)
		if err != nil {
			t.Fatal(err)
		}
		s := e.j.newSearch(uint64(n))
		s.greedy()
		for range 30 {
			s.try()
			if err := e.Check(s.l); err != nil {
				t.Fatalf("problem %d: a change leaves the problem: %v", n, err)
			}
		}
		l := s.best
		var f Figures
		e.Evaluate(l, &f)
		want, days := slow(p, l)
		if math.IsInf(want, 1) != (len(f.Rules) > 0) || s.keep == math.IsInf(want, 1) {
			t.Errorf("problem %d: rules broken %v, the search keeps them: %v, the twin says %v", n, f.Rules, s.keep, want)
		}
		if len(f.Rules) > 0 {
			continue
		}
		kept++
		if math.Abs(f.Objective-want) > 1e-8 || math.Abs(s.value-want) > 1e-8 {
			t.Errorf("problem %d: %v, in the search %v, the twin says %v", n, f.Objective, s.value, want)
		}
		for d := range days {
			if r3.Norm(r3.Sub(days[d].Moment, f.Days[d].Moment)) > 1e-8 || math.Abs(days[d].Mass-f.Days[d].Mass) > 1e-8 {
				t.Errorf("problem %d, state %d: %v, the twin says %v", n, d, f.Days[d], days[d])
			}
		}
		masses, err := Masses(p)
		if err != nil || math.Abs(masses[len(masses)-1]-days[len(days)-1].Mass) > 1e-8 {
			t.Errorf("problem %d: masses %v, the twin's days %v", n, masses, days)
		}
		for _, x := range []struct {
			name          string
			breach, value float64
		}{
			{"full program", e.j.build().m.Breach(e.j.build().values(l)), e.j.build().m.Value(e.j.build().values(l))},
		} {
			if x.breach > 1e-6 || math.Abs(x.value-want) > 1e-6 {
				t.Errorf("problem %d: the layout breaks the %s by %v and costs %v there, not %v", n, x.name, x.breach, x.value, want)
			}
		}
		c := e.j.coarsen()
		x := c.values(l)
		if b := c.m.Breach(x); b > 1e-6 || c.m.Value(x) > want+1e-6 {
			t.Errorf("problem %d: the layout breaks the coarse program by %v and costs %v there, more than %v", n, b, c.m.Value(x), want)
		}
	}
	if kept < 100 {
		t.Errorf("only %d of 400 layouts keep the rules: the trial is lopsided", kept)
	}
}

// TestEvaluateAllocatesNothing: it is called on every step of a drag.
func TestEvaluateAllocatesNothing(t *testing.T) {
	p := voyage(60, 30, 2)
	e, err := NewEvaluator(p)
	if err != nil {
		t.Fatal(err)
	}
	s := e.j.newSearch(1)
	s.greedy()
	var f Figures
	e.Evaluate(s.best, &f)
	if n := testing.AllocsPerRun(50, func() { e.Evaluate(s.best, &f) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
