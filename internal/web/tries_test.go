package web

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/byhand"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/units"
)

// The checks in this file are of the server's own behaviour on a real folder; the questions are
// made up, so that what they answer can be read off the files.

// bench is a server over a real folder whose questions answer at once.
type bench struct {
	rig
	dir      string
	searches []answer.Search
	files    map[string]string // instead of the usual ones, or beside them
}

// boatText has remarks and an order of its own, which must outlast every change.
const boatText = `boat: Test hull   # a box
hull:
  offsets: offsets.csv
weights:
  # weighed in the shed
  - {what: all up, mass: 620 kg, at: [3.10 m, 0 m, 0.42 m]}   # with the rower
  - {what: anchor, mass: 8 kg, at: [1.00 m, 0 m, 0.20 m]}
`

const offsetsText = "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,0,500\n0,0,600,500\n1,6000,0,0\n1,6000,0,500\n1,6000,600,500\n"

func total(f *model.Folder) float64 {
	sum := 0.0
	for _, w := range f.Boat.Weights {
		sum += float64(w.Mass.Value)
	}
	return sum
}

// newBench serves a folder of the smallest kind. changes may set other sources.
func newBench(t *testing.T, changes ...func(*bench, *source)) *bench {
	t.Helper()
	b := &bench{dir: t.TempDir()}
	b.ended = make(chan error, 64)
	b.write(t, "boat.yaml", boatText)
	b.write(t, "offsets.csv", offsetsText)
	table := []answer.Question{
		{ID: "mass", Title: "What does she weigh?", Group: answer.Afloat, Quick: true, Ask: func(_ context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
			b.asked.Add(1)
			words := fmt.Sprintf("%.0f kg", total(c.Folder))
			if c.Folder.Boat.Units == units.Feet {
				words += " in feet"
			}
			if o.Moment {
				words += " at the moment"
			}
			return answer.Answer{
				Verdict: answer.Yes, Sentence: words, Margin: &answer.Margin{Value: total(c.Folder), Unit: "kg"},
				Offers:      []answer.Offer{carryLamp, {Name: "a mast ashore", Acts: []model.Act{{Do: model.LeaveOut, What: []string{"mast"}}}}},
				Needs:       []answer.Need{{File: "boat.yaml", Key: "openings", Why: "none is named"}},
				Assumptions: []answer.Assumption{{What: "the weight", Value: "as written", File: "boat.yaml: weights; stores.csv"}, {What: "water", Value: "of the sea", File: "boat.yaml: water"}},
			}, nil
		}},
		{ID: "again", Title: "And again?", Group: answer.Afloat, Ask: func(context.Context, *answer.Case, answer.Options) (answer.Answer, error) {
			return answer.Answer{
				Verdict: answer.Close, Needs: []answer.Need{{File: "boat.yaml", Key: "openings", Why: "none is named"}},
				Assumptions: []answer.Assumption{{What: "water", Value: "of the sea", File: "boat.yaml: water"}},
			}, nil
		}},
		{ID: "waits", Title: "Waits?", Group: answer.Afloat, Quick: true, Ask: func(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
			if total(c.Folder) < 1000 {
				return answer.Answer{Verdict: answer.Close}, nil
			}
			<-ctx.Done()
			b.ended <- ctx.Err()
			return answer.Answer{}, ctx.Err()
		}},
	}
	from := onDisk
	from.portrait = func(c *answer.Case, _ int, _ string) (sheet.Drawing, error) {
		return sheet.Drawing{MaxX: total(c.Folder)}, nil
	}
	from.hand = hand{
		draw: func(c *answer.Case, _ *boatfolder.Draft, _ int, _ string) (byhand.Views, error) {
			return byhand.Views{Body: sheet.Drawing{MaxX: total(c.Folder)}}, nil
		},
		pull: func(f *model.Folder, _ *boatfolder.Draft, id string, x, _, _ *float64) ([]boatfolder.Edit, error) {
			if id != "anchor" {
				return nil, fmt.Errorf("there is nothing to pull called %q", id)
			}
			return []boatfolder.Edit{{File: "boat.yaml", Key: "weights[1].mass", Of: "anchor", Text: fmt.Sprintf("%.0f kg", *x)}}, nil
		},
	}
	for _, c := range changes {
		c(b, &from)
	}
	for name, text := range b.files {
		b.write(t, name, text)
	}
	handler, closer, err := newHandler(b.dir, table, b.searches, from, "")
	if err != nil {
		t.Fatal(err)
	}
	b.Server = httptest.NewServer(handler)
	b.Client().Timeout = 12 * time.Second
	t.Cleanup(func() { closer.Close(); b.Close() })
	return b
}

