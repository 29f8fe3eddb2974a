package boatfolder

import (
	"fmt"
	"math"

	"thole/internal/cuts"
	"thole/internal/model"
)

// Sizes outside of which a boat is not one: the unit or the scale is wrong.
const (
	longestBoat  = 300.0
	shortestBoat = 0.1
	deepestBoat  = 60.0
	usualBoat    = 30.0 // longer, and a note says so
	mostPoints   = 300  // of one station; the check for crossings grows with the square
	mostStations = 500
)

// sound checks that the readings can be a solid. What is a "hull", a "cabin"
// or a "well". Where cells were at fault, what may come of the gaps is not told.
func (r *reader) sound(t *table, b *built, what string, complete bool) {
	whole := t.header[0].at
	if !complete {
		r.runsAft(b)
		r.size(t, b, what)
		return
	}
	if len(b.Stations) < 2 {
		r.fault(whole, "", "measure two stations or more", "the table has %s", map[int]string{0: "no station", 1: "one station only"}[len(b.Stations)])
		return
	}
	if len(b.Stations) > mostStations {
		r.fault(whole, "", "is it the right file?", "the table has more than %d stations", mostStations)
		return
	}
	widest := 0.0
	for i, s := range b.Stations {
		if !b.placed[i] || len(s.Points) == 0 {
			r.fault(b.at[i], s.Label, "measure a point of it, or take its rows out", "station %s has no reading left", shorten(s.Label))
			continue
		}
		if len(s.Points) > mostPoints {
			r.fault(b.at[i], s.Label, "keep the ones that matter", "station %s has more than %d points", shorten(s.Label), mostPoints)
			continue
		}
		for _, p := range s.Points {
			widest = max(widest, p.Y)
		}
		if first, last := s.Points[0], s.Points[len(s.Points)-1]; last.Z < first.Z && last.Y <= first.Y {
			r.fault(b.at[i], s.Label, "put its points in order from keel to sheer", "station %s runs from the sheer down", shorten(s.Label))
		}
		r.uncrossed(s)
		r.oneOfEachKnuckle(s)
	}
	if widest == 0 {
		r.fault(whole, "", "measure half-breadths from the centre line outward", "no station has any width")
	}
	for _, p := range []struct {
		name  string
		count int
	}{{"stem", len(b.Stem)}, {"stern", len(b.Stern)}} {
		if p.count == 1 {
			r.fault(whole, p.name, "measure it from the foot to the sheer, or take the row out", "the %s profile has one point only", p.name)
		}
	}
	r.runsAft(b)
	r.knuckleOrder(b)
	r.size(t, b, what)
}

// runsAft checks that each station lies aft of the one before.
func (r *reader) runsAft(b *built) {
	back := 0
	var placed []int
	for i := range b.Stations {
		if b.placed[i] {
			placed = append(placed, i)
		}
	}
	for k, i := range placed {
		if k > 0 && b.Stations[i].X <= b.Stations[placed[k-1]].X {
			back++
		}
	}
	if back > 1 && back == len(placed)-1 {
		r.fault(b.at[1], b.Stations[1].Label, "measure distances aft of station 0 and put the stations in order from the bow", "the stations run forward, from the stern to the bow")
		return
	}
	for k, i := range placed {
		if k == 0 {
			continue
		}
		last, s := b.Stations[placed[k-1]], b.Stations[i]
		switch {
		case s.X == last.X:
			r.fault(b.at[i], s.Label, "give each station its own distance", "stations %s and %s are at the same distance", shorten(last.Label), shorten(s.Label))
		case s.X < last.X:
			r.fault(b.at[i], s.Label, "put the stations in order from the bow aft, or mend the distance", "station %s lies forward of station %s, which stands before it", shorten(s.Label), shorten(last.Label))
		}
	}
}

// uncrossed checks that a station's line does not cross or touch itself.
func (r *reader) uncrossed(s model.Station) {
	line := make([]cuts.Point, len(s.Points)) // two sharp lines may meet in one point, at the stem
	for i, at := range s.Points {
		line[i] = cuts.Point{Y: at.Y, Z: at.Z}
	}
	switch at, folds := cuts.Tangle(line); {
	case at < 0:
	case folds:
		r.fault(s.Points[at].Source, s.Label, "put its points in order from keel to sheer", "station %s folds back on itself", shorten(s.Label))
	default:
		r.fault(s.Points[at].Source, s.Label, "put its points in order from keel to sheer, or look for a misread one", "station %s crosses itself", shorten(s.Label))
	}
}

