package planks

import (
	"errors"
	"fmt"
	"math"

	"thole/internal/fairing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Panel is one plate between keel, knuckles and sheer.
type Panel struct {
	Lower, Upper string // keel, a knuckle's name, sheer
	// Flat is the panel laid flat; without points where that cannot be done, as Why then says.
	Flat Flat
	// Ruled tells that it was unrolled along rulings between its two edges; otherwise
	// the measured skin was laid flat with the least stretch.
	Ruled bool
	// Plate is a sheet bent between the same two edges, unrolled along its rulings; nil where those
	// twist too much for one. Where the panel is not Ruled because the measured skin stands off
	// the rulings, this is how a sheet would lie all the same, Off away from straight moulds.
	Plate *Flat
	// Why says, where it is not ruled, what spoke against it.
	Why string
	// Twist is the greatest twist of a ruling between its edges, and TwistAt its lower end.
	Twist   float64
	TwistAt r3.Vec
	// Off is how far at most the ruled plate stands off the measured skin.
	Off float64
}

// Limits of a panel that is built as a ruled plate. Common practice, no source: two
// degrees of twist across a panel and a fiftieth of its width of bow are taken up by sheet plywood.
const (
	RuledTwist = 2 * math.Pi / 180
	RuledOff   = 0.02
)

const (
	panelRows   = 81
	panelAcross = 13
)

// Panels gives one plate for each smooth stretch between keel, knuckles and sheer, from
// the keel up, starboard side. A stretch whose edges can be joined by rulings with little twist, and whose
// measured skin is not far from those, is unrolled exactly; any other is laid flat with
// the least stretch, which tells whether a sheet can take it. On a boat without knuckles that is the
// whole half skin, and its stretch tells why she is planked and not plated.
//
// Error:  ErrSurface; what Expand returns, with the panel's name
func Panels(surface *fairing.Surface) ([]Panel, error) {
	k, err := newSkin(surface)
	if err != nil {
		return nil, err
	}
	names := append(append([]string{"keel"}, surface.Knuckles...), "sheer")
	var out []Panel
	for c := 1; c < len(k.corners); c++ {
		p := Panel{Lower: names[c-1], Upper: names[c]}
		if err := p.develop(k, c-1); err != nil {
			return nil, fmt.Errorf("panel from %s to %s: %w", p.Lower, p.Upper, err)
		}
		out = append(out, p)
	}
	return out, nil
}

// patch is the measured skin of a stretch.
func (k *skin) patch(c, rows, points int) [][]r3.Vec {
	g := make([][]r3.Vec, rows)
	lo, hi := float64(k.corners[c]), float64(k.corners[c+1])
	for i := range g {
		row := k.row(float64(i) / float64(rows-1))
		for j := range points {
			f := float64(j) / float64(points-1)
			g[i] = append(g[i], within(row, c, lo+f*(hi-lo)))
		}
	}
	return g
}

// within is a row's point within one stretch.
func within(row *across, c int, v float64) r3.Vec {
	return r3.Vec{X: row.x[c].At(v), Y: math.Max(0, row.y[c].At(v)), Z: row.z[c].At(v)}
}

func (p *Panel) develop(k *skin, c int) error {
	grid := k.patch(c, panelRows, panelAcross)
	lower, upper := make([]r3.Vec, len(grid)), make([]r3.Vec, len(grid))
	width := 0.0
	for i, row := range grid {
		lower[i], upper[i] = row[0], row[len(row)-1]
		width = math.Max(width, dist(lower[i], upper[i]))
	}
	r, err := Rule(lower, upper, panelRows)
	if err == nil {
		p.Twist, p.TwistAt = r.Twist, r.Rulings[r.At].Lower
		p.Off = k.off(c, &r, grid)
		if p.Twist <= RuledTwist {
			if f, err := Expand(r.Grid()); err == nil {
				p.Plate = &f
			}
		}
		switch {
		case p.Twist > RuledTwist:
			p.Why = fmt.Sprintf("a ruling at %.2f m twists by %.1f°", p.TwistAt.X, p.Twist*180/math.Pi)
		case p.Off > RuledOff*width:
			p.Why = fmt.Sprintf("the measured skin stands up to %.0f mm off the rulings", 1000*p.Off)
		case p.Plate == nil:
			p.Why = "the rulings do not unroll"
		default:
			p.Flat, p.Ruled = *p.Plate, true
		}
	} else {
		p.Why = "an edge has no length: " + err.Error()
	}
	if p.Ruled {
		return nil
	}
	p.Flat, err = Expand(grid)
	if errors.Is(err, ErrFolds) || errors.Is(err, ErrUnsettled) || errors.Is(err, ErrNothing) {
		p.Why, err = p.Why+"; "+err.Error(), nil
	}
	return err
}

// off is the greatest distance of the ruled plate from the measured skin, taken in the section
// at each point, and of the measured ends from the plate's straight ones.
func (k *skin) off(c int, r *Ruled, grid [][]r3.Vec) float64 {
	var most float64
	for i := 0; i < len(r.Rulings); i += 2 {
		q := r.Rulings[i]
		for _, f := range []float64{0.25, 0.5, 0.75} {
			p := mix(q.Lower, q.Upper, f)
			if p.X < k.stops[0] || p.X > k.stops[len(k.stops)-1] {
				continue // short sections at a stem: the ends are looked at by themselves
			}
			most = math.Max(most, near(k.section(p.X), c, p))
		}
	}
	for _, row := range [][]r3.Vec{grid[0], grid[len(grid)-1]} {
		a, b := row[0], row[len(row)-1]
		over := unit(r3.Sub(b, a))
		for _, p := range row {
			d := r3.Sub(p, a)
			most = math.Max(most, r3.Norm(r3.Sub(d, r3.Scale(r3.Dot(d, over), over))))
		}
	}
	return most
}

// near is the distance of a point from a stretch of a section, in the section's plane.
func near(sec *section, c int, p r3.Vec) float64 {
	q := sec.down(c, sec.depth(c, p))
	return math.Hypot(p.Y-q.Y, p.Z-q.Z)
}
