package faulttree

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Cut is a minimal cut set: the names of what fails, events then causes as in the tree.
type Cut []string

// Options say how far to look. The zero value asks for every cut set within the bounds.
type Options struct {
	Order    int     // most failures in a set; 0 is any number
	Limit    int     // most sets listed for a function; 0 is 10,000
	Vertices int     // bound of a diagram; 0 is 262,144, about 50 MB and half a second
	Work     float64 // bound of trying combinations, in words of 64; 0 is 2e9, about a second
}

// filled are the options with what was left out.
func (o Options) filled() Options {
	if o.Limit <= 0 {
		o.Limit = 10_000
	}
	if o.Vertices <= 0 {
		o.Vertices = 1 << 18
	}
	if o.Work <= 0 {
		o.Work = 2e9
	}
	return o
}

// Found is what ends one function.
type Found struct {
	Function string
	Weight   float64
	// Ended: what has failed already has ended it; there are no cut sets.
	Ended bool
	Cuts  []Cut // by order, then as in the tree
	// UpTo: Cuts holds every minimal cut set of so many failures or fewer. It is the order
	// asked for, or less when something was cut off; -1 when nothing could be tried.
	UpTo int
	// Whole: there is no other minimal cut set of any order.
	Whole bool
	// CutOff says what was left out and why; empty when all that was asked for is here.
	CutOff string
	// ByOrder is how many minimal cut sets there are of 0, 1, 2... failures, listed or not,
	// as far as was looked; Sets is how many in all, 0 when that is not known.
	ByOrder []float64
	Sets    float64
}

// Singles are the failures that end the function alone.
func (f *Found) Singles() []string {
	var names []string
	for _, c := range f.Cuts {
		if len(c) == 1 {
			names = append(names, c[0])
		}
	}
	return names
}

// Cuts finds the minimal cut sets of the named functions, or of all when none is named.
//
// Up to order 3 every combination is tried: the time is known beforehand, and where it
// would pass Work a diagram is tried instead. Above, and for all orders, a diagram is
// built; where it passes its bound the sets of up to 3 are given. Either way UpTo and
// CutOff say what is missing.
//
// Error: Faults when a function is unknown or the order negative; that of the context
func (l *Logic) Cuts(ctx context.Context, o Options, functions ...string) ([]Found, error) {
	at, err := l.functions(functions)
	if err != nil {
		return nil, err
	}
	if o.Order < 0 {
		return nil, Faults{{What: fmt.Sprintf("cut sets of up to %d failures were asked for", o.Order), Mend: "ask for 1 or more, or 0 for all"}}
	}
	o = o.filled()
	found := make([]Found, len(at))
	var rest []int // places in found that combinations must answer
	for i, f := range at {
		found[i] = Found{Function: l.tree.Functions[f].Name, Weight: l.tree.Functions[f].Weight}
		if o.Order >= 1 && o.Order <= 3 {
			rest = append(rest, i)
			continue
		}
		if err := l.whole(ctx, o, l.top(f), &found[i]); errors.Is(err, ErrTooLarge) {
			rest = append(rest, i)
		} else if err != nil {
			return nil, err
		}
	}
	if len(rest) == 0 {
		return found, ctx.Err()
	}
	tops := make([]int32, len(rest))
	for i, j := range rest {
		tops[i] = l.top(at[j])
	}
	asked := o.Order
	grown := asked == 0 || asked > 3
	if grown {
		asked = 3
	}
	short, enough, err := l.combinations(ctx, tops, asked, o.Limit, o.Work)
	if err != nil {
		return nil, err
	}
	for i, j := range rest {
		f := &found[j]
		if !enough && !grown && !short[i].ended {
			if err := l.whole(ctx, o, tops[i], f); err == nil {
				continue
			} else if !errors.Is(err, ErrTooLarge) {
				return nil, err
			}
		}
		l.short(&short[i], f)
		f.CutOff = cutOff(&short[i], o, asked, enough, grown)
	}
	return found, ctx.Err()
}

// Paths finds the minimal path sets: what, holding together, keeps a function going
// whatever else fails. A cause holds when it does not happen. Bounds are as for Cuts.
func (l *Logic) Paths(ctx context.Context, o Options, functions ...string) ([]Found, error) {
	return l.dual().Cuts(ctx, o, functions...)
}

