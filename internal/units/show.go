package units

import (
	"fmt"
	"math"
	"strconv"
)

// String names the system as boat.yaml does.
func (s System) String() string {
	if s == Feet {
		return "feet"
	}
	return "metric"
}

// Fine is the scale for small lengths: drafts, freeboards, righting arms.
func (s System) Fine() Scale {
	if s == Feet {
		return Scale{Unit: "in", Factor: 1 / inch, Places: 2}
	}
	return Scale{Unit: "mm", Factor: 1000}
}

// Coarse is the scale for places along the boat.
func (s System) Coarse() Scale {
	if s == Feet {
		return Scale{Unit: "ft", Factor: 1 / (12 * inch), Places: 2}
	}
	return Scale{Unit: "m", Factor: 1, Places: 3}
}

// Heavy is the scale for the boat's weight and that of her stores.
func (s System) Heavy() Scale {
	if s == Feet {
		return Scale{Unit: "lb", Factor: 1 / pound}
	}
	return Scale{Unit: "kg", Factor: 1}
}

// Pull is the scale for forces that a hand or a line feels.
func (s System) Pull() Scale {
	if s == Feet {
		return Scale{Unit: "lbf", Factor: 1 / (pound * gravity), Places: 1}
	}
	return Scale{Unit: "N", Factor: 1}
}

// Turning is the scale for moments.
func (s System) Turning() Scale {
	if s == Feet {
		return Scale{Unit: "lbf·ft", Factor: 1 / (pound * gravity * 12 * inch)}
	}
	return Scale{Unit: "N·m", Factor: 1}
}

// Show writes an SI number on the scale: 38 mm.
func (s Scale) Show(si float64) string {
	return fixed(si*s.Factor, s.Places) + " " + s.Unit
}

// fixed writes a number to so many places, never as -0.
func fixed(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	if zero, err := strconv.ParseFloat(text, 64); err == nil && zero == 0 {
		return strconv.FormatFloat(0, 'f', places, 64)
	}
	return text
}

// Length writes a length for people: 38 mm, 3.420 m, 12.35 m; or 1 1/2 in,
// 21 ft 6 1/8 in.
//
// Good to: half a millimetre under 10 m, 5 mm over; 1/32 in under a foot, 1/16 over
func (s System) Length(l Length) string {
	if s == Feet {
		return feetAndInches(float64(l))
	}
	switch m := math.Abs(float64(l)); {
	case m < 0.9995:
		return fixed(float64(l)*1000, 0) + " mm"
	case m < 9.9995:
		return fixed(float64(l), 3) + " m"
	}
	return fixed(float64(l), 2) + " m"
}

func feetAndInches(m float64) string {
	parts := int64(8)
	if math.Abs(m) < 12*inch {
		parts = 16
	}
	n := int64(math.Round(math.Abs(m) / inch * float64(parts)))
	sign := ""
	if m < 0 && n > 0 {
		sign = "-"
	}
	feet, in, part := n/(12*parts), n/parts%12, n%parts
	inches := strconv.FormatInt(in, 10)
	if part > 0 {
		under := parts
		for part%2 == 0 {
			part, under = part/2, under/2
		}
		inches = fmt.Sprintf("%d %d/%d", in, part, under)
		if in == 0 {
			inches = fmt.Sprintf("%d/%d", part, under)
		}
	}
	if feet == 0 {
		return sign + inches + " in"
	}
	if in == 0 && part == 0 {
		return fmt.Sprintf("%s%d ft", sign, feet)
	}
	return fmt.Sprintf("%s%d ft %s in", sign, feet, inches)
}

// Mass writes a mass for people: 350 g, 2.4 kg, 620 kg; or 3.5 lb, 1367 lb.
func (s System) Mass(m Mass) string {
	v, unit := float64(m), "kg"
	if s == Feet {
		v, unit = v/pound, "lb"
	} else if math.Abs(v) < 0.9995 {
		return fixed(v*1000, 0) + " g"
	}
	if math.Abs(v) < 9.95 {
		return fixed(v, 1) + " " + unit
	}
	return fixed(v, 0) + " " + unit
}

// Angle writes an angle for people, in degrees: 12.3 deg.
func (s System) Angle(a Angle) string {
	return fixed(float64(a)*180/math.Pi, 1) + " deg"
}

// Density writes a density for people: 1025 kg/m3, 64.0 lb/ft3.
func (s System) Density(d Density) string {
	if s == Feet {
		return fixed(float64(d)*cubicFoot/pound, 1) + " lb/ft3"
	}
	return fixed(float64(d), 0) + " kg/m3"
}

// Volume writes a volume for people: 30 L, 1.25 m3; or 1.06 ft3.
func (s System) Volume(v Volume) string {
	if s == Feet {
		return fixed(float64(v)/cubicFoot, 2) + " ft3"
	}
	switch litres := float64(v) * 1000; {
	case math.Abs(litres) < 9.95:
		return fixed(litres, 1) + " L"
	case math.Abs(litres) < 999.5:
		return fixed(litres, 0) + " L"
	}
	return fixed(float64(v), 2) + " m3"
}
