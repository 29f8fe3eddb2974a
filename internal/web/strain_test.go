package web

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"thole/internal/boatfolder"
)

// What people, other programs and bad luck do to a folder while it is shown.

// pass waits until the folder is looked at again.
func pass() { time.Sleep(lookPause + 50*time.Millisecond) }

func TestTwoPagesOnOneFolder(t *testing.T) {
	b := newBench(t)
	res, err := b.Client().Get(b.URL + "/api/changes")
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	heard := make(chan Changed, 16)
	go func() {
		lines := bufio.NewScanner(res.Body)
		for lines.Scan() {
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				var c Changed
				json.Unmarshal([]byte(data), &c)
				heard <- c
			}
		}
	}()
	hear := func(what string, right func(Changed) bool) {
		t.Helper()
		end := time.After(5 * time.Second)
		for {
			select {
			case c := <-heard:
				if right(c) {
					return
				}
			case <-end:
				t.Fatalf("the other page was not told of %s", what)
			}
		}
	}
	hear("the folder", func(c Changed) bool { return c.Tries == 0 })
	one := b.try(t, 0, heavier())
	hear("the try", func(c Changed) bool { return c.Tries == one.Version })
	status, body := b.send(t, http.MethodPut, "/api/tries", put{0, []Try{{Name: "from the other page"}}}, nil)
	if status != 409 || !strings.Contains(body, "another page") {
		t.Errorf("the other page wrote over it: %d %s", status, body)
	}
	if status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "heavier", "version": 0}, nil); status != 409 {
		t.Errorf("a page kept what it does not show: %d %s", status, body)
	}
	var now TriesNow
	b.fetch(t, "/api/tries", &now)
	if len(now.Tries) != 1 || now.Tries[0].Name != "heavier" || now.Version != one.Version {
		t.Errorf("after the conflict: %+v", now)
	}
	var boat Boat
	b.fetch(t, "/api/boat", &boat)
	if status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "heavier", "version": now.Version}, nil); status != 200 {
		t.Fatal(status, body)
	}
	hear("the keeping", func(c Changed) bool { return c.Number > boat.Number && c.Stamp != boat.Stamp })

	// All at once: one wins, none is lost without being told.
	b.fetch(t, "/api/tries", &now)
	var won, lost int
	var mu sync.Mutex
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			status, _ := b.send(t, http.MethodPut, "/api/tries", put{now.Version, []Try{{Name: fmt.Sprint("page ", i)}}}, nil)
			mu.Lock()
			defer mu.Unlock()
			switch status {
			case 200:
				won++
			case 409:
				lost++
			}
		})
	}
	all.Wait()
	if won != 1 || lost != 7 {
		t.Errorf("%d won, %d were told", won, lost)
	}
}

func TestAFolderThatGoesBadWhileTriesAreShown(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	now := b.try(t, 0, heavier(), Try{"mend", []boatfolder.Edit{mass(1, "eight", "9 kg")}})
	if got := b.sentence(t, "?try=heavier"); got != "658 kg" {
		t.Fatal(got)
	}
	b.write(t, "boat.yaml", strings.Replace(boatText, "mass: 8 kg", "mass: eight", 1))
	pass()
	var plain, tried Boat
	b.fetch(t, "/api/boat", &plain)
	b.fetch(t, "/api/boat?try=heavier", &tried)
	for name, boat := range map[string]Boat{"the folder": plain, "the try": tried} {
		if !boat.Stale || len(boat.Faults) == 0 || boat.Faults[0].Line != 7 {
			t.Errorf("%s is not marked old: %+v", name, boat)
		}
	}
	if got, with := b.sentence(t, ""), b.sentence(t, "?try=heavier"); got != "628 kg" || with != "658 kg" {
		t.Errorf("the last good answers are gone: %q, %q", got, with)
	}
	var text FolderShown
	b.fetch(t, "/api/folder", &text)
	if len(text.Files) != 2 || !strings.Contains(text.Files[0].Text, "eight") || len(text.Faults) == 0 {
		t.Errorf("the text to mend is not shown: %+v", text)
	}
	status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "heavier", "version": now.Version}, nil)
	if status != 422 || !strings.Contains(body, `"location":"boat.yaml:7:`) || !strings.Contains(body, "eight") {
		t.Errorf("kept: %d %s", status, body)
	}
	// A try that mends the fault is asked of the files as they are, and may be kept.
	if got := b.sentence(t, "?try=mend"); got != "629 kg" {
		t.Errorf("mended: %q", got)
	}
	b.fetch(t, "/api/boat?try=mend", &tried)
	if tried.Stale || len(tried.Faults) != 0 {
		t.Errorf("the mended try is called old: %+v", tried)
	}
	if status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "mend", "version": now.Version}, nil); status != 200 {
		t.Fatal(status, body)
	}
	b.fetch(t, "/api/boat", &plain)
	if plain.Stale || len(plain.Faults) != 0 || b.sentence(t, "") != "629 kg" {
		t.Errorf("not taken up again: %+v", plain)
	}
}

