package draw

import (
	"math"
	"slices"

	"thole/internal/sheet"
)

// OfMap lays a map out as a paper chart: where the boats are on any day as tones, land over them, the tracks with a stroke
// every tenth day, places by name, degrees at the edges, and under it what everything means and a scale.
func OfMap(m sheet.Map, s Size) Picture {
	t := s.Text
	left := 0.0
	for _, l := range m.Lines {
		if meridian, ok := gridline(l); ok && !meridian {
			left = max(left, TextWidth(l.Name, 0.9*t)+0.6*t)
		}
	}
	c := newChartlet(m, Box{left, 0.2, s.Width - 0.2, s.Height - 7*t}, t)
	c.p.Width, c.p.Title, c.p.Alt = s.Width, m.Heading, m.Alt
	c.boxes(m.All)
	c.land()
	turns := c.lines(true)
	c.tracks(turns)
	c.names(m.Labels, c.numbers())
	c.p.Height = c.key(turns, c.p.Clip.MaxY+2.9*t) + 0.4*t
	return c.p
}

// OfMapOn lays out the same map small, as it is on one day: its boxes, the boats of the tracks, and the main places.
func OfMapOn(m sheet.Map, on sheet.MapOn, s Size) Picture {
	c := newChartlet(m, Box{0.2, 0.2, s.Width - 0.2, s.Height}, s.Text)
	c.p.Width, c.p.Title, c.p.Alt = s.Width, m.Heading, on.Said
	c.boxes(on.Boxes)
	c.land()
	c.lines(false)
	for _, track := range m.Tracks {
		if at, ended, ok := track.At(on.Day); ok {
			if q := c.at(at[0], at[1]); c.within(q) {
				c.p.Strokes = append(c.p.Strokes, Stroke{Role: sheet.Main, Name: track.Name, Points: [][2]float64{q}, Radius: 0.26 * c.t, Hollow: ended})
			}
		}
	}
	c.names(slices.DeleteFunc(slices.Clone(m.Labels), func(l sheet.Label) bool { return l.Role != sheet.Main }), nil)
	c.p.Height = c.p.Clip.MaxY + 0.2
	return c.p
}

// chartlet is a map being laid out.
type chartlet struct {
	p Picture
	m sheet.Map
	t float64 // letter height
	k float64 // millimetres to the map's unit; 0 of a map without a size
}

// newChartlet finds the largest scale at which a map fits a room, and frames it at the room's upper edge.
func newChartlet(m sheet.Map, room Box, t float64) *chartlet {
	c := &chartlet{m: m, t: t, p: Picture{places: 2}}
	dx, dy := m.MaxX-m.MinX, m.MaxY-m.MinY
	if !(dx > 0) || !(dy > 0) || math.IsInf(dx, 0) || math.IsInf(dy, 0) {
		c.p.Clip = Box{room.MinX, room.MinY, room.MaxX, room.MinY + t}
		return c
	}
	c.k = math.Min((room.MaxX-room.MinX)/dx, (room.MaxY-room.MinY)/dy)
	x := room.MinX + (room.MaxX-room.MinX-dx*c.k)/2
	c.p.Clip = Box{x, room.MinY, x + dx*c.k, room.MinY + dy*c.k}
	return c
}

// at is where a place of the map stands on paper.
func (c *chartlet) at(x, y float64) [2]float64 {
	return [2]float64{c.p.Clip.MinX + (x-c.m.MinX)*c.k, c.p.Clip.MaxY - (y-c.m.MinY)*c.k}
}

// placed are points of the map on paper; nil where one of them is none.
func (c *chartlet) placed(points [][2]float64) [][2]float64 {
	if c.k == 0 || !finite(points) {
		return nil
	}
	out := make([][2]float64, len(points))
	for i, q := range points {
		out[i] = c.at(q[0], q[1])
	}
	return out
}

// within tells whether a point lies on the map.
func (c *chartlet) within(q [2]float64) bool {
	f := c.p.Clip
	return c.k > 0 && q[0] >= f.MinX && q[0] <= f.MaxX && q[1] >= f.MinY && q[1] <= f.MaxY
}

// gridline tells whether a line is a meridian or a parallel that has a name; meridian is true of one that runs up.
func gridline(l sheet.Path) (meridian, ok bool) {
	if l.Role != sheet.Grid || l.Name == "" || len(l.Points) < 2 {
		return false, false
	}
	a, b := l.Points[0], l.Points[len(l.Points)-1]
	return math.Abs(b[0]-a[0]) < math.Abs(b[1]-a[1]), true
}

// stepTone is the ink of a step of a map; letters on the darkest stand on a patch of paper.
func stepTone(step, of int) float64 {
	return 0.08 + 0.5*float64(step)/float64(max(of-1, 1))
}

