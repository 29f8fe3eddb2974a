package web

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/sheet"
)

// The checks in this file are of the server's own behaviour; where a rule of
// the web stands behind one, it is named.

// rig is a server over a folder whose content the test holds in its hand.
type rig struct {
	*httptest.Server
	stamp  atomic.Value // string
	faults atomic.Value // []Fault
	asked  atomic.Int32
	ended  chan error // how a question that waits for its asker ended
}

func newRig(t *testing.T) *rig {
	t.Helper()
	r := &rig{ended: make(chan error, 8)}
	r.stamp.Store("first")
	r.faults.Store([]Fault(nil))
	from := source{
		open:  func(string) (*boatfolder.Draft, []Fault) { return nil, nil },
		tries: func(string) (tries, error) { return tries{}, nil },
		read: func(dir string, _ *boatfolder.Draft) (*model.Folder, []Fault) {
			if faults := r.faults.Load().([]Fault); len(faults) > 0 {
				return nil, faults
			}
			return &model.Folder{
				Dir:    dir,
				Boat:   model.Boat{Name: "Test hull " + r.stamp.Load().(string)},
				Voyage: &model.Voyage{From: model.Waypoint{Name: "here"}, To: model.Waypoint{Name: "there"}, Days: 80},
				Stores: []model.Store{{What: "bread", Use: model.Use{First: 1, Last: 12}}},
			}, nil
		},
		stamp:      func(string) (string, error) { return r.stamp.Load().(string), nil },
		lastDay:    (*model.Folder).LastDay,
		conditions: func(*model.Folder) []string { return []string{"at the oars", "in the cabin"} },
		portrait: func(_ *answer.Case, day int, condition string) (sheet.Drawing, error) {
			return sheet.Drawing{Alt: condition, MaxX: float64(day)}, nil
		},
	}
	ask := func(verdict answer.Verdict, parts ...sheet.Pattern) func(context.Context, *answer.Case, answer.Options) (answer.Answer, error) {
		return func(_ context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
			r.asked.Add(1)
			return answer.Answer{
				Verdict: verdict, Sentence: c.Folder.Boat.Name, Worst: &answer.Worst{Day: o.Day, Condition: o.Condition},
				Sheet:    sheet.Sheet{Blocks: []sheet.Block{{Warning: &sheet.Warning{Text: "caution"}}}},
				Patterns: parts,
			}, nil
		}
	}
	table := []answer.Question{
		{ID: "first", Title: "First?", Group: answer.Shape, Ask: ask(answer.Yes)},
		{ID: "breaks", Title: "Breaks?", Group: answer.Afloat, Ask: func(context.Context, *answer.Case, answer.Options) (answer.Answer, error) {
			panic("a fault in the question")
		}},
		{ID: "waits", Title: "Waits?", Group: answer.Afloat, Ask: func(ctx context.Context, _ *answer.Case, o answer.Options) (answer.Answer, error) {
			if o.Day == 0 {
				return answer.Answer{Verdict: answer.Close}, nil
			}
			<-ctx.Done()
			r.ended <- ctx.Err()
			return answer.Answer{}, ctx.Err()
		}},
		{ID: "last", Title: "Last?", Group: answer.UnderWay, Ask: ask(answer.No, cutParts()...)},
	}
	handler, closer, err := newHandler(t.TempDir(), table, nil, from, "")
	if err != nil {
		t.Fatal(err)
	}
	r.Server = httptest.NewServer(handler)
	r.Client().Timeout = 12 * time.Second // a fault shows as a failure, not as a test that hangs
	t.Cleanup(func() { closer.Close(); r.Close() })
	return r
}

