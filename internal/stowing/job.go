package stowing

import (
	"fmt"
	"math"
)

// job is a problem, checked and worked out once.
type job struct {
	*Problem
	w       Weights
	block   int         // days of a block
	ends    []int       // the check days: 0, then the end of each block
	span    []float64   // of each block: its share of the days
	need    [][]int     // item → block → units used; nil for what is kept
	daily   [][]int     // item → day-1 → units used
	goes    [][]bool    // item → place: no rule about the two alone forbids it
	most    [][]int     // item → place: how many units fit there at most
	share   []int       // item: units in one place from which the share is broken (its units: no wish)
	far     [][]float64 // item → place: steps of reach too far
	apart   [][]bool    // item → item
	fresh   [][]float64 // item → place: what it costs that it lies there at all, as it does not now
	each    []float64   // item: what each further place costs
	keeps   [][][]int   // item → place: the Keeps for which it counts there
	final   []int       // item: the last block in which it is used; -1 for what is kept
	classes [][]int     // used items that may lie in the same places, by class
	rest    []Load
	limits  []Limits
}

// slack is what counts as rounding in volumes (m³), masses (kg) and moments (kg m).
const slack = 1e-6

// prepare checks a problem and works out what does not depend on the plan.
//
// Error: words that name the place, item or day
func prepare(p *Problem) (*job, error) {
	j := &job{Problem: p, w: p.Weights}
	if j.w == (Weights{}) {
		j.w = UsualWeights()
	}
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := j.days(); err != nil {
		return nil, err
	}
	for i := range p.Items {
		it := &p.Items[i]
		goes, most, far := make([]bool, len(p.Places)), make([]int, len(p.Places)), make([]float64, len(p.Places))
		for k := range p.Places {
			goes[k] = !it.Banned[k] && (!it.Dry || !p.Places[k].Wet) && passes(it.Size, p.Places[k].Opening)
			most[k] = fit(it, &p.Places[k])
			if p.Lies {
				goes[k], most[k] = it.Pins[k] > 0, it.Pins[k]
			}
			if !it.AnyReach {
				far[k] = max(0, float64(p.Places[k].Reach-it.Reach))
			}
		}
		share := it.Units
		if it.MostShare > 0 {
			share = max(1, int(math.Floor(it.MostShare*float64(it.Units)+1e-9)))
		}
		j.goes, j.most, j.far, j.share = append(j.goes, goes), append(j.most, most), append(j.far, far), append(j.share, share)
	}
	j.relate()
	j.burden()
	return j, nil
}

// fit is how many units of an item a place takes when nothing else lies there.
func fit(it *Item, pl *Place) int {
	n := float64(it.Units)
	if it.Volume > 0 {
		n = min(n, math.Floor((pl.Volume+slack)/it.Volume))
	}
	if pl.MassLimit > 0 && it.Mass > 0 {
		n = min(n, math.Floor((pl.MassLimit+slack)/it.Mass))
	}
	return int(n)
}

// Passes tells whether a thing goes through an opening of a clear width and height: its two smaller
// sides, the smaller through the smaller, whichever way round that is. Sides or an opening that are all nothing are
// not known, and everything goes through.
func Passes(size [3]float64, opening [2]float64) bool { return passes(size, opening) }

// passes is Passes.
func passes(size [3]float64, opening [2]float64) bool {
	if opening == [2]float64{} {
		return true
	}
	a, b, c := size[0], size[1], size[2]
	if a > b {
		a, b = b, a
	}
	if b > c {
		b, c = c, b
	}
	if a > b {
		a, b = b, a
	}
	small, large := min(opening[0], opening[1]), max(opening[0], opening[1])
	return a <= small+slack && b <= large+slack
}

