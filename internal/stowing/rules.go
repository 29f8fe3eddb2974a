package stowing

// rules reports the rules that a layout breaks.
func (e *Evaluator) rules(l Layout, out *Figures) {
	j := e.j
	for i := range j.Items {
		sum := 0
		for k, u := range l.Where[i] {
			sum += u
			e.alone(i, k, u, out)
		}
		if sum < j.Items[i].Units {
			out.Rules = append(out.Rules, Breach{Ashore, i, -1, -1, -1, 0, float64(j.Items[i].Units - sum)})
		}
	}
	if j.Lies {
		return
	}
	for k := range j.Places {
		pl, f := &j.Places[k], out.Fill[k]
		if over := f.Volume - pl.Volume; over > slack {
			out.Rules = append(out.Rules, Breach{NoRoom, -1, -1, k, -1, 0, over})
		}
		if over := f.Mass - pl.MassLimit; pl.MassLimit > 0 && over > slack {
			out.Rules = append(out.Rules, Breach{TooHeavy, -1, -1, k, -1, 0, over})
		}
		e.together(l, k, out)
	}
	e.tooFew(l, out)
}

// alone reports the rules about one item in one place.
func (e *Evaluator) alone(i, k, u int, out *Figures) {
	it, pl := &e.j.Items[i], &e.j.Places[k]
	if miss := it.Pins[k] - u; miss > 0 {
		out.Rules = append(out.Rules, Breach{Unpinned, i, -1, k, -1, 0, float64(miss)})
	}
	if u == 0 || e.j.Lies || e.j.goes[i][k] {
		return
	}
	for _, c := range [...]struct {
		kind   Kind
		broken bool
	}{{TooLarge, !passes(it.Size, pl.Opening)}, {GetsWet, it.Dry && pl.Wet}, {IsBanned, it.Banned[k]}} {
		if c.broken {
			out.Rules = append(out.Rules, Breach{c.kind, i, -1, k, -1, 0, float64(u)})
		}
	}
}

// together reports, for each item in a place, the first later one from which it must lie apart.
func (e *Evaluator) together(l Layout, k int, out *Figures) {
	for a := range e.j.Items {
		if l.Where[a][k] == 0 {
			continue
		}
		for b := a + 1; b < len(e.j.Items); b++ {
			if e.j.apart[a][b] && l.Where[b][k] > 0 {
				out.Rules = append(out.Rules, Breach{Together, a, b, k, -1, 0, 1})
				break
			}
		}
	}
}

// Move carries units of an item from one place to another, with what is used out of them:
// the latest used first. It tells how many units it carried.
func (l Layout) Move(item, from, to, units int) int {
	units = min(units, l.Where[item][from])
	if units <= 0 || from == to {
		return 0
	}
	l.Where[item][from] -= units
	l.Where[item][to] += units
	left := units
	for b := len(l.Take[item]) - 1; b >= 0 && left > 0; b-- {
		n := min(left, l.Take[item][b][from])
		l.Take[item][b][from] -= n
		l.Take[item][b][to] += n
		left -= n
	}
	return units
}
