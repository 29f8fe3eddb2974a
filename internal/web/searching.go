package web

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"math"
	"net/http"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"thole/internal/answer"
	"thole/internal/sheet"
)

const (
	usualSeconds = 10               // how long is looked if nothing is said
	keptHunts    = 6                // searches that are done, kept to be picked up
	alone        = 30 * time.Second // how long a search goes on that nobody watches
)

// SearchShown is what may be looked for to better a question's answer.
type SearchShown struct {
	Title string `json:"title"`
	About string `json:"about"`
}

// Begun is the first event of a search: how long it looks, and how long it has looked when somebody comes back to it.
type Begun struct {
	Seconds float64 `json:"seconds"`
	Elapsed float64 `json:"elapsed_s"`
}

// Found is an event of a search: the best so far.
type Found struct {
	Sentence string   `json:"sentence"`
	Gap      *float64 `json:"gap" doc:"how far it may at most be from the best, as a share; null when that is not known"`
	Done     bool     `json:"done"`
	Elapsed  float64  `json:"elapsed_s"`
}

// FoundLast is the end of a search: what was found, laid out, with the changes that it comes to.
type FoundLast struct {
	Found   Found       `json:"found"`
	Sheet   sheet.Sheet `json:"sheet"`
	Offers  []OfferMade `json:"offers" doc:"empty when the folder as it stands is best"`
	Stopped bool        `json:"stopped" doc:"it was told to stop before its time"`
	Stamp   string      `json:"stamp" doc:"of the files that it was about"`
	Trouble string      `json:"trouble,omitempty" doc:"why nothing came of it"`
}

// searching runs searches: one at a time, because each takes a processor. What was found is kept, so that whoever lost
// sight of it, or stopped it, can come back for it.
type searching struct {
	table  []answer.Search
	asking *asking

	mu    sync.Mutex
	hunts map[string]*hunt
	order []string // the latest last
}

// hunt is one search, for one or several who watch it.
type hunt struct {
	cancel  context.CancelFunc
	began   time.Time
	seconds float64

	mu       sync.Mutex
	last     *Found
	end      *FoundLast
	stopped  bool
	grown    chan struct{} // closed when there is more
	watching int
	leaving  *time.Timer // stops it when nobody watches
}

func newSearching(table []answer.Search, a *asking) *searching {
	return &searching{table: table, asking: a, hunts: map[string]*hunt{}}
}

// shown is the search that serves a question, or nil.
func (s *searching) shown(question string) *SearchShown {
	if one, ok := s.find(question); ok {
		return &SearchShown{one.Title, one.About}
	}
	return nil
}

func (s *searching) find(question string) (answer.Search, bool) {
	i := slices.IndexFunc(s.table, func(o answer.Search) bool { return o.ID == question })
	if i < 0 {
		return answer.Search{}, false
	}
	return s.table[i], true
}

func (h *hunt) elapsed() float64 { return time.Since(h.began).Seconds() }

// told is a finding as it is sent: the search may go on writing in its own, and a gap without bound is none.
func (h *hunt) told(f answer.Finding) Found {
	out := Found{Sentence: f.Sentence, Done: f.Done, Elapsed: h.elapsed()}
	if f.Gap != nil && !math.IsNaN(*f.Gap) && !math.IsInf(*f.Gap, 0) {
		gap := *f.Gap
		out.Gap = &gap
	}
	return out
}

func (h *hunt) add(change func()) {
	h.mu.Lock()
	defer h.mu.Unlock()
	change()
	close(h.grown)
	h.grown = make(chan struct{})
}

// stop ends a search; what was best so far comes as its end.
func (h *hunt) stop() {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.end == nil {
		h.stopped = true
		h.cancel()
	}
}

// join watches a search. One about the same boat that is under way is joined, and one that is done unless another is asked
// for or one that looks longer; a new one stops what is under way.
func (s *searching) join(key string, again bool, seconds float64, begin func(context.Context, *hunt)) *hunt {
	s.mu.Lock()
	defer s.mu.Unlock()
	h, ok := s.hunts[key]
	if ok {
		h.mu.Lock()
		ok = h.end == nil || h.end.Trouble == "" && !again && h.seconds >= seconds
		h.mu.Unlock()
	}
	if !ok {
		for _, other := range s.hunts {
			other.stop()
		}
		h = &hunt{began: time.Now(), seconds: seconds, grown: make(chan struct{})}
		var ctx context.Context
		ctx, h.cancel = context.WithCancel(s.asking.open)
		s.hunts[key] = h
		s.order = append(slices.DeleteFunc(s.order, func(k string) bool { return k == key }), key)
		if len(s.order) > keptHunts {
			delete(s.hunts, s.order[0])
			s.order = s.order[1:]
		}
		go func() {
			defer h.cancel()
			begin(ctx, h)
		}()
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.watching++
	if h.leaving != nil {
		h.leaving.Stop()
		h.leaving = nil
	}
	return h
}

// leave lets a search go on for a while after the last who watched it.
func (h *hunt) leave() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.watching--
	if h.watching == 0 && h.end == nil {
		h.leaving = time.AfterFunc(alone, h.stop)
	}
}