func (b *bench) write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(b.dir, name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func (b *bench) text(t *testing.T, name string) string {
	t.Helper()
	return string(must(os.ReadFile(filepath.Join(b.dir, name))))
}

// send sends a body as JSON and reads the reply into v, where that is given.
func (b *bench) send(t *testing.T, method, path string, body, v any, change ...func(*http.Request)) (int, string) {
	t.Helper()
	raw, ok := body.([]byte)
	if !ok {
		raw = must(json.Marshal(body))
	}
	req, err := http.NewRequest(method, b.URL+path, bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/json")
	for _, c := range change {
		c(req)
	}
	res, err := b.Client().Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text := must(io.ReadAll(res.Body))
	if v != nil {
		if err := json.Unmarshal(text, v); err != nil {
			t.Fatalf("%s %s: %d %s", method, path, res.StatusCode, text)
		}
	}
	return res.StatusCode, string(text)
}

// fetch reads a reply of 200 into v.
func (b *bench) fetch(t *testing.T, path string, v any) {
	t.Helper()
	status, body, _ := b.get(t, path)
	if err := json.Unmarshal([]byte(body), v); status != 200 || err != nil {
		t.Fatalf("%s: %d %v %s", path, status, err, body)
	}
}

func (b *bench) sentence(t *testing.T, query string) string {
	t.Helper()
	var got Asked
	b.fetch(t, "/api/ask/mass"+query, &got)
	return got.Answer.Sentence
}

// mass is the edit of a weight.
func mass(item int, was, text string) boatfolder.Edit {
	return boatfolder.Edit{File: "boat.yaml", Key: fmt.Sprintf("weights[%d].mass", item), Was: was, Text: text}
}

type put struct {
	Version int   `json:"version"`
	Tries   []Try `json:"tries"`
}

// try stores tries and gives the version that they have then.
func (b *bench) try(t *testing.T, version int, tries ...Try) TriesNow {
	t.Helper()
	var now TriesNow
	if status, body := b.send(t, http.MethodPut, "/api/tries", put{version, tries}, &now); status != 200 {
		t.Fatalf("%d %s", status, body)
	}
	return now
}

func heavier() Try { return Try{"heavier", []boatfolder.Edit{mass(0, "620 kg", "650 kg")}} }

func TestATryIsAskedLikeTheFolder(t *testing.T) {
	b := newBench(t)
	now := b.try(t, 0, heavier(), Try{Name: "nothing yet"})
	if len(now.Tries) != 2 || len(now.Tries[0].Faults) != 0 || len(now.Tries[0].Changes) != 1 || !strings.Contains(now.Tries[0].Changes[0].After, "650 kg") {
		t.Fatalf("%+v", now)
	}
	for query, want := range map[string]string{
		"": "628 kg", "?try=heavier": "658 kg", "?try=nothing+yet": "628 kg",
		"?units=feet": "628 kg in feet", "?try=heavier&units=feet": "658 kg in feet", "?try=heavier&units=metric": "658 kg",
	} {
		for range 2 {
			if got := b.sentence(t, query); got != want {
				t.Errorf("%s: %q, want %q", query, got, want)
			}
		}
	}
	if got := b.asked.Load(); got != 4 {
		t.Errorf("asked %d times, want 4: two folders in two units, each once", got)
	}
	if b.text(t, "boat.yaml") != boatText {
		t.Error("a try has been written to the files")
	}
	var plain, tried Boat
	b.fetch(t, "/api/boat", &plain)
	b.fetch(t, "/api/boat?try=heavier&units=feet", &tried)
	if plain.Stamp == tried.Stamp || tried.Units != "feet" || plain.Units != "metric" || tried.Stale {
		t.Errorf("%+v\n%+v", plain, tried)
	}
	for _, path := range []string{"ask/mass", "boat", "portrait", "patterns/mass", "folder", "needs", "byhand"} {
		if status, body, _ := b.get(t, "/api/"+path+"?try=lighter"); status != 404 || !strings.Contains(body, "heavier, nothing yet") {
			t.Errorf("%s of no try: %d %s", path, status, body)
		}
		if path == "folder" {
			continue
		}
		if status, body, _ := b.get(t, "/api/"+path+"?units=fathoms"); status != 422 {
			t.Errorf("%s in no units: %d %s", path, status, body)
		}
	}
	for _, path := range []string{"answers", "levers"} {
		if _, body, _ := b.get(t, "/api/"+path+"?try=lighter"); !strings.Contains(body, "heavier, nothing yet") {
			t.Errorf("%s of no try: %s", path, body)
		}
	}
}

// TestTriesAreOnTheDiskBeforeTheAnswer: a server that is killed loses none.
func TestTriesAreOnTheDiskBeforeTheAnswer(t *testing.T) {
	b := newBench(t)
	now := b.try(t, 0, heavier())
	if stored := b.text(t, "tries.json"); !strings.Contains(stored, "650 kg") || !strings.Contains(stored, "heavier") {
		t.Errorf("the file says %s", stored)
	}
	second, closer, err := Page{}.Handler(b.dir, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer closer.Close()
	reply := httptest.NewRecorder()
	second.ServeHTTP(reply, httptest.NewRequest(http.MethodGet, "http://localhost/api/tries", nil))
	var after TriesNow
	if err := json.Unmarshal(reply.Body.Bytes(), &after); err != nil || after.Version != now.Version || len(after.Tries) != 1 {
		t.Errorf("another server has %v %s", err, reply.Body)
	}
}

func TestAKeptTryIsWhatWasShown(t *testing.T) {
	b := newBench(t)
	now := b.try(t, 0, heavier(), Try{"light anchor", []boatfolder.Edit{mass(1, "8 kg", "5 kg")}})
	var tried Boat
	b.fetch(t, "/api/boat?try=heavier", &tried)
	shown := b.sentence(t, "?try=heavier")
	asked := b.asked.Load()
	var kept Kept
	if status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "heavier", "version": now.Version}, &kept); status != 200 {
		t.Fatal(status, body)
	}
	if want := strings.Replace(boatText, "620 kg", "650 kg", 1); b.text(t, "boat.yaml") != want {
		t.Errorf("the file says\n%s", b.text(t, "boat.yaml"))
	}
	if got := b.sentence(t, ""); got != shown || b.asked.Load() != asked {
		t.Errorf("kept: %q, shown before %q; asked %d times again", got, shown, b.asked.Load()-asked)
	}
	var boat Boat
	b.fetch(t, "/api/boat", &boat)
	if boat.Stamp != tried.Stamp || kept.Stamp != tried.Stamp || len(kept.Changes) != 1 {
		t.Errorf("stamps %q, %q, want %q; changes %+v", boat.Stamp, kept.Stamp, tried.Stamp, kept.Changes)
	}
	var left TriesNow
	b.fetch(t, "/api/tries", &left)
	if len(left.Tries) != 1 || left.Tries[0].Name != "light anchor" || left.Version != kept.Version || len(left.Tries[0].Faults) != 0 {
		t.Errorf("left: %+v", left)
	}
	earlier := must(filepath.Glob(filepath.Join(b.dir, "earlier", "*")))
	if len(earlier) == 0 || string(must(os.ReadFile(earlier[0]))) != boatText {
		t.Errorf("the version before is not kept beside: %v", earlier)
	}
	if status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "heavier", "version": left.Version}, nil); status != 404 {
		t.Errorf("kept twice: %d %s", status, body)
	}
}

