package planks

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// BendRow is the least radius to which plywood of a thickness is bent, metres.
type BendRow struct {
	Thickness float64
	Across    float64 // the bend runs across the face grain, the grain lies straight along the bend's axis
	Along     float64 // the face grain goes round the bend
}

// BendTable is a published table of least radii, by rising thickness.
type BendTable struct {
	Name, Source string
	Rows         []BendRow
}

const (
	inch = 0.0254
	foot = 0.3048
)

func feet(thickness, across, along float64) BendRow {
	return BendRow{thickness * inch, across * foot, along * foot}
}

func inches(thickness, along, across float64) BendRow {
	return BendRow{thickness * inch, across * inch, along * inch}
}

// APADry is for construction plywood bent dry.
var APADry = BendTable{
	Name:   "construction plywood, bent dry",
	Source: "APA, bending radii of plywood panels, as printed at concreteconstruction.net and apawood-europe.org",
	Rows: []BendRow{feet(1.0/4, 2, 5), feet(5.0/16, 2, 6), feet(3.0/8, 3, 8), feet(1.0/2, 6, 12),
		feet(5.0/8, 8, 16), feet(3.0/4, 12, 20)},
}

// FAACold is for aircraft plywood at 10 % moisture, bent cold. The source's "at 90° to face
// grain" is read as the bend's axis at 90° to the grain, the stiffer way, and so as Along here.
var FAACold = BendTable{
	Name:   "aircraft plywood, 10 % moisture, bent cold",
	Source: "FAA AC 43.13-1B, minimum recommended bend radii for aircraft plywood, as printed at engineersedge.com",
	Rows: []BendRow{inches(0.035, 2.0, 1.1), inches(0.070, 5.2, 3.2), inches(0.100, 8.6, 5.2), inches(0.125, 12, 7.1),
		inches(0.155, 16, 10), inches(0.160, 17, 11), inches(0.185, 20, 13), inches(0.190, 21, 14), inches(0.225, 27, 17),
		inches(0.250, 31, 20), inches(0.315, 43, 28), inches(0.375, 54, 36)},
}

// FAASoaked is for aircraft plywood soaked in hot water.
var FAASoaked = BendTable{
	Name:   "aircraft plywood, soaked in hot water",
	Source: FAACold.Source,
	Rows: []BendRow{inches(0.035, 0.5, 0.1), inches(0.070, 1.5, 0.4), inches(0.100, 2.6, 0.8), inches(0.125, 3.8, 1.2),
		inches(0.155, 5.3, 1.8), inches(0.160, 6, 2), inches(0.185, 7.1, 2.6), inches(0.190, 7, 3), inches(0.225, 10, 4),
		inches(0.250, 12, 5), inches(0.315, 16, 7), inches(0.375, 21, 10)},
}

// FiftyThick is the shed's rule of thumb, either way of the grain.
var FiftyThick = BendTable{
	Name:   "fifty times the thickness",
	Source: "rule of thumb, common practice, no source",
	Rows:   []BendRow{{0.006, 0.3, 0.3}, {0.012, 0.6, 0.6}},
}

// Least is the least radius for a thickness and the angle between the bent direction and the
// face grain: Along at 0, Across from 45 degrees on, in a straight run between (the run is ours:
// the sources print the two ends). Between two thicknesses it is interpolated; beyond the
// table it goes with the thickness at the nearest row's ratio, and beyond is true.
func (t *BendTable) Least(thickness, angle float64) (radius float64, beyond bool) {
	f := math.Min(math.Abs(angle)/(math.Pi/4), 1)
	of := func(r BendRow) float64 { return r.Along + f*(r.Across-r.Along) }
	first, last := t.Rows[0], t.Rows[len(t.Rows)-1]
	const hair = 1e-9
	switch {
	case thickness < first.Thickness-hair:
		return of(first) * thickness / first.Thickness, true
	case thickness > last.Thickness+hair:
		return of(last) * thickness / last.Thickness, true
	}
	for i := 1; i < len(t.Rows); i++ {
		a, b := t.Rows[i-1], t.Rows[i]
		if thickness <= b.Thickness+hair {
			return of(a) + (of(b)-of(a))*(thickness-a.Thickness)/(b.Thickness-a.Thickness), false
		}
	}
	return of(last), false
}

// Sheet is what a piece is cut from, its face grain along the piece.
type Sheet struct {
	Thickness float64
	Tables    []BendTable // whose radii are asked for
	// Twist and Stretch are the limits; where they are nothing TwistRule and StretchRule stand.
	Twist   float64 // radians per metre
	Stretch float64 // share of length
}

