package terminal

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/house/gallery"
	"thole/internal/levers"
	"thole/internal/model"
	"thole/internal/sheet"
)

// beacons offers a second beacon in the sleeping place, and says how it came to it. With more than an hour's half asked for, it looks until it is stopped.
var beacons = answer.Search{ID: "places", Title: "Look for a better place", About: "It moves what is not pinned.",
	Run: func(ctx context.Context, c *answer.Case, seconds float64, found func(answer.Finding)) (answer.Finding, error) {
		gap := 0.125
		found(answer.Finding{Sentence: "Found one at 40 points."})
		best := answer.Finding{Sentence: "Found one at 31 points.", Gap: &gap}
		found(best)
		if seconds > 1800 {
			<-ctx.Done()
		}
		best.Done = ctx.Err() == nil
		best.Sheet.Blocks = []sheet.Block{{Text: &sheet.Text{Heading: "How it was found", Paragraphs: []string{"By looking."}}}}
		if c.Folder.Boat.Name != "" && seconds != 7 {
			best.Offers = []answer.Offer{{Name: "a second beacon", Why: "It is lost less often.", Acts: []model.Act{{Do: model.Another, What: []string{"beacon"}, To: "101"}}},
				{Name: "no second beacon", Why: "Nothing is gained."}}
		}
		return best, nil
	}}

// seeking are tools on a new folder of the test's own.
func seeking(t *testing.T) (Tools, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "new")
	if err := boatfolder.Starter(dir); err != nil {
		t.Fatal(err)
	}
	tl := tools(unicodeEnv, gallery.Table())
	tl.Levers = levers.Open
	tl.Searches = []answer.Search{beacons}
	return tl, dir
}

// What is found is shown with its lines, and written only where that is asked for.
func TestSeek(t *testing.T) {
	tl, dir := seeking(t)
	stores := func() string {
		b, err := os.ReadFile(filepath.Join(dir, "stores.csv"))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	was := stores()
	const line = "\nbeacon,1,0.6 kg,101,"
	code, out, errs := run(t, tl, "seek", "places", dir)
	for _, want := range []string{"Look for a better place", "Found one at 31 points.", "At most 13 % from the best.", "How it was found", "A second beacon. It is lost less often.", "+ beacon,1,0.6 kg,101,", "Nothing is written"} {
		if !strings.Contains(out, want) {
			t.Errorf("not told: %s\n%s", want, out)
		}
	}
	if code != Held || errs != "" || strings.ContainsAny(out, "\x1b\r") || stores() != was {
		t.Errorf("%d %q: %s", code, errs, out)
	}
	if code, out, _ = run(t, tl, "seek", "places", dir, "--try", "beacons"); code != Held || !strings.Contains(out, `Kept as the try "beacons"`) || stores() != was {
		t.Errorf("%d %s", code, out)
	}
	tries, err := boatfolder.ReadTries(dir)
	if err != nil || len(tries.Tries) != 1 || tries.Tries[0].Name != "beacons" || !strings.Contains(tries.Tries[0].Edits[0].Text, "beacon,1,0.6 kg,101,") {
		t.Errorf("%+v %v", tries, err)
	}
	if code, _, errs = run(t, tl, "seek", "places", dir, "--try", "beacons"); code != Unread || errs == "" {
		t.Errorf("a try of the same name: %d %s", code, errs)
	}
	if code, out, _ = run(t, tl, "seek", "places", dir, "--seconds", "7", "--keep"); code != Held || !strings.Contains(out, "Nothing would change") || stores() != was {
		t.Errorf("%d %s", code, out)
	}
	code, out, _ = run(t, tl, "seek", "places", dir, "--keep", "--json")
	var got struct {
		Question, Sentence string
		Gap                float64
		Done, Written      bool
		Offers             []answer.Offer
		Lever              levers.Lever
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != Held || got.Question != "places" || got.Gap != 0.125 || !got.Done || !got.Written || len(got.Offers) != 2 || len(got.Lever.Edits) != 1 {
		t.Errorf("%d %v %+v\n%s", code, err, got, out)
	}
	if !strings.Contains(stores(), line) {
		t.Error("the line is not in the folder")
	}
}

// A stop ends the looking, not the showing.
func TestSeekStopped(t *testing.T) {
	tl, dir := seeking(t)
	ctx, cancel := context.WithCancel(context.Background())
	said := make(chan string, 2)
	tl.Searches[0].Run = func(ctx context.Context, c *answer.Case, seconds float64, found func(answer.Finding)) (answer.Finding, error) {
		return beacons.Run(ctx, c, seconds, func(f answer.Finding) { found(f); said <- f.Sentence })
	}
	go func() {
		<-said
		<-said
		cancel()
	}()
	var out, errs bytes.Buffer
	code := Run(ctx, tl, []string{"seek", "places", dir, "--seconds", "3600"}, &out, &errs)
	if code != Held || !strings.Contains(out.String(), "Found one at 31 points.") || !strings.Contains(out.String(), "+ beacon,1") {
		t.Errorf("%d %s%s", code, out.String(), errs.String())
	}
}

// What cannot be asked is told with what can.
func TestSeekMisused(t *testing.T) {
	tl, dir := seeking(t)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"seek", "marks", dir}, "Look for a better place. It moves what is not pinned."},
		{[]string{"seek", "places"}, "needs a FOLDER"},
		{[]string{"seek", "places", dir, "--seconds", "0"}, "not a time to look for"},
		{[]string{"seek", "places", dir, "--seconds", "NaN"}, "not a time to look for"},
		{[]string{"seek", "places", dir, "--keep", "--try", "x"}, "one thing at a time"},
		{[]string{"seek", "places", dir + "/none"}, "none"},
	} {
		if code, _, errs := run(t, tl, c.args...); code != Unread || !strings.Contains(errs, c.want) {
			t.Errorf("%v: %d %s", c.args, code, errs)
		}
	}
	tl.Searches = nil
	if _, _, errs := run(t, tl, "seek", "places", dir); !strings.Contains(errs, "No question has anything to look for.") {
		t.Error(errs)
	}
}

