package fleet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Dates are the days of leaving that a person asks for, as they write them: a list, or a stretch in steps. Nothing in them is
// the folder's own day.
type Dates struct {
	Leave    string // 2027-01-12,2027-02-12
	From, To string // the first day, the folder's own if left out; the last, a year on if left out, without that day itself
	Every    string // month, 2 weeks, 10 days
}

// mostDates bounds the days of leaving of one sweep: a day for a year and a bit.
const mostDates = 400

// days are the days asked for, in their order.
//
// In:     own is the folder's day of leaving; zero when it says none
func (d Dates) days(own time.Time) ([]string, error) {
	switch {
	case d.Leave != "" && (d.From != "" || d.To != "" || d.Every != ""):
		return nil, fmt.Errorf("days of leaving are either listed or given as a stretch in steps, not both")
	case d.Leave != "":
		return listed(d.Leave)
	case d.Every == "" && (d.From != "" || d.To != ""):
		return nil, fmt.Errorf("a stretch of days needs its step: every month, every 2 weeks, every 10 days")
	case d.Every == "":
		return nil, nil
	}
	months, step, err := stepped(d.Every)
	if err != nil {
		return nil, err
	}
	from := own
	if d.From != "" {
		if from, err = day(d.From); err != nil {
			return nil, err
		}
	}
	if from.IsZero() {
		return nil, fmt.Errorf("the folder says no day of leaving (voyage.yaml: leave): say from which day on")
	}
	end := from.AddDate(1, 0, -1)
	if d.To != "" {
		if end, err = day(d.To); err != nil {
			return nil, err
		}
		if end.Before(from) {
			return nil, fmt.Errorf("the last day, %s, is before the first, %s", d.To, from.Format(time.DateOnly))
		}
	}
	var out []string
	for i := 0; ; i++ {
		on := from.AddDate(0, 0, i*step)
		if months > 0 {
			on = monthsOn(from, i*months)
		}
		if on.After(end) {
			return out, nil
		}
		if len(out) == mostDates {
			return nil, fmt.Errorf("these are more than %d days of leaving: take a longer step or a shorter stretch", mostDates)
		}
		out = append(out, on.Format(time.DateOnly))
	}
}

// listed reads days with commas between.
func listed(text string) ([]string, error) {
	var out []string
	for _, s := range strings.Split(text, ",") {
		on, err := day(s)
		if err != nil {
			return nil, err
		}
		said := on.Format(time.DateOnly)
		if slices.Contains(out, said) {
			return nil, fmt.Errorf("the day %s is listed twice", said)
		}
		if out = append(out, said); len(out) > mostDates {
			return nil, fmt.Errorf("these are more than %d days of leaving", mostDates)
		}
	}
	return out, nil
}

// day reads one day.
func day(text string) (time.Time, error) {
	on, err := time.Parse(time.DateOnly, strings.TrimSpace(text))
	if err != nil {
		return on, fmt.Errorf("%q is not a day (write it as 2027-01-12)", strings.TrimSpace(text))
	}
	return on, nil
}

// stepped reads the step of a stretch: so many months, or days.
func stepped(text string) (months, days int, err error) {
	words := strings.Fields(strings.ToLower(text))
	n := 1
	if len(words) == 2 {
		if n, err = strconv.Atoi(words[0]); err != nil {
			n = 0
		}
		words = words[1:]
	}
	if len(words) == 1 && n >= 1 && n <= 1000 {
		switch strings.TrimSuffix(words[0], "s") {
		case "month":
			return n, 0, nil
		case "week":
			return 0, 7 * n, nil
		case "day":
			return 0, n, nil
		}
	}
	return 0, 0, fmt.Errorf("%q is not a step of days (write month, 2 weeks or 10 days)", text)
}

// monthsOn is the same day so many months later, or the month's last where it has no such day: a month after 31 January is not
// in March.
func monthsOn(from time.Time, months int) time.Time {
	first := time.Date(from.Year(), from.Month()+time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(from.Day(), last)-1)
}
