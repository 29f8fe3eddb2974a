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
}, fixedShape.keys[2:]...), either: fixedShape.either}

var leverShape = shape{kind: keyed, keys: []key{
	needed(text("name", "food further aft", "what to call it")),
	oneOrList(string(model.MoveStores), "so much of the stores in one compartment goes into another: whole rows where they fit, else part of one", shape{kind: keyed, keys: []key{
		needed(of(mass, "mass", "20 kg", "how much")),
		needed(text("from", "201", "the compartment that they are in")),
		needed(text("to", "401", "the compartment that they go to")),
	}}),
	oneOrList(string(model.Put), "stores by their names go into another compartment: all of them, or so many pieces", shape{kind: keyed, keys: []key{
		needed(namesOf("what", "day bags 1-10 port", "a row of the stores by name, or a list of them")),
		text("from", "202", "the compartment that they are taken from; wherever they lie if left out, which then is one place"),
		needed(text("to", "301", "the compartment that they go to")),
		of(whole, "count", "2", "how many pieces; all that lie there if left out"),
	}}),
	oneOrList(string(model.Another), "one more of a row of the stores or of a weight, or so many, kept until it is needed", shape{kind: keyed, keys: []key{
		needed(text("what", "torch", "a row of the stores or a weight by name")),
		text("from", "202", "the compartment that the one like it lies in, where several rows bear the name"),
		text("to", "301", "the compartment that it goes to; beside the one like it if left out"),
		of(whole, "count", "2", "how many; 1 if left out"),
	}}),
	oneOrList(string(model.Stow), "where all pieces of a row of the stores lie from then on, and when they are used", shape{kind: keyed, keys: []key{
		needed(text("what", "rice", "a row of the stores by name, with all others of that name")),
		needed(oneOrList("lots", "so many of them in one place: all lots together are as many as there are", shape{kind: keyed, keys: []key{
			needed(text("in", "202", "the compartment that they lie in")),
			of(whole, "count", "21", "how many pieces; 1 if left out"),
			text("used", "days 1-21", "when they are used, of what is used up"),
		}})),
	}}),
	oneOrList(string(model.Shift), "things that stand at a point are put elsewhere", shape{kind: keyed, keys: []key{needed(whatKey), needed(offsetKey)}}),
	oneOrList(string(model.Heavier), "things become heavier or lighter", shape{kind: keyed, keys: []key{
		needed(whatKey), needed(of(changeOfMass, "by", "+10 kg", "all of them together, or a share of each: 10 %")),
	}}),
	oneOrList(string(model.Add), "one more fixed weight, written as in boat.yaml", addedShape),
	namesOf(string(model.LeaveOut), "spare oars", "things that are left ashore"),
	of(changeOfDays, string(model.Days), "+7", "more or fewer days of voyage.yaml"),
	of(changeOfDate, string(model.Leave), "+1 month", "leave later or earlier, by days, weeks or months"),
	of(changeOfTime, string(model.MoreHours), "-1 h", "more or less time at the oars in a day, of everybody whose hours are given; the watches likewise"),
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