func TestATryThatMakesTheFolderInvalid(t *testing.T) {
	b := newBench(t)
	now := b.try(t, 0, Try{"no unit", []boatfolder.Edit{mass(0, "620 kg", "650")}})
	if len(now.Tries[0].Faults) == 0 || now.Tries[0].Faults[0].Line != 6 || len(now.Tries[0].Changes) != 1 {
		t.Errorf("%+v", now)
	}
	for _, path := range []string{"/api/ask/mass?try=no+unit", "/api/boat?try=no+unit", "/api/portrait?try=no+unit", "/api/needs?try=no+unit"} {
		if status, body, _ := b.get(t, path); status != 409 || !strings.Contains(body, `"location":"boat.yaml:6:`) {
			t.Errorf("%s: %d %s", path, status, body)
		}
	}
	var text FolderShown
	b.fetch(t, "/api/folder?try=no+unit", &text)
	if len(text.Faults) == 0 || len(text.Files) != 2 || !strings.Contains(text.Files[0].Text, "mass: 650,") {
		t.Errorf("%+v", text)
	}
	if status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "no unit", "version": now.Version}, nil); status != 422 || !strings.Contains(body, "boat.yaml:6:") {
		t.Errorf("kept: %d %s", status, body)
	}
	if b.text(t, "boat.yaml") != boatText {
		t.Error("the file is another")
	}
}

func TestAFileChangedUnderATry(t *testing.T) {
	b := newBench(t)
	now := b.try(t, 0, heavier(), Try{"light anchor", []boatfolder.Edit{mass(1, "8 kg", "5 kg")}})
	moved := strings.Replace(boatText, "620 kg", "630 kg", 1)
	b.write(t, "boat.yaml", moved) // and at once, before anybody has looked
	status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "heavier", "version": now.Version}, nil)
	if status != 409 || !strings.Contains(body, "630 kg") {
		t.Errorf("kept: %d %s", status, body)
	}
	if b.text(t, "boat.yaml") != moved {
		t.Error("what was written from outside is lost")
	}
	var left TriesNow
	b.fetch(t, "/api/tries", &left)
	if len(left.Tries) != 2 || left.Tries[0].Edits[0].Text != "650 kg" || len(left.Tries[0].Faults) == 0 || len(left.Tries[1].Faults) != 0 {
		t.Errorf("the try is lost, or not marked: %+v", left)
	}
	if status, body, _ := b.get(t, "/api/ask/mass?try=heavier"); status != 409 || !strings.Contains(body, "630 kg") {
		t.Errorf("asked: %d %s", status, body)
	}
	// The other try touches what has not been changed: both stand.
	if status, body := b.send(t, http.MethodPost, "/api/keep", map[string]any{"name": "light anchor", "version": now.Version}, nil); status != 200 {
		t.Fatal(status, body)
	}
	if want := strings.Replace(moved, "8 kg", "5 kg", 1); b.text(t, "boat.yaml") != want {
		t.Errorf("the file says\n%s", b.text(t, "boat.yaml"))
	}
}

func TestAHalfWrittenFileOfTriesIsPutAside(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	const half = `{"version": 3, "tries": [{"name": "heav`
	b.write(t, "tries.json", half)
	pass()
	var now TriesNow
	for range 2 { // it is told to every page, and until new ones are stored
		b.fetch(t, "/api/tries", &now)
		if now.Trouble == "" || len(now.Tries) != 0 {
			t.Fatalf("nobody is told: %+v", now)
		}
	}
	if got := b.sentence(t, ""); got != "628 kg" {
		t.Errorf("the folder itself is not answered: %q", got)
	}
	now = b.try(t, now.Version, heavier())
	if now.Trouble != "" || len(now.Tries) != 1 {
		t.Errorf("%+v", now)
	}
	found := false
	for _, name := range must(filepath.Glob(filepath.Join(b.dir, "earlier", "*"))) {
		found = found || string(must(os.ReadFile(name))) == half
	}
	if !found {
		t.Error("what was in the file is lost")
	}
}

