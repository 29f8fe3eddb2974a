package loft

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"thole/internal/materials"
	"thole/internal/nesting"
	"thole/internal/sheet"
	"thole/internal/units"
)

// margin is what is not trusted along a sheet's edges, and gap what the saw takes between two parts.
// Common practice, no source.
const (
	margin = 0.010
	gap    = 0.008
)

// onSheets lists a part to be cut from a sheet.
func (q *ask) onSheets(name string, outline [][2]float64, thickness float64, count int, grain nesting.Grain, flip bool) {
	if q.onStock == nil {
		q.onStock = map[float64][]nesting.Part{}
	}
	q.onStock[thickness] = append(q.onStock[thickness], nesting.Part{Name: name, Outline: outline, Count: count, Grain: grain, MayFlip: flip, Thickness: thickness})
}

// sheets lays all parts of each thickness on sheets.
func (q *ask) sheets(ctx context.Context) error {
	var thick []float64
	for t := range q.onStock {
		thick = append(thick, t)
	}
	slices.Sort(thick)
	for _, t := range thick {
		stock := nesting.Stock{Length: q.loft.long, Width: q.loft.wide, Thickness: t, Margin: margin, Gap: gap}
		parts := q.onStock[t]
		r, err := nesting.Pack(ctx, parts, stock, nil, nesting.Options{Seed: 1, Effort: 0.3})
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			q.warnings = append(q.warnings, fmt.Sprintf("The parts of %.0f mm could not be laid on sheets: %v.", 1000*t, err))
			continue
		}
		for _, m := range r.Unfit {
			q.warnings = append(q.warnings, fmt.Sprintf("%s does not fit a sheet: it is %s too long and %s too wide. Cut it in two.", parts[m.Part].Name,
				q.sys.Length(units.Length(m.OverLength)), q.sys.Length(units.Length(m.OverWide))))
		}
		q.figures.Sheets = append(q.figures.Sheets, Sheet{Thickness: t, Count: r.Sheets, AtLeast: r.Bound.Sheets, Waste: r.Waste})
		if r.Sheets > 0 {
			q.drawn = append(q.drawn, q.sheetDrawing(t, parts, r))
		}
	}
	return nil
}

// sheetDrawing draws the sheets of one thickness with their parts.
func (q *ask) sheetDrawing(thickness float64, parts []nesting.Part, r nesting.Result) sheet.Drawing {
	var p plate
	const columns = 3
	place := func(n int) (dx, dy float64) {
		return float64(n%columns) * (q.loft.long + 0.15), -float64(n/columns) * (q.loft.wide + 0.25)
	}
	for n := range r.Sheets {
		dx, dy := place(n)
		p.path(sheet.Skin, fmt.Sprintf("sheet %d", n+1), true, [][2]float64{{dx, dy}, {dx + q.loft.long, dy}, {dx + q.loft.long, dy + q.loft.wide}, {dx, dy + q.loft.wide}})
		p.label(dx, dy+q.loft.wide+0.03, fmt.Sprintf("sheet %d", n+1), "start", sheet.Main)
	}
	for _, at := range r.Placements {
		dx, dy := place(at.Sheet)
		sin, cos := math.Sincos(at.Angle)
		var line [][2]float64
		for _, v := range parts[at.Part].Outline {
			x, y := v[0], v[1]
			if at.Flip {
				y = -y
			}
			line = append(line, [2]float64{dx + at.X + x*cos - y*sin, dy + at.Y + x*sin + y*cos})
		}
		p.path(sheet.Other, parts[at.Part].Name, true, line)
	}
	p.fit(0.05)
	p.d.Heading = fmt.Sprintf("Sheets of %.0f mm", 1000*thickness)
	p.d.Alt = fmt.Sprintf("%d sheets of %.0f mm, %.0f %% waste; no layout needs fewer than %d.", r.Sheets, 1000*thickness, 100*r.Waste, r.Bound.Sheets)
	return p.d
}

// sawn lists moulds and bulkheads for the sheets.
func (q *ask) sawn() {
	for _, p := range q.patterns {
		if p.Thickness != q.loft.mould || p.Count != 1 {
			continue
		}
		if outline := closed(p.Drawing); len(outline) > 2 {
			q.onSheets(p.Title, outline, p.Thickness, 1, nesting.Any, true)
		}
	}
}

// closed is the outline of a mould or a bulkhead as one loop: its edge, and up to the set-up line.
func closed(d sheet.Drawing) [][2]float64 {
	var out [][2]float64
	for _, p := range d.Paths {
		if p.Role != sheet.Skin {
			continue
		}
		if p.Closed {
			return p.Points
		}
		if len(out) == 0 {
			out = slices.Clone(p.Points)
			continue
		}
		out = append(out, p.Points[len(p.Points)-1]) // the tops of the two sides
	}
	return out
}

// bill is what the skin weighs and what must be bought for it.
func (q *ask) bill() *sheet.Table {
	if q.loft.skin == 0 {
		return nil
	}
	layers := []materials.Layer{{Thickness: q.loft.skin}}
	if q.loft.planking == "strips" {
		layers = nil
		for range q.loft.layers {
			layers = append(layers, materials.Layer{Thickness: q.loft.skin / float64(q.loft.layers)})
		}
	}
	b, err := materials.Defaults().Bill(materials.Skin{Name: "skin", Area: q.figures.Skin, Layers: layers,
		Outside: materials.Side{Coats: 3}, Inside: materials.Side{Coats: 3}})
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			q.warnings = append(q.warnings, capital(err.Error())+".")
		}
		return nil
	}
	heavy := q.sys.Heavy()
	t := &sheet.Table{Heading: "What the skin takes", Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "stays on her", Places: 1}, {Name: "buy", Places: 1}, {Name: "", Text: true}},
		Note: fmt.Sprintf("The skin then weighs %s ± %s, three coats of resin inside and out, no cloth. Rates are what hands spread (published; each is a default): weigh the pots of the first panel.",
			heavy.Show(b.Mass), heavy.Show(1.96*b.Doubt))}
	for _, r := range b.Rows {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: r.What}, {Value: r.Needed}, {Value: r.Buy}, {Text: r.Unit}})
	}
	q.figures.SkinMass, q.figures.SkinMassDoubt = b.Mass, b.Doubt
	return t
}
