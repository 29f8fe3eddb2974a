package climate

import (
	"bytes"
	"fmt"
	"math"
	"strings"
)

// readNetCDF reads a monthly lattice by the CF conventions: quantities by standard_name or by their
// usual names, axes by units or names in any order, months 12 or one for all the year.
func readNetCDF(name string, file []byte, w words) (*table, error) {
	if bytes.HasPrefix(file, []byte("\x89HDF")) {
		// The one library in pure Go misread a chunked file of nccopy's by whole rows, silently.
		return nil, fmt.Errorf("%s: it is netCDF-4, which is not read: copy it to the classic format (nccopy -k classic %s classic.nc)", name, name)
	}
	c, err := readClassic(file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	found, err := c.quantities(w)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	t := &table{}
	for _, v := range found {
		if err := t.take(c, v); err != nil {
			return nil, fmt.Errorf("%s: %s: %w", name, v.name, err)
		}
	}
	return t, nil
}

// quantities finds the variables: the wind's scalar mean may be wanting.
func (c *container) quantities(w words) ([]*variable, error) {
	var found []*variable
	for q := range w.names {
		var pick *variable
		for _, by := range []func(v *variable) bool{
			func(v *variable) bool { return v.text["standard_name"] == w.standard[q] },
			func(v *variable) bool { return oneOf(v.name, w.names[q]) },
		} {
			for i := range c.vars {
				if pick == nil && by(&c.vars[i]) {
					pick = &c.vars[i]
				}
			}
		}
		if pick == nil && q < 2 {
			var names []string
			for _, v := range c.vars {
				names = append(names, v.name)
			}
			return nil, fmt.Errorf("there is no variable with standard_name %q, nor one called %s; it has %s: name one so", w.standard[q],
				strings.Join(w.names[q], ", "), strings.Join(names, ", "))
		}
		if pick != nil {
			found = append(found, pick)
		}
	}
	return found, nil
}

// take reads one variable into the table, in the table's order.
func (t *table) take(c *container, v *variable) error {
	total := 1
	for _, n := range v.lengths {
		if n < 1 || n > mostValues || total > mostValues/n {
			return fmt.Errorf("it has no values or more than %d: take every second or fourth place", mostValues)
		}
		total *= n
	}
	strides := make([]int, len(v.lengths))
	for i, n := len(strides)-1, 1; i >= 0; i-- {
		strides[i], n = n, n*v.lengths[i]
	}
	rows, cols, months, err := t.axes(c, v)
	if err != nil {
		return err
	}
	scale := 1.0
	if text := v.text["units"]; text != "" {
		var ok bool
		if scale, ok = factor(text); !ok {
			return fmt.Errorf("unit %q is not known: write m s-1, cm s-1 or knots", text)
		}
	} else {
		t.notes = append(t.notes, v.name+" has no unit: taken as m/s")
	}
	flat, err := v.read()
	if err != nil {
		return err
	}
	if len(flat) != total {
		return fmt.Errorf("it has %d values where its dimensions say %d: get it again", len(flat), total)
	}
	times, packed := v.number["scale_factor"]
	if !packed {
		times = 1
	}
	plus := v.number["add_offset"]
	fill, hasFill := v.number["_FillValue"]
	gap, hasGap := v.number["missing_value"]
	out := make([]float64, len(t.lat)*len(t.lon)*12)
	for j := range t.lat {
		for i := range t.lon {
			for m := range 12 {
				at := rows.of(j)*strides[rows.dim] + cols.of(i)*strides[cols.dim]
				if months >= 0 {
					at += m * strides[months]
				}
				x := flat[at]
				if hasFill && x == fill || hasGap && x == gap || !(math.Abs(x) < 1e9) {
					x = math.NaN()
				}
				out[(j*len(t.lon)+i)*12+m] = (x*times + plus) * scale
			}
		}
	}
	t.values = append(t.values, out)
	return nil
}

// along says which dimension is an axis, and whether the file runs it backward.
type along struct {
	dim, length int
	back        bool
}

// of is where the table's k-th place stands in the file.
func (a along) of(k int) int {
	if a.back {
		return a.length - 1 - k
	}
	return k
}

// axes finds latitude, longitude and months among a variable's dimensions; months is -1 where
// there is none.
func (t *table) axes(c *container, v *variable) (rows, cols along, months int, err error) {
	rows.dim, cols.dim, months = -1, -1, -1
	var names []string
	for i, d := range v.dims {
		name := c.dims[d].name
		names = append(names, name)
		units, word := "", strings.ToLower(name)
		if a := c.find(name); a != nil {
			units = strings.ToLower(a.text["units"])
		}
		switch n := v.lengths[i]; {
		case strings.HasPrefix(units, "degrees_n") || strings.HasPrefix(units, "degree_n") || strings.HasPrefix(word, "lat"):
			rows.dim = i
		case strings.HasPrefix(units, "degrees_e") || strings.HasPrefix(units, "degree_e") || strings.HasPrefix(word, "lon"):
			cols.dim = i
		case n == 12 && months < 0:
			months = i
		case n != 1:
			return rows, cols, months, fmt.Errorf("dimension %s has %d places: give a climatology of 12 months (or 1 for all the year) at one depth", name, n)
		}
	}
	if rows.dim < 0 || cols.dim < 0 {
		return rows, cols, months, fmt.Errorf("its dimensions are %s: latitude and longitude must be among them, with units degrees_north and degrees_east", strings.Join(names, ", "))
	}
	for _, x := range []struct {
		a         *along
		into      *[]float64
		low, high float64
	}{{&rows, &t.lat, -90, 90}, {&cols, &t.lon, -360, 720}} {
		if err := x.a.places(c, names[x.a.dim], v.lengths[x.a.dim], x.low, x.high, x.into); err != nil {
			return rows, cols, months, err
		}
	}
	return rows, cols, months, nil
}

// places reads an axis into the table's, rising, or looks that it is the same.
func (a *along) places(c *container, name string, length int, low, high float64, into *[]float64) error {
	v := c.find(name)
	if v == nil {
		return fmt.Errorf("dimension %s has no variable of its places: add one", name)
	}
	at, err := v.read()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	a.length = length
	if len(at) != length || length < 2 {
		return fmt.Errorf("%s has %d places where its dimension has %d: give two or more", name, len(at), length)
	}
	if a.back = at[0] > at[1]; a.back {
		for i, k := 0, len(at)-1; i < k; i, k = i+1, k-1 {
			at[i], at[k] = at[k], at[i]
		}
	}
	step := pitch(at)
	for i, p := range at {
		if !(step >= .01) || !(p >= low && p <= high) || math.Abs(p-at[0]-step*float64(i)) > .02*step {
			return fmt.Errorf("%s: %g is not on an even lattice of at least 0.01 within %g to %g degrees: give one", name, p, low, high)
		}
	}
	if step*float64(length) > 360+step/2 {
		return fmt.Errorf("%s runs more than once round: write every place once", name)
	}
	if *into != nil && (len(*into) != length || (*into)[0] != at[0]) {
		return fmt.Errorf("%s is not the lattice of the variable before: give both on one", name)
	}
	*into = at
	return nil
}
