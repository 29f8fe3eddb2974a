package sustenance

import (
	"fmt"
	"math"
)

// Steps are the shares of the rations that crews step down by.
//
// Source: full, three quarters, three fifths: crews' custom, no source; a half is the least that is offered
var Steps = []float64{1, 0.75, 0.60, 0.50}

// LeastCut is the least cut of the rations, from a day on, with which the food lasts until another.
//
// In:     the day from which rations are cut (today), and how many days after leaving the food must last; cuts already
// in the plan that begin earlier are kept, later ones dropped
// Out:    share of the full rations to give out, 1 when no cut is needed
// Error:  ErrInput: a day in the past, or not even nothing would do: the food is gone before that day
// Good to: 1e-4 of the ration; the plan's middle case, so give a day that is late enough
// Source: bisection on the ledger: what leaves the stores never falls as the share grows
func (p *Plan) LeastCut(from int, until float64) (float64, error) {
	if err := first(p.valid(), within("the day of the cut", float64(from), 0, most-1, ""), within("the day until which food must last", until, float64(from), most, "")); err != nil {
		return 0, err
	}
	lasts := func(share float64) (bool, error) {
		days, err := p.cut(from, share).foodDays()
		return days >= until, err
	}
	if ok, err := lasts(1); ok || err != nil {
		return 1, err
	}
	if ok, err := lasts(1e-6); !ok || err != nil {
		return 0, first(err, fmt.Errorf("%w: the food is gone before day %g whatever is cut from day %d on", ErrInput, until, from))
	}
	low, high := 1e-6, 1.0
	for high-low > 1e-4 {
		mid := (low + high) / 2
		ok, err := lasts(mid)
		if err != nil {
			return 0, err
		}
		if ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low, nil
}

// Latest is the last day on which a cut to so much can begin and the food still last until another day.
//
// Out:    false when the cut is too little even if it begins on day from
// Error:  ErrInput
// Source: bisection on the ledger, day by day
func (p *Plan) Latest(from int, share, until float64) (int, bool, error) {
	if err := first(p.valid(), within("the first day of the cut", float64(from), 0, most-1, ""), within("the share", share, 0, 2, ""), within("the day until which food must last", until, float64(from), most, "")); err != nil {
		return 0, false, err
	}
	lasts := func(day int) (bool, error) {
		days, err := p.cut(day, share).foodDays()
		return days >= until, err
	}
	if ok, err := lasts(from); !ok || err != nil {
		return 0, false, err
	}
	low, high := from, int(math.Ceil(until))+1
	for high-low > 1 {
		mid := (low + high) / 2
		ok, err := lasts(mid)
		if err != nil {
			return 0, false, err
		}
		if ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low, true, nil
}

// cut is the plan with the rations cut from a day on.
func (p *Plan) cut(from int, share float64) *Plan {
	q := *p
	q.Cuts = nil
	for _, c := range p.Cuts {
		if c.From < from {
			q.Cuts = append(q.Cuts, c)
		}
	}
	q.Cuts = append(q.Cuts, Cut{From: from, Share: share})
	return &q
}

// foodDays is how long the food lasts in the middle case, days.
func (p *Plan) foodDays() (float64, error) {
	var t tally
	food, _, err := t.lasting(p, asIs, 0, true)
	return food, err
}

// Choice is one way to make the food last.
type Choice struct {
	Share  float64 // of the full rations
	From   int     // day on which it begins
	Starts string  // "now" or "as late as may be"
	Lasts  float64 // days of food
	Mass   []Value // kg of each rower on the last day
	Lost   []Value // share of each rower's mass
	Says   string  // the worst of them
}

// Choices are the ways to make the food last until a day: the least cut now; and each of Steps begun as late as may be.
// Early and little costs the body less than late and much, and waiting closes choices; the worst is to wait until none
// is left.
//
// In:     today, and how many days after leaving the food must last
// Out:    nothing when the full rations last; a step that would not do even now is left out
// Error:  ErrInput
// Source: LeastCut, Latest, Ledger
func (p *Plan) Choices(today int, until float64) ([]Choice, error) {
	least, err := p.LeastCut(today, until)
	if err != nil || least == 1 {
		return nil, err
	}
	out := []Choice{{Share: least, From: today, Starts: "now"}}
	for _, s := range Steps {
		day, ok, err := p.Latest(today, s, until)
		if err != nil {
			return nil, err
		}
		if ok && s < 1 {
			out = append(out, Choice{Share: s, From: day, Starts: "as late as may be"})
		}
	}
	for i := range out {
		c := &out[i]
		q := p.cut(c.From, c.Share)
		q.Days = max(1, int(math.Ceil(until)))
		if c.Lasts, err = q.foodDays(); err != nil {
			return nil, err
		}
		l, err := q.Ledger()
		if err != nil {
			return nil, err
		}
		worst := 0.0
		for _, r := range l.Days[q.Days-1].Each {
			c.Mass, c.Lost = append(c.Mass, r.Mass), append(c.Lost, r.Lost)
			worst = math.Max(worst, r.Lost.Value)
		}
		c.Says = Wasting(worst)
	}
	return out, nil
}

// Extra is what more days weigh, kg for all: food by the last bag packed, and the water that the makers do not make.
//
// In:     days more than are packed
// Error:  ErrInput
// Source: the ledger's mean need over the plan's days, less the most that the makers which last make in fair conditions
func (p *Plan) Extra(days int) (food, water float64, err error) {
	if err := within("the extra days", float64(days), 0, most, ""); err != nil {
		return 0, 0, err
	}
	l, err := p.Ledger()
	if err != nil {
		return 0, 0, err
	}
	if n := len(p.Rations); n > 0 {
		food = float64(days*len(p.Rowers)) * p.Rations[n-1].Mass
	}
	need := 0.0
	for _, d := range l.Days {
		need += d.Water.Value / float64(len(l.Days))
	}
	for _, m := range p.Makers {
		if m.Breaks == 0 {
			need -= m.PerHour.Value * m.Hours
		}
	}
	return food, math.Max(0, need) * float64(days), nil
}

// WaterToCarry is the drinking water with which nobody is short on the plan's days, kg: what is needed over what the
// machines make, added up to the worst day. Hand pumps do not come into it: they are worked when the tank is empty.
//
// Error:  ErrInput
// Source: the ledger kept with more water than can be drunk
func (p *Plan) WaterToCarry() (Value, error) {
	if err := p.valid(); err != nil {
		return Value{}, err
	}
	q := *p
	const plenty = 1e5
	q.Stock.Drinking = plenty
	carry := func(k knob, way float64) (float64, error) {
		var t tally
		if err := t.start(&q, k, way); err != nil {
			return 0, err
		}
		least := plenty
		for d := range q.Days {
			c, err := q.on(d)
			if err != nil {
				return 0, err
			}
			t.step(d, c)
			least = math.Min(least, t.left)
		}
		return plenty - least, nil
	}
	middle, err := carry(asIs, 0)
	square := 0.0
	for k := asIs + 1; k < knobs && err == nil; k++ {
		up, err1 := carry(k, 1)
		down, err2 := carry(k, -1)
		err = first(err1, err2)
		square += (up - down) * (up - down) / 4
	}
	return Value{middle, math.Sqrt(square)}, err
}
