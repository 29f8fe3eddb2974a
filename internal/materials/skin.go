package materials

import (
	"fmt"
	"math"
	"sort"
)

// Layer is one layer of a skin.
type Layer struct {
	Thickness float64 // metres
	Measured  bool    // by a gauge, not as sold
	Density   float64 // kg/m3 of solid wood; 0 means plywood
}

// Side is what goes on one face: cloths, then coats of resin.
type Side struct {
	Cloths []float64 // dry weight of each, kg/m2
	Coats  int       // coats of resin, those that fill the cloth among them
	Paint  float64   // kg/m2 of paint
}

// Corner is a length of fillet.
type Corner struct {
	Length, Radius float64 // metres
	Angle          float64 // radians between the faces; 0 means a right angle
}

// Skin is a surface built up of glued layers, both faces covered.
type Skin struct {
	Name            string
	Area            float64 // m2, of one face
	Layers          []Layer
	Outside, Inside Side
	Corners         []Corner
}

// Row is one line of the list of what to buy.
type Row struct {
	What   string
	Needed float64 // what stays on the boat
	Buy    float64 // with waste
	Unit   string
}

// Bill is what a skin takes and weighs.
type Bill struct {
	Wood, Glue, Resin, Cloth, Paint, Fillets float64 // kg that stay on the boat; Resin is coats and cloth together
	Mass, Doubt                              float64 // kg, and its standard deviation
	Thickness                                float64 // metres of wood
	Gallons                                  float64 // US gallons by the rule of thumb for cloth with three coats, to hold against Resin; 0 without cloth
	Rows                                     []Row
	Assumptions                              []Assumption
	Cautions                                 []string
}

// Bill adds up a skin.
//
// Error: an area, thickness, cloth or coat that cannot be, or rates that cannot
func (r Rates) Bill(s Skin) (Bill, error) {
	if err := r.Valid(); err != nil {
		return Bill{}, err
	}
	if err := s.valid(); err != nil {
		return Bill{}, fmt.Errorf("skin %q: %w", s.Name, err)
	}
	b := Bill{Assumptions: r.Assumptions()}
	wood := map[string]float64{} // area by what is bought
	var doubtWood float64        // layers of one delivery err together
	seen := map[string]bool{}
	for _, l := range s.Layers {
		b.Thickness += l.Thickness
		name, w := fmt.Sprintf("plywood %.3g mm", l.Thickness*1000), r.Sheet(l.Thickness, l.Measured)
		if l.Density > 0 {
			m := l.Density * l.Thickness
			name, w = fmt.Sprintf("wood %.3g mm, %.0f kg/m3", l.Thickness*1000, l.Density), Weight{Mass: m, Doubt: m * r.Doubt.Plywood}
		}
		b.Wood += s.Area * w.Mass
		doubtWood += s.Area * w.Doubt
		wood[name] += s.Area
		if w.Caution != "" && !seen[w.Caution] {
			seen[w.Caution] = true
			b.Cautions = append(b.Cautions, w.Caution)
		}
	}
	b.Glue = s.Area * r.GlueLine * float64(max(0, len(s.Layers)-1))
	var coats, wet float64
	cloths := map[string]float64{}
	for _, side := range []Side{s.Outside, s.Inside} {
		if side.Coats > 0 {
			coats += s.Area * (r.FirstCoat + r.LaterCoat*float64(side.Coats-1))
		}
		for _, c := range side.Cloths {
			b.Cloth += s.Area * c
			wet += s.Area * c * r.ResinCloth
			cloths[fmt.Sprintf("cloth %.0f g/m2", c*1000)] += s.Area
			b.Gallons += Gallons(s.Area, c)
		}
		b.Paint += s.Area * side.Paint
	}
	b.Resin = coats + wet
	for _, c := range s.Corners {
		angle := c.Angle
		if angle == 0 {
			angle = math.Pi / 2
		}
		b.Fillets += Fillet(c.Length, c.Radius, angle) * r.Fillet
	}
	b.Mass = b.Wood + b.Glue + b.Resin + b.Cloth + b.Paint + b.Fillets
	b.Doubt = root(doubtWood, b.Glue*r.Doubt.Glue, coats*r.Doubt.Coats, wet*r.Doubt.Cloth,
		b.Fillets*r.Doubt.Fillet, (b.Mass-b.Fillets)*r.Doubt.Area)
	b.Rows = r.rows(b, wood, cloths)
	return b, nil
}

// rows lists what to buy. Paint is bought by its maker's spread, so no waste is added.
func (r Rates) rows(b Bill, wood, cloths map[string]float64) []Row {
	var rows []Row
	add := func(list map[string]float64, waste func(float64) float64) {
		var names []string
		for n := range list {
			names = append(names, n)
		}
		sort.Strings(names)
		for _, n := range names {
			rows = append(rows, Row{n, list[n], waste(list[n]), "m2"})
		}
	}
	more := func(v float64) float64 { return v * (1 + r.Waste) }
	add(wood, func(a float64) float64 { return a / (1 - r.SheetWaste) })
	add(cloths, more)
	for _, row := range []Row{
		{"glue", b.Glue, more(b.Glue), "kg"},
		{"resin for coats and cloth", b.Resin, more(b.Resin), "kg"},
		{"thickened resin for fillets", b.Fillets, more(b.Fillets), "kg"},
		{"paint", b.Paint, b.Paint, "kg"},
	} {
		if row.Needed > 0 {
			rows = append(rows, row)
		}
	}
	return rows
}

// root is the root of the sum of squares.
func root(parts ...float64) float64 {
	var sum float64
	for _, p := range parts {
		sum += p * p
	}
	return math.Sqrt(sum)
}

// valid refuses a skin that cannot be.
func (s Skin) valid() error {
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) || v < 0 }
	if bad(s.Area) {
		return fmt.Errorf("area %g m2", s.Area)
	}
	for i, l := range s.Layers {
		if bad(l.Thickness) || l.Thickness == 0 || l.Thickness > 1 {
			return fmt.Errorf("layer %d: thickness %g m (write metres, as 0.004)", i+1, l.Thickness)
		}
		if bad(l.Density) {
			return fmt.Errorf("layer %d: density %g kg/m3", i+1, l.Density)
		}
	}
	for _, side := range []Side{s.Outside, s.Inside} {
		for _, c := range side.Cloths {
			if bad(c) || c > 10 {
				return fmt.Errorf("cloth of %g kg/m2 (write kg/m2, as 0.2)", c)
			}
		}
		if side.Coats < 0 || side.Coats > 100 || bad(side.Paint) {
			return fmt.Errorf("%d coats, %g kg/m2 of paint", side.Coats, side.Paint)
		}
	}
	for i, c := range s.Corners {
		if bad(c.Length) || bad(c.Radius) || bad(c.Angle) || c.Angle >= math.Pi {
			return fmt.Errorf("corner %d: %g m of radius %g m at %g rad", i+1, c.Length, c.Radius, c.Angle)
		}
	}
	return nil
}

// Sheets is how many whole sheets an area of parts takes at the waste of the rates, for
// want of a layout; a layout counts them better. A sheet has so many m2.
func (r Rates) Sheets(parts, sheet float64) int {
	if !(parts > 0) || !(sheet > 0) || !(r.SheetWaste < 1) {
		return 0
	}
	return int(math.Ceil(parts/(sheet*(1-r.SheetWaste)) - 1e-9))
}