// get asks for a path and gives the status and the body.
func (r *rig) get(t *testing.T, path string, change ...func(*http.Request)) (int, string, http.Header) {
	t.Helper()
	req, err := http.NewRequest(http.MethodGet, r.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range change {
		c(req)
	}
	res, err := r.Client().Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res.StatusCode, string(body), res.Header
}

func host(name string) func(*http.Request) { return func(r *http.Request) { r.Host = name } }
func header(key, value string) func(*http.Request) {
	return func(r *http.Request) { r.Header.Set(key, value) }
}

func TestOnlyThisMachinesOwnPagesAreAnswered(t *testing.T) {
	r := newRig(t)
	own := strings.TrimPrefix(r.URL, "http://")
	port := own[strings.LastIndex(own, ":"):]
	const rebinding = "DNS rebinding: RFC 9110 section 7.4 (misdirected requests)"
	const fetch = "W3C Fetch Metadata Request Headers; RFC 6454 (origin)"
	for _, c := range []struct {
		name   string
		path   string
		change []func(*http.Request)
		want   int
		source string
	}{
		{"own address", "/api/boat", nil, 200, rebinding},
		{"localhost", "/api/boat", []func(*http.Request){host("localhost" + port)}, 200, rebinding},
		{"IPv6", "/api/boat", []func(*http.Request){host("[::1]" + port)}, 200, rebinding},
		{"a stranger's name", "/api/boat", []func(*http.Request){host("boats.example" + port)}, 421, rebinding},
		{"a stranger's name on the page", "/", []func(*http.Request){host("boats.example" + port)}, 421, rebinding},
		{"localhost with a stranger's end", "/", []func(*http.Request){host("localhost.boats.example" + port)}, 421, rebinding},
		{"another port", "/", []func(*http.Request){host("localhost:1")}, 421, rebinding},
		{"no port", "/", []func(*http.Request){host("localhost")}, 421, rebinding},
		{"own origin", "/api/boat", []func(*http.Request){header("Origin", r.URL)}, 200, fetch},
		{"another origin", "/api/boat", []func(*http.Request){header("Origin", "http://boats.example")}, 403, fetch},
		{"another port's origin", "/api/boat", []func(*http.Request){header("Origin", "http://127.0.0.1:1")}, 403, fetch},
		{"no origin at all", "/api/boat", []func(*http.Request){header("Origin", "null")}, 403, fetch},
		{"another site's script", "/api/boat", []func(*http.Request){header("Sec-Fetch-Site", "cross-site"), header("Sec-Fetch-Mode", "no-cors")}, 403, fetch},
		{"another site's link to the page", "/first", []func(*http.Request){header("Sec-Fetch-Site", "cross-site"), header("Sec-Fetch-Mode", "navigate")}, 200, fetch},
		{"another site's link behind the page", "/api/boat", []func(*http.Request){header("Sec-Fetch-Site", "cross-site"), header("Sec-Fetch-Mode", "navigate")}, 403, fetch},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.source == "" {
				t.Fatal("no source")
			}
			if got, body, _ := r.get(t, c.path, c.change...); got != c.want {
				t.Errorf("status %d, want %d: %s", got, c.want, body)
			}
		})
	}
}

func TestNothingIsLoadedFromElsewhere(t *testing.T) {
	r := newRig(t)
	for _, path := range []string{"/", "/api/boat", "/nowhere"} {
		_, _, head := r.get(t, path)
		csp := head.Get("Content-Security-Policy")
		if !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") || strings.Contains(csp, "http") {
			t.Errorf("%s: policy %q lets something in", path, csp)
		}
		if head.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: the browser may guess types", path)
		}
	}
	for name, file := range must(embeddedPage()) {
		if filepath.Ext(name) != ".html" && filepath.Ext(name) != ".css" {
			continue
		}
		for _, outside := range []string{"src=\"http", "href=\"http", "src=\"//", "url(http", "url(//", "@import"} {
			if strings.Contains(string(file.body), outside) {
				t.Errorf("%s has %s", name, outside)
			}
		}
	}
}

func TestPagesAndPaths(t *testing.T) {
	r := newRig(t)
	for _, c := range []struct {
		path string
		want int
	}{
		{"/", 200}, {"/first", 200}, {"/last?day=61&at=in+the+cabin", 200}, {"/look.js", 200},
		{"/third", 404}, {"/assets/", 404}, {"/index.html/", 404}, {"/api/", 404}, {"/api/nothing", 404},
		{"/../web.go", 404}, {"/..%2f..%2fgo.mod", 404}, {"/assets/..%2f..%2fweb.go", 404}, {"/%2e%2e/%2e%2e/go.mod", 404}, {"/dist/index.html", 404},
		{"/api/ask/..%2f..%2fboat", 404}, {"/api/openapi.json", 200},
	} {
		if got, body, _ := r.get(t, c.path); got != c.want || strings.Contains(body, "module thole") {
			t.Errorf("%s: status %d, want %d", c.path, got, c.want)
		}
	}
	res, err := r.Client().Post(r.URL+"/", "text/plain", strings.NewReader("x"))
	if err != nil || res.StatusCode != http.StatusMethodNotAllowed {
		t.Errorf("writing to the page: %v %v", res, err)
	}
}

func TestAskIsBounded(t *testing.T) {
	r := newRig(t)
	for _, c := range []struct {
		path, says string
		want       int
	}{
		{"/api/ask/first", "Test hull first", 200},
		{"/api/ask/first?day=80", `"day":80`, 200},
		{"/api/ask/first?day=7&condition=in+the+cabin", `"worst":{"day":7,"condition":"in the cabin"}`, 200},
		{"/api/ask/first?day=81", "last day of the trip, 80", 422},
		{"/api/ask/first?day=-1", "", 422},
		{"/api/ask/first?day=soon", "", 422},
		{"/api/ask/first?day=9999999999999999999999", "", 422},
		{"/api/ask/first?condition=on+the+roof", "at the oars, in the cabin", 422},
		{"/api/ask/first?condition=" + strings.Repeat("x", 300), "", 422},
		{"/api/ask/second", "first, breaks, waits, last", 404},
		{"/api/ask/breaks", "the program's fault", 500},
		{"/api/portrait?day=5&condition=in+the+cabin", `"max_x":5`, 200},
		{"/api/portrait?day=81", "", 422},
	} {
		got, body, _ := r.get(t, c.path)
		if got != c.want || !strings.Contains(body, c.says) {
			t.Errorf("%s: status %d, want %d with %q: %s", c.path, got, c.want, c.says, body)
		}
	}
}

