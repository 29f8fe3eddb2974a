package terminal

import (
	"bytes"
	"strings"
	"testing"

	"thole/internal/house/gallery"
	"thole/internal/sheet"
)

// TestMapByDay: --day shows that day's boxes and boats and says where they are; without it all days stand together.
func TestMapByDay(t *testing.T) {
	show := func(args ...string) string {
		_, out, errs := run(t, tools(unicodeEnv, gallery.Table()), append([]string{"upright", "x"}, args...)...)
		if errs != "" {
			t.Fatal(errs)
		}
		at := strings.Index(out, "Where the boats go")
		return out[at : at+strings.Index(out[at:], "Invented land")]
	}
	all, day := show(), show("--day", "34")
	for _, words := range []string{"share of the passages that come through", "one in two: its end, day 70", "Cape Rowan"} {
		if !strings.Contains(all, words) {
			t.Errorf("without a day it does not say %q", words)
		}
	}
	for _, words := range []string{"share that is there on the day", "Day 30: the middle boat is at", "late, one in twenty on day 34"} {
		if !strings.Contains(day, words) {
			t.Errorf("on a day it does not say %q", words)
		}
	}
	if strings.Count(day, "░") >= strings.Count(all, "░")+strings.Count(all, "▓") {
		t.Error("a day has as many boxes as all days")
	}
	if late := show("--day", "0"); !strings.Contains(late, "one in two on day 0") {
		t.Error("day 0, asked for, is not shown")
	}
}

// TestMapInMetres: a map's plane is whatever its maker likes, metres of the earth among them; it looks the same.
func TestMapInMetres(t *testing.T) {
	drawn := func(m *sheet.Map) string {
		var b bytes.Buffer
		(&page{w: &b, look: Look{Width: 80, Unicode: true}}).chartlet(m)
		return b.String()
	}
	m := &sheet.Map{MaxX: 64, MaxY: 32, Alt: "a square of land", Land: [][][2]float64{{{16, 8}, {32, 8}, {32, 16}, {16, 16}}}, X: []float64{0, 64}, Y: []float64{0, 32}, All: []sheet.Box{{Share: 1}}}
	small := drawn(m)
	const k = 1 << 17
	m.MaxX, m.MaxY, m.X[1], m.Y[1] = m.MaxX*k, m.MaxY*k, m.X[1]*k, m.Y[1]*k
	for i, p := range m.Land[0] {
		m.Land[0][i] = [2]float64{p[0] * k, p[1] * k}
	}
	if large := drawn(m); large != small || strings.Count(small, "\n") < 20 {
		t.Errorf("%s\nis not\n%s", large, small)
	}
}

// TestHostileMaps: no map stops it or runs over the terminal's width, on any day.
func TestHostileMaps(t *testing.T) {
	for name, m := range gallery.Maps() {
		m.Finish()
		for _, look := range []Look{{Width: 40}, {Width: 120, Unicode: true}} {
			for _, day := range []int{-1, 0, 7} {
				var b bytes.Buffer
				p := &page{w: &b, look: look}
				if day >= 0 {
					p.day = &day
				}
				p.chartlet(m)
				for _, l := range strings.Split(b.String(), "\n") {
					if columns(l) > look.Width {
						t.Errorf("%s: %q is wider than %d", name, l, look.Width)
					}
				}
				if p.err != nil || !strings.Contains(b.String(), strings.Fields(m.Alt)[0]) {
					t.Errorf("%s: %v %q", name, p.err, b.String())
				}
			}
		}
	}
}
