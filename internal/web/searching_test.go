package web

import (
	"bufio"
	"context"
	"encoding/json"
	"math"
	"net/http"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/sheet"
)

// watched is a search as a page sees it.
type watched struct {
	events chan string
	last   FoundLast
	leave  context.CancelFunc
}

// watch follows a search; the names of its events come as they do.
func (b *bench) watch(t *testing.T, path string) *watched {
	t.Helper()
	ctx, leave := context.WithCancel(t.Context())
	req := must(http.NewRequestWithContext(ctx, http.MethodGet, b.URL+path, nil))
	res, err := b.Client().Do(req)
	if err != nil {
		t.Fatal(err)
	}
	w := &watched{events: make(chan string, 32), leave: leave}
	go func() {
		defer res.Body.Close()
		defer close(w.events)
		name := ""
		for lines := bufio.NewScanner(res.Body); lines.Scan(); {
			if one, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
				name = one
			}
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				if name == "end" {
					json.Unmarshal([]byte(data), &w.last)
				}
				w.events <- name
			}
		}
	}()
	return w
}

// until waits for an event.
func (w *watched) until(t *testing.T, name string) {
	t.Helper()
	end := time.After(5 * time.Second)
	for {
		select {
		case got, ok := <-w.events:
			if got == name {
				return
			}
			if !ok {
				t.Fatalf("the stream ended without %q", name)
			}
		case <-end:
			t.Fatalf("no %q came", name)
		}
	}
}

func searchBench(t *testing.T) *bench {
	return newBench(t, withLockers, func(b *bench, _ *source) {
		b.searches = []answer.Search{{ID: "mass", Title: "Look for less", About: "It looks.", Run: seek}}
	})
}

func TestASearchIsStoppedAndKeepsItsBest(t *testing.T) {
	b := searchBench(t)
	var boat Boat
	b.fetch(t, "/api/boat", &boat)
	if s := boat.Questions[0].Search; s == nil || s.Title != "Look for less" || boat.Questions[1].Search != nil {
		t.Errorf("%+v", boat.Questions)
	}
	w := b.watch(t, "/api/search/mass?seconds=60")
	w.until(t, "found")
	other := b.watch(t, "/api/search/mass?seconds=60") // a second page joins, and hears what was found before
	other.until(t, "found")
	var stopped struct{ Stopped bool }
	if status, body := b.send(t, http.MethodPost, "/api/search/mass/stop", map[string]any{}, &stopped); status != 200 || !stopped.Stopped {
		t.Fatal(status, body)
	}
	for _, one := range []*watched{w, other} {
		one.until(t, "end")
		if l := one.last; !l.Stopped || l.Trouble != "" || l.Found.Sentence != "the best" || len(l.Offers) != 1 || len(l.Offers[0].Edits) != 1 || l.Stamp != boat.Stamp {
			t.Errorf("%+v", l)
		}
	}
	// Whoever comes later has it at once.
	late := b.watch(t, "/api/search/mass?seconds=60")
	late.until(t, "end")
	if late.last.Found != w.last.Found && late.last.Found.Sentence != "the best" {
		t.Errorf("%+v", late.last)
	}
	b.send(t, http.MethodPost, "/api/search/mass/stop", map[string]any{}, &stopped)
	if stopped.Stopped {
		t.Error("what is done was stopped")
	}
	// Asked to look again, it does, to its time.
	again := b.watch(t, "/api/search/mass?seconds=0.2&again=true")
	again.until(t, "end")
	if again.last.Stopped || again.last.Found.Gap == nil || *again.last.Found.Gap != 0 {
		t.Errorf("%+v", again.last)
	}
}

// TestASearchOutlivesItsPage: a page that is left does not lose what was found, and another search ends it.
func TestASearchOutlivesItsPage(t *testing.T) {
	b := searchBench(t)
	b.try(t, 0, heavier())
	w := b.watch(t, "/api/search/mass?seconds=60")
	w.until(t, "found")
	w.leave()
	back := b.watch(t, "/api/search/mass?seconds=60")
	back.until(t, "found")
	tried := b.watch(t, "/api/search/mass?seconds=0.1&try=heavier")
	tried.until(t, "end")
	back.until(t, "end")
	if !back.last.Stopped || back.last.Found.Sentence != "the best" || back.last.Stamp == tried.last.Stamp {
		t.Errorf("%+v, %+v", back.last, tried.last)
	}
}

func TestSearchesThatCannotBe(t *testing.T) {
	b := newBench(t, func(b *bench, _ *source) {
		b.searches = []answer.Search{
			{ID: "mass", Title: "Look for less", Run: seek},
			{ID: "without", Title: "Cannot be shown", Run: func(context.Context, *answer.Case, float64, func(answer.Finding)) (answer.Finding, error) {
				gap := math.Inf(1)
				f := answer.Finding{Gap: &gap}
				f.Sheet.Blocks = []sheet.Block{{Table: &sheet.Table{Rows: [][]sheet.Cell{{{Value: math.NaN()}}}}}}
				return f, nil
			}},
			{ID: "again", Title: "Breaks", Run: func(context.Context, *answer.Case, float64, func(answer.Finding)) (answer.Finding, error) {
				panic("a fault in the search")
			}},
		}
	})
	for path, says := range map[string]string{
		"/api/search/mass":           "nothing is aboard",
		"/api/search/without":        "cannot be shown",
		"/api/search/again":          "the program's fault",
		"/api/search/waits":          "nothing to look for",
		"/api/search/mass?try=other": "no try called",
	} {
		w := b.watch(t, path)
		w.until(t, "end")
		if !strings.Contains(w.last.Trouble, says) || len(w.last.Offers) > 0 {
			t.Errorf("%s: %+v", path, w.last)
		}
	}
	if status, body := b.send(t, http.MethodPost, "/api/search/waits/stop", map[string]any{}, nil); status != 404 || !strings.Contains(body, "mass, without, again") {
		t.Errorf("%d %s", status, body)
	}
}
