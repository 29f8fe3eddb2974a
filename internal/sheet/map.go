package sheet

import "math"

// Map is a piece of the earth with what goes on there from day to day. Places are projected already: plane coordinates,
// north up, that a face only scales to fit, both axes alike. A map about twice as wide as high suits every face.
type Map struct {
	Heading string  `json:"heading,omitempty"`
	MinX    float64 `json:"min_x"`
	MinY    float64 `json:"min_y"`
	MaxX    float64 `json:"max_x"`
	MaxY    float64 `json:"max_y"`
	// Land is closed rings, cut at the map's edge; filled by the even-odd rule, and painted over the boxes.
	Land [][][2]float64 `json:"land,omitempty"`
	// Lines are painted over land and boxes in order: meridians and parallels (Grid), the route (Other), lines not to be
	// passed (Limit), ... The name of a Grid line ("20° N") is written where it meets the map's edge; lines of one other
	// name are one line of the legend.
	Lines []Path `json:"lines,omitempty"`
	// Labels are places: a dot with its name beside it. Main are those between which one goes, and stand on the smallest
	// map; a Limit is a danger and has a cross; of the role Grid, Water, Sea or Pointer they are words alone. Where it is
	// crowded the first ones keep their names.
	Labels []Label `json:"labels,omitempty"`
	Tracks []Track `json:"tracks,omitempty"`
	// X and Y are the edges of the columns and rows of boxes, rising.
	X []float64 `json:"x,omitempty"`
	Y []float64 `json:"y,omitempty"`
	// All is where the boats are on any day; Days where they are on one, by rising day.
	All  []Box   `json:"all,omitempty"`
	Days []MapOn `json:"days,omitempty"`
	// Steps are the tones of boxes, by rising share; see Finish.
	Steps []Step `json:"steps,omitempty"`
	// What a box counts: "share of the passages that come through"; and of a day's: "share that is here on the day".
	AllMeans string `json:"all_means,omitempty"`
	DayMeans string `json:"day_means,omitempty"`
	// Mile is the length of a nautical mile in the middle of the map, for a scale; 0 shows none.
	Mile   float64 `json:"mile,omitempty"`
	Notice string  `json:"notice,omitempty"` // where the coast comes from and what it is not good for
	Alt    string  `json:"alt"`              // the map in a sentence or two
}

// Track is where one boat is, a point a day; of the role Limit is one that does not arrive.
type Track struct {
	Name   string       `json:"name"`
	Role   Role         `json:"role"`
	First  int          `json:"first"` // the day of the first point
	Points [][2]float64 `json:"points"`
}

// Box is a cell of a map's grid: column I from X[I] to X[I+1], row J from Y[J] to Y[J+1].
type Box struct {
	I     int     `json:"i"`
	J     int     `json:"j"`
	Share float64 `json:"share"` // over 0 to 1
}

// MapOn is a map's boxes on a day.
type MapOn struct {
	Day   int   `json:"day"`
	Boxes []Box `json:"boxes"`
	// Said is where the boats are in words, for who cannot see the map: "480 of 500 still at sea, the middle one at 14° N 41° W".
	Said string `json:"said,omitempty"`
}

// Step is a tone of a map's boxes: those of a share From on, up to the next step's.
type Step struct {
	From float64 `json:"from"`
	Text string  `json:"text"` // what its boxes hold: "3 to 10 in 100"
}

// steps are the usual tones: each about three times the one before, since a day's boats and those of all days differ by so much.
var steps = []Step{{0, "under 1 in 100"}, {0.01, "1 to 3"}, {0.03, "3 to 10"}, {0.1, "10 to 30"}, {0.3, "over 30 in 100"}}

