package passage

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"thole/internal/coast"
	"thole/internal/crossing"
	"thole/internal/earth"
	"thole/internal/voyages"
)

// Modelling choices of what a whole answer adds.
const (
	// drawn is how many passages are gone through again for the share that comes through each part of the map.
	drawn = 200
	// stillArrive is the share that is asked to arrive where the line is drawn beyond which the landfall is lost: nine in ten of what arrives of
	// those that come past the last point before it.
	stillArrive = 0.9
	// aNight is how long nobody rows in a night that is lost to weather or sickness, hours, where by the watches somebody always does.
	aNight, shortest = 10.0, 4.0
	// placeDoubt is how far her own place may be wrong at dusk, m: trade's word for a good noon from a low boat.
	placeDoubt = 5 * mile
)

// deep is what does not hang on the day shown, and takes long.
type deep struct {
	tracks []crossing.Track
	across map[[2]int32]int // by cell: how many of the first so many come through
	months []crossing.Departure
	best   int // of them; -1 where none arrives
	asked  float64
	reach  []crossing.Reach
	noLine string // why there is no line
}

// work adds what only a whole answer has.
//
// Error:  the context's; the runner's; no passage of the number asked for
func (q *ask) work(ctx context.Context, f *Figures) error {
	made, err := q.c.Keep(id+": what takes long", func() (any, error) { return q.dive(ctx) })
	if err != nil {
		return err
	}
	q.deep = made.(*deep)
	if n := q.o.Again; n != nil && *n >= uint64(q.n) {
		return fmt.Errorf("there is no passage %d: they are numbered from 0 to %d", *n, q.n-1)
	}
	for i, d := range q.deep.months {
		m := q.monthOf(d)
		m.Best = i == q.deep.best
		f.Months = append(f.Months, m)
	}
	if len(q.deep.reach) > 0 {
		f.Reach = &Reach{Asked: q.deep.asked}
		for _, r := range q.deep.reach {
			f.Reach.Lines = append(f.Reach.Lines, ReachLine{Before: r.Before / mile, Share: r.Share, Left: r.OffLeft / mile, LeftOpen: r.LeftOpen, Right: r.OffRight / mile, RightOpen: r.RightOpen})
		}
	}
	for _, t := range q.deep.tracks {
		f.Tracks = append(f.Tracks, Track{Number: t.Number, Name: t.Name, End: t.Passage.End.String(), Days: t.Passage.Days})
	}
	f.Tonight, err = q.nights(ctx)
	if q.o.Progress != nil {
		q.o.Progress(q.all, q.all)
	}
	return err
}

// dive works out all that is the same on every day shown.
func (q *ask) dive(ctx context.Context) (*deep, error) {
	d := &deep{best: -1}
	var err error
	if d.tracks, err = q.x.Tracks(ctx, q.tally); err != nil {
		return nil, err
	}
	if d.across, err = q.through(ctx); err != nil {
		return nil, err
	}
	if d.months, err = q.x.Depart(ctx, crossing.Months(q.c.Folder.Voyage.Leave, dates), perDate, q.told(q.n+costTracks)); err != nil {
		return nil, err
	}
	for i := range d.months {
		if d.months[i].Tally.Ends[voyages.Arrived] > 0 && (d.best < 0 || d.months[i].Better(d.months[d.best], q.x.Planned)) {
			d.best = i
		}
	}
	share, _, _ := q.tally.Chance(voyages.Arrived)
	if share == 0 {
		d.noLine = "None of the passages arrives, so there is no line from which the landfall is lost: it is lost from the start."
		return d, nil
	}
	d.asked = stillArrive
	if n := len(q.tally.Points); n > 1 { // what befell the others befell them long before the landfall
		share = math.Min(1, float64(q.tally.Points[n-1].Total())/math.Max(1, float64(q.tally.Points[n-2].Total())))
	}
	d.asked *= share
	if d.reach, err = q.x.Lost(ctx, d.asked); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		d.noLine = "No line from which the landfall is lost can be drawn: " + err.Error() + "."
	}
	return d, nil
}

