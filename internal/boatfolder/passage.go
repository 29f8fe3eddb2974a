package boatfolder

import (
	"cmp"
	"slices"

	"thole/internal/model"
	"thole/internal/units"
)

// What figures of a passage can be and commonly are. Where no source stands: from memory, with room.
var (
	withinBounds  = bounds{seaWay, 50, 926, 200 * 1852, 2000 * 1852, "how near counts as there"}
	stopBounds    = bounds{speed, 2, 7, 21, 60, "the wind from which nobody rows"}
	againstBounds = bounds{speed, 0.5, 2, 15, 60, "the wind from ahead that is not rowed against"}
	aheadBounds   = bounds{angle, radians(1), radians(20), radians(100), radians(180), "what counts as ahead"}
	memoryBounds  = bounds{duration, 3600, 12 * 3600, 200 * 3600, 5000 * 3600, "the time over which winds forget"}
	reachBounds   = bounds{seaWay, 1000, 100 * 1852, 1500 * 1852, 20000e3, "the way over which winds are alike"}
	yearBounds    = bounds{speed, 0, 0, 3, 20, "the spread of a year's mean wind"}
	doubtBounds   = bounds{speed, 0, 0.01, 0.6, 5, "how far a current may be wrong"}
	// A grown person's fat is a twentieth of the mass at the least and rarely more than half.
	fatBounds = bounds{share, 0.02, 0.05, 0.50, 0.75, "body fat"}
	// What a rower eats of a full bag once at sea.
	eatsBounds = bounds{share, 0.05, 0.4, 1, 1, "what is eaten of a day's food"}
	// An electric water maker for a small boat makes some 3 to 10 L an hour, one worked by hand 0.5 to 5.
	makesBounds = bounds{volume, 1e-4, 4e-4, 0.03, 1, "what a small boat's water maker makes in an hour"}
	runsBounds  = bounds{duration, 60, 600, 12 * 3600, 24 * 3600, "the time that a water maker runs in a day"}
	drawsBounds = bounds{power, 1, 15, 300, 5000, "what a small boat's water maker draws"}
)

// longestSick bounds the days of seasickness, in days.
const longestSick = 60

// passage reads how the crossing is made.
func (r *reader) passage(n *node, v *model.Voyage) {
	v.Wind, v.Current, v.Sets = r.ownFile(n.get("wind"), ownWind), r.ownFile(n.get("current"), ownCurrent), r.ownFile(n.get("sets"), ownSets)
	v.Habits, v.Rules = r.habits(n.get("habits")), r.rules(n.get("rules"))
	v.Weather, v.Diet = r.weather(n.get("weather"), v), r.diet(n.get("diet"))
}

// said is a yes or no that may not have been said.
func said(n *node) *bool {
	if n == nil {
		return nil
	}
	yes := n.yes()
	return &yes
}

// shareOf is a share that may not have been said.
func shareOf(n *node) *float64 {
	if n == nil {
		return nil
	}
	v := n.number
	return &v
}

func (r *reader) habits(n *node) model.Habits {
	h := model.Habits{
		Daylight: said(n.get("daylight")), Breaks: shareOf(n.get("breaks")), Rest: int(n.get("rest").value()),
		Lost: shareOf(n.get("lost")), Allow: said(n.get("allow for the set")),
	}
	for _, k := range []string{"breaks", "lost"} {
		if s := n.get(k); s != nil && s.number >= 1 {
			r.fault(s.at, s.text, "write less than 100 %", "%s %q leaves nothing to row", k, shorten(s.text))
		}
	}
	if k := n.get("rest"); k != nil && h.Rest == 1 {
		r.fault(k.at, k.text, "write every 2 days or more", "rest %q leaves no day to row", shorten(k.text))
	}
	h.Watches = r.watches(n.get("watches"))
	return h
}

// watches are parts of the day in their order, which do not overlap.
func (r *reader) watches(n *node) []model.Hours {
	type written struct {
		hours model.Hours
		node  *node
	}
	var all []written
	for _, k := range n.all() {
		if from, to, err := HoursOf(k.text); err == nil {
			all = append(all, written{model.Hours{From: from, To: to}, k})
		}
	}
	if n != nil && len(n.items) == 0 {
		r.fault(n.at, "", "write watches: "+watchesKey.example+", or leave them out", "no watch is in watches")
	}
	slices.SortStableFunc(all, func(a, b written) int { return cmp.Compare(a.hours.From, b.hours.From) })
	var out []model.Hours
	for i, w := range all {
		if i > 0 && w.hours.From < all[i-1].hours.To {
			r.fault(w.node.at, w.node.text, "let the next begin when the one before ends; of several people write when anybody rows", "watch %q begins before %q ends", w.node.text, all[i-1].node.text)
			continue
		}
		out = append(out, w.hours)
	}
	return out
}

