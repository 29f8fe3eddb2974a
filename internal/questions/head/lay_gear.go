package head

import (
	"fmt"
	"math"
	"sort"

	"thole/internal/drift"
	"thole/internal/sheet"
)

// deviceTable is what sea anchors and drogues must bear.
func (q *ask) deviceTable(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: "Sea anchor and drogue: what they must bear",
		Columns: []sheet.Column{{Name: "gear", Text: true}, {Name: "hers", Text: true}, {Name: "against", Text: true}, {Name: "times", Places: 1}},
		Note:    "The load to build for is the boat struck by a breaking crest: about her own weight. Twice that is wanted of line and fitting (common practice, no source); a knot leaves half of a rope. A smaller one than published lets her go faster."}
	empty := sheet.Cell{Empty: true}
	for _, d := range f.Devices {
		if d.Wanted != nil {
			asked := q.coarse(d.Wanted.Value)
			if d.Wanted.Low < d.Wanted.High {
				asked = q.coarse(d.Wanted.Low) + " to " + q.coarse(d.Wanted.High)
			}
			t.Rows = append(t.Rows, []sheet.Cell{{Text: d.Name + " from the " + d.End + ", diameter"}, {Text: q.coarse(d.Diameter)}, {Text: "published: " + asked}, empty})
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: d.Name + ", pull in 40 kn"}, {Text: q.force(d.Steady.Value)}, {Text: "to build for: " + q.force(d.Design.Value)}, empty})
		for _, p := range []struct {
			what string
			b    *Bears
		}{{"line, spliced and wet", d.Line}, {"fitting", d.Fit}} {
			if p.b == nil {
				t.Rows = append(t.Rows, []sheet.Cell{{Text: d.Name + ", " + p.what}, {Text: "not given"}, {Text: "to build for: " + q.force(d.Design.Value)}, empty})
				continue
			}
			against := q.force(d.Design.Value)
			if p.b.Needs > 0 {
				against += fmt.Sprintf("; twice that: new nylon of %.0f mm", 1000*p.b.Needs)
			}
			t.Rows = append(t.Rows, []sheet.Cell{{Text: d.Name + ", " + p.what}, {Text: q.force(p.b.Left)}, {Text: against}, {Value: p.b.Factor, Loud: p.b.Factor < drift.FactorPeak}})
		}
	}
	if d := f.Devices[0]; d.Note != "" {
		t.Note += " " + upper(d.Note) + "."
	}
	return t
}

// amongTable is her drift beside that of other things adrift.
func (q *ask) amongTable(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: fmt.Sprintf("Her drift in %.0f kn beside that of other boats", f.Wind/knot),
		Columns: []sheet.Column{{Name: "adrift", Text: true}, {Name: "drift", Unit: "kn", Places: 2}, {Name: "of the wind", Unit: "%", Places: 1}, {Name: "off downwind, at most", Unit: "deg"}},
		Note:    "Theirs were measured in real seas, where waves and the sea's own skin help them along; hers are in flat water."}
	sources := map[string]bool{}
	type line struct {
		speed float64
		cells []sheet.Cell
	}
	var all []line
	for _, l := range drift.Leeways() {
		if !l.Craft {
			continue
		}
		v := l.Speed(f.Wind)
		off := sheet.Cell{Empty: true}
		if !math.IsNaN(l.Divergence) {
			off = sheet.Cell{Value: l.Divergence / deg}
		}
		all = append(all, line{v, []sheet.Cell{{Text: l.Object}, {Value: v / knot}, {Value: 100 * v / f.Wind}, off}})
		if !sources[l.Source] {
			sources[l.Source] = true
			t.Note += " " + l.Source + "."
		}
	}
	for _, d := range f.Drifts {
		if d.Wind != f.Wind {
			continue
		}
		name := "she, left alone"
		if d.To != "" {
			name = "she, to the " + d.To
		}
		all = append(all, line{d.Speed.Value, []sheet.Cell{{Text: name, Loud: true}, {Value: d.Speed.Value / knot, Loud: true}, {Value: 100 * d.Speed.Value / f.Wind, Loud: true}, {Value: math.Abs(d.Off), Loud: true}}})
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].speed < all[j].speed })
	for _, l := range all {
		t.Rows = append(t.Rows, l.cells)
	}
	return t
}

