package web

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"
)

// progressPause is how often it is told how far an answer is, at most.
const progressPause = 150 * time.Millisecond

// Progress is an event of /api/ask/{id}/progress: how far the answer is.
type Progress struct {
	Done  int `json:"done"`
	Total int `json:"total" doc:"of what there is to do; its kind is the question's own"`
}

// registerProgress adds the stream of an answer's progress.
func (s *service) registerProgress(api huma.API) {
	sse.Register(api, huma.Operation{
		OperationID: "progress", Method: http.MethodGet, Path: "/api/ask/{id}/progress",
		Summary: "How far one question's answer is, then an end as soon as /api/ask/{id} has it; questions that cannot tell have the end alone",
	}, map[string]any{"progress": Progress{}, "end": End{}}, s.progress)
}

// progress follows the working out of an answer, which it begins if nobody has.
func (s *service) progress(ctx context.Context, in *askInput, send sse.Sender) {
	now, err := s.askable(in)
	if err == nil {
		_, err = s.asking.follow(ctx, now.boat, in.wish(now), func(p Progress) error { return send.Data(p) })
	}
	switch {
	case ctx.Err() != nil:
	case err != nil:
		send.Data(End{Stamp: now.stamp, Trouble: err.Error()})
	default:
		send.Data(End{Stamp: now.stamp})
	}
}

// wish is what is asked, of an edition.
func (in *askInput) wish(now edition) wish {
	return wish{now.key(), in.ID, in.Day, in.Condition, false}
}
