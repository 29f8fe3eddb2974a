package oars

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/resistance"
	"thole/internal/underway"
)

// mostDays is how many days a chart shows at most; a longer trip is shown every so many days.
const mostDays = 130

// work finds what the crew make of her on the days that are shown, on all cores.
func (q *ask) work(ctx context.Context, o answer.Options) error {
	rowed, _ := underway.Conditions(q.t)
	q.rowed = max(0, rowed)
	var err error
	if q.waters, err = q.way.Waters(true); err != nil {
		return err
	}
	spread := q.way.Spread(q.rowed)
	q.days = []int{spread[0], spread[len(spread)-1]}
	want := []int{q.days[0], q.days[1], q.day}
	if !o.Brief {
		for d := 0; d <= q.t.Days; d += 1 + q.t.Days/mostDays {
			want = append(want, d)
		}
	}
	slices.Sort(want)
	want = slices.Compact(want)
	out := make([]*sea, len(want))
	errs := make([]error, len(want))
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				out[i], errs[i] = q.sea(want[i])
			}
		}()
	}
	for i := range want {
		if ctx.Err() != nil {
			break
		}
		next <- i
		if o.Progress != nil {
			o.Progress(i+1, len(want))
		}
	}
	close(next)
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	q.at = map[int]*sea{}
	for i, s := range out {
		if errs[i] != nil {
			return errs[i]
		}
		q.at[want[i]] = s
	}
	q.byDay = out
	return nil
}

// sea is what the crew make of her on a day.
func (q *ask) sea(day int) (*sea, error) { return q.seaIn(day, q.rowed) }

// seaIn is the same for another condition.
func (q *ask) seaIn(day, condition int) (*sea, error) {
	r, err := q.way.At(day, condition)
	if err != nil {
		return nil, err
	}
	s := &sea{day: day, r: r}
	if s.calm, err = r.Speed(resistance.Wind{}); err != nil {
		return nil, err
	}
	if s.stop, s.stopSpread, s.stopErr = r.StopWind(0); s.stopErr != nil && !errors.Is(s.stopErr, resistance.ErrNoWind) {
		return nil, s.stopErr
	}
	return s, nil
}

// moves says what the power makes of her.
func (q *ask) moves() string {
	s := q.at[q.days[0]]
	power := s.r.Crew.Power()
	if len(s.r.Crew.Rowers) == 0 {
		return "Nobody's place lies at a rowing place, so no speed is told."
	}
	who := s.r.Crew.Rowers[0].Name
	for _, r := range s.r.Crew.Rowers[1:] {
		who += " and " + r.Name
	}
	text := fmt.Sprintf("The %.0f W of %s move her at %.1f ± %.1f kn on day %d in a calm", power.Value, who, s.calm.Speed/knot, s.calm.Spread/knot, s.day)
	if s.stopErr == nil {
		text += fmt.Sprintf("; a head wind of %.0f ± %.0f kn stops her", s.stop/knot, s.stopSpread/knot)
	}
	return text + "."
}

// place is where a rower rows.
func (q *ask) place(r *underway.Rower) *model.RowingPlace { return &q.c.Folder.Boat.Rowing[r.Place] }
