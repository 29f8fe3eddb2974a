package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"
	"github.com/danielgtaylor/huma/v2/sse"

	"thole/internal/answer"
	"thole/internal/sheet"
)

// service answers the page's requests.
type service struct {
	desk     *desk
	asking   *asking
	leverage *leverage
	lanes    *lanes
	moments  *recent[[]answer.Answer] // of the folder as it stands, while a finger moves
	table    []answer.Question
	searches *searching
	from     source
}

// Moment is the state of the boat that is asked about.
type Moment struct {
	Day       int    `query:"day" minimum:"0" doc:"day of the trip; 0 is the day she leaves"`
	Condition string `query:"condition" maxLength:"200" doc:"where the crew is; the first place of the folder if left out"`
}

type askInput struct {
	ID string `path:"id" maxLength:"64" doc:"the question's id, from /api/boat"`
	State
}

// State says which folder is asked, and about which state of her.
type State struct {
	Which
	Moment
}

type boatOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         Boat
}

// Asked is an answer with its sheet and a list of the parts to cut.
type Asked struct {
	Answer answer.Answer `json:"answer"`
	Sheet  sheet.Sheet   `json:"sheet"`
	Parts  []PartListed  `json:"parts" doc:"empty for most; /api/patterns/{id}/{name} has them whole"`
	Stamp  string        `json:"stamp" doc:"of the files that the answer was worked out from"`
}

type askOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         Asked
}

type portraitOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         sheet.Drawing
}

// Told is one event of /api/answers: an answer, or why there is none.
type Told struct {
	Question string         `json:"question"`
	Answer   *answer.Answer `json:"answer,omitempty"`
	Change   *Moved         `json:"change,omitempty" doc:"against the folder as it stands; with a try only"`
	Trouble  string         `json:"trouble,omitempty" doc:"why the question could not be asked"`
}

// End is the last event of /api/answers.
type End struct {
	Stamp   string `json:"stamp"`
	Trouble string `json:"trouble,omitempty" doc:"why nothing could be asked"`
}

// Changed is an event of /api/changes.
type Changed struct {
	Number int    `json:"number" doc:"grows with every change of the folder's files"`
	Stamp  string `json:"stamp"`
	Stale  bool   `json:"stale"`
	Tries  int    `json:"tries" doc:"the version of the tries; grows with every writing of them"`
}

const fresh = "no-store" // answers are kept here, by edition, not in the browser

// register adds the endpoints to mux; their description is at /api/openapi.json.
func (s *service) register(mux *http.ServeMux) {
	config := huma.DefaultConfig("Thole", "1")
	config.Info.Description = "One boat folder, and the questions about it."
	config.OpenAPIPath = "/api/openapi"
	config.DocsPath = "" // its page loads from elsewhere
	config.SchemasPath = ""
	config.CreateHooks = nil // adds a $schema key to every answer
	api := humago.New(mux, config)

	huma.Register(api, huma.Operation{
		OperationID: "boat", Method: http.MethodGet, Path: "/api/boat",
		Summary: "The folder being shown: the boat, the questions, what is wrong with the files",
	}, s.boat)
	huma.Register(api, huma.Operation{
		OperationID: "ask", Method: http.MethodGet, Path: "/api/ask/{id}",
		Summary: "One question's answer, laid out",
	}, s.ask)
	s.registerProgress(api)
	s.registerPatterns(api)
	s.registerFolder(api)
	s.registerTries(api)
	s.registerLevers(api)
	s.registerPull(api)
	s.registerStowage(api)
	s.registerLists(api)
	s.registerOffers(api)
	s.registerSearches(api)
	huma.Register(api, huma.Operation{
		OperationID: "portrait", Method: http.MethodGet, Path: "/api/portrait",
		Summary: "The boat cut open along her length, afloat",
	}, s.portrait)
	sse.Register(api, huma.Operation{
		OperationID: "answers", Method: http.MethodGet, Path: "/api/answers",
		Summary: "Every question's answer, each as soon as it is worked out, then an end",
	}, map[string]any{"answer": Told{}, "end": End{}}, s.answers)
	sse.Register(api, huma.Operation{
		OperationID: "changes", Method: http.MethodGet, Path: "/api/changes",
		Summary: "Tells when the folder's files change",
	}, map[string]any{"version": Changed{}}, s.changes)

	// What is not an endpoint is not the page either.
	mux.HandleFunc("/api/", func(w http.ResponseWriter, _ *http.Request) {
		http.Error(w, "There is nothing here; see /api/openapi.json.", http.StatusNotFound)
	})
}

