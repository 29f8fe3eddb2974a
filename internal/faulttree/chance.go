package faulttree

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// Weighed is how much each failure matters to a function, and how likely its end is.
type Weighed struct {
	Function string
	Sets     float64 // minimal cut sets in all
	// Known: probabilities were given; without them the four below it are 0.
	Known bool
	// Exact is the probability that the function ends, by the diagram, failures being
	// independent.
	Exact float64
	// RareEvent is the sum of the probabilities of the minimal cut sets: Exact or more,
	// and near it while probabilities are small. It may pass 1.
	RareEvent float64
	Parts     []Importance // events and causes it depends on, as in the tree
}

// Importance of one event or cause to a function.
type Importance struct {
	Name string
	Kind Kind
	// Structural is the share of all states of the others in which this one decides.
	Structural float64
	// Birnbaum is the probability that this one decides: the change in Exact from its
	// working to its failing.
	Birnbaum float64
	// FussellVesely is the share of RareEvent that is in cut sets with this one.
	FussellVesely float64
}

// Weigh measures every part of a function. The probabilities are of each event failing by
// itself and of each cause happening by itself, over the time asked about; nil for none,
// and then only Structural is known.
//
// Error: Faults for an unknown function or name, a probability missing or outside 0 to 1;
// ErrTooLarge; that of the context
// Good to: rounding; the diagram is exact (TestAgainstEverySubset)
// Source: Birnbaum, "On the importance of different components in a multicomponent
// system", Multivariate Analysis II (1969); Fussell, "How to hand-calculate system
// reliability and safety characteristics", IEEE Transactions on Reliability R-24 (1975);
// rare event: NUREG-0492, ch. XI
func (l *Logic) Weigh(ctx context.Context, o Options, function string, probability map[string]float64) (Weighed, error) {
	at, err := l.functions([]string{function})
	if err != nil {
		return Weighed{}, err
	}
	o = o.filled()
	top := l.top(at[0])
	s := newSolver(ctx, l, []int32{top}, o.Vertices)
	p, err := l.given(s.atom, probability)
	if err != nil {
		return Weighed{}, err
	}
	fails, err := s.function(top)
	var family int32
	if err == nil {
		family = s.minimal(fails)
		err = s.sets.err
	}
	if errors.Is(err, ErrTooLarge) {
		err = fmt.Errorf("%q: %w of %d vertices (ask for its cut sets of up to 3 failures, which need no diagram, or allow more)", function, ErrTooLarge, o.Vertices)
	}
	if err != nil {
		return Weighed{}, err
	}
	w := Weighed{Function: function, Known: probability != nil}
	_, w.Sets = s.sets.counts(family, 0)
	half := make([]float64, len(s.atom))
	for i := range half {
		half[i] = 0.5
	}
	_, structural := s.fails.chance(fails, half)
	var birnbaum, share []float64
	if w.Known {
		w.Exact, birnbaum = s.fails.chance(fails, p)
		w.RareEvent, share = s.sets.sum(family, p)
	}
	level := make([]int32, l.atoms)
	for i := range level {
		level[i] = -1
	}
	for v, a := range s.atom {
		level[a] = int32(v)
	}
	for a, v := range level {
		if v < 0 || l.fixed[a] != 0 {
			continue
		}
		part := Importance{Name: l.name(int32(a)), Kind: l.Kind(l.name(int32(a))), Structural: structural[v]}
		if w.Known {
			part.Birnbaum = birnbaum[v]
			if w.RareEvent > 0 {
				part.FussellVesely = share[v] / w.RareEvent
			}
		}
		w.Parts = append(w.Parts, part)
	}
	return w, nil
}

// given puts probabilities in the order of levels, and finds what is wrong with them.
func (l *Logic) given(atoms []int32, probability map[string]float64) ([]float64, error) {
	if probability == nil {
		return nil, nil
	}
	var faults Faults
	p := make([]float64, len(atoms))
	for v, a := range atoms {
		given, ok := probability[l.name(a)]
		if !ok && l.fixed[a] == 0 {
			faults = append(faults, Fault{l.name(a), "has no probability", "give one from 0 to 1, or none for all"})
		}
		p[v] = given
	}
	known := 0
	for i := range l.atoms {
		given, ok := probability[l.name(int32(i))]
		if !ok {
			continue
		}
		known++
		if math.IsNaN(given) || given < 0 || given > 1 {
			faults = append(faults, Fault{l.name(int32(i)), fmt.Sprintf("has the probability %v", given), "give one from 0 to 1"})
		}
	}
	if known < len(probability) {
		for _, name := range sorted(probability) {
			if at, ok := l.index[name]; !ok || int(at) >= l.atoms {
				faults = append(faults, Fault{name, "has a probability and is not an event or a cause", "leave it out, or correct the name" + near(name, l.index)})
			}
		}
	}
	return p, faults.err()
}

// chance is the probability of a function, and by level how it changes with that of each
// variable: up through the diagram for the one, down again for the other.
func (d *diagram) chance(f int32, p []float64) (float64, []float64) {
	change := make([]float64, len(p))
	if f <= always {
		return float64(f), change
	}
	under := d.under(f)
	up := make([]float64, f+1)
	down := make([]float64, f+1)
	up[always] = 1
	for _, n := range under {
		v := d.at[n]
		up[n] = p[v.level]*up[v.hi] + (1-p[v.level])*up[v.lo]
	}
	down[f] = 1
	for i := len(under) - 1; i >= 0; i-- {
		n := under[i]
		v := d.at[n]
		change[v.level] += down[n] * (up[v.hi] - up[v.lo])
		down[v.hi] += down[n] * p[v.level]
		down[v.lo] += down[n] * (1 - p[v.level])
	}
	return up[f], change
}

// sum is the sum of the probabilities of all sets of a family, and by level that of the
// sets which hold it.
func (d *diagram) sum(family int32, p []float64) (float64, []float64) {
	share := make([]float64, len(p))
	if family <= always {
		return float64(family), share
	}
	under := d.under(family)
	up := make([]float64, family+1)
	down := make([]float64, family+1)
	up[always] = 1
	for _, n := range under {
		v := d.at[n]
		up[n] = p[v.level]*up[v.hi] + up[v.lo]
	}
	down[family] = 1
	for i := len(under) - 1; i >= 0; i-- {
		n := under[i]
		v := d.at[n]
		share[v.level] += down[n] * p[v.level] * up[v.hi]
		down[v.hi] += down[n] * p[v.level]
		down[v.lo] += down[n]
	}
	return up[family], share
}
