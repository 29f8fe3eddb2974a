package feed

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/provisions"
	"thole/internal/sustenance"
	"thole/internal/units"
)

// offer makes offers that are tried in a copy of the folder and asked again, bare beside bare; one that does no good is not offered.
func (q *ask) offer(ctx context.Context, a *answer.Answer) {
	if a.Verdict == answer.Yes || a.Margin == nil {
		return
	}
	base, err := Ask(ctx, q.c, answer.Options{Bare: true})
	if err != nil || base.Margin == nil {
		return
	}
	type made struct {
		answer.Offer
		value float64
	}
	var all []made
	try := func(f *model.Folder, name string, act model.Act) {
		now, err := Ask(ctx, answer.NewCaseFrom(f, q.c), answer.Options{Bare: true})
		if err != nil || now.Margin == nil || now.Margin.Value < base.Margin.Value+0.5 && now.Margin.Confidence < base.Margin.Confidence+0.005 {
			return
		}
		all = append(all, made{answer.Offer{Name: name, Acts: []model.Act{act}, Why: fmt.Sprintf("%s beyond the middle passage instead of %s, enough with a chance of %.0f %% instead of %.0f",
			days(now.Margin.Value), days(base.Margin.Value), 100*now.Margin.Confidence, 100*base.Margin.Confidence)}, now.Margin.Confidence})
	}
	for _, n := range q.offered(a) {
		try(provisions.More(q.c.Folder, n), fmt.Sprintf("food for %d more days", n), model.Act{Do: model.Food, Days: n})
	}
	for i := range q.c.Folder.Boat.Makers {
		f, act, name := q.longer(i)
		try(f, name, act)
	}
	slices.SortStableFunc(all, func(x, y made) int { return cmp.Compare(y.value, x.value) })
	for _, m := range all {
		a.Offers = append(a.Offers, m.Offer)
	}
}

// offered are the days of food that are tried: ten, and as many as bring the margin asked for and the confidence of nineteen in twenty, as
// far as the spread of the food itself allows it to be told from here.
func (q *ask) offered(a *answer.Answer) []int {
	out := []int{ten}
	want := math.Max(a.Margin.Asked-a.Margin.Value, a.Margin.Spread-a.Margin.Value)
	if n := int(5 * math.Ceil(want/5)); n > 0 && n != ten && n <= 100 {
		out = append(out, n)
	}
	return out
}

// longer is the folder with an hour more a day of one maker.
func (q *ask) longer(i int) (*model.Folder, model.Act, string) {
	f := *q.c.Folder
	f.Stamp = ""
	f.Boat.Makers = slices.Clone(f.Boat.Makers)
	m := &f.Boat.Makers[i]
	hours := float64(m.Hours)/sustenance.Hour + 1
	m.Hours = units.Duration(hours * sustenance.Hour)
	name := fmt.Sprintf("an hour a day more of the %s", m.Name)
	return &f, model.Act{Do: model.SetValue, File: "boat.yaml", Key: fmt.Sprintf("water makers[%d].hours", i), Text: fmt.Sprintf("%g h", hours)}, name
}
