// Package planks takes a boat's skin apart into pieces that lie flat: plates laid
// out true to size, strakes lined off and lapped, panels between chines, strips
// for moulding cold, and for each piece how hard it is bent and twisted, how much
// it must stretch, and where to scarf it.
//
// A piece of skin is a grid of points: rows from fore to aft, in each row points
// across from the lower to the upper edge. Laid flat, the rows run along x and the points
// across along y. That shows the face towards which along × across points: on the starboard
// side, whose x runs aft and whose rows run up, it is the inside of the plank; turned
// over it is the port one.
//
// Everything is in metres, radians and radians per metre, curvature in 1/m (nothing
// where flat, so that no infinite radius ever leaves the package). Thickness is
// not looked at in laying out: the surface given is the one that keeps its
// lengths, to be strict the middle of the plank.
//
// The package imports only fairing and cuts, and knows nothing of files.
package planks

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Errors of laying flat.
var (
	ErrFew       = errors.New("a piece needs at least two rows of at least two points each, every row alike")
	ErrNumber    = errors.New("a point of the piece is not a number")
	ErrNothing   = errors.New("the piece has no area")
	ErrFolds     = errors.New("the piece folds over itself when laid flat: divide it into narrower ones")
	ErrUnsettled = errors.New("laying the piece flat did not settle: divide it into narrower ones")
	ErrNotLaid   = errors.New("the piece was not laid flat by Expand")
)

// Edge is a named stretch of an outline.
type Edge struct {
	Name   string // "lower", "aft end", "upper" or "fore end"
	Points [][2]float64
}

// Place is a spot on a piece: row and point across, as in the grid.
type Place struct{ Row, Across int }

// Stretch is how much the material must give.
type Stretch struct {
	// Max is the greatest change of any length on the flat, as a share of it:
	// positive where the flat must be stretched, negative where it must shrink.
	Max float64
	// Mean is the mean of the greatest change without its sign, by area.
	Mean float64
	// Within is the change, without its sign, that 99 hundredths of the area stay under:
	// what the sheet must take when a corner at an end is left to the plane.
	Within float64
	At     Place // of the greatest
}

// Bend is a curvature of the piece.
type Bend struct {
	Curvature float64 // 1/m without its sign; the radius is its inverse
	Angle     float64 // between the bent direction and the rows' run fore and aft, 0 to π/2
	At        Place
}

// Radius is the bend's radius in metres, infinite where it is flat.
func (b Bend) Radius() float64 { return 1 / b.Curvature }

// Twist is the rate at which a piece turns about its own length.
type Twist struct {
	Rate float64 // radians per metre, without its sign
	At   Place
}

// Flat is a piece laid flat.
type Flat struct {
	// Points are the grid laid flat, [row][across]{x, y}. x runs from the middle of the
	// first row to the middle of the last, the least x and the least y are nothing.
	// A grid with two points across whose rulings are twisted is given three more between them.
	Points [][][2]float64
	// True are the same points in space.
	True [][]r3.Vec
	// Outline runs counter-clockwise; Edges are its four sides in that order.
	Outline [][2]float64
	Edges   []Edge
	// Length and Width are the box that holds it.
	Length, Width      float64
	AreaTrue, AreaFlat float64
	Stretch            Stretch
	Along, Across      Bend // hardest bend of the rows' run, and of the direction square to it
	Hardest            Bend // hardest bend in any direction
	Twist              Twist
	Rulings            []float64 // how far the surface turns about each row from its lower end to its upper one, radians
	// Settled is the last step of the least-stretch solution as a share of the piece's size;
	// nothing where the unrolling alone was exact.
	Settled float64

	bends [][]local // curvatures at every inner row, for warnings and scarfs
}

// laid tells whether Expand made the piece.
func (f *Flat) laid() bool { return f != nil && len(f.bends) > 1 && len(f.bends) == len(f.Points) }

// finite tells whether a point is made of numbers.
func finite(p r3.Vec) bool {
	s := p.X + p.Y + p.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}

func dist(a, b r3.Vec) float64 { return r3.Norm(r3.Sub(a, b)) }

// mix is the point at a share of the way from a to b.
func mix(a, b r3.Vec, f float64) r3.Vec {
	return r3.Vec{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y), Z: a.Z + f*(b.Z-a.Z)}
}

// between is the angle between two directions, 0 to π.
func between(a, b r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b))
}

// unit is a direction's unit vector, and nothing for nothing.
func unit(a r3.Vec) r3.Vec {
	l := r3.Norm(a)
	if l == 0 {
		return r3.Vec{}
	}
	return r3.Scale(1/l, a)
}
