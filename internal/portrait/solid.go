package portrait

import (
	"math"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/shape"
	"thole/internal/sheet"
)

// Round is the boat's outside as surfaces to turn in the hand, and the water
// she lies in. rows is how many cuts each surface is shown by.
func Round(t *afloat.Trip, a hydro.Attitude, rows int) sheet.Solid {
	out := sheet.Solid{}
	sin, cos := math.Sincos(a.Heel)
	tilt := 1 / math.Sqrt(1+a.Slope*a.Slope)
	// The water: points with -y sin + z cos = level + slope x.
	out.Up = [3]float64{-a.Slope * tilt, -sin * tilt, cos * tilt}
	out.Level = a.Level * tilt
	both := func(s *shape.Solid, role sheet.Role, n int) {
		for _, side := range [2]float64{1, -1} {
			out.Surfaces = append(out.Surfaces, skin(s, role, n, side))
		}
		out.Surfaces = append(out.Surfaces, top(s, n))
	}
	both(t.Ship.Hull, sheet.Skin, rows)
	for _, c := range t.Ship.Cabins {
		both(c, sheet.Body, max(6, rows/4))
	}
	return out
}

// rowsAt spaces cuts more closely towards the ends, where the shape turns.
func rowsAt(s *shape.Solid, n int) []float64 {
	out := make([]float64, n+1)
	for i := range out {
		out[i] = s.From + (s.To-s.From)*(1-math.Cos(math.Pi*float64(i)/float64(n)))/2
	}
	return out
}

func mm(v float64) float64 { return math.Round(v*1000) / 1000 }

func skin(s *shape.Solid, role sheet.Role, n int, side float64) sheet.Surface {
	out := sheet.Surface{Role: role, Name: s.Name}
	for _, x := range rowsAt(s, n) {
		var row [][3]float64
		for _, p := range s.Surface.Half(x) {
			row = append(row, [3]float64{mm(x), mm(side * p.Y), mm(p.Z)})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// top is the deck or a cabin's roof between the two upper edges, with its camber.
func top(s *shape.Solid, n int) sheet.Surface {
	out := sheet.Surface{Role: sheet.Body, Name: s.Name + ", top"}
	for _, x := range rowsAt(s, n) {
		e := s.Edge(x)
		_, crown := s.Span(x)
		var row [][3]float64
		for i := -4; i <= 4; i++ {
			f := float64(i) / 4
			row = append(row, [3]float64{mm(x), mm(f * e.Y), mm(e.Z + (crown-e.Z)*(1-f*f))})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
