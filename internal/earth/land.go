package earth

import (
	"fmt"
	"math"
	"sync"
)

// Land is the coasts and the hazards, prepared for fast questions. It does not change
// once made, and any number may ask at a time.
//
// The coast is straight in latitude and longitude between its points, which are held
// to a millionth of a degree (0.11 m); all tests on it are exact in whole numbers.
type Land struct {
	x, y    []int32 // the rings' points, each ring closed by its first point again
	rings   []int32 // where each ring begins in x and y, and the end
	hazards []Hazard
	cells   cells

	once    sync.Once // the tree is made when a distance is first asked for
	tree    tree
	weigh   sync.Once // and the weights when the coast is first drawn
	weights []float32
}

// Hazard is a reef, islet or shoal that the coast does not show: a circle to keep out of.
type Hazard struct {
	Name   string
	At     Place
	Radius float64 // m, enough to hold all of it
	What   string  // reef, islets, rock, shoal
	Source string
}

const (
	micro = 1_000_000 // whole numbers a degree
	half  = 180 * micro
	pole  = 90 * micro
)

// NewLand prepares rings and hazards.
//
// Error:  ErrInput, naming the ring or the hazard
// Good to: the rings as given, moved at most 0.06 m; latitudes past a pole are put at
// it, longitudes past the 180th meridian at it
func NewLand(r Rings, hazards []Hazard) (*Land, error) {
	n := len(r.Rings)
	for _, ring := range r.Rings {
		n += len(ring)
	}
	l := &Land{x: make([]int32, 0, n), y: make([]int32, 0, n), rings: make([]int32, 0, len(r.Rings)+1)}
	for i, ring := range r.Rings {
		if len(ring) == 0 {
			return nil, fmt.Errorf("%w: ring %d has no point", ErrInput, i+1)
		}
		l.rings = append(l.rings, int32(len(l.x)))
		for k := 0; k <= len(ring); k++ {
			p := ring[k%len(ring)]
			x, y := r.West+float64(p[0])*r.StepLon, r.South+float64(p[1])*r.StepLat
			if !(math.Abs(x) <= 360) || !(math.Abs(y) <= 360) {
				return nil, fmt.Errorf("%w: ring %d: point %d lies at %g, %g degrees", ErrInput, i+1, k+1, y, x)
			}
			l.x = append(l.x, int32(math.Round(math.Max(-half, math.Min(half, x*micro)))))
			l.y = append(l.y, int32(math.Round(math.Max(-pole, math.Min(pole, y*micro)))))
		}
	}
	l.rings = append(l.rings, int32(len(l.x)))
	for _, h := range hazards {
		if err := h.At.Check(); err != nil {
			return nil, fmt.Errorf("hazard %q: %w", h.Name, err)
		}
		if !(h.Radius > 0 && h.Radius < 1e6) {
			return nil, fmt.Errorf("%w: hazard %q has a radius of %g m", ErrInput, h.Name, h.Radius)
		}
		h.At.Lon = Half(h.At.Lon)
		l.hazards = append(l.hazards, h)
	}
	l.index()
	return l, nil
}

// Hazards are the circles that the land holds besides its coast.
func (l *Land) Hazards() []Hazard { return l.hazards }

// whole is a place in whole millionths of a degree, longitude from -180 up to 180.
func whole(p Place) (x, y int32) {
	lat, lon := p.Degrees()
	x = int32(math.Floor(lon*micro + 0.5))
	if lon >= 180 || lon < -180 {
		lon = Half(p.Lon) * (180 / math.Pi)
		x = int32(math.Floor(lon*micro + 0.5))
	}
	if x >= half {
		x -= 2 * half
	}
	return x, int32(math.Floor(math.Max(-90, math.Min(90, lat))*micro + 0.5))
}

// OnLand says whether a place lies on land: inside the coast. Hazards are not land
// (see InHazard). It wants a place that Check finds nothing wrong with.
//
// Good to: exact for the rings as held, at any place, poles and the 180th meridian counted; how
// good the rings are is their giver's to say
func (l *Land) OnLand(p Place) bool {
	x, y := whole(p)
	return l.inside(x, y)
}

// InHazard is the first hazard in whose circle a place lies; -1 where there is none.
//
// Good to: the circle's edge to 0.5 % of its radius
func (l *Land) InHazard(p Place) int {
	x, y := whole(p)
	if !l.cells.risky(x, y) {
		return -1
	}
	for i := range l.hazards {
		if h := &l.hazards[i]; apart(h.At, p) <= h.Radius {
			return i
		}
	}
	return -1
}

// apart is the distance between places near one another: on the sphere, by haversines.
func apart(p, q Place) float64 {
	s, t := math.Sin((p.Lat-q.Lat)/2), math.Sin((p.Lon-q.Lon)/2)
	return 2 * WGS84.series[0] * math.Asin(math.Sqrt(math.Min(1, s*s+math.Cos(p.Lat)*math.Cos(q.Lat)*t*t)))
}
