package boatfolder

import "slices"

// The tables of keys: what boat.yaml and voyage.yaml may hold (trialkeys.go has trials.yaml's). The reader
// checks against them and the schemas are made from them.

func text(name, example, about string) key {
	return key{name: name, shape: shape{kind: words}, example: example, about: about}
}

func of(k kind, name, example, about string) key {
	return key{name: name, shape: shape{kind: k}, example: example, about: about}
}

func oneOf(name, about string, choices ...string) key {
	return key{name: name, shape: shape{kind: choice, choices: choices}, example: choices[0], about: about}
}

func needed(k key) key {
	k.need = true
	return k
}

func lists(name, about string, item shape) key {
	return key{name: name, shape: shape{kind: listOf, item: &item}, example: "a list, each line after a hyphen", about: about}
}

func tupled(name, example, about string, parts ...key) key {
	return key{name: name, shape: shape{kind: tuple, parts: parts}, example: example, about: about}
}

// solids lists tables of points; each costs time to read.
func solids(name, about string, item shape) key {
	k := lists(name, about, item)
	k.shape.most = 20
	return k
}

var point = []key{
	of(length, "x", "3.10 m", "aft of station 0"),
	of(length, "y", "0 m", "to starboard of the centre line"),
	of(length, "z", "0.42 m", "above the base line"),
}

func pointAt(about string) key { return tupled("at", "[3.10 m, 0 m, 0.42 m]", about, point...) }

var knownKey = oneOf("known", "how the mass came to be known; an estimated one is good to 15 %, a calculated one to 10 %, a weighed one to 2 %, unless +- says otherwise", "estimated", "weighed", "calculated")

var boatShape = shape{kind: keyed, keys: slices.Concat([]key{
	needed(text("boat", "Sanderling", "her name")),
	text("about", "a decked boat for one", "a sentence or two"),
	oneOf("units", "how answers are shown; metric if left out", "metric", "feet"),
	of(density, "water", "1025 kg/m3", "density of the water she floats in; sea water if left out"),
	needed(key{name: "hull", shape: hullShape, example: "{offsets: offsets.csv}", about: "her shape"}),
	{name: "deck", shape: shape{kind: keyed, keys: []key{
		needed(of(length, "camber", "60 mm", "how much higher the deck's centre is than its edge, at her widest")),
	}}, example: "{camber: 60 mm}", about: "flat between the sheers if left out"},
	solids("cabins", "watertight solids that stand on the deck", cabinShape),
	solids("wells", "solids taken out of the hull", wellShape),
	lists("compartments", "closed parts of the inside", compartmentShape),
	lists("openings", "hatches, vents and holes", openingShape),
	lists("pumps", "bilge pumps", pumpShape),
	lists("weights", "fixed things aboard", fixedShape),
	lists("marks", "heights at which the water should stand", shape{kind: keyed, keys: []key{
		needed(text("name", "bow", "its name")),
		needed(tupled("at", "[0.4 m, 0.30 m]", "where it is, x and z",
			of(length, "x", "0.4 m", "aft of station 0"), of(length, "z", "0.30 m", "above the base line"))),
	}}),
	{name: "limits", shape: limitsShape, example: "{freeboard: 250 mm}", about: "what you ask of her"},
	{name: "loft", shape: loftShape, example: "{planking: lapped, strakes: 8}", about: "how she is to be built: what is sawn, and from what"},
	few(20, lists("water makers", "what makes sea water fresh", makerShape)),
}, underwayKeys)}

var loftShape = shape{kind: keyed, keys: []key{
	oneOf("planking", "how the skin is made: lapped planks, panels between knuckles, or diagonal strips; panels for a hull with knuckles and lapped for a round one if left out", "lapped", "panels", "strips"),
	of(whole, "strakes", "8", "planks on a side of a lapped skin; 8 if left out"),
	of(length, "lap", "18 mm", "how far one plank covers the next; 18 mm if left out"),
	of(length, "strip", "120 mm", "width of a diagonal strip; 120 mm if left out"),
	of(angle, "angle", "45 deg", "of the strips to the keel; 45 deg if left out"),
	of(whole, "layers", "2", "layers of strips; 2 if left out"),
	lists("moulds", "where moulds stand, aft of station 0; at the measured stations if left out", shape{kind: length}),
	of(length, "mould thickness", "18 mm", "of the moulds' material; 18 mm if left out"),
	of(length, "stringer", "20 mm", "of stringers that lie on the moulds under the planking; none if left out"),
	of(length, "set-up line", "1.30 m", "height of the line that all moulds bear; above the sheer if left out"),
	of(length, "siding", "40 mm", "breadth of stem and stern post; 40 mm if left out"),
	tupled("sheet", "[2440 mm, 1220 mm]", "a sheet of plywood; 2440 mm by 1220 mm if left out",
		of(length, "length", "2440 mm", "along the grain"), of(length, "width", "1220 mm", "across the grain")),
	of(number, "scarf", "8", "length of a scarf over the thickness; 8 if left out"),
}}