func (q *ask) anchorTable(f *Figures) *sheet.Table {
	sc := q.scale()
	t := &sheet.Table{Heading: "Anchors for the ground",
		Columns: []sheet.Column{{Name: "anchor", Text: true}, {Name: "depth", Unit: sc.Unit}, {Name: "line out", Unit: sc.Unit}, {Name: "she sweeps", Unit: sc.Unit}},
		Note:    "Seven times the height from ground to bow, no tide to rise. What an anchor of its kind and weight holds hangs on the ground and is not worked out."}
	for _, a := range f.Anchors {
		for _, l := range a.Lies {
			t.Rows = append(t.Rows, []sheet.Cell{{Text: a.Name}, {Value: l.Depth * sc.Factor}, {Value: l.Out * sc.Factor, Loud: l.Short}, {Value: l.Swing * sc.Factor}})
		}
		t.Note += fmt.Sprintf(" The line and chain of the %s reach seven to one in %s of water; in 30 kn it is to hold %s, by a table for beamier and higher boats of her length", a.Name, q.coarse(a.Depth), q.force(a.Load.Value))
		if a.Line != nil {
			t.Note += fmt.Sprintf(", of which its line, spliced and wet, bears %.1f times", a.Line.Factor)
		}
		t.Note += "."
		if a.Note != "" {
			t.Note += " " + upper(a.Note) + "."
		}
	}
	return t
}

// upper begins a note as a sentence.
func upper(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}

// doubtTable is what each coefficient makes of the sector, the worst first.
func (q *ask) doubtTable(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: "What is not known, and what it makes of the sector",
		Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "at its least", Unit: "deg"}, {Name: "at its greatest", Unit: "deg"}},
		Note:    fmt.Sprintf("As it stands the half sector is %.0f degrees. Each is moved by itself, the others as they are.", f.Sector.Value)}
	doubts := append([]Doubt(nil), f.Doubts...)
	matters := func(d Doubt) (m float64) {
		for _, v := range []*float64{d.Low, d.High} {
			if v == nil {
				return 360
			}
			m = math.Max(m, math.Abs(*v-f.Sector.Value))
		}
		return m
	}
	sort.SliceStable(doubts, func(i, j int) bool { return matters(doubts[i]) > matters(doubts[j]) })
	cell := func(v *float64) sheet.Cell {
		if v == nil {
			return sheet.Cell{Text: "none found"}
		}
		return sheet.Cell{Value: *v}
	}
	for _, d := range doubts {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: d.Name}, cell(d.Low), cell(d.High)})
	}
	return t
}

// partTable is what stands in the wind.
func (q *ask) partTable(f *Figures) *sheet.Table {
	coarse := q.scale()
	t := &sheet.Table{Heading: "What stands in the wind",
		Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "side", Unit: "m²", Places: 2}, {Name: "front", Unit: "m²", Places: 2}, {Name: "aft of 0", Unit: coarse.Unit, Places: coarse.Places}, {Name: "height", Unit: coarse.Unit, Places: coarse.Places}, {Name: "shape", Places: 2}},
		Note:    "Areas from the side and from ahead, their centre aft of station 0 and above the water; shape is the drag coefficient on them. No part is taken to lie in another's lee."}
	for _, p := range f.Parts {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: p.Name}, {Value: p.Side}, {Value: p.Front}, {Value: p.X * coarse.Factor}, {Value: p.Height * coarse.Factor}, {Value: p.Shape}})
	}
	return t
}
