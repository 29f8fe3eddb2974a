package byhand

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/cuts"
	"thole/internal/model"
	"thole/internal/units"
)

// spot is a handle with the way back to the text that it comes from.
type spot struct {
	Handle
	station, point int // of a reading; of a profile's point, point alone
	line           []model.Reading
	ends           []cuts.Point // of a profile's point: the profile
	// figures are the texts that say x, y and z; two of each where a doubled row makes a corner.
	figures [3][]figure
	weight  bool // its figures are looked up when it is pulled
}

// spotsOf finds everything that may be pulled, readings first, from the keel up and from the bow aft.
func spotsOf(f *model.Folder, d text, day int) ([]spot, error) {
	h := &f.Boat.Hull
	t, err := readTable(d, h.File)
	if err != nil {
		return nil, err
	}
	l := lister{folder: f, table: t, scale: 1, system: f.Boat.Units}
	if h.FromModel {
		l.scale = h.Scale
	}
	if len(t.header) > 1 && plain(t.header[0]) == "measure" {
		l.classic()
	} else {
		l.points()
	}
	l.weights()
	l.stores(day)
	return l.spots, nil
}

type lister struct {
	folder *model.Folder
	table  *table
	scale  float64
	system units.System
	spots  []spot
}

func (l *lister) reading(station, point int) spot {
	st := &l.folder.Boat.Hull.Readings.Stations[station]
	p := &st.Points[point]
	s := spot{station: station, point: point, line: st.Points}
	s.Kind, s.X, s.Y, s.Z = Reading, st.X, p.Y, p.Z
	s.File, s.Line = l.table.file, p.Source.Line
	s.Name = fmt.Sprintf("station %s, point %d from the keel", st.Label, point+1)
	switch {
	case point == len(st.Points)-1 && point > 0:
		s.Name += ", the sheer"
	case p.Knuckle != "":
		s.Name += ", " + p.Knuckle
	case p.Corner:
		s.Name += ", a corner"
	}
	s.Place = l.place(s.Y, s.Z)
	return s
}

func (l *lister) place(y, z float64) string {
	return fmt.Sprintf("%s up, %s out", l.system.Length(units.Length(z)), l.system.Length(units.Length(y)))
}

// figure is a cell of the hull's table; ok is false where it is blank.
func (l *lister) figure(row, column int, of, like string, unit float64) (figure, bool) {
	was := l.table.cell(row, column)
	if was == "" {
		return figure{}, false
	}
	return figure{file: l.table.file, key: l.table.key(row, column), of: of, was: was, text: was, like: like,
		line: l.table.rows[row].line, column: l.table.rows[row].at[column], unit: unit, scale: l.scale, comma: l.table.commas}, true
}

// written says what the file has.
func (l *lister) written(s *spot) {
	var parts []string
	for i, word := range []string{"aft", "out", "up"} {
		if len(s.figures[i]) == 0 {
			continue
		}
		f := s.figures[i][0]
		text := f.text
		if bare.MatchString(text) {
			for name, u := range metres {
				if u == f.unit {
					text += " " + name
				}
			}
		}
		parts = append(parts, text+" "+word)
	}
	slices.Reverse(parts)
	s.Written = strings.Join(parts, ", ")
	if l.scale != 1 && s.Written != "" {
		s.Written += fmt.Sprintf(" on the model at 1:%g", l.scale)
	}
}

// points lists the readings of a table of points, and the profiles' points.
func (l *lister) points() {
	t, r := l.table, &l.folder.Boat.Hull.Readings
	stationAt, _ := t.column("station")
	xAt, xUnit := t.column("distance")
	zAt, zUnit := t.column("height")
	yAt, yUnit := t.column("halfbreadth")
	read := map[int]bool{} // rows that a reading came from
	for _, st := range r.Stations {
		for _, p := range st.Points {
			if i, ok := t.byLine[p.Source.Line]; ok {
				read[i] = true
			}
		}
	}
	for i := range r.Stations {
		for j := range r.Stations[i].Points {
			first, ok := t.byLine[r.Stations[i].Points[j].Source.Line]
			if !ok {
				continue
			}
			s := l.reading(i, j)
			label := t.cell(first, stationAt)
			s.Key = fmt.Sprintf("rows[%d]", first)
			s.ID = s.File + ":" + s.Key
			for row := first; row == first || row < len(t.rows) && !read[row] && t.cell(row, stationAt) == label; row++ {
				y, okY := l.figure(row, yAt, label, "", yUnit)
				z, okZ := l.figure(row, zAt, label, "", zUnit)
				if okY && okZ { // a row with a blank cell is no reading
					s.figures[1], s.figures[2] = append(s.figures[1], y), append(s.figures[2], z)
				}
			}
			s.Free = [3]bool{false, l.swings(i, j), true}
			l.written(&s)
			l.spots = append(l.spots, s)
		}
	}
	for _, end := range []struct {
		name   string
		points []cuts.Point
	}{{"stem", profile(r.Stem)}, {"stern", profile(r.Stern)}} {
		k := 0
		for row := range t.rows {
			if !strings.EqualFold(t.cell(row, stationAt), end.name) || k >= len(end.points) {
				continue
			}
			label := t.cell(row, stationAt)
			x, okX := l.figure(row, xAt, label, "", xUnit)
			z, okZ := l.figure(row, zAt, label, "", zUnit)
			if !okX || !okZ {
				continue
			}
			s := spot{station: -1, point: k, ends: end.points}
			s.Kind, s.X, s.Z, s.End = Reading, end.points[k].Y, end.points[k].Z, true
			s.File, s.Line, s.Key = t.file, t.rows[row].line, fmt.Sprintf("rows[%d]", row)
			s.ID = s.File + ":" + s.Key
			s.Name = fmt.Sprintf("%s, point %d from the foot", end.name, k+1)
			s.Place = fmt.Sprintf("%s up, %s aft", l.system.Length(units.Length(s.Z)), l.system.Length(units.Length(s.X)))
			s.figures[0], s.figures[2] = []figure{x}, []figure{z}
			s.Free = [3]bool{true, false, true}
			l.written(&s)
			l.spots = append(l.spots, s)
			k++
		}
	}
}

