package loft

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/nesting"
	"thole/internal/planks"
	"thole/internal/sheet"
	"thole/internal/units"
)

// gainAt is the length from either end over which laps run out to flush.
// Common practice, no source.
const gainAt = 0.40

// plank makes the skin's parts: lapped planks, panels or diagonal strips, each laid flat.
func (q *ask) plank(ctx context.Context) error {
	if q.loft.skin == 0 {
		return ctx.Err() // what is missing has been said
	}
	var err error
	switch q.loft.planking {
	case "lapped":
		err = q.lapped()
	case "panels":
		err = q.panels()
	case "strips":
		err = q.strips()
	}
	if err != nil {
		// A skin that cannot be taken apart so is news for the builder, not the end of the answer.
		q.warnings = append(q.warnings, capital(err.Error())+".")
	}
	return ctx.Err()
}

// lapped lines off and expands lapped planks.
func (q *ask) lapped() error {
	strakes, err := planks.LineOff(q.surface, q.loft.strakes, nil)
	if err != nil {
		return err
	}
	made, err := planks.Lapped(strakes, planks.Laps{Width: q.loft.lap, Thickness: q.loft.skin, Gain: gainAt})
	if err != nil {
		return err
	}
	var beside []planks.Scarf
	for i := range made {
		p := &made[i]
		title := fmt.Sprintf("Plank %d", p.Strake)
		switch p.Strake {
		case 1:
			title += " (garboard)"
		case len(made):
			title += " (sheer strake)"
		}
		beside = q.flatPart(fmt.Sprintf("plank-%02d", p.Strake), title, &p.Flat, beside)
	}
	q.widths = lapTable(q, made)
	q.strakes = strakes
	return nil
}

// panels expands one plate for each stretch between knuckles.
func (q *ask) panels() error {
	made, err := planks.Panels(q.surface)
	if err != nil {
		return err
	}
	for i := range made {
		p := &made[i]
		name := fmt.Sprintf("from %s to %s", p.Lower, p.Upper)
		if len(p.Flat.Points) == 0 {
			q.warnings = append(q.warnings, fmt.Sprintf("The panel %s cannot be laid flat: %s.", name, p.Why))
			continue
		}
		if !p.Ruled && p.Why != "" {
			q.warnings = append(q.warnings, fmt.Sprintf("The panel %s is not developable: %s. It is laid flat with the least stretch.", name, p.Why))
		}
		q.flatPart(fmt.Sprintf("panel-%02d", i+1), "Panel "+name, &p.Flat, nil)
	}
	return nil
}

// strips spiles layers of diagonal strips, each crossing the one before.
func (q *ask) strips() error {
	for k := range q.loft.layers {
		angle := q.loft.angle
		if k%2 == 1 {
			angle = math.Pi - angle
		}
		layer, err := planks.Strips(q.surface, q.loft.strip, angle)
		if err != nil {
			return err
		}
		q.layers = append(q.layers, layer)
		if deg := layer.Fanned * 180 / math.Pi; deg > 5 {
			q.warnings = append(q.warnings, fmt.Sprintf("Layer %d: strip %d has fanned %.0f degrees from its angle; start again there from a tapered strip.", k+1, layer.FannedAt, deg))
		}
	}
	return nil
}

