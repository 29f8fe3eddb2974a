package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

// TestATryTellsHowFarItMoves: a try's answers say how far each margin is from the folder's, in the words of the lever table.
//
// Source: 650 kg for 620 kg is 30 kg more; 0.45359237 kg to the pound by definition
func TestATryTellsHowFarItMoves(t *testing.T) {
	b := newBench(t)
	b.try(t, 0, heavier())
	told := func(query string) map[string]Told {
		res, err := b.Client().Get(b.URL + "/api/answers" + query)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		names, data := streamed(t, res.Body, func(name, _ string) bool { return name == "end" })
		out := map[string]Told{}
		for i, name := range names {
			var one Told
			if name == "answer" && json.Unmarshal([]byte(data[i]), &one) == nil {
				out[one.Question] = one
			}
		}
		return out
	}
	for query, want := range map[string]string{"?try=heavier": "+30 kg", "?try=heavier&units=feet": "+66 lb"} {
		got := told(query)
		if c := got["mass"].Change; c == nil || c.Shown != want || !c.Known || c.Unit != "kg" || c.Value != 30 {
			t.Errorf("%s: %+v, want %s", query, c, want)
		}
		if c := got["again"].Change; c == nil || c.Known || c.Unit != "" {
			t.Errorf("without a margin: %+v", c)
		}
	}
	if c := told("")["mass"].Change; c != nil {
		t.Errorf("the folder as it stands has moved: %+v", c)
	}
	var got Pulled
	b.send(t, http.MethodPost, "/api/pull", pull{Try: "heavier", Edits: []boatfolder.Edit{}, Pulls: to(10)}, &got)
	if c := got.Answers[0].Change; c == nil || c.Shown != "+32 kg" || !c.Known {
		t.Errorf("pulled: %+v, want 30 kg of the try and 2 kg of the pull", c)
	}
}

// TestAPointPulledManyTimesIsOneEdit, so that pulling comes to no bound.
func TestAPointPulledManyTimesIsOneEdit(t *testing.T) {
	b := newBench(t)
	edits, was := []boatfolder.Edit{}, "8 kg"
	for i := range 200 {
		text := fmt.Sprintf("%d kg", 9+i)
		edits = append(edits, mass(1, was, text))
		was = text
	}
	now := b.try(t, 0, Try{"pulled", edits})
	if one := now.Tries[0].Edits; len(one) != 1 || one[0] != mass(1, "8 kg", "208 kg") {
		t.Errorf("%+v", one)
	}
	if said := b.sentence(t, "?try=pulled"); said != "828 kg" {
		t.Error(said)
	}
}

// TestProgressOfAnAnswer: how far it is, told to whoever follows, and an end when it is there.
func TestProgressOfAnAnswer(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	step := make(chan int)
	asked := 0
	table := []answer.Question{
		{ID: "slow", Title: "Slow?", Ask: func(ctx context.Context, _ *answer.Case, o answer.Options) (answer.Answer, error) {
			asked++
			for {
				select {
				case done, more := <-step:
					if !more {
						return answer.Answer{Verdict: answer.Yes}, nil
					}
					o.Progress(done, 12)
				case <-ctx.Done():
					b.ended <- ctx.Err()
					return answer.Answer{}, ctx.Err()
				}
			}
		}},
		{ID: "fails", Title: "Fails?", Ask: func(context.Context, *answer.Case, answer.Options) (answer.Answer, error) {
			return answer.Answer{}, errors.New("the log is torn")
		}},
	}
	handler, closer, err := newHandler(b.dir, table, nil, onDisk, "")
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(handler)
	defer server.Close()
	defer closer.Close()
	follow := func(id string, enough func(name, data string) bool) (names, data []string) {
		ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
		defer cancel()
		req, _ := http.NewRequestWithContext(ctx, http.MethodGet, server.URL+"/api/ask/"+id+"/progress", nil)
		res, err := server.Client().Do(req)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		return streamed(t, res.Body, enough)
	}
	ended := func(name, _ string) bool { return name == "end" }
	go func() { step <- 3 }()
	names, data := follow("slow", func(name, data string) bool {
		if name == "progress" && strings.Contains(data, `"done":3`) {
			go func() { step <- 7 }()
		}
		if name == "progress" && strings.Contains(data, `"done":7`) {
			close(step)
		}
		return name == "end"
	})
	if want := []string{"progress", "progress", "end"}; !slices.Equal(names, want) || !strings.Contains(data[1], `{"done":7,"total":12}`) || strings.Contains(data[2], "trouble") {
		t.Errorf("%q %q", names, data)
	}
	// What was followed is there now, and is not worked out again.
	res, err := server.Client().Get(server.URL + "/api/ask/slow")
	if err != nil || res.StatusCode != 200 || asked != 1 {
		t.Errorf("%v, asked %d times", err, asked)
	}
	res.Body.Close()
	for id, say := range map[string]string{"fails": "the log is torn", "nothing": "there is no question"} {
		if names, data := follow(id, ended); !slices.Equal(names, []string{"end"}) || !strings.Contains(data[0], say) {
			t.Errorf("%s: %q %q", id, names, data)
		}
	}
	// Whoever goes takes the question with him.
	step = make(chan int)
	ctx, cancel := context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer cancel()
	req, _ := http.NewRequestWithContext(ctx, http.MethodGet, server.URL+"/api/ask/slow/progress?units=feet", nil)
	if res, err := server.Client().Do(req); err == nil {
		streamed(t, res.Body, ended)
		res.Body.Close()
	}
	select {
	case <-b.ended:
	case <-time.After(5 * time.Second):
		t.Error("the question goes on for nobody")
	}
}

// TestAStatusIsSaidOnce, whatever is said after it.
func TestAStatusIsSaidOnce(t *testing.T) {
	for _, c := range []struct {
		name string
		say  func(w http.ResponseWriter)
		want []int
	}{
		{"twice", func(w http.ResponseWriter) { w.WriteHeader(200); w.WriteHeader(499) }, []int{200}},
		{"after words", func(w http.ResponseWriter) { w.Write([]byte("x")); w.WriteHeader(503) }, nil},
		{"early hints", func(w http.ResponseWriter) { w.WriteHeader(103); w.WriteHeader(200) }, []int{103, 200}},
	} {
		under := &statuses{ResponseWriter: httptest.NewRecorder()}
		c.say(&onceWriter{ResponseWriter: under})
		if !slices.Equal(under.said, c.want) {
			t.Errorf("%s: %v, want %v", c.name, under.said, c.want)
		}
	}
}

// statuses remembers what was said.
type statuses struct {
	http.ResponseWriter
	said []int
}

func (s *statuses) WriteHeader(status int) { s.said = append(s.said, status) }
