package answer

import (
	"fmt"
	"math"
	"sync"

	"thole/internal/afloat"
	"thole/internal/model"
	"thole/internal/units"
)

// Case is one boat folder made ready to be asked. What several questions need
// (the stack of cuts above all) is worked out once, at the first asking.
// A Case may be asked by many goroutines at once.
type Case struct {
	Folder *model.Folder

	once  sync.Once
	from  *Case // until the trip is made
	trip  *afloat.Trip
	fault error

	own   shelf
	shape *shelf // shared by cases of one shape; set with trip
}

// NewCase makes a folder ready to be asked.
func NewCase(f *model.Folder) *Case { return &Case{Folder: f} }

// NewCaseFrom is NewCase for a folder that differs little from another: what is worked out from
// parts that are alike (the shape, above all) is taken from base.
func NewCaseFrom(f *model.Folder, base *Case) *Case { return &Case{Folder: f, from: base} }

// Trip is the boat afloat on every day.
//
// Error: the shape could not be built; the message names the table or the compartment
func (c *Case) Trip() (*afloat.Trip, error) {
	c.once.Do(func() {
		var was *afloat.Trip
		if c.from != nil {
			was, _ = c.from.Trip() // one that cannot be built is no help, and no harm
		}
		c.trip, c.fault = afloat.NewFrom(c.Folder, was)
		c.shape = &shelf{}
		if was != nil && c.fault == nil && c.trip.Ship == was.Ship {
			c.shape = c.from.shape
		}
		c.from = nil
	})
	return c.trip, c.fault
}

// Keep gives what was made under a key before, or makes it. What a question works out of the
// folder alone, whatever the day, is made once so; an error is not kept.
func (c *Case) Keep(key string, build func() (any, error)) (any, error) {
	return c.own.keep(key, build)
}

// KeepShape is Keep for what hangs on the boat's shape alone (Trip.Ship): it is shared by all
// cases of that shape.
func (c *Case) KeepShape(key string, build func() (any, error)) (any, error) {
	if _, err := c.Trip(); err != nil {
		return nil, err
	}
	return c.shape.keep(key, build)
}

// Pick finds the day and condition that a person asked to be shown.
//
// Error: a day outside the trip or a condition that there is not, with what would be accepted
func (o Options) Pick(t *afloat.Trip) (day, condition int, err error) {
	if o.Day < 0 || o.Day > t.Days {
		return 0, 0, fmt.Errorf("day %d is outside the trip: days run from 0 (leaving) to %d", o.Day, t.Days)
	}
	if condition = t.Condition(o.Condition); condition < 0 {
		names := ""
		for i, c := range t.Conditions {
			if i > 0 {
				names += ", "
			}
			names += fmt.Sprintf("%q", c.Name)
		}
		return 0, 0, fmt.Errorf("no condition is called %q: there are %s", o.Condition, names)
	}
	return o.Day, condition, nil
}

