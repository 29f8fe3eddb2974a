package byhand

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"thole/internal/units"
)

// figure is a length as a file has it, and what is needed to write another in its place.
type figure struct {
	file, key, of string
	was           string // the whole value, quotes and tails included
	text          string // the length alone
	head, tail    string // what stands before and behind it in was
	like          string // another length of the same file, for the form where this one is a bare nought
	first         string // the text that stood here before any edit; empty where it is not known
	line, column  int
	unit          float64 // metres of a bare number; 0 where each carries its own
	scale         float64 // full size over the thing measured
	comma         bool
}

var (
	eighths  = regexp.MustCompile(`^-?[0-9]+-[0-9]+-[0-9]+[+-]?$`)
	withUnit = regexp.MustCompile(`^([-+−]?[0-9][0-9.,]*|[-+−]?[.,][0-9]+)(\s*)(mm|cm|m|in|ft|'|")$`)
	bare     = regexp.MustCompile(`^[-+−]?[0-9.,]+$`)
)

// step is how finely a length is written: a tenth of a millimetre on a model, a millimetre full size.
func (f *figure) step() float64 {
	if f.scale > 1 {
		return 0.0001
	}
	return 0.001
}

// write gives the text for a full-size length in metres, in the form in which the old one stands;
// the old text itself where it says the same.
func (f *figure) write(full float64) string {
	v := full / f.scale
	form := f.text
	if f.unit == 0 && bare.MatchString(form) && f.like != "" {
		form = f.like
	}
	out := ""
	m := withUnit.FindStringSubmatch(form)
	switch {
	case f.unit != 0 && bare.MatchString(form):
		out = f.number(form, v, f.unit)
	case eighths.MatchString(form):
		out = units.FeetInchesEighths(units.Length(v))
	case m != nil:
		unit := map[string]float64{"'": metres["ft"], `"`: metres["in"]}[m[3]]
		if unit == 0 {
			unit = metres[m[3]]
		}
		shown := f.text
		if form != f.text {
			shown = "0"
		}
		out = f.number(shown, v, unit) + m[2] + m[3]
	case strings.Contains(form, "ft") || strings.Contains(form, "'"):
		out = sixteenths(v, true)
	case strings.Contains(form, "in") || strings.Contains(form, `"`):
		out = sixteenths(v, false)
	default:
		out = f.number("0", v, 1) + " m"
	}
	if f.same(out) {
		return f.was
	}
	if before := figureOf(f.first); strings.TrimSpace(before.tail) == strings.TrimSpace(f.tail) {
		if before.unit, before.comma = f.unit, f.comma; before.same(out) {
			return f.head + before.text + f.tail
		}
	}
	return f.head + out + f.tail
}

// number writes a number to the step, and to no fewer places than it had.
func (f *figure) number(old string, v, unit float64) string {
	places := 0
	for unit*math.Pow10(-places) > f.step()*(1+1e-9) {
		places++
	}
	least := 0
	if i := strings.IndexAny(old, ".,"); i >= 0 {
		least = len(strings.TrimRight(old[i+1:], " abcdefghijklmnopqrstuvwxyz'\""))
	}
	places = max(places, least)
	n := math.Round(v/unit*math.Pow10(places)) / math.Pow10(places)
	if n == 0 {
		n = 0 // not minus nought
	}
	out := strconv.FormatFloat(n, 'f', places, 64)
	for strings.Contains(out, ".") && len(out)-strings.IndexByte(out, '.')-1 > least && strings.HasSuffix(out, "0") {
		out = strings.TrimSuffix(out, "0")
	}
	out = strings.TrimSuffix(out, ".")
	if f.comma {
		out = strings.Replace(out, ".", ",", 1)
	}
	return out
}

// same tells whether two texts say the same length.
func (f *figure) same(other string) bool {
	t := table{commas: f.comma}
	a, okA := t.value(f.text, f.unit)
	b, okB := t.value(other, f.unit)
	return okA && okB && math.Abs(a-b) < 1e-9
}

// full is the full-size length that a text of this figure says.
func (f *figure) full(words string) float64 {
	t := table{commas: f.comma}
	words = strings.TrimSuffix(strings.TrimPrefix(words, f.head), f.tail)
	v, _ := t.value(words, f.unit)
	return v * f.scale
}

// sixteenths writes inches with a fraction, and feet before them where wanted.
func sixteenths(v float64, feet bool) string {
	n := int64(math.Round(math.Abs(v) / metres["in"] * 16))
	sign := ""
	if v < 0 && n > 0 {
		sign = "-"
	}
	ft := int64(0)
	if feet {
		ft, n = n/192, n%192
	}
	in, part, under := n/16, n%16, int64(16)
	for part > 0 && part%2 == 0 {
		part, under = part/2, under/2
	}
	out := strconv.FormatInt(in, 10)
	switch {
	case part > 0 && in == 0 && ft == 0:
		out = fmt.Sprintf("%d/%d", part, under)
	case part > 0:
		out = fmt.Sprintf("%d %d/%d", in, part, under)
	}
	if ft > 0 {
		return fmt.Sprintf("%s%d ft %s in", sign, ft, out)
	}
	return sign + out + " in"
}

var tailed = regexp.MustCompile(`\s*(\+-|\+/-|±).*$`)

// figureOf takes a yaml value or a part of a cell apart into the length and what stands around it.
func figureOf(was string) figure {
	f := figure{was: was, text: was, scale: 1}
	trimmed := strings.TrimLeft(f.text, " \t")
	f.head, f.text = f.text[:len(f.text)-len(trimmed)], trimmed
	if q := f.text; len(q) >= 2 && (q[0] == '"' || q[0] == '\'') && q[len(q)-1] == q[0] && withUnit.FindString(q) == "" {
		f.head, f.tail, f.text = f.head+q[:1], q[:1], q[1:len(q)-1]
	}
	if at := tailed.FindStringIndex(f.text); at != nil {
		f.tail, f.text = f.text[at[0]:]+f.tail, f.text[:at[0]]
	}
	kept := strings.TrimRight(f.text, " \t")
	f.tail, f.text = f.text[len(kept):]+f.tail, kept
	return f
}
