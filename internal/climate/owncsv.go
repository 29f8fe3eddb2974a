package climate

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// mostValues is how large a person's file may be, in values of a quantity: the whole sea at a
// quarter of a degree, twelve months, and some room.
const mostValues = 16_000_000

// row is one line of a csv file.
type row struct {
	line     int
	month    int // 0 for all the year
	lat, lon float64
	values   [3]float64
}

// record is one line of a csv file, split.
type record struct {
	line   int
	fields []string
}

// scan splits a csv file; there is at least a header in what it returns.
func scan(name string, file []byte) ([]record, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(file, []byte("\xef\xbb\xbf"))))
	r.FieldsPerRecord, r.TrimLeadingSpace, r.Comment = -1, true, '#'
	var out []record
	for {
		fields, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			var at *csv.ParseError
			if errors.As(err, &at) {
				return nil, fmt.Errorf("%s:%d: %w: look at the quotation marks", name, at.Line, at.Err)
			}
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		out = append(out, record{line, fields})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: the file is empty: begin with a header line", name)
	}
	return out, nil
}

// readCSV reads the table that ReadWind describes.
func readCSV(name string, file []byte, w words) (*table, error) {
	records, err := scan(name, file)
	if err != nil {
		return nil, err
	}
	cols, factors, err := columns(records[0].fields, w)
	if err != nil {
		return nil, fmt.Errorf("%s:%d: %w", name, records[0].line, err)
	}
	var rows []row
	var faults []error
	for _, r := range records[1:] {
		one, wrong := parse(r.fields, cols, factors)
		one.line = r.line
		for _, f := range wrong {
			faults = append(faults, fmt.Errorf("%s:%d: %w", name, r.line, f))
		}
		rows = append(rows, one)
	}
	if len(faults) > 0 {
		return nil, join(faults)
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("%s: there is no line after the header: give month,lat,lon,east,north", name)
	}
	return lattice(name, rows, len(cols)-3)
}

// columns finds the columns by the header: month, lat, lon, then the quantities with their units.
func columns(header []string, w words) (cols []int, factors []float64, err error) {
	wanted := []string{"month", "lat", "lon", "east", "north"}
	if len(w.names) > 2 {
		wanted = append(wanted, "scalar")
	}
	for i, want := range wanted {
		found := -1
		for k, h := range header {
			word, unit, _ := strings.Cut(strings.ToLower(strings.TrimSpace(h)), "_")
			if word != want {
				continue
			}
			f, ok := factor(unit)
			switch {
			case i < 3 && (unit == "" || unit == "deg") || i >= 3 && unit == "":
				f = 1
			case i < 3 || !ok:
				return nil, nil, fmt.Errorf("column %q: unit %q is not known: write %s, %s_ms or %s_kn", h, unit, word, word, word)
			}
			if found >= 0 {
				return nil, nil, fmt.Errorf("column %q stands there twice: leave one", want)
			}
			found, factors = k, append(factors, f)
		}
		if found < 0 && want != "scalar" {
			return nil, nil, fmt.Errorf("the header %q has no column %q: write month,lat,lon,east,north", strings.Join(header, ","), want)
		}
		if found >= 0 {
			cols = append(cols, found)
		}
	}
	return cols, factors, nil
}

// parse reads one line and tells everything that is wrong with it.
func parse(record []string, cols []int, factors []float64) (r row, faults []error) {
	names := [...]string{"month", "lat", "lon", "east", "north", "scalar"}
	ranges := [...][2]float64{{0, 12}, {-90, 90}, {-180, 360}, {-150, 150}, {-150, 150}, {0, 150}}
	for i, c := range cols {
		if c >= len(record) {
			faults = append(faults, fmt.Errorf("there are %d columns, %s is missing: write as many as the header has", len(record), names[i]))
			continue
		}
		text := strings.TrimSpace(record[c])
		if text == "" && i >= 3 {
			r.values[i-3] = math.NaN()
			continue
		}
		x, err := strconv.ParseFloat(text, 64)
		switch {
		case err != nil || math.IsNaN(x) || math.IsInf(x, 0):
			faults = append(faults, fmt.Errorf("%s %q is no number: write one, or leave a missing wind or current empty", names[i], text))
			continue
		case x < ranges[i][0] || x > ranges[i][1]:
			faults = append(faults, fmt.Errorf("%s %q is outside %g to %g", names[i], text, ranges[i][0], ranges[i][1]))
			continue
		}
		switch i {
		case 0:
			if x != math.Trunc(x) {
				faults = append(faults, fmt.Errorf("month %q: write a whole number, 1 to 12, or 0 for all the year", text))
			}
			r.month = int(x)
		case 1:
			r.lat = x
		case 2:
			r.lon = x
		default:
			r.values[i-3] = x * factors[i]
		}
	}
	return r, faults
}

// lattice puts the lines in their places.
func lattice(name string, rows []row, quantities int) (*table, error) {
	lats, lons := map[float64]bool{}, map[float64]bool{}
	for _, r := range rows {
		lats[r.lat], lons[r.lon] = true, true
	}
	lat, err := axis(lats, "lat")
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	lon, err := axis(lons, "lon")
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if size := len(lat) * len(lon) * 12; size > mostValues {
		return nil, fmt.Errorf("%s: the lattice has %d by %d places: give fewer, or wider apart", name, len(lat), len(lon))
	}
	if lon[len(lon)-1]-lon[0] > 360-pitch(lon)/2 && len(lon) > 1 {
		return nil, fmt.Errorf("%s: lon runs from %g to %g, more than once round: write every place once", name, lon[0], lon[len(lon)-1])
	}
	t := &table{lat: lat, lon: lon}
	cells := len(lat) * len(lon)
	for range quantities {
		values := make([]float64, cells*12)
		for i := range values {
			values[i] = math.NaN()
		}
		t.values = append(t.values, values)
	}
	seen := make([]int32, cells*12)
	var faults []error
	for _, r := range rows {
		j, i := int(math.Round((r.lat-lat[0])/pitch(lat))), int(math.Round((r.lon-lon[0])/pitch(lon)))
		from, to := r.month-1, r.month-1
		if r.month == 0 {
			from, to = 0, 11
		}
		for m := from; m <= to; m++ {
			at := (j*len(lon)+i)*12 + m
			if seen[at] != 0 {
				faults = append(faults, fmt.Errorf("%s:%d: month %d at %g, %g stands in line %d already: leave one", name, r.line, m+1, r.lat, r.lon, seen[at]))
				continue
			}
			seen[at] = int32(r.line)
			for q := range t.values {
				t.values[q][at] = r.values[q]
			}
		}
	}
	if len(faults) > 0 {
		return nil, join(faults)
	}
	return t, nil
}