var hullShape = shape{kind: keyed, keys: []key{
	of(filename, "cuts", "cuts.csv", "a table of the half model's cuts, in the model's millimetres"),
	of(filename, "offsets", "offsets.csv", "a table of full-size points, or a classic table of offsets"),
	of(number, "scale", "8", "with cuts: 8 for a model at 1:8"),
	of(length, "tolerance", "0.5 mm", "how well a reading is known, on the thing measured"),
	oneOf("to", "what the readings were taken to; outside if left out", "outside", "inside"),
	of(length, "planking", "9 mm", "the planking's thickness"),
}, either: [][]string{{"offsets", "cuts"}}, with: map[string][]string{"cuts": {"scale"}, "scale": {"cuts"}}}

var cabinShape = shape{kind: keyed, keys: []key{
	needed(text("name", "aft cabin", "its name")),
	needed(of(filename, "offsets", "aft-cabin.csv", "its table of points, full size")),
	of(length, "tolerance", "2 mm", "how well a reading is known; exact if left out"),
}}

var wellShape = shape{kind: keyed, keys: []key{
	needed(text("name", "footwell", "its name")),
	of(filename, "offsets", "well.csv", "its table of points, full size"),
	of(length, "from", "3.0 m", "foremost end, aft of station 0"),
	of(length, "to", "4.2 m", "aftermost end"),
	of(length, "half-breadth", "250 mm", "from the centre line to its side"),
	of(length, "sole", "0.20 m", "height of its bottom"),
	of(length, "top", "0.70 m", "height of its rim; above the deck if left out"),
	of(yesNo, "open to the sea", "yes", "no when it keeps the sea out until its rim goes under; yes if left out"),
	lists("drains", "holes through which it empties over the side", drainShape),
}, either: [][]string{{"offsets", "from"}}, with: map[string][]string{
	"from": {"to", "half-breadth", "sole"}, "to": {"from"}, "half-breadth": {"from"}, "sole": {"from"}, "top": {"from"},
}}

var drainShape = shape{kind: keyed, keys: []key{
	needed(text("name", "fore scuppers", "its name")),
	needed(pointAt("the lowest point of its inner end")),
	of(length, "diameter", "50 mm", "of a round one"),
	tupled("size", "[300 mm, 60 mm]", "of a rectangular one, width and height",
		of(length, "width", "300 mm", "width"), of(length, "height", "60 mm", "height")),
	oneOf("kind", "how it is made; a tube if round, else a slot, if left out", "tube", "slot", "freeing port"),
	of(yesNo, "flap", "yes", "yes when a flap or valve shuts it against the sea; no if left out"),
	of(length, "fall", "80 mm", "of a tube, how far its outer end lies below its inner; none if left out"),
	of(whole, "count", "2", "how many alike, half on either side; 1 if left out"),
	of(number, "coefficient", "0.61", "of discharge, with its flap or grating; by its kind if left out"),
}, either: [][]string{{"diameter", "size"}}}

var compartmentShape = shape{kind: keyed, keys: []key{
	of(whole, "number", "203", "its number"),
	needed(text("name", "port food locker", "its name")),
	needed(of(length, "from", "1.9 m", "foremost end, aft of station 0")),
	needed(of(length, "to", "2.6 m", "aftermost end")),
	oneOf("side", "the side it lies on; both if left out", "both", "port", "starboard"),
	of(length, "sole", "0.10 m", "height of its bottom; the skin if left out"),
	of(length, "top", "0.55 m", "height of its top; the deck if left out"),
	of(length, "inboard", "0.2 m", "from the centre line to its inner side"),
	of(length, "outboard", "0.6 m", "from the centre line to its outer side; the skin if left out"),
	text("in", "fore cabin", "the cabin whose inside it takes in"),
	of(yesNo, "wet", "yes", "yes when water may stand in it"),
	of(share, "packing", "60%", "share of the volume that can be filled"),
	oneOf("reach", "from where it is reached; by its hatch if left out", reachWords...),
	of(mass, "limit", "60 kg", "the most that it may bear"),
}}

var openingShape = shape{kind: keyed, keys: []key{
	needed(text("name", "aft hatch", "its name")),
	needed(pointAt("its lowest point through which water would come")),
	needed(tupled("size", "[0.5 m, 0.5 m]", "width and height",
		of(length, "width", "0.5 m", "width"), of(length, "height", "0.5 m", "height"))),
	text("into", "aft cabin", "the compartment or cabin that it opens into"),
	of(yesNo, "closed", "yes", "yes when it is shut at sea; no if left out"),
	of(yesNo, "non-return", "yes", "yes for a vent that shuts by itself when it goes under; no if left out"),
}}

