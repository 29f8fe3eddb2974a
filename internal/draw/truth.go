package draw

import (
	"fmt"
	"math"
	"strconv"

	"thole/internal/sheet"
)

// What proves a sheet true and says where it belongs: bars, square, seams, foot.

// proof is the length of the bars and of the check square's sides, millimetres.
const proof = 100.0

// pen sets a line's weight and colour.
func (s sheetOf) pen(weight float64, c Ink) {
	s.doc.SetLineWidth(weight)
	s.doc.SetDrawColor(c.R, c.G, c.B)
}

// square draws the check square, pale, in the middle of the window, with crosses
// at its corners to measure between; a long sheet of a roll has one every two
// metres or so, because paper does not stretch everywhere alike.
func (s sheetOf) square() {
	const every = 2000.0
	across, down := math.Max(math.Floor(s.t.size[0]/every), 1), math.Max(math.Floor(s.t.size[1]/every), 1)
	for i := range int(across) {
		for j := range int(down) {
			s.squareAt(windowLeft+s.t.size[0]*(float64(i)+0.5)/across-proof/2, windowTop+s.t.size[1]*(float64(j)+0.5)/down-proof/2)
		}
	}
}

func (s sheetOf) squareAt(x, y float64) {
	s.pen(thin, pale)
	s.doc.Rect(x, y, proof, proof, "D")
	s.pen(thin, grey)
	for _, q := range [][2]float64{{x, y}, {x + proof, y}, {x, y + proof}, {x + proof, y + proof}} {
		s.doc.Line(q[0]-3, q[1], q[0]+3, q[1])
		s.doc.Line(q[0], q[1]-3, q[0], q[1]+3)
	}
	s.word("", 2.4, grey, x+2, y+proof-2, "start",
		fmt.Sprintf("check square %.0f × %.0f mm, diagonals %.1f mm", proof, proof, proof*math.Sqrt2))
}

// bars draws a ruler of 100 mm above the window and one on its left.
func (s sheetOf) bars() {
	s.pen(thin, ink)
	tick := func(i int) float64 {
		if i%5 == 0 {
			return 3
		}
		return 1.6
	}
	x, y := windowLeft, edge+strip-2.0
	s.doc.Line(x, y, x+proof, y)
	for i := range 11 {
		at := x + float64(i)*proof/10
		s.doc.Line(at, y, at, y-tick(i))
	}
	text := "100 mm"
	if s.scale != 1 {
		text = fmt.Sprintf("100 mm of paper, %s m of boat", short(s.scale/10))
	}
	s.word("", 2.8, ink, x+proof+2.5, y, "start", text)
	x, y = edge+strip-2.0, windowTop
	s.doc.Line(x, y, x, y+proof)
	for i := range 11 {
		at := y + float64(i)*proof/10
		s.doc.Line(x, at, x-tick(i), at)
	}
	s.doc.TransformBegin()
	s.doc.TransformRotate(90, x, y+proof+2.5)
	s.word("", 2.8, ink, x, y+proof+2.5, "end", text)
	s.doc.TransformEnd()
}

// seams draws the line that neighbours share and two numbered marks on each.
func (s sheetOf) seams() {
	here := s.t.tiles[s.n]
	for i, side := range [4][2]int{{0, 1}, {1, 0}, {0, -1}, {-1, 0}} { // right, below, left, above
		if _, printed := s.t.at[[2]int{here.row + side[0], here.column + side[1]}]; !printed {
			continue
		}
		in := Box{windowLeft, windowTop, windowLeft + s.t.size[0], windowTop + s.t.size[1]}
		core := in.grow(-lap / 2)
		a, b := [2]float64{core.MaxX, in.MinY}, [2]float64{core.MaxX, in.MaxY}
		switch i {
		case 1:
			a, b = [2]float64{in.MinX, core.MaxY}, [2]float64{in.MaxX, core.MaxY}
		case 2:
			a, b = [2]float64{core.MinX, in.MinY}, [2]float64{core.MinX, in.MaxY}
		case 3:
			a, b = [2]float64{in.MinX, core.MinY}, [2]float64{in.MaxX, core.MinY}
		}
		s.pen(thin, grey)
		s.doc.SetDashPattern([]float64{4, 2}, 0)
		s.doc.Line(a[0], a[1], b[0], b[1])
		s.doc.SetDashPattern(nil, 0)
		// The mark's number is that of the seam, told by the sheet above or on the left.
		upper := here
		if side[0] < 0 || side[1] < 0 {
			upper = s.t.tiles[s.t.at[[2]int{here.row + side[0], here.column + side[1]}]]
		}
		seam := 2 * (upper.row*s.t.columns + upper.column)
		if side[0] != 0 {
			seam++
		}
		for k, share := range []float64{0.25, 0.75} {
			s.match(a[0]+share*(b[0]-a[0]), a[1]+share*(b[1]-a[1]), 2*seam+k+1)
		}
	}
}

