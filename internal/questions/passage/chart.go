package passage

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/coast"
	"thole/internal/crossing"
	"thole/internal/earth"
	"thole/internal/sheet"
	"thole/internal/voyages"
)

// frame is a piece of the earth on a map with straight courses. Longitudes are held as they lie from the frame's middle.
type frame struct {
	on                       earth.Projection
	middle                   float64 // longitude
	south, north, west, east float64 // the last two from the middle
}

// wide is about how many times wider than high a map is, at the least and at the most.
const (
	narrow = 1.7
	wide   = 2.2
)

// frameOf holds some places with a margin, and is about twice as wide as high. least is the least height, radians.
func frameOf(places []earth.Place, least float64) frame {
	f := frame{middle: places[0].Lon, south: math.Inf(1), north: math.Inf(-1), west: math.Inf(1), east: math.Inf(-1)}
	for _, p := range places {
		lon := earth.Half(p.Lon - f.middle)
		f.south, f.north = math.Min(f.south, p.Lat), math.Max(f.north, p.Lat)
		f.west, f.east = math.Min(f.west, lon), math.Max(f.east, lon)
	}
	shift := (f.west + f.east) / 2
	f.middle = earth.Half(f.middle + shift)
	half := (f.east - f.west) / 2
	lat, high := (f.south+f.north)/2, math.Max(f.north-f.south, least)
	const margin = 1.16
	half, high = half*margin, high*margin
	// A radian of latitude is drawn longer than one of longitude by one over the cosine.
	k := math.Cos(math.Max(-1.3, math.Min(1.3, lat)))
	half = math.Max(half, narrow*high/k/2)
	high = math.Max(high, 2*half*k/wide)
	half = math.Min(half, 0.98*math.Pi)
	f.west, f.east = -half, half
	const furthest = 80 * math.Pi / 180
	f.south, f.north = math.Max(-furthest, lat-high/2), math.Min(furthest, lat+high/2)
	f.on = earth.WGS84.Mercator(f.middle, furthest+0.01)
	return f
}

// at is where a place lies on the map.
func (f *frame) at(p earth.Place) ([2]float64, bool) {
	lon := earth.Half(p.Lon - f.middle)
	x, y, ok := f.on.To(earth.Place{Lat: p.Lat, Lon: p.Lon})
	return [2]float64{x, y}, ok && p.Lat >= f.south && p.Lat <= f.north && lon >= f.west && lon <= f.east
}

// x and y are the map's coordinates of a longitude from the middle, and of a latitude.
func (f *frame) x(lon float64) float64 { return earth.WGS84.Radius() * lon }
func (f *frame) y(lat float64) float64 {
	_, y, _ := f.on.To(earth.Place{Lat: lat, Lon: f.middle})
	return y
}

// window is the frame as the land asks for it.
func (f *frame) window() earth.Window {
	return earth.Window{South: f.south, North: f.north, West: f.middle + f.west, East: f.middle + f.east}
}

// begin is a map of a frame with its land, its lines of latitude and longitude and what must be known of the coast.
func (f *frame) begin(heading string) *sheet.Map {
	m := &sheet.Map{Heading: heading, MinX: f.x(f.west), MaxX: f.x(f.east), MinY: f.y(f.south), MaxY: f.y(f.north),
		Notice: coast.Notice + " Keep clear of the line drawn by its own error, " + fmt.Sprintf("%.0f nm, and more.", coast.StandOff/mile)}
	middle := (f.south + f.north) / 2
	const minute = math.Pi / 180 / 60
	north, _ := earth.WGS84.Scale(middle)
	m.Mile = (f.y(middle+minute/2) - f.y(middle-minute/2)) / (north * minute) * mile
	dot := (f.east - f.west) * earth.WGS84.Radius() / 1200 // what can be told apart on paper
	for _, ring := range coast.World().Outline(f.window(), dot/2, dot/2) {
		var points [][2]float64
		for _, p := range ring {
			lat := math.Max(f.south, math.Min(f.north, p.Lat))
			points = append(points, [2]float64{f.x(math.Max(f.west, math.Min(f.east, p.Lon-f.middle))), f.y(lat)})
		}
		m.Land = append(m.Land, points)
	}
	step := spacing(math.Min(f.east-f.west, 2*(f.north-f.south)))
	for lat := math.Ceil(f.south/step) * step; lat <= f.north; lat += step {
		m.Lines = append(m.Lines, sheet.Path{Role: sheet.Grid, Name: parallel(lat), Points: [][2]float64{{m.MinX, f.y(lat)}, {m.MaxX, f.y(lat)}}})
	}
	first := math.Ceil((f.middle+f.west)/step) * step
	for lon := first; lon <= f.middle+f.east; lon += step {
		m.Lines = append(m.Lines, sheet.Path{Role: sheet.Grid, Name: meridian(lon), Points: [][2]float64{{f.x(lon - f.middle), m.MinY}, {f.x(lon - f.middle), m.MaxY}}})
	}
	return m
}

