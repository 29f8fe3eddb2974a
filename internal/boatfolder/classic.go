package boatfolder

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"thole/internal/model"
	"thole/internal/units"
)

// line is one line of a classic table: its heights and half-breadths by
// station, or one of the two where the line's name fixes the other.
type line struct {
	name    string
	at      model.Source
	heights map[int]entry
	breaths map[int]entry
}

type entry struct {
	value float64
	cell  cell
}

// measure is what a classic row gives.
type measure int

const (
	distances measure = iota
	heights
	halfBreadths
)

var measureNames = []string{"distance", "height", "half-breadth"}

// classic reads a table of offsets laid out by line and station.
func (r *reader) classic(t *table) *built {
	out := &built{byLabel: map[string]int{}}
	if len(t.header) < 3 || plainName(t.header[1].text) != "line" {
		r.fault(t.header[0].at, t.header[0].text, "the header is measure,line and the stations' names", "the table has no column line, or no stations")
		return out
	}
	columns := r.classicStations(t, out)
	lines := r.classicLines(t, columns, out)
	for i := range out.Stations {
		if !out.placed[i] {
			r.fault(out.at[i], out.Stations[i].Label, "give it a cell in the row distance", "station %s has no distance", shorten(out.Stations[i].Label))
		}
		r.classicPoints(out, i, lines)
	}
	return out
}

// classicStations makes a station of each named column, and gives their columns.
func (r *reader) classicStations(t *table, out *built) []int {
	var columns []int
	for i, c := range t.header[2:] {
		if c.text == "" {
			continue
		}
		if _, twice := out.byLabel[c.text]; twice {
			r.fault(c.at, c.text, "give each station its own name", "station %s is named twice", shorten(c.text))
			continue
		}
		if len(columns) == mostStations {
			r.fault(c.at, c.text, "is it the right file?", "the table has more than %d stations", mostStations)
			break
		}
		r.station(out, c, c, 0, false)
		columns = append(columns, i+2)
	}
	for _, row := range t.body {
		for i := 2; i < len(row); i++ {
			if row[i].text != "" && (i >= len(t.header) || t.header[i].text == "") {
				r.fault(row[i].at, row[i].text, "name its station in the header", "%q stands in a column without a station", shorten(row[i].text))
			}
		}
	}
	return columns
}

// classicLines reads the rows: distances go to the stations, the rest to lines.
func (r *reader) classicLines(t *table, columns []int, out *built) []*line {
	var lines []*line
	byName := map[string]*line{}
	seen := map[string]bool{}
	for _, row := range t.body {
		m, unit, ok := r.measureOf(row[0])
		if !ok {
			continue
		}
		name := under(row, 1, true)
		l := byName[lineName(name.text)]
		if m != distances {
			if name.text == "" {
				r.fault(row[0].at, row[0].text, "name the line: keel, chine, sheer, waterline 1-0-0", "a row without a line")
				continue
			}
			if l == nil {
				r.checkText(name.at, "line", name.text)
				l = &line{name: lineName(name.text), at: name.at, heights: map[int]entry{}, breaths: map[int]entry{}}
				byName[l.name] = l
				lines = append(lines, l)
			}
		}
		again := fmt.Sprint(m, " ", lineName(name.text))
		if seen[again] {
			r.fault(row[0].at, row[0].text, "keep one of the rows", "the %s of %q stands in the table twice", measureNames[m], shorten(name.text))
			continue
		}
		seen[again] = true
		r.classicRow(t, row, m, unit, l, columns, out)
		if l != nil {
			r.fixed(t, l, name, m, unit, len(columns))
		}
	}
	return lines
}

func (r *reader) classicRow(t *table, row []cell, m measure, unit float64, l *line, columns []int, out *built) {
	for i, column := range columns {
		c := under(row, column, true)
		if c.text == "" || isDash(c.text) {
			continue
		}
		c.at.Key = measureNames[m]
		v, ok := r.sized(t, c, measureNames[m], unit)
		if !ok {
			continue
		}
		switch m {
		case distances:
			out.Stations[i].X, out.placed[i] = v, true
		case heights:
			l.heights[i] = entry{v, c}
		case halfBreadths:
			if v < 0 {
				r.fault(c.at, c.text, "measure from the centre line outward", "half-breadth %q is negative", shorten(c.text))
				continue
			}
			l.breaths[i] = entry{v, c}
		}
	}
}

