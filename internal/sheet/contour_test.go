package sheet

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// over makes a field of a function on an uneven grid.
func over(xs, ys []float64, z func(x, y float64) float64) Field {
	f := Field{Xs: xs, Ys: ys, X: Axis{Min: xs[0], Max: xs[len(xs)-1]}, Y: Axis{Min: ys[0], Max: ys[len(ys)-1]}}
	for _, y := range ys {
		var row []float64
		for _, x := range xs {
			row = append(row, z(x, y))
		}
		f.Values = append(f.Values, row)
	}
	return f
}

// extent is the area of rings by the even-odd rule, where none overlaps another but as a hole in it.
func extent(rings [][][2]float64) float64 {
	var sum float64
	for _, r := range rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			sum += (a[0]*b[1] - a[1]*b[0]) / 2
		}
	}
	return sum
}

// TestContourOfAPlane: z = 2x + 3y - 4 has straight contours, whatever the grid; what lies above one of a
// rectangle is a polygon of known area.
// Source: closed form
func TestContourOfAPlane(t *testing.T) {
	f := over([]float64{0, 0.3, 1, 1.1, 2}, []float64{0, 0.5, 0.7, 1.9, 2}, func(x, y float64) float64 { return 2*x + 3*y - 4 })
	f.Contour([]float64{-1, 2})
	if len(f.Levels) != 3 || f.Levels[1].Value != 0 || !f.Levels[1].Limit {
		t.Fatalf("levels %+v", f.Levels)
	}
	for _, l := range f.Levels {
		if len(l.Lines) != 1 {
			t.Fatalf("level %g has %d lines", l.Value, len(l.Lines))
		}
		for _, p := range l.Lines[0] {
			if d := 2*p[0] + 3*p[1] - 4 - l.Value; math.Abs(d) > 1e-12 {
				t.Errorf("level %g: %v is off the line by %g", l.Value, p, d)
			}
		}
		a, b := l.Lines[0][0], l.Lines[0][len(l.Lines[0])-1]
		if edge := func(p [2]float64) bool {
			return math.Abs(p[0]) < 1e-12 || math.Abs(p[1]) < 1e-12 || math.Abs(p[0]-2) < 1e-12 || math.Abs(p[1]-2) < 1e-12
		}; !edge(a) || !edge(b) {
			t.Errorf("level %g ends at %v and %v, within the field", l.Value, a, b)
		}
	}
	// Above 2x + 3y = 4 within the square of 4: the square less the triangle of 2 by 4/3.
	if got, want := extent(f.Levels[1].Areas), 4-2*(4.0/3)/2; math.Abs(got-want) > 1e-12 {
		t.Errorf("the area above nothing is %g, want %g", got, want)
	}
}

// TestContourOfACone: the contour of a cone is a circle; with a fine grid its area comes near πr², and the
// error falls as the square of the spacing. Above a hollow it is the square less the circle.
// Source: closed form
func TestContourOfACone(t *testing.T) {
	errs := []float64{}
	for _, n := range []int{20, 40} {
		var at []float64
		for i := 0; i <= n; i++ {
			at = append(at, -1+2*float64(i)/float64(n))
		}
		for _, hill := range []float64{1, -1} {
			f := over(at, at, func(x, y float64) float64 { return hill * (0.49 - x*x - y*y) })
			f.Contour(nil)
			l := f.Levels[0]
			if len(l.Lines) != 1 || l.Lines[0][0] != l.Lines[0][len(l.Lines[0])-1] {
				t.Fatalf("%d lines; the one is not closed", len(l.Lines))
			}
			want := math.Pi * 0.49
			if hill < 0 {
				want = 4 - want
			}
			off := math.Abs(extent(l.Areas) - want)
			if off > 0.02 {
				t.Errorf("%d by %d, hill %g: area off by %g", n, n, hill, off)
			}
			if hill > 0 {
				errs = append(errs, off)
			}
		}
	}
	if errs[1] > 0.4*errs[0] {
		t.Errorf("halving the grid takes the error from %g to %g", errs[0], errs[1])
	}
}

// TestContourAnywhere: whatever the values, each point of a contour lies between two neighbours of the grid
// that stand on either side of the level, and areas of a higher level are no larger.
func TestContourAnywhere(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		values := rapid.SliceOfN(rapid.SampledFrom([]float64{-2, -1, 0, 0.5, 1, 3}), 20, 20).Draw(r, "values")
		f := over([]float64{0, 1, 2, 3, 4}, []float64{0, 1, 2, 3}, func(x, y float64) float64 { return values[int(x)+5*int(y)] })
		f.Contour([]float64{-1, 0.25, 1})
		before := math.Inf(1)
		for _, l := range f.Levels {
			a := extent(l.Areas)
			if a > before+1e-9 || a < -1e-9 || a > 12+1e-9 {
				r.Errorf("level %g has an area of %g, the one below %g", l.Value, a, before)
			}
			before = a
			for _, line := range l.Lines {
				for _, p := range line {
					i, j := int(math.Floor(p[0])), int(math.Floor(p[1]))
					a, b := f.Values[j][i], f.Values[min(j+1, 3)][min(i+1, 4)]
					if p[0] != float64(i) {
						b = f.Values[j][min(i+1, 4)]
					} else if p[1] != float64(j) {
						b = f.Values[min(j+1, 3)][i]
					} else if a == l.Value {
						continue
					}
					if (a >= l.Value) == (b >= l.Value) && a != l.Value && b != l.Value {
						r.Errorf("level %g: %v lies between %g and %g", l.Value, p, a, b)
					}
				}
			}
		}
	})
}