func TestWritingIsForThisMachinesOwnPages(t *testing.T) {
	b := newBench(t)
	own := strings.TrimPrefix(b.URL, "http://")
	port := own[strings.LastIndex(own, ":"):]
	const form = "WHATWG HTML, form submission: the three encodings of a form; Fetch standard, CORS-safelisted request-header (Content-Type)"
	const fetch = "W3C Fetch Metadata Request Headers; RFC 6454 (origin)"
	const host7 = "RFC 9110 section 7.4 (misdirected requests)"
	for _, c := range []struct {
		name   string
		change func(*http.Request)
		want   int
		source string
	}{
		{"own page", header("Origin", b.URL), 0, fetch},
		{"a program", func(*http.Request) {}, 0, fetch},
		{"with a character set", header("Content-Type", "application/json; charset=utf-8"), 0, form},
		{"another site's form", header("Content-Type", "application/x-www-form-urlencoded"), 415, form},
		{"another site's upload", header("Content-Type", "multipart/form-data; boundary=x"), 415, form},
		{"another site's text", header("Content-Type", "text/plain"), 415, form},
		{"JSON in disguise", header("Content-Type", "text/plain; application/json"), 415, form},
		{"no type", func(r *http.Request) { r.Header.Del("Content-Type") }, 415, form},
		{"another origin", header("Origin", "http://boats.example"), 403, fetch},
		{"no origin", header("Origin", "null"), 403, fetch},
		{"another port", header("Origin", "http://127.0.0.1:1"), 403, fetch},
		{"another site", header("Sec-Fetch-Site", "cross-site"), 403, fetch},
		{"another site's navigation", func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "navigate")
		}, 403, fetch},
		{"a stranger's name", host("boats.example" + port), 421, host7},
	} {
		for _, to := range []struct {
			method, path string
			body         any
			good         int
		}{
			{http.MethodPut, "/api/tries", put{99, []Try{}}, 409}, // refused for its version, after the guard
			{http.MethodPost, "/api/keep", map[string]any{"name": "x", "version": 0}, 404},
			{http.MethodPost, "/api/draft", map[string]any{"edits": []string{}}, 200},
			{http.MethodPost, "/api/pull", map[string]any{"edits": []string{}, "pulls": []string{}}, 200},
		} {
			want := c.want
			if want == 0 {
				want = to.good
			}
			if status, body := b.send(t, to.method, to.path, to.body, nil, c.change); status != want {
				t.Errorf("%s, %s: %d, want %d: %s (%s)", c.name, to.path, status, want, body, c.source)
			}
		}
	}
	if _, err := os.Stat(filepath.Join(b.dir, "tries.json")); err == nil {
		t.Error("something was written")
	}
}

func TestWhatIsSentIsBounded(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.write(t, "outside.txt", "")
	if err := os.Symlink("/etc/hostname", filepath.Join(b.dir, "link.csv")); err != nil {
		t.Fatal(err)
	}
	b.write(t, "boat.yaml", strings.Replace(boatText, "offsets: offsets.csv", "offsets: offsets.csv\ncabins:\n  - {name: aft, offsets: link.csv}", 1))
	pass()
	b.write(t, "boat.yaml", boatText)
	pass()
	many := func(n int) (out []Try) {
		for i := range n {
			out = append(out, Try{Name: fmt.Sprint("try ", i)})
		}
		return out
	}
	edits := func(n int) (out []boatfolder.Edit) {
		for range n {
			out = append(out, mass(0, "", "620 kg"))
		}
		return out
	}
	for _, c := range []struct {
		name string
		body any
		want int
		says string
	}{
		{"as many as are allowed", put{0, many(40)}, 200, ""},
		{"one more", put{1, many(40 + 1)}, 422, "40"},
		{"hundreds", put{1, many(900)}, 422, "40"},
		{"many edits", put{1, []Try{{"many", edits(2000)}}}, 200, ""},
		{"too many edits", put{2, []Try{{"many", edits(2000 + 1)}}}, 422, "2000"},
		{"no name", put{2, []Try{{Name: ""}}}, 422, "name"},
		{"a blank name", put{2, []Try{{Name: "  "}}}, 422, "blank"},
		{"a long name", put{2, []Try{{Name: strings.Repeat("ä", 81)}}}, 422, "80"},
		{"a name over lines", put{2, []Try{{Name: "a\nb"}}}, 422, "cannot be shown"},
		{"one name twice", put{2, []Try{{Name: "a"}, {Name: "a"}}}, 422, "two tries"},
		{"letters of the world", put{2, []Try{{Name: "Größer ½ 船/../x"}}}, 200, ""},
		{"an unknown key", map[string]any{"version": 3, "tries": []any{map[string]any{"name": "a", "edits": []any{}, "file": "x"}}}, 422, "file"},
		{"an unknown act", put{3, []Try{{"a", []boatfolder.Edit{{File: "boat.yaml", Key: "boat", Do: "burn"}}}}}, 422, "burn"},
		{"no JSON", []byte(`{"version": 3, "tries": [`), 400, ""},
		{"a list", []byte(`[]`), 422, ""},
		{"more than a megabyte", put{3, []Try{{"large", []boatfolder.Edit{mass(0, "", strings.Repeat("x", maxBody))}}}}, 413, "1 MB"},
		{"deep JSON", append(append([]byte(`{"version":3,"tries":`), bytes.Repeat([]byte("["), 300000)...), bytes.Repeat([]byte("]"), 300000)...), 400, ""},
	} {
		if status, body := b.send(t, http.MethodPut, "/api/tries", c.body, nil); status != c.want || !strings.Contains(body, c.says) {
			t.Errorf("%s: %d, want %d with %q: %.300s", c.name, status, c.want, c.says, body)
		}
	}
	for _, file := range []string{"../x", "/etc/passwd", "..", ".", "", "earlier/boat.yaml", "a/../../x", `..\x`, ".git", "link.csv", "boat.yaml/", "tries.json", "new.csv"} {
		edit := boatfolder.Edit{File: file, Key: "rows[0].distance_mm", Text: "1"}
		var got Drafted
		status, body := b.send(t, http.MethodPost, "/api/draft", map[string]any{"edits": []boatfolder.Edit{edit}}, &got)
		if status != 422 && (status != 200 || len(got.Faults) == 0 || len(got.Changes) > 0 || len(got.Values) > 0) {
			t.Errorf("an edit of %q: %d %s", file, status, body)
		}
	}
	if b.text(t, "boat.yaml") != boatText {
		t.Error("the folder was changed")
	}
}

