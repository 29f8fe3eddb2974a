package web

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"thole/internal/draw"
	"thole/internal/sheet"
	"thole/internal/units"
)

// PartListed is one part to cut, as a list names it. Beside each number stands
// the text to show, in the folder's units.
type PartListed struct {
	Name      string  `json:"name" doc:"fit for an address and a file name"`
	Title     string  `json:"title"`
	Face      string  `json:"face" doc:"which face is drawn"`
	Thickness float64 `json:"thickness_m" doc:"of the material; 0 when it is a drawing and no part"`
	Count     int     `json:"count" doc:"how many are cut; a mirrored pair is two"`
	Width     float64 `json:"width_m" doc:"across the drawing, over what is cut"`
	Height    float64 `json:"height_m" doc:"up the drawing, over what is cut"`
	HasPoints bool    `json:"has_points" doc:"it lists points to plot"`
	HasBevel  bool    `json:"has_bevel" doc:"the list gives bevels"`
	Thick     string  `json:"thick" doc:"thickness_m as shown; empty for a drawing"`
	Size      string  `json:"size" doc:"width_m and height_m as shown"`
}

// PointShown is a point to plot as it is read from two metres.
type PointShown struct {
	Name   string `json:"name"`
	Across string `json:"across" doc:"the pattern's x, along the drawing to the right"`
	Up     string `json:"up" doc:"the pattern's y"`
	Bevel  string `json:"bevel" doc:"degrees from square, positive away from the face drawn; empty when not given"`
}

// Part is one part: the pattern whole, and its numbers as they are shown.
type Part struct {
	Pattern sheet.Pattern `json:"pattern"`
	Listed  PartListed    `json:"listed"`
	Shown   []PointShown  `json:"shown" doc:"the pattern's points in the folder's units, in the same order"`
	Unit    string        `json:"unit" doc:"what the shown points are in"`
	Checks  []string      `json:"checks" doc:"straight distances between points, to measure on what was drawn"`
	Number  int           `json:"number" doc:"1 is the first of the answer's parts"`
	Of      int           `json:"of" doc:"how many parts the answer has"`
	Before  *PartListed   `json:"before,omitempty"`
	Next    *PartListed   `json:"next,omitempty"`
	Stamp   string        `json:"stamp" doc:"of the files that the part was worked out from"`
}

type partInput struct {
	ID   string `path:"id" maxLength:"64" doc:"the question's id, from /api/boat"`
	Name string `path:"name" maxLength:"128" doc:"the part's name, from /api/patterns/{id}"`
	State
}

type partsOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         []PartListed
}

type partOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         Part
}

// registerPatterns adds the endpoints of parts to cut.
func (s *service) registerPatterns(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "patterns", Method: http.MethodGet, Path: "/api/patterns/{id}",
		Summary: "The parts to cut that come with a question's answer",
	}, s.patterns)
	huma.Register(api, huma.Operation{
		OperationID: "pattern", Method: http.MethodGet, Path: "/api/patterns/{id}/{name}",
		Summary: "One part to cut, whole, with the points to plot",
	}, s.pattern)
}

func (s *service) patterns(ctx context.Context, in *askInput) (*partsOutput, error) {
	got, now, err := s.answer(ctx, in)
	if err != nil {
		return nil, err
	}
	return &partsOutput{fresh, listParts(got.Patterns, now.system())}, nil
}