var pumpShape = shape{kind: keyed, keys: []key{
	needed(text("name", "bilge pump", "its name")),
	needed(oneOf("kind", "worked by hand or by electricity", "hand", "electric")),
	of(volume, "stroke", "0.4 L", "of a hand pump: what a full stroke moves"),
	of(number, "strokes a minute", "40", "of a hand pump, as they can be kept up"),
	of(volume, "flow a minute", "30 L", "of an electric pump: what it moves in a minute with nothing to lift"),
	of(length, "greatest lift", "4 m", "of an electric pump: the height at which it moves nothing; 4 m if left out"),
	of(length, "bore", "25 mm", "of its hose, inside; 25 mm if left out"),
	of(length, "length", "2.5 m", "of its hose; 3 m if left out"),
	of(length, "outlet", "0.70 m", "height at which its hose ends; the deck's edge if left out"),
	needed(lists("reaches", "the compartments that its suction can be put into", shape{kind: words})),
}, either: [][]string{{"stroke", "flow a minute"}}, with: map[string][]string{
	"stroke": {"strokes a minute"}, "strokes a minute": {"stroke"}, "greatest lift": {"flow a minute"},
}}

var weightShape = shape{kind: keyed, keys: []key{
	needed(text("what", "planking", "its name")),
	needed(of(mass, "mass", "42 kg", "of one")),
	of(whole, "count", "2", "how many; 1 if left out"),
	pointAt("where its centre is"),
	text("in", "locker 203", "a compartment's name or number, instead of at"),
	knownKey,
	of(yesNo, "ballast", "yes", "yes when it is there to be heavy"),
}, either: [][]string{{"at", "in"}}}

// fixedShape is a weight of boat.yaml, with what the trip has of it.
var fixedShape = shape{kind: keyed, keys: append(slices.Clone(weightShape.keys),
	lists("provides", "functions of needs.yaml that it serves, or words that they name", shape{kind: words}),
	lists("needs", "functions, words or conditions without which it is of no use", shape{kind: words}),
	of(yesNo, "dry", "yes", "no when water does it no harm; yes if left out"),
	of(date, "expires", "2027-06-30", "the last day on which it is good"),
	of(date, "inspect", "2027-01-01", "the day by which it is to be looked at"),
	drinkKey, keptKey,
), either: weightShape.either}

var limitsShape = shape{kind: keyed, keys: []key{
	of(length, "freeboard", "250 mm", "least height of the deck edge above the water; 100 mm if left out"),
	of(length, "height left", "30 mm", "how much higher the centre of gravity could lie before she would stay over; 20 mm if left out"),
	of(angle, "heel", "1 deg", "most heel at rest; 2 deg if left out"),
	of(angle, "trim", "1.5 deg", "most trim at rest; 3 deg if left out"),
	of(length, "clearance", "20 mm", "least room round hands, knees and oars when rowing"),
	of(speed, "wind", "20 kn", "the wind in which she is to keep her course"),
	of(angle, "sector", "60 deg", "how far either side of dead downwind courses are to be kept in that wind"),
}}

var voyageShape = shape{kind: keyed, keys: slices.Concat([]key{
	{name: "from", shape: departureShape, example: "{name: Mindelo, at: [16.886 N, 24.988 W]}", about: "where she leaves from"},
	{name: "to", shape: waypointShape, example: "{name: Bridgetown, at: [13.10 N, 59.63 W]}", about: "where she is bound"},
	lists("by", "points between, in order", waypointShape),
	of(date, "leave", "2027-01-12", "the day she leaves"),
	of(days, "days", "80", "the days the stores are meant for"),
	of(everyDays, "scrape", "every 14 days", "how often the bottom is scraped; never if left out"),
	of(temperature, "water temperature", "26 C", "of the sea along the way"),
	lists("crew", "the people aboard", shape{kind: keyed, keys: slices.Concat([]key{
		needed(text("name", "rower", "what to call them")),
		needed(of(mass, "mass", "76 kg +- 2 kg", "with what they wear")),
		needed(key{name: "places", shape: shape{kind: namedPlace, item: &shape{
			kind: crewPlace, parts: point, keys: []key{needed(text("in", "locker 203", "a compartment's name or number"))},
		}}, example: "{at the oars: [3.42 m, 0 m, 0.78 m]}", about: "the places they may be in; the first is the usual one"}),
	}, bodyKeys, eatingKeys)}),
}, passageKeys)}
