package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/model"
)

// pulling gives the bench levers that come one by one, when the test lets them.
type pulling struct {
	tables int // how many were begun; read when none is under way
	let    chan struct{}
	ended  chan error
}

func (p *pulling) put(_ *bench, from *source) {
	p.let, p.ended = make(chan struct{}), make(chan error, 8)
	from.levers.list = func(*model.Folder, *boatfolder.Draft) []levers.Lever {
		return []levers.Lever{{Name: "first"}, {Name: "second"}, {Name: "third", Fault: "there is no third"}}
	}
	from.levers.table = func(ctx context.Context, _ *boatfolder.Draft, base *answer.Case, table []answer.Question, ls []levers.Lever, o answer.Options, each func(levers.Row)) (levers.Result, error) {
		if len(ls) == 0 {
			return levers.Result{Tightest: "mass"}, nil
		}
		p.tables++
		if got, err := table[0].Ask(ctx, base, o); err != nil || got.Sentence != "628 kg" {
			return levers.Result{}, fmt.Errorf("the folder itself answers %q, %v", got.Sentence, err)
		}
		var out levers.Result
		for i := range ls {
			select {
			case <-p.let:
			case <-ctx.Done():
				p.ended <- ctx.Err()
				return out, ctx.Err()
			}
			row := levers.Row{Lever: i, Cells: []levers.Cell{{Question: "mass", Verdict: answer.Yes, Shown: "+1 kg"}}}
			each(row)
			out.Rows = append([]levers.Row{row}, out.Rows...)
		}
		return out, nil
	}
}

// one lets one row go.
func (p *pulling) one(t *testing.T) {
	t.Helper()
	select {
	case p.let <- struct{}{}:
	case <-time.After(5 * time.Second):
		t.Error("nobody works at a row")
	}
}

func TestLeversComeOneByOne(t *testing.T) {
	var p pulling
	b := newBench(t, p.put)
	res, err := b.Client().Get(b.URL + "/api/levers")
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	var list LeverList
	var end LeverEnd
	rows := 0
	names, _ := streamed(t, res.Body, func(name, data string) bool {
		switch name {
		case "list":
			if err := json.Unmarshal([]byte(data), &list); err != nil {
				t.Error(err)
			}
			p.one(t) // each row is let go only when the event before it has been read
		case "row":
			var row LeverRow
			if err := json.Unmarshal([]byte(data), &row); err != nil || row.Lever != rows || row.Cells[0].Shown != "+1 kg" {
				t.Errorf("row %d: %v %s", rows, err, data)
			}
			if rows++; rows < 3 {
				p.one(t)
			}
		case "end":
			json.Unmarshal([]byte(data), &end)
			return true
		}
		return false
	})
	if want := []string{"list", "row", "row", "row", "end"}; !slices.Equal(names, want) {
		t.Fatalf("events %v", names)
	}
	if len(list.Levers) != 3 || list.Levers[0].Edits == nil || len(list.Questions) != 3 || list.Questions[0].ID != "mass" || list.Base[0].Sentence != "628 kg" || list.Base[0].Margin == nil || list.Tightest != "mass" {
		t.Errorf("%+v", list)
	}
	if !slices.Equal(end.Order, []int{2, 1, 0}) || end.Trouble != "" || end.Stamp == "" {
		t.Errorf("%+v", end)
	}
	if asked := b.asked.Load(); asked != 1 {
		t.Errorf("the folder itself was asked %d times", asked)
	}
	// A second page gets the whole table as it was kept.
	_, body, _ := b.get(t, "/api/levers")
	if again, _ := streamed(t, strings.NewReader(body), func(string, string) bool { return false }); !slices.Equal(again, names) || p.tables != 1 {
		t.Errorf("%v, worked out %d times", again, p.tables)
	}
}

// TestLeversEndWithTheLastWhoWatches: two watch one table; it goes on for the second.
func TestLeversEndWithTheLastWhoWatches(t *testing.T) {
	var p pulling
	b := newBench(t, p.put)
	watch := func() context.CancelFunc {
		ctx, cancel := context.WithCancel(context.Background())
		req, _ := http.NewRequestWithContext(ctx, http.MethodGet, b.URL+"/api/levers", nil)
		res, err := b.Client().Do(req)
		if err != nil {
			t.Fatal(err)
		}
		streamed(t, res.Body, func(name, _ string) bool { return name == "list" })
		return cancel
	}
	first, second := watch(), watch()
	first()
	select {
	case <-p.ended:
		t.Fatal("ended although one still watches")
	case <-time.After(300 * time.Millisecond):
	}
	second()
	select {
	case err := <-p.ended:
		if err == nil || p.tables != 1 {
			t.Errorf("%v, %d tables", err, p.tables)
		}
	case <-time.After(5 * time.Second):
		t.Fatal("goes on although nobody watches")
	}
	close(p.let)
	_, body, _ := b.get(t, "/api/levers")
	if names, _ := streamed(t, strings.NewReader(body), func(string, string) bool { return false }); len(names) != 5 || p.tables != 2 {
		t.Errorf("asked again: %v, %d tables", names, p.tables)
	}
}

// TestALeverTableThatBreaksDown is told and not kept.
func TestALeverTableThatBreaksDown(t *testing.T) {
	broken := true
	b := newBench(t, func(_ *bench, from *source) {
		from.levers.list = func(*model.Folder, *boatfolder.Draft) []levers.Lever { return nil }
		from.levers.table = func(context.Context, *boatfolder.Draft, *answer.Case, []answer.Question, []levers.Lever, answer.Options, func(levers.Row)) (levers.Result, error) {
			if broken {
				panic("a fault in the table")
			}
			return levers.Result{}, nil
		}
	})
	if _, body, _ := b.get(t, "/api/levers"); !strings.Contains(body, "the program's fault") || !strings.Contains(body, "event: end") {
		t.Error(body)
	}
	broken = false
	if _, body, _ := b.get(t, "/api/levers"); strings.Contains(body, "trouble") {
		t.Error(body)
	}
}

// TestRowsStandBesideBare: what draws by chance is asked anew of the folder as it stands, bare as in a row, and not taken from what the page shows.
func TestRowsStandBesideBare(t *testing.T) {
	q := answer.Question{ID: "drawn", Draws: "passages", Ask: func(_ context.Context, _ *answer.Case, o answer.Options) (answer.Answer, error) {
		return answer.Answer{Sentence: fmt.Sprint("bare ", o.Bare)}, nil
	}}
	table := []answer.Question{q}
	s := &service{table: table, asking: newAsking(table)}
	boat := answer.NewCase(&model.Folder{})
	asked := s.leverTable(edition{boat: boat}, []answer.Answer{{Sentence: "as shown"}}, []error{nil})[0]
	for want, o := range map[string]answer.Options{"as shown": {Brief: true}, "bare true": {Bare: true}} {
		if a, err := asked.Ask(context.Background(), boat, o); err != nil || a.Sentence != want {
			t.Errorf("%+v: %q, %v; wanted %q", o, a.Sentence, err, want)
		}
	}
}