func TestThoseWhoGoFreeTheirPlaces(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.try(t, 0, Try{"heavy", []boatfolder.Edit{mass(0, "", "2000 kg")}})
	for range 3 * runtime.GOMAXPROCS(0) {
		ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
		req, _ := http.NewRequestWithContext(ctx, http.MethodGet, b.URL+"/api/ask/waits?try=heavy", nil)
		if _, err := b.Client().Do(req); err == nil {
			t.Error("answered")
		}
		cancel()
	}
	if got := b.sentence(t, ""); got != "628 kg" {
		t.Error(got)
	}
}

// TestASlowReaderHoldsNobody: a page that asked and never reads.
func TestASlowReaderHoldsNobody(t *testing.T) {
	b := newBench(t)
	address := strings.TrimPrefix(b.URL, "http://")
	for range 4 * runtime.GOMAXPROCS(0) {
		for _, path := range []string{"/api/answers", "/api/changes", "/api/levers"} {
			conn, err := net.Dial("tcp", address)
			if err != nil {
				t.Fatal(err)
			}
			defer conn.Close()
			fmt.Fprintf(conn, "GET %s HTTP/1.1\r\nHost: %s\r\n\r\n", path, address)
		}
	}
	began := time.Now()
	if got := b.sentence(t, ""); got != "628 kg" || time.Since(began) > 2*time.Second {
		t.Errorf("%q after %v", got, time.Since(began))
	}
}

// TestASlowBodyEnds: what is announced and does not come holds nothing for ever; what is slow to be
// worked out is not ended by the deadline of its body.
func TestASlowBodyEnds(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for a deadline; left out with -short")
	}
	t.Parallel()
	b := newBench(t)
	address := strings.TrimPrefix(b.URL, "http://")
	conn, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprintf(conn, "PUT /api/tries HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{", address)
	conn.SetReadDeadline(time.Now().Add(bodyTime + 5*time.Second))
	reply, err := io.ReadAll(conn)
	if err != nil || !strings.Contains(string(reply), "400") {
		t.Errorf("%v %s", err, reply)
	}
}

func TestListeningBeyondIsOneAddress(t *testing.T) {
	for _, addr := range []string{"0.0.0.0:0", "[::]:0", "boats.example:80", "224.0.0.1:80", "8137"} {
		if err := (Page{}).ServeBeyond(t.Context(), t.TempDir(), nil, addr, nil); err == nil || !strings.Contains(err.Error(), "192.0.2.7") {
			t.Errorf("%s: %v", addr, err)
		}
	}
	ask := func(guarded http.Handler, host string) int {
		req, _ := http.NewRequest(http.MethodGet, "http://x/api/boat", nil)
		req.Host = host
		reply := newReply()
		guarded.ServeHTTP(reply, req)
		return reply.status
	}
	guarded := guard(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(200) }), "192.0.2.7")
	for host, want := range map[string]int{"192.0.2.7:8137": 200, "192.0.2.7": 200, "localhost:8137": 421, "127.0.0.1:8137": 421, "192.0.2.8:8137": 421, "boats.example:8137": 421} {
		if got := ask(guarded, host); got != want {
			t.Errorf("%s: %d, want %d", host, got, want)
		}
	}
}

// reply is a reply that is thrown away.
type reply struct {
	head   http.Header
	status int
}

func newReply() *reply                       { return &reply{head: http.Header{}, status: 200} }
func (r *reply) Header() http.Header         { return r.head }
func (r *reply) Write(b []byte) (int, error) { return len(b), nil }
func (r *reply) WriteHeader(status int)      { r.status = status }