// boxes paints boxes, one area a step.
func (c *chartlet) boxes(boxes []sheet.Box) {
	steps := max(len(c.m.Steps), 1)
	rings := make([][][][2]float64, steps)
	for _, b := range boxes {
		x0, y0, x1, y1, ok := c.m.Corners(b)
		if !ok {
			continue
		}
		i := c.m.Step(b.Share)
		rings[i] = append(rings[i], c.placed([][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}))
	}
	for i, r := range rings {
		name := ""
		if i < len(c.m.Steps) {
			name = c.m.Steps[i].Text
		}
		c.p.area(r, stepTone(i, steps), name)
	}
}

// land paints the land and its coast.
func (c *chartlet) land() {
	s := Stroke{Role: sheet.Body, Clipped: true}
	for _, ring := range c.m.Land {
		if r := c.placed(ring); len(r) > 2 {
			s.Rings = append(s.Rings, r)
		}
	}
	if len(s.Rings) == 0 {
		return
	}
	c.p.Strokes = append(c.p.Strokes, s)
	for _, r := range s.Rings {
		c.p.Strokes = append(c.p.Strokes, Stroke{Role: sheet.Space, Points: r, Closed: true, Clipped: true})
	}
}

// turns gives each name among the thin lines and the tracks its own dash.
type turns map[string]int

// of is the turn of a name; the first thin one is unbroken, and what is not thin has none.
func (t turns) of(role sheet.Role, name string) int {
	if role != sheet.Other {
		return 0
	}
	if _, ok := t[name]; !ok {
		t[name] = len(t)
	}
	return t[name]
}

// lines draws the lines and the frame, with degrees at the edges if wanted.
func (c *chartlet) lines(degrees bool) turns {
	tn, f := turns{}, c.p.Clip
	far := math.Inf(-1)
	for _, l := range c.m.Lines {
		points := c.placed(l.Points)
		if len(points) < 2 {
			continue
		}
		c.p.Strokes = append(c.p.Strokes, Stroke{Role: l.Role, Name: l.Name, Points: points, Closed: l.Closed, Clipped: true, Turn: tn.of(l.Role, l.Name)})
		meridian, ok := gridline(l)
		if !ok || !degrees {
			continue
		}
		w := Word{X: f.MinX - 0.5*c.t, Size: 0.9 * c.t, Text: l.Name, Anchor: "end", Role: sheet.Pointer}
		if meridian {
			w.X, w.Y, w.Anchor = points[0][0], f.MaxY+1.15*c.t, "middle"
		} else {
			w.Y = points[0][1] + 0.32*c.t
		}
		b := w.box()
		on := meridian && b.MinX > far && b.MinX >= 0 && b.MaxX <= f.MaxX+0.2 || !meridian && b.MinY > f.MinY-0.5*c.t && b.MaxY < f.MaxY+0.5*c.t
		if !on {
			continue
		}
		if meridian {
			far = b.MaxX + 0.5*c.t
		}
		c.p.Words = append(c.p.Words, w)
	}
	if c.k > 0 {
		c.p.Strokes = append(c.p.Strokes, Stroke{Role: sheet.Other, Points: f.ring(), Closed: true})
	}
	return tn
}

// every is how many days apart a track's strokes are.
const every = 10

// tracks draws every boat's way with a stroke across it each tenth day, and the day's number at those of the main one.
func (c *chartlet) tracks(tn turns) {
	for _, track := range c.m.Tracks {
		points := c.placed(track.Points)
		if len(points) == 0 {
			continue
		}
		role := trackRole(track)
		c.p.Strokes = append(c.p.Strokes, Stroke{Role: role, Name: track.Name, Points: points, Clipped: true, Turn: tn.of(role, track.Name)})
		for i := 1; i < len(points)-1; i++ {
			if day := track.First + i; day%every == 0 {
				c.stroke(points[i-1], points[i], points[i+1])
			}
		}
	}
}

// trackRole is how a track is drawn: what is a limit on a map is a line that must not be passed, and a boat that came to
// grief is none.
func trackRole(t sheet.Track) sheet.Role {
	if t.Role == sheet.Limit {
		return sheet.Other
	}
	return t.Role
}

// stroke draws a short line across a way at a point of it.
func (c *chartlet) stroke(before, at, after [2]float64) {
	dx, dy := after[0]-before[0], after[1]-before[1]
	long := math.Hypot(dx, dy)
	if long == 0 || !c.within(at) {
		return
	}
	dx, dy = 0.45*c.t*dx/long, 0.45*c.t*dy/long
	c.p.Strokes = append(c.p.Strokes, Stroke{Role: sheet.Other, Points: [][2]float64{{at[0] - dy, at[1] + dx}, {at[0] + dy, at[1] - dx}}, Clipped: true})
}

// numbers are the days at the strokes of the main tracks, as words to be placed.
func (c *chartlet) numbers() []sheet.Label {
	var out []sheet.Label
	for _, track := range c.m.Tracks {
		for i := 1; i < len(track.Points)-1 && track.Role == sheet.Main; i++ {
			if day := track.First + i; day%every == 0 {
				out = append(out, sheet.Label{X: track.Points[i][0], Y: track.Points[i][1], Text: Number(float64(day), 0), Role: sheet.Pointer})
			}
		}
	}
	return out
}
