package web

import (
	"context"
	"fmt"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

// OfferMade is an offer of an answer or of a search, as edits of the folder's text on top of the try that was asked.
type OfferMade struct {
	Name  string            `json:"name"`
	Why   string            `json:"why"`
	Edits []boatfolder.Edit `json:"edits"`
	Fault string            `json:"fault,omitempty" doc:"why it cannot be made; then there are no edits"`
}

type offerInput struct {
	ID     string `path:"id" maxLength:"64" doc:"the question's id, from /api/boat"`
	Number int    `path:"number" minimum:"0" doc:"which of the answer's offers; 0 is the first"`
	State
}

type offerOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         OfferMade
}

// registerOffers adds how an answer's offer becomes edits.
func (s *service) registerOffers(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "offer", Method: http.MethodGet, Path: "/api/offers/{id}/{number}",
		Summary: "What an offer of an answer writes into the folder: edits that a try can be made of; nothing is stored",
	}, s.offer)
}

func (s *service) offer(ctx context.Context, in *offerInput) (*offerOutput, error) {
	got, now, err := s.answer(ctx, &askInput{ID: in.ID, State: in.State})
	if err != nil {
		return nil, err
	}
	if in.Number >= len(got.Offers) {
		return nil, huma.Error404NotFound(fmt.Sprintf("the answer has %d offers, counted from 0; there is no %d", len(got.Offers), in.Number))
	}
	return &offerOutput{fresh, s.offered(now, got.Offers[in.Number])}, nil
}

// offered is an offer as edits of an edition.
func (s *service) offered(now edition, o answer.Offer) OfferMade {
	out := OfferMade{Name: o.Name, Why: o.Why, Edits: []boatfolder.Edit{}}
	edits, err := s.from.levers.edits(now.boat.Folder, now.draft, o.Acts)
	if err != nil {
		out.Fault = err.Error()
		return out
	}
	out.Edits = append(out.Edits, edits...)
	return out
}