func TestAskCarriesTheSheet(t *testing.T) {
	r := newRig(t)
	_, body, _ := r.get(t, "/api/ask/first?day=3")
	var got struct {
		Answer map[string]any
		Sheet  sheet.Sheet
		Stamp  string
	}
	if err := json.Unmarshal([]byte(body), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Sheet.Blocks) != 1 || got.Sheet.Blocks[0].Warning == nil || got.Stamp != "first" {
		t.Errorf("sheet %+v stamp %q", got.Sheet, got.Stamp)
	}
	if worst := got.Answer["worst"].(map[string]any); worst["condition"] != "at the oars" {
		t.Errorf("the usual place is not filled in: %v", worst)
	}
}

func TestAnswersAreKept(t *testing.T) {
	r := newRig(t)
	for range 3 {
		r.get(t, "/api/ask/first?day=3")
	}
	r.get(t, "/api/ask/first?day=3&condition=at+the+oars") // the same, said in full
	if got := r.asked.Load(); got != 1 {
		t.Errorf("asked %d times, want once", got)
	}
	r.get(t, "/api/ask/first?day=4")
	if got := r.asked.Load(); got != 2 {
		t.Errorf("asked %d times, want twice: another day is another answer", got)
	}
}

func TestAQuestionEndsWithItsAsker(t *testing.T) {
	r := newRig(t)
	ctx, cancel := context.WithCancel(context.Background())
	req, _ := http.NewRequestWithContext(ctx, http.MethodGet, r.URL+"/api/ask/waits?day=1", nil)
	time.AfterFunc(100*time.Millisecond, cancel)
	if _, err := r.Client().Do(req); !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	select {
	case err := <-r.ended:
		if !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
	case <-time.After(5 * time.Second):
		t.Error("the question goes on although nobody waits")
	}
}

// streamed reads a stream until it ends or enough was seen.
func streamed(t *testing.T, body io.Reader, enough func(name, data string) bool) (names, data []string) {
	t.Helper()
	lines := bufio.NewScanner(body)
	name := "message"
	for lines.Scan() {
		if after, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
			name = after
		}
		if after, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
			names, data = append(names, name), append(data, after)
			if enough(name, after) {
				return names, data
			}
		}
	}
	return names, data
}

func TestAnswersComeOneByOneAndEnd(t *testing.T) {
	r := newRig(t)
	_, body, head := r.get(t, "/api/answers")
	if head.Get("Content-Type") != "text/event-stream" {
		t.Error("source: WHATWG HTML, server-sent events, section 9.2: type", head.Get("Content-Type"))
	}
	names, data := streamed(t, strings.NewReader(body), func(string, string) bool { return false })
	if want := []string{"answer", "answer", "answer", "answer", "end"}; !slices.Equal(names, want) {
		t.Fatalf("events %v, want %v", names, want)
	}
	var seen []string
	for _, d := range data[:4] {
		var told Told
		if err := json.Unmarshal([]byte(d), &told); err != nil {
			t.Fatal(err)
		}
		if (told.Trouble != "") != (told.Question == "breaks") || (told.Answer == nil) != (told.Question == "breaks") {
			t.Errorf("%s: trouble %q, answer %v", told.Question, told.Trouble, told.Answer)
		}
		seen = append(seen, told.Question)
	}
	slices.Sort(seen)
	if want := []string{"breaks", "first", "last", "waits"}; !slices.Equal(seen, want) {
		t.Errorf("answered %v, want %v", seen, want)
	}
	_, body, _ = r.get(t, "/api/answers?day=81")
	if names, data := streamed(t, strings.NewReader(body), func(string, string) bool { return false }); len(names) != 1 || names[0] != "end" || !strings.Contains(data[0], "past the last day") {
		t.Errorf("a day past the last: %v %v", names, data)
	}
}

func boatOf(t *testing.T, r *rig) Boat {
	t.Helper()
	_, body, _ := r.get(t, "/api/boat")
	var b Boat
	if err := json.Unmarshal([]byte(body), &b); err != nil {
		t.Fatal(err)
	}
	return b
}

