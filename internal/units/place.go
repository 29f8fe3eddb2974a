package units

import (
	"fmt"
	"math"
	"strings"
)

// ParseLatitude reads a latitude: 16.886 N, 16 53.2 N, 16 53 10 S, 16° 53.2' N.
//
// Out: radians, north positive, at most a quarter turn
func ParseLatitude(text string) (Angle, error) {
	return parsePlace("latitude", text, "16 53.2 N", "N", "S", 90)
}

// ParseLongitude reads a longitude: 24.988 W, 24 59.3 W, 24° 59' 17" E.
//
// Out: radians, east positive, at most half a turn
func ParseLongitude(text string) (Angle, error) {
	return parsePlace("longitude", text, "24 59.3 W", "E", "W", 180)
}

// sixty are the signs that may stand behind degrees, minutes and seconds.
var sixty = [3][]string{{"°", "deg"}, {"'", "′", "’"}, {"\"", "″", "”"}}

func parsePlace(kind, text, example, plus, minus string, most float64) (Angle, error) {
	s, err := newScan(kind, text, example)
	if err != nil {
		return 0, err
	}
	degrees, part := 0.0, 1.0
	last := false
	for i := 0; i < 3; i++ {
		if i > 0 && (digits(s.rest()) == 0 || last) {
			break
		}
		at := s.at
		v, err := s.number()
		if err != nil {
			return 0, err
		}
		if i > 0 && v >= 60 {
			return 0, s.fail(at, "has 60 minutes or seconds or more", "carry them, and write it like "+example)
		}
		last = v != math.Trunc(v)
		s.take(sixty[i]...)
		s.skip()
		degrees += v / part
		part *= 60
	}
	if degrees > most {
		return 0, s.fail(0, fmt.Sprintf("is more than %.0f degrees", most), "write it like "+example)
	}
	sign := 0.0
	switch {
	case s.take(plus, strings.ToLower(plus)):
		sign = 1
	case s.take(minus, strings.ToLower(minus)):
		sign = -1
	default:
		return 0, s.fail(s.at, fmt.Sprintf("does not say %s or %s", plus, minus), "write it like "+example)
	}
	return Angle(sign * degrees * math.Pi / 180), s.done()
}