// short takes over what combinations found.
func (l *Logic) short(m *minimal, f *Found) {
	f.Ended = m.ended
	f.UpTo = m.upTo
	f.Cuts = nil
	if m.ended {
		f.Whole = true
		f.ByOrder, f.Sets = []float64{1}, 1
		return
	}
	top := 0
	for k, n := range m.by {
		if n > 0 || k <= m.upTo {
			top = k
		}
	}
	f.ByOrder = make([]float64, top+1)
	sets := make([][]int32, len(m.sets))
	for i := range m.sets {
		sets[i] = m.sets[i][:m.size[i]]
	}
	for k := range f.ByOrder {
		f.ByOrder[k] = float64(m.by[k])
	}
	f.Cuts = l.cuts(sets)
}

// cuts sorts sets of atoms and names them.
func (l *Logic) cuts(sets [][]int32) []Cut {
	for _, s := range sets {
		slices.Sort(s)
	}
	slices.SortFunc(sets, func(a, b []int32) int {
		if c := cmp.Compare(len(a), len(b)); c != 0 {
			return c
		}
		return slices.Compare(a, b)
	})
	cuts := make([]Cut, len(sets))
	for i, s := range sets {
		cuts[i] = make(Cut, len(s))
		for j, a := range s {
			cuts[i][j] = l.name(a)
		}
	}
	return cuts
}

// cutOff is what is missing after trying combinations.
func cutOff(m *minimal, o Options, asked int, enough, grown bool) string {
	if m.ended {
		return ""
	}
	var why []string
	if grown {
		why = append(why, fmt.Sprintf("its diagram grew past %d vertices, so sets of more than %d failures are left out", o.Vertices, asked))
	}
	if !enough {
		why = append(why, fmt.Sprintf("trying sets of %d failures would take too long, so sets of that many or more are left out", max(m.tried, 0)+1))
	}
	if m.full {
		why = append(why, fmt.Sprintf("only the first %d sets are listed", len(m.sets)))
	}
	return strings.Join(why, "; ")
}

// whole finds every minimal cut set of a top, by a diagram, and lists those asked for.
func (l *Logic) whole(ctx context.Context, o Options, top int32, f *Found) error {
	s := newSolver(ctx, l, []int32{top}, o.Vertices)
	fails, err := s.function(top)
	if err != nil {
		return err
	}
	family := s.minimal(fails)
	if s.sets.err != nil {
		return s.sets.err
	}
	if family == always {
		f.Ended, f.Whole = true, true
		f.ByOrder, f.Sets = []float64{1}, 1
		f.UpTo = o.Order
		return nil
	}
	f.ByOrder, f.Sets = s.sets.counts(family, longest)
	for len(f.ByOrder) > 1 && f.ByOrder[len(f.ByOrder)-1] == 0 {
		f.ByOrder = f.ByOrder[:len(f.ByOrder)-1]
	}
	largest := len(f.ByOrder) - 1
	asked := longest
	if o.Order > 0 {
		asked = min(o.Order, longest)
	}
	var sets [][]int32
	full := false
	for k := 1; k <= min(asked, largest) && !full; k++ {
		err := s.sets.list(ctx, family, k, func(levels []int32) bool {
			if len(sets) >= o.Limit {
				full = true
				return false
			}
			set := make([]int32, len(levels))
			for i, v := range levels {
				set[i] = s.atom[v]
			}
			sets = append(sets, set)
			return true
		})
		if err != nil {
			return err
		}
		if !full {
			f.UpTo = k
		}
	}
	f.Cuts = l.cuts(sets)
	f.Whole = float64(len(sets)) == f.Sets
	switch {
	case full:
		f.CutOff = fmt.Sprintf("only the first %d sets are listed, of %.10g in all", len(sets), f.Sets)
	case f.Whole || o.Order > 0:
		f.UpTo = max(o.Order, f.UpTo)
	default:
		f.UpTo = asked
		f.CutOff = fmt.Sprintf("sets of more than %d failures are not listed", longest)
	}
	return nil
}

// Ending is a cut set with all the functions it ends.
type Ending struct {
	Cut    Cut
	Ends   []string // functions that it ends and no part of it does
	Weight float64  // theirs together
}

// Rank puts the cut sets of several functions into one list: fewest failures first, then
// by the weight of all that such a set ends.
func Rank(found []Found) []Ending {
	at := map[string]int{}
	var endings []Ending
	for _, f := range found {
		for _, c := range f.Cuts {
			key := strings.Join(c, "\x00")
			i, ok := at[key]
			if !ok {
				i = len(endings)
				at[key] = i
				endings = append(endings, Ending{Cut: c})
			}
			endings[i].Ends = append(endings[i].Ends, f.Function)
			endings[i].Weight += f.Weight
		}
	}
	slices.SortStableFunc(endings, func(a, b Ending) int {
		if c := cmp.Compare(len(a.Cut), len(b.Cut)); c != 0 {
			return c
		}
		return cmp.Compare(b.Weight, a.Weight)
	})
	return endings
}
