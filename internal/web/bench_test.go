package web

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"thole/internal/boatfolder"
	"thole/internal/byhand"
	"thole/internal/questions"
)

// demo copies a demo boat, so that nothing here can change it.
func demo(tb testing.TB, name string) string {
	tb.Helper()
	dir := tb.TempDir()
	if err := os.CopyFS(dir, os.DirFS(filepath.Join("../../demo", name))); err != nil {
		tb.Fatal(err)
	}
	return dir
}

// serveDemo serves a demo boat with all questions.
func serveDemo(tb testing.TB, name string) (url string, end func()) {
	tb.Helper()
	handler, closer, err := Page{}.Handler(demo(tb, name), questions.Table)
	if err != nil {
		tb.Fatal(err)
	}
	server := httptest.NewServer(handler)
	return server.URL, func() { closer.Close(); server.Close() }
}

// fetchAll reads a whole reply, which must be a good one.
func fetchAll(tb testing.TB, method, url string, body any) []byte {
	tb.Helper()
	req, err := http.NewRequest(method, url, bytes.NewReader(must(json.Marshal(body))))
	if err != nil {
		tb.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/json")
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		tb.Fatal(err)
	}
	defer res.Body.Close()
	text := must(io.ReadAll(res.Body))
	if res.StatusCode != 200 {
		tb.Fatalf("%s: %d %s", url, res.StatusCode, text)
	}
	return text
}

// BenchmarkOpening is what a person waits for: from the server's start to the page and the first
// verdict on it, and to the last.
func BenchmarkOpening(b *testing.B) {
	var first, last time.Duration
	for b.Loop() {
		began := time.Now()
		url, end := serveDemo(b, "sanderling")
		fetchAll(b, http.MethodGet, url+"/", nil)
		fetchAll(b, http.MethodGet, url+"/api/boat", nil)
		res, err := http.Get(url + "/api/answers")
		if err != nil {
			b.Fatal(err)
		}
		if _, err := res.Body.Read(make([]byte, 1)); err != nil {
			b.Fatal(err)
		}
		first += time.Since(began)
		io.Copy(io.Discard, res.Body)
		last += time.Since(began)
		res.Body.Close()
		end()
	}
	b.ReportMetric(float64(first.Milliseconds())/float64(b.N), "ms/first")
	b.ReportMetric(float64(last.Milliseconds())/float64(b.N), "ms/last")
}

// BenchmarkPull is one movement of the finger, a weight's and a reading's, each to a new place.
func BenchmarkPull(b *testing.B) {
	for _, kind := range []string{byhand.Weight, byhand.Reading} {
		for _, views := range []bool{false, true} {
			name := kind
			if views {
				name += " with views"
			}
			b.Run(name, func(b *testing.B) {
				url, end := serveDemo(b, "sanderling")
				defer end()
				var shown byhand.Views
				if err := json.Unmarshal(fetchAll(b, http.MethodGet, url+"/api/byhand?day=20", nil), &shown); err != nil {
					b.Fatal(err)
				}
				which := slices.IndexFunc(shown.Handles, func(h byhand.Handle) bool { return h.Kind == kind && h.Free[2] && h.Z > 0.2 })
				if which < 0 {
					b.Fatalf("no %s may be pulled up: %d handles", kind, len(shown.Handles))
				}
				h := shown.Handles[which]
				var took []time.Duration
				for i := 0; b.Loop(); i++ {
					z := h.Z + 0.001*float64(i%40+1)
					began := time.Now()
					text := fetchAll(b, http.MethodPost, url+"/api/pull", map[string]any{
						"edits": []boatfolder.Edit{}, "pulls": []PullOne{{Handle: h.ID, Z: &z}}, "day": 20, "views": views, "page": "bench",
					})
					took = append(took, time.Since(began))
					var got Pulled
					if err := json.Unmarshal(text, &got); err != nil || len(got.Faults) > 0 || len(got.Answers) == 0 || len(got.Edits) == 0 {
						b.Fatalf("%v %.500s", err, text)
					}
				}
				slices.Sort(took)
				b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "ms/median")
				b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "ms/p95")
			})
		}
	}
}

// BenchmarkLevers is the whole lever table, and its first row, from a server just started.
func BenchmarkLevers(b *testing.B) {
	if testing.Short() {
		b.Skip("twelve seconds a round, and the page's tests show that it goes on working")
	}
	var first, last time.Duration
	rows := 0
	for b.Loop() {
		url, end := serveDemo(b, "sanderling")
		fetchAll(b, http.MethodGet, url+"/api/answers", nil) // the page has been open
		began := time.Now()
		res, err := http.Get(url + "/api/levers")
		if err != nil {
			b.Fatal(err)
		}
		rows = 0
		for lines := bufio.NewReader(res.Body); ; {
			line, err := lines.ReadString('\n')
			if err != nil {
				break
			}
			if line == "event: row\n" {
				if rows++; rows == 1 {
					first += time.Since(began)
				}
			}
		}
		last += time.Since(began)
		res.Body.Close()
		end()
	}
	b.ReportMetric(float64(first.Milliseconds())/float64(b.N), "ms/first")
	b.ReportMetric(float64(last.Milliseconds())/float64(b.N), "ms/last")
	b.ReportMetric(float64(rows), "rows")
}
