package sustenance

import "math"

// crew is the most rowers in a plan.
const crew = 8

// What is kept of a day for all, and for each rower; the places in a row of the tally.
const (
	foodLeft  = iota // J at the day's end
	foodGone         // J eaten or thrown away
	wanted           // kg of water that everybody needs
	forFood          // kg of it that goes into dried food
	made             // kg by machine
	byHand           // kg by hand
	handHours        // h of pumping
	electric         // J
	drinking         // kg of drinking water left at the day's end
	missing          // kg that nobody had
	opens            // place of the ration in the plan
	shared           // how many there are
)

const (
	spent = iota // J
	offered
	eaten
	weight   // kg at the day's end
	lost     // share of the mass on leaving
	fatLeft  // kg
	needs    // kg of water
	sweats   // kg
	drunk    // kg
	lacks    // kg of water that the body is short of
	least    // kg of water, were the urine as little as can be
	able     // share of the usual work that the body gives
	ownParts // how many there are
)

// knob is one of the things that are not well known; the ledger is kept once more with each moved by its half width.
type knob int

const (
	asIs       knob = iota
	restKnob        // resting rate by formula
	levelKnob       // what ocean rowers spend
	choresKnob      // what a day without rowing costs
	mostKnob        // what a stomach takes
	likedKnob       // what of the food is liked
	fatKnob         // the body's fat
	adaptKnob       // how far the body saves
	labelKnob       // what is in the bags
	sweatKnob       // how much this person sweats
	urineKnob       // how much they pass
	makesKnob       // what the makers make
	knobs           // how many there are
)

// label is how far the energy in the bags is from what is printed, 19 in 20. Modelling choice.
const label = 0.08

// tally keeps the ledger of one plan with one knob moved. It allocates only when it is made.
type tally struct {
	plan   *Plan
	food   opened
	dry    bool // leave the water out
	rest   [crew]float64
	idle   [crew]float64 // W off the oars
	work   [crew]float64 // W burnt at the oars beyond resting
	power  [crew]float64 // W at the handle
	most   [crew]float64 // W that a stomach takes
	liked  [crew]float64
	urine  [crew]float64
	before [crew]Body
	body   [crew]Body
	lack   [crew]float64
	place  float64 // up to which the bags are gone
	left   float64 // kg of drinking water
	adapt  float64
	actual float64 // what is in a bag over what is printed
	sweat  float64
	makes  [makersMost]float64 // kg an hour
	row    [shared]float64
	own    [crew][ownParts]float64
}

// makersMost is the most makers of water in a plan.
const makersMost = 8

// start makes the tally ready for day 0.
func (t *tally) start(p *Plan, k knob, way float64) error {
	*t = tally{plan: p, food: p.Rations.open(), left: p.Stock.Drinking, adapt: adapting, actual: 1, sweat: 1}
	move := func(which knob) float64 {
		if k == which {
			return way
		}
		return 0
	}
	for i := range p.Rowers {
		r := &p.Rowers[i]
		rest, err := r.Person.Resting(Mifflin)
		if err != nil {
			return err
		}
		t.rest[i] = rest.Value * (1 + move(restKnob)*byFormula)
		m, near := Measured(r.Person.Sex), math.Min(1, r.Habit.Hours/fewest)
		level := r.Person.level(r.Habit.Hours).Value
		moved := level + move(levelKnob)*m.Spread*near
		t.idle[i] = (Chores.Value + move(choresKnob)*Chores.Spread*(1-near)) * t.rest[i]
		if h := r.Habit.Hours; h >= shortest && r.Habit.Power > 0 {
			t.work[i] = math.Max(0, moved*24-Chores.Value*(24-h)-h) * t.rest[i] / h
			t.power[i] = t.work[i] * Net.Value
		}
		a := r.Appetite
		t.most[i] = math.Max(0, a.Most.Value+move(mostKnob)*a.Most.Spread) * t.rest[i]
		// Who spends more than told eats more in proportion: were the two errors apart, the mass lost would be three
		// times as uncertain as it was found to be.
		hungry := t.rest[i] / rest.Value * moved / level
		t.liked[i] = clamp((a.Liked.Value+move(likedKnob)*a.Liked.Spread)*hungry, 0, 1)
		t.urine[i] = math.Max(Scant().Urine.Value, r.Thirst.Urine.Value+move(urineKnob)*r.Thirst.Urine.Spread)
		t.before[i] = r.Person.body(move(fatKnob))
		t.body[i] = t.before[i]
	}
	t.adapt *= 1 + move(adaptKnob)
	t.actual += move(labelKnob) * label
	t.sweat += move(sweatKnob) * Sweating
	for i, m := range p.Makers {
		t.makes[i] = math.Max(0, m.PerHour.Value+move(makesKnob)*m.PerHour.Spread)
	}
	return nil
}