func (r *reader) rules(n *node) model.Rules {
	stop, against, ahead := n.get("stop"), n.get("against"), n.get("ahead")
	out := model.Rules{
		Stop: units.Speed(r.in(stop, "stop", stopBounds)), Against: units.Speed(r.in(against, "against", againstBounds)),
		Ahead: units.Angle(r.in(ahead, "ahead", aheadBounds)), In: shareOf(n.get("in again")), Idle: said(n.get("when idle")),
	}
	if stop != nil && against != nil && out.Against > out.Stop {
		r.fault(against.at, against.text, "write a wind below stop, or leave against out", "against %q is never met: from %q nobody rows", shorten(against.text), shorten(stop.text))
	}
	if k := n.get("in again"); k != nil && k.number <= 0 {
		r.fault(k.at, k.text, "write it like 80 %", "in again %q never brings it in", shorten(k.text))
	}
	return out
}

// widestWinds is the most that the spread of the winds may be widened to: what package weather takes.
const widestWinds = 5

func (r *reader) weather(n *node, v *model.Voyage) model.Weather {
	year, season, doubt := n.get("year"), n.get("season"), n.get("current doubt")
	out := model.Weather{
		East: units.Duration(r.in(n.get("east"), "east", memoryBounds)), North: units.Duration(r.in(n.get("north"), "north", memoryBounds)),
		Reach: units.Length(r.in(n.get("reach"), "reach", reachBounds)), Spread: shareOf(n.get("spread")),
		Year: units.Speed(r.in(year, "year", yearBounds)), YearGiven: year != nil,
		Season: int(season.value()), SeasonGiven: season != nil,
		CurrentDoubt: units.Speed(r.in(doubt, "current doubt", doubtBounds)),
	}
	if k := n.get("spread"); k != nil && k.number > widestWinds {
		r.fault(k.at, k.text, "write 100 % for the climatology's own, 500 % at the most", "spread %q is wider than any sea's wind", shorten(k.text))
	}
	if doubt != nil && v.Current == nil && v.Sets == nil {
		r.note(doubt.at, "it is of a current of your own, and there is none: the built-in one knows its error", "current doubt passed over")
	}
	return out
}

func (r *reader) diet(n *node) model.Diet {
	d := model.Diet{Fat: shareOf(n.get("fat")), Protein: shareOf(n.get("protein"))}
	if d.Fat != nil && d.Protein != nil && *d.Fat+*d.Protein > 1+1e-9 {
		k := n.get("protein")
		r.fault(k.at, k.text, "they are shares of one energy: 29 % and 16 % are usual", "fat and protein are more than all of the food")
	}
	return d
}

// eating reads what a person's food and water hang on.
func (r *reader) eating(n *node, p *model.Person) {
	p.Fat, p.Eats = r.near(n.get("body fat"), "body fat", fatBounds), r.near(n.get("eats"), "eats", eatsBounds)
	if k := n.get("seasick"); k != nil {
		sick := int(k.number)
		p.Seasick = &sick
	}
}

// near reads a share with how well it is known.
func (r *reader) near(n *node, name string, b bounds) model.Range {
	if n == nil {
		return model.Range{}
	}
	r.likely(n, name, b)
	return model.Range{Value: n.number, Tolerance: n.half, Given: true}
}

// maker reads a water maker.
func (r *reader) maker(n *node) model.WaterMaker {
	m := model.WaterMaker{
		Name: n.get("name").str(), Hand: n.get("kind").str() == "hand", Hours: units.Duration(r.in(n.get("hours"), "hours", runsBounds)),
		Draws: units.Power(r.in(n.get("draws"), "draws", drawsBounds)), From: int(n.get("from").value()), Until: int(n.get("until").value()),
		Service: n.get("provides").str(), Source: n.at,
	}
	if k := n.get("an hour"); k != nil {
		r.likely(k, "an hour", makesBounds)
		m.AnHour = units.Volume(k.number)
		if k.given {
			m.Spread = units.Volume(k.half)
		}
		if k.half >= k.number {
			r.fault(k.at, k.text, "write a half width below it", "an hour %q may be nothing at all", shorten(k.text))
		}
	}
	if k := n.get("draws"); k != nil && m.Hand {
		r.fault(k.at, k.text, "leave draws out, or write kind: electric", "water maker %q is worked by hand and draws nothing", shorten(m.Name))
	}
	if k := n.get("until"); k != nil && n.get("from") != nil && m.Until <= m.From {
		r.fault(k.at, k.text, "until is the day on which it stops", "water maker %q stops before it starts", shorten(m.Name))
	}
	return m
}
