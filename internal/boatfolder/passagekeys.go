package boatfolder

// The keys of the passage itself: how the crew live, by which rules they row or lie to a sea anchor, how the weather is made, what
// food is made of, and with what they make water.

var withinKey = of(seaWay, "within", "8 nmi", "how near counts as there")

var waypointKeys = []key{
	text("name", "Mindelo", "its name"),
	needed(tupled("at", "[16.886 N, 24.988 W]", "latitude and longitude",
		of(latitude, "latitude", "16.886 N", "north or south"),
		of(longitude, "longitude", "24.988 W", "east or west"))),
}

// departureShape is where she leaves from, waypointShape where she is bound or passes.
var (
	departureShape = shape{kind: keyed, keys: waypointKeys}
	waypointShape  = shape{kind: keyed, keys: append(waypointKeys[:len(waypointKeys):len(waypointKeys)], withinKey)}
)

var watchesKey = func() key {
	k := few(24, lists("watches", "parts of the day when somebody rows, by the sun; from the crew's hours if left out", shape{kind: clock}))
	k.example = `["06:00-10:00", "11:00-14:30"]`
	return k
}()

var habitsShape = shape{kind: keyed, keys: []key{
	watchesKey,
	of(yesNo, "daylight", "yes", "yes when watches are cut to between sunrise and sunset"),
	of(share, "breaks", "10 %", "share of a watch that is not rowed"),
	of(everyDays, "rest", "every 10 days", "how often a day of rest is taken; none if left out"),
	of(share, "lost", "3 %", "share of the days that injury and repair take"),
	of(yesNo, "allow for the set", "yes", "yes when she steers up-current by what is known of the set"),
}}

var rulesShape = shape{kind: keyed, keys: []key{
	of(speed, "stop", "28 kn", "the wind from which nobody rows and the sea anchor goes out"),
	of(speed, "against", "12 kn", "the wind from which, coming from ahead, the sea anchor goes out instead of rowing"),
	of(angle, "ahead", "70 deg", "how far from right ahead still counts as ahead"),
	of(share, "in again", "80 %", "the share of those winds below which it comes in again"),
	of(yesNo, "when idle", "yes", "yes when it goes out too while nobody rows and she would be set back"),
}}

var weatherShape = shape{kind: keyed, keys: []key{
	of(duration, "east", "60 h", "until a departure of the wind's east part has fallen to 1/e"),
	of(duration, "north", "42 h", "the same of its north part"),
	of(seaWay, "reach", "500 nmi", "the way over which a departure falls to 1/e"),
	of(speed, "year", "1 m/s", "spread of one year's mean wind about that of many"),
	of(days, "season", "60 days", "over which that falls to 1/e"),
	of(percent, "spread", "100 %", "of the winds about their mean: 100 % is the climatology's own"),
	of(speed, "current doubt", "0.2 kn", "how far your own current may be wrong"),
}}

var dietShape = shape{kind: keyed, keys: []key{
	of(share, "fat", "29 %", "share of the food's energy"),
	of(share, "protein", "16 %", "share of the food's energy; the rest is carbohydrate"),
}}

// passageKeys are those of voyage.yaml.
var passageKeys = []key{
	of(filename, "wind", "winds.nc", "your own wind by month, netCDF or csv; the built-in one if left out"),
	of(filename, "current", "drifters.nc", "your own current by month, netCDF or csv; the built-in one if left out"),
	of(filename, "sets", "sets.csv", "currents that you know of parts of the sea, laid over the others"),
	{name: "habits", shape: habitsShape, example: `{watches: ["06:00-10:00", "11:00-14:30"], daylight: yes}`, about: "how days at sea are spent"},
	{name: "rules", shape: rulesShape, example: "{stop: 28 kn, against: 12 kn}", about: "what is done in which wind"},
	{name: "weather", shape: weatherShape, example: "{east: 60 h, north: 42 h}", about: "how winds are made to depart from their mean, where you know better"},
	{name: "diet", shape: dietShape, example: "{fat: 29 %, protein: 16 %}", about: "what the food is made of"},
}

// eatingKeys are those of a person's food and water.
var eatingKeys = []key{
	of(nearShare, "body fat", "18 % +- 4 %", "share of the mass that is fat"),
	of(nearShare, "eats", "80 % +- 10 %", "share of a full day's food that is really eaten once at sea"),
	of(daysOrNone, "seasick", "5 days", "until all of that is eaten; 0 days: never sick"),
}

var makerShape = shape{kind: keyed, keys: []key{
	needed(text("name", "desalinator", "its name")),
	needed(oneOf("kind", "worked by electricity or by hand", "electric", "hand")),
	needed(of(volume, "an hour", "5.5 L +- 1 L", "the fresh water that it makes in an hour")),
	of(duration, "hours", "1.5 h", "the most that it runs in a day"),
	of(power, "draws", "50 W", "of an electric one, while it runs"),
	of(onDay, "from", "day 3", "the first day on which it works; from the start if left out"),
	of(onDay, "until", "day 40", "the day on which it stops for good; never if left out"),
	text("provides", "make water", "the function or the word of needs.yaml that it is"),
}}

var keptKey = oneOf("kept", "reserve: sealed, for when something has gone wrong; ballast: drunk only against sea water let in", "reserve", "ballast")

var drinkKey = of(volume, "drink", "10 L", "the fresh water in one")
