package stowing

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// check refuses a problem with numbers that mean nothing.
func (p *Problem) check() error {
	if len(p.Places) == 0 {
		return fmt.Errorf("there is no place to stow anything in: name at least one")
	}
	if p.Trip.Days < 0 || p.Trip.Block < 0 {
		return fmt.Errorf("a trip of %d days in blocks of %d makes no sense: give numbers of 0 or more", p.Trip.Days, p.Trip.Block)
	}
	for k := range p.Places {
		pl := &p.Places[k]
		for _, v := range []float64{pl.Volume, pl.Opening[0], pl.Opening[1], pl.MassLimit} {
			if !(v >= 0) || math.IsInf(v, 0) {
				return fmt.Errorf("place %q (number %d) has a volume, opening or mass limit of %v: give a number of 0 or more", pl.Name, k, v)
			}
		}
		if !isVec(pl.At) {
			return fmt.Errorf("place %q (number %d) lies at %v: give numbers", pl.Name, k, pl.At)
		}
		if (pl.Opening[0] == 0) != (pl.Opening[1] == 0) {
			return fmt.Errorf("place %q (number %d) has an opening of %v by %v: give both sides, or neither", pl.Name, k, pl.Opening[0], pl.Opening[1])
		}
		if pl.Reach < 0 || pl.Reach >= reaches {
			return fmt.Errorf("place %q (number %d) has reach %d, and there are 0 to %d", pl.Name, k, pl.Reach, reaches-1)
		}
	}
	for i := range p.Items {
		if err := p.checkItem(i); err != nil {
			return err
		}
	}
	for n := range p.Keeps {
		for _, o := range p.Keeps[n].Of {
			if o.Item < 0 || o.Item >= len(p.Items) || o.Place < 0 || o.Place >= len(p.Places) || p.Keeps[n].Least < 0 {
				return fmt.Errorf("%d units are to be kept of item number %d in place number %d (%s): items are 0 to %d, places 0 to %d", p.Keeps[n].Least, o.Item, o.Place, p.Keeps[n].Name, len(p.Items)-1, len(p.Places)-1)
			}
		}
	}
	for d, l := range p.Trip.Rest {
		if !isVec(l.Moment) || math.IsNaN(l.Mass) || math.IsInf(l.Mass, 0) {
			return fmt.Errorf("the load of all that is not stowed in state %d is %v: give numbers", d, l)
		}
	}
	for d, l := range p.Trip.Limits {
		if math.IsNaN(l.XMin+l.XMax) && !(math.IsInf(l.XMin, -1) && math.IsInf(l.XMax, 1)) || math.IsNaN(l.YMax) || math.IsNaN(l.ZMax) || l.XMin > l.XMax || l.YMax < 0 {
			return fmt.Errorf("the limits of state %d are %v: give the smaller bound first, no negative heel, and ±Inf for no limit", d, l)
		}
	}
	w := p.Weights
	for _, v := range []float64{w.Open[0], w.Open[1], w.Open[2], w.Spread, w.Part, w.Move, w.Trim, w.Heel, w.Height, w.Share, w.Reach} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("a weight is %v: give numbers of 0 or more", v)
		}
	}
	return nil
}

// checkItem refuses an item with numbers that mean nothing.
func (p *Problem) checkItem(i int) error {
	it := &p.Items[i]
	for _, v := range []float64{it.Mass, it.Volume, it.Size[0], it.Size[1], it.Size[2], it.MostShare} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("item %q (number %d) has a mass, volume, size or share of %v: give a number of 0 or more", it.Name, i, v)
		}
	}
	if it.Units < 0 || it.MostShare > 1 || it.Reach < 0 || it.Reach >= reaches {
		return fmt.Errorf("item %q (number %d) has %d units, a largest share of %v and reach %d: give units of 0 or more, a share up to 1 and a reach of 0 to %d", it.Name, i, it.Units, it.MostShare, it.Reach, reaches-1)
	}
	if it.First != 0 || it.Last != 0 {
		if it.First < 1 || it.Last < it.First || it.Last > p.Trip.Days {
			return fmt.Errorf("item %q (number %d) is used from day %d to day %d, and the trip has the days 1 to %d", it.Name, i, it.First, it.Last, p.Trip.Days)
		}
	}
	sum := 0
	for k, n := range it.Pins {
		if k < 0 || k >= len(p.Places) || n < 0 {
			return fmt.Errorf("item %q (number %d) has %d units pinned in place number %d: the places are 0 to %d", it.Name, i, n, k, len(p.Places)-1)
		}
		sum += n
	}
	if sum > it.Units {
		return fmt.Errorf("item %q (number %d) has %d units pinned and only %d units", it.Name, i, sum, it.Units)
	}
	if p.Lies && sum != it.Units {
		return fmt.Errorf("item %q (number %d) has %d units and lies with %d in known places: where everything already lies, pin all units", it.Name, i, it.Units, sum)
	}
	for k := range it.Banned {
		if k < 0 || k >= len(p.Places) {
			return fmt.Errorf("item %q (number %d) is banned from place number %d: the places are 0 to %d", it.Name, i, k, len(p.Places)-1)
		}
	}
	for k := range it.Was {
		if k < 0 || k >= len(p.Places) {
			return fmt.Errorf("item %q (number %d) lies in place number %d: the places are 0 to %d", it.Name, i, k, len(p.Places)-1)
		}
	}
	return nil
}

// isVec tells whether a vector has finite numbers.
func isVec(v r3.Vec) bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}
