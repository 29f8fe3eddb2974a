package sustenance

import "math"

// Phase is a run of days on one kind of bag: what was packed against what is spent and what is eaten, the mean of its
// days for one rower.
type Phase struct {
	Name        string
	First, Last int   // days of the passage
	Packed      int   // days of these bags that were packed
	Offered     Value // J a day
	Eaten       Value // J a day
	Spent       Value // J a day
}

// Phases are the ledger's days by the bags that were opened. Their spreads are the mean of the days', since what moves
// one day moves all.
func (l *Ledger) Phases(p *Plan) []Phase {
	var out []Phase
	open := math.MinInt
	for _, d := range l.Days {
		if d.Bag != open {
			f := Phase{Name: "no food", First: d.Day, Last: d.Day}
			if d.Bag >= 0 && d.Bag < len(p.Rations) {
				f.Name, f.Packed = p.Rations[d.Bag].Name, p.Rations[d.Bag].Days
			}
			out, open = append(out, f), d.Bag
		}
		f := &out[len(out)-1]
		f.Last = d.Day
		for _, r := range d.Each {
			f.Offered, f.Eaten, f.Spent = plus(f.Offered, r.Offered), plus(f.Eaten, r.Eaten), plus(f.Spent, r.Spent)
		}
	}
	for i := range out {
		f := &out[i]
		n := 1 / float64((f.Last-f.First+1)*max(1, len(p.Rowers)))
		f.Offered, f.Eaten, f.Spent = f.Offered.times(n), f.Eaten.times(n), f.Spent.times(n)
	}
	return out
}

// plus adds two values that err together.
func plus(a, b Value) Value { return Value{a.Value + b.Value, a.Spread + b.Spread} }

// SpareDays is how many days the emergency food keeps the crew who lie and wait, with nothing from their bodies.
//
// Error:  ErrInput
// Source: division by Chores times the resting rates
func (p *Plan) SpareDays() (Value, error) {
	if err := p.valid(); err != nil {
		return Value{}, err
	}
	rate := 0.0
	for _, r := range p.Rowers {
		rest, err := r.Person.Resting(Mifflin)
		if err != nil {
			return Value{}, err
		}
		rate += Chores.Value * rest.Value * Day
	}
	d := p.Spare / rate
	return Value{d, d * math.Hypot(byFormula, Chores.Spread/Chores.Value)}, nil
}
