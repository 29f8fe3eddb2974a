package head

import (
	"context"
	"math"

	"thole/internal/heading"
	"thole/internal/underway"
)

// Figures are the numbers of the answer, of the day shown unless they say otherwise. Angles are in degrees, where the
// wind comes from off the bow or off the track: 0 from ahead, 180 from astern.
type Figures struct {
	Day       int     `json:"day"`
	Condition string  `json:"condition"` // at the oars
	Left      string  `json:"left"`      // where the crew are while she lies
	Wind      float64 `json:"wind_m_s"`  // the one asked for
	Asked     float64 `json:"sector_asked_deg"`
	// Sector is half of what she can be steered on, on the tightest day; Doubts is what each coefficient makes of it.
	Sector Range   `json:"sector_deg"`
	Doubts []Doubt `json:"doubts"`

	Lateral []Lateral `json:"lateral"` // by what is down
	Windage Area      `json:"windage"` // rowed
	Parts   []Part    `json:"windage_parts"`

	Lies    []Lie    `json:"lies"`    // stable rests, left alone in that wind, the wind on the starboard side
	Sectors []Sector `json:"sectors"` // by wind
	Courses []Course `json:"courses"` // in that wind
	Moments []Moment `json:"moments"` // the bow held at an angle, nobody rowing

	Drifts  []Drift  `json:"drifts"`
	Devices []Device `json:"devices"`
	Among   *Among   `json:"among,omitempty"`
	Anchors []Anchor `json:"anchors"`
}

// Range is a figure with its 19-in-20 ends.
type Range struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// Doubt is what a coefficient's ends make of the sector, degrees; nil where nothing came of it.
type Doubt struct {
	Name string   `json:"name"`
	Low  *float64 `json:"low_deg"`
	High *float64 `json:"high_deg"`
}

// Area is an area seen from the side and its centre: x aft of station 0, height above the water.
type Area struct {
	Area   float64 `json:"area_m2"`
	X      float64 `json:"x_m"`
	Height float64 `json:"height_m"`
}

// Lateral is what is under water.
type Lateral struct {
	Setting string `json:"setting"`
	Area
	// Lead is how far the centre of the windage lies ahead of that of the water, as a share of the length afloat.
	Lead float64 `json:"lead"`
}

// Part is a thing that stands in the wind.
type Part struct {
	Name  string  `json:"name"`
	Side  float64 `json:"side_m2"`
	Front float64 `json:"front_m2"`
	Shape float64 `json:"shape"`
	Area
}

// Lie is where she lies when left.
type Lie struct {
	From  Range `json:"from_deg"`
	Speed Range `json:"speed_m_s"`
	Off   Range `json:"off_downwind_deg"` // to port or starboard as the wind is on one side or the other
}

// Sector is half of the courses kept in a wind.
type Sector struct {
	Wind   float64 `json:"wind_m_s"`
	Half   float64 `json:"half_deg"`
	Rudder float64 `json:"rudder_alone_deg"`
	Up     float64 `json:"board_up_deg"`   // with rudder and oars, what lifts lifted
	Down   float64 `json:"board_down_deg"` // and down
	Boards bool    `json:"best_board_down"`
}

// Course is how she goes on a course that is kept.
type Course struct {
	Course float64 `json:"course_deg"`
	Bow    float64 `json:"bow_deg"`
	Leeway float64 `json:"leeway_deg"` // to leeward
	Rudder float64 `json:"rudder_deg"` // positive turns her away from the wind
	Uneven float64 `json:"uneven"`     // share of the oars' unevenness, positive turns her away from the wind
	Speed  float64 `json:"speed_m_s"`
	Made   float64 `json:"made_downwind_m_s"`
}

// Moment is what turns her with the bow held.
type Moment struct {
	From  float64 `json:"from_deg"`
	Value float64 `json:"moment_nm"` // positive turns the bow towards the wind
}

// degrees is a range of radians in degrees.
func degrees(r heading.Range) Range { return Range{r.Value / deg, r.Low / deg, r.High / deg} }

func plain(r heading.Range) Range { return Range{r.Value, r.Low, r.High} }

// figures works out what is shown. A brief answer leaves out what only the sheet shows.
func (q *ask) figures(ctx context.Context, brief bool) (*Figures, error) {
	rowed, err := q.way.Yaw(q.day, q.rowed)
	if err != nil {
		rowed = q.worst // the day shown does not float
	}
	left, err := q.way.Yaw(q.day, q.left)
	if err != nil {
		left = q.worst
	}
	f := &Figures{Day: rowed.State.Day, Condition: q.t.Conditions[q.rowed].Name, Left: q.t.Conditions[q.left].Name, Wind: q.wind, Asked: q.sector / deg,
		Sector: degrees(q.half)}
	for _, s := range q.half.Shares {
		f.Doubts = append(f.Doubts, Doubt{s.Name, known(s.Low), known(s.High)})
	}
	q.areas(f, rowed)
	if err := q.lies(f, left); err != nil {
		return nil, err
	}
	if brief {
		return f, q.drifts(f, left, true)
	}
	if err := q.sectors(f, rowed); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := q.moments(f, left); err != nil {
		return nil, err
	}
	if err := q.drifts(f, left, false); err != nil {
		return nil, err
	}
	return f, q.anchors(f, left)
}

// known is an angle in degrees, nil for none.
func known(v float64) *float64 {
	if math.IsNaN(v) {
		return nil
	}
	v /= deg
	return &v
}