// spacing is how far lines of latitude and longitude stand apart so that there are about five across.
func spacing(width float64) float64 {
	const deg = math.Pi / 180
	for _, d := range []float64{0.1, 0.25, 0.5, 1, 2, 5, 10, 15, 20, 30} {
		if width/(d*deg) <= 7 {
			return d * deg
		}
	}
	return 45 * deg
}

// line is places as a path; what lies outside the frame parts it.
func (f *frame) line(role sheet.Role, name string, places []earth.Place) []sheet.Path {
	var out []sheet.Path
	var run [][2]float64
	end := func() {
		if len(run) > 1 {
			out = append(out, sheet.Path{Role: role, Name: name, Points: run})
		}
		run = nil
	}
	for _, p := range places {
		if at, ok := f.at(p); ok {
			run = append(run, at)
		} else {
			end()
		}
	}
	end()
	return out
}

// hazards are those of the list that lie in the frame.
func (f *frame) hazards() []sheet.Label {
	var out []sheet.Label
	for _, h := range coast.Hazards() {
		if at, ok := f.at(h.At); ok {
			out = append(out, sheet.Label{X: at[0], Y: at[1], Text: h.Name, Anchor: "start", Role: sheet.Limit})
		}
	}
	return out
}

// daily is a passage a point a day, and where it ends: from the day on which it comes into the frame to that on which it leaves it.
func (f *frame) daily(t crossing.Track) (first int, points [][2]float64) {
	day := 0
	for _, m := range t.Moments {
		if m.Day < float64(day)-1e-6 {
			continue
		}
		at, ok := f.at(earth.Place{Lat: m.Where.Lat, Lon: m.Where.Lon})
		switch {
		case ok:
			if points == nil {
				first = day
			}
			points = append(points, at)
		case points != nil:
			return first, points
		}
		day++
	}
	if at, ok := f.at(earth.Place{Lat: t.Passage.Last.Lat, Lon: t.Passage.Last.Lon}); ok && points != nil {
		points = append(points, at)
	}
	return first, points
}

// chart is the map of the whole passage.
func (q *ask) chart() *sheet.Map {
	places := slices.Clone(q.x.Places)
	for _, t := range q.deep.tracks {
		for i := 0; i < len(t.Moments); i += 24 {
			places = append(places, earth.Place{Lat: t.Moments[i].Where.Lat, Lon: t.Moments[i].Where.Lon})
		}
		places = append(places, earth.Place{Lat: t.Passage.Last.Lat, Lon: t.Passage.Last.Lon})
	}
	cell := q.tally.Cell
	for k, n := range q.deep.across {
		if n*20 >= min(drawn, q.n) { // strays may run off the map
			places = append(places, earth.Place{Lat: (float64(k[0]) + 0.5) * cell, Lon: (float64(k[1]) + 0.5) * cell})
		}
	}
	f := frameOf(places, 0.05)
	m := f.begin("Where the boats go")
	q.route(m, &f)
	for _, t := range q.deep.tracks {
		q.draw(m, &f, t)
	}
	if t := q.shown(); t != nil && q.o.Again != nil {
		q.draw(m, &f, *t)
	}
	q.density(m, &f)
	v := q.c.Folder.Voyage
	m.Alt = fmt.Sprintf("The way from %s to %s, %.0f nm by the points given, with where %d simulated passages are from day to day. %s",
		v.From.Name, v.To.Name, q.x.Route.Length()/mile, q.n, q.spreadSaid())
	m.Finish()
	return m
}

