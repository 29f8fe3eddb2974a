package rowing

import (
	"fmt"
	"math"
	"sort"
)

// Part is what can be changed on a set-up.
type Part string

// What can be changed, and which way is positive.
const (
	MoveStretcher Part = "stretcher" // aft
	RaiseHeels    Part = "heels"     // up
	RaiseGate     Part = "gate"      // up
	MoveGate      Part = "gate along the boat"
	WidenSpan     Part = "half span"
	MoveButton    Part = "inboard" // longer, the oar's length as it was
	LengthenOar   Part = "oar's outboard"
	RaiseSeat     Part = "seat" // up
	MoveSeat      Part = "seat along the boat"
)

// Change is one part moved by so much, metres.
type Change struct {
	Part Part
	By   float64
}

// String says it as it would be done: the gate 20 mm higher.
func (c Change) String() string {
	way := map[Part][2]string{
		MoveStretcher: {"the stretcher %s aft", "the stretcher %s forward"}, RaiseHeels: {"the heels %s higher", "the heels %s lower"},
		RaiseGate: {"the gate %s higher", "the gate %s lower"}, MoveGate: {"the gate %s aft", "the gate %s forward"},
		WidenSpan: {"each gate %s further out", "each gate %s further in"}, MoveButton: {"the inboard %s longer", "the inboard %s shorter"},
		LengthenOar: {"the oar %s longer outboard", "the oar %s shorter outboard"},
		RaiseSeat:   {"the seat %s higher", "the seat %s lower"}, MoveSeat: {"the seat %s aft", "the seat %s forward"},
	}[c.Part]
	i := 0
	if c.By < 0 {
		i = 1
	}
	return fmt.Sprintf(way[i], fmt.Sprintf("%.0f mm", math.Abs(c.By)*1000))
}

// With is the set-up with a part changed.
func (s Setup) With(c Change) Setup {
	switch c.Part {
	case MoveStretcher:
		s.Stretcher.X += c.By
	case RaiseHeels:
		s.Stretcher.Z += c.By
	case RaiseGate:
		s.Gate.Z += c.By
	case MoveGate:
		s.Gate.X += c.By
	case WidenSpan:
		s.Gate.Half += c.By
	case MoveButton:
		s.Oar.Inboard += c.By
	case LengthenOar:
		s.Oar.Length += c.By
	case RaiseSeat:
		s.Seat.Height += c.By
	case MoveSeat:
		s.Seat.Fore += c.By
		s.Seat.Aft += c.By
	}
	return s
}

// Mend is a change, or two, with which the set-up fits.
type Mend struct {
	Changes []Change
	// Fits is false for the best that was found where nothing within reach fits; Left is then what still misses.
	Fits bool
	Left []Kind
}

// parts and reaches are what is tried, in the order of the least trouble, and how far. Modelling choice.
var parts = [...]struct {
	part  Part
	reach float64
}{
	{MoveStretcher, 0.40}, {RaiseGate, 0.20}, {MoveButton, 0.20}, {RaiseHeels, 0.20}, {MoveGate, 0.30},
	{LengthenOar, 0.40}, {RaiseSeat, 0.20}, {WidenSpan, 0.20}, {MoveSeat, 0.30},
}

// grid is the fineness to which a change is told, pairGrid where two are made at once, and pairCoarse that of the
// first search for these, metres.
const grid, pairGrid, pairCoarse = 0.005, 0.02, 0.05

// Mends lists, for a set-up that does not fit, the least change of each part by which
// it does, smallest first; nothing if it fits as it is.
//
// In:     waters as for Fit
// Out:    changes to 5 mm. Where no single one does it, a small pair (searched every 50 mm, then to 20 mm), the stretcher with one other;
// where none of these does either, the pair that leaves the least, with Fits false
// Error:  ErrInput
func (s Setup) Mends(waters []Water) ([]Mend, error) {
	if err := s.valid(waters); err != nil {
		return nil, err
	}
	if s.short(waters) == 0 {
		return nil, nil
	}
	out := s.single(waters)
	if len(out) == 0 {
		out = append(out, s.pair(waters))
	}
	return out, nil
}

// short is by how much a set-up misses: the sum of what each check lacks, angles taken at an arm of one metre;
// infinite for one that cannot be.
func (s *Setup) short(waters []Water) float64 {
	if s.valid(waters) != nil {
		return math.Inf(1)
	}
	m := s.margins(waters)
	sum := 0.0
	for i := range m {
		if m[i].counts() && !m[i].Holds() {
			sum -= m[i].Margin
		}
	}
	return sum
}

// single tries each part by itself, nearest first.
func (s Setup) single(waters []Water) []Mend {
	var out []Mend
	for _, p := range parts {
		for i := 1; i <= int(math.Round(p.reach/grid)); i++ {
			found := false
			for _, by := range [2]float64{grid * float64(i), -grid * float64(i)} {
				c := Change{p.part, by}
				if t := s.With(c); t.short(waters) == 0 {
					out, found = append(out, Mend{Changes: []Change{c}, Fits: true}), true
					break
				}
			}
			if found {
				break
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return math.Abs(out[i].Changes[0].By) < math.Abs(out[j].Changes[0].By) })
	return out
}

// pair tries the stretcher together with each other part, coarsely, then finely about the best.
func (s Setup) pair(waters []Water) Mend {
	best, left, least := Mend{}, math.Inf(1), math.Inf(1)
	try := func(a, b Change) {
		t := s.With(a).With(b)
		miss, size := t.short(waters), math.Abs(a.By)+math.Abs(b.By)
		if miss < left || miss == left && size < least {
			left, least = miss, size
			best = Mend{Changes: []Change{a, b}, Fits: miss == 0}
		}
	}
	n := int(math.Round(parts[0].reach / pairCoarse))
	for i := -n; i <= n; i++ {
		for _, p := range parts[1:] {
			k := int(math.Round(p.reach / pairCoarse))
			for j := -k; j <= k; j++ {
				try(Change{MoveStretcher, pairCoarse * float64(i)}, Change{p.part, pairCoarse * float64(j)})
			}
		}
	}
	if len(best.Changes) == 2 {
		a, b := best.Changes[0], best.Changes[1]
		for i := -2; i <= 2; i++ {
			for j := -2; j <= 2; j++ {
				try(Change{a.Part, a.By + pairGrid*float64(i)}, Change{b.Part, b.By + pairGrid*float64(j)})
			}
		}
	}
	kept := best.Changes[:0]
	t := s
	for _, c := range best.Changes {
		if c.By != 0 {
			kept, t = append(kept, c), t.With(c)
		}
	}
	best.Changes = kept
	if !best.Fits {
		m := t.margins(waters)
		for i := range m {
			if m[i].counts() && !m[i].Holds() {
				best.Left = append(best.Left, kinds[i])
			}
		}
	}
	return best
}