// areas are the two profiles.
func (q *ask) areas(f *Figures, y *underway.Yaw) {
	w := y.Windage()
	f.Windage = Area(w)
	length := y.View.To - y.View.From
	if s := y.View.Hull.Stations; len(s) > 1 {
		length = s[len(s)-1].X - s[0].X
	}
	sets := append(settings(y), underway.Setting{})
	for _, s := range sets {
		l := y.Lateral(s)
		lead := 0.0
		if length > 0 {
			lead = (l.X - w.X) / length
		}
		f.Lateral = append(f.Lateral, Lateral{Setting: q.words(y, s), Area: Area(l), Lead: lead})
	}
	for _, e := range y.Exposed {
		p := Part{Name: e.Name, Shape: e.Shape}
		p.Side, p.X, p.Height = e.Area()
		p.Area.Area = p.Side
		for _, s := range e.Front {
			p.Front += s.Area
			if p.Side == 0 {
				p.Height = s.Height
			}
		}
		if p.Side == 0 {
			p.X = e.Lo.X
		}
		f.Parts = append(f.Parts, p)
	}
}

// words is a setting for people: the board is left out where she has none that lifts.
func (q *ask) words(y *underway.Yaw, s underway.Setting) string {
	switch {
	case !s.Rudder && !s.Boards:
		if y.Lifted() {
			return "rudder and board up"
		}
		return "rudder up"
	case !y.Lifted():
		return "rudder down"
	case s.Rudder && s.Boards:
		return "rudder and board down"
	}
	return "rudder down, board up"
}

// lies is where she lies in the wind asked for, nobody rowing, as the folder has rudder and boards.
func (q *ask) lies(f *Figures, y *underway.Yaw) error {
	l, err := heading.Lies(y.Boat(y.AsTold()), q.wind, heading.Control{}, heading.Doubts())
	if err != nil {
		return err
	}
	for _, r := range l {
		f.Lies = append(f.Lies, Lie{degrees(r.From), plain(r.Speed), degrees(r.Divergence)})
	}
	return nil
}

// winds are those of the picture, knots.
var winds = []float64{10, 15, 20, 25}

// sectors are the courses kept in several winds, and how she goes on them in the one asked for.
func (q *ask) sectors(f *Figures, y *underway.Yaw) error {
	for _, k := range winds {
		s := Sector{Wind: k * knot}
		set, sweep, err := best(y, k*knot, helm)
		if err != nil {
			return err
		}
		s.Half, s.Boards = sweep.Half/deg, set.Boards
		_, alone, err := best(y, k*knot, heading.Helm{Rudder: true})
		if err != nil {
			return err
		}
		s.Rudder = alone.Half / deg
		for _, boards := range []bool{false, true} {
			got, err := before(y.Boat(underway.Setting{Rudder: true, Boards: boards}), k*knot, y.Thrust, helm)
			if err != nil {
				return err
			}
			if boards {
				s.Down = got.Half / deg
			} else {
				s.Up = got.Half / deg
			}
		}
		f.Sectors = append(f.Sectors, s)
	}
	_, sweep, err := best(y, q.wind, helm)
	if err != nil {
		return err
	}
	for want := 180.0; want >= -1e-9; want -= 15 {
		if w, ok := at(sweep, want*deg); ok {
			f.Courses = append(f.Courses, w)
		}
	}
	return nil
}

// at is how she goes on a course, read between the headings of a sweep.
func at(s heading.Sweep, course float64) (Course, bool) {
	row := func(w heading.Way) Course {
		return Course{Course: math.Abs(w.Course()) / deg, Bow: math.Abs(w.From) / deg, Leeway: -w.Leeway() / deg, Rudder: -w.Rudder / deg, Uneven: -w.Uneven,
			Speed: w.Speed(), Made: -w.Speed() * math.Cos(w.Course())}
	}
	if len(s.Ways) == 0 {
		return Course{}, false
	}
	if course >= math.Pi-1e-9 { // straight before it, where the first heading nearly is
		c := row(s.Ways[0])
		return Course{Course: 180, Bow: 180, Speed: c.Speed, Made: c.Speed}, true
	}
	for i := 1; i < len(s.Ways); i++ {
		a, b := row(s.Ways[i-1]), row(s.Ways[i])
		want := course / deg
		if (a.Course-want)*(b.Course-want) > 0 || a.Course == b.Course {
			continue
		}
		t := (want - a.Course) / (b.Course - a.Course)
		mix := func(u, v float64) float64 { return u + t*(v-u) }
		return Course{Course: want, Bow: mix(a.Bow, b.Bow), Leeway: mix(a.Leeway, b.Leeway), Rudder: mix(a.Rudder, b.Rudder), Uneven: mix(a.Uneven, b.Uneven),
			Speed: mix(a.Speed, b.Speed), Made: mix(a.Made, b.Made)}, true
	}
	return Course{}, false
}

// moments are what turns her with the bow held, nobody rowing.
func (q *ask) moments(f *Figures, y *underway.Yaw) error {
	m, err := heading.New(y.Boat(y.AsTold()))
	if err != nil {
		return err
	}
	var near *heading.Lie
	for a := 0.0; a <= 180; a += 5 {
		l, err := m.Slide(q.wind, a*deg, heading.Control{}, near)
		if err != nil {
			return err
		}
		near = &l
		f.Moments = append(f.Moments, Moment{a, l.Moment})
	}
	return nil
}