func (r *reader) oneOfEachKnuckle(s model.Station) {
	seen := map[string]bool{}
	for _, p := range s.Points {
		if p.Knuckle != "" && seen[p.Knuckle] {
			r.fault(p.Source, p.Knuckle, "name one point of a station so", "station %s has the knuckle %q twice", shorten(s.Label), shorten(p.Knuckle))
		}
		seen[p.Knuckle] = true
	}
}

// knuckleOrder checks that sharp lines do not cross between stations.
func (r *reader) knuckleOrder(b *built) {
	type order struct{ below, above string }
	first := map[order]string{}
	const most = 50 // knuckles of one station; the work grows with the square
	for _, s := range b.Stations {
		var named []model.Reading
		for _, p := range s.Points {
			if p.Knuckle != "" {
				named = append(named, p)
			}
		}
		if len(named) > most {
			r.fault(named[most].Source, named[most].Knuckle, "name the sharp lines only", "station %s has more than %d knuckles", shorten(s.Label), most)
			return
		}
		for i, low := range named {
			for _, high := range named[i+1:] {
				if other, crossed := first[order{high.Knuckle, low.Knuckle}]; crossed && low.Knuckle != high.Knuckle {
					r.fault(high.Source, high.Knuckle, "look which of the two stations has the names the wrong way round",
						"knuckle %q stands above %q at station %s and below it at station %s",
						shorten(high.Knuckle), shorten(low.Knuckle), shorten(s.Label), shorten(other))
					continue
				}
				if o := (order{low.Knuckle, high.Knuckle}); first[o] == "" {
					first[o] = s.Label
				}
			}
		}
	}
}

// size refuses what cannot be a small boat or a part of one.
func (r *reader) size(t *table, b *built, what string) {
	e := extentOf(b.Readings)
	if !e.known() {
		return
	}
	at := t.header[0].at
	long, deep := e.maxX-e.minX, max(e.maxZ-e.minZ, e.maxY)
	const mend = "maybe the unit or the scale is wrong"
	switch {
	case long > longestBoat:
		r.fault(at, "", mend, "the %s comes out %s long", what, metres(long))
	case what == "hull" && long > usualBoat:
		r.note(at, mend+", unless she is a ship", "the hull comes out %s long", metres(long))
	case what == "hull" && long < shortestBoat && long > 0:
		r.fault(at, "", mend, "the %s comes out only %s long", what, metres(long))
	}
	if deep > deepestBoat {
		r.fault(at, "", mend, "the %s comes out %s high or half as broad", what, metres(deep))
	}
	if math.Abs(e.minX) > 2*longestBoat || math.Abs(e.minZ) > 2*longestBoat {
		r.fault(at, "", mend, "the %s comes out far away from station 0 and the base line", what)
	}
}

func metres(v float64) string {
	if v >= 1000 {
		return fmt.Sprintf("%.3g m", v)
	}
	return fmt.Sprintf("%.2f m", v)
}

// extent is the space that a boat takes up.
type extent struct{ minX, maxX, maxY, minZ, maxZ float64 }

func extentOf(all ...model.Readings) extent {
	e := extent{math.Inf(1), math.Inf(-1), 0, math.Inf(1), math.Inf(-1)}
	add := func(x, y, z float64) {
		e.minX, e.maxX = min(e.minX, x), max(e.maxX, x)
		e.minZ, e.maxZ = min(e.minZ, z), max(e.maxZ, z)
		e.maxY = max(e.maxY, y)
	}
	for _, m := range all {
		for _, s := range m.Stations {
			for _, p := range s.Points {
				add(s.X, p.Y, p.Z)
			}
		}
		for _, p := range m.Stem {
			add(p.X, 0, p.Z)
		}
		for _, p := range m.Stern {
			add(p.X, 0, p.Z)
		}
	}
	return e
}

func (e extent) known() bool { return e.maxX >= e.minX }
