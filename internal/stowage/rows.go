package stowage

import (
	"fmt"
	"slices"

	"thole/internal/model"
	"thole/internal/stowing"
)

// Portions are an item's pieces as a layout has them, one for each place and each run of days in which they are taken out of it at one
// rate: as rows of the stores, each used evenly, they are used as the layout says.
func (s *Stowage) Portions(item int, l stowing.Layout) []model.Portion {
	b := &s.Trip.Folder.Boat
	it := &s.Problem.Items[item]
	var out []model.Portion
	if it.Last == 0 {
		for k, n := range l.Where[item] {
			if n > 0 {
				out = append(out, model.Portion{In: s.call(b, k), Count: n})
			}
		}
		return out
	}
	need := make([]int, len(s.spans))
	for n := range s.spans {
		for _, u := range l.Take[item][n] {
			need[n] += u
		}
	}
	for k := range s.Places {
		for n := 0; n < len(need); n++ {
			if l.Take[item][n][k] == 0 {
				continue
			}
			from, to, count := n, n, l.Take[item][n][k]
			for q := n + 1; q < len(need); q++ { // weeks without need belong to any run
				if need[q] == 0 {
					continue
				}
				if l.Take[item][q][k]*need[n] != l.Take[item][n][k]*need[q] {
					break
				}
				to, count = q, count+l.Take[item][q][k]
			}
			p := model.Portion{In: s.call(b, k), Count: count, First: max(it.First, s.spans[from][0]), Last: min(it.Last, s.spans[to][1])}
			if none(need[:from]) {
				p.First = it.First
			}
			if none(need[to+1:]) {
				p.Last = it.Last
			}
			out = append(out, p)
			n = to
		}
	}
	slices.SortStableFunc(out, func(a, b model.Portion) int { return a.First - b.First })
	return out
}

func none(need []int) bool { return !slices.ContainsFunc(need, func(n int) bool { return n > 0 }) }

// call is a compartment as the folder's tables call it.
func (s *Stowage) call(b *model.Boat, k int) string {
	if n := b.Compartments[k].Number; n > 0 {
		return fmt.Sprint(n)
	}
	return b.Compartments[k].Name
}

// same tells whether portions are what the rows of an item are already.
func (s *Stowage) same(item int, portions []model.Portion) bool {
	rows := s.Items[item].Rows
	if len(rows) != len(portions) {
		return false
	}
	left := slices.Clone(portions)
	for _, r := range rows {
		st := &s.Trip.Folder.Stores[r]
		p := model.Portion{In: s.call(&s.Trip.Folder.Boat, st.Where.Compartment), Count: pieces(st), First: st.Use.First, Last: st.Use.Last}
		k := slices.Index(left, p)
		if k < 0 {
			return false
		}
		left = slices.Delete(left, k, k+1)
	}
	return true
}

// Changed are the items that a layout stows or uses otherwise than the folder, with their portions.
func (s *Stowage) Changed(l stowing.Layout) map[int][]model.Portion {
	out := map[int][]model.Portion{}
	for i := range s.Items {
		if slices.EqualFunc(l.Where[i], s.Written.Where[i], func(a, b int) bool { return a == b }) && slices.EqualFunc(l.Take[i], s.Written.Take[i], slices.Equal[[]int]) {
			continue
		}
		if p := s.Portions(i, l); !s.same(i, p) {
			out[i] = p
		}
	}
	return out
}

// ActsOf are the acts that make the folder as a layout says; the names of things that no act can tell apart, since other rows
// called the same are something else, are given back and left as they lie.
func (s *Stowage) ActsOf(l stowing.Layout) (acts []model.Act, left []string) {
	changed := s.Changed(l)
	for i := range s.Items {
		portions, ok := changed[i]
		if !ok {
			continue
		}
		name := s.Store(i).What
		if !s.alone(i) {
			left = append(left, s.Name(i))
			continue
		}
		acts = append(acts, model.Act{Do: model.Stow, What: []string{name}, Portions: portions})
	}
	return acts, left
}

// alone tells whether every row of an item's name is the item's.
func (s *Stowage) alone(item int) bool {
	n := 0
	for i := range s.Trip.Folder.Stores {
		if model.PlainName(s.Trip.Folder.Stores[i].What) == model.PlainName(s.Store(item).What) {
			n++
		}
	}
	return n == len(s.Items[item].Rows)
}

// Applied is the folder as a layout has it: the rows of what has changed written anew.
func (s *Stowage) Applied(l stowing.Layout) *model.Folder {
	f := *s.Trip.Folder
	changed := s.Changed(l)
	gone, first := map[int]bool{}, map[int]int{}
	for i := range changed {
		for _, r := range s.Items[i].Rows {
			gone[r] = true
		}
		first[s.Items[i].Rows[0]] = i
	}
	f.Stores = nil
	for r, st := range s.Trip.Folder.Stores {
		if !gone[r] {
			f.Stores = append(f.Stores, st)
			continue
		}
		i, ok := first[r]
		if !ok {
			continue
		}
		for _, p := range changed[i] {
			row := st
			row.Count = p.Count
			row.Where.Compartment = slices.IndexFunc(s.Places, func(q Place) bool {
				return fmt.Sprint(q.Compartment.Number) == p.In || q.Compartment.Name == p.In
			})
			row.Use.First, row.Use.Last = p.First, p.Last
			f.Stores = append(f.Stores, row)
		}
	}
	return &f
}

// Again is the problem that is left after a day, with what then lies where: stock is units by row of the stores and compartment,
// as an inventory has them. It is planned with stowing.Solve; its days count from the day, and its rest and limits are those of the days left. What was moved
// underway is taken where it lies now.
//
// Error: the day is not one before the last, or the stock is not of this folder
func (b *Balance) Again(day int, stock [][]int) (*stowing.Problem, error) {
	s := b.s
	if len(stock) != len(s.Trip.Folder.Stores) {
		return nil, fmt.Errorf("what is left is given for %d rows of the stores, and there are %d", len(stock), len(s.Trip.Folder.Stores))
	}
	of := make([][]int, len(s.Items))
	for i, item := range s.Items {
		of[i] = make([]int, len(s.Places))
		for _, r := range item.Rows {
			if len(stock[r]) != len(s.Places) {
				return nil, fmt.Errorf("what is left of %s is given for %d compartments, and there are %d", s.Trip.Folder.Stores[r].What, len(stock[r]), len(s.Places))
			}
			for k, n := range stock[r] {
				of[i][k] += n
			}
		}
	}
	return stowing.Left(&b.Problem, day, of)
}
