package boatfolder

import (
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
)

// pointsHeader is the header of a table of points, as the faults name it.
var pointsHeader = []string{"station", "distance_mm", "height_mm", "halfbreadth_mm", "knuckle"}

// measured is one measured column: where it stands and its unit in metres.
type measured struct {
	column int
	unit   float64
}

// readings reads a hull's, a cabin's or a well's table, of points or classic,
// and makes it full size.
func (r *reader) readings(n *node, what string, scale float64) model.Readings {
	if n == nil {
		return model.Readings{}
	}
	data, ok := r.open(n)
	if !ok {
		return model.Readings{}
	}
	before := len(r.faults)
	t := r.split(n.text, data)
	if t == nil || len(t.body) == 0 {
		return model.Readings{}
	}
	read := r.points
	if plainName(t.header[0].text) == "measure" {
		read = r.classic
	}
	out := read(t)
	grow(&out.Readings, scale)
	if len(out.Stations) > 0 || len(r.faults) == before {
		r.sound(t, out, what, len(r.faults) == before)
	}
	if len(r.faults) > before {
		return model.Readings{} // half a table would make more faults elsewhere
	}
	return out.Readings
}

// built is a table of readings as it grows, with the first row of each station.
type built struct {
	model.Readings
	at      []model.Source
	placed  []bool // the station's distance has been read
	byLabel map[string]int
}

// points reads a table of points. A reading's source is its height's cell.
func (r *reader) points(t *table) *built {
	columns, measures := r.pointColumns(t)
	out := &built{byLabel: map[string]int{}}
	if columns == nil {
		return out
	}
	for _, row := range t.body {
		stationAt, has := columns["station"]
		label := under(row, stationAt, has)
		if label.text == "" {
			r.fault(label.at, "", "write the station's name or number", "a row without a station")
			continue
		}
		get := func(name string) (cell, float64, bool) {
			m := measures[name]
			c := under(row, m.column, true)
			if c.text == "" || isDash(c.text) {
				return c, 0, false
			}
			v, ok := r.sized(t, c, name, m.unit)
			c.at.Key = name
			if !ok {
				c.text = "?"
			}
			return c, v, ok
		}
		xCell, x, xOK := get("distance")
		zCell, z, zOK := get("height")
		yCell, y, yOK := get("halfbreadth")
		if yOK && y < 0 {
			r.fault(yCell.at, yCell.text, "measure from the centre line outward", "half-breadth %q is negative", shorten(yCell.text))
			continue
		}
		if xCell.text == "?" || zCell.text == "?" || yCell.text == "?" {
			continue
		}
		end := strings.ToLower(label.text)
		if end == "stem" || end == "stern" {
			yOK = true
			if y != 0 {
				r.fault(yCell.at, yCell.text, "write 0", "a point of the %s profile lies on the centre line", end)
			}
		}
		if !xOK || !zOK || !yOK {
			r.note(label.at, "a blank cell is a reading not taken", "station %s: a reading left out", shorten(label.text))
			if xOK || (end != "stem" && end != "stern") {
				r.station(out, label, xCell, x, xOK)
			}
			continue
		}
		if end == "stem" {
			out.Stem = append(out.Stem, r3.Vec{X: x, Z: z})
			continue
		}
		if end == "stern" {
			out.Stern = append(out.Stern, r3.Vec{X: x, Z: z})
			continue
		}
		knuckleAt, hasKnuckle := columns["knuckle"]
		knuckle := under(row, knuckleAt, hasKnuckle)
		if knuckle.text != "" {
			r.checkText(knuckle.at, "knuckle", knuckle.text)
		}
		reading := model.Reading{Z: z, Y: y, Knuckle: knuckle.text, Corner: knuckle.text != "", Source: zCell.at}
		s := r.station(out, label, xCell, x, xOK)
		s.Points = join(s.Points, reading)
	}
	return out
}

// station gives the station of a row, a new one at its first row.
func (r *reader) station(out *built, label, xCell cell, x float64, xOK bool) *model.Station {
	i, ok := out.byLabel[label.text]
	if !ok {
		r.checkText(label.at, "station", label.text)
		i = len(out.Stations)
		out.byLabel[label.text] = i
		out.Stations = append(out.Stations, model.Station{Label: label.text, X: x})
		out.at = append(out.at, label.at)
		out.placed = append(out.placed, xOK)
		return &out.Stations[i]
	}
	s := &out.Stations[i]
	switch {
	case xOK && !out.placed[i]:
		s.X, out.placed[i] = x, true
	case xOK && x != s.X:
		r.fault(xCell.at, xCell.text, "give all its rows the same distance, or the station another name",
			"station %s has two distances", shorten(label.text))
	}
	return s
}

// join adds a reading; one at the same place as the last makes that a corner.
func join(points []model.Reading, p model.Reading) []model.Reading {
	if len(points) == 0 {
		return append(points, p)
	}
	last := &points[len(points)-1]
	if last.Z != p.Z || last.Y != p.Y || last.Knuckle != "" && p.Knuckle != "" && last.Knuckle != p.Knuckle {
		return append(points, p)
	}
	last.Corner = true
	if last.Knuckle == "" {
		last.Knuckle = p.Knuckle
	}
	return points
}

func isDash(text string) bool {
	return text == "-" || text == "–" || text == "—" || text == "−"
}

// pointColumns finds a points table's columns; nil when one is missing.
func (r *reader) pointColumns(t *table) (map[string]int, map[string]measured) {
	measures := map[string]measured{}
	found := r.columns(t, pointsHeader, func(name string) (string, bool) {
		plain := plainName(name)
		if plain == "station" || plain == "knuckle" {
			return plain, true
		}
		for _, base := range []string{"distance", "height", "halfbreadth"} {
			rest, ok := strings.CutPrefix(plain, base)
			if unit, known := unitsOf[rest]; ok && known {
				measures[base] = measured{unit: unit}
				return base, true
			}
		}
		return "", false
	})
	good := true
	for _, name := range pointsHeader[:4] {
		base := strings.TrimSuffix(name, "_mm")
		if at, ok := found[base]; ok {
			if m, is := measures[base]; is {
				m.column = at
				measures[base] = m
			}
			continue
		}
		good = false
		if _, slip := found[name+"?"]; !slip {
			r.fault(t.header[0].at, t.header[0].text, "the header is station,distance_mm,height_mm,halfbreadth_mm and, if wanted, knuckle",
				"the table has no column %s", name)
		}
	}
	if !good {
		return nil, nil
	}
	return found, measures
}

func grow(out *model.Readings, scale float64) {
	if scale == 1 || scale <= 0 {
		return
	}
	for i := range out.Stations {
		s := &out.Stations[i]
		s.X *= scale
		for j := range s.Points {
			s.Points[j].Y *= scale
			s.Points[j].Z *= scale
		}
	}
	for _, profile := range [][]r3.Vec{out.Stem, out.Stern} {
		for i := range profile {
			profile[i] = r3.Scale(scale, profile[i])
		}
	}
}
