package boatfolder

import (
	"bytes"
	"cmp"
	"encoding/json"
	"slices"

	"thole/internal/units"
	"thole/schema"
)

// Schema gives a published JSON Schema: "boat", "voyage", "needs", "trials" or "whatif", nil for any other
// name. Editors use them to help while a file is written; the reader checks more.
func Schema(name string) []byte {
	switch name {
	case "boat":
		return bytes.Clone(schema.Boat)
	case "voyage":
		return bytes.Clone(schema.Voyage)
	case "needs":
		return bytes.Clone(schema.Needs)
	case "trials":
		return bytes.Clone(schema.Trials)
	case "whatif":
		return bytes.Clone(schema.Whatif)
	}
	return nil
}

// rule is a node of a JSON Schema.
type rule struct {
	Ref         string           `json:"$ref,omitempty"`
	Schema      string           `json:"$schema,omitempty"`
	Title       string           `json:"title,omitempty"`
	Description string           `json:"description,omitempty"`
	Type        any              `json:"type,omitempty"`
	Enum        []any            `json:"enum,omitempty"`
	Const       any              `json:"const,omitempty"`
	Pattern     string           `json:"pattern,omitempty"`
	MinLength   int              `json:"minLength,omitempty"`
	Over        *float64         `json:"exclusiveMinimum,omitempty"`
	Minimum     *float64         `json:"minimum,omitempty"`
	Maximum     *float64         `json:"maximum,omitempty"`
	PrefixItems []*rule          `json:"prefixItems,omitempty"`
	Items       *rule            `json:"items,omitempty"`
	MinItems    int              `json:"minItems,omitempty"`
	MaxItems    int              `json:"maxItems,omitempty"`
	Properties  map[string]*rule `json:"properties,omitempty"`
	Names       *rule            `json:"propertyNames,omitempty"`
	Least       int              `json:"minProperties,omitempty"`
	Additional  any              `json:"additionalProperties,omitempty"`
	Required    []string         `json:"required,omitempty"`
	With        map[string]any   `json:"dependentRequired,omitempty"`
	AnyOf       []*rule          `json:"anyOf,omitempty"`
	AllOf       []*rule          `json:"allOf,omitempty"`
	OneOf       []*rule          `json:"oneOf,omitempty"`
	Not         *rule            `json:"not,omitempty"`
	Examples    []string         `json:"examples,omitempty"`
	Defs        map[string]*rule `json:"$defs,omitempty"`
}

