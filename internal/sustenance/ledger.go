package sustenance

import "math"

// OfRower is one rower's day.
type OfRower struct {
	Spent   Value // J
	Offered Value // J given out
	Eaten   Value // J
	Mass    Value // kg at the day's end
	Lost    Value // share of the mass on leaving, water apart
	Fat     Value // kg left
	Needs   Value // kg of water to take in, food's included
	Sweat   Value // kg of it
	Drunk   Value // kg
	Lacks   Value // kg that the body is short of
	Able    Value // share of the usual work that it gives; see Able
}

// OfDay is one day of the ledger. Day 0 is the first.
type OfDay struct {
	Day          int
	Bag          int   // place in the plan's rations of the one that is opened; -1 when none is left
	FoodLeft     Value // J at the day's end, as printed on the bags, emergency food apart
	FoodGone     Value // J eaten or thrown away
	Water        Value // kg that everybody needs
	ForFood      Value // kg of it that goes into dried food
	Made         Value // kg by machine
	ByHand       Value // kg by hand
	HandHours    Value // h of pumping, for all
	Electricity  Value // J for the machines
	DrinkingLeft Value // kg at the day's end, reserve and ballast apart
	Missing      Value // kg that nobody had
	Each         []OfRower
}

// Ledger is the passage day by day.
type Ledger struct {
	Days []OfDay
	Fed  bool // food for every day
	Wet  bool // water for every day
}

// Ledger keeps the plan's ledger for its days, with spreads.
//
// Out:    one day for each of the plan's; each figure's spread is the root of the sum of squares of what it moves by
// when one after the other of resting rate, measured level, chores, stomach, liking, fat, saving, labels, sweat, urine and
// makers is moved both ways by its half width: they have nothing to do with each other; two rowers err together
// Error:  ErrInput
// Good to: the spreads; the straight-line sum of effects understates where a store runs dry
// Source: JCGM 100:2008, 5.1, by differences
func (p *Plan) Ledger() (*Ledger, error) {
	if err := p.valid(); err != nil {
		return nil, err
	}
	on := make([]Conditions, p.Days)
	for d := range on {
		c, err := p.on(d)
		if err != nil {
			return nil, err
		}
		on[d] = c
	}
	n := len(p.Rowers)
	width := int(shared) + n*int(ownParts)
	base, up, down := make([]float64, p.Days*width), make([]float64, p.Days*width), make([]float64, p.Days*width)
	square := make([]float64, p.Days*width)
	var t tally
	if err := t.keep(p, asIs, 0, on, base); err != nil {
		return nil, err
	}
	for k := asIs + 1; k < knobs; k++ {
		if err := first(t.keep(p, k, 1, on, up), t.keep(p, k, -1, on, down)); err != nil {
			return nil, err
		}
		for i := range square {
			half := (up[i] - down[i]) / 2
			square[i] += half * half
		}
	}
	l := &Ledger{Days: make([]OfDay, p.Days), Fed: true, Wet: true}
	each := make([]OfRower, p.Days*n)
	for d := range l.Days {
		at := func(i int) Value { return Value{base[d*width+i], math.Sqrt(square[d*width+i])} }
		day := OfDay{Day: d, Bag: int(base[d*width+opens]), FoodLeft: at(foodLeft), FoodGone: at(foodGone), Water: at(wanted), ForFood: at(forFood), Made: at(made), ByHand: at(byHand),
			HandHours: at(handHours), Electricity: at(electric), DrinkingLeft: at(drinking), Missing: at(missing), Each: each[d*n : (d+1)*n]}
		for r := range n {
			own := func(i int) Value { return at(shared + r*ownParts + i) }
			day.Each[r] = OfRower{Spent: own(spent), Offered: own(offered), Eaten: own(eaten), Mass: own(weight), Lost: own(lost), Fat: own(fatLeft),
				Needs: own(needs), Sweat: own(sweats), Drunk: own(drunk), Lacks: own(lacks), Able: own(able)}
		}
		l.Days[d] = day
		l.Fed = l.Fed && day.FoodLeft.Value > 0
		l.Wet = l.Wet && day.Missing.Value <= 0
	}
	return l, nil
}

// keep fills rows with a whole passage.
func (t *tally) keep(p *Plan, k knob, way float64, on []Conditions, rows []float64) error {
	if err := t.start(p, k, way); err != nil {
		return err
	}
	at := 0
	for d, c := range on {
		t.step(d, c)
		at += copy(rows[at:], t.row[:])
		for i := range p.Rowers {
			at += copy(rows[at:], t.own[i][:])
		}
	}
	return nil
}

// Lasts is how long the stores last, in days, parts of a day counted.
type Lasts struct {
	Food, Water         Value
	FoodEnds, WaterEnds bool // false: they outlast what is counted: 2000 days, and for water 120 after the plan's; the value is then that many
}

// Lasts is how long food and drinking water last, the days after the plan's like its last.
//
// Out:    days until a day's bags, or a day's water, cannot be had in full. Spreads as in Ledger
// Error:  ErrInput
func (p *Plan) Lasts() (Lasts, error) {
	if err := p.valid(); err != nil {
		return Lasts{}, err
	}
	var t tally
	food, water, err := t.lasting(p, asIs, 0, false)
	if err != nil {
		return Lasts{}, err
	}
	var foods, waters float64
	for k := asIs + 1; k < knobs; k++ {
		f1, w1, err1 := t.lasting(p, k, 1, false)
		f2, w2, err2 := t.lasting(p, k, -1, false)
		if err = first(err1, err2); err != nil {
			return Lasts{}, err
		}
		foods += (f1 - f2) * (f1 - f2) / 4
		waters += (w1 - w2) * (w1 - w2) / 4
	}
	return Lasts{Food: Value{food, math.Sqrt(foods)}, Water: Value{water, math.Sqrt(waters)}, FoodEnds: food < most, WaterEnds: water < p.wetDays()}, nil
}

// lasting is when the food and the water run out, in days; the longest that is counted when they do not. When dry the
// water is left out.
func (t *tally) lasting(p *Plan, k knob, way float64, dry bool) (food, water float64, err error) {
	if err = t.start(p, k, way); err != nil {
		return
	}
	t.dry = dry
	food, water = most, p.wetDays()
	var c Conditions
	for d := range most {
		if d < p.Days || d == 0 {
			if c, err = p.on(d); err != nil {
				return
			}
		}
		bags, share := t.food.total()-t.place, p.share(d)
		t.step(d, c)
		if food == most && bags < share*(1-1e-9) {
			food = float64(d) + bags/share
		}
		if water == p.wetDays() && !t.dry && t.row[missing] > 1e-9*t.row[wanted] {
			water = float64(d) + 1 - t.row[missing]/t.row[wanted]
		}
		if t.dry = t.dry || water < p.wetDays() || float64(d+1) >= p.wetDays(); t.dry && food < most {
			break
		}
	}
	return
}

// wetDays is how long the water is counted: past that bodies without food no longer need what the living do.
func (p *Plan) wetDays() float64 { return math.Min(most, float64(p.Days+120)) }
