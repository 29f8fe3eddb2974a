package byhand

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/cuts"
)

// move is how far a spot is to go.
type move struct {
	spot *spot
	by   [3]float64
}

// moves are all those of one pull.
type moves []move

// How far a pull of the shape reaches: a share of a section's girth to either side, and of the boat's length fore and aft.
const (
	reachRound = 0.5
	reachAlong = 0.4
)

// lean lets the readings about a pulled one follow: by the square of the cosine of their distance, a quarter turn
// being how far it reaches, so that the pull runs out without a step or an edge. Keel, sheer and knuckles stay unless it is they that are
// pulled, and then along their length; towards one that stays the others follow less and less, in proportion to how far they are from it,
// and so do narrower stations, in proportion to their breadth: a bow stays sharp.
func lean(spots []spot, pulled move) moves {
	p := pulled.spot
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range spots {
		if s := &spots[i]; s.Kind == Reading {
			lo, hi = math.Min(lo, s.X), math.Max(hi, s.X)
		}
	}
	own := p.shares()
	at, line := own[p.point], p.stops()[p.point]
	out := moves{}
	lines := map[*cuts.Point][]float64{} // shares by profile, by station
	stations := map[int][]float64{}
	beam := p.breadth()
	for i := range spots {
		q := &spots[i]
		if q.Kind != Reading || q.End != p.End {
			continue
		}
		var shares []float64
		along := 0.0
		if q.End {
			if &q.ends[0] != &p.ends[0] {
				continue
			}
			if lines[&q.ends[0]] == nil {
				lines[&q.ends[0]] = q.shares()
			}
			shares = lines[&q.ends[0]]
		} else {
			if along = (q.X - p.X) / (reachAlong * (hi - lo)); math.Abs(along) >= 1 {
				continue
			}
			if stations[q.station] == nil {
				stations[q.station] = q.shares()
			}
			shares = stations[q.station]
		}
		stops := q.stops()
		here := stops[q.point]
		if here != "" && here != line {
			continue
		}
		round := (shares[q.point] - at) / reachRound
		if here != "" {
			round = 0
		}
		d := math.Hypot(along, round)
		if d >= 1 {
			continue
		}
		w := math.Cos(math.Pi / 2 * d)
		w *= w
		if !q.End && beam > 0 {
			w *= math.Min(1, q.breadth()/beam)
		}
		for k, name := range stops {
			if name == "" || name == line {
				continue
			}
			far := 0.15 // from a line that the pulled section has not
			for j, other := range p.stops() {
				if other == name {
					far = at - own[j]
				}
			}
			near := shares[q.point] - shares[k]
			if near*far <= 0 && far != 0.15 {
				w = 0
			}
			w *= math.Min(1, math.Abs(near/far))
		}
		m := move{spot: q}
		for k := range m.by {
			if q.Free[k] {
				m.by[k] = w * pulled.by[k]
			}
		}
		m.by[1] = math.Max(m.by[1], -q.Y)
		if q == p {
			m = pulled
		}
		if m.by != [3]float64{} {
			out = append(out, m)
		}
	}
	return out
}

// whole is the line that a reading stands in, section or profile.
func (s *spot) whole() []cuts.Point {
	if s.End {
		return s.ends
	}
	out := make([]cuts.Point, len(s.line))
	for i, p := range s.line {
		out[i] = cuts.Point{Y: p.Y, Z: p.Z}
	}
	return out
}

// breadth is the greatest half-breadth of the station that a reading stands in.
func (s *spot) breadth() float64 {
	widest := 0.0
	for _, p := range s.line {
		widest = math.Max(widest, p.Y)
	}
	return widest
}

// shares are how far along its line each of its readings stands, 0 to 1.
func (s *spot) shares() []float64 {
	line := s.whole()
	out := make([]float64, len(line))
	for i := 1; i < len(line); i++ {
		out[i] = out[i-1] + math.Hypot(line[i].Y-line[i-1].Y, line[i].Z-line[i-1].Z)
	}
	if long := out[len(out)-1]; long > 0 {
		for i := range out {
			out[i] /= long
		}
	}
	return out
}

// stops names the readings of a line that only follow their own kind: its ends, and its sharp ones.
func (s *spot) stops() []string {
	n := len(s.line)
	if s.End {
		n = len(s.ends)
	}
	out := make([]string, n)
	if !s.End {
		for i, p := range s.line {
			switch {
			case p.Knuckle != "":
				out[i] = "knuckle " + p.Knuckle
			case p.Corner:
				out[i] = "a corner"
			}
		}
	}
	out[n-1], out[0] = "the head", "the foot"
	return out
}

// hold is how much of the moves can be made before a line crosses itself: all of them, or as much as
// closing in on it finds.
func (all moves) hold() float64 {
	if all.sound(1) {
		return 1
	}
	lo, hi := 0.0, 1.0
	for range 14 {
		if mid := (lo + hi) / 2; all.sound(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// sound tells whether every line that a share of the moves changes stays one that does not cross itself, as it will be written.
func (all moves) sound(share float64) bool {
	type key struct {
		station int
		end     *cuts.Point
	}
	was, now := map[key][]cuts.Point{}, map[key][]cuts.Point{}
	for _, m := range all {
		s := m.spot
		k, across := key{station: s.station}, 1
		if s.End {
			k, across = key{end: &s.ends[0]}, 0
		}
		if now[k] == nil {
			was[k] = s.whole()
			now[k] = slices.Clone(was[k])
		}
		var to [3]float64
		for i := range to {
			to[i] = s.place()[i]
			if len(s.figures[i]) > 0 && m.by[i] != 0 {
				g := &s.figures[i][0]
				to[i] = g.full(g.write(to[i] + share*m.by[i]))
			}
		}
		now[k][s.point] = cuts.Point{Y: to[across], Z: to[2]}
	}
	for k := range now {
		if !uncrossed(was[k], now[k]) {
			return false
		}
	}
	return true
}

// near is how close two readings of a line may come, metres: closer they would be one.
const near = 1e-4

// uncrossed tells whether a line neither crosses, touches nor folds back on itself, and no two of its points that were
// apart have become one.
func uncrossed(was, now []cuts.Point) bool {
	var line []cuts.Point
	for i, p := range now {
		if i > 0 && math.Hypot(p.Y-now[i-1].Y, p.Z-now[i-1].Z) < near {
			if math.Hypot(was[i].Y-was[i-1].Y, was[i].Z-was[i-1].Z) >= near {
				return false
			}
			continue // two sharp lines may meet in one point
		}
		line = append(line, p)
	}
	at, _ := cuts.Tangle(line)
	return at < 0
}

func profile(ps []r3.Vec) []cuts.Point {
	out := make([]cuts.Point, len(ps))
	for i, p := range ps {
		out[i] = cuts.Point{Y: p.X, Z: p.Z}
	}
	return out
}