// generate makes a schema from the reader's own table of keys.
func generate(title string, s shape) ([]byte, error) {
	top := ruleOf(s)
	top.Schema, top.Title = "https://json-schema.org/draft/2020-12/schema", title
	top.Defs = map[string]*rule{}
	for _, q := range quantities {
		r := &rule{Type: "string", Pattern: units.Pattern(q.of)}
		if q.kind == length {
			r = &rule{AnyOf: []*rule{r, {Const: 0}}}
		}
		if s.uses(q.kind) {
			top.Defs[q.name] = r
		}
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	err := enc.Encode(top)
	return out.Bytes(), err
}

// quantities are the kinds that are written with a unit.
var quantities = []struct {
	kind kind
	name string
	of   units.Kind
}{
	{length, "length", units.Lengths}, {mass, "mass", units.Masses}, {density, "density", units.Densities},
	{volume, "volume", units.Volumes}, {angle, "angle", units.Angles}, {share, "share", units.Shares},
	{latitude, "latitude", units.Latitudes}, {longitude, "longitude", units.Longitudes},
	{speed, "speed", units.Speeds}, {force, "force", units.Forces}, {power, "power", units.Powers},
	{duration, "time", units.Durations}, {temperature, "temperature", units.Temperatures},
	{seaWay, "way", units.Ways}, {energy, "energy", units.Energies}, {percent, "share of any size", units.Percents}, {nearShare, "share with its range", units.NearShares},
}

// uses tells whether a shape or one below it is of a kind.
func (s shape) uses(k kind) bool {
	below := func(k2 key) bool { return k2.shape.uses(k) }
	return s.kind == k || slices.ContainsFunc(s.keys, below) || slices.ContainsFunc(s.parts, below) || s.item != nil && s.item.uses(k)
}

func ruleOf(s shape) *rule {
	for _, q := range quantities {
		if q.kind == s.kind {
			return &rule{Ref: "#/$defs/" + q.name}
		}
	}
	zero, least, most := 0.0, 1.0, 1e6
	longestTrip, longestIll := float64(mostDays), float64(longestSick)
	switch s.kind {
	case filename:
		return &rule{Type: "string", MinLength: 1, Not: &rule{Pattern: `^/|\\|(?:^|/)\.\.(?:/|$)`}}
	case days:
		longest := 1000.0
		return &rule{AnyOf: []*rule{{Type: "integer", Minimum: &least, Maximum: &longest}, {Type: "string", Pattern: `^ *[0-9]+ *(?:days?)? *$`}}}
	case everyDays:
		longest := 1000.0
		return &rule{AnyOf: []*rule{{Type: "integer", Minimum: &least, Maximum: &longest}, {Type: "string", Pattern: `^ *(?:[Ee][Vv][Ee][Rr][Yy] +)?[0-9]+ *(?:days?)? *$`}}}
	case whole:
		return &rule{Type: "integer", Minimum: &least, Maximum: &most}
	case dayOfTrip:
		most = mostDays
		return &rule{Type: "integer", Minimum: &zero, Maximum: &most}
	case number:
		return &rule{Type: "number", Over: &zero, Maximum: &most}
	case yesNo:
		return &rule{Enum: []any{true, false, "yes", "no", "Yes", "No", "YES", "NO"}}
	case choice:
		r := &rule{}
		for _, c := range s.choices {
			r.Enum = append(r.Enum, c)
		}
		return r
	case date:
		return &rule{Type: "string", Pattern: `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`}
	case oneOrMore:
		return &rule{AnyOf: []*rule{ruleOf(*s.item), {Type: "array", Items: ruleOf(*s.item), MaxItems: mostTogether}}}
	case changeOfMass:
		return &rule{AnyOf: []*rule{{Ref: "#/$defs/mass"}, {Type: "string", Pattern: sharePattern}}}
	case changeOfShare:
		return &rule{Type: "string", Pattern: sharePattern}
	case changeOfDays:
		return &rule{AnyOf: []*rule{{Type: "integer"}, {Type: "string", Pattern: daysPattern}}}
	case changeOfDate:
		return &rule{Type: "string", Pattern: datePattern}
	case changeOfTime:
		return &rule{Type: "string", Pattern: timePattern}
	case clock:
		return &rule{Type: "string", Pattern: clockPattern}
	case onDay:
		return &rule{AnyOf: []*rule{{Type: "integer", Minimum: &least, Maximum: &longestTrip}, {Type: "string", Pattern: onDayPattern}}}
	case daysOrNone:
		return &rule{AnyOf: []*rule{{Type: "integer", Minimum: &zero, Maximum: &longestIll}, {Type: "string", Pattern: nonePattern}}}
	case tuple:
		r := &rule{Type: "array", MinItems: len(s.parts), MaxItems: len(s.parts)}
		for _, p := range s.parts {
			r.PrefixItems = append(r.PrefixItems, described(p))
		}
		return r
	case listOf:
		return &rule{Type: "array", Items: ruleOf(*s.item), MaxItems: cmp.Or(s.most, mostItems)}
	case keyed:
		return keysRule(s)
	case namedPlace:
		return &rule{Type: "object", Names: &rule{MinLength: 1}, Least: 1, Additional: ruleOf(*s.item)}
	case crewPlace:
		return &rule{AnyOf: []*rule{
			ruleOf(shape{kind: tuple, parts: s.parts}), keysRule(shape{keys: s.keys}), {Const: "none"},
		}}
	}
	return &rule{Type: []string{"string", "number", "boolean"}, MinLength: 1}
}

func described(k key) *rule {
	r := ruleOf(k.shape)
	r.Description = k.about
	switch k.shape.kind {
	case words, filename, length, mass, density, volume, angle, share, date, latitude, longitude, speed, force, power, duration, temperature, everyDays, seaWay, energy, percent, nearShare, clock, onDay, daysOrNone:
		r.Examples = []string{k.example}
	}
	return r
}

func keysRule(s shape) *rule {
	r := &rule{Type: "object", Properties: map[string]*rule{}, Additional: false}
	for _, k := range s.keys {
		r.Properties[k.name] = described(k)
		if k.need {
			r.Required = append(r.Required, k.name)
		}
		if others := s.with[k.name]; len(others) > 0 {
			if r.With == nil {
				r.With = map[string]any{}
			}
			r.With[k.name] = others
		}
	}
	for _, group := range s.either {
		one := &rule{}
		for _, name := range group {
			one.OneOf = append(one.OneOf, &rule{Required: []string{name}})
		}
		r.AllOf = append(r.AllOf, one)
	}
	return r
}
