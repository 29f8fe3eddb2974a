package book

import (
	"strings"

	"thole/internal/draw/letters"
	"thole/internal/sheet"
)

// fine is the size of small print, in points.
const fine = 9.0

// accounts prints under figures, in small print, how each was worked out and from what; those worked
// out alike share a line.
func (p *paper) accounts(f *sheet.Figures) {
	type account struct{ method, source, inputs string }
	var order []account
	names := map[account][]string{}
	for _, r := range f.Rows {
		if r.Method == "" {
			continue
		}
		a := account{r.Method, r.Source, from(r.Inputs)}
		if names[a] == nil {
			order = append(order, a)
		}
		names[a] = append(names[a], r.Name)
	}
	if len(order) == 0 {
		return
	}
	p.gap(1)
	p.set(letters.Serif, "I", fine)
	for _, a := range order {
		text := strings.Join(names[a], ", ") + ": " + sourced(a.method, a.source)
		if a.inputs != "" {
			text += ". From " + a.inputs
		}
		p.need(3 * p.lead())
		p.lines(strings.TrimSuffix(text, ".")+".", flush)
	}
}

// from lists inputs, the keys of one file together: boat.yaml (weights, hull), cuts.csv.
func from(inputs []string) string {
	var files []string
	keys := map[string][]string{}
	for _, in := range inputs {
		file, key, _ := strings.Cut(in, ": ")
		if keys[file] == nil {
			files = append(files, file)
			keys[file] = []string{}
		}
		if key != "" {
			keys[file] = append(keys[file], key)
		}
	}
	for i, f := range files {
		if len(keys[f]) > 0 {
			files[i] = f + " (" + strings.Join(keys[f], ", ") + ")"
		}
	}
	return strings.Join(files, ", ")
}
