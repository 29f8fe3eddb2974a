package web

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/plan"
)

// stowed is how what lies aboard is shown and carried about.
type stowed struct {
	draw  func(c *answer.Case, d *boatfolder.Draft, day int, condition string) (plan.Stowage, error)
	load  func(c *answer.Case, d *boatfolder.Draft, day int, condition string) (plan.Stowed, error)
	carry func(f *model.Folder, d *boatfolder.Draft, id, into string, count int) ([]boatfolder.Edit, error)
}

type stowageOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         plan.Stowage
}

// registerStowage adds where everything lies. Carrying it elsewhere is a pull.
func (s *service) registerStowage(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "stowage", Method: http.MethodGet, Path: "/api/stowage",
		Summary: "The boat from above and from the side with every compartment, what lies in it on a day, and which is opened on which day",
	}, s.stowage)
}

func (s *service) stowage(_ context.Context, in *State) (*stowageOutput, error) {
	now, err := s.place(in.Which, &in.Moment)
	if err != nil {
		return nil, err
	}
	drawn, err := drawSafely(func() (plan.Stowage, error) {
		return s.from.stow.draw(now.boat, now.draft, in.Day, in.Condition)
	})
	if err != nil {
		return nil, trouble(err)
	}
	return &stowageOutput{fresh, drawn}, nil
}
