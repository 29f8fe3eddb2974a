// Package flood answers "What can she lose and still float?": every compartment holed, alone and in
// pairs, so that the sea stands in it as outside; how she then lies, whether she still comes
// back up, which openings go under, what gets wet, and how long filling and pumping take.
//
// The margin is the least height of the deck's edge above still water over all single compartments,
// days and crew places looked at, in metres; negative where she lies over or sinks (Outcome.score).
package flood

import (
	"context"
	"fmt"
	"math"
	"slices"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/units"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.Afloat, Ask: Ask}

const (
	id    = "flood"
	title = "What can she lose and still float?"
)

// askedFreeboard is the height of the deck's edge asked for with one compartment holed.
// A choice; no source.
const askedFreeboard = 0.05

// most of the conditions and of the compartments that are looked at in pairs.
const (
	mostConditions = 4
	mostPaired     = 24
)

// Figures are the losses. Where more than one day or crew place was looked at, each loss is shown at its worst.
type Figures struct {
	Days       []int    `json:"days"`       // looked at
	Conditions []string `json:"conditions"` // crew places looked at
	Singles    []Loss   `json:"singles"`    // worst first
	Pairs      []Loss   `json:"pairs"`      // worst first
	Hatches    []Hatch  `json:"hatches"`
	// ArmsDay and ArmsCondition are where she has least height of gravity left with nothing holed: the arms
	// of the single losses are of that state.
	ArmsDay       int    `json:"arms_day"`
	ArmsCondition string `json:"arms_condition"`
	// Day and Condition are the ones asked for: what follows is of them.
	Day       int       `json:"day"`
	Condition string    `json:"condition"`
	Hole      float64   `json:"hole_m"` // diameter of the hole that the times are for
	Wet       []Wet     `json:"wet"`
	Filling   []Filling `json:"filling"`
	Pumping   []Pumping `json:"pumping"`
	Unreached []string  `json:"no_pump_reaches"` // compartments
}

// Loss is one or two compartments open to the sea.
type Loss struct {
	Holed        []string `json:"holed"`
	Outcome      Outcome  `json:"outcome"`
	Day          int      `json:"day"`
	Condition    string   `json:"condition"`
	Permeability float64  `json:"permeability"`  // share of the (first) compartment that water fills
	AlsoFlooded  []string `json:"also_flooded"`  // spaces whose open hatch or vent went under, or that the water reached from a cabin above or a space below with no lid between
	Water        float64  `json:"water_m3"`      // that stands in her, once at rest
	Draft        float64  `json:"draft_m"`       // of her lowest point, square to the water
	Trim         float64  `json:"trim_deg"`      // by the stern
	Heel         float64  `json:"heel_deg"`      // to starboard
	Freeboard    float64  `json:"freeboard_m"`   // least, of the deck's edge; below nothing, under water
	FreeboardAt  float64  `json:"freeboard_x_m"` // where that is
	GM           float64  `json:"gm_m"`          // slope of the arms at that rest, metres a radian
	Score        float64  `json:"score_m"`       // the freeboard, or how far from floating upright, negative
	// Of single losses only: her arms with the compartment open to the sea, in the state that ArmsDay and ArmsCondition name.
	Range       float64   `json:"range_deg"`       // how far from that rest she may be heeled, to the worse side, and come back to it
	HeightLeft  float64   `json:"height_left_m"`   // how much higher her centre of gravity could lie before she stays over
	StaysAt     []float64 `json:"stays_at_deg"`    // other heels at which she would lie
	Disagree    float64   `json:"disagreement"`    // of the rest above with the same sea in her taken as added weight: the greatest difference, m or rad
	Nearest     string    `json:"nearest_opening"` // the opening nearest the water, shut or not
	NearestOver float64   `json:"nearest_opening_above_m"`
}

// Hatch is an opening, and what becomes of her if it is left open.
type Hatch struct {
	Name   string `json:"name"`
	Into   string `json:"into"`
	Closed bool   `json:"closed_at_sea"`
	// Above is its height above the water with nothing holed, at its least.
	Above float64 `json:"above_m"`
	// Under is the first heel at which it goes under with nothing holed; 180 if it never does.
	Under float64 `json:"goes_under_deg"`
	// Least is its height above the water with one compartment holed, at its least, and Holed which that is.
	Least float64 `json:"above_holed_m"`
	Holed string  `json:"holed"`
	// Outcome is what follows then if it stands open; as for a Loss.
	Outcome Outcome `json:"outcome"`
}

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method,
		NotLookedAt: []string{
			"waves: the water is still, and none comes over the deck's edge or into a hatch that stands above it",
			"air caught under a deck or in bags and tins that would keep some water out: every space vents",
			"the time between: only where she comes to rest, not how she lies while she fills",
			"bulkheads, hatches and their seals: each space that is not holed is taken as tight",
			"more than two compartments at once, unless an open hatch floods the third",
		},
		Cautions: []string{answer.NotWithHatchOpen, answer.CalculatedNotTested, answer.LocalRules, answer.NotStructure},
	}
	t, err := c.Trip()
	if err != nil {
		return a, err
	}
	if c.Weightless() {
		return c.NeedWeight(a), nil
	}
	day, cond, err := o.Pick(t)
	if err != nil {
		return a, err
	}
	if len(t.Ship.Rooms) == 0 {
		a.Verdict, a.Sentence = answer.CannotTell, "Cannot tell: the folder names no compartments, and a boat without any is lost with one hole."
		a.Needs = append(a.Needs, answer.Need{File: "boat.yaml", Key: "compartments",
			Why: "what floods together lies between watertight bulkheads: - {name: fore peak, from: 0.1 m, to: 0.6 m}"})
		return a, nil
	}
	q := newAsk(c, t, day, cond)
	q.bare = o.Bare
	if !o.Bare {
		a.Assumptions = append(c.Taken(t), q.taken()...)
	}
	if err := q.work(ctx, o.Progress); err != nil {
		return a, err
	}
	if q.judge(&a) && !o.Bare {
		f := q.figures()
		a.Figures = f
		if !o.Brief {
			q.lay(&a, f)
		}
	}
	return a, ctx.Err()
}

