package fleet

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"slices"

	"thole/internal/sweep"
	"thole/internal/voyages"
)

// Result is what a sweep comes to: the same whoever did it.
type Result struct {
	Boat     string    `json:"boat"`
	Stamp    string    `json:"stamp"` // of the folder
	Build    Build     `json:"build"`
	Passages uint64    `json:"passages"` // of each variant
	Seed     uint64    `json:"seed"`     // 0 is the folder's own
	Rows     []Row     `json:"variants"` // in the order of the plan
	Assumed  []Assumed `json:"assumptions"`
	Notes    []string  `json:"notes"`
	Cautions []string  `json:"cautions"`
}

// Row is one variant.
type Row struct {
	Leave   string   `json:"leave,omitempty"`
	Tries   []string `json:"tries"`
	Fault   string   `json:"fault,omitempty"` // why no passage can be made of it; nothing below holds then
	Planned int      `json:"planned_days"`    // that the stores are meant for
	// Median, OneInTen and OneInTwenty are the days later than which one passage in two, ten and twenty arrives, if it ever does,
	// of all; nil where more than that never arrive.
	Median      *Figure `json:"median_days"`
	OneInTen    *Figure `json:"one_in_ten_days"`
	OneInTwenty *Figure `json:"one_in_twenty_days"`
	// Shares of all passages, 0 to 1.
	ByPlanned Figure `json:"arrived_by_planned"`
	Missed    Figure `json:"missed"`
	Ashore    Figure `json:"ashore"`
	OutOfTime Figure `json:"out_of_time"`
	Stormy    Figure `json:"storm_season"` // at sea within one for a day or more
	// ByDay is the share that has arrived so many days after leaving, from 0 until the last.
	ByDay []float64 `json:"arrived_by_day"`
	// Sum is of all that was counted: two sweeps that agree in it agree in every figure.
	Sum string `json:"sum"`
	// Best: the most arrive by the day planned, or it cannot be told from that which does (Result.choose).
	Best bool `json:"best"`
}

// Figure is a figure with the 95 % range of what it is drawn from: what other seeds might have given.
type Figure struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// Told is how far a sweep has come.
type Told func(done, parts int)

// Run puts a plan on a queue under a work's name and adds what comes back; somebody must be working on the queue. A work of the
// same plan that is there already is taken up where it stands. It is left on the queue.
//
// Error:  the context's, the queue's; that the name is another work's; why no variant can be sailed
func Run(ctx context.Context, q sweep.Queue, job string, p *Plan, told Told) (Result, error) {
	if err := p.send(ctx, q, job); err != nil {
		return Result{}, err
	}
	rows := make([]pile, p.Variants())
	parts := int(p.Parts())
	err := sweep.Gather(ctx, q, job, parts, func(n int, data []byte) error {
		return rows[uint64(n)/p.each()].add(data, p.each())
	}, func(n int) {
		if told != nil {
			told(n, parts)
		}
	})
	if err != nil {
		return Result{}, err
	}
	return p.result(rows)
}

// pile is what has come back of a variant.
type pile struct {
	parts uint64
	head  done
	sum   *voyages.Tally
	row   Row
}

// add takes a part's result in. The last closes the pile, so that not all tallies are held at once.
func (p *pile) add(data []byte, of uint64) error {
	head, t, err := unwrapped(data)
	if err != nil {
		return err
	}
	switch {
	case p.parts > 0 && (head.Fault != p.head.Fault || head.Leave != p.head.Leave || head.Planned != p.head.Planned):
		return fmt.Errorf("two parts of one variant tell of two voyages: %w", sweep.ErrDiffers)
	case p.parts == 0:
		p.head = head
	case len(head.Assumed)+len(head.Notes) > 0: // the first part's, whenever it comes
		p.head = head
	}
	p.parts++
	if t != nil {
		if p.sum == nil {
			p.sum = t
		} else if err := p.sum.Add(t); err != nil {
			return err
		}
	}
	if p.parts < of {
		return nil
	}
	p.row, err = row(p.head, p.sum)
	p.sum = nil
	return err
}

