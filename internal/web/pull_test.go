package web

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

type pull struct {
	Try   string            `json:"try,omitempty"`
	Edits []boatfolder.Edit `json:"edits"`
	Pulls []PullOne         `json:"pulls"`
	Views bool              `json:"views"`
	Page  string            `json:"page,omitempty"`
	Units string            `json:"units,omitempty"`
	Day   int               `json:"day,omitempty"`
}

func to(kilograms float64) []PullOne { return []PullOne{{Handle: "anchor", X: &kilograms}} }

func TestAPullIsAnEditOfTheFolder(t *testing.T) {
	b := newBench(t)
	b.try(t, 0, heavier())
	for _, c := range []struct {
		name   string
		pull   pull
		weight float64
		says   string
		edits  int
	}{
		{"nothing", pull{Edits: []boatfolder.Edit{}, Pulls: []PullOne{}}, 628, "628 kg at the moment", 0},
		{"the folder", pull{Edits: []boatfolder.Edit{}, Pulls: to(20)}, 640, "640 kg at the moment", 1},
		{"a try", pull{Try: "heavier", Edits: []boatfolder.Edit{}, Pulls: to(30)}, 680, "680 kg at the moment", 1},
		{"edits on a try", pull{Try: "heavier", Edits: []boatfolder.Edit{mass(0, "650 kg", "700 kg")}, Pulls: to(31), Views: true}, 731, "731 kg at the moment", 2},
		{"in feet", pull{Edits: []boatfolder.Edit{}, Pulls: to(20), Units: "feet"}, 640, "640 kg in feet at the moment", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got Pulled
			if status, body := b.send(t, http.MethodPost, "/api/pull", c.pull, &got); status != 200 {
				t.Fatal(status, body)
			}
			if len(got.Faults) != 0 || len(got.Edits) != c.edits || got.Portrait == nil || got.Portrait.MaxX != c.weight || (got.Views != nil) != c.pull.Views {
				t.Fatalf("%+v", got)
			}
			if got.Views != nil && got.Views.Body.MaxX != c.weight {
				t.Errorf("the views are of %v kg", got.Views.Body.MaxX)
			}
			if len(got.Answers) != 2 || got.Answers[0].Question != "mass" || got.Answers[0].Sentence != c.says || got.Answers[0].Title == "" || got.Answers[0].Margin == nil {
				t.Errorf("%+v", got.Answers)
			}
		})
	}
	if b.text(t, "boat.yaml") != boatText {
		t.Error("a pull was written")
	}
}

// TestWhatWasPulledIsWhatIsTried: the edits that a pull came to give the same folder when they are stored.
func TestWhatWasPulledIsWhatIsTried(t *testing.T) {
	b := newBench(t)
	var got Pulled
	b.send(t, http.MethodPost, "/api/pull", pull{Edits: []boatfolder.Edit{}, Pulls: to(25)}, &got)
	b.try(t, 0, Try{"pulled", got.Edits})
	if said := b.sentence(t, "?try=pulled"); said+" at the moment" != got.Answers[0].Sentence {
		t.Errorf("pulled %q, tried %q", got.Answers[0].Sentence, said)
	}
}

func TestPullsThatCannotBe(t *testing.T) {
	b := newBench(t)
	far := 1e9
	for _, c := range []struct {
		name, says string
		pull       any
		want       int
	}{
		{"nothing of that name", "nothing to pull", pull{Edits: []boatfolder.Edit{}, Pulls: []PullOne{{Handle: "mast"}}}, 422},
		{"out of this world", "100", pull{Edits: []boatfolder.Edit{}, Pulls: []PullOne{{Handle: "anchor", X: &far}}}, 422},
		{"no such try", "there are none", pull{Try: "x", Edits: []boatfolder.Edit{}, Pulls: to(1)}, 404},
		{"no such day", "last day", pull{Edits: []boatfolder.Edit{}, Pulls: to(1), Day: 9}, 422},
		{"another file", "inside the boat folder", pull{Edits: []boatfolder.Edit{{File: "../boat.yaml", Key: "boat", Text: "x"}}, Pulls: to(1)}, 422},
		{"an edit that does not fit", "8 kg", pull{Edits: []boatfolder.Edit{mass(1, "7 kg", "9 kg")}, Pulls: to(1)}, 200},
		{"a folder that cannot be read so", "unit", pull{Edits: []boatfolder.Edit{mass(0, "620 kg", "9")}, Pulls: to(1)}, 200},
	} {
		var got Pulled
		status, body := b.send(t, http.MethodPost, "/api/pull", c.pull, &got)
		if status != c.want || !strings.Contains(body, c.says) || status == 200 && (len(got.Faults) == 0 || len(got.Answers) > 0 || got.Portrait != nil) {
			t.Errorf("%s: %d, want %d with %q: %s", c.name, status, c.want, c.says, body)
		}
	}
}

// TestANewerPullEndsTheOneBefore, of the same page alone.
func TestANewerPullEndsTheOneBefore(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	reply := make(chan int, 2)
	for _, page := range []string{"one", "other"} {
		go func() {
			status, _ := b.send(t, http.MethodPost, "/api/pull", pull{Edits: []boatfolder.Edit{mass(0, "620 kg", "2000 kg")}, Pulls: to(20), Page: page}, nil)
			reply <- status
		}()
	}
	time.Sleep(300 * time.Millisecond)
	if status, body := b.send(t, http.MethodPost, "/api/pull", pull{Edits: []boatfolder.Edit{}, Pulls: to(20), Page: "one"}, nil); status != 200 {
		t.Fatal(status, body)
	}
	select {
	case status := <-reply:
		if status != 503 || b.ended == nil {
			t.Error(status)
		}
	case <-time.After(5 * time.Second):
		t.Fatal("the pull before goes on")
	}
	select {
	case status := <-reply:
		t.Errorf("the other page's pull was ended: %d", status)
	case <-time.After(300 * time.Millisecond):
	}
	b.send(t, http.MethodPost, "/api/pull", pull{Edits: []boatfolder.Edit{}, Pulls: to(21), Page: "other"}, nil)
	select {
	case <-reply:
	case <-time.After(5 * time.Second):
		t.Error("the other page's pull goes on")
	}
}

// TestAFingerComesFirst: what can wait is not begun while a pull is under way.
func TestAFingerComesFirst(t *testing.T) {
	a := newAsking(nil)
	defer a.Close()
	asked := make(chan struct{})
	a.questions["far"] = answer.Question{ID: "far", Ask: func(context.Context, *answer.Case, answer.Options) (answer.Answer, error) {
		close(asked)
		return answer.Answer{}, nil
	}}
	lifted := a.hurry()
	second := a.hurry()
	go a.ask(context.Background(), nil, wish{question: "far"})
	begun := make(chan struct{})
	go func() {
		done, err := a.turn(context.Background())
		if err == nil {
			done()
		}
		close(begun)
	}()
	lifted()
	select {
	case <-begun:
		t.Error("begun while a finger moves")
	case <-asked:
		t.Error("a question is asked while a finger moves")
	case <-time.After(100 * time.Millisecond):
	}
	second()
	<-begun
	<-asked
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	defer a.hurry()()
	if _, err := a.turn(ctx); err == nil {
		t.Error("one who has gone got a turn")
	}
}