// flatPart turns a flat piece into a pattern, checks its bends, cuts it into lengths that a sheet
// gives, and lists them for the sheets.
func (q *ask) flatPart(name, title string, f *planks.Flat, beside []planks.Scarf) []planks.Scarf {
	part := Part{Name: title, Count: 2, Thickness: q.loft.skin, Length: f.Length, Width: f.Width, Area: f.AreaTrue}
	var p plate
	p.path(sheet.Skin, "cut here", true, f.Outline)
	out := sheet.Pattern{Name: name, Title: title, Face: "inside face of the starboard one; turned over it is the port one", Thickness: q.loft.skin, Count: 2}
	if found, err := planks.Warnings(f, planks.Sheet{Thickness: q.loft.skin, Tables: []planks.BendTable{planks.FiftyThick, planks.APADry}}); err == nil && len(found) > 0 {
		found = hardest(found)
		var said []string
		for _, w := range found {
			said = append(said, w.String())
			p.path(sheet.Limit, w.String(), true, ring(w.Flat[0], w.Flat[1], 0.03))
		}
		part.Warning = strings.Join(said, "; ")
		q.warnings = append(q.warnings, title+": "+part.Warning+".")
	}
	cut, err := planks.Scarfs(f, planks.Joint{Sheet: q.loft.long - 2*margin, Across: q.loft.wide - 2*margin, Thickness: q.loft.skin, Ratio: q.loft.scarf, Stagger: 0.3, Beside: beside})
	if err == nil {
		for _, s := range cut.Scarfs {
			p.path(sheet.Other, "scarf", false, acrossAt(f, s.X))
			out.Notes = append(out.Notes, fmt.Sprintf("Scarf %s from the fore end.", q.sys.Length(units.Length(s.X))))
		}
		for i, l := range cut.Lengths {
			q.onSheets(fmt.Sprintf("%s, length %d", title, i+1), l.Outline, q.loft.skin, 2, nesting.Along, true)
		}
		for _, fault := range cut.Faults {
			q.warnings = append(q.warnings, title+": "+fault)
		}
	}
	p.fit(0.02)
	p.d.Heading = title
	p.d.Alt = fmt.Sprintf("%s laid flat: %s long, %s wide.", title, q.sys.Length(units.Length(f.Length)), q.sys.Length(units.Length(f.Width)))
	out.Drawing = p.d
	out.Notes = append(out.Notes, fmt.Sprintf("Stretch at most %.2f %%, on the whole %.2f %%. Leave wood on at the ends and fit them.", 100*math.Abs(f.Stretch.Max), 100*f.Stretch.Mean))
	for _, edge := range f.Edges {
		for i, at := range edge.Points {
			if i%5 == 0 || i == len(edge.Points)-1 {
				out.Points = append(out.Points, sheet.PlotPoint{Name: fmt.Sprintf("%s %d", edge.Name, i), X: at[0], Y: at[1]})
			}
		}
	}
	q.patterns = append(q.patterns, out)
	q.figures.Parts = append(q.figures.Parts, part)
	return cut.Scarfs
}

// hardest keeps of each kind of warning the one that is furthest over its limit.
func hardest(all []planks.Warning) []planks.Warning {
	over := func(w planks.Warning) float64 {
		if w.Kind == planks.TooTight { // a radius is over its limit by being small
			return w.Allowed / w.Value
		}
		return w.Value / w.Allowed
	}
	var out []planks.Warning
	for _, w := range all {
		i := slices.IndexFunc(out, func(o planks.Warning) bool { return o.Kind == w.Kind })
		switch {
		case i < 0:
			out = append(out, w)
		case over(w) > over(out[i]):
			out[i] = w
		}
	}
	return out
}

// acrossAt is a line across a flat piece.
func acrossAt(f *planks.Flat, x float64) [][2]float64 {
	low, high := math.Inf(1), math.Inf(-1)
	o := f.Outline
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a[0] <= x) != (b[0] <= x) {
			y := a[1] + (x-a[0])/(b[0]-a[0])*(b[1]-a[1])
			low, high = math.Min(low, y), math.Max(high, y)
		}
	}
	if low > high {
		return nil
	}
	return [][2]float64{{x, low}, {x, high}}
}

// lapTable is the plank-width table: each plank's width at each station and the bevel of its land.
func lapTable(q *ask, made []planks.Plank) *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "Plank widths at the stations", Columns: []sheet.Column{{Name: "plank"}},
		Note: "Between the lines, without the lap. Bevels of the lands are in the second table."}
	bevels := &sheet.Table{Heading: "Bevels of the lands", Columns: []sheet.Column{{Name: "plank"}},
		Note: "What is planed off the plank below so that this one lies flat, in degrees."}
	var xs []float64
	for _, s := range q.c.Folder.Boat.Hull.Readings.Stations {
		xs = append(xs, s.X)
		t.Columns = append(t.Columns, sheet.Column{Name: s.Label, Unit: fine.Unit, Places: fine.Places})
		bevels.Columns = append(bevels.Columns, sheet.Column{Name: s.Label, Unit: "deg", Places: 1})
	}
	for _, p := range made {
		w, b := []sheet.Cell{{Value: float64(p.Strake)}}, []sheet.Cell{{Value: float64(p.Strake)}}
		for _, x := range xs {
			wide, bevel := sheet.Cell{Empty: true}, sheet.Cell{Empty: true}
			for _, s := range p.Stations {
				if math.Abs(s.X-x) < 1e-6 {
					wide = sheet.Cell{Value: s.Width * fine.Factor}
					if p.Strake > 1 {
						bevel = sheet.Cell{Value: s.Bevel * 180 / math.Pi}
					}
				}
			}
			w, b = append(w, wide), append(b, bevel)
		}
		t.Rows, bevels.Rows = append(t.Rows, w), append(bevels.Rows, b)
	}
	q.bevels = bevels
	return t
}

// strakeMarks are where the strake lines cross a mould's station.
func (q *ask) strakeMarks(x float64) []r3.Vec {
	if q.strakes == nil {
		return nil
	}
	var out []r3.Vec
	for i := 1; i < len(q.strakes.Lines)-1; i++ {
		if p, ok := q.strakes.At(i, x); ok {
			out = append(out, p)
		}
	}
	return out
}