// row is what a variant's tally says.
func row(head done, t *voyages.Tally) (Row, error) {
	r := Row{Leave: head.Leave, Fault: head.Fault, Planned: head.Planned, ByDay: []float64{}}
	if t == nil {
		return r, nil
	}
	b, err := t.MarshalBinary()
	if err != nil {
		return r, err
	}
	s := sha256.Sum256(b)
	r.Sum = hex.EncodeToString(s[:16])
	r.Median, r.OneInTen, r.OneInTwenty = late(t, 0.5), late(t, 0.9), late(t, 0.95)
	share := func(some uint64) Figure {
		v, low, high := voyages.Wilson(some, t.Passages)
		return Figure{v, low, high}
	}
	r.ByPlanned = share(uint64(math.Round(t.ArrivedBefore(float64(head.Planned)) * float64(t.Passages))))
	r.Missed, r.Ashore, r.OutOfTime = share(t.Ends[voyages.Missed]), share(t.Ends[voyages.Ashore]), share(t.Ends[voyages.OutOfTime])
	r.Stormy = share(t.Stormy)
	for day := 0; float64(day) <= math.Ceil(t.Slowest); day++ {
		r.ByDay = append(r.ByDay, t.ArrivedBefore(float64(day)))
	}
	return r, nil
}

// late is the day by which a share of all has arrived, with its range; nil where fewer ever do. An end of the range that is
// not reached is the last arrival.
//
// Source: the range of a quantile by the binomial counts on either side of it, normal for many: David & Nagaraja, Order
// Statistics, 3rd edition (2003), section 7.1
func late(t *voyages.Tally, share float64) *Figure {
	v, ok := t.ArrivalBy(share)
	if !ok {
		return nil
	}
	const z = 1.959963984540054 // normal quantile at 0.975
	half := z * math.Sqrt(share*(1-share)/float64(t.Passages))
	f := &Figure{Value: v, Low: 0, High: t.Slowest}
	if low, ok := t.ArrivalBy(max(0, share-half)); ok {
		f.Low = low
	}
	if high, ok := t.ArrivalBy(min(1, share+half)); ok {
		f.High = high
	}
	return f
}

// result puts the rows together.
func (p *Plan) result(piles []pile) (Result, error) {
	r := Result{Boat: p.Boat, Stamp: p.Stamp, Build: p.Build, Passages: p.Passages, Seed: p.Seed, Assumed: []Assumed{}, Notes: []string{}, Cautions: cautions}
	sailed := false
	for i, pile := range piles {
		l, day := p.variant(i)
		row := pile.row
		row.Tries = p.Loads[l].Tries
		if row.Leave == "" {
			row.Leave = day
		}
		sailed = sailed || row.Fault == ""
		r.Rows = append(r.Rows, row)
		for _, a := range pile.head.Assumed {
			if !slices.Contains(r.Assumed, a) {
				r.Assumed = append(r.Assumed, a)
			}
		}
		for _, n := range pile.head.Notes {
			if !slices.Contains(r.Notes, n) {
				r.Notes = append(r.Notes, n)
			}
		}
	}
	if !sailed {
		return Result{}, errors.New(r.Rows[0].Fault)
	}
	r.choose()
	return r, nil
}

// choose marks the best rows: those of which most arrive by the day that the stores are planned for, and where ranges of that
// overlap, those of which one in twenty is late the soonest, and where those ranges overlap too, all of them.
//
// One row alone is not the best of anything.
func (r *Result) choose() {
	if len(r.Rows) < 2 {
		return
	}
	var most *Row
	for i := range r.Rows {
		if row := &r.Rows[i]; row.Fault == "" && (most == nil || row.ByPlanned.Value > most.ByPlanned.Value) {
			most = row
		}
	}
	soonest := math.Inf(1)
	var like []*Row
	for i := range r.Rows {
		row := &r.Rows[i]
		if row.Fault != "" || row.ByPlanned.High < most.ByPlanned.Low {
			continue
		}
		like = append(like, row)
		if row.OneInTwenty != nil {
			soonest = min(soonest, row.OneInTwenty.Value)
		}
	}
	for _, row := range like {
		row.Best = math.IsInf(soonest, 1) || row.OneInTwenty != nil && row.OneInTwenty.Low <= upTo(like, soonest)
	}
}

// upTo is the upper end of the range of the soonest.
func upTo(rows []*Row, soonest float64) float64 {
	high := soonest
	for _, r := range rows {
		if r.OneInTwenty != nil && r.OneInTwenty.Value == soonest {
			high = max(high, r.OneInTwenty.High)
		}
	}
	return high
}