// draw puts a passage on a map.
func (q *ask) draw(m *sheet.Map, f *frame, t crossing.Track) {
	if first, points := f.daily(t); len(points) > 1 {
		m.Tracks = append(m.Tracks, sheet.Track{Name: fmt.Sprintf("%s, passage %d", t.Name, t.Number), Role: q.trackRole(t), First: first, Points: points})
	}
}

// trackRole says how much a passage matters: the middle one, the others, and those that come to grief.
func (q *ask) trackRole(t crossing.Track) sheet.Role {
	if t.Passage.End != voyages.Arrived {
		return sheet.Limit
	}
	if m := q.middle(); m != nil && m.Number == t.Number {
		return sheet.Main
	}
	return sheet.Other
}

// route puts the route, its points, the dangers listed and the line from which the landfall is lost on a map.
func (q *ask) route(m *sheet.Map, f *frame) {
	if places, err := q.x.Route.Points(30 * mile); err == nil {
		m.Lines = append(m.Lines, f.line(sheet.Other, "the route", places)...)
	}
	var left, right []earth.Place
	for _, r := range q.deep.reach {
		left, right = append(left, r.Left), append(right, r.Right)
	}
	for _, side := range [][]earth.Place{left, right} {
		m.Lines = append(m.Lines, f.line(sheet.Limit, fmt.Sprintf("beyond it fewer than %s still arrive", inHundred(q.deep.asked)), side)...)
	}
	v := q.c.Folder.Voyage
	names := []string{v.From.Name}
	for i := range q.tally.Points {
		names = append(names, q.pointName(i))
	}
	order := []int{0, len(q.x.Places) - 1} // the two ends keep their names where it is crowded
	for i := 1; i < len(q.x.Places)-1; i++ {
		order = append(order, i)
	}
	for k, i := range order {
		role := sheet.Main
		if k > 1 {
			role = sheet.Other
		}
		if at, ok := f.at(q.x.Places[i]); ok && i < len(names) {
			m.Labels = append(m.Labels, sheet.Label{X: at[0], Y: at[1], Text: names[i], Anchor: "start", Role: role})
		}
	}
	m.Labels = append(m.Labels, f.hazards()...)
}

// density puts on a map where the boats are.
func (q *ask) density(m *sheet.Map, f *frame) {
	cell := q.tally.Cell
	type at struct{ lat, lon int }
	// Columns run on past the 180th meridian, as they lie from the frame's middle.
	column := func(lon int32) int {
		return int(math.Round((f.middle+earth.Half((float64(lon)+0.5)*cell-f.middle))/cell - 0.5))
	}
	inside := func(c at) bool {
		west, east := float64(c.lon)*cell-f.middle, float64(c.lon+1)*cell-f.middle
		return float64(c.lat)*cell >= f.south && float64(c.lat+1)*cell <= f.north && west >= f.west && east <= f.east
	}
	all := map[at]float64{}
	for k, n := range q.deep.across {
		if c := (at{int(k[0]), column(k[1])}); inside(c) {
			all[c] += float64(n) / float64(min(drawn, q.n))
		}
	}
	days := map[int]map[at]float64{}
	for k, n := range q.tally.Where {
		c := at{int(k.Lat), column(k.Lon)}
		if !inside(c) {
			continue
		}
		if days[int(k.Day)] == nil {
			days[int(k.Day)] = map[at]float64{}
		}
		days[int(k.Day)][c] += float64(n) / float64(q.tally.Passages)
		if _, there := all[c]; !there { // met by a later one only: less than the least that the first show
			all[c] = 0
		}
	}
	if len(all) == 0 {
		return
	}
	low, high := at{math.MaxInt, math.MaxInt}, at{math.MinInt, math.MinInt}
	for c := range all {
		low, high = at{min(low.lat, c.lat), min(low.lon, c.lon)}, at{max(high.lat, c.lat), max(high.lon, c.lon)}
	}
	for i := low.lon; i <= high.lon+1; i++ {
		m.X = append(m.X, f.x(float64(i)*cell-f.middle))
	}
	for j := low.lat; j <= high.lat+1; j++ {
		m.Y = append(m.Y, f.y(float64(j)*cell))
	}
	boxes := func(of map[at]float64) []sheet.Box {
		var out []sheet.Box
		for c, share := range of {
			if share > 0 {
				out = append(out, sheet.Box{I: c.lon - low.lon, J: c.lat - low.lat, Share: share})
			}
		}
		slices.SortFunc(out, func(a, b sheet.Box) int {
			if a.J != b.J {
				return a.J - b.J
			}
			return a.I - b.I
		})
		return out
	}
	m.All = boxes(all)
	var order []int
	for d := range days {
		order = append(order, d)
	}
	slices.Sort(order)
	for _, d := range order {
		m.Days = append(m.Days, sheet.MapOn{Day: d, Boxes: boxes(days[d]), Said: q.daySaid(d)})
	}
	m.AllMeans = fmt.Sprintf("share of the first %d passages that come through", min(drawn, q.n))
	m.DayMeans = fmt.Sprintf("share of %d passages that is here at the start of the day", q.n)
}

