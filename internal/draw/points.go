package draw

import (
	"encoding/csv"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"thole/internal/sheet"
)

// Points writes the points of a part as a table to plot from with steel tape,
// square and batten: a csv that a spreadsheet opens as it stands.
//
// Columns: the name; x and y in the drawing's frame; the bevel, positive where
// the edge leans away from the face drawn; then what a mistake in stepping off
// shows up in: the running total along x from the first point, the straight
// distance from the point before, and the two diagonals, from the first point
// and from the last. Two diagonals fix a point again without any square.
//
// Numbers are millimetres and degrees to three places with a decimal point; the
// separator is a comma, lines end as RFC 4180 asks.
func Points(w io.Writer, p sheet.Pattern) error {
	// Without this mark common spreadsheets read letters beyond ASCII wrongly;
	// with it simple programs stumble, so it stands only where it is needed.
	if !ascii(p) {
		if _, err := io.WriteString(w, "\ufeff"); err != nil {
			return err
		}
	}
	c := csv.NewWriter(w)
	c.UseCRLF = true
	rows := [][]string{{"name", "x mm", "y mm", "bevel deg", "running total along x mm", "from the point before mm", "diagonal from the first mm", "diagonal from the last mm"}}
	mm := func(v float64) string { return places(v*1000, 3) }
	for i, q := range p.Points {
		first, last, before := p.Points[0], p.Points[len(p.Points)-1], p.Points[max(i-1, 0)]
		lean := ""
		if q.HasBevel {
			lean = places(q.Bevel*180/math.Pi, 3)
		}
		rows = append(rows, []string{safe(q.Name), mm(q.X), mm(q.Y), lean, mm(q.X - first.X), mm(apart(q, before)), mm(apart(q, first)), mm(apart(q, last))})
	}
	return c.WriteAll(rows)
}

func apart(a, b sheet.PlotPoint) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// places writes a number for machines with so many digits behind the point;
// what is not finite leaves its cell empty.
func places(v float64, n int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// word is a name that a spreadsheet leaves alone: it begins with a letter and
// is no month's name, no truth value and no number with an exponent.
var (
	word     = regexp.MustCompile(`^\pL`)
	mistaken = regexp.MustCompile(`(?i)^((jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)\pL*[ ./-]*[0-9]*|true|false|nan|inf)$`)
)

// safe keeps a name from being taken for a number, a date or a formula: 1-2
// would become the first of February, and =A1 whatever stands there.
func safe(name string) string {
	if word.MatchString(name) && !mistaken.MatchString(name) {
		return name
	}
	return "point " + name
}

// ascii tells whether every name of a part's points is plain ASCII.
func ascii(p sheet.Pattern) bool {
	for _, q := range p.Points {
		for _, r := range q.Name {
			if r > 126 {
				return false
			}
		}
	}
	return true
}

// short writes a number with no more digits than it needs.
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
