package units

import (
	"regexp"
	"strings"
)

// Kind is a kind of quantity that people write.
type Kind int

// The kinds of quantities.
const (
	Lengths Kind = iota
	Masses
	Densities
	Volumes
	Angles
	Shares
	Latitudes
	Longitudes
	Speeds
	Forces
	Powers
	Durations
	Temperatures
	Ways
	Energies
	Percents   // shares that may be more than the whole
	NearShares // shares that may carry a +-
)

// The number's pattern is looser than the parser's: it is for an editor's
// help, and must pass all that the parser passes.
const (
	numberPattern = `(?:[0-9]+ +[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+ *[½¼¾⅛⅜⅝⅞]|[½¼¾⅛⅜⅝⅞]|[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?|[0-9]+\.)`
	sixtyPattern  = `[-+0-9./ eE½¼¾⅛⅜⅝⅞]+(?:°|deg|['′’])?`
)

// Pattern is a regular expression that the writing of a kind of quantity fits,
// for a JSON Schema. All that the parser accepts in plain spaces fits it, with
// its tolerance; not all that fits is right.
func Pattern(k Kind) string {
	switch k {
	case Lengths:
		number := `[-+−]? *` + numberPattern
		length := `(?:` + number + ` *` + names(lengthUnits) + `(?: *` + numberPattern + ` *` + names(lengthUnits) + `)?` +
			`|[-−]?[0-9]+-[0-9]+-[0-9]+[-+−]?|[-+−]? *[0.]+)`
		return spread(length)
	case Masses:
		return spread(plain(massUnits))
	case Densities:
		return spread(plain(densityUnits))
	case Volumes:
		return spread(plain(volumeUnits))
	case Angles:
		return spread(plain(angleUnits))
	case Speeds:
		return spread(plain(speedUnits))
	case Forces:
		return spread(plain(forceUnits))
	case Powers:
		return spread(plain(powerUnits))
	case Durations:
		return spread(plain(durationUnits))
	case Temperatures:
		return `^ *` + plain(temperatureUnits) + ` *$`
	case Ways:
		return spread(plain(wayUnits))
	case Energies:
		return spread(plain(energyUnits))
	case NearShares:
		return `^ *` + numberPattern + ` *% *(?:(?:\+/?-|±) *` + numberPattern + ` *% *)?$`
	case Shares, Percents:
		return `^ *` + numberPattern + ` *% *$`
	case Latitudes:
		return `^ *(?:` + sixtyPattern + ` *){1,3}["″”]? *[NSns] *$`
	case Longitudes:
		return `^ *(?:` + sixtyPattern + ` *){1,3}["″”]? *[EWew] *$`
	}
	return ``
}

func plain(table []unit) string {
	return `[-+−]? *` + numberPattern + ` *` + names(table)
}

func spread(quantity string) string {
	return `^ *` + quantity + ` *(?:(?:\+/?-|±) *(?:` + numberPattern + ` *%|` + quantity + `) *)?$`
}

func names(table []unit) string {
	var all []string
	for _, u := range table {
		for _, name := range u.names {
			all = append(all, regexp.QuoteMeta(name))
		}
	}
	return `(?:` + strings.Join(all, `|`) + `)`
}
