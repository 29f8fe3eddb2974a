package web

import (
	"context"
	"fmt"
	"net/http"
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"thole/internal/exchange"
	"thole/internal/lists"
	"thole/internal/sheet"
)

// ListNamed is one of the lists that there are.
type ListNamed struct {
	Kind  string `json:"kind"`
	Title string `json:"title"`
}

// ListShown is a list of what is aboard on a day.
type ListShown struct {
	Kind  string      `json:"kind"`
	Title string      `json:"title"`
	Sheet sheet.Sheet `json:"sheet"`
	Stamp string      `json:"stamp"`
}

type listsOutput struct {
	Body []ListNamed
}

type listInput struct {
	Kind   string `path:"kind" maxLength:"40" doc:"from /api/lists"`
	Day    int    `query:"day" minimum:"0" doc:"the evening that the list is of; 0 is the departure"`
	Format string `query:"format" enum:"json,csv" doc:"csv: one plain table for a spreadsheet, as a file"`
	Which
}

// registerLists adds the lists by which she is packed, found in, eaten from and counted.
func (s *service) registerLists(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "lists", Method: http.MethodGet, Path: "/api/lists",
		Summary: "The lists that there are",
	}, func(context.Context, *struct{}) (*listsOutput, error) {
		out := &listsOutput{Body: []ListNamed{}}
		for _, l := range lists.All {
			out.Body = append(out.Body, ListNamed{l.Kind, l.Title})
		}
		return out, nil
	})
	huma.Register(api, huma.Operation{
		OperationID: "list", Method: http.MethodGet, Path: "/api/lists/{kind}",
		Summary: "One list, laid out, or as csv for a spreadsheet",
		Responses: map[string]*huma.Response{"200": {Description: "The list", Content: map[string]*huma.MediaType{
			"application/json": {Schema: api.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[ListShown](), true, "ListShown")},
			"text/csv":         {Schema: &huma.Schema{Type: huma.TypeString}},
		}}},
	}, s.list)
}

type listOutput struct {
	CacheControl string `header:"Cache-Control"`
	Kind         string `header:"Content-Type"`
	Disposition  string `header:"Content-Disposition"`
	Body         any    // a ListShown, or the bytes of a csv
}

func (s *service) list(_ context.Context, in *listInput) (*listOutput, error) {
	var names []string
	for _, l := range lists.All {
		if names = append(names, l.Kind); l.Kind != in.Kind {
			continue
		}
		now, err := s.place(in.Which, &Moment{Day: in.Day})
		if err != nil {
			return nil, err
		}
		if in.Format == "csv" {
			name := fmt.Sprintf("attachment; filename=%q", l.Kind+".csv")
			return &listOutput{fresh, "text/csv; charset=utf-8", name, exchange.Table(l.Flat(now.boat.Folder, in.Day))}, nil
		}
		return &listOutput{CacheControl: fresh, Kind: "application/json", Body: ListShown{l.Kind, l.Title, l.Sheet(now.boat.Folder, in.Day), now.stamp}}, nil
	}
	return nil, huma.Error404NotFound(fmt.Sprintf("there is no list %q (the lists are: %s)", in.Kind, strings.Join(names, ", ")))
}
