package earth

import "math"

// Window is a piece of the map, in radians; East is more than West, by a turn at most,
// and may run past the 180th meridian.
type Window struct {
	South, North, West, East float64
}

// Outline is the coast within a window, simplified for drawing at a scale: closed
// rings (the last point joins the first), longitudes running on past the 180th
// meridian as the window's do. Where the window cuts land, rings run along its edge; ask for a
// window a little larger than what is drawn.
//
// In:     how far the line may stray, and the extent under which a ring is left out, in
// m. A ring that is not left out keeps three points at any scale, so an islet is never
// lost by simplifying alone.
// Good to: points left out lie within tolerance of the line (TestOutlineKeepsToTolerance)
// Source: Douglas & Peucker, "Algorithms for the reduction of the number of points",
// Cartographica 10 (1973), each point's tolerance worked out once
func (l *Land) Outline(w Window, tolerance, least float64) [][]Place {
	if !(w.East > w.West) || !(w.North > w.South) || w.East-w.West > 2*math.Pi+1e-9 || math.Abs(w.West) > 4*math.Pi {
		return nil
	}
	l.weigh.Do(l.weighAll)
	const rad = math.Pi / 180 / micro
	keep, small := float32(tolerance/lengthOfMicro), least/lengthOfMicro
	var out [][]Place
	var ring, spare []Place
	for i := range len(l.rings) - 1 {
		a, b := l.rings[i], l.rings[i+1]-1
		west, east, south, north := l.bounds(a, b)
		if float64(max(east-west, north-south)) < small || float64(north)*rad < w.South || float64(south)*rad > w.North {
			continue
		}
		for turn := -2.; turn <= 2; turn++ {
			shift := turn * 2 * math.Pi
			a0, b0 := float64(west)*rad+shift, float64(east)*rad+shift
			if b0 < w.West || a0 >= w.East || b0 <= w.West+rad && east > west { // touching is not within
				continue
			}
			ring = ring[:0]
			for e := a; e < b; e++ {
				if l.weights[e] > keep {
					ring = append(ring, Place{float64(l.y[e]) * rad, float64(l.x[e])*rad + shift})
				}
			}
			ring, spare = w.clip(ring, spare)
			if len(ring) > 0 {
				out = append(out, append([]Place(nil), ring...))
			}
		}
	}
	return out
}

// lengthOfMicro is the mean length of a millionth of a degree of latitude, m.
const lengthOfMicro = 10001965.7293 / 90 / micro

// bounds are the extent of some points.
func (l *Land) bounds(a, b int32) (west, east, south, north int32) {
	west, east, south, north = l.x[a], l.x[a], l.y[a], l.y[a]
	for e := a + 1; e < b; e++ {
		west, east = min(west, l.x[e]), max(east, l.x[e])
		south, north = min(south, l.y[e]), max(north, l.y[e])
	}
	return west, east, south, north
}

// clip keeps what of a ring lies in the window (Sutherland & Hodgman, "Reentrant
// polygon clipping", Comm. ACM 17 (1974)); the two slices are used in turn.
func (w Window) clip(ring, spare []Place) (in, used []Place) {
	for _, side := range [4]func(Place) float64{
		func(p Place) float64 { return p.Lon - w.West },
		func(p Place) float64 { return w.East - p.Lon },
		func(p Place) float64 { return p.Lat - w.South },
		func(p Place) float64 { return w.North - p.Lat },
	} {
		spare = spare[:0]
		for i, p := range ring {
			q := ring[(i+len(ring)-1)%len(ring)]
			vp, vq := side(p), side(q)
			if (vp < 0) != (vq < 0) {
				t := vq / (vq - vp)
				spare = append(spare, Place{q.Lat + t*(p.Lat-q.Lat), q.Lon + t*(p.Lon-q.Lon)})
			}
			if vp >= 0 {
				spare = append(spare, p)
			}
		}
		ring, spare = spare, ring
	}
	return ring, spare
}

// weighAll gives each point the tolerance, in millionths of a degree of latitude, at
// which it drops out of the line.
func (l *Land) weighAll() {
	l.weights = make([]float32, len(l.x))
	for i := range len(l.rings) - 1 {
		l.weighRing(l.rings[i], l.rings[i+1]-1)
	}
}

// weighRing weighs the points from a up to b, where b is a again. The first point and
// the one furthest from it always stay, and the third in weight with them.
func (l *Land) weighRing(a, b int32) {
	inf := float32(math.Inf(1))
	l.weights[a] = inf
	if b-a < 3 {
		for e := a; e < b; e++ {
			l.weights[e] = inf
		}
		return
	}
	far, most := a, -1.
	for e := a + 1; e < b; e++ {
		if d := l.flat(a, a, e); d > most {
			far, most = e, d
		}
	}
	l.weights[far] = inf
	type run struct {
		a, b int32
		most float64 // no point weighs more than the one that cut its run
	}
	third, heaviest := a, float32(-1)
	for stack := []run{{a, far, math.Inf(1)}, {far, b, math.Inf(1)}}; len(stack) > 0; {
		r := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		at, off := r.a, -1.
		for e := r.a + 1; e < r.b; e++ {
			if d := l.flat(r.a, r.b, e); d > off {
				at, off = e, d
			}
		}
		if at == r.a {
			continue
		}
		off = math.Min(off, r.most)
		l.weights[at] = float32(off)
		if l.weights[at] > heaviest {
			third, heaviest = at, l.weights[at]
		}
		stack = append(stack, run{r.a, at, off}, run{at, r.b, off})
	}
	if third != a {
		l.weights[third] = inf
	}
}

// flat is how far point e lies from the line between points a and b, in millionths of a
// degree of latitude, with longitudes shortened as at e.
func (l *Land) flat(a, b, e int32) float64 {
	cos := math.Cos(float64(l.y[e]) * (math.Pi / 180 / micro))
	x, y := float64(l.x[e]-l.x[a])*cos, float64(l.y[e]-l.y[a])
	dx, dy := float64(l.x[b]-l.x[a])*cos, float64(l.y[b]-l.y[a])
	if long := dx*dx + dy*dy; long > 0 {
		t := math.Max(0, math.Min(1, (x*dx+y*dy)/long))
		x, y = x-t*dx, y-t*dy
	}
	return math.Hypot(x, y)
}
