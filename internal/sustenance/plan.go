package sustenance

import "fmt"

// Rower is one of the crew with their habits.
type Rower struct {
	Person   Person
	Habit    Habit
	Appetite Appetite
	Oars     Dress
	Cabin    Dress
	Thirst   Thirst
}

// Usual is a rower with everything but the body and the habit taken for granted.
func Usual(p Person, h Habit) Rower {
	return Rower{Person: p, Habit: h, Appetite: AtSea(p.Sex), Oars: AtTheOars(), Cabin: InTheCabin(), Thirst: Plenty()}
}

// Conditions are one day's.
type Conditions struct {
	Out, In Air     // at the oars and in the cabin
	Rows    float64 // hours rowed over the usual hours: 1 on a usual day, 0 on a sea anchor
	Makes   float64 // hours that the electric makers may run over those they have: 1 in good sun
}

// Trades is a fair day in the trade winds: the conditions taken when none are given.
//
// Source: 26 C and 80 per cent, the trades' usual air (marine climatologies, from memory); three metres a second at
// the height of a rower running before 7 m/s, 350 W/m2 of sun as the mean of the hours rowed by day and by night: modelling choices
func Trades() Conditions {
	return Conditions{Out: Air{Celsius: 26, Humidity: 0.80, Wind: 3, Sun: 350}, In: Air{Celsius: 28, Humidity: 0.80, Wind: 0.3}, Rows: 1, Makes: 1}
}

// Cut is a share of the rations that is given out from a day on.
type Cut struct {
	From  int
	Share float64
}

// Plan is the crew, what they carry and what they meet. Nothing in it is changed by asking.
type Plan struct {
	Rowers  []Rower
	Rations Rations // for each rower alike
	Spare   float64 // J of emergency food for all, kept apart
	Cuts    []Cut   // in the order of the days
	Diet    Diet
	Stock   Stock
	Makers  []Maker
	Days    int                      // of the passage
	On      func(day int) Conditions // nil: Trades every day
}

// most is the longest run of days that is counted.
const most = 2000

// valid checks a plan.
func (p *Plan) valid() error {
	if len(p.Rowers) < 1 || len(p.Rowers) > crew {
		return fmt.Errorf("%w: %d rowers; give 1 to %d", ErrInput, len(p.Rowers), crew)
	}
	err := first(p.Rations.valid(), p.Diet.valid(), p.Stock.valid(), within("the emergency food", p.Spare, 0, 1e11, "J"), within("the days of the passage", float64(p.Days), 1, most, ""))
	for _, r := range p.Rowers {
		err = first(err, r.Person.valid(), r.Appetite.valid(), r.Oars.valid(), r.Cabin.valid(), r.Thirst.valid(),
			within("the hours at the oars", r.Habit.Hours, 0, 24, "h"), within("the power", r.Habit.Power, 0, 1000, "W"))
	}
	for i, m := range p.Makers {
		if e := m.valid(); e != nil {
			err = first(err, fmt.Errorf("%s: %w", describe(i, m), e))
		}
	}
	if len(p.Makers) > makersMost {
		err = first(err, fmt.Errorf("%w: %d makers of water; give %d at most", ErrInput, len(p.Makers), makersMost))
	}
	last := -1
	for _, c := range p.Cuts {
		err = first(err, within("the share of a cut", c.Share, 0, 2, ""), within("the day of a cut, after the one before", float64(c.From), float64(last), most, ""))
		last = c.From
	}
	return err
}

// share is what of the rations is given out on a day.
func (p *Plan) share(day int) float64 {
	s := 1.0
	for _, c := range p.Cuts {
		if day >= c.From {
			s = c.Share
		}
	}
	return s
}

// on is the day's conditions, checked.
func (p *Plan) on(day int) (Conditions, error) {
	if p.On == nil {
		return Trades(), nil
	}
	c := p.On(day)
	err := first(c.Out.valid(), c.In.valid(), within("the hours rowed over the usual", c.Rows, 0, 24, ""), within("the makers' hours over those they have", c.Makes, 0, 24, ""))
	if err != nil {
		err = fmt.Errorf("day %d: %w", day, err)
	}
	return c, err
}
