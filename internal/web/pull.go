package web

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/byhand"
	"thole/internal/model"
	"thole/internal/plan"
	"thole/internal/sheet"
)

// hand is how a boat is shown to be pulled, and what a pull does to her folder's text.
type hand struct {
	draw func(c *answer.Case, d *boatfolder.Draft, day int, condition string) (byhand.Views, error)
	pull func(f *model.Folder, d *boatfolder.Draft, id string, x, y, z *float64) ([]boatfolder.Edit, error)
}

// PullOne is one handle and where the finger has it.
type PullOne struct {
	Handle string   `json:"handle" maxLength:"200" doc:"its id, from /api/byhand"`
	X      *float64 `json:"x,omitempty" minimum:"-100" maximum:"100" doc:"metres aft of station 0; where it was if left out"`
	Y      *float64 `json:"y,omitempty" minimum:"-100" maximum:"100" doc:"metres to starboard"`
	Z      *float64 `json:"z,omitempty" minimum:"-100" maximum:"100" doc:"metres above the base line"`
	Into   string   `json:"into,omitempty" maxLength:"200" doc:"for a thing of /api/stowage, by its id: the word of the compartment that it is carried into"`
	Count  int      `json:"count,omitempty" minimum:"0" doc:"how many of it are carried; all if left out"`
}

type pullInput struct {
	Body struct {
		Try       string            `json:"try,omitempty" maxLength:"80" doc:"the try that is shown; none if left out"`
		Edits     []boatfolder.Edit `json:"edits" maxItems:"2000" doc:"on top of the try, not stored"`
		Pulls     []PullOne         `json:"pulls" maxItems:"40"`
		Day       int               `json:"day,omitempty" minimum:"0"`
		Condition string            `json:"condition,omitempty" maxLength:"200"`
		Units     string            `json:"units,omitempty" enum:"metric,feet"`
		Views     bool              `json:"views,omitempty" doc:"the three views are wanted"`
		Stowage   bool              `json:"stowage,omitempty" doc:"what lies where is wanted"`
		Page      string            `json:"page,omitempty" maxLength:"64" doc:"any name of the page: its newer pull ends the one under way"`
	}
}

// Pulled is the boat with a finger on her.
type Pulled struct {
	Edits    []boatfolder.Edit `json:"edits" doc:"those given and those that the pulls come to"`
	Views    *byhand.Views     `json:"views,omitempty"`
	Answers  []PulledAnswer    `json:"answers" doc:"of the questions that can be asked while a finger moves, about the day and place shown alone"`
	Portrait *sheet.Drawing    `json:"portrait,omitempty"`
	Stowed   *plan.Stowed      `json:"stowed,omitempty"`
	Faults   []Fault           `json:"faults" doc:"why the folder cannot be read so; then nothing else is there but the edits"`
}

// PulledAnswer is an answer in short.
type PulledAnswer struct {
	Question string         `json:"question"`
	Title    string         `json:"title"`
	Verdict  answer.Verdict `json:"verdict"`
	Margin   *answer.Margin `json:"margin,omitempty"`
	Sentence string         `json:"sentence,omitempty"`
	Change   *Moved         `json:"change,omitempty" doc:"against the folder as it stands"`
	Trouble  string         `json:"trouble,omitempty" doc:"why it could not be asked"`
}

type pulledOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         Pulled
}

type viewsOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         byhand.Views
}

// registerPull adds the endpoints of the shape by hand.
func (s *service) registerPull(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "byhand", Method: http.MethodGet, Path: "/api/byhand",
		Summary: "The boat in three views, with what a hand may pull",
	}, s.byhand)
	huma.Register(api, huma.Operation{
		OperationID: "pull", Method: http.MethodPost, Path: "/api/pull", BodyReadTimeout: -1,
		Summary: "What pulling a point or a weight does, while the finger moves; nothing is stored",
	}, s.pull)
}

func (s *service) byhand(_ context.Context, in *State) (*viewsOutput, error) {
	now, err := s.place(in.Which, &in.Moment)
	if err != nil {
		return nil, err
	}
	views, err := s.from.hand.draw(now.boat, now.draft, in.Day, in.Condition)
	if err != nil {
		return nil, trouble(err)
	}
	return &viewsOutput{fresh, wholeViews(views)}, nil
}

// wholeViews has every list there.
func wholeViews(v byhand.Views) byhand.Views {
	if v.Handles == nil {
		v.Handles = []byhand.Handle{}
	}
	return v
}

func (s *service) pull(ctx context.Context, in *pullInput) (*pulledOutput, error) {
	b := &in.Body
	if err := checkEdits(b.Edits); err != nil {
		return nil, err
	}
	ctx, done := s.lanes.begin(ctx, b.Page)
	defer done()
	defer s.asking.hurry()()
	m := Moment{Day: b.Day, Condition: b.Condition}
	now, err := s.place(Which{Try: b.Try, Units: b.Units}, &m)
	if err != nil {
		return nil, err
	}
	out := Pulled{Edits: append([]boatfolder.Edit{}, b.Edits...), Answers: []PulledAnswer{}, Faults: []Fault{}}
	from, faults := s.underHand(now, now, b.Edits)
	if len(faults) > 0 {
		out.Faults = append(out.Faults, faults...)
		return &pulledOutput{fresh, out}, nil
	}
	pulled, err := s.pulledTo(from, b.Pulls)
	if err != nil {
		return nil, err
	}
	out.Edits = append(out.Edits, pulled...)
	at, faults := s.underHand(from, now, pulled)
	if len(faults) > 0 {
		out.Faults = append(out.Faults, faults...)
		return &pulledOutput{fresh, out}, nil
	}
	if err := s.show(ctx, &out, at, Which{Units: b.Units}, m, b.Views, b.Stowage); err != nil {
		return nil, trouble(err)
	}
	return &pulledOutput{fresh, out}, nil
}

