package web

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/plan"
)

// The checks in this file are of the server's own behaviour on a real folder with two lockers.

const lockersText = boatText + `compartments:
  - {number: 1, name: fore, from: 0 m, to: 3 m, packing: 50%}
  - {number: 2, name: aft, from: 3 m, to: 6 m, packing: 50%}
`

const storesText = "what,count,mass,where,used,volume\nbread,10,1 kg,1,days 1-10,2 L\nlamp,1,0.5 kg,2,,1 L\n"

// withLockers gives the boat two lockers.
func withLockers(b *bench, _ *source) {
	b.files = map[string]string{"boat.yaml": lockersText, "stores.csv": storesText}
}

func TestWhatLiesWhere(t *testing.T) {
	b := newBench(t, withLockers)
	b.try(t, 0, Try{"moved", []boatfolder.Edit{{File: "stores.csv", Key: "rows[1].where", Was: "2", Text: "1"}}})
	for _, c := range []struct {
		query    string
		bread    int // left
		lamp     int // its locker
		fore     float64
		calendar int
	}{
		{"", 10, 1, 10, 2},
		{"?day=4", 6, 1, 6, 2},
		{"?day=4&try=moved", 6, 0, 6.5, 2},
	} {
		var got plan.Stowage
		b.fetch(t, "/api/stowage"+c.query, &got)
		if len(got.Now.Things) != 2 || got.Now.Things[0].Left != c.bread || got.Now.Things[1].Locker != c.lamp || got.Now.Lockers[0].MassIn != c.fore || len(got.Calendar) != c.calendar || len(got.Views) != 3 {
			t.Errorf("%s: %+v", c.query, got.Now)
		}
	}
	if status, body, _ := b.get(t, "/api/stowage?day=11"); status != 422 || !strings.Contains(body, "last day") {
		t.Errorf("%d %s", status, body)
	}
}

func TestAThingIsCarried(t *testing.T) {
	b := newBench(t, withLockers)
	carry := func(one PullOne) (got Pulled, status int, body string) {
		status, body = b.send(t, http.MethodPost, "/api/pull", map[string]any{"edits": []boatfolder.Edit{}, "pulls": []PullOne{one}, "stowage": true}, &got)
		return got, status, body
	}
	got, status, body := carry(PullOne{Handle: "stores.csv:rows[0]", Into: "2"})
	if status != 200 || len(got.Edits) != 1 || got.Edits[0].Text != "2" || got.Stowed == nil || got.Stowed.Lockers[1].MassIn != 10.5 || len(got.Answers) != 2 || got.Views != nil {
		t.Fatalf("%d %s", status, body)
	}
	b.try(t, 0, Try{"carried", got.Edits})
	var stowage plan.Stowage
	b.fetch(t, "/api/stowage?try=carried", &stowage)
	if stowage.Now.Lockers[1].MassIn != 10.5 {
		t.Errorf("held, it was 10.5 kg; laid down, it is %v", stowage.Now.Lockers[1].MassIn)
	}
	if got, status, body = carry(PullOne{Handle: "stores.csv:rows[0]", Into: "2", Count: 4}); status != 200 || len(got.Edits) != 2 || got.Stowed.Lockers[1].MassIn != 4.5 || len(got.Stowed.Things) != 3 {
		t.Errorf("%d %s", status, body)
	}
	for _, c := range []struct{ says, handle, into string }{
		{"no compartment is called", "stores.csv:rows[0]", "7"},
		{"nothing to be carried", "stores.csv:rows[9]", "2"},
	} {
		if _, status, body := carry(PullOne{Handle: c.handle, Into: c.into}); status != 422 || !strings.Contains(body, c.says) {
			t.Errorf("%s: %d %s", c.says, status, body)
		}
	}
	if b.text(t, "stores.csv") != storesText {
		t.Error("what was held was written")
	}
}

