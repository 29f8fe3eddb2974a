package model

import (
	"math"
	"testing"

	"thole/internal/units"
)

func hours(h float64) units.Duration { return units.Duration(h * 3600) }

// Watches keep the proportion of the crew's hours. Sources: closed form, sums and proportions written beside each row.
func TestWithHours(t *testing.T) {
	one := func(h float64) []Person { return []Person{{Name: "rower", Hours: hours(h)}} }
	for _, c := range []struct {
		name, source string
		v            *Voyage
		by           units.Duration
		want         []Hours // nil: it cannot be
		crew         float64
	}{
		{"a tenth less", "each of 10 h by 9/10", &Voyage{Crew: one(10), Habits: Habits{Watches: []Hours{{6, 11}, {12, 17}}}}, hours(-1), []Hours{{6, 10.5}, {12, 16.5}}, 9},
		{"a tenth more, at the ends", "each of 10 h by 11/10", &Voyage{Crew: one(10), Habits: Habits{Watches: []Hours{{6, 11}, {12, 17}}}}, hours(1), []Hours{{6, 11.5}, {12, 17.5}}, 11},
		{"more, where the next follows at once", "11 h in all: 6 h before noon, one of them before six", &Voyage{Crew: one(10), Habits: Habits{Watches: []Hours{{6, 11}, {11, 16}}}}, hours(1), []Hours{{5.5, 11}, {11, 16.5}}, 11},
		{"no room", "24 h are all of the day", &Voyage{Crew: one(11), Habits: Habits{Watches: []Hours{{0, 24}}}}, hours(1), nil, 0},
		{"round the clock, less", "24 h by 10/11 is 21 h 49 min", &Voyage{Crew: one(11), Habits: Habits{Watches: []Hours{{0, 24}}}}, hours(-1), []Hours{{0, 21 + 49./60}}, 10},
		{"nobody's hours are said", "10 h less 1 h in all", &Voyage{Crew: one(0), Habits: Habits{Watches: []Hours{{6, 11}, {12, 17}}}}, hours(-1), []Hours{{6, 10.5}, {12, 16.5}}, 0},
		{"no watches", "nothing to change", &Voyage{Crew: one(10)}, hours(-1), []Hours{}, 9},
		{"nothing left", "10 h less 10 h", &Voyage{Crew: one(10)}, hours(-10), nil, 0},
		{"more than a day", "20 h and 5 h", &Voyage{Crew: one(20)}, hours(5), nil, 0},
		{"nothing said", "no hours, no watches", &Voyage{Crew: one(0)}, hours(1), nil, 0},
		{"no voyage", "none", nil, hours(1), nil, 0},
	} {
		got, err := c.v.WithHours(c.by)
		if (err != nil) != (c.want == nil) {
			t.Errorf("%s (%s): %+v, %v", c.name, c.source, got, err)
			continue
		}
		if err != nil {
			continue
		}
		if len(got.Watches) != len(c.want) || math.Abs(float64(got.Crew[0])-c.crew*3600) > 1e-6 {
			t.Errorf("%s (%s): %+v", c.name, c.source, got)
			continue
		}
		for i, w := range got.Watches {
			if math.Abs(w.From-c.want[i].From)+math.Abs(w.To-c.want[i].To) > 1e-9 {
				t.Errorf("%s (%s): watch %d is %+v, want %+v", c.name, c.source, i, w, c.want[i])
			}
		}
	}
}
