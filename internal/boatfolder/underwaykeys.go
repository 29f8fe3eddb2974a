package boatfolder

// The keys of boat.yaml for what she is rowed, steered, held and stopped with.

// shiftsKey lists how far aft of its place a thing can stand.
func shiftsKey(about string) key {
	k := few(20, lists("places", about+"; only there if left out", shape{kind: length}))
	k.example = "[-50 mm, 0 mm, 50 mm]"
	return k
}

var rowingShape = shape{kind: keyed, keys: []key{
	needed(text("name", "main place", "its name")),
	needed(tupled("seat", "[3.10 m, 0 m, 0.60 m]", "top of the seat under the hips; a sliding one at its bow stop", point...)),
	of(length, "travel", "600 mm", "of a sliding seat, aft from its bow stop; a fixed seat if left out"),
	{name: "stretcher", shape: stretcherShape, example: "{at: [3.90 m, 0 m, 0.44 m], angle: 42 deg}", about: "what the feet press against"},
	{name: "gates", shape: gatesShape, example: "{at: [3.56 m, 0.82 m, 0.83 m]}", about: "what the oars work in"},
	{name: "oars", shape: oarsShape, example: "{length: 3.05 m, inboard: 0.86 m}", about: "the oars, all alike"},
	of(yesNo, "oars one side", "no", "yes when one oar is pulled on one side; a pair if left out"),
}}

var stretcherShape = shape{kind: keyed, keys: []key{
	needed(pointAt("the heels, midway between the feet")),
	of(angle, "angle", "42 deg", "of the board to the level"),
	shiftsKey("how far aft of at it can stand, minus is forward"),
}}

var gatesShape = shape{kind: keyed, keys: []key{
	needed(pointAt("the pin on starboard at the height on which the oar rests; port is alike")),
	shiftsKey("how far aft of at the pins can stand, minus is forward"),
	of(length, "above", "10 mm", "how much higher the starboard oar rests than the port one, so that one hand passes over the other; level if left out"),
}}

var oarsShape = shape{kind: keyed, keys: []key{
	needed(of(length, "length", "3.05 m", "of the whole oar")),
	needed(of(length, "inboard", "0.86 m", "from the handle's end to the pin")),
	tupled("blade", "[520 mm, 170 mm]", "its length and width",
		of(length, "length", "520 mm", "along the oar"), of(length, "width", "170 mm", "across it")),
	of(whole, "count", "2", "oars in use at once; 2, or 1 with oars one side, if left out"),
	of(length, "grip", "40 mm", "thickness of the handle"),
}}

var rudderShape = shape{kind: keyed, keys: []key{
	needed(pointAt("top of the blade at its leading edge")),
	needed(of(length, "chord", "280 mm", "of the blade, fore and aft")),
	needed(of(length, "depth", "620 mm", "of the blade, from at down")),
	of(length, "below", "420 mm", "how much of the depth stands below the hull, in clear water"),
	of(angle, "turns", "35 deg", "how far it turns, each way"),
	of(share, "balance", "15%", "share of the chord forward of the stock; none if left out"),
	of(yesNo, "raised", "no", "yes when it is lifted out of the water; no if left out"),
}}

var boardShape = shape{kind: keyed, keys: []key{
	needed(text("name", "dagger board", "its name")),
	needed(pointAt("where its middle leaves the hull")),
	needed(of(length, "chord", "320 mm", "fore and aft")),
	needed(of(length, "depth", "550 mm", "below the hull, when it is down")),
	of(yesNo, "down", "yes", "no when it is drawn up; yes if left out"),
}}

var windageShape = shape{kind: keyed, keys: []key{
	needed(text("name", "aerial", "its name")),
	needed(pointAt("its middle")),
	needed(tupled("size", "[40 mm, 40 mm, 900 mm]", "along the boat, across and up",
		of(length, "along", "40 mm", "along the boat"), of(length, "across", "40 mm", "across the boat"), of(length, "up", "900 mm", "up"))),
	oneOf("kind", "its form", "box", "rounded", "pole", "rail", "wire"),
}}

func ropeKey(name, example, about string) key {
	return key{name: name, example: example, about: about, shape: shape{kind: keyed, keys: []key{
		needed(of(length, "length", "70 m", "from end to end")),
		of(length, "diameter", "12 mm", "its thickness; of a chain, of its link's wire"),
		of(force, "strength", "22 kN", "what it breaks at, its knots counted in"),
	}}}
}

var seaAnchorShape = shape{kind: keyed, keys: []key{
	needed(text("name", "sea anchor", "its name")),
	needed(oneOf("kind", "how it is made", "parachute", "cone", "series drogue")),
	needed(of(length, "diameter", "3.0 m", "of a parachute laid flat, of a cone's mouth, of one cone of a series")),
	of(whole, "cones", "90", "of a series drogue, how many"),
	oneOf("from", "the end of the boat that it is made fast to", "bow", "stern"),
	ropeKey("line", "{length: 70 m, diameter: 12 mm, strength: 22 kN}", "between it and the boat"),
	of(force, "fitting", "18 kN", "what the fitting on the boat breaks at"),
}}

var anchorShape = shape{kind: keyed, keys: []key{
	needed(text("name", "kedge", "its name")),
	needed(oneOf("kind", "its form", "fluke", "plough", "claw")),
	needed(of(mass, "mass", "6 kg", "of the anchor alone")),
	ropeKey("chain", "{length: 6 m, diameter: 8 mm}", "next to the anchor; none if left out"),
	ropeKey("line", "{length: 60 m, diameter: 12 mm, strength: 22 kN}", "from the chain to the boat"),
}}

// underwayKeys are those of boat.yaml.
var underwayKeys = []key{
	few(12, lists("rowing", "the places from which she is rowed, fore to aft", rowingShape)),
	{name: "rudder", shape: rudderShape, example: "{at: [6.72 m, 0 m, 0.30 m], chord: 280 mm, depth: 620 mm}", about: "the blade that she is steered with"},
	few(20, lists("boards", "dagger boards, centreboards and skegs", boardShape)),
	few(200, lists("windage", "what stands in the wind beside hull and cabins", windageShape)),
	few(20, lists("sea anchors", "sea anchors and drogues", seaAnchorShape)),
	few(20, lists("anchors", "anchors for the ground", anchorShape)),
}

// bodyKeys are those of a person that the oars are fitted to.
var bodyKeys = []key{
	of(length, "stature", "1.78 m", "height, barefoot"),
	of(length, "inside leg", "0.83 m", "from the crotch to the floor, barefoot"),
	oneOf("body", "whose published proportions are taken where nothing was measured", "man", "woman"),
	of(whole, "age", "41", "in years"),
	of(power, "power", "75 W +- 15 W", "at the handles, kept up for the hours of a day"),
	of(duration, "hours", "12 h", "at the oars in a day"),
}