// Offers stand with the answer, as levers that read the same when they are put into whatif.yaml.
func TestOffersShown(t *testing.T) {
	var b bytes.Buffer
	p := &page{w: &b, look: Look{Width: 40, Unicode: true}}
	p.offers([]answer.Offer{{Name: "rice from 202 to 301, which is a long way to carry it", Why: "Takes away 1 single loss.", Acts: []model.Act{{Do: model.Put, What: []string{"rice, long and brown: the best of all"}, From: "202", To: "301", Count: 2}}},
		{Name: "later", Why: "It is warmer.", Acts: []model.Act{{Do: model.Leave, Months: 1}}}})
	text := b.String()
	for _, want := range []string{"What would mend it\n", "– Rice from 202 to 301, which"} {
		if !strings.Contains(text, want) {
			t.Errorf("not told: %q\n%s", want, text)
		}
	}
	_, dir := seeking(t)
	_, lever, _ := strings.Cut(text, "levers:\n")
	if err := os.WriteFile(filepath.Join(dir, "whatif.yaml"), []byte("levers:\n"+lever), 0o600); err != nil {
		t.Fatal(err)
	}
	f, faults := boatfolder.Read(dir)
	if len(faults) > 0 || len(f.Levers) != 2 {
		t.Fatalf("%s\n%v", text, faults)
	}
	if a := f.Levers[0].Acts[0]; f.Levers[0].Name != "rice from 202 to 301, which is a long way to carry it" || a.What[0] != "rice, long and brown: the best of all" || a.From != "202" || a.To != "301" || a.Count != 2 {
		t.Errorf("%q %+v", f.Levers[0].Name, a)
	}
	if a := f.Levers[1].Acts[0]; a.Months != 1 {
		t.Errorf("%+v", a)
	}
	for _, l := range strings.Split(text, "\n") {
		if columns(l) > 40 {
			t.Errorf("%d columns: %s", columns(l), l)
		}
	}
}
