package terminal

import (
	"math"
	"strings"

	"thole/internal/draw"
	"thole/internal/sheet"
)

// fieldRows is how many lines a field takes at most.
const fieldRows = 21

// shades are the signs of the bands from the limit up; what lies under it is shaded with the other.
var shades = []rune(".,:;+=x%#@")

const underLimit, onLimit = '/', '0'

// field shades a field with signs, the highest row on top. Where the limit runs through, it is drawn plain.
func (p *page) field(f *sheet.Field) {
	p.heading(f.Heading)
	if len(f.Xs) > 1 && len(f.Ys) > 1 {
		p.shade(f)
	}
	for _, s := range []string{f.Alt, f.Note} {
		if s != "" {
			p.para(0, s)
		}
	}
}

func (p *page) shade(f *sheet.Field) {
	left := 0
	for _, v := range f.Ys {
		left = max(left, columns(p.look.say(draw.Number(v, f.Y.Places))))
	}
	cols := min(p.look.Width, 76) - left - 4
	pick := rowsShown(f)
	p.line(p.look.say(draw.Named(f.Y)))
	wall := "|"
	if p.look.Unicode {
		wall = "│"
	}
	used := map[rune]bool{}
	for k := len(pick) - 1; k >= 0; k-- {
		row := f.Values[pick[k]]
		var b strings.Builder
		before := 0.0
		for c := range cols {
			v := between(f.Xs, row, f.X.Min+reach(f.X)*float64(c)/float64(cols-1))
			sign := sign(f, v)
			if c > 0 && (before < f.Limit) != (v < f.Limit) {
				sign = onLimit
			}
			before = v
			used[sign] = true
			b.WriteRune(sign)
		}
		mark := " "
		if pick[k] == f.Shown {
			mark = ">"
		}
		p.line(mark + padLeft(p.look.say(draw.Number(f.Ys[pick[k]], f.Y.Places)), left) + " " + wall + b.String())
	}
	p.under(f.X, left+3, cols)
	p.shadeKey(f, used)
}

// rowsShown picks rows evenly, the first, the last and the one that is shown among them.
func rowsShown(f *sheet.Field) []int {
	n := len(f.Ys)
	var out []int
	for i := range min(n, fieldRows) {
		at := i
		if n > fieldRows {
			at = int(math.Round(float64(i) * float64(n-1) / (fieldRows - 1)))
		}
		out = append(out, at)
	}
	if f.Shown < 0 || f.Shown >= n {
		return out
	}
	near := 0
	for i, at := range out {
		if math.Abs(float64(at-f.Shown)) < math.Abs(float64(out[near]-f.Shown)) {
			near = i
		}
	}
	out[near] = f.Shown
	return out
}

// between reads a row at any place, straight between its points.
func between(xs, row []float64, x float64) float64 {
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] || i == len(xs)-1 {
			t := (x - xs[i-1]) / (xs[i] - xs[i-1])
			return row[i-1] + t*(row[i]-row[i-1])
		}
	}
	return row[0]
}

// sign is how a value is shaded: by the highest level that it reaches.
func sign(f *sheet.Field, v float64) rune {
	if v < f.Limit {
		return underLimit
	}
	k := -1
	for _, l := range f.Levels {
		if l.Value >= f.Limit && v >= l.Value {
			k++
		}
	}
	return shades[min(max(k, 0), len(shades)-1)]
}

// under writes the numbers and the name below a plot that begins so far from the left.
func (p *page) under(a sheet.Axis, left, cols int) {
	line := strings.Repeat(" ", left)
	for _, v := range a.Ticks {
		s := p.look.say(draw.Number(v, a.Places))
		x := left + int(math.Round((v-a.Min)/reach(a)*float64(cols-1))) - columns(s)/2
		x = min(x, left+cols-columns(s))
		if x > columns(strings.TrimRight(line, " ")) || strings.TrimSpace(line) == "" && x >= 0 {
			line = pad(strings.TrimRight(line, " "), x) + s
		}
	}
	p.line(line)
	p.line(padLeft(p.look.say(draw.Named(a)), left+cols))
}

// shadeKey says what each sign that was used stands for.
func (p *page) shadeKey(f *sheet.Field, used map[rune]bool) {
	unit := ""
	if f.Z.Unit != "" {
		unit = " " + f.Z.Unit
	}
	var parts []string
	k := 0
	for i, l := range f.Levels {
		if l.Value < f.Limit {
			continue
		}
		if s := shades[min(k, len(shades)-1)]; used[s] {
			text := string(s) + " " + draw.Number(l.Value, f.Z.Places)
			if i+1 < len(f.Levels) {
				text += " to " + draw.Number(f.Levels[i+1].Value, f.Z.Places)
			} else {
				text += " and more"
			}
			parts = append(parts, text+unit)
		}
		k++
	}
	p.hang(2, f.Z.Name+": ", strings.Join(parts, ";  "))
	if used[onLimit] {
		p.hang(2, string(onLimit)+"  ", f.LimitName)
	}
	if used[underLimit] {
		p.hang(2, string(underLimit)+"  ", f.Under)
	}
	if f.Shown >= 0 && f.ShownName != "" {
		p.hang(2, ">  ", f.ShownName)
	}
}
