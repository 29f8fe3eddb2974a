package fairing

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/cuts"
)

// Point is one measured point of a cut.
type Point struct {
	cuts.Point
	Corner  bool
	Knuckle string
}

// Cut is the measured points of one station from keel to sheer, starboard side.
type Cut struct {
	X      float64
	Points []Point
}

// Profile is a stem or stern on the centre line, from the foot up.
type Profile []ProfilePoint

// ProfilePoint is one point of a profile.
type ProfilePoint struct{ X, Z float64 }

// sharp is the turn above which three readings are taken for a corner that the
// builder did not mark. A box measured by its corners turns 90 degrees; a round
// bilge measured at five points or more turns less than this at each.
const sharp = 70 * math.Pi / 180

// station is a cut laid out: chord parameters, and where the knuckles stand.
type station struct {
	x      float64
	points []Point
	chord  []float64 // cumulative, 0 at the keel
	// stops are the chord parameters of keel, each knuckle of the whole boat in
	// order, and sheer. own tells which of them are real corners here.
	stops []float64
	own   []bool
	index []int // point index of each own stop, -1 otherwise
}

// corners marks unmarked sharp turns, names the nameless and returns the order
// in which knuckles follow one another from keel to sheer.
func corners(cs []Cut) (order []string, assumed []Assumed, err error) {
	for i := range cs {
		assumed = append(assumed, markSharp(i, cs[i].Points)...)
	}
	nameCorners(cs)
	// after[a][b]: b stands above a at some station
	after := map[string]map[string]bool{}
	var seen []string
	for _, c := range cs {
		var before []string
		for _, p := range c.Points {
			if p.Knuckle == "" {
				continue
			}
			if after[p.Knuckle] == nil {
				after[p.Knuckle] = map[string]bool{}
				seen = append(seen, p.Knuckle)
			}
			for _, b := range before {
				after[b][p.Knuckle] = true
			}
			before = append(before, p.Knuckle)
		}
	}
	for len(order) < len(seen) {
		next := ""
		for _, k := range seen {
			if slices.Contains(order, k) {
				continue
			}
			free := true
			for _, o := range seen {
				free = free && (slices.Contains(order, o) || !after[o][k])
			}
			if free {
				next = k
				break
			}
		}
		if next == "" {
			return nil, nil, fmt.Errorf("the knuckles change places: %q stands above another at one station and below it at the next", seen[0])
		}
		order = append(order, next)
	}
	return order, assumed, nil
}

// Assumed is a corner that the readings showed and nobody had marked.
type Assumed struct{ Station, Point int }

func markSharp(station int, ps []Point) (found []Assumed) {
	for i := 1; i < len(ps)-1; i++ {
		if ps[i].Corner {
			continue
		}
		ay, az := ps[i].Y-ps[i-1].Y, ps[i].Z-ps[i-1].Z
		by, bz := ps[i+1].Y-ps[i].Y, ps[i+1].Z-ps[i].Z
		turn := math.Abs(math.Atan2(ay*bz-az*by, ay*by+az*bz))
		if math.Hypot(ay, az) > 0 && math.Hypot(by, bz) > 0 && turn > sharp {
			ps[i].Corner = true
			found = append(found, Assumed{Station: station, Point: i})
		}
	}
	return found
}

// nameCorners gives corners without a name the number they have at the station
// with the most of them; a station with fewer is matched by where on the girth they stand.
func nameCorners(cs []Cut) {
	type corner struct {
		point int
		share float64
	}
	nameless := make([][]corner, len(cs))
	model := 0
	for i, c := range cs {
		chord := chords(c.Points)
		girth := chord[len(chord)-1]
		for j := 1; j < len(c.Points)-1; j++ {
			if p := c.Points[j]; p.Corner && p.Knuckle == "" && girth > 0 {
				nameless[i] = append(nameless[i], corner{j, chord[j] / girth})
			}
		}
		if len(nameless[i]) > len(nameless[model]) {
			model = i
		}
	}
	name := func(k int) string { return fmt.Sprintf("corner %d", k+1) }
	for i, own := range nameless {
		want := nameless[model]
		// least total distance between shares, order kept: a small assignment by
		// dynamic programming over (corners here, corners of the model)
		cost := make([][]float64, len(own)+1)
		for a := range cost {
			cost[a] = make([]float64, len(want)+1)
			for b := range cost[a] {
				switch {
				case a == 0:
					cost[a][b] = 0
				case b < a:
					cost[a][b] = math.Inf(1)
				default:
					cost[a][b] = math.Min(cost[a][b-1], cost[a-1][b-1]+math.Abs(own[a-1].share-want[b-1].share))
				}
			}
		}
		b := len(want)
		for a := len(own); a > 0; a-- {
			for b > a && cost[a][b] == cost[a][b-1] {
				b--
			}
			cs[i].Points[own[a-1].point].Knuckle = name(b - 1)
			b--
		}
	}
}

// chords are cumulative chord lengths from the first point.
func chords(ps []Point) []float64 {
	c := make([]float64, len(ps))
	for i := 1; i < len(ps); i++ {
		c[i] = c[i-1] + math.Hypot(ps[i].Y-ps[i-1].Y, ps[i].Z-ps[i-1].Z)
	}
	return c
}

// layOut finds where every knuckle of the boat stands on every station. Where a
// station has it not, it is put at the share of the girth that it has at the
// nearest station that does, between the knuckles on either side.
func layOut(cs []Cut, order []string) []station {
	st := make([]station, len(cs))
	last := len(order) + 1
	for i, c := range cs {
		s := station{x: c.X, points: c.Points, chord: chords(c.Points)}
		s.stops, s.own, s.index = make([]float64, last+1), make([]bool, last+1), make([]int, last+1)
		for k := range s.index {
			s.index[k] = -1
		}
		s.own[0], s.own[last], s.index[0], s.index[last] = true, true, 0, len(c.Points)-1
		s.stops[last] = s.chord[len(s.chord)-1]
		for j, p := range c.Points {
			if p.Knuckle == "" || j == 0 || j == len(c.Points)-1 {
				// a knuckle that has run into the keel or the sheer
				if k := slices.Index(order, p.Knuckle); k >= 0 {
					s.own[k+1], s.index[k+1], s.stops[k+1] = true, j, s.chord[j]
				}
				continue
			}
			k := slices.Index(order, p.Knuckle) + 1
			s.own[k], s.index[k], s.stops[k] = true, j, s.chord[j]
		}
		st[i] = s
	}
	for i := range st {
		for k := 1; k < last; k++ {
			if st[i].own[k] {
				continue
			}
			lo, hi := k-1, k+1
			for !st[i].own[hi] {
				hi++
			}
			f := shareNear(st, i, lo, k, hi)
			st[i].stops[k] = st[i].stops[lo] + f*(st[i].stops[hi]-st[i].stops[lo])
		}
	}
	return st
}

// shareNear is where knuckle k stands between lo and hi at the nearest station that has it.
func shareNear(st []station, i, lo, k, hi int) float64 {
	best, share := math.Inf(1), float64(k-lo)/float64(hi-lo)
	for j := range st {
		if !st[j].own[k] || !st[j].own[hi] {
			continue
		}
		width := st[j].stops[hi] - st[j].stops[lo]
		if d := math.Abs(st[j].x - st[i].x); d < best && width > 0 && st[j].stops[k] >= st[j].stops[lo] {
			best, share = d, (st[j].stops[k]-st[j].stops[lo])/width
		}
	}
	return share
}
