package crossing

import (
	"fmt"
	"math"
	"strings"

	"thole/internal/underway"
	"thole/internal/voyages"
)

// What is taken where the folder says nothing.
const (
	usualBreaks = 1.0 / 12 // of a watch: five minutes of each hour; modelling choice
	usualLost   = 0.02     // of the days; modelling choice
	usualIn     = 0.8      // of the winds for the sea anchor; modelling choice
	usualAhead  = 60 * math.Pi / 180
	usualStop   = 30 * knot // modelling choice
	// usualSick is the mean share of the rowing that a sick rower loses on the first day, and usualSickDays how long it takes to go.
	// Rowers write of one to two weeks of it with little rowed; the share: modelling choice.
	usualSick, usualSickDays = 0.4, 7
	// meal is the longest break between the watches of one who rows alone, h: modelling choice.
	meal  = 1.0
	parts = 3 // the watches of one who rows alone
	noon  = 12.0
	// sleepless is how near land somebody is always at the oars: ten hours' drift at 2 kn; modelling choice.
	sleepless = 20 * mile
	waits     = 14 // days in port for a fair wind: modelling choice
)

const knot = 1852.0 / 3600

// habit is how days at sea are spent.
func (c *Crossing) habit(turns []underway.Turn) voyages.Habit {
	v := c.Trip.Folder.Voyage
	var h voyages.Habit
	for _, w := range v.Habits.Watches {
		h.Watches = append(h.Watches, voyages.Watch{From: w.From, To: w.To})
	}
	if len(h.Watches) == 0 {
		h.Watches = c.watches(turns)
	}
	if v.Habits.Daylight != nil {
		h.Daylight = *v.Habits.Daylight
	} else {
		c.take("rowing in the dark", "yes, where the watches run past sunrise and sunset", "not said", "voyage.yaml: habits.daylight")
	}
	h.Breaks = usualBreaks
	if v.Habits.Breaks != nil {
		h.Breaks = *v.Habits.Breaks
	} else {
		c.take("breaks", "5 min of each hour of a watch", "food, drink, the course; modelling choice", "voyage.yaml: habits.breaks")
	}
	return h
}

// watches lays the crew's hours about the sun's noon: those of turns one after the other; those of one turn in three parts, with a
// break for a meal between.
func (c *Crossing) watches(turns []underway.Turn) []voyages.Watch {
	all := 0.0
	for _, t := range turns {
		all += t.Hours
	}
	all = math.Min(24, all)
	if len(turns) > 1 {
		var who []string
		for _, t := range turns {
			who = append(who, fmt.Sprintf("%s %.3g h", strings.Join(t.Who, " and "), t.Hours))
		}
		w := []voyages.Watch{{From: math.Max(0, noon-all/2), To: math.Min(24, noon+all/2)}}
		c.take("when they row", clock(w), strings.Join(who, ", ")+", one after the other, about the sun's noon; the mean of their thrust all the time", "voyage.yaml: habits.watches")
		return w
	}
	gap := math.Min(meal, (24-all)/(parts-1))
	from := noon - (all+(parts-1)*gap)/2
	var w []voyages.Watch
	for range parts {
		to := math.Min(24, from+all/parts)
		w = append(w, voyages.Watch{From: math.Max(0, from), To: to})
		from = to + gap
	}
	c.take("when she is rowed", clock(w), fmt.Sprintf("%.3g h a day about the sun's noon, with breaks for two meals", all), "voyage.yaml: habits.watches")
	return w
}

// clock is watches in words.
func clock(all []voyages.Watch) string {
	at := func(h float64) string {
		m := int(math.Round(h * 60))
		return fmt.Sprintf("%02d:%02d", m/60, m%60)
	}
	var out []string
	for _, w := range all {
		out = append(out, at(w.From)+"-"+at(w.To))
	}
	return strings.Join(out, ", ")
}

// rules are what is done in which wind.
//
// In:     stops, the wind from ahead against which the crew just hold her, m/s; 0 for none
func (c *Crossing) rules(stops float64) voyages.Rules {
	v := c.Trip.Folder.Voyage
	r := voyages.Rules{Storm: float64(v.Rules.Stop), Against: float64(v.Rules.Against), Ahead: float64(v.Rules.Ahead), Ease: usualIn, Allow: true}
	has := c.Way.SeaAnchor() != nil
	if r.Storm == 0 {
		r.Storm = usualStop
		c.take("the wind from which nobody rows", c.speed(r.Storm), "modelling choice", "voyage.yaml: rules.stop")
	}
	if r.Against == 0 && stops > 0 {
		r.Against = math.Min(stops, r.Storm)
		c.take("the wind from ahead that is not rowed against", c.speed(r.Against), "in which the crew just hold her in flat water, half-way", "voyage.yaml: rules.against")
	}
	if r.Ahead == 0 && r.Against > 0 {
		r.Ahead = usualAhead
		c.take("what counts as ahead", c.Trip.Folder.Boat.Units.Angle(usualAhead)+" either side", "modelling choice", "voyage.yaml: rules.ahead")
	}
	if v.Rules.In != nil {
		r.Ease = *v.Rules.In
	} else {
		c.take("when the sea anchor comes in again", fmt.Sprintf("below %.0f %% of those winds", 100*usualIn), "modelling choice", "voyage.yaml: rules.in again")
	}
	r.Close, r.Wait = sleepless, waits
	c.take("near land", "rowed round the clock within "+c.way(sleepless)+", and kept off it", "a night's drift and the doubt of a position; sick or not, for two days at the most; modelling choice", "")
	c.take("waiting for a wind to leave with", fmt.Sprintf("up to %d days", waits), "nobody sets out against the wind; days count from leaving; modelling choice", "voyage.yaml: leave")
	switch {
	case v.Rules.Idle != nil:
		r.Idle = *v.Rules.Idle
	case has:
		r.Idle = true
		c.take("the sea anchor while nobody rows", "out when she would be set back", "modelling choice", "voyage.yaml: rules.when idle")
	}
	if !has {
		c.take("how she lies when the sea anchor should go out", "adrift", "the folder has none that goes from the bow", "boat.yaml: sea anchors")
	}
	if v.Habits.Allow != nil {
		r.Allow = *v.Habits.Allow
	} else {
		c.take("steering for the set", "up-current, so as to go straight", "the set is seen from one position to the next", "voyage.yaml: habits.allow for the set")
	}
	return r
}