// match draws one mark of a seam: a cross in a ring, half of it on either sheet.
func (s sheetOf) match(x, y float64, number int) {
	s.pen(thin, ink)
	s.doc.Line(x-lap/2, y, x+lap/2, y)
	s.doc.Line(x, y-lap/2, x, y+lap/2)
	s.doc.Circle(x, y, 2.2, "D")
	s.word("", 2.4, ink, x+1.8, y-1.9, "start", strconv.Itoa(number))
}

// foot sets the words under the window and the key plan.
func (s sheetOf) foot() {
	const key = 46.0
	top := s.t.page[1] - edge - foot + 3
	right := s.t.page[0] - edge
	s.pen(thin, ink)
	s.doc.Line(edge, top, right, top)
	s.keyPlan(Box{edge, top + 2.5, edge + key, s.t.page[1] - edge})
	here := s.t.tiles[s.n]
	count := fmt.Sprintf("%d of %d", s.n+1, len(s.t.tiles))
	s.word("B", 7, ink, right, top+8.5, "end", count)
	s.doc.SetFontUnitSize(7)
	wide := s.doc.GetStringWidth(count)
	s.word("", 3, grey, right, top+13, "end", fmt.Sprintf("row %d, column %d", here.row+1, here.column+1))
	s.doc.SetFontUnitSize(3)
	wide = math.Max(wide, s.doc.GetStringWidth("row 00, column 00")) + 4

	x := edge + key + 4
	line := func(style string, size, y float64, c Ink, room float64, text string) {
		size, text = fitted(s.doc, style, size, 2, room, text)
		s.word(style, size, c, x, y, "start", text)
	}
	line("B", 5, top+7, ink, right-x-wide, s.part.Title)
	line("", 3.4, top+12.2, ink, right-x-wide, s.part.Face)
	line("", 3, top+16.8, ink, right-x, joined(", ", Cutting(s.part), "scale "+ratio(s.scale), folder(s.stamp)))
	line("B", 2.8, top+22, ink, right-x, beforeCutting)
}

// keyPlan draws the whole part small, with its sheets, this one shaded.
func (s sheetOf) keyPlan(room Box) {
	t := s.t
	all := Box{t.first[0], t.first[1], t.window(0, t.columns-1).MaxX, t.window(t.rows-1, 0).MaxY}
	k := math.Min((room.MaxX-room.MinX)/(all.MaxX-all.MinX), (room.MaxY-room.MinY)/(all.MaxY-all.MinY))
	at := func(x, y float64) (float64, float64) {
		return room.MinX + (x-all.MinX)*k, room.MinY + (y-all.MinY)*k
	}
	for i, c := range t.tiles {
		core := t.window(c.row, c.column).grow(-lap / 2)
		x, y := at(core.MinX, core.MinY)
		w, h := (core.MaxX-core.MinX)*k, (core.MaxY-core.MinY)*k
		s.pen(thin, pale)
		how := "D"
		if i == s.n {
			s.doc.SetFillColor(thing.R, thing.G, thing.B)
			how = "FD"
		}
		s.doc.Rect(x, y, w, h, how)
	}
	s.pen(thin, grey)
	for _, q := range s.pic.Strokes {
		if len(q.Points) < 3 && q.Role != sheet.Main && q.Role != sheet.Skin || q.Radius > 0 || LookOf(q.Role).Line == 0 {
			continue // in the small only the shape counts
		}
		x, y := at(q.Points[0][0], q.Points[0][1])
		s.doc.MoveTo(x, y)
		lastX, lastY := x, y
		for _, p := range q.Points[1:] {
			if x, y = at(p[0], p[1]); math.Hypot(x-lastX, y-lastY) > 0.1 {
				s.doc.LineTo(x, y)
				lastX, lastY = x, y
			}
		}
		s.doc.LineTo(x, y)
		if q.Closed {
			s.doc.ClosePath()
		}
		s.doc.DrawPath("D")
	}
	for i, c := range t.tiles {
		core := t.window(c.row, c.column).grow(-lap / 2)
		w, h := (core.MaxX-core.MinX)*k, (core.MaxY-core.MinY)*k
		if size := math.Min(w, h) * 0.5; size >= 1.6 && len(t.tiles) > 1 {
			x, y := at((core.MinX+core.MaxX)/2, (core.MinY+core.MaxY)/2)
			size = math.Min(size, 3)
			s.word("", size, ink, x, y+0.35*size, "middle", strconv.Itoa(i+1))
		}
	}
}
