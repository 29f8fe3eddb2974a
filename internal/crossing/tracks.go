package crossing

import (
	"context"
	"math"
	"slices"

	"thole/internal/voyages"
)

// Track is one passage for a map and a table.
type Track struct {
	Number  uint64
	Name    string // "one in two", "one in twenty late", "missed", ...
	Passage voyages.Passage
	Moments []voyages.Moment
}

// kinds are the arrivals that are shown.
var kinds = []struct {
	share float64
	name  string
}{{0.05, "one in twenty early"}, {0.5, "one in two"}, {0.95, "one in twenty late"}}

// seldom is the share of all passages under which another end is not shown.
const seldom = 0.01

// Tracks are the passages whose arrival is nearest to being early, middling and late (one in twenty, one in two, nineteen in
// twenty, of those that arrive), and one of each other end that befell more than one in a hundred: each the first of its kind by number.
//
// Error:  the context's; as voyages.Runner.Replay
func (c *Crossing) Tracks(ctx context.Context, t *voyages.Tally) ([]Track, error) {
	var out []Track
	add := func(number uint64, name string) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, o := range out {
			if o.Number == number {
				return nil
			}
		}
		p, m, err := c.Runner.Replay(number)
		if err == nil {
			out = append(out, Track{number, name, p, m})
		}
		return err
	}
	hours := t.Arrival.Bins()
	for _, k := range kinds {
		if len(hours) == 0 {
			break
		}
		day, _ := t.ArrivalBy(k.share * float64(t.Ends[voyages.Arrived]) / float64(t.Passages))
		near := slices.MinFunc(hours, func(a, b int32) int {
			off := func(h int32) float64 { return math.Abs((float64(h)+0.5)/24 - day) }
			switch {
			case off(a) < off(b):
				return -1
			case off(a) > off(b):
				return 1
			}
			return int(a - b)
		})
		if err := add(t.First[near], k.name); err != nil {
			return nil, err
		}
	}
	for _, e := range []voyages.End{voyages.Missed, voyages.Ashore, voyages.OutOfTime} {
		if n, ok := t.Others[e]; ok && float64(t.Ends[e]) > seldom*float64(t.Passages) {
			if err := add(n, e.String()); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}
