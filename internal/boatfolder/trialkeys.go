package boatfolder

// The keys of trials.yaml. Those that every trial has are put before its own.

func trialShape(own shape) shape {
	own.kind = keyed
	own.keys = append([]key{
		needed(of(date, "date", "2026-09-14", "the day it was done")),
		of(dayOfTrip, "day", "0", "the day of the trip whose load was aboard; 0, the departure, if left out"),
		text("crew", "outside", "the crew's place, by its name in voyage.yaml; the first if left out"),
		of(density, "water", "1025 kg/m3", "density of the water she lay in; that of boat.yaml if left out"),
		lists("also aboard", "things aboard for the trial that the folder does not hold", weightShape),
		text("remarks", "flat calm, lines slack", "anything worth keeping"),
	}, own.keys...)
	return own
}

// trials lists trials.
func trials(name, about string, item shape) key { return few(20, lists(name, about, trialShape(item))) }

// few bounds a list of what costs time to work out.
func few(most int, list key) key {
	list.shape.most = most
	return list
}

var trialsShape = shape{kind: keyed, keys: []key{
	trials("floated", "freeboards read afloat: her weight and where it lies", shape{keys: []key{
		needed(few(100, lists("freeboards", "heights of the deck's edge above the water, square to it", shape{kind: keyed, keys: []key{
			needed(of(length, "at", "0.60 m", "aft of station 0")),
			needed(oneOf("side", "the side it was read on; both when the same was read on either", "both", "port", "starboard")),
			needed(of(length, "height", "412 mm +- 3 mm", "of the deck's edge above the water; good to 3 mm without +-")),
		}}))),
	}}),
	trials("inclined", "weights moved across, and the heel each made: the height of gravity", shape{keys: []key{
		needed(few(30, lists("moves", "each from where the weight stood when she lay at rest", shape{kind: keyed, keys: []key{
			needed(of(mass, "mass", "25 kg", "what was moved; good to 2 % without +-")),
			needed(of(length, "across", "1.2 m", "how far, to starboard; minus is to port; good to 5 mm without +-")),
			of(length, "pendulum", "1.5 m", "from its pin to where it is read"),
			of(length, "deflection", "83 mm", "of the pendulum, to starboard; minus is to port; good to 2 mm without +-"),
			of(angle, "angle", "3.2 deg", "instead of a pendulum: the heel, to starboard; good to 0.1 deg without +-"),
		}, either: [][]string{{"deflection", "angle"}}, with: map[string][]string{"deflection": {"pendulum"}, "pendulum": {"deflection"}}}))),
	}}),
	trials("rolled", "small rolls counted in still water: how stiff she is", shape{keys: []key{
		needed(of(whole, "rolls", "10", "from starboard to starboard")),
		needed(of(number, "seconds", "21.4", "for all of them")),
	}}),
	trials("turned over", "capsize tests", shape{keys: []key{
		text("ballast", "twelve jugs in 300", "what ballast was aboard"),
		text("hatches", "all dogged", "which were shut"),
		of(number, "seconds", "4", "until she was upright"),
		needed(of(yesNo, "righted", "yes", "yes when she came back by herself")),
		of(mass, "mass", "884 kg", "what she weighed by the folder when it was done"),
		of(length, "height of gravity", "448 mm", "above the base line, by the folder when it was done"),
		text("stamp", "9d6d30767ed2107d", "of the folder when it was done, as the answer shows it"),
	}}),
}}
