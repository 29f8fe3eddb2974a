package feed

import (
	"context"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/model"
	"thole/internal/units"
)

// TestOffers: what is offered does, written into the folder's own files and read anew, what is promised.
//
// Source: the folder with the offer written in, asked anew
func TestOffers(t *testing.T) {
	for name, short := range map[string]func(f *model.Folder){
		"food": func(f *model.Folder) { f.Voyage.Days = 100 },
		"water": func(f *model.Folder) {
			f.Boat.Makers = f.Boat.Makers[:1]
			f.Boat.Makers[0].Hours = units.Duration(1200)
		},
	} {
		d, faults := boatfolder.Open("../../../demo/sanderling")
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		f := stay(t, "sanderling")
		f.Boat.Makers = append([]model.WaterMaker(nil), f.Boat.Makers...)
		short(f)
		was := asked(t, f, answer.Options{})
		if was.Verdict == answer.Yes || len(was.Offers) == 0 {
			t.Fatalf("%s: %s, and %d offers", name, was.Sentence, len(was.Offers))
		}
		for _, offer := range was.Offers {
			edits, err := levers.Edits(f, d, offer.Acts)
			if err != nil {
				t.Fatalf("%s: %s: %v", name, offer.Name, err)
			}
			n, faults := d.With(edits...)
			if len(faults) > 0 {
				t.Fatalf("%s: %s: %v", name, offer.Name, faults)
			}
			changed, faults := n.Read()
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			v := *changed.Voyage
			v.Leave, v.Days = f.Voyage.Leave, f.Voyage.Days
			changed.Voyage = &v
			if name == "water" {
				changed.Boat.Makers = changed.Boat.Makers[:1]
			}
			now, err := Ask(context.Background(), answer.NewCase(changed), answer.Options{Bare: true})
			if err != nil || now.Margin.Value < was.Margin.Value+0.5 && now.Margin.Confidence < was.Margin.Confidence+0.005 {
				t.Errorf("%s: %s: margin %+v, was %+v, %v", name, offer.Name, now.Margin, was.Margin, err)
			}
		}
	}
}