type searchInput struct {
	ID      string  `path:"id" maxLength:"64" doc:"the question's id, from /api/boat"`
	Seconds float64 `query:"seconds" minimum:"0" maximum:"600" doc:"how long to look at most; 10 if left out"`
	Again   bool    `query:"again" doc:"look anew, even where something was found about this very boat"`
	Which
}

type stopInput struct {
	ID   string `path:"id" maxLength:"64" doc:"the question's id"`
	Body struct {
		Try   string `json:"try,omitempty" maxLength:"80" doc:"as it was begun"`
		Units string `json:"units,omitempty" enum:"metric,feet" doc:"as it was begun"`
	}
}

type stopOutput struct {
	Body struct {
		Stopped bool `json:"stopped" doc:"false when none was under way"`
	}
}

// registerSearches adds the searches.
func (s *service) registerSearches(api huma.API) {
	sse.Register(api, huma.Operation{
		OperationID: "search", Method: http.MethodGet, Path: "/api/search/{id}",
		Summary: "Look for a better folder: the best so far as it is found, then an end with the plan and its edits. A search that is under way or done about the same boat is joined",
	}, map[string]any{"begun": Begun{}, "found": Found{}, "end": FoundLast{}}, s.search)
	huma.Register(api, huma.Operation{
		OperationID: "stop-search", Method: http.MethodPost, Path: "/api/search/{id}/stop",
		Summary: "Stop a search: whoever watches it has the best so far as its end, and it is kept to be picked up",
	}, s.stopSearch)
}

// hunted finds the search that is meant, and the edition that it is about.
func (s *service) hunted(id string, w Which) (answer.Search, edition, string, error) {
	one, ok := s.searches.find(id)
	if !ok {
		return one, edition{}, "", huma.Error404NotFound(fmt.Sprintf("there is nothing to look for with the question %q (there is with: %s)", id, strings.Join(s.searches.ids(), ", ")))
	}
	now, err := s.which(w)
	if err != nil {
		return one, now, "", err
	}
	return one, now, id + " " + now.key(), nil
}

func (s *searching) ids() []string {
	var out []string
	for _, one := range s.table {
		out = append(out, one.ID)
	}
	return out
}

func (s *service) search(ctx context.Context, in *searchInput, send sse.Sender) {
	one, now, key, err := s.hunted(in.ID, in.Which)
	if err != nil {
		send.Data(FoundLast{Offers: []OfferMade{}, Trouble: err.Error()})
		return
	}
	seconds := in.Seconds
	if seconds == 0 {
		seconds = usualSeconds
	}
	h := s.searches.join(key, in.Again, seconds, func(ctx context.Context, h *hunt) { s.look(ctx, h, one, now) })
	defer h.leave()
	if send.Data(Begun{h.seconds, h.elapsed()}) != nil {
		return
	}
	var sent *Found
	for {
		h.mu.Lock()
		last, end, grown := h.last, h.end, h.grown
		h.mu.Unlock()
		if last != nil && last != sent {
			if send.Data(*last) != nil {
				return
			}
			sent = last
		}
		if end != nil {
			send.Data(*end)
			return
		}
		select {
		case <-grown:
		case <-ctx.Done():
			return
		}
	}
}

// look runs a search to its end, whatever happens.
func (s *service) look(ctx context.Context, h *hunt, one answer.Search, now edition) {
	end := FoundLast{Offers: []OfferMade{}, Stamp: now.stamp}
	defer func() {
		if broken := recover(); broken != nil {
			slog.Error("a search broke down", "why", broken, "stack", string(debug.Stack()))
			end.Trouble = fmt.Sprintf("the search broke down (%v): this is the program's fault, not the folder's", broken)
		}
		h.add(func() { end.Stopped = h.stopped; h.end = &end })
	}()
	best, err := one.Run(ctx, now.boat, h.seconds, func(f answer.Finding) {
		found := h.told(f)
		h.add(func() { h.last = &found })
	})
	if err != nil {
		end.Trouble = err.Error()
		return
	}
	best.Done = true
	if _, err := json.Marshal(best.Sheet); err != nil {
		end.Trouble = fmt.Sprintf("what was found cannot be shown: %v", err)
		return
	}
	end.Found, end.Sheet = h.told(best), best.Sheet
	for _, o := range best.Offers {
		end.Offers = append(end.Offers, s.offered(now, o))
	}
}

func (s *service) stopSearch(_ context.Context, in *stopInput) (*stopOutput, error) {
	_, _, key, err := s.hunted(in.ID, Which{in.Body.Try, in.Body.Units})
	if err != nil {
		return nil, err
	}
	out := &stopOutput{}
	s.searches.mu.Lock()
	h := s.searches.hunts[key]
	s.searches.mu.Unlock()
	if h != nil {
		h.mu.Lock()
		out.Body.Stopped = h.end == nil
		h.mu.Unlock()
		h.stop()
	}
	return out, nil
}
