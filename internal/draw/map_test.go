package draw

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"thole/internal/house/gallery"
	"thole/internal/sheet"
)

// TestMapKeepsItsShape: both axes have one scale, north is up, and every box has the tone of its step. The expected
// places are the closed form of a fit: width over width.
func TestMapKeepsItsShape(t *testing.T) {
	m := sheet.Map{MinX: 10, MinY: 0, MaxX: 30, MaxY: 10, X: []float64{10, 20, 30}, Y: []float64{0, 5, 10}, Steps: []sheet.Step{{Text: "few"}, {From: 0.5, Text: "many"}},
		All: []sheet.Box{{I: 0, J: 0, Share: 0.2}, {I: 1, J: 1, Share: 0.7}}}
	p := OfMap(m, Size{Width: 100.4, Height: 200, Text: 3})
	f := p.Clip
	if math.Abs((f.MaxX-f.MinX)-100.2) > 1e-9 || math.Abs((f.MaxY-f.MinY)-50.1) > 1e-9 {
		t.Errorf("a map of 20 by 10 is %g by %g mm", f.MaxX-f.MinX, f.MaxY-f.MinY)
	}
	var tones []float64
	for _, s := range p.Strokes[:2] {
		tones = append(tones, s.Tone)
	}
	low := p.Strokes[0].Rings[0][0]
	if low != [2]float64{f.MinX, f.MaxY} {
		t.Errorf("the south-west corner stands at %v", low)
	}
	high := p.Strokes[1].Rings[0][2]
	if math.Abs(high[0]-f.MaxX) > 1e-9 || math.Abs(high[1]-f.MinY) > 1e-9 {
		t.Errorf("the north-east corner stands at %v", high)
	}
	if !(tones[1] > tones[0]+0.3) {
		t.Errorf("tones %v", tones)
	}
}

// TestMapWords: names keep apart from one another and within the frame, and the first ones win.
func TestMapWords(t *testing.T) {
	m := gallery.Map()
	for range 30 {
		m.Labels = append(m.Labels, sheet.Label{X: -40, Y: 15, Text: "crowded", Anchor: "start", Role: sheet.Other})
	}
	for _, s := range []Size{Page, {Width: 70, Height: 90, Text: 3}} {
		p := OfMap(*m, s)
		text := map[string]int{}
		for i, w := range p.Words {
			text[w.Text]++
			b := w.box()
			if b.MinX < -0.01 || b.MaxX > p.Width+0.01 || b.MinY < -0.01 || b.MaxY > p.Height+0.01 {
				t.Errorf("%q runs off the paper of %g mm: %+v", w.Text, p.Width, b)
			}
			for _, o := range p.Words[:i] {
				if b.overlap(o.box()) > 0.01 {
					t.Errorf("%q lies on %q", w.Text, o.Text)
				}
			}
		}
		if text["Cape Rowan"] != 1 || text["Whin Island"] != 1 || text["crowded"] > 8 {
			t.Errorf("%g mm: %v", s.Width, text)
		}
	}
}

// TestHostileMaps: no map stops it, takes more paper than it was given, or puts a non-number on it.
func TestHostileMaps(t *testing.T) {
	nan := math.NaN()
	all := gallery.Maps()
	all["no numbers"] = &sheet.Map{MaxX: 1, MaxY: nan, Land: [][][2]float64{{{nan, 0}, {1, 1}, {0, 1}}}}
	all["a number among others"] = &sheet.Map{MaxX: 1, MaxY: 1, Land: [][][2]float64{{{nan, 0}, {1, 1}, {0, 1}}}, Labels: []sheet.Label{{X: nan, Text: "x"}},
		Tracks: []sheet.Track{{Points: [][2]float64{{nan, nan}}}}, Lines: []sheet.Path{{Points: [][2]float64{{0, math.Inf(1)}, {1, 1}}}}}
	for name, m := range all {
		m.Finish()
		p := OfMap(*m, Page)
		b := p.SVG()
		for _, on := range m.Days {
			b = append(b, OfMapOn(*m, on, Page).SVG()...)
		}
		if bytes.Contains(b, []byte("NaN")) || bytes.Contains(b, []byte("Inf")) {
			t.Errorf("%s: a non-number on paper", name)
		}
		if !(p.Height > 0) || p.Height > Page.Height {
			t.Errorf("%s: %g mm high", name, p.Height)
		}
	}
	if b := string(OfMap(*gallery.Maps()["date line"], Page).SVG()); !strings.Contains(b, "180°") || strings.Count(b, `class="main"`) < 1 {
		t.Error("over the date line the track or the meridian is lost")
	}
}
