package stowing

import "math"

// state is a layout under search, with every sum that its objective needs, so that a move
// is judged by what it changes. Rules may be broken on the way, at a high price.
type state struct {
	j      *job
	l      Layout
	vol    []float64    // place
	heavy  []float64    // place
	out    [][]int      // block → place: units taken
	sum    [3][]float64 // x, y, z → check day: the whole boat's moment
	places []int        // item: in how many places it lies
	with   [][]int      // item → place: how many other items lie there from which it must lie apart
	foes   [][]int      // item: the items from which it must lie apart
	kept   []int        // what each Keep counts
	cost   float64      // of all but trim, heel and height
	limit  float64      // of trim, heel and height
	stale  bool         // limit is to be worked out again
	prices
}

// prices are what breaking a rule costs the search.
type prices struct {
	room, heavy, rule float64 // per m³, per kg, per unit
}

// usual are prices at which no broken rule pays in the end, and yet a full place can be
// passed through on the way. A typical place is 0.1 m³: a tenth of it costs as much as two
// places open on every day.
var usual = prices{room: 200, heavy: 0.5, rule: 10}

// newState is a state with nothing aboard.
func (j *job) newState() *state {
	n, m := len(j.Items), len(j.Places)
	s := &state{j: j, vol: make([]float64, m), heavy: make([]float64, m), out: zeros(len(j.span), m), places: make([]int, n), with: zeros(n, m), foes: make([][]int, n), kept: make([]int, len(j.Keeps)), prices: usual, stale: true}
	s.l = Layout{Where: zeros(n, m), Take: make([][][]int, n)}
	for i := range j.Items {
		if j.need[i] != nil {
			s.l.Take[i] = zeros(len(j.span), m)
		}
		for o := range j.Items {
			if j.apart[i][o] && !j.Lies {
				s.foes[i] = append(s.foes[i], o)
			}
		}
		s.cost -= j.each[i] * float64(min(1, j.Items[i].Units))
		for _, pin := range j.Items[i].Pins {
			s.cost += s.rule * float64(pin)
		}
	}
	for n := range j.Keeps {
		if !j.Lies {
			s.cost += s.rule * float64(j.Keeps[n].Least)
		}
	}
	for _, d := range j.ends {
		m := j.rest[d].Moment
		s.sum[0], s.sum[1], s.sum[2] = append(s.sum[0], m.X), append(s.sum[1], m.Y), append(s.sum[2], m.Z)
	}
	return s
}

// zeros is a table of zeros.
func zeros(n, m int) [][]int {
	out := make([][]int, n)
	for i := range out {
		out[i] = make([]int, m)
	}
	return out
}

// load is the state of a layout.
func (s *state) load(l Layout) {
	for i := range l.Where {
		for k := range l.Where[i] {
			if l.Take[i] == nil {
				s.add(i, -1, k, l.Where[i][k])
			}
			for b := range l.Take[i] {
				s.add(i, b, k, l.Take[i][b][k])
			}
		}
	}
}

// add puts n units (or takes, when n < 0) of an item into a place; of what is used up in
// block b, or of what is kept (b = -1).
func (s *state) add(i, b, k, n int) {
	if n == 0 {
		return
	}
	j := s.j
	it := &j.Items[i]
	u, was := float64(n), s.l.Where[i][k]
	now := was + n
	s.l.Where[i][k] = now
	s.cost += j.w.Reach * j.far[i][k] * u
	if !j.goes[i][k] {
		s.cost += s.rule * u
	}
	s.cost += j.w.Share * float64(max(0, now-j.share[i])-max(0, was-j.share[i]))
	if pin := it.Pins[k]; pin > 0 {
		s.cost += s.rule * float64(max(0, pin-now)-max(0, pin-was))
	}
	change := 0
	if was == 0 {
		change = 1
	} else if now == 0 {
		change = -1
	}
	if change != 0 {
		s.meet(i, k, change)
		s.cost += (j.each[i] + j.fresh[i][k]) * float64(change)
	}
	s.count(i, b, k, n)
	if !j.Lies {
		s.fill(i, k, u)
	}
	last := len(j.ends) - 1
	if b >= 0 {
		last = b
		was := s.out[b][k]
		s.out[b][k] += n
		s.l.Take[i][b][k] += n
		open := j.span[b] * j.w.Open[j.Places[k].Reach]
		if was == 0 {
			s.cost += open
		} else if was+n == 0 {
			s.cost -= open
		}
	}
	m, at := u*it.Mass, j.Places[k].At
	for c := 0; c <= last; c++ {
		s.sum[0][c] += m * at.X
		s.sum[1][c] += m * at.Y
		s.sum[2][c] += m * at.Z
	}
	s.stale = true
}

// fill counts volume and mass.
func (s *state) fill(i, k int, u float64) {
	it, pl := &s.j.Items[i], &s.j.Places[k]
	over := max(0, s.vol[k]-pl.Volume)
	s.vol[k] += u * it.Volume
	s.cost += s.room * (max(0, s.vol[k]-pl.Volume) - over)
	if pl.MassLimit > 0 {
		over := max(0, s.heavy[k]-pl.MassLimit)
		s.heavy[k] += u * it.Mass
		s.cost += s.prices.heavy * (max(0, s.heavy[k]-pl.MassLimit) - over)
	}
}

// meet counts what must lie apart and does not, each pair once.
func (s *state) meet(i, k, n int) {
	s.places[i] += n
	for _, o := range s.foes[i] {
		s.with[o][k] += n
		if s.l.Where[o][k] > 0 {
			s.cost += s.rule * float64(n)
		}
	}
}

// price is the objective, with what broken rules cost the search.
func (s *state) price() float64 {
	if s.stale {
		s.limit, s.stale = 0, false
		for q, w := range [...]float64{s.j.w.Trim, s.j.w.Heel, s.j.w.Height} {
			worst, sum := 0.0, 0.0
			for c, d := range s.j.ends {
				l, v, over := &s.j.limits[d], s.sum[q][c], 0.0
				switch q {
				case 0:
					over = max(l.XMin-v, v-l.XMax)
				case 1:
					over = math.Abs(v) - l.YMax
				case 2:
					over = v - l.ZMax
				}
				if over > 0 {
					sum += over
					worst = max(worst, over)
				}
			}
			s.limit += w * (worst + sum/float64(len(s.j.ends)))
		}
	}
	return s.cost + s.limit
}

// keeps tells whether no rule is broken.
func (s *state) keeps() bool {
	j := s.j
	for i := range j.Items {
		for k, n := range s.l.Where[i] {
			if n > 0 && (!j.goes[i][k] || s.with[i][k] > 0) || n < j.Items[i].Pins[k] {
				return false
			}
		}
	}
	for n := range j.Keeps {
		if s.kept[n] < j.Keeps[n].Least && !j.Lies {
			return false
		}
	}
	for k := range j.Places {
		pl := &j.Places[k]
		if s.vol[k] > pl.Volume+slack/2 || pl.MassLimit > 0 && s.heavy[k] > pl.MassLimit+slack/2 {
			return false
		}
	}
	return true
}