func (s *service) pattern(ctx context.Context, in *partInput) (*partOutput, error) {
	got, now, err := s.answer(ctx, &askInput{in.ID, in.State})
	if err != nil {
		return nil, err
	}
	for i, p := range got.Patterns {
		if p.Name != in.Name {
			continue
		}
		all := listParts(got.Patterns, now.system())
		part := Part{Pattern: p, Listed: all[i], Shown: []PointShown{}, Unit: lengthUnit(now.system()), Checks: []string{},
			Number: i + 1, Of: len(all), Stamp: now.stamp}
		for _, q := range p.Points {
			part.Shown = append(part.Shown, showPoint(q, now.system()))
		}
		for _, c := range draw.Checks(p) {
			part.Checks = append(part.Checks, fmt.Sprintf("%s to %s: %s", c.From, c.To, length(c.Length, now.system())))
		}
		if i > 0 {
			part.Before = &all[i-1]
		}
		if i+1 < len(all) {
			part.Next = &all[i+1]
		}
		return &partOutput{fresh, part}, nil
	}
	return nil, huma.Error404NotFound(fmt.Sprintf("there is no part %q (%s)", in.Name, partNames(got.Patterns)))
}

// partNames says which parts there are, for somebody who named another.
func partNames(patterns []sheet.Pattern) string {
	if len(patterns) == 0 {
		return "this answer has no parts to cut"
	}
	var names []string
	for _, p := range patterns {
		names = append(names, p.Name)
	}
	return "the parts are: " + strings.Join(names, ", ")
}

// system is the units in which the folder wants to be shown.
func (e edition) system() units.System {
	if e.boat == nil {
		return units.Metric
	}
	return e.boat.Folder.Boat.Units
}

// listParts names the parts of an answer, in its order.
func listParts(patterns []sheet.Pattern, sys units.System) []PartListed {
	out := []PartListed{}
	for _, p := range patterns {
		l := PartListed{Name: p.Name, Title: p.Title, Face: p.Face, Thickness: p.Thickness, Count: p.Count, HasPoints: len(p.Points) > 0}
		for _, q := range p.Points {
			l.HasBevel = l.HasBevel || q.HasBevel
		}
		l.Width, l.Height = extent(p)
		if p.Thickness > 0 {
			l.Thick = sys.Length(units.Length(p.Thickness))
		}
		l.Size = sys.Length(units.Length(l.Width)) + " × " + sys.Length(units.Length(l.Height))
		out = append(out, l)
	}
	return out
}

// extent is how far a part reaches across and up. The heavy outline is what is
// cut; a pattern without one is measured by its drawing's bounds.
func extent(p sheet.Pattern) (width, height float64) {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, path := range p.Drawing.Paths {
		if path.Role != sheet.Skin || p.Thickness == 0 {
			continue
		}
		for _, at := range path.Points {
			for i := range at {
				low[i], high[i] = math.Min(low[i], at[i]), math.Max(high[i], at[i])
			}
		}
	}
	if !(high[0] >= low[0]) {
		return p.Drawing.MaxX - p.Drawing.MinX, p.Drawing.MaxY - p.Drawing.MinY
	}
	return high[0] - low[0], high[1] - low[1]
}

// lengthUnit is what the points are shown in.
func lengthUnit(sys units.System) string {
	if sys == units.Feet {
		return "feet-inches-eighths"
	}
	return "mm"
}

// plotted writes a coordinate to be stepped off with a tape: millimetres and
// tenths, as on the sheets printed for the wall, or feet-inches-eighths.
func plotted(v float64, sys units.System) string {
	if sys == units.Feet {
		text := units.FeetInchesEighths(units.Length(v))
		if rest, below := strings.CutPrefix(text, "-"); below {
			return "−" + rest // a hyphen would be one more between feet and inches
		}
		return text
	}
	return draw.Number(v*1000, 1)
}

// length is a plotted length with its unit.
func length(v float64, sys units.System) string {
	if sys == units.Feet {
		return plotted(v, sys)
	}
	return plotted(v, sys) + " mm"
}

func showPoint(q sheet.PlotPoint, sys units.System) PointShown {
	out := PointShown{Name: q.Name, Across: plotted(q.X, sys), Up: plotted(q.Y, sys)}
	if q.HasBevel {
		out.Bevel = draw.Number(q.Bevel*180/math.Pi, 1) + "°"
		if q.Bevel > 0 {
			out.Bevel = "+" + out.Bevel
		}
	}
	return out
}
