package spare

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"thole/internal/answer"
	"thole/internal/model"
)

// Date is a day on which something goes out of date or is to be looked at.
type Date struct {
	What string `json:"what"`
	Kind string `json:"kind"` // expires or inspect
	On   string `json:"on"`   // year-month-day
	// Standing is how it stands to the voyage: before leaving, on day 34, 120 days after arriving.
	Standing string `json:"standing"`
	// Spoils: it is out of date on some day of the voyage.
	Spoils bool   `json:"out_of_date_at_sea"`
	Due    bool   `json:"due_at_sea"` // it is to be looked at on a day of the voyage, where that may not be possible
	For    string `json:"for"`        // the function of the highest rank that rests on it; empty for none
	Rank   int    `json:"rank"`

	on     time.Time
	source string
}

// Check is a line of the checklist.
type Check struct {
	What string `json:"what"`
	Asks string `json:"asks"`
	By   string `json:"by"` // year-month-day; empty when not given
	Done bool   `json:"done"`
	// Late: not done, and its day is after leaving.
	Late bool `json:"falls_after_leaving"`
}

// dates sets the days of expiry and inspection against the voyage.
func (q *ask) dates() {
	f := q.c.Folder
	ranks, names := map[int]int{}, map[int]string{}
	g := q.looks[0]
	uses := g.uses()
	for i, fn := range f.Needs.Functions {
		for _, p := range uses[i] {
			if fn.Rank > ranks[p] {
				ranks[p], names[p] = fn.Rank, fn.Name
			}
		}
	}
	put := func(i int, what, kind, source string, on time.Time) {
		if on.IsZero() {
			return
		}
		d := Date{What: what, Kind: kind, On: on.Format(time.DateOnly), on: on, Rank: ranks[i], For: names[i], source: source}
		d.Standing, d.Spoils = q.standing(on)
		if kind != "expires" {
			leave := q.leave()
			d.Spoils, d.Due = false, !leave.IsZero() && on.After(leave) && on.Before(leave.AddDate(0, 0, q.t.Days))
		}
		q.f.Dates = append(q.f.Dates, d)
	}
	for i := range g.parts { // stores, then weights, each in the order of the folder
		p := &g.parts[i]
		expires, inspect, source := time.Time{}, time.Time{}, "boat.yaml: weights"
		if p.store {
			s := f.Stores[p.row]
			expires, inspect, source = s.Expires, s.Inspect, "stores.csv"
		} else {
			w := f.Boat.Weights[p.row]
			expires, inspect = w.Expires, w.Inspect
		}
		put(i, p.what, "expires", source, expires)
		put(i, p.what, "inspect", source, inspect)
	}
	spoils := func(d Date) int {
		switch {
		case d.Spoils:
			return 0
		case d.Due:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(q.f.Dates, func(a, b Date) int {
		return cmp.Or(cmp.Compare(spoils(a), spoils(b)), a.on.Compare(b.on))
	})
	for _, d := range q.f.Dates {
		if d.Spoils && d.Rank >= grave {
			q.late = append(q.late, d)
		}
	}
	slices.SortStableFunc(q.late, func(a, b Date) int { return cmp.Compare(b.Rank, a.Rank) })
}

// standing says how a day stands to the voyage, and whether what is good until then is out of date at sea.
func (q *ask) standing(on time.Time) (string, bool) {
	leave := q.leave()
	if leave.IsZero() {
		return "no leaving date to set it against", false
	}
	const day = 24 * time.Hour
	days := int(on.Sub(leave) / day)
	switch {
	case days < 0:
		return fmt.Sprintf("%s before leaving", count(-days)), true
	case days == 0:
		return "on the day of leaving", q.t.Days > 0
	case days < q.t.Days:
		return fmt.Sprintf("on day %d at sea", days), true
	case days == q.t.Days:
		return "on the last day", false
	}
	return fmt.Sprintf("%s after the last day", count(days-q.t.Days)), false
}

func count(days int) string {
	if days == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", days)
}

func (q *ask) leave() time.Time {
	if v := q.c.Folder.Voyage; v != nil {
		return v.Leave
	}
	return time.Time{}
}

// checks are the lines of the checklist, those still to be done first.
func (q *ask) checks() []Check {
	var out []Check
	for _, c := range q.c.Folder.Needs.Checklist {
		one := Check{What: c.What, Asks: c.Asks, Done: c.Done}
		if !c.By.IsZero() {
			one.By = c.By.Format(time.DateOnly)
			leave := q.leave()
			one.Late = !c.Done && !leave.IsZero() && c.By.After(leave)
		}
		out = append(out, one)
	}
	slices.SortStableFunc(out, func(a, b Check) int {
		switch {
		case a.Done != b.Done && !a.Done:
			return -1
		case a.Done != b.Done:
			return 1
		case a.By == "" || b.By == "":
			return cmp.Compare(b.By, a.By)
		}
		return cmp.Compare(a.By, b.By)
	})
	return out
}

// taken lists what is taken for granted.
func (q *ask) taken() []answer.Assumption {
	b := &q.c.Folder.Boat
	days := "leaving"
	if len(q.days) > 1 {
		days = fmt.Sprintf("leaving, and the last day (what is left on the evening of day %d)", q.days[1])
	}
	out := []answer.Assumption{
		{What: "days looked at", Value: days, Why: "between them less is used up than on the last", File: "stores.csv: used"},
		{What: "what floods a compartment", Value: "spoils all that lies in it and is not marked dry: no", Why: "what stands in a wet compartment already, with nothing said, outlasts it", File: "stores.csv: dry; boat.yaml: weights"},
		{What: "a thing placed by a point", Value: "lies in the compartments that its centre is in", Why: "one on the centre line lies in those of both sides", File: "stores.csv: where; boat.yaml: weights"},
		{What: "pieces of a row", Value: "fail one by one", Why: "two oars are two pieces; a row that fails as one is written with count 1", File: "stores.csv: count"},
	}
	if slices.ContainsFunc(q.looks[0].parts, func(p part) bool { return isBattery(p.what) || slices.ContainsFunc(p.provides, isBattery) }) {
		out = append(out, answer.Assumption{What: "the battery is lost", Value: "all that is called battery or provides it, at once", File: "stores.csv: provides; boat.yaml: weights",
			Why: "wired together they go flat, short or burn together; one with wires, switch and fuse of its own provides: " + apart})
	}
	for i := range b.Compartments {
		if cabin, same := b.FloodsWith(i); cabin >= 0 && !same {
			out = append(out, answer.Assumption{What: model.RoomName(b, i), Value: "floods with the " + b.Cabins[cabin].Name,
				Why: "it lies under it without a lid of its own that is shut at sea; one that has such a lid is given it: into: " + b.Compartments[i].Name, File: "boat.yaml: openings"})
		}
	}
	if q.c.Folder.Voyage == nil || len(q.c.Folder.Voyage.Crew) == 0 {
		out = append(out, answer.Assumption{What: "the crew", Value: "one", Why: "voyage.yaml names nobody", File: "voyage.yaml: crew"})
	}
	if q.leave().IsZero() {
		out = append(out, answer.Assumption{What: "the day she leaves", Value: "not known", Why: "no date can be set against the voyage", File: "voyage.yaml: leave"})
	}
	for _, l := range q.f.Lacks {
		out = append(out, answer.Assumption{What: l.Name, Value: "nothing aboard provides it", Why: "no thing has that name or provides it, and no function or condition is called so", File: "needs.yaml: functions"})
	}
	return out
}
