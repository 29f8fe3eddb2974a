package units

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// LengthLike writes a length in the way of a text that stands in a file: its unit, its decimals or
// fractions, its sign for a decimal, and the +- behind it, as they are. A text without a unit (0) gives metres or,
// with feet, feet-inches-eighths.
//
// Out: within good of the length, in decimals as many as that takes (six at most) and never fewer than the text has;
// in feet-inches-eighths and fractions of an inch within 1/32 in
func LengthLike(text string, l, good Length, s System) string {
	value, behind := cutTolerance(text)
	switch {
	case eighthsForm.MatchString(value):
		return FeetInchesEighths(l) + behind
	case bareForm.MatchString(value):
		if s == Feet {
			return FeetInchesEighths(l) + behind
		}
		return decimals("0.00", float64(l), float64(good)) + " m" + behind
	}
	number, unit, ok := oneQuantity(value)
	if !ok { // fractions, feet and inches
		return sixteenths(l) + behind
	}
	for _, u := range lengthUnits {
		for _, name := range u.names {
			if name == strings.TrimSpace(unit) {
				one := u.mul / u.div
				return decimals(number, float64(l)/one, float64(good)/one) + unit + behind
			}
		}
	}
	return sixteenths(l) + behind
}

// MassLike writes a mass in the way of a text that stands in a file: its unit, and the +- behind it, as it is.
//
// Out: within good of the mass, in as many decimals as that takes and never fewer than the text has
func MassLike(text string, m, good Mass) string {
	value, behind := cutTolerance(text)
	number, unit, ok := oneQuantity(value)
	if !ok {
		number, unit = "0.0", " kg"
		if fields := strings.Fields(value); len(fields) > 1 {
			unit = " " + fields[len(fields)-1]
		}
	}
	for _, u := range massUnits {
		for _, name := range u.names {
			if name == strings.TrimSpace(unit) {
				one := u.mul / u.div
				return decimals(number, float64(m)/one, float64(good)/one) + unit + behind
			}
		}
	}
	return decimals("0.0", float64(m), float64(good)) + " kg" + behind
}

// NumberLike writes a number with at least the decimals of another, and its decimal comma.
//
// Out: within good of the number
func NumberLike(text string, v, good float64) string {
	return decimals(strings.TrimSpace(text), v, good)
}

// TimesLike writes a quantity of any unit so many times as large, in the way of the text that it stands in: its unit, at least its decimals
// and the +- behind it, as they are. A text that is no quantity comes back as it is.
//
// Out: within a thousandth of itself
func TimesLike(text string, times float64) string {
	value, behind := cutTolerance(text)
	number, unit, ok := oneQuantity(value)
	if !ok { // a fraction
		s, err := newScan("quantity", value, "")
		if err != nil {
			return text
		}
		sign := s.sign()
		v, err := s.number()
		if err != nil {
			return text
		}
		return decimals("0.0", sign*v*times, math.Abs(v*times)*1e-3) + " " + strings.TrimSpace(s.rest()) + behind
	}
	v, err := strconv.ParseFloat(strings.NewReplacer(",", ".", "−", "-").Replace(number), 64)
	if err != nil {
		return text
	}
	return decimals(number, v*times, math.Abs(v*times)*1e-3) + unit + behind
}

var (
	bareForm     = regexp.MustCompile(`^\s*[-−+]?0*[.,]?0*\s*$`)
	quantityForm = regexp.MustCompile(`^\s*([-−+]?[0-9]*[.,]?[0-9]*)(\s*[^0-9\s.,/+−-][^0-9]*?)\s*$`)
)

// cutTolerance parts a quantity from the +- behind it, blank and all.
func cutTolerance(text string) (value, behind string) {
	at := -1
	for _, sign := range []string{"+-", "±", "+/-"} {
		if i := strings.Index(text, sign); i > 0 && (at < 0 || i < at) {
			at = i
		}
	}
	if at < 0 {
		return strings.TrimSpace(text), ""
	}
	value = strings.TrimRight(text[:at], " \t")
	return strings.TrimSpace(value), text[len(value):]
}

// oneQuantity parts a decimal number from its unit, the blank between with the unit.
func oneQuantity(value string) (number, unit string, ok bool) {
	m := quantityForm.FindStringSubmatch(value)
	if m == nil || !strings.ContainsAny(m[1], "0123456789") {
		return "", "", false
	}
	return m[1], m[2], true
}

// decimals writes a number with the decimals of another, or more where it takes more to come within good.
func decimals(like string, v, good float64) string {
	places := 0
	comma := strings.Contains(like, ",")
	if i := strings.IndexAny(like, ".,"); i >= 0 {
		places = len(like) - i - 1
	}
	text := fixed(v, places)
	for ; places < 6; places++ {
		text = fixed(v, places)
		if back, err := strconv.ParseFloat(text, 64); err == nil && math.Abs(back-v) <= good {
			break
		}
	}
	if strings.HasPrefix(like, "+") && v >= 0 {
		text = "+" + text
	}
	if comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

// sixteenths writes feet and inches to the sixteenth, whatever the length.
func sixteenths(l Length) string {
	n := int64(math.Round(math.Abs(float64(l)) / inch * 16))
	sign := ""
	if l < 0 && n > 0 {
		sign = "-"
	}
	feet, rest := n/192, n%192
	text := strconv.FormatInt(rest/16, 10)
	if part, under := rest%16, int64(16); part > 0 {
		for part%2 == 0 {
			part, under = part/2, under/2
		}
		if rest/16 > 0 {
			text += " "
		} else {
			text = ""
		}
		text += strconv.FormatInt(part, 10) + "/" + strconv.FormatInt(under, 10)
	}
	text += " in"
	if feet > 0 {
		return sign + strconv.FormatInt(feet, 10) + " ft " + text
	}
	return sign + text
}
