package boatfolder

import (
	"errors"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"thole/internal/model"
	"thole/internal/units"
)

// checkScalar reads one value by its kind.
func (r *reader) checkScalar(n *node, name string, s shape, example string) {
	var err error
	text := n.text
	switch s.kind {
	case words, filename, anyText:
		r.checkWords(n, name, example)
	case changeOfMass, changeOfShare, changeOfDays, changeOfDate, changeOfTime:
		err = checkChange(text, s.kind)
	case namesByMark:
		r.checkNames(n, name, example)
	case sides:
		r.checkSides(n, name, example)
	case length:
		err = quantity(n, units.ParseLength)
	case mass:
		err = quantity(n, units.ParseMass)
		if err == nil && n.number <= 0 {
			r.fault(n.at, text, write(name, example), "%s %q is not above nothing", name, shorten(text))
		}
	case density:
		err = quantity(n, units.ParseDensity)
		if err == nil && !(n.number >= 900 && n.number <= 1300) {
			r.fault(n.at, text, "fresh water is 1000 kg/m3, the sea about 1025 kg/m3", "%s %q is not the density of water", name, shorten(text))
		}
	case volume:
		err = quantity(n, units.ParseVolume)
		if err == nil && n.number <= 0 {
			r.fault(n.at, text, write(name, example), "%s %q is not above nothing", name, shorten(text))
		}
	case angle:
		err = quantity(n, units.ParseAngle)
	case share:
		n.number, err = units.ParseShare(text)
	case latitude:
		err = quantity(n, units.ParseLatitude)
	case longitude:
		err = quantity(n, units.ParseLongitude)
	case days:
		var d int
		d, err = units.ParseDays(text)
		n.number = float64(d)
	case speed:
		err = quantity(n, units.ParseSpeed)
	case force:
		err = quantity(n, units.ParseForce)
	case power:
		err = quantity(n, units.ParsePower)
	case duration:
		err = quantity(n, units.ParseDuration)
	case temperature:
		var t units.Temperature
		t, err = units.ParseTemperature(text)
		n.number = float64(t)
	case everyDays:
		var d int
		d, err = units.ParseEvery(text)
		n.number = float64(d)
	case seaWay:
		err = quantity(n, units.ParseWay)
		if err == nil && n.number <= 0 {
			r.fault(n.at, text, write(name, example), "%s %q is not above nothing", name, shorten(text))
		}
	case energy:
		err = quantity(n, units.ParseEnergy)
		if err == nil && n.number <= 0 {
			r.fault(n.at, text, write(name, example), "%s %q is not above nothing", name, shorten(text))
		}
	case percent:
		n.number, err = units.ParsePercent(text)
	case nearShare:
		n.number, n.half, n.given, err = units.ParseNearShare(text)
	case clock:
		_, _, err = HoursOf(text)
	case onDay, daysOrNone:
		read := dayOn
		if s.kind == daysOrNone {
			read = sickDays
		}
		var d int
		d, err = read(text)
		n.number = float64(d)
	case number, whole:
		err = r.checkNumber(n, name, s.kind, example)
	case dayOfTrip:
		err = r.checkDay(n, name, example)
	case yesNo:
		r.checkYesNo(n, name)
	case choice:
		if !slices.Contains(s.choices, text) {
			r.fault(n.at, text, meant(text, s.choices, "words here"), "%s %q is not known", name, shorten(text))
		}
	case date:
		r.checkDate(n, name, example)
	}
	r.quantityFault(n.at, name, n.quoted, err)
}

func quantity[Q ~float64](n *node, parse func(string) (Q, error)) error {
	value, half, given, err := units.WithTolerance(n.text, parse)
	n.number, n.half, n.given = float64(value), float64(half), given
	return err
}

// quantityFault tells an error of units at its very place in the file.
func (r *reader) quantityFault(at model.Source, name string, quoted bool, err error) {
	var e *units.Error
	if !errors.As(err, &e) {
		return
	}
	at.Column += utf8.RuneCountInString(e.Text[:e.Offset])
	if quoted {
		at.Column++
	}
	r.fault(at, e.Text, e.Mend, "%s %q %s", name, shorten(e.Text), e.Say)
}

// longestWords bounds free text, in bytes; a name is bounded more tightly by
// where it is shown.
const longestWords = 4000

func (r *reader) checkWords(n *node, name, example string) {
	if strings.TrimSpace(n.text) == "" {
		r.fault(n.at, "", write(name, example), "%s is empty", name)
		return
	}
	r.checkText(n.at, name, n.text)
}

// checkText refuses what cannot be shown.
func (r *reader) checkText(at model.Source, name, text string) {
	if len(text) > longestWords {
		r.fault(at, shorten(text), "make it shorter", "%s is longer than %d letters", name, longestWords)
		return
	}
	for _, c := range text {
		if unicode.IsControl(c) && c != '\n' && c != '\t' || c == utf8.RuneError {
			r.fault(at, shorten(text), "write it in plain letters", "%s has a character that cannot be shown", name)
			return
		}
	}
}

func (r *reader) checkNumber(n *node, name string, k kind, example string) error {
	v, err := units.ParseNumber(n.text)
	if err != nil {
		return err
	}
	n.number = v
	const most = 1e6
	switch {
	case k == whole && (v != float64(int(v)) || v < 1 || v > most):
		r.fault(n.at, n.text, write(name, example), "%s %q is not a whole number, 1 or more", name, shorten(n.text))
	case v <= 0 || v > most:
		r.fault(n.at, n.text, write(name, example), "%s %q is not a number above nothing", name, shorten(n.text))
	}
	return nil
}

// checkDay reads a day of the trip, the departure being 0.
func (r *reader) checkDay(n *node, name, example string) error {
	v, err := units.ParseNumber(n.text)
	if err != nil {
		return err
	}
	if n.number = v; v != math.Trunc(v) || v < 0 || v > mostDays {
		r.fault(n.at, n.text, write(name, example), "%s %q is not a day of the trip, from 0", name, shorten(n.text))
	}
	return nil
}

// mostDays bounds the days of a trip, as in units.ParseDays.
const mostDays = 1000

func (r *reader) checkYesNo(n *node, name string) {
	switch strings.ToLower(n.text) {
	case "yes", "true":
		n.number = 1
	case "no", "false":
	default:
		r.fault(n.at, n.text, write(name, "yes")+" or no", "%s %q is neither yes nor no", name, shorten(n.text))
	}
}

func (r *reader) checkDate(n *node, name, example string) {
	day, err := time.Parse(time.DateOnly, n.text)
	if err != nil {
		r.fault(n.at, n.text, write(name, example)+", year-month-day", "%s %q is not a date", name, shorten(n.text))
	} else if day.Year() < 1900 || day.Year() > 2200 {
		r.fault(n.at, n.text, "write a year from 1900 to 2200", "%s %q is too far away", name, shorten(n.text))
	}
}

func shorten(text string) string { return units.Shorten(text) }
