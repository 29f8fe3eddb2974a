package boatfolder

import "thole/internal/model"

// The keys of whatif.yaml. An act may stand once or as a list of the same.

func oneOrList(name, about string, item shape) key {
	return key{name: name, shape: shape{kind: oneOrMore, item: &item}, example: keysExample(item), about: about}
}

func namesOf(name, example, about string) key {
	return key{name: name, shape: shape{kind: oneOrMore, item: &shape{kind: words}}, example: example, about: about}
}

var whatKey = namesOf("what", "batteries", "a weight, a row of the stores or a person by name, or a list of them")

var offsetKey = tupled("by", "[0 m, 0 m, -100 mm]", "how far: aft, to starboard, up", point...)

var addedShape = shape{kind: keyed, keys: append([]key{
	needed(text("what", "wind generator", "its name")),
	needed(of(mass, "mass", "9 kg", "of one")),
}, weightShape.keys[2:]...), either: weightShape.either}

var leverShape = shape{kind: keyed, keys: []key{
	needed(text("name", "food further aft", "what to call it")),
	oneOrList(string(model.MoveStores), "so much of the stores in one compartment goes into another: whole rows where they fit, else part of one", shape{kind: keyed, keys: []key{
		needed(of(mass, "mass", "20 kg", "how much")),
		needed(text("from", "201", "the compartment that they are in")),
		needed(text("to", "401", "the compartment that they go to")),
	}}),
	oneOrList(string(model.Shift), "things that stand at a point are put elsewhere", shape{kind: keyed, keys: []key{needed(whatKey), needed(offsetKey)}}),
	oneOrList(string(model.Heavier), "things become heavier or lighter", shape{kind: keyed, keys: []key{
		needed(whatKey), needed(of(changeOfMass, "by", "+10 kg", "all of them together, or a share of each: 10 %")),
	}}),
	oneOrList(string(model.Add), "one more fixed weight, written as in boat.yaml", addedShape),
	namesOf(string(model.LeaveOut), "spare oars", "things that are left ashore"),
	of(changeOfDays, string(model.Days), "+7", "more or fewer days of voyage.yaml"),
	of(changeOfDate, string(model.Leave), "+1 month", "leave later or earlier, by days, weeks or months"),
	namesOf(string(model.Open), "aft cabin hatch", "openings that are left open"),
	namesOf(string(model.Shut), "aft cabin vent", "openings that are shut"),
	oneOrList(string(model.Raise), "a cabin's crown, or the sole of a well or compartment with what belongs to it", shape{kind: keyed, keys: []key{
		text("cabin", "aft cabin", "a cabin: its sides grow with its height"),
		text("well", "rowing well", "a well: its sole, with its drains, the hatches and locker tops that lie on it, and the crew's places over it"),
		text("compartment", "400", "a compartment: its sole likewise"),
		needed(of(length, "by", "50 mm", "how much; minus is lower")),
	}, either: [][]string{{"cabin", "well", "compartment"}}}),
	oneOrList(string(model.Fuller), "broader half-breadths of the hull between two places, most midway and nothing at both", shape{kind: keyed, keys: []key{
		needed(of(length, "from", "4.5 m", "foremost place, aft of station 0")),
		needed(of(length, "to", "6.8 m", "aftermost place")),
		needed(of(changeOfShare, "by", "5 %", "midway between them; minus is finer")),
	}}),
	{name: string(model.Food), shape: shape{kind: keyed, keys: []key{
		needed(of(changeOfDays, "days", "+7", "for how many days more or fewer")),
	}}, example: "{days: +7}", about: "more or less of what is used up, to last so many days longer"},
	of(changeOfMass, string(model.MoreBallast), "+10 kg", "what is marked ballast, all together, or a share of it: -50 %"),
	{name: string(model.SetValue), shape: shape{kind: oneOrMore, item: &shape{kind: namedPlace, item: &shape{kind: anyText}}}, example: `{"boat.yaml: deck.camber": 80 mm}`, about: "any value of any file, by the file and its key"},
}}

var whatifShape = shape{kind: keyed, keys: []key{
	needed(few(100, lists("levers", "changes to be asked about: each has a name and one or more acts, done in the order below", leverShape))),
}}
