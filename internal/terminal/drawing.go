package terminal

import (
	"math"

	"thole/internal/sheet"
)

// tallest is the most lines a drawing may take.
const tallest = 30

// drawing draws a plane drawing in dots, and lists its labels under it by the
// sign that stands at their place.
func (p *page) drawing(d *sheet.Drawing) {
	p.heading(d.Heading)
	dx, dy := d.MaxX-d.MinX, d.MaxY-d.MinY
	if dx > 0 && dy > 0 {
		p.raster(d, dx, dy)
	}
	if d.Alt != "" {
		p.para(0, d.Alt)
	}
}

// raster draws a drawing of a size above nothing.
func (p *page) raster(d *sheet.Drawing, dx, dy float64) {
	cols := min(p.look.Width, 76)
	k := math.Min(float64(2*cols-1)/dx, float64(4*tallest-1)/dy)
	rows := max(int(math.Ceil((dy*k+1)/4)), 2)
	cv := newCanvas(cols, rows, p.look)
	left := (float64(cv.wide()-1) - dx*k) / 2
	at := func(x, y float64) (float64, float64) {
		return left + (x-d.MinX)*k, float64(cv.tall()-1) - (y-d.MinY)*k
	}
	for _, path := range d.Paths {
		p.path(cv, path, at)
	}
	legend := p.labels(cv, d, at)
	for _, l := range cv.lines() {
		p.line(l)
	}
	for _, l := range legend {
		p.hang(2, l[0]+"  ", l[1])
	}
}

// path draws one polyline; the sea is a thin rain of dots under its surface.
func (p *page) path(cv *canvas, path sheet.Path, at func(x, y float64) (float64, float64)) {
	points := make([][2]float64, 0, len(path.Points))
	for _, q := range path.Points {
		x, y := at(q[0], q[1])
		if math.IsNaN(x) || math.IsNaN(y) {
			return
		}
		points = append(points, [2]float64{x, y})
	}
	if path.Role == sheet.Sea && path.Closed {
		cv.fill(points, '.', func(x, y int) bool { return y%4 == 2 && (x+y)%8 == 0 })
		return
	}
	how, _ := p.pen(path.Role)
	step := 0
	for i := 1; i < len(points); i++ {
		cv.line(points[i-1][0], points[i-1][1], points[i][0], points[i][1], how, &step)
	}
	if n := len(points); path.Closed && n > 2 {
		cv.line(points[n-1][0], points[n-1][1], points[0][0], points[0][1], how, &step)
	}
	if len(points) == 1 {
		cv.put(int(points[0][0]), int(points[0][1]), '+')
	}
}

// labels lays a sign at every label's place, or the nearest free one beside it,
// and returns what the signs stand for.
func (p *page) labels(cv *canvas, d *sheet.Drawing, at func(x, y float64) (float64, float64)) [][2]string {
	var legend [][2]string
	for _, l := range d.Labels {
		x, y := at(l.X, l.Y)
		if !fits(x, y) || len(legend) == len(tags) {
			continue
		}
		px := min(max(int(math.Round(x)), 0), cv.wide()-1)
		py := min(max(int(math.Round(y)), 0), cv.tall()-1)
		tag := tags[len(legend)]
		for _, s := range [][2]int{{0, 0}, {2, 0}, {-2, 0}, {0, 4}, {0, -4}, {4, 0}, {-4, 0}} {
			if !letters(cv, px+s[0], py+s[1]) {
				px, py = px+s[0], py+s[1]
				break
			}
		}
		cv.put(px, py, tag)
		legend = append(legend, [2]string{string(tag), l.Text})
	}
	return legend
}

// letters tells whether a place holds a label's sign already, or lies outside;
// a line's own character may be covered.
func letters(cv *canvas, x, y int) bool {
	if x < 0 || y < 0 || x >= cv.wide() || y >= cv.tall() {
		return true
	}
	r := cv.over[y/4*cv.cols+x/2]
	return r >= '0' && r <= '9' || r >= 'A' && r <= 'Z'
}