func TestADraftTellsWhatEditsWouldDo(t *testing.T) {
	b := newBench(t)
	b.try(t, 0, heavier())
	for _, c := range []struct {
		name  string
		try   string
		edit  boatfolder.Edit
		after string // of the last changed line
		fault string
	}{
		{"fits", "", mass(1, "8 kg", "9 kg"), "9 kg", ""},
		{"on top of a try", "heavier", mass(0, "650 kg", "700 kg"), "700 kg", ""},
		{"no unit", "", mass(1, "8 kg", "9"), "mass: 9", "unit"},
		{"another text is there", "", mass(1, "7 kg", "9 kg"), "", "8 kg"},
		{"no such file", "", boatfolder.Edit{File: "ghost.csv", Key: "rows[0].x", Text: "1"}, "", "ghost.csv"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got Drafted
			status, body := b.send(t, http.MethodPost, "/api/draft", map[string]any{"try": c.try, "edits": []boatfolder.Edit{c.edit}}, &got)
			if status != 200 || (len(got.Faults) > 0) != (c.fault != "") || !strings.Contains(body, c.fault) {
				t.Fatalf("%d %s", status, body)
			}
			if c.after != "" && (len(got.Changes) != 1 || !strings.Contains(got.Changes[0].After, c.after) || len(got.Values) == 0) {
				t.Errorf("%+v", got)
			}
		})
	}
	if b.text(t, "boat.yaml") != boatText {
		t.Error("a draft was written")
	}
}