// TwistRule is the twist that a plank takes without steam: half a hundredth over its thickness,
// 48 degrees a metre in 6 mm. Common practice, no source.
func TwistRule(thickness float64) float64 { return 0.005 / thickness }

// StretchRule is the change of length that sheet plywood takes in a compound curve: a five-hundredth
// up to 3 mm, less in thicker sheets, as their thickness. Common practice, no source.
func StretchRule(thickness float64) float64 { return 0.002 * math.Min(1, 0.003/thickness) }

const ruleSource = "common practice, no source"

// Kind is what is wrong with a piece.
type Kind string

// The kinds of warning.
const (
	TooTight   Kind = "bent"
	TooTwisted Kind = "twisted"
	TooRound   Kind = "stretched"
)

// Warning is one thing that a piece asks of its sheet and the sheet does not give.
type Warning struct {
	Kind Kind
	At   Place
	// Point is the same place on the boat, and Flat on the flat piece.
	Point r3.Vec
	Flat  [2]float64
	// Value against Allowed: metres of radius, radians per metre, or share of length.
	Value, Allowed float64
	Table, Source  string
	Beyond         bool // the thickness lies outside the table, its nearest ratio was used
}

// String is the warning as a sentence.
func (w Warning) String() string {
	at := fmt.Sprintf("at %.2f m", w.Point.X)
	switch w.Kind {
	case TooTight:
		return fmt.Sprintf("bent to %.0f mm radius %s, allowed %.0f mm (%s)", 1000*w.Value, at, 1000*w.Allowed, w.Table)
	case TooTwisted:
		return fmt.Sprintf("twisted by %.0f° in a metre %s, usual limit %.0f°", w.Value*180/math.Pi, at, w.Allowed*180/math.Pi)
	default:
		return fmt.Sprintf("stretched or shrunk by %.2f %%, most %s, usual limit %.2f %%", 100*w.Value, at, 100*w.Allowed)
	}
}

// Warnings lists what is too much for a sheet: for each table the place where the bend is furthest
// below the radius allowed, the hardest twist, and the stretch that all but a hundredth of the piece stays under (with the
// place of the greatest), each only where it is over its limit.
//
// Error:  ErrNotLaid; a thickness that is not a positive number
func Warnings(f *Flat, sheet Sheet) ([]Warning, error) {
	if !f.laid() {
		return nil, ErrNotLaid
	}
	if !(sheet.Thickness > 0) || math.IsInf(sheet.Thickness, 0) {
		return nil, fmt.Errorf("a sheet %g m thick: give a thickness above nothing", sheet.Thickness)
	}
	var out []Warning
	add := func(w Warning) {
		w.Point, w.Flat = f.True[w.At.Row][w.At.Across], f.Points[w.At.Row][w.At.Across]
		out = append(out, w)
	}
	for i := range sheet.Tables {
		t := &sheet.Tables[i]
		worst := Warning{Kind: TooTight, Table: t.Name, Source: t.Source}
		most := 1.0
		f.eachBend(func(at Place, c local) {
			k, angle := c.hardest()
			for _, d := range [3][2]float64{{math.Abs(c.along), 0}, {math.Abs(c.across), math.Pi / 2}, {k, angle}} {
				least, beyond := t.Least(sheet.Thickness, d[1])
				if over := least * d[0]; over > most {
					most = over
					worst.At, worst.Value, worst.Allowed, worst.Beyond = at, 1/d[0], least, beyond
				}
			}
		})
		if most > 1 {
			add(worst)
		}
	}
	limit := sheet.Twist
	if limit == 0 {
		limit = TwistRule(sheet.Thickness)
	}
	if f.Twist.Rate > limit {
		add(Warning{Kind: TooTwisted, At: f.Twist.At, Value: f.Twist.Rate, Allowed: limit, Source: ruleSource})
	}
	if limit = sheet.Stretch; limit == 0 {
		limit = StretchRule(sheet.Thickness)
	}
	if f.Stretch.Within > limit {
		add(Warning{Kind: TooRound, At: f.Stretch.At, Value: f.Stretch.Within, Allowed: limit, Source: ruleSource})
	}
	return out, nil
}

// eachBend visits the curvatures at the inner rows.
func (f *Flat) eachBend(do func(Place, local)) {
	for i, row := range f.bends {
		for j, c := range row {
			do(Place{i, j}, c)
		}
	}
}