// daySaid is where the boats are at the start of a day, in words.
func (q *ask) daySaid(d int) string {
	at := int(q.tally.Left[min(d, len(q.tally.Left)-1)].Total())
	s := fmt.Sprintf("%d of %d are at sea", at, q.n)
	if left, ok := q.tally.LeftAt(d, 0.5); ok {
		s += fmt.Sprintf(", the middle one with %.0f nm to go", left/mile)
	}
	if t := q.middle(); t != nil {
		if i := slices.IndexFunc(t.Moments, func(m voyages.Moment) bool { return m.Day >= float64(d)-1e-6 }); i >= 0 {
			s += "; the middle passage is at " + place(earth.Place{Lat: t.Moments[i].Where.Lat, Lon: t.Moments[i].Where.Lon})
		}
	}
	return s
}

// spreadSaid is how far apart the boats are halfway, in words.
func (q *ask) spreadSaid() string {
	t := q.middle()
	if t == nil {
		return ""
	}
	d := int(t.Passage.Days / 2)
	near, ok := q.tally.LeftAt(d, 0.1)
	far, also := q.tally.LeftAt(d, 0.9)
	if !ok || !also {
		return ""
	}
	return fmt.Sprintf("On day %d eight in ten have between %.0f and %.0f nm to go.", d, near/mile, far/mile)
}

// parallel, meridian and place are places in degrees, as people write them on a map and in a log.
func parallel(lat float64) string { return angle(lat, "N", "S") }
func meridian(lon float64) string { return angle(earth.Half(lon), "E", "W") }

func angle(v float64, plus, minus string) string {
	d := math.Round(v*180/math.Pi*100) / 100
	side := plus
	if d < 0 {
		d, side = -d, minus
	}
	if d == 0 || d == 180 {
		side = ""
	}
	if d == math.Trunc(d) {
		return fmt.Sprintf("%.0f°%s", d, gap(side))
	}
	return fmt.Sprintf("%.0f° %02.0f′%s", math.Trunc(d), math.Round((d-math.Trunc(d))*60), gap(side))
}

func gap(side string) string {
	if side == "" {
		return ""
	}
	return " " + side
}

// place is a place to the minute: 13° 20′ N 50° 05′ W.
func place(p earth.Place) string {
	lat, lon := p.Degrees()
	one := func(v float64, plus, minus string) string {
		side := plus
		if v < 0 {
			v, side = -v, minus
		}
		minutes := math.Round(v * 60)
		return fmt.Sprintf("%.0f° %02.0f′ %s", math.Floor(minutes/60), math.Mod(minutes, 60), side)
	}
	return one(lat, "N", "S") + " " + one(lon, "E", "W")
}

// approach is the map of the last stretch, with the line from which the landfall is lost; nil where there is no such line.
func (q *ask) approach() *sheet.Map {
	if len(q.deep.reach) == 0 {
		return nil
	}
	places := []earth.Place{q.landfall()}
	for _, r := range q.deep.reach {
		places = append(places, r.On, r.Left, r.Right)
	}
	f := frameOf(places, 0.01)
	m := f.begin("The last of the way, and the line from which the landfall is lost")
	q.route(m, &f)
	for _, t := range q.deep.tracks {
		q.draw(m, &f, t)
	}
	far := q.deep.reach[0]
	for _, r := range q.deep.reach {
		if r.Before > far.Before {
			far = r
		}
	}
	m.Alt = fmt.Sprintf("The last %.0f nm to %s, with the lines to the left and to the right of the route beyond which fewer than %s still reach it.", far.Before/mile, q.c.Folder.Voyage.To.Name, inHundred(q.deep.asked))
	m.Finish()
	return m
}
