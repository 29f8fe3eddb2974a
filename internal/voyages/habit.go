package voyages

import (
	"fmt"
	"math"
)

// Watch is a time of the day when somebody rows: hours of the sun's mean time at her longitude.
type Watch struct{ From, To float64 }

// Habit is when somebody rows.
type Habit struct {
	// Watches of the day, in order, not overlapping; 0 to 24.
	Watches []Watch
	// Daylight cuts them to between sunrise and sunset.
	Daylight bool
	// Breaks is the share of a watch that is not rowed: food, navigation, other needs.
	Breaks float64
}

// check says what is wrong with a habit.
func (h Habit) check() error {
	last := 0.0
	for i, w := range h.Watches {
		if !(w.From >= last && w.To > w.From && w.To <= 24) {
			return fmt.Errorf("voyages: %w: watch %d is from %v to %v h; give them in order within 0 to 24, not overlapping", ErrInput, i+1, w.From, w.To)
		}
		last = w.To
	}
	if !(h.Breaks >= 0 && h.Breaks < 1) {
		return fmt.Errorf("voyages: %w: the share of a watch not rowed is %v; give 0 or more, under 1", ErrInput, h.Breaks)
	}
	return nil
}

// share is the part of a time that is rowed: from an hour of the day, for some hours (24 at most),
// with the sun up between two hours.
func (h *Habit) share(from, hours, up, down float64) float64 {
	rowed := 0.0
	for i := range h.Watches {
		w := &h.Watches[i]
		for day := 0.0; day < from+hours; day += 24 { // the time may run past midnight
			lo, hi := max(w.From+day, from), min(w.To+day, from+hours)
			if hi <= lo {
				continue
			}
			if !h.Daylight {
				rowed += hi - lo
				continue
			}
			for k := day - 24; k <= day+24; k += 24 { // by mean time the sun may set past midnight
				rowed += max(0, min(hi, down+k)-max(lo, up+k))
			}
		}
	}
	return rowed / hours * (1 - h.Breaks)
}

// Sun is when it rises and sets, hours of mean solar time at the place's longitude; 0 and 24 where
// it stays up, 12 and 12 where it stays down.
//
// In:     latitude radians; when, seconds since 1970 began, of the noon meant
// Good to: 2 minutes to 60 degrees (TestSun, against the tables of checks-voyage.md)
// Source: low-precision Sun of the Astronomical Almanac, page C5 (from memory, high);
// the upper limb on the horizon with 34' of refraction: the centre at -50'
func Sun(lat, when float64) (up, down float64) {
	const degree = math.Pi / 180
	n := (when - 946728000) / 86400 // days since 2000 January 1, noon
	mean := (280.460 + 0.9856474*n) * degree
	anomaly := (357.528 + 0.9856003*n) * degree
	long := mean + (1.915*math.Sin(anomaly)+0.020*math.Sin(2*anomaly))*degree
	tilt := (23.439 - 0.0000004*n) * degree
	dec := math.Asin(math.Sin(tilt) * math.Sin(long))
	right := math.Atan2(math.Cos(tilt)*math.Sin(long), math.Cos(long))
	equation := math.Remainder(mean-right, 2*math.Pi) * 12 / math.Pi // apparent less mean, hours
	c := (math.Sin(-50.0/60*degree) - math.Sin(lat)*math.Sin(dec)) / (math.Cos(lat) * math.Cos(dec))
	switch {
	case c <= -1:
		return 0, 24
	case c >= 1:
		return 12, 12
	}
	half := math.Acos(c) * 12 / math.Pi
	return 12 - equation - half, 12 - equation + half
}