// step keeps one day.
func (t *tally) step(day int, c Conditions) {
	p := t.plan
	cut := p.share(day)
	which := t.food.which(t.place)
	full := 0.0
	if which >= 0 {
		full = p.Rations[which].Energy
	}
	before, dry := t.food.upTo(t.place)
	give, wets := t.food.upTo(t.place + cut)
	give, wets = give-before, wets-dry
	if t.place >= t.food.total()-1e-9 {
		which = -1
	}
	t.row = [shared]float64{opens: float64(which)}
	sum, rowers := 0.0, float64(len(p.Rowers))
	for i := range p.Rowers {
		r, own := &p.Rowers[i], &t.own[i]
		hours := math.Min(24, r.Habit.Hours*c.Rows)
		gives := Able(1 - t.body[i].Mass()/t.before[i].Mass())
		work := t.work[i] * gives
		spends := (t.idle[i]*(24-hours) + (t.rest[i]+work)*hours) * Hour
		spends -= (Chores.Value*t.body[i].rests(t.before[i]) + t.body[i].Saved) * Day
		spends = math.Max(spends, 0.5*t.rest[i]*Day)
		eats := r.Appetite.eats(give, full*math.Max(1, cut), t.most[i]/t.actual, t.liked[i], float64(day))
		t.row[foodGone] += eats + (give-eats)*(1-r.Appetite.Kept)
		t.body[i] = t.body[i].after(eats*t.actual, spends, t.adapt)
		*own = [ownParts]float64{spent: spends, offered: give * t.actual, eaten: eats * t.actual, fatLeft: t.body[i].Fat, able: gives}
		if give > 0 {
			t.row[forFood] += wets * eats / give
		}
		if !t.dry {
			l := r.Person.losses(dayOf(t, i, r, c, hours, gives, spends), t.sweat)
			own[needs] = math.Max(l.Need, wets*eats/math.Max(1, give))
			own[least] = math.Max(0, l.Need-(t.urine[i]-Scant().Urine.Value)-r.Thirst.Wash)
			own[sweats] = l.SweatRowing + l.SweatResting
			sum += own[needs]
		}
	}
	// Empty bags are opened and done with; of the others so much of the day's is gone as was eaten or thrown away.
	t.place = clamp(t.food.place(before+t.row[foodGone]/rowers), t.place, math.Min(t.place+cut, t.food.total()))
	left, _ := t.food.upTo(t.place)
	t.row[foodLeft] = (t.food.energy[len(t.food.energy)-1] - left) * rowers
	t.row[wanted] = sum
	if !t.dry {
		t.pour(day, c)
	}
	for i := range p.Rowers {
		own := &t.own[i]
		own[lacks] = t.lack[i]
		own[weight] = t.body[i].Mass() - t.lack[i]
		own[lost] = 1 - t.body[i].Mass()/t.before[i].Mass()
	}
}

// dayOf is what a rower's losses of water follow from.
func dayOf(t *tally, i int, r *Rower, c Conditions, hours, able, spends float64) day {
	th := r.Thirst
	th.Urine.Value = t.urine[i]
	return day{rowing: t.rest[i] + t.work[i]*able, power: t.power[i] * able, hours: hours, resting: t.idle[i], burnt: spends,
		out: c.Out, in: c.In, at: r.Oars, off: r.Cabin, thirst: th, diet: t.plan.Diet}
}

// pour makes, draws and shares out the day's water: machines fill up what was drunk, the tank serves the rest, and
// hands pump only what is missing then. The sealed reserve and the ballast are not touched.
func (t *tally) pour(day int, c Conditions) {
	p, row := t.plan, &t.row
	t.left -= row[wanted]
	for hand := range 2 {
		for i, m := range p.Makers {
			if m.Hand != (hand == 1) || !m.works(day) || t.makes[i] <= 0 {
				continue
			}
			fill, hours := p.Stock.Drinking, math.Min(24, m.Hours*c.Makes)
			if m.Hand {
				fill, hours = 0, m.Hours
			}
			kg := clamp(fill-t.left, 0, t.makes[i]*hours)
			t.left += kg
			if m.Hand {
				row[byHand] += kg
				row[handHours] += kg / t.makes[i]
			} else {
				row[made] += kg
				row[electric] += kg * m.Energy
			}
		}
	}
	row[missing] = math.Max(0, -t.left)
	t.left = math.Max(0, t.left)
	row[drinking] = t.left
	part := 1.0
	if row[wanted] > 0 {
		part = 1 - row[missing]/row[wanted]
	}
	for i := range p.Rowers {
		own := &t.own[i]
		own[drunk] = own[needs] * part
		t.lack[i] = math.Max(0, t.lack[i]+own[least]-own[drunk])
	}
}
