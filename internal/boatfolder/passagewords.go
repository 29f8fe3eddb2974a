package boatfolder

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"thole/internal/units"
)

// How a part of the day, a day of the trip and a count of days that may be none are written.
const (
	clockPattern = `^ *([0-9]{1,2}):([0-9]{2}) *(?:-|–|to) *([0-9]{1,2}):([0-9]{2}) *$`
	onDayPattern = `^ *(?:[Dd][Aa][Yy] +)?([0-9]{1,6}) *$`
	nonePattern  = `^ *([0-9]{1,6}) *(?:days?)? *$`
	timePattern  = `^ *[-+−]? *[0-9]+([.][0-9]+)? *(h|hours?|min|minutes?) *$`
)

var (
	clockForm = regexp.MustCompile(clockPattern)
	onDayForm = regexp.MustCompile(onDayPattern)
	noneForm  = regexp.MustCompile(nonePattern)
	timeForm  = regexp.MustCompile(timePattern)
)

// HoursOf reads a part of the day, 06:00-10:00: hours from midnight, the first before the last.
//
// Error:  it is none, runs over midnight or has no length; with the mend
func HoursOf(text string) (from, to float64, err error) {
	wrong := func(say, mend string) error {
		return &units.Error{Kind: "watch", Text: text, Say: say, Mend: mend}
	}
	m := clockForm.FindStringSubmatch(text)
	if m == nil {
		return 0, 0, wrong("is not a part of the day", "write it like 06:00-10:00")
	}
	var v [4]int
	for i := range v {
		v[i], _ = strconv.Atoi(m[i+1])
	}
	from, to = float64(v[0])+float64(v[1])/60, float64(v[2])+float64(v[3])/60
	switch {
	case v[1] > 59 || v[3] > 59 || from > 24 || to > 24:
		return 0, 0, wrong("has no such time of the day", "write times from 00:00 to 24:00")
	case from > to:
		return 0, 0, wrong("runs over midnight", fmt.Sprintf(`write two: "%s:%s-24:00" and "00:00-%s:%s"`, m[1], m[2], m[3], m[4]))
	case from == to:
		return 0, 0, wrong("has no length", "write when it begins and when it ends: 06:00-10:00")
	}
	return from, to, nil
}

// dayOn reads a day of the trip: day 3, or 3; the first is 1.
func dayOn(text string) (int, error) {
	m := onDayForm.FindStringSubmatch(text)
	if m == nil {
		return 0, &units.Error{Kind: "day", Text: text, Say: "is not a day of the trip", Mend: "write it like day 3"}
	}
	d, _ := strconv.Atoi(m[1])
	if d < 1 || d > mostDays {
		return 0, &units.Error{Kind: "day", Text: text, Say: "is not a day from 1 to 1000", Mend: "write it like day 3"}
	}
	return d, nil
}

// sickDays reads a count of days that may be none.
func sickDays(text string) (int, error) {
	m := noneForm.FindStringSubmatch(text)
	if m == nil {
		return 0, &units.Error{Kind: "days", Text: text, Say: "is not a whole number of days", Mend: "write it like 5 days, or 0 days"}
	}
	d, _ := strconv.Atoi(m[1])
	if d > longestSick {
		return 0, &units.Error{Kind: "days", Text: text, Say: fmt.Sprintf("is more than %d days", longestSick), Mend: "write it like 5 days, or 0 days"}
	}
	return d, nil
}

// timeLater reads a change of the hours at the oars: -1 h, +30 min.
func timeLater(text string) (units.Duration, error) {
	const mend = "write -1 h, or +30 min"
	if !timeForm.MatchString(text) {
		return 0, &units.Error{Kind: "time", Text: text, Say: "is not understood", Mend: mend}
	}
	v, err := units.ParseDuration(text)
	switch {
	case err != nil:
		return 0, err
	case v == 0:
		return 0, &units.Error{Kind: "time", Text: text, Say: "changes nothing", Mend: mend}
	case math.Abs(float64(v)/60-math.Round(float64(v)/60)) > 1e-6:
		return 0, &units.Error{Kind: "time", Text: text, Say: "is not whole minutes", Mend: mend}
	case v > 24*3600 || v < -24*3600:
		return 0, &units.Error{Kind: "time", Text: text, Say: "is more than a day", Mend: mend}
	}
	return v, nil
}

// clockText writes a time of the day to the minute, 24:00 for its end.
func clockText(hours float64) string {
	minutes := int(hours*60 + 0.5)
	return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
}

// WatchText writes a part of the day as voyage.yaml has it, hours from midnight to the minute.
func WatchText(from, to float64) string {
	return strings.Join([]string{clockText(from), clockText(to)}, "-")
}
