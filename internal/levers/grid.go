package levers

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

// grid is a table of a shape, cell by cell as it is written, with what each measures at full size.
type grid struct {
	pen     *pen
	file    string
	scale   float64 // full size over what is written
	classic bool
	rows    [][]boatfolder.Value
}

// gridOf reads a table's cells.
func (p *pen) gridOf(file string, scale float64) (*grid, error) {
	g := &grid{pen: p, file: file, scale: scale}
	row := -1
	for _, v := range p.d.Values(file) {
		name, _, ok := strings.Cut(v.Key, "].")
		n, err := strconv.Atoi(strings.TrimPrefix(name, "rows["))
		if !ok || err != nil {
			continue
		}
		if n != row {
			g.rows, row = append(g.rows, nil), n
		}
		g.rows[len(g.rows)-1] = append(g.rows[len(g.rows)-1], v)
	}
	if len(g.rows) == 0 {
		return nil, fmt.Errorf("the table %s has no rows to change", file)
	}
	g.classic = slices.ContainsFunc(g.rows[0], func(v boatfolder.Value) bool { return model.PlainName(column(v)) == "measure" })
	return g, nil
}

// column is the header over a cell.
func column(v boatfolder.Value) string {
	_, name, _ := strings.Cut(v.Key, "].")
	return name
}

// cell finds a row's cell under a header that starts so.
func (g *grid) cell(row []boatfolder.Value, begins string) (boatfolder.Value, bool) {
	for _, v := range row {
		if strings.HasPrefix(model.PlainName(column(v)), begins) {
			return v, true
		}
	}
	return boatfolder.Value{}, false
}

// endings are the units that a name may end on, in metres.
var endings = []struct {
	name string
	unit float64
}{{"mm", 0.001}, {"cm", 0.01}, {"m", 1}, {"in", 0.0254}, {"ft", 0.3048}}

// unitOf is the unit that a measured name ends on, behind what it measures; 0 for none.
func unitOf(name, measure string) float64 {
	rest := strings.TrimPrefix(model.PlainName(name), measure)
	for _, e := range endings {
		if rest == e.name {
			return e.unit
		}
	}
	return 0
}

// read gives a cell in metres at full size; false for a blank one. unit is what a bare number counts.
func (g *grid) read(v boatfolder.Value, unit float64) (float64, bool) {
	text := strings.TrimSpace(v.Text)
	if unit != 0 {
		if n, err := units.ParseNumber(strings.Replace(text, ",", ".", 1)); err == nil {
			return n * unit * g.scale, true
		}
	}
	l, err := units.ParseLength(text)
	return float64(l) * g.scale, err == nil
}

// write puts a full-size length into a cell as the cell is written.
func (g *grid) write(v boatfolder.Value, unit, l float64) {
	text := ""
	l /= g.scale
	if _, err := units.ParseNumber(strings.Replace(v.Text, ",", ".", 1)); unit != 0 && err == nil {
		text = units.NumberLike(v.Text, l/unit, goodShape/g.scale/unit)
	} else {
		text = units.LengthLike(v.Text, units.Length(l), units.Length(goodShape/g.scale), g.pen.f.Boat.Units)
	}
	if text != v.Text {
		g.pen.edits = append(g.pen.edits, boatfolder.Edit{File: g.file, Key: v.Key, Of: v.Of, Was: v.Text, Text: text})
	}
}

// spot is one cell that holds a height or a half-breadth, with what else is known of its point.
type spot struct {
	cell    boatfolder.Value
	unit    float64
	value   float64
	station string
	x       float64
}

// spots are all the heights, or all the half-breadths, of the stations.
//
// Error: a classic table with lines on which the measure is fixed by the line's own name
func (g *grid) spots(measure string) ([]spot, error) {
	if g.classic {
		return g.classicSpots(measure)
	}
	var out []spot
	x := map[string]float64{}
	for _, row := range g.rows {
		station, _ := g.cell(row, "station")
		if name := strings.ToLower(station.Text); name == "stem" || name == "stern" {
			continue
		}
		if d, ok := g.cell(row, "distance"); ok {
			if v, ok := g.read(d, unitOf(column(d), "distance")); ok {
				x[station.Text] = v
			}
		}
		if c, ok := g.cell(row, measure); ok {
			unit := unitOf(column(c), measure)
			if v, ok := g.read(c, unit); ok {
				out = append(out, spot{c, unit, v, station.Text, 0})
			}
		}
	}
	for i := range out {
		out[i].x = x[out[i].station]
	}
	return out, nil
}

func (g *grid) classicSpots(measure string) ([]spot, error) {
	x := map[string]float64{}
	var out []spot
	for _, row := range g.rows {
		head, _ := g.cell(row, "measure")
		line, _ := g.cell(row, "line")
		kind := model.PlainName(head.Text)
		word, fixed, _ := strings.Cut(strings.ToLower(strings.TrimSpace(line.Text)), " ")
		if fixed != "" && (measure == "height" && word == "waterline" || measure == "halfbreadth" && word == "buttock") {
			return nil, fmt.Errorf("%s has the line %q, whose %s is in its name: change that table by hand", g.file, line.Text, measure)
		}
		for _, v := range row {
			if name := model.PlainName(column(v)); name == "measure" || name == "line" {
				continue
			}
			for _, want := range []string{"distance", measure} {
				if rest, ok := strings.CutPrefix(kind, want); ok && (rest == "" || rest == "s" || unitOf(kind, want) != 0) {
					unit := unitOf(kind, want)
					got, ok := g.read(v, unit)
					switch {
					case !ok:
					case want == "distance":
						x[column(v)] = got
					default:
						out = append(out, spot{v, unit, got, column(v), 0})
					}
				}
			}
		}
	}
	for i := range out {
		out[i].x = x[out[i].station]
	}
	return out, nil
}
