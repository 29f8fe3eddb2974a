package sustenance

import (
	"math"
	"sort"
)

// Net is mechanical work at the handle over the energy burnt beyond resting.
//
// Source: Fukunaga et al., European Journal of Applied Physiology 55 (1986) 471-475: net 19.8 with a standard
// deviation of 1.4 per cent, gross 17.5, at 124 to 182 W. Kept at lower powers: modelling choice
var Net = Value{0.198, 0.028}

// Chores is the rate of spending of a rower who is awake or asleep but not at the oars, in resting rates.
//
// Source: usual tables: sleep 0.95, sitting 1.3 to 1.5, light chores 2 to 2.5; the mean of a day of half of them
// is a modelling choice, and so is its spread
var Chores = Value{1.3, 0.2}

// Burning is the rate at which a rower burns food while rowing, watts.
//
// In:     power at the handle in W, resting rate in W, net efficiency
// Error:  ErrInput
// Good to: the net efficiency, 14 per cent for 19 in 20
// Source: see Net; its gross efficiency at 124 to 182 W comes out at the published 17.5 per cent (TestEfficiency)
func Burning(power, resting, net float64) (float64, error) {
	if err := first(within("the power", power, 0, 3000, "W"), within("the resting rate", resting, 10, 500, "W"), within("the net efficiency", net, 0.02, 1, "")); err != nil {
		return 0, err
	}
	return resting + power/net, nil
}

// Gross is mechanical power over all that is burnt, and the heat that is left to be shed, in W.
//
// In:     power at the handle in W, gross efficiency
// Error:  ErrInput
// Source: definition
func Gross(power, efficiency float64) (burnt, heat float64, err error) {
	if err := first(within("the power", power, 0, 3000, "W"), within("the gross efficiency", efficiency, 0.02, 1, "")); err != nil {
		return 0, 0, err
	}
	return power / efficiency, power/efficiency - power, nil
}

// Activity is hours of a day at a rate of the activity tables.
type Activity struct {
	What  string
	Hours float64
	Mets  float64 // kcal for each kg and hour
}

// Published rates, kcal for each kilogram and hour.
//
// Source: 2011 Compendium of Physical Activities, codes 07030, 18070, 18050, 02071, 02070 and 18080, as quoted
const (
	Sleeping   = 0.95
	RowingEasy = 3.5
	RowingWork = 5.8
	Ergometer  = 4.8
	Vigorous   = 6.0
	Racing     = 12.0
)

// ByTable is the energy of a day by the activity tables, joules: the sum that most plans are made with.
// For long days it is far above what was measured, and stands here to be shown, not used.
//
// In:     kg; activities whose hours add up to 24
// Error:  ErrInput
// Source: 1 MET = 1 kcal for each kg and hour; some tables take 1.05 of it
func ByTable(mass float64, activities []Activity) (float64, error) {
	err := within("the mass", mass, 30, 250, "kg")
	hours, mets := 0.0, 0.0
	for _, a := range activities {
		err = first(err, within("the hours of "+a.What, a.Hours, 0, 24, "h"), within("the rate of "+a.What, a.Mets, 0, 25, "MET"))
		hours += a.Hours
		mets += a.Hours * a.Mets
	}
	if err = first(err, within("the sum of the day's hours", hours, 24-1e-6, 24+1e-6, "h")); err != nil {
		return 0, err
	}
	return mets * mass * Kilocalorie, nil
}

// RowersDay is a day for the tables: so many hours at the oars, and of the rest half asleep, the other half at chores
// and sitting, two hours to one and a half. The division is a modelling choice.
func RowersDay(hours, mets float64) []Activity {
	rest := 24 - hours
	return []Activity{{"rowing", hours, mets}, {"sleep", rest / 2, Sleeping}, {"chores", rest * 2 / 7, 2.0}, {"sitting", rest * 3 / 14, 1.5}}
}

