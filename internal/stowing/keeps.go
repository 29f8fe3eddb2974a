package stowing

import "math"

// burden works out what it costs that an item lies in a place or in several, and the Keeps by
// item and place.
func (j *job) burden() {
	for i := range j.Items {
		it := &j.Items[i]
		fresh, last, each := make([]float64, len(j.Places)), -1, j.w.Spread
		for k := range fresh {
			if it.Was != nil && !it.Was[k] {
				fresh[k] = j.w.Move
			}
		}
		if j.need[i] != nil {
			each = j.w.Part
		}
		for b, n := range j.need[i] {
			if n > 0 {
				last = b
			}
		}
		j.fresh, j.each, j.final, j.keeps = append(j.fresh, fresh), append(j.each, each), append(j.final, last), append(j.keeps, make([][]int, len(j.Places)))
	}
	if j.Lies {
		return
	}
	for n := range j.Keeps {
		for _, o := range j.Keeps[n].Of {
			j.keeps[o.Item][o.Place] = append(j.keeps[o.Item][o.Place], n)
		}
	}
}

// kept is how many units lie where a Keep counts them.
func (j *job) kept(l Layout, n int) int {
	sum, keep := 0, &j.Keeps[n]
	for _, o := range keep.Of {
		if b := j.final[o.Item]; keep.ToEnd && b >= 0 {
			sum += l.Take[o.Item][b][o.Place]
		} else {
			sum += l.Where[o.Item][o.Place]
		}
	}
	return sum
}

// keep: at least so many units lie where they count.
func (p *program) keep() {
	j := p.j
	if j.Lies {
		return
	}
	for n := range j.Keeps {
		keep := &j.Keeps[n]
		r := p.m.Row(float64(keep.Least), math.Inf(1))
		for _, o := range keep.Of {
			if b := j.final[o.Item]; !keep.ToEnd || b < 0 {
				p.departure(r, o.Item, o.Place, 1)
			} else if c := p.take[o.Item][b][o.Place]; c >= 0 {
				p.m.Term(r, c, 1)
			}
		}
	}
}

// keep adds one Keep. Of what is used up all counts, also for a Keep for the end, which asks for no less.
func (p *pile) keep(keep *Keep) (row int) {
	row = p.m.Row(float64(keep.Least), math.Inf(1))
	for _, o := range keep.Of {
		if c := p.where[o.Item][o.Place]; c >= 0 {
			p.m.Term(row, c, 1)
		}
	}
	return row
}

// tooFew reports the Keeps that a layout breaks.
func (e *Evaluator) tooFew(l Layout, out *Figures) {
	for n := range e.j.Keeps {
		if miss := e.j.Keeps[n].Least - e.j.kept(l, n); miss > 0 {
			out.Rules = append(out.Rules, Breach{TooFew, -1, n, -1, -1, 0, float64(miss)})
		}
	}
}

// count counts units for the Keeps.
func (s *state) count(i, b, k, n int) {
	j := s.j
	for _, q := range j.keeps[i][k] {
		keep := &j.Keeps[q]
		if keep.ToEnd && b >= 0 && b != j.final[i] {
			continue
		}
		was := s.kept[q]
		s.kept[q] += n
		s.cost += s.rule * float64(max(0, keep.Least-was-n)-max(0, keep.Least-was))
	}
}