// boat describes the folder also where it cannot be read; a try of it then has nothing to show.
func (s *service) boat(_ context.Context, in *Which) (*boatOutput, error) {
	now, err := s.which(*in)
	if err != nil && in.Try != "" {
		return nil, err
	}
	return &boatOutput{fresh, describe(now, s.table, s.searches, s.from)}, nil
}

func (s *service) ask(ctx context.Context, in *askInput) (*askOutput, error) {
	got, now, err := s.answer(ctx, in)
	if err != nil {
		return nil, err
	}
	return &askOutput{fresh, Asked{got, got.Sheet, listParts(got.Patterns, now.system()), now.stamp}}, nil
}

// askable finds the edition that one question is asked of.
func (s *service) askable(in *askInput) (edition, error) {
	if _, ok := s.asking.questions[in.ID]; !ok {
		return edition{}, huma.Error404NotFound(fmt.Sprintf("there is no question %q (the questions are: %s)", in.ID, strings.Join(s.ids(), ", ")))
	}
	return s.place(in.Which, &in.Moment)
}

// answer asks one question about the moment wanted.
func (s *service) answer(ctx context.Context, in *askInput) (answer.Answer, edition, error) {
	now, err := s.askable(in)
	if err != nil {
		return answer.Answer{}, now, err
	}
	got, err := s.asking.ask(ctx, now.boat, in.wish(now))
	if err != nil {
		return answer.Answer{}, now, trouble(err)
	}
	return got, now, nil
}

func (s *service) portrait(_ context.Context, in *State) (*portraitOutput, error) {
	now, err := s.place(in.Which, &in.Moment)
	if err != nil {
		return nil, err
	}
	drawn, err := s.from.portrait(now.boat, in.Day, in.Condition)
	if err != nil {
		return nil, trouble(err)
	}
	return &portraitOutput{fresh, drawn}, nil
}

// answers asks every question and sends each answer as it comes. At most as
// many are asked at once as there are processors, in the order of the table.
func (s *service) answers(ctx context.Context, in *State, send sse.Sender) {
	now, err := s.place(in.Which, &in.Moment)
	if err != nil {
		send.Data(End{Trouble: err.Error()})
		return
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	told := make(chan Told)
	var all sync.WaitGroup
	lanes := make(chan struct{}, cap(s.asking.slots))
	var stands edition
	compared := false
	if in.Try != "" {
		stands, compared = s.stands(in.Which, in.Moment)
	}
	go func() {
		defer func() { all.Wait(); close(told) }()
		for _, q := range s.table {
			select {
			case lanes <- struct{}{}:
			case <-ctx.Done():
				return
			}
			all.Go(func() {
				defer func() { <-lanes }()
				t := Told{Question: q.ID}
				got, err := s.asking.ask(ctx, now.boat, wish{now.key(), q.ID, in.Day, in.Condition, true})
				if err != nil {
					t.Trouble = err.Error()
				} else {
					t.Answer = &got
					if compared {
						t.Change = movedFrom(s.before(ctx, stands, q.ID, in.Moment), got, now.system())
					}
				}
				select {
				case told <- t:
				case <-ctx.Done():
				}
			})
		}
	}()
	for t := range told {
		if send.Data(t) != nil {
			return
		}
	}
	if ctx.Err() == nil {
		send.Data(End{Stamp: now.stamp})
	}
}

func (s *service) changes(ctx context.Context, _ *struct{}, send sse.Sender) {
	s.desk.changes(ctx, func(now edition) error {
		return send(sse.Message{Data: Changed{now.number, now.stamp, now.stale, now.tries.Version}, Retry: 1000})
	})
}

// place finds the edition to ask and checks the moment against it, naming the
// crew's place if it was left out.
func (s *service) place(w Which, m *Moment) (edition, error) {
	now, err := s.which(w)
	if err != nil {
		return now, err
	}
	if last := s.from.lastDay(now.boat.Folder); m.Day > last {
		return now, huma.Error422UnprocessableEntity(fmt.Sprintf("day %d is past the last day of the trip, %d", m.Day, last))
	}
	places := s.from.conditions(now.boat.Folder)
	if m.Condition == "" && len(places) > 0 {
		m.Condition = places[0]
	}
	if m.Condition != "" && !slices.Contains(places, m.Condition) {
		return now, huma.Error422UnprocessableEntity(fmt.Sprintf("the crew has no place %q (the places are: %s)", m.Condition, strings.Join(places, ", ")))
	}
	return now, nil
}

func (s *service) ids() []string {
	var ids []string
	for _, q := range s.table {
		ids = append(ids, q.ID)
	}
	return ids
}

// trouble is a question's own error as the page is told it.
func trouble(err error) error {
	if errors.Is(err, context.Canceled) {
		return huma.Error503ServiceUnavailable("the question was given up before it was answered")
	}
	return huma.Error500InternalServerError(err.Error())
}