// relate finds which items must lie apart, and which used items are alike in where they may lie.
func (j *job) relate() {
	names := func(it *Item, group string) bool {
		for _, g := range it.Apart {
			if g == group && g != "" {
				return true
			}
		}
		return false
	}
	class := map[string]int{}
	for a := range j.Items {
		row := make([]bool, len(j.Items))
		for b := range j.Items {
			row[b] = a != b && (names(&j.Items[a], j.Items[b].Group) || names(&j.Items[b], j.Items[a].Group))
		}
		j.apart = append(j.apart, row)
		if j.need[a] == nil {
			continue
		}
		key := fmt.Sprint(j.goes[a], j.Items[a].Group, j.Items[a].Apart)
		k, ok := class[key]
		if !ok {
			k = len(j.classes)
			class[key] = k
			j.classes = append(j.classes, nil)
		}
		j.classes[k] = append(j.classes[k], a)
	}
}

// mostTakes bounds the size of the program: used items × places × blocks.
const mostTakes = 7000

// days cuts the trip into blocks and works out what is used when.
func (j *job) days() error {
	n := j.Trip.Days
	used := 0
	for i := range j.Items {
		if j.Items[i].Last > 0 && j.Items[i].Units > 0 {
			used++
		}
	}
	j.block = j.Trip.Block
	if j.block <= 0 {
		for j.block = 7; j.block < n && used*len(j.Places)*((n+j.block-1)/j.block) > mostTakes; j.block++ {
		}
	}
	j.ends = []int{0}
	for d := 0; d < n; d += j.block {
		end := min(n, d+j.block)
		j.ends = append(j.ends, end)
		j.span = append(j.span, float64(end-d)/float64(n))
	}
	for i := range j.Items {
		it := &j.Items[i]
		if it.Last == 0 || it.Units == 0 {
			j.need, j.daily = append(j.need, nil), append(j.daily, nil)
			continue
		}
		need, daily := make([]int, len(j.span)), make([]int, n)
		for d := it.First; d <= it.Last; d++ {
			daily[d-1] = it.usedBy(d) - it.usedBy(d-1)
			need[(d-1)/j.block] += daily[d-1]
		}
		j.need, j.daily = append(j.need, need), append(j.daily, daily)
	}
	var err error
	if j.rest, err = spread(j.Trip.Rest, n, "loads of all that is not stowed"); err != nil {
		return err
	}
	if len(j.Trip.Limits) == 0 {
		inf := math.Inf(1)
		j.limits, err = spread([]Limits{{-inf, inf, inf, inf}}, n, "limits")
		return err
	}
	j.limits, err = spread(j.Trip.Limits, n, "limits")
	return err
}

// usedBy is how many units are used up after a day: evenly, to the nearest unit.
func (it *Item) usedBy(day int) int {
	days := it.Last - it.First + 1
	k := min(max(day-it.First+1, 0), days)
	return (2*it.Units*k + days) / (2 * days)
}

// spread gives one value a state.
func spread[T any](v []T, days int, what string) ([]T, error) {
	switch len(v) {
	case days + 1:
		return v, nil
	case 0, 1:
		out := make([]T, days+1)
		for d := range out {
			if len(v) == 1 {
				out[d] = v[0]
			}
		}
		return out, nil
	}
	return nil, fmt.Errorf("%d %s are given for the states 0 to %d of the trip: give %d, or one for all", len(v), what, days, days+1)
}

// Masses are the mass of the whole boat in the states 0..Days. They follow from the use
// alone, not from where things lie: from them the caller's hydrostatics give the limits.
func Masses(p *Problem) ([]float64, error) {
	j, err := prepare(p)
	if err != nil {
		return nil, err
	}
	out := make([]float64, p.Trip.Days+1)
	for d := range out {
		out[d] = j.rest[d].Mass
		for i := range p.Items {
			it := &p.Items[i]
			left := it.Units
			if j.need[i] != nil {
				left -= it.usedBy(d)
			}
			out[d] += float64(left) * it.Mass
		}
	}
	return out, nil
}

// Blocks are the first and last day of each block into which the trip is cut.
func Blocks(p *Problem) ([][2]int, error) {
	j, err := prepare(p)
	if err != nil {
		return nil, err
	}
	var out [][2]int
	for b := range j.span {
		out = append(out, [2]int{j.ends[b] + 1, j.ends[b+1]})
	}
	return out, nil
}
