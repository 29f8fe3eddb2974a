package loft

import (
	"context"
	"fmt"
	"math"
	"slices"

	"thole/internal/answer"
	"thole/internal/lines"
	"thole/internal/moulds"
	"thole/internal/nesting"
	"thole/internal/planks"
	"thole/internal/sheet"
	"thole/internal/units"
)

// yard is what is made from the shape: lines, moulds, patterns.
type yard struct {
	loft     spec
	planes   []lines.Plane
	traced   []lines.Line
	moulds   []moulds.Mould
	patterns []sheet.Pattern
	warnings []string

	strakes        *planks.Strakes
	widths, bevels *sheet.Table // of lapped planks
	layers         []planks.Layer
	onStock        map[float64][]nesting.Part // parts by thickness
	drawn          []sheet.Drawing            // sheets with their parts on
	bought         *sheet.Table
}

// spec is how she is built, the usual taken where the folder says nothing.
type spec struct {
	planking   string
	strakes    int
	lap        float64
	strip      float64
	angle      float64
	layers     int
	at         []float64 // of the moulds
	mould      float64
	stringer   float64
	skin       float64 // thickness of the planking; 0 when not given
	setUp      float64
	siding     float64
	scarf      float64
	long, wide float64 // of a sheet
}

// assume takes the builder's choices and lists each default that is used.
func (q *ask) assume(a *answer.Answer) {
	b := &q.c.Folder.Boat
	l := b.Loft
	a.Assumptions = q.c.Taken(q.t)
	take := func(what, value, key string) {
		a.Assumptions = append(a.Assumptions, answer.Assumption{What: what, Value: value, Why: "common practice, no source", File: "boat.yaml: loft." + key})
	}
	length := func(given units.Length, usual float64, what, key string) float64 {
		if given > 0 {
			return float64(given)
		}
		take(what, q.sys.Length(units.Length(usual)), key)
		return usual
	}
	s := &q.loft
	s.skin = float64(b.Hull.Planking)
	if s.skin == 0 {
		a.Needs = append(a.Needs, answer.Need{File: "boat.yaml", Key: "hull.planking", Why: "moulds are drawn to the outside of the planking until its thickness is known"})
	}
	s.planking = l.Planking
	if s.planking == "" {
		s.planking = "lapped"
		if len(q.surface.Knuckles) > 0 {
			s.planking = "panels"
		}
		take("how the skin is made", s.planking, "planking")
	}
	s.stringer = float64(l.Stringer)
	s.mould = length(l.Mould, 0.018, "thickness of the moulds", "mould thickness")
	s.siding = length(l.Siding, 0.040, "breadth of stem and stern post", "siding")
	s.long = length(l.SheetLength, 2.440, "length of a sheet", "sheet")
	s.wide = length(l.SheetWidth, 1.220, "width of a sheet", "sheet")
	s.scarf = l.Scarf
	if s.scarf == 0 {
		s.scarf = 8
		take("scarfs", "8 to 1", "scarf")
	}
	switch s.planking {
	case "lapped":
		s.lap = length(l.Lap, 0.018, "lap of the planks", "lap")
		if s.strakes = l.Strakes; s.strakes == 0 {
			s.strakes = 8
			take("planks on a side", "8", "strakes")
		}
	case "strips":
		s.strip = length(l.Strip, 0.120, "width of a strip", "strip")
		if s.angle = float64(l.Angle); s.angle == 0 {
			s.angle = math.Pi / 4
			take("angle of the strips to the keel", "45 deg", "angle")
		}
		if s.layers = l.Layers; s.layers == 0 {
			s.layers = 2
			take("layers of strips", "2", "layers")
		}
	}
	if l.SetUp != nil {
		s.setUp = *l.SetUp
	} else {
		high := 0.0
		for _, p := range q.t.Ship.Sheer {
			high = math.Max(high, p.Z)
		}
		s.setUp = math.Ceil((high+0.2)*20) / 20
		take("height of the set-up line", q.sys.Length(units.Length(s.setUp)), "set-up line")
	}
	s.at = slices.Clone(l.Moulds)
	if len(s.at) == 0 {
		for _, x := range q.surface.Stations() {
			if q.wide(x) > 0.05 {
				s.at = append(s.at, x)
			}
		}
		take("places of the moulds", fmt.Sprintf("at the %d measured stations that have width", len(s.at)), "moulds")
	}
	slices.Sort(s.at)
}

// wide is the greatest half-breadth of the section at x.
func (q *ask) wide(x float64) float64 {
	w := 0.0
	for _, p := range q.surface.Half(x) {
		w = math.Max(w, p.Y)
	}
	return w
}

// deduct is what lies between a mould and the outside of the skin.
func (q *ask) deduct() float64 {
	d := q.loft.stringer
	if !q.c.Folder.Boat.Hull.Inside {
		d += q.loft.skin
	}
	return d
}

// build makes lines, moulds and patterns, telling of progress as it goes.
func (q *ask) build(ctx context.Context, progress func(done, total int)) error {
	tell := func(done int) {
		if progress != nil {
			progress(done, 4)
		}
	}
	q.planes = lines.Usual(q.surface)
	for _, p := range q.planes {
		q.traced = append(q.traced, lines.Trace(q.surface, p, 0.1))
	}
	tell(1)
	for _, x := range q.loft.at {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		q.moulds = append(q.moulds, moulds.Shape(q.surface, x, q.deduct(), 0.01))
	}
	q.figures.Moulds = len(q.moulds)
	tell(2)
	if err := q.plank(ctx); err != nil {
		return err
	}
	skin := q.patterns
	q.patterns = []sheet.Pattern{q.linesPattern()}
	for i := range q.moulds {
		q.patterns = append(q.patterns, q.mouldPattern(i))
	}
	q.patterns = append(q.patterns, q.bulkheads()...)
	q.patterns = append(q.patterns, q.posts()...)
	q.sawn()
	q.patterns = append(q.patterns, skin...)
	tell(3)
	if err := q.sheets(ctx); err != nil {
		return err
	}
	q.bought = q.bill()
	tell(4)
	return ctx.Err()
}

// made says what came of it.
func (q *ask) made() string {
	n := 0
	for _, s := range q.figures.Sheets {
		n += s.Count
	}
	text := fmt.Sprintf("%d parts are drawn", len(q.patterns)-1)
	if n > 0 {
		text += fmt.Sprintf(", on %d sheets", n)
	}
	if w := len(q.warnings); w > 0 {
		text += fmt.Sprintf("; %d things will not go round as they are", w)
	}
	return text + "."
}