// Chance is the probability that a margin of this size is positive when its
// standard deviation is spread: the normal distribution.
func Chance(margin, deviation float64) float64 {
	if deviation <= 0 {
		if margin > 0 {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc(-margin/deviation/math.Sqrt2)
}

// Sure is the confidence below which a margin that holds is still only close: 19 in 20.
const Sure = 0.95

// Judge gives the verdict of a margin: no when it is not positive, close when
// it is less than asked or not sure, yes otherwise.
func (m Margin) Judge() Verdict {
	switch {
	case !(m.Value > 0):
		return No
	case m.Value < m.Asked || m.Confidence < Sure:
		return Close
	}
	return Yes
}

// NeedWeight is the answer of a question that hangs on weight when the folder has none.
func (c *Case) NeedWeight(a Answer) Answer {
	a.Verdict = CannotTell
	a.Sentence = "Cannot tell: nothing in the folder says what she weighs."
	a.Needs = append(a.Needs, Need{File: "boat.yaml", Key: "weights",
		Why: "how she floats hangs on her weight and where it lies; one line for all of her is enough to begin: - {what: all up, mass: 620 kg, at: [3.10 m, 0 m, 0.42 m]}"})
	return a
}

// Weightless tells whether nothing aboard has a mass.
func (c *Case) Weightless() bool { return len(c.Folder.Boat.Weights) == 0 && len(c.Folder.Stores) == 0 }

// Taken lists what was taken for granted in the shape and the weights, for every question that uses them.
func (c *Case) Taken(t *afloat.Trip) []Assumption {
	b := &c.Folder.Boat
	sys := b.Units
	var out []Assumption
	put := func(what, value, why, file string) {
		out = append(out, Assumption{What: what, Value: value, Why: why, File: file})
	}
	if b.Water == 0 {
		put("density of the water", "1025 kg/m3", "sea water; fresh water is 1000", "boat.yaml: water")
	}
	if b.Hull.FromModel && !b.Hull.ToleranceGiven {
		put("reading error of the cuts", "0.5 mm on the model", "careful work with a square and a rule (common practice, no source)", "boat.yaml: hull.tolerance")
	}
	c.takenShape(t, put)
	taken, total := 0, 0
	for _, w := range b.Weights {
		total++
		if !w.Mass.Given {
			taken++
		}
	}
	for _, s := range c.Folder.Stores {
		total++
		if !s.Mass.Given {
			taken++
		}
	}
	if taken > 0 {
		put(fmt.Sprintf("how well %d of %d weights are known", taken, total), "15 % guessed, 10 % calculated, 2 % weighed",
			"no +- behind them; the half width of the 19-in-20 range (common practice, no source)", "boat.yaml: weights; stores.csv")
	}
	st := t.State(0, 0)
	if g := st.Guessed(); g > 0 {
		put("weights that were guessed", fmt.Sprintf("%.0f %% of the total", 100*g), "marked estimated, or nothing said: weigh the largest of them", "boat.yaml: weights; stores.csv")
	}
	put("places without +-", "good to "+sys.Length(units.Length(model.PlaceTolerance.X))+" along and "+sys.Length(units.Length(model.PlaceTolerance.Z))+" in height", "common practice, no source", "boat.yaml: weights")
	return out
}

// takenShape lists what the fairing did and what the reader passed over.
func (c *Case) takenShape(t *afloat.Trip, put func(what, value, why, file string)) {
	b := &c.Folder.Boat
	sys := b.Units
	f := t.Ship.Hull.Surface
	stations := f.Faired()
	label := func(i int) string { // by place: the fairing may have left an end station out
		for _, s := range b.Hull.Readings.Stations {
			if s.X == stations[i].X {
				return s.Label
			}
		}
		return fmt.Sprint(i)
	}
	for _, a := range f.Assumed {
		put(fmt.Sprintf("a corner at station %s, point %d", label(a.Station), a.Point+1), "sharp", "the readings turn by more than 70 degrees there and no corner is marked: double the row, or name the knuckle", b.Hull.File)
	}
	if f.Unfaired > 0 {
		put("the fairing", "left out", fmt.Sprintf("%d readings are too many to fair at once (900 at most); they are used as they stand", f.Unfaired), b.Hull.File)
	}
	moved, most, at := 0, 0.0, 0
	for i, m := range f.Moves {
		if m.Suspect {
			put(fmt.Sprintf("station %s, point %d", label(m.Station), m.Point+1), "left out of the fairing",
				fmt.Sprintf("it stands %s from the fair surface of the others, full size: measure it again", sys.Length(units.Length(math.Abs(m.Off)))), b.Hull.File)
			continue
		}
		if math.Abs(m.Normal) > 0.0005 {
			moved++
		}
		if math.Abs(m.Normal) > most {
			most, at = math.Abs(m.Normal), i
		}
	}
	if moved > 0 {
		m := f.Moves[at]
		put("the fairing", fmt.Sprintf("moved %d of %d readings by more than half a millimetre full size", moved, len(f.Moves)),
			fmt.Sprintf("within the reading error; most at station %s, point %d: %s", label(m.Station), m.Point+1, sys.Length(units.Length(most))), "boat.yaml: hull.tolerance")
	}
	for _, n := range c.Folder.Notes {
		put(n.What, "as read", n.Why, fmt.Sprintf("%s:%d", n.Where.File, n.Where.Line))
	}
}
