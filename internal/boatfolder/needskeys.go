package boatfolder

// The keys of needs.yaml.

func wordsList(name, example, about string) key {
	k := lists(name, about, shape{kind: words})
	k.example = example
	k.shape.most = 200
	return k
}

var functionShape = shape{kind: keyed, keys: []key{
	needed(text("name", "steer", "its name")),
	of(whole, "rank", "5", "how bad its loss is: 5 costs a life, 4 the boat or the voyage, 3 weeks, 2 days, 1 is a nuisance; left out for one that only others name"),
	wordsList("any of", "[rudder, steer by oar]", "one of these is enough"),
	wordsList("all of", "[rudder blade, rudder lines]", "every one is needed"),
	of(whole, "of", "2", "so many pieces of what stands in from"),
	wordsList("from", "[oars]", "the pieces that are counted"),
}, with: map[string][]string{"of": {"from"}, "from": {"of"}}}

var checkShape = shape{kind: keyed, keys: []key{
	needed(text("what", "flares in date", "what is to be looked at")),
	text("asks", "race organisers commonly", "who asks for it"),
	of(date, "by", "2027-01-01", "the day by which it is to be done"),
	of(yesNo, "done", "no", "yes when it is done"),
}}

var needsShape = shape{kind: keyed, keys: []key{
	few(200, lists("functions", "what the trip needs, and what provides it", functionShape)),
	few(500, lists("checklist", "what is to be looked at before leaving", checkShape)),
}}