func TestTheFoldersText(t *testing.T) {
	b := newBench(t)
	b.try(t, 0, heavier())
	for query, want := range map[string]string{"": boatText, "?try=heavier": strings.Replace(boatText, "620 kg", "650 kg", 1)} {
		var got FolderShown
		b.fetch(t, "/api/folder"+query, &got)
		if len(got.Files) != 2 || got.Files[0].Name != "boat.yaml" || got.Files[0].Text != want || got.Files[1].Name != "offsets.csv" {
			t.Fatalf("%s: %+v", query, got)
		}
		found := false
		for _, v := range got.Files[0].Values {
			found = found || v.Key == "weights[0].mass" && v.Line == 6 && strings.HasSuffix(v.Text, "kg")
		}
		if !found || got.Stamp == "" {
			t.Errorf("%s: the weight cannot be changed: %+v", query, got.Files[0].Values)
		}
	}
}

func TestNeedsLeadToTheLine(t *testing.T) {
	b := newBench(t)
	var got NeedsNow
	b.fetch(t, "/api/needs", &got)
	if len(got.Needs) != 1 || len(got.Needs[0].Questions) != 2 || got.Needs[0].Question != "mass" || got.Needs[0].Title != "What does she weigh?" || got.Needs[0].Line != 0 {
		t.Errorf("%+v", got.Needs)
	}
	if len(got.Assumptions) != 2 || got.Assumptions[0].Key != "weights" || got.Assumptions[0].Line != 6 || got.Assumptions[1].Line != 0 || len(got.Assumptions[1].Questions) != 2 {
		t.Errorf("%+v", got.Assumptions)
	}
	for _, c := range []struct {
		said, file, key string
		line            int
	}{
		{"boat.yaml: hull.tolerance", "boat.yaml", "hull.tolerance", 0}, {"cuts.csv", "cuts.csv", "", 0}, {"boat.yaml:34", "boat.yaml", "", 34},
		{"boat.yaml: weights; stores.csv", "boat.yaml", "weights", 0}, {"stores.csv; boat.yaml: weights", "stores.csv", "", 0}, {"", "", "", 0},
	} {
		if file, key, line := whereSaid(c.said); file != c.file || key != c.key || line != c.line {
			t.Errorf("%q: %q %q %d", c.said, file, key, line)
		}
	}
}