// pulledTo is what the pulls come to in the files.
func (s *service) pulledTo(from edition, pulls []PullOne) ([]boatfolder.Edit, error) {
	var out []boatfolder.Edit
	for _, p := range pulls {
		var edits []boatfolder.Edit
		var err error
		if p.Into != "" {
			edits, err = s.from.stow.carry(from.boat.Folder, from.draft, p.Handle, p.Into, p.Count)
		} else {
			edits, err = s.from.hand.pull(from.boat.Folder, from.draft, p.Handle, p.X, p.Y, p.Z)
		}
		if err != nil {
			return nil, huma.Error422UnprocessableEntity(err.Error())
		}
		out = append(out, edits...)
	}
	return out, checkEdits(out)
}

// underHand is an edition with edits that will be others in a moment. What is not touched by them
// is taken from the edition itself.
func (s *service) underHand(from, now edition, edits []boatfolder.Edit) (edition, []Fault) {
	if len(edits) == 0 {
		return from, nil
	}
	draft, faults := change(from.draft, edits)
	if len(faults) > 0 {
		return from, faults
	}
	folder, faults := readDraft(draft)
	if len(faults) > 0 {
		return from, faults
	}
	shown := *folder
	shown.Boat.Units = now.system()
	from.draft, from.stamp = draft, draft.Stamp()
	from.boat = s.desk.boats.underHand(from.stamp, &shown, from.boat)
	return from, nil
}

// show asks what can be asked while a finger moves, and draws, all at once.
func (s *service) show(ctx context.Context, out *Pulled, at edition, w Which, m Moment, views, stowage bool) error {
	var quick []answer.Question
	for _, q := range s.table {
		if q.Quick {
			quick = append(quick, q)
		}
	}
	out.Answers = make([]PulledAnswer, len(quick))
	answered := make([]answer.Answer, len(quick))
	var before []answer.Answer
	var all sync.WaitGroup
	if stands, ok := s.stands(w, m); ok {
		all.Go(func() { before = s.beforeTheFinger(stands, quick, m) })
	}
	for i, q := range quick {
		all.Go(func() {
			o := answer.Options{Day: m.Day, Condition: m.Condition, Brief: true, Moment: true}
			got, err := askSafely(ctx, q, at.boat, o)
			out.Answers[i] = PulledAnswer{Question: q.ID, Title: q.Title, Verdict: got.Verdict, Margin: got.Margin, Sentence: got.Sentence}
			answered[i] = got
			if err != nil {
				out.Answers[i].Trouble = err.Error()
			}
		})
	}
	var portrait sheet.Drawing
	var drawn byhand.Views
	var stowed plan.Stowed
	var faults [3]error
	all.Go(func() {
		portrait, faults[0] = drawSafely(func() (sheet.Drawing, error) { return s.from.portrait(at.boat, m.Day, m.Condition) })
	})
	if views {
		all.Go(func() {
			drawn, faults[1] = drawSafely(func() (byhand.Views, error) { return s.from.hand.draw(at.boat, at.draft, m.Day, m.Condition) })
		})
	}
	if stowage {
		all.Go(func() {
			stowed, faults[2] = drawSafely(func() (plan.Stowed, error) { return s.from.stow.load(at.boat, at.draft, m.Day, m.Condition) })
		})
	}
	all.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, err := range faults {
		if err != nil { // a shape that no surface can be laid over, most likely
			out.Faults = append(out.Faults, Fault{File: "boat.yaml", Say: err.Error(), Mend: "pull it back"})
			return nil
		}
	}
	for i, was := range before {
		out.Answers[i].Change = movedFrom(was, answered[i], at.system())
	}
	out.Portrait = &portrait
	if views {
		drawn = wholeViews(drawn)
		out.Views = &drawn
	}
	if stowage {
		out.Stowed = &stowed
	}
	return nil
}

// drawSafely draws; a drawing that breaks down is an error and no more.
func drawSafely[T any](draw func() (T, error)) (drawn T, err error) {
	defer func() {
		if broken := recover(); broken != nil {
			slog.Error("a drawing broke down", "why", broken, "stack", string(debug.Stack()))
			err = fmt.Errorf("the drawing broke down (%v): this is the program's fault, not the folder's", broken)
		}
	}()
	return draw()
}

// lanes lets each page have one pull under way: the finger has moved on.
type lanes struct {
	mu    sync.Mutex
	going map[string]*lane
}

type lane struct{ cancel context.CancelFunc }

// begin ends the pull under way of the same page, and the new one with done. A page that does
// not name itself has no lane.
func (l *lanes) begin(ctx context.Context, page string) (_ context.Context, done func()) {
	ctx, cancel := context.WithCancel(ctx)
	if page == "" {
		return ctx, cancel
	}
	mine := &lane{cancel}
	l.mu.Lock()
	defer l.mu.Unlock()
	if before := l.going[page]; before != nil {
		before.cancel()
	}
	l.going[page] = mine
	return ctx, func() {
		cancel()
		l.mu.Lock()
		defer l.mu.Unlock()
		if l.going[page] == mine {
			delete(l.going, page)
		}
	}
}