// measureOf reads the first cell of a row: height, half-breadth_mm.
func (r *reader) measureOf(c cell) (measure, float64, bool) {
	plain := plainName(c.text)
	for m, name := range measureNames {
		if rest, ok := strings.CutPrefix(plain, plainName(name)); ok {
			if rest == "" || rest == "s" {
				return measure(m), 0, true
			}
			if unit := unitsOf[rest]; unit != 0 {
				return measure(m), unit, true
			}
		}
	}
	r.fault(c.at, c.text, meant(c.text, measureNames, "measures"), "unknown measure %q", shorten(c.text))
	return 0, 0, false
}

func lineName(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// fixed gives a waterline its height and a buttock its half-breadth, from the
// line's own name.
func (r *reader) fixed(t *table, l *line, name cell, m measure, unit float64, stations int) {
	word, rest, _ := strings.Cut(l.name, " ")
	if (word != "waterline" && word != "buttock") || rest == "" {
		return
	}
	want, fill := halfBreadths, l.heights
	if word == "buttock" {
		want, fill = heights, l.breaths
	}
	if m != want {
		r.fault(name.at, name.text, fmt.Sprintf("a %s has a row of %ss only", word, measureNames[want]), "the %s of a %s", measureNames[m], word)
		return
	}
	c := cell{text: rest, at: name.at}
	v, ok := r.sized(t, c, word, unit)
	if !ok {
		return
	}
	for i := range stations {
		fill[i] = entry{v, name}
	}
}

// classicPoints lays one station's points out from keel to sheer.
//
// The keel is the first and the sheer the last; those between go by height
// and, at the same height, by half-breadth.
func (r *reader) classicPoints(out *built, i int, lines []*line) {
	type spot struct {
		rank int
		model.Reading
	}
	s := &out.Stations[i]
	var spots []spot
	for _, l := range lines {
		h, hasHeight := l.heights[i]
		b, hasBreadth := l.breaths[i]
		named := !strings.HasPrefix(l.name, "waterline ") && !strings.HasPrefix(l.name, "buttock ")
		if l.name == "keel" && hasHeight && !hasBreadth {
			b, hasBreadth = entry{0, h.cell}, true
		}
		if hasHeight != hasBreadth {
			if named {
				r.note(l.at, "a point needs a height and a half-breadth", "%s at station %s: a reading left out", shorten(l.name), shorten(s.Label))
			}
			continue
		}
		if !hasHeight {
			if l.name == "keel" || l.name == "sheer" {
				r.note(out.at[i], "its cells are blank", "station %s has no reading of the %s", shorten(s.Label), l.name)
			}
			continue
		}
		p := spot{1, model.Reading{Z: h.value, Y: b.value, Source: b.cell.at}}
		if strings.HasPrefix(l.name, "buttock ") {
			p.Source = h.cell.at
		}
		switch {
		case l.name == "keel":
			p.rank = 0
		case l.name == "sheer":
			p.rank = 2
		case named:
			p.Knuckle, p.Corner = l.name, true
		}
		spots = append(spots, p)
	}
	slices.SortStableFunc(spots, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.Z, b.Z), cmp.Compare(a.Y, b.Y))
	})
	for _, p := range spots {
		s.Points = join(s.Points, p.Reading)
	}
	if n := len(s.Points); n > 1 && spots[len(spots)-1].rank == 2 && s.Points[n-1].Z < s.Points[n-2].Z && s.Points[n-2].Knuckle == "" {
		p := s.Points[n-2]
		r.fault(p.Source, s.Label, "put a dash where a line does not cross the station",
			"station %s has a reading %s above the sheer", shorten(s.Label), units.Metric.Length(units.Length(p.Z-s.Points[n-1].Z)))
	}
}