func TestLists(t *testing.T) {
	b := newBench(t, withLockers)
	var all []ListNamed
	b.fetch(t, "/api/lists", &all)
	if len(all) < 6 {
		t.Fatalf("%v", all)
	}
	for _, l := range all {
		var shown ListShown
		b.fetch(t, "/api/lists/"+l.Kind+"?day=3", &shown)
		if shown.Title != l.Title || len(shown.Sheet.Blocks) == 0 {
			t.Errorf("%s: %+v", l.Kind, shown)
		}
		status, body, head := b.get(t, "/api/lists/"+l.Kind+"?day=3&format=csv")
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(body, "\ufeff"))).ReadAll()
		if status != 200 || err != nil || len(rows) < 1 || head.Get("Content-Type") != "text/csv; charset=utf-8" || !strings.Contains(head.Get("Content-Disposition"), l.Kind+".csv") {
			t.Errorf("%s: %d %v %v %q", l.Kind, status, err, head, body)
		}
	}
	if status, body, _ := b.get(t, "/api/lists/wishes"); status != 404 || !strings.Contains(body, all[0].Kind) {
		t.Errorf("%d %s", status, body)
	}
}

// carryLamp is what a made-up question and a made-up search offer.
var carryLamp = answer.Offer{Name: "the lamp forward", Why: "it is nearer there", Acts: []model.Act{{Do: model.Put, What: []string{"lamp"}, From: "2", To: "1"}}}

func TestAnOfferBecomesEdits(t *testing.T) {
	b := newBench(t, withLockers)
	var asked Asked
	b.fetch(t, "/api/ask/mass", &asked)
	if len(asked.Answer.Offers) != 2 || asked.Answer.Offers[0].Name != carryLamp.Name {
		t.Fatalf("%+v", asked.Answer.Offers)
	}
	var made OfferMade
	b.fetch(t, "/api/offers/mass/0", &made)
	if made.Fault != "" || len(made.Edits) != 1 || made.Edits[0].Text != "1" || made.Why != carryLamp.Why {
		t.Errorf("%+v", made)
	}
	b.try(t, 0, Try{"done", made.Edits})
	b.fetch(t, "/api/offers/mass/0?try=done", &made)
	if made.Fault == "" || len(made.Edits) != 0 {
		t.Errorf("what the try has done already: %+v", made)
	}
	b.fetch(t, "/api/offers/mass/1", &made)
	if !strings.Contains(made.Fault, "mast") {
		t.Errorf("an offer that cannot be made: %+v", made)
	}
	for path, says := range map[string]string{"/api/offers/mass/2": "2 offers", "/api/offers/none/0": "there is no question"} {
		if status, body, _ := b.get(t, path); status != 404 || !strings.Contains(body, says) {
			t.Errorf("%s: %d %s", path, status, body)
		}
	}
}

// BenchmarkCarry is a thing held over one compartment after another; the aim is under 50 ms.
func BenchmarkCarry(b *testing.B) {
	url, end := serveDemo(b, "sanderling")
	defer end()
	var all plan.Stowage
	if err := json.Unmarshal(fetchAll(b, http.MethodGet, url+"/api/stowage?day=20", nil), &all); err != nil {
		b.Fatal(err)
	}
	which := slices.IndexFunc(all.Now.Things, func(t plan.Thing) bool { return t.Locker >= 0 && t.MassLeft > 3 })
	thing := all.Now.Things[which]
	var took []time.Duration
	for i := 0; b.Loop(); i++ {
		to := i % len(all.Now.Lockers)
		if to == thing.Locker {
			continue
		}
		began := time.Now()
		text := fetchAll(b, http.MethodPost, url+"/api/pull", map[string]any{
			"edits": []boatfolder.Edit{}, "pulls": []PullOne{{Handle: thing.ID, Into: all.Now.Lockers[to].Word}}, "day": 20, "stowage": true, "page": fmt.Sprint("bench ", i),
		})
		took = append(took, time.Since(began))
		var got Pulled
		if err := json.Unmarshal(text, &got); err != nil || len(got.Faults) > 0 || got.Stowed == nil {
			b.Fatalf("%v %.500s", err, text)
		}
	}
	if len(took) == 0 {
		return
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "ms/median")
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "ms/p95")
}

// seek is a made-up search: it tells one finding, then waits for its time or for a stop.
func seek(ctx context.Context, c *answer.Case, seconds float64, found func(answer.Finding)) (answer.Finding, error) {
	gap := 0.4
	if c.Folder.Boat.Name == "Test hull" && len(c.Folder.Stores) == 0 {
		return answer.Finding{}, fmt.Errorf("nothing is aboard")
	}
	found(answer.Finding{Sentence: "so far", Gap: &gap})
	select {
	case <-ctx.Done():
	case <-time.After(time.Duration(seconds * float64(time.Second))):
		gap = 0
	}
	return answer.Finding{Sentence: "the best", Gap: &gap, Offers: []answer.Offer{carryLamp}}, nil
}