var method = []answer.Method{
	{What: "the sea stands in a holed compartment as outside: its buoyancy below the water is lost, its share filled by stores excepted; sinkage, trim and heel are balanced anew",
		Source: "Barrass & Derrett, Ship Stability for Masters and Mates, Bilging (lost buoyancy)"},
	{What: "the same sea taken as weight of loose water, level whatever the heel, must give the same rest; the difference is in the figures",
		Source: "Barrass & Derrett, Bilging (added weight)"},
	{What: "her arms with the compartment open to the sea, from 0 to 180 degrees on both sides, free to trim", Source: "Barrass & Derrett, stability at large angles"},
	{What: "an opening whose lowest point lies under water lets the sea into the space behind it, and so on until no more goes under", Source: "the boat folder; plain geometry"},
	{What: "the hole's flow from its head, summed over its height, against the level inside and out as she sinks", Source: "Torricelli; Streeter & Wylie, Fluid Mechanics (coefficient 0.61)"},
	{What: "the hose's loss by Darcy and Weisbach with Colebrook's factor", Source: "Colebrook (1939)"},
	{What: "tolerances of weight, centre and readings as independent, 19 in 20", Source: "JCGM 100:2008, 5.1"},
}

// ask is one asking.
type ask struct {
	c         *answer.Case
	t         *afloat.Trip
	sys       units.System
	day, cond int
	bare      bool // only verdict and margin are wanted
	rooms     []room
	lidless   []passage
	days      []int
	conds     []int
	states    []state
	paired    []int    // rooms taken in pairs
	singles   []result // worst state of each room, worst first
	pairs     []result
	hatches   []Hatch
	worst     result
	light     int // the state in which her arms are looked at
}

func newAsk(c *answer.Case, t *afloat.Trip, day, cond int) *ask {
	q := &ask{c: c, t: t, sys: c.Folder.Boat.Units, day: day, cond: cond}
	q.rooms, q.lidless = roomsOf(t), passages(t)
	q.days = slices.Compact([]int{0, t.Days / 2, t.Days})
	for i := range t.Conditions {
		if i < mostConditions {
			q.conds = append(q.conds, i)
		}
	}
	return q
}

// taken lists what is taken for granted beyond the shape and the weights.
func (q *ask) taken() []answer.Assumption {
	fine := q.sys.Fine()
	out := []answer.Assumption{
		{What: "share of a compartment that water can fill", Value: "all of it, less what its stores displace", File: "stores.csv: where",
			Why: "stores and ballast named or placed in it displace their weight as if they were as heavy as fresh water; lighter ones keep more out. Ships' rules take 0.95 of an empty space (common practice, no source); here the cautious end"},
		{What: "how far she may list with a compartment holed", Value: "15 degrees", File: "",
			Why: "more counts as lying over; ships' load line rules allow 15 degrees after damage (International Convention on Load Lines 1966, regulation 27, from memory)"},
		{What: "freeboard asked for with one compartment holed", Value: fine.Show(askedFreeboard), File: "", Why: "a choice, no source"},
		{What: "the hole that the times are for", Value: fine.Show(holeSize) + " across, its upper edge at the water line", File: "", Why: "a choice, no source"},
		{What: "days looked at", Value: join(q.days), File: "", Why: "leaving, half way and arriving; the crew in each of the places named"},
	}
	if n := len(q.t.Conditions); n > mostConditions {
		out = append(out, answer.Assumption{What: "crew places looked at", Value: fmt.Sprintf("the first %d of %d", mostConditions, n), Why: "the rest differ by who is where", File: "voyage.yaml: crew"})
	}
	if n := len(q.rooms); n > mostPaired {
		out = append(out, answer.Assumption{What: "compartments taken in pairs", Value: fmt.Sprintf("the %d that cost most alone, of %d", mostPaired, n), Why: "the others matter less", File: "boat.yaml: compartments"})
	}
	for i := range q.rooms {
		for j := range q.rooms[:i] {
			if q.overlap(i, j) {
				out = append(out, answer.Assumption{What: "compartments " + q.rooms[j].name + " and " + q.rooms[i].name, Value: "overlap as written",
					Why: "with both holed the common part counts twice", File: "boat.yaml: compartments"})
			}
		}
	}
	return append(out, q.takenPumps()...)
}

func join(days []int) string {
	text := ""
	for i, d := range days {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprint(d)
	}
	return text
}

// deg is a degree in radians.
const deg = math.Pi / 180