// Measured is the energy that ocean rowers were found to spend, in resting rates.
//
// Source: 49 rowers of an Atlantic race, 46 days, 12 to 18 h a day, doubly labelled water in the last week: men 2.5,
// standard deviation 1.0, women 2.3, standard deviation 0.4 (abstract, 2020 and 2021 crossings). Two men round
// Britain, 50 days: 15.3 MJ a day (Reid et al., International Journal of Sports Physiology and Performance 12 (2017)
// 1012). The spread taken is twice the women's deviation for both: twice the men's would reach below resting, so that
// theirs holds the error of the method (modelling choice)
func Measured(s Sex) Value {
	if s == Woman {
		return Value{2.3, 0.8}
	}
	return Value{2.5, 0.8}
}

// fewest hours a day for which the measured level holds; below it the level falls in a straight line to that of a day
// without rowing. The measured crews rowed 12 to 18 h; eight is a modelling choice.
const fewest = 8.0

// shortest is the least time at the oars that is counted, hours: a minute.
const shortest = 1.0 / 60

// Habit is a rower's usual day.
type Habit struct {
	Hours float64 // at the oars
	Power float64 // W at the handle while rowing
}

// Spending is what a rower spends on a usual day, four ways.
type Spending struct {
	Resting  Value   // W
	ByWork   Value   // J a day: resting, chores, and work over its efficiency
	ByTable  float64 // J a day, by the activity tables at RowingWork; an over-estimate
	Taken    Value   // J a day: the measured level at these hours; what is counted with
	Share    float64 // what work at the oars costs in Taken over what it costs in ByWork
	Held     Value   // W at the handle that Taken leaves room for: less than the power named when Share is below 1
	OverWork float64 // ByWork / Taken
	OverTab  float64 // ByTable / Taken
}

// Spending is the energy of a rower's usual day.
//
// Out:    the sum by work, the sum by the tables, and the measured level, which is taken
// Error:  ErrInput
// Good to: a third for a person not measured, 19 in 20
// Source: see Measured, Net, Chores and Mifflin
func (p Person) Spending(h Habit) (Spending, error) {
	rest, err := p.Resting(Mifflin)
	if err = first(err, within("the hours at the oars", h.Hours, 0, 24, "h"), within("the power", h.Power, 0, 1000, "W")); err != nil {
		return Spending{}, err
	}
	table, err := ByTable(p.Mass, RowersDay(h.Hours, RowingWork))
	if err != nil {
		return Spending{}, err
	}
	s := Spending{Resting: rest, ByTable: table}
	idle := Chores.Value * rest.Value * (24 - h.Hours) * Hour
	work := h.Power / Net.Value * h.Hours * Hour
	still := rest.Value * h.Hours * Hour
	s.ByWork = Value{idle + still + work, math.Hypot(math.Hypot(byFormula*(idle+still), Chores.Spread/Chores.Value*idle), Net.Spread/Net.Value*work)}
	level := p.level(h.Hours)
	taken := level.Value * rest.Value * Day
	s.Taken = Value{taken, taken * math.Hypot(level.Spread/level.Value, byFormula)}
	s.OverWork, s.OverTab = s.ByWork.Value/taken, table/taken
	if room := math.Max(0, taken-idle-still); work > 0 && h.Hours >= shortest {
		s.Share = room / work
		s.Held = Value{h.Power * s.Share, Net.Value * s.Taken.Spread / (h.Hours * Hour)}
	}
	return s, nil
}

// level is the measured level at so many hours a day, in resting rates.
func (p Person) level(hours float64) Value {
	m, near := Measured(p.Sex), math.Min(1, hours/fewest)
	return Value{Chores.Value + (m.Value-Chores.Value)*near, math.Hypot(Chores.Spread*(1-near), m.Spread*near)}
}

// Summary is the resting rate by every equation, lowest first, in W: how far the equations differ.
func (p Person) Summary() ([]Value, error) {
	var out []Value
	for _, e := range Equations() {
		v, err := p.Resting(e)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Value < out[j].Value })
	return out, nil
}
