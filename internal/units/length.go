package units

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// The factors are exact by definition.
//
// Source: NIST Special Publication 811 (2008), Appendix B.8.
var lengthUnits = []unit{
	{1, 1000, []string{"mm"}},
	{1, 100, []string{"cm"}},
	{1, 1, []string{"m", "metre", "metres", "meter", "meters"}},
	{3048, 10000, []string{"ft", "foot", "feet", "'", "′", "’"}},
	{254, 10000, []string{"in", "inch", "inches", "\"", "″", "”", "''"}},
}

// Rows of lengthUnits that may follow one another.
const (
	feetRow   = 3
	inchesRow = 4
)

const inch = 0.0254

var (
	eighthsForm = regexp.MustCompile(`^([-−]?)(\d{1,6})-(\d{1,6})-(\d{1,6})([-−+]?)$`)
	shortForm   = regexp.MustCompile(`^[-−]?\d{1,6}-\d{1,6}$`)
)

// ParseLength reads a length: 9 mm, 0.42 m, 21 ft 6 in, 6' 3 1/2", 2-3-4.
//
// 2-3-4 is feet-inches-eighths; + or - behind it is a sixteenth of an inch more
// or less. 0 alone is a length; any other bare number is not. A leading minus
// is for the whole.
//
// Error: an *Error with the place in the text
// Source: feet-inches-eighths as in published tables of offsets; the sixteenth
// is common practice, no source
func ParseLength(text string) (Length, error) {
	s, err := newScan("length", text, "0.42 m or 9 mm")
	if err != nil {
		return 0, err
	}
	trimmed := strings.TrimSpace(text)
	if m := eighthsForm.FindStringSubmatch(trimmed); m != nil {
		return s.eighths(m)
	}
	if shortForm.MatchString(trimmed) {
		return 0, s.fail(s.at, "has two figures of feet-inches-eighths", fmt.Sprintf("write %s-0, or a unit", trimmed))
	}
	first := s.at
	sign := s.sign()
	start := s.at
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	if s.end() {
		if v == 0 && strings.Trim(trimmed, "-+−0.") == "" {
			return 0, nil
		}
		return 0, s.fail(first, "has no unit", fmt.Sprintf("write %s m, or %[1]s mm", trimmed))
	}
	i, err := s.unit(lengthUnits)
	if err != nil {
		return 0, err
	}
	total := v * lengthUnits[i].mul / lengthUnits[i].div
	if i == feetRow && !s.end() {
		if v != math.Trunc(v) {
			return 0, s.fail(start, "has a part of a foot and inches too", "write whole feet before inches")
		}
		in, err := s.inches()
		if err != nil {
			return 0, err
		}
		total = (v*12 + in) * 254 / 10000
	}
	return Length(sign * total), s.done()
}

// inches reads the inches behind feet.
func (s *scan) inches() (float64, error) {
	at := s.at
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	if v >= 12 {
		return 0, s.fail(at, "has 12 inches or more behind feet", "carry them into the feet")
	}
	if s.end() {
		return 0, s.fail(s.at, "has no unit behind its second number", "write it like 21 ft 6 in")
	}
	unitAt := s.at
	i, err := s.unit(lengthUnits)
	if err != nil {
		return 0, err
	}
	if i != inchesRow {
		return 0, s.fail(unitAt, "has something else than inches behind feet", "write it like 21 ft 6 in")
	}
	return v, nil
}

func (s *scan) eighths(m []string) (Length, error) {
	feet, _ := strconv.Atoi(m[2])
	in, _ := strconv.Atoi(m[3])
	eighths, _ := strconv.Atoi(m[4])
	at := s.at + len(m[1]) + len(m[2]) + 1
	if in >= 12 {
		return 0, s.fail(at, "has 12 inches or more in the middle", "feet-inches-eighths: inches go from 0 to 11")
	}
	at += len(m[3]) + 1
	if eighths >= 8 {
		return 0, s.fail(at, "has 8 eighths or more at its end", "feet-inches-eighths: eighths go from 0 to 7")
	}
	sixteenths := (feet*12+in)*16 + eighths*2
	switch m[5] {
	case "+":
		sixteenths++
	case "-", "−":
		sixteenths--
	}
	if m[1] != "" {
		sixteenths = -sixteenths
	}
	return Length(float64(sixteenths) * 254 / 160000), nil
}

// FeetInchesEighths writes a length as builders' tables do, 2-3-4, to the
// nearest sixteenth of an inch; an odd sixteenth has + behind it.
//
// Good to: 1/32 in; ParseLength reads it back (TestEighthsRoundTrip)
func FeetInchesEighths(l Length) string {
	n := int64(math.Round(float64(l) / inch * 16))
	sign, plus := "", ""
	if n < 0 {
		sign, n = "-", -n
	}
	if n%2 == 1 {
		plus = "+"
	}
	return fmt.Sprintf("%s%d-%d-%d%s", sign, n/192, n/16%12, n/2%8, plus)
}