func TestAFolderThatGoesBadLeavesTheLastGoodAnswers(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	b := boatOf(t, r)
	if b.Name != "Test hull first" || b.Stale || len(b.Faults) != 0 || b.Days != 80 || len(b.Questions) != 4 {
		t.Fatalf("%+v", b)
	}
	if want := []Event{{0, "leave here"}, {12, "used up: bread"}, {80, "there"}}; !slices.Equal(b.Events, want) {
		t.Errorf("events %v, want %v", b.Events, want)
	}

	r.stamp.Store("second")
	r.faults.Store([]Fault{{File: "boat.yaml", Line: 14, Column: 11, Key: "weights[0].mass", Text: "42", Say: `mass "42" has no unit`, Mend: "write 42 kg"}})
	time.Sleep(lookPause + 50*time.Millisecond)
	bad := boatOf(t, r)
	if !bad.Stale || len(bad.Faults) != 1 || bad.Faults[0].Mend != "write 42 kg" || bad.Number == b.Number {
		t.Errorf("not marked old: %+v", bad)
	}
	if bad.Stamp != "first" || bad.Name != "Test hull first" {
		t.Errorf("the last good boat is gone: %+v", bad)
	}
	if status, body, _ := r.get(t, "/api/ask/last"); status != 200 || !strings.Contains(body, "Test hull first") {
		t.Errorf("the last good answers are gone: %d %s", status, body)
	}

	r.stamp.Store("third")
	r.faults.Store([]Fault(nil))
	time.Sleep(lookPause + 50*time.Millisecond)
	if mended := boatOf(t, r); mended.Stale || len(mended.Faults) != 0 || mended.Name != "Test hull third" {
		t.Errorf("not taken up again: %+v", mended)
	}
}

func TestThePageHearsOfChanges(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	res, err := r.Client().Get(r.URL + "/api/changes")
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	began := time.Now()
	time.AfterFunc(200*time.Millisecond, func() { r.stamp.Store("second") })
	_, data := streamed(t, res.Body, func(_, d string) bool { return strings.Contains(d, "second") || time.Since(began) > 8*time.Second })
	if len(data) != 2 || !strings.Contains(data[0], `"stamp":"first"`) || !strings.Contains(data[1], `"stamp":"second"`) {
		t.Errorf("heard %v", data)
	}
}

func TestServeIsForThisMachineOnly(t *testing.T) {
	for _, addr := range []string{"0.0.0.0:0", "192.0.2.7:80", "boats.example:80", "[::]:0", "8080"} {
		err := (Page{}).Serve(t.Context(), t.TempDir(), nil, addr, nil)
		if err == nil || !strings.Contains(err.Error(), "127.0.0.1") {
			t.Errorf("%s: %v", addr, err)
		}
	}
	if err := (Page{}).Serve(t.Context(), filepath.Join(t.TempDir(), "gone"), nil, "127.0.0.1:0", nil); err == nil || !strings.Contains(err.Error(), "no such boat folder") {
		t.Error(err)
	}
}

// TestServeStops has a stream open while the server is told to stop.
func TestServeStops(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	url, done := make(chan string, 1), make(chan error, 1)
	go func() {
		done <- (Page{}).Serve(ctx, smallest(t), nil, "localhost:0", func(at string) { url <- at })
	}()
	res, err := http.Get(<-url + "api/changes")
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	stop()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(partingTime - time.Second):
		t.Error("still serving: the stream was waited for")
	}
}

// smallest writes the smallest legal folder of docs/boat-folder.md.
func smallest(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"boat.yaml":   "boat: Test hull\nhull:\n  offsets: offsets.csv\nweights:\n  - {what: all up, mass: 620 kg, at: [3.10 m, 0 m, 0.42 m]}\n",
		"offsets.csv": "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,0,500\n0,0,600,500\n1,6000,0,0\n1,6000,0,500\n1,6000,600,500\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestARealFolder(t *testing.T) {
	dir := smallest(t)
	handler, closer, err := Page{}.Handler(dir, nil)
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(handler)
	t.Cleanup(func() { closer.Close(); server.Close() })
	r := &rig{Server: server}
	b := boatOf(t, r)
	if b.Name != "Test hull" || len(b.Faults) > 0 || b.Days != 0 || len(b.Conditions) != 1 || b.Stamp == "" {
		t.Fatalf("%+v", b)
	}
	bad := strings.Replace(string(must(os.ReadFile(filepath.Join(dir, "boat.yaml")))), "620 kg", "620", 1)
	if err := os.WriteFile(filepath.Join(dir, "boat.yaml"), []byte(bad), 0o644); err != nil {
		t.Fatal(err)
	}
	time.Sleep(lookPause + 50*time.Millisecond)
	b = boatOf(t, r)
	if !b.Stale || len(b.Faults) == 0 || b.Faults[0].File != "boat.yaml" || b.Faults[0].Line != 5 || b.Faults[0].Mend == "" {
		t.Errorf("%+v", b.Faults)
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