// through goes through the first passages again, and counts in how many each cell of the map is met.
func (q *ask) through(ctx context.Context) (map[[2]int32]int, error) {
	n := min(drawn, q.n)
	out := map[[2]int32]int{}
	var one sync.Mutex
	var next atomic.Int64
	var fault error
	var wait sync.WaitGroup
	cell := q.tally.Cell
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for {
				i := next.Add(1) - 1
				if i >= int64(n) || ctx.Err() != nil {
					return
				}
				_, moments, err := q.x.Runner.Replay(uint64(i))
				met := map[[2]int32]bool{}
				for _, m := range moments {
					met[[2]int32{int32(math.Floor(m.Where.Lat / cell)), int32(math.Floor(m.Where.Lon / cell))}] = true
				}
				one.Lock()
				for k := range met {
					out[k]++
				}
				if err != nil {
					fault = err
				}
				one.Unlock()
			}
		})
	}
	wait.Wait()
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	return out, fault
}

// middle is the passage nearest to the middle one, of those drawn; the first of them where none arrives.
func (q *ask) middle() *crossing.Track {
	want, ok := q.tally.ArrivalBy(0.5)
	best := -1
	for i, t := range q.deep.tracks {
		if t.Passage.End != voyages.Arrived {
			continue
		}
		if best < 0 || ok && math.Abs(t.Passage.Days-want) < math.Abs(q.deep.tracks[best].Passage.Days-want) {
			best = i
		}
	}
	switch {
	case best >= 0:
		return &q.deep.tracks[best]
	case len(q.deep.tracks) > 0:
		return &q.deep.tracks[0]
	}
	return nil
}

// landfall is where the route ends.
func (q *ask) landfall() earth.Place { return q.x.Places[len(q.x.Places)-1] }

// idle is the longest time of the day in which nobody rows, hours: from the end of a watch to the beginning of the next.
func idle(watches []voyages.Watch) float64 {
	if len(watches) == 0 {
		return 24
	}
	most := watches[0].From + 24 - watches[len(watches)-1].To
	for i := 1; i < len(watches); i++ {
		most = math.Max(most, watches[i].From-watches[i-1].To)
	}
	return most
}

// night is how long nobody rows in the night that is told of, hours.
func (q *ask) night() float64 {
	if span := idle(q.x.Spec.Rules.Habit.Watches); span >= shortest {
		return span
	}
	return aNight
}

// nights are how far she may be set in the first night, that of the day shown, and the last before the landfall, on the middle passage.
func (q *ask) nights(ctx context.Context) ([]Night, error) {
	track := q.middle()
	if track == nil || len(track.Moments) == 0 {
		return nil, nil
	}
	span := q.night()
	last := track.Moments[len(track.Moments)-1]
	type when struct {
		day  float64
		said string
	}
	asked := []when{{0.75, "the first night"}}
	if q.day > 0 && float64(q.day)+0.75 < last.Day {
		asked = append(asked, when{float64(q.day) + 0.75, fmt.Sprintf("the night of day %d", q.day)})
	}
	if last.Day > 1.5 {
		asked = append(asked, when{math.Max(1, last.Day-0.5), "the last night"})
	}
	var out []Night
	for _, w := range asked {
		m := track.Moments[0]
		for _, x := range track.Moments {
			if x.Day > w.day {
				break
			}
			m = x
		}
		at := earth.Place{Lat: m.Where.Lat, Lon: m.Where.Lon}
		n, err := q.x.Tonight(ctx, at, q.x.Leave.Add(time.Duration(m.Day*float64(24*time.Hour))), span, placeDoubt)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			continue
		}
		lat, lon := at.Degrees()
		night := Night{When: w.said, Day: int(w.day), Lat: lat, Lon: lon, Hours: n.Hours, Adrift: setOf(n.Toward, n.Middle, n.Far, n.Keep), Anchored: setOf(n.AnchToward, n.AnchMiddle, n.AnchFar, n.AnchKeep)}
		if near, ok, err := coast.World().Nearest(at); err == nil && ok {
			d := near.Distance / mile
			night.Land, night.Bearing = &d, near.Bearing*180/math.Pi
		}
		out = append(out, night)
	}
	return out, nil
}

// setOf is a night's drift in figures.
func setOf(toward, middle, far, keep float64) Set {
	return Set{Toward: math.Mod(earth.Turn(toward)*180/math.Pi, 360), Middle: middle / mile, Far: far / mile, Keep: keep / mile}
}
