// Package draw makes the drawings and charts of an answer once, for paper and
// for the screen.
//
// OfDrawing, OfChart and OfMark lay a picture out in millimetres; SVG and PDF
// write the same picture in two formats. The look is ink on warm paper: thin
// lines of two weights, a wash of sea under the waterline, and colour only where
// it carries meaning and never alone, so that everything reads in black print.
//
// The package knows the neutral blocks of package sheet and nothing else of ours.
package draw

import (
	"math"

	"thole/internal/sheet"
)

// Picture is a drawing laid out on paper: millimetres, x to the right, y down.
type Picture struct {
	Width, Height float64
	Title         string // short name, may be empty
	Alt           string // the picture in a sentence
	Clip          Box    // what clipped strokes are cut to
	Strokes       []Stroke
	Words         []Word // painted over the strokes
	places        int    // digits behind the point when written
}

// Box is an upright rectangle.
type Box struct{ MinX, MinY, MaxX, MaxY float64 }

// Stroke is a line, an area or a dot of a picture.
type Stroke struct {
	Role    sheet.Role
	Name    string // shown when touched
	Points  [][2]float64
	Closed  bool
	Radius  float64 // above nothing: a dot at the first point
	Hollow  bool    // a dot that is only a ring
	Clipped bool
	Turn    int // which of several curves of one role: picks the dash
	// Rings make an area instead, by the even-odd rule, without a line: Tone is how much ink it
	// takes, from 0 for bare paper to 1. Of the role Body they are filled as a body is.
	Rings [][][2]float64
	Tone  float64
}

// Word is a line of text; X and Y are its foot at the anchor.
type Word struct {
	X, Y   float64
	Size   float64 // letter height, millimetres
	Text   string
	Anchor string // start, middle or end
	Role   sheet.Role
	Light  bool // on ink: the letters are left as paper
}

// Size is the paper a picture may take, in millimetres.
type Size struct {
	Width  float64
	Height float64 // the most it may take
	Text   float64 // letter height
}

// Page is the usual size on a screen or an A4 page.
var Page = Size{Width: 170, Height: 105, Text: 3.4}

// grow widens a box by m on every side.
func (b Box) grow(m float64) Box {
	return Box{b.MinX - m, b.MinY - m, b.MaxX + m, b.MaxY + m}
}

// overlap is the area two boxes share.
func (b Box) overlap(c Box) float64 {
	w := math.Min(b.MaxX, c.MaxX) - math.Max(b.MinX, c.MinX)
	h := math.Min(b.MaxY, c.MaxY) - math.Max(b.MinY, c.MinY)
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h
}

// finite tells whether every coordinate is a number that can be drawn.
func finite(points [][2]float64) bool {
	for _, p := range points {
		for _, v := range p {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return false
			}
		}
	}
	return len(points) > 0
}

// OfDrawing lays a plane drawing out at the largest scale that fits the size.
// Labels are moved apart where they would lie on one another.
func OfDrawing(d sheet.Drawing, s Size) Picture {
	dx, dy := d.MaxX-d.MinX, d.MaxY-d.MinY
	if !(dx > 0) || !(dy > 0) {
		return Picture{Width: s.Width, Height: s.Text, Title: d.Heading, Alt: d.Alt, places: 2}
	}
	room := s.Text * 0.6
	scale := math.Min((s.Width-2*room)/dx, (s.Height-2*room)/dy)
	return lay(d, scale, s.Width, dy*scale+2*room, s.Text, 2)
}

// AtScale lays a plane drawing out at a true scale: 1 m at 1:10 is 100 mm. The
// picture is exactly as large as the drawing's bounds; nothing is added around it.
func AtScale(d sheet.Drawing, scale float64) Picture {
	k := 1000 / scale
	w, h := (d.MaxX-d.MinX)*k, (d.MaxY-d.MinY)*k
	return lay(d, k, w, h, Page.Text, 3)
}

// lay places a drawing at k millimetres a metre in the middle of a sheet.
func lay(d sheet.Drawing, k, width, height, text float64, places int) Picture {
	p := Picture{Width: width, Height: height, Title: d.Heading, Alt: d.Alt, places: places}
	p.Clip = Box{0, 0, width, height}
	left := (width - (d.MaxX-d.MinX)*k) / 2
	foot := (height + (d.MaxY-d.MinY)*k) / 2
	at := func(x, y float64) (float64, float64) {
		return left + (x-d.MinX)*k, foot - (y-d.MinY)*k
	}
	for _, path := range d.Paths {
		if !finite(path.Points) {
			continue
		}
		s := Stroke{Role: path.Role, Name: path.Name, Closed: path.Closed, Clipped: true}
		for _, q := range path.Points {
			x, y := at(q[0], q[1])
			s.Points = append(s.Points, [2]float64{x, y})
		}
		if len(s.Points) == 1 {
			s.Radius = 0.8
		}
		p.Strokes = append(p.Strokes, s)
	}
	var tags []Word
	for _, l := range d.Labels {
		if !finite([][2]float64{{l.X, l.Y}}) {
			continue
		}
		x, y := at(l.X, l.Y)
		tags = append(tags, Word{X: x, Y: y + text*0.35, Size: text, Text: l.Text, Anchor: l.Anchor, Role: l.Role})
	}
	p.place(tags)
	return p
}
