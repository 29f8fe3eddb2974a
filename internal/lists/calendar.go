package lists

import (
	"cmp"
	"math"
	"slices"

	"thole/internal/model"
	"thole/internal/units"
)

// Take is what is taken of one store, out of one place.
type Take struct {
	Store       int // index into Folder.Stores
	Compartment int // index into Boat.Compartments; -1 for what stands at a point
	Units       int
}

// Taken is how many whole units of a store are used up on a day, the first of the trip being 1. They go evenly, what is
// gone at the end of each day rounded to the nearest whole unit, as internal/stowing rounds it. A store that is kept
// gives none.
func Taken(s *model.Store, day int) int { return gone(s, day) - gone(s, day-1) }

// Left is how many whole units of a store are still there at the end of a day; day 0 is the departure.
func Left(s *model.Store, day int) int { return whole(s) - gone(s, day) }

// whole is the count of a row; one that says none is one thing.
func whole(s *model.Store) int { return max(1, s.Count) }

// gone is how many units are used up at the end of a day.
func gone(s *model.Store, day int) int {
	if s.Use.Last == 0 {
		return 0
	}
	days := s.Use.Last - s.Use.First + 1
	k := min(max(day-s.Use.First+1, 0), days)
	return (2*whole(s)*k + days) / (2 * days)
}

// Calendar is what is taken out of each compartment on each day, the first day at 0: over the voyage's days, or until the
// last store is used up where that is later. The takes of a day stand by the compartments' numbers, then in the order of the stores.
//
// A row by itself is taken as Taken says. Rows of one kind that are used over the same days, bags to port and bags to starboard, are
// taken in turn, as one row would be that holds them all: one a day, not one of each on every second day.
func Calendar(f *model.Folder) [][]Take {
	out := make([][]Take, f.LastDay())
	for i, left := range Stocks(f) {
		for day := 1; day < len(left); day++ {
			if n := left[day-1] - left[day]; n > 0 {
				out[day-1] = append(out[day-1], Take{Store: i, Compartment: f.Stores[i].Where.Compartment, Units: n})
			}
		}
	}
	place := order(f)
	for _, takes := range out {
		slices.SortStableFunc(takes, func(a, b Take) int { return cmp.Compare(place[a.Compartment], place[b.Compartment]) })
	}
	return out
}

// kind is what rows share that are taken in turn.
type kind struct {
	group       string
	mass        units.Mass
	volume      units.Volume
	first, last int
	into        model.Place
}

// Stocks is how many whole units of each store are left at the end of each day, day 0 the departure, by Calendar: of a row
// by itself what Left says, of rows taken in turn at most a unit from it, and of them all together the same as of one row.
func Stocks(f *model.Folder) [][]int {
	out := make([][]int, len(f.Stores))
	alike := map[kind][]int{}
	for i := range f.Stores {
		s := &f.Stores[i]
		out[i] = make([]int, f.LastDay()+1)
		for d := range out[i] {
			out[i][d] = Left(s, d)
		}
		if s.Use.Last > 0 && s.Group != "" {
			k := kind{group: model.PlainName(s.Group), mass: s.Mass.Value, volume: s.Volume, first: s.Use.First, last: s.Use.Last, into: model.Place{Compartment: -2}}
			if s.Use.Into != nil {
				k.into = *s.Use.Into
			}
			alike[k] = append(alike[k], i)
		}
	}
	for k, rows := range alike {
		if len(rows) > 1 {
			inTurn(f, out, rows, k)
		}
	}
	return out
}

// inTurn takes rows of one kind in turn: each unit out of the row that is furthest behind its even share, as internal/stowing takes
// one item out of several places.
func inTurn(f *model.Folder, out [][]int, rows []int, k kind) {
	all := model.Store{Use: model.Use{First: k.first, Last: k.last}}
	for _, r := range rows {
		all.Count += whole(&f.Stores[r])
	}
	taken := make([]int, len(rows))
	done := 0
	for d := k.first; d < len(out[rows[0]]); d++ {
		for ; done < gone(&all, d); done++ {
			best, lag := -1, math.MinInt
			for i, r := range rows {
				n := whole(&f.Stores[r])
				if l := n*(done+1) - taken[i]*all.Count; taken[i] < n && l > lag {
					best, lag = i, l
				}
			}
			taken[best]++
		}
		for i, r := range rows {
			out[r][d] = whole(&f.Stores[r]) - taken[i]
		}
	}
}

// order is where each compartment comes in a list, by its index: by number, those without one behind the others in the
// order of the file, and last, at -1, what stands at a point.
func order(f *model.Folder) map[int]int {
	all := make([]int, len(f.Boat.Compartments))
	for i := range all {
		all[i] = i
	}
	number := func(i int) int {
		if n := f.Boat.Compartments[i].Number; n > 0 {
			return n
		}
		return int(^uint(0) >> 1)
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(number(a), number(b)) })
	out := map[int]int{-1: len(all)}
	for k, i := range all {
		out[i] = k
	}
	return out
}
