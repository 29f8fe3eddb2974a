// Package nesting lays the parts of a boat on sheets of plywood.
//
// A part is a polygon with holes, a sheet is a rectangle with a margin that is not
// trusted. Two parts are kept apart by their no-fit region: the set of offsets at which
// they would touch or come nearer than the gap. It is the Minkowski sum of one outline
// with the other one turned about, and it is held exactly, as the signed segments of the
// two outlines' convolution, so that long curved planks lie in each other's hollows.
// Parts go one after another to the leftmost free places of a set of rows and then slide
// down and left until they touch; an annealing search changes the order.
//
// What comes out is measured again by other means (areas and distances of the real
// polygons, see Check), and goes with a lower bound on the number of sheets, which tells
// how far from the best it can be at most.
//
// Everything is in metres and radians. Not tried: angles that are not quarter turns,
// sheets of several sizes at once, parts cut in two and scarfed.
//
// Source: Guibas, Ramshaw and Stolfi, "A kinetic framework for computational geometry",
// FOCS 1983 (convolution and winding number); Bennell and Oliveira, "The geometry of
// nesting problems", European Journal of Operational Research 184 (2008).
package nesting

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// Grain says how a part may be turned on the sheet.
type Grain int

// What the grain allows: any quarter turn, or the part's x axis along the sheet's length.
const (
	Any Grain = iota
	Along
)

// Part is one shape and how many of it are wanted.
type Part struct {
	Name      string
	Outline   [][2]float64   // metres, a simple polygon, counter-clockwise (the other way round is mended)
	Holes     [][][2]float64 // openings; smaller parts may be cut from them
	Count     int            // copies wanted; none is allowed
	Grain     Grain
	MayFlip   bool    // may be cut as its mirror image, port and starboard from the same face
	Thickness float64 // metres; 0 means as the sheet
}

// Stock is the sheet that everything is cut from.
type Stock struct {
	Length, Width float64 // metres, as bought
	Thickness     float64 // metres; 0 means any
	Margin        float64 // metres off every edge, because sheets are not square nor to size
	Gap           float64 // metres kept between two parts: the saw's kerf and its wander
}

// Placement is where one copy lies. A point of the part is mirrored across its x axis if
// Flip is set, then turned by Angle, then shifted by X, Y, from the sheet's lower left corner.
type Placement struct {
	Part, Copy, Sheet int
	X, Y              float64 // metres
	Angle             float64 // radians, counter-clockwise
	Flip              bool
	Fixed             bool // laid by the person, not moved
}

// Options steer the search.
type Options struct {
	Seed   uint64  // the same seed gives the same layout, on any number of cores
	Effort float64 // work to spend, 1 if 0: two to three seconds of one core; it is counted, not timed
	// Progress is told the share of the work done and the sheets of the best layout so
	// far (0 while there is none). Calls do not overlap.
	Progress func(share float64, sheets int)
}

// Misfit is a part that no sheet can take, and by how much at best.
type Misfit struct {
	Part                 int
	OverLength, OverWide float64 // metres beyond the usable length and width, 0 where it fits
}

// Bound is the least number of sheets that any layout must use, and why.
type Bound struct {
	Sheets int // the largest of the others
	Area   int // from the areas, each part with half the gap about it
	Long   int // from parts longer than half a sheet, which all cross its middle
	Wide   int // the same across
}

// Result is a layout.
type Result struct {
	Placements []Placement // by part, then copy
	Sheets     int         // sheets with anything on them
	Used       float64     // square metres of the parts laid, holes taken off
	Waste      float64     // share of the sheets' whole area that is not part
	Offcut     float64     // metres of full width left at the far end of the emptiest sheet
	Bound      Bound
	Unfit      []Misfit
	Notes      []string // what the person should know: a part fixed across the grain
	Layouts    int      // layouts that the search tried
	Stopped    bool     // the context's deadline came first; another run may differ
}

// The largest job taken: beyond it a search of seconds would find nothing worth having.
const (
	maxCopies = 2000
	maxPoints = 2000
	maxSheets = 5000
)

// Pack lays the parts on sheets. Fixed placements are kept and the rest goes about them.
//
// Out:    every copy once, except those of parts in Unfit; no two nearer than the gap
// Error:  a part or sheet that makes no sense; fixed parts that overlap or leave the
// sheet, named; the context's error when it is cancelled. A deadline that passes after the first
// layout is no error: the best so far comes back with Stopped set.
// Good to: a micrometre in clearance (see Check)
func Pack(ctx context.Context, parts []Part, stock Stock, fixed []Placement, o Options) (Result, error) {
	if err := stock.valid(); err != nil {
		return Result{}, err
	}
	shapes, err := prepare(parts, stock)
	if err != nil {
		return Result{}, err
	}
	j := &job{parts: parts, stock: stock, shapes: shapes, pairs: newPairs()}
	var r Result
	if r.Notes, err = j.fix(fixed); err != nil {
		return Result{}, err
	}
	items := j.items(&r)
	r.Bound = j.bound(r.Unfit)
	best, layouts, err := j.search(ctx, items, o, r.Bound.Sheets)
	r.Layouts = layouts
	if err != nil {
		if !errors.Is(err, context.DeadlineExceeded) || best == nil {
			return Result{}, err
		}
		r.Stopped = true
	}
	j.finish(&r, best)
	if faults := Check(parts, stock, r.Placements); len(faults) > 0 {
		return Result{}, fmt.Errorf("nesting: the layout failed its own check, so none is given: %s", faults[0])
	}
	return r, nil
}

// valid refuses a sheet that cannot hold anything.
func (s Stock) valid() error {
	for _, v := range []struct {
		name string
		size float64
		zero bool
	}{{"length", s.Length, false}, {"width", s.Width, false}, {"thickness", s.Thickness, true},
		{"margin", s.Margin, true}, {"gap", s.Gap, true}} {
		if !finite(v.size) || v.size < 0 || v.size == 0 && !v.zero || v.size > 1000 {
			return fmt.Errorf("sheet: %s %g m is not a size (write metres, as 2.44)", v.name, v.size)
		}
	}
	if l, w := s.usable(); l <= 0 || w <= 0 {
		return fmt.Errorf("sheet: a margin of %g m all round leaves nothing of %g x %g m", s.Margin, s.Length, s.Width)
	}
	return nil
}

// usable is the sheet less its margins.
func (s Stock) usable() (length, width float64) {
	return s.Length - 2*s.Margin, s.Width - 2*s.Margin
}

// finite tells whether a number can be reckoned with.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