// Finish gives a map its steps where it has none, and rounds it to what can be seen: places to the twenty-thousandth
// part of its width, points that then fall together once, rings of nothing left out, shares to the ten-thousandth.
func (m *Map) Finish() {
	if len(m.Steps) == 0 && (len(m.All) > 0 || len(m.Days) > 0) {
		m.Steps = append(m.Steps, steps...)
	}
	if !(m.MaxX > m.MinX) {
		return
	}
	k := math.Pow(10, math.Floor(math.Log10(20000/(m.MaxX-m.MinX))))
	round := func(points [][2]float64) [][2]float64 {
		out := points[:0:0]
		for _, p := range points {
			q := [2]float64{math.Round(p[0]*k) / k, math.Round(p[1]*k) / k}
			if len(out) == 0 || out[len(out)-1] != q {
				out = append(out, q)
			}
		}
		return out
	}
	var land [][][2]float64
	for _, ring := range m.Land {
		if r := round(ring); len(r) > 2 {
			land = append(land, r)
		}
	}
	m.Land = land
	for i := range m.Lines {
		m.Lines[i].Points = round(m.Lines[i].Points)
	}
	for i, t := range m.Tracks { // a point a day, so that none may go
		points := make([][2]float64, len(t.Points))
		for d, p := range t.Points {
			points[d] = [2]float64{math.Round(p[0]*k) / k, math.Round(p[1]*k) / k}
		}
		m.Tracks[i].Points = points
	}
	share := func(boxes []Box) {
		for i := range boxes {
			boxes[i].Share = max(math.Round(boxes[i].Share*1e4), 1) / 1e4
		}
	}
	share(m.All)
	for _, d := range m.Days {
		share(d.Boxes)
	}
}

// On is the boxes of a day, or of the last day before it that has some; nil before the first.
func (m *Map) On(day int) *MapOn {
	var on *MapOn
	for i := range m.Days {
		if m.Days[i].Day <= day {
			on = &m.Days[i]
		}
	}
	return on
}

// Step is the number of the step that a share belongs to.
func (m *Map) Step(share float64) int {
	at := 0
	for i, s := range m.Steps {
		if share >= s.From {
			at = i
		}
	}
	return at
}

// Corners are the edges of a box; ok is false of one that the grid does not have.
func (m *Map) Corners(b Box) (minX, minY, maxX, maxY float64, ok bool) {
	if b.I < 0 || b.J < 0 || b.I+1 >= len(m.X) || b.J+1 >= len(m.Y) {
		return 0, 0, 0, 0, false
	}
	return m.X[b.I], m.Y[b.J], m.X[b.I+1], m.Y[b.J+1], true
}

// At is where a track's boat is on a day: before its first day nowhere, after its last where it ended (ended is then true).
func (t Track) At(day int) (at [2]float64, ended, ok bool) {
	i := day - t.First
	if i < 0 || len(t.Points) == 0 {
		return at, false, false
	}
	if i >= len(t.Points)-1 {
		return t.Points[len(t.Points)-1], true, true
	}
	return t.Points[i], false, true
}

// Parts are up to so many days that part the trip evenly, for a face that cannot move: the days that are nearest to each
// part's end, up to the last on which half of the boats are on the map; that end itself is left out, since there they come in.
func (m *Map) Parts(most int) []*MapOn {
	if len(m.Days) == 0 {
		return nil
	}
	first, last := m.Days[0].Day, m.Days[len(m.Days)-1].Day
	for i := len(m.Days) - 1; i > 0; i-- {
		whole := 0.0
		for _, b := range m.Days[i].Boxes {
			whole += b.Share
		}
		if whole >= 0.5 {
			last = m.Days[i].Day
			break
		}
	}
	round := 1
	if last-first >= 8*most {
		round = 5 // a day that is easily remembered
	}
	var out []*MapOn
	for i := 1; i <= most; i++ {
		day := float64(first) + float64(i*(last-first))/float64(most+1)
		on := m.On(int(math.Round(day/float64(round))) * round)
		if on != nil && (len(out) == 0 || out[len(out)-1] != on) {
			out = append(out, on)
		}
	}
	return out
}

// Keyed are the lines that a legend names, each name once.
func (m *Map) Keyed() []Path {
	var out []Path
	seen := map[string]bool{"": true}
	for _, l := range m.Lines {
		if l.Role != Grid && !seen[l.Name] {
			seen[l.Name] = true
			out = append(out, l)
		}
	}
	return out
}