// swings tells whether a reading may be pulled sideways: the keel on the centre line stays there, and so does a
// station that has no width, where the boat ends.
func (l *lister) swings(station, point int) bool {
	ps := l.folder.Boat.Hull.Readings.Stations[station].Points
	if ps[point].Y > 0 {
		return true
	}
	wide := slices.ContainsFunc(ps, func(p model.Reading) bool { return p.Y > 0 })
	return wide && point > 0
}

// classic lists the readings of a table laid out by line and station.
func (l *lister) classic() {
	t, r := l.table, &l.folder.Boat.Hull.Readings
	type key struct{ measure, line string }
	rows := map[key]int{}
	unit := make([]float64, len(t.rows))
	name := func(row int) string { return strings.ToLower(strings.Join(strings.Fields(t.cell(row, 1)), " ")) }
	for i := range t.rows {
		m := plain(t.cell(i, 0))
		for _, word := range []string{"distance", "height", "halfbreadth"} {
			if rest, ok := strings.CutPrefix(m, word); ok {
				unit[i] = metres[rest]
				rows[key{word, name(i)}] = i
			}
		}
	}
	for i := range r.Stations {
		for j := range r.Stations[i].Points {
			at := r.Stations[i].Points[j].Source
			row, ok := t.byLine[at.Line]
			if !ok {
				continue
			}
			column := slices.Index(t.rows[row].at, at.Column)
			if column < 0 || column >= len(t.header) {
				continue
			}
			s := l.reading(i, j)
			s.Key = t.key(row, column)
			s.ID = s.File + ":" + s.Key
			line := name(row)
			take := func(which int, measure string) {
				if k, ok := rows[key{measure, line}]; ok {
					if f, ok := l.figure(k, column, t.cell(k, 0)+" "+t.cell(k, 1), l.like(k), unit[k]); ok {
						s.figures[which] = append(s.figures[which], f)
					}
				}
			}
			take(1, "halfbreadth")
			take(2, "height")
			s.Free = [3]bool{false, len(s.figures[1]) > 0 && l.swings(i, j), len(s.figures[2]) > 0}
			l.written(&s)
			l.spots = append(l.spots, s)
		}
	}
}

// like is the first cell of a classic row that shows its form.
func (l *lister) like(row int) string {
	for i := 2; i < len(l.table.header); i++ {
		if c := l.table.cell(row, i); c != "" && strings.Trim(c, "0-–—−") != "" {
			return c
		}
	}
	return ""
}

func (l *lister) held(w string, count int, mass float64, p model.Place, src model.Source, key string) {
	s := spot{weight: true, point: -1, station: -1}
	s.Kind, s.X, s.Y, s.Z = Weight, p.At.X, p.At.Y, p.At.Z
	s.File, s.Line, s.Key, s.ID = src.File, src.Line, key, src.File+":"+key
	s.Mass, s.Free = mass, [3]bool{true, true, true}
	s.Name = fmt.Sprintf("%s, %s", w, l.system.Mass(units.Mass(mass)))
	side := "on the centre line"
	if s.Y != 0 {
		side = l.system.Length(units.Length(math.Abs(s.Y))) + map[bool]string{true: " to starboard", false: " to port"}[s.Y > 0]
	}
	s.Place = fmt.Sprintf("%s aft, %s, %s up", l.system.Length(units.Length(s.X)), side, l.system.Length(units.Length(s.Z)))
	l.spots = append(l.spots, s)
}

func (l *lister) weights() {
	for _, w := range l.folder.Boat.Weights {
		if w.Where.Compartment < 0 && !w.Where.None {
			l.held(w.What, w.Count, float64(w.Mass.Value)*float64(max(1, w.Count)), w.Where, w.Source, w.Source.Key+".at")
		}
	}
}

// stores lists those put down by a point, as much of each as is left on the day.
func (l *lister) stores(day int) {
	for _, st := range l.folder.Stores {
		mass := float64(st.Mass.Value) * float64(max(1, st.Count)) * st.Use.Left(day)
		if st.Where.Compartment < 0 && !st.Where.None && mass > 0 {
			key := strings.Replace(st.Source.Key, "stores[", "rows[", 1) + ".where"
			l.held(st.What, st.Count, mass, st.Where, st.Source, key)
		}
	}
}
