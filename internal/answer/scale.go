package answer

import (
	"math"
	"strconv"
	"strings"

	"thole/internal/units"
)

// counted are the units of margins that are counted and not measured, with what one is called. Such a margin is a
// whole number and has no spread.
var counted = map[string]string{"losses": "loss", "things": "thing", "wishes": "wish"}

// Counted tells whether a margin in a unit is a whole number, and what one of it is called.
func Counted(unit string) (one string, is bool) {
	one, is = counted[unit]
	return one, is
}

// scaleOf is how a margin's unit is shown to people: every unit that a margin may bear stands here or in counted.
func scaleOf(unit string, sys units.System) units.Scale {
	switch unit {
	case "m":
		return sys.Fine()
	case "kg":
		return sys.Heavy()
	case "rad":
		return units.Scale{Unit: "deg", Factor: 180 / math.Pi, Places: 1}
	case "m3":
		return units.Scale{Unit: "L", Factor: 1000}
	case "d":
		return units.Scale{Unit: "days", Factor: 1}
	}
	return units.Scale{Unit: unit, Factor: 1}
}

// ShownChange writes the change of a margin with its sign, in units for people.
//
// Out: "+12 mm", "−0.4 mm", "−0.17 in", "+1 loss"; "0" for one too small to be written
func ShownChange(change float64, unit string, sys units.System) string {
	scale := scaleOf(unit, sys)
	v := math.Abs(change * scale.Factor)
	places := scale.Places
	one, whole := Counted(unit)
	switch {
	case whole:
		places = 0
		if math.Round(v) == 1 {
			scale.Unit = one
		}
	case v < 10 && places < 2:
		places++
	}
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(text, "0.") == "" {
		return "0"
	}
	sign := "+"
	if change < 0 {
		sign = "−"
	}
	return strings.TrimRight(sign+text+" "+scale.Unit, " ")
}
