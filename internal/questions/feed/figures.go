package feed

import (
	"math"

	"thole/internal/sustenance"
)

// Figures are the food, the water and the bodies of the passage. Energies are MJ, water and bodies kilograms, times days; a spread is half
// the width of the 19-in-20 range. What only the full answer works out is left out of a brief one.
type Figures struct {
	Arrival  ArrivalFigures   `json:"arrival"`
	Food     StoreFigures     `json:"food"`
	Water    StoreFigures     `json:"water"`
	Rowers   []RowerFigures   `json:"rowers"`
	Phases   []PhaseFigures   `json:"phases"` // by the bags that are opened
	Days     []DayFigures     `json:"days"`   // day 1 first
	Stock    StockFigures     `json:"stock"`
	Wanted   WantedFigures    `json:"wanted"`
	Ten      *TenFigures      `json:"ten_more_days,omitempty"`
	Ladder   []LadderFigures  `json:"ladder,omitempty"`
	Cuts     []CutFigures     `json:"cuts,omitempty"`
	Failures []FailureFigures `json:"failures,omitempty"`
}

// ArrivalFigures is when she comes in.
type ArrivalFigures struct {
	Passages  uint64  `json:"passages"` // 0 where the planned days stand for them
	Median    float64 `json:"median_days"`
	Tenth     float64 `json:"tenth_days"`     // one in ten is later
	Twentieth float64 `json:"twentieth_days"` // one in twenty is later
	Helped    float64 `json:"share_that_food_can_help"`
	Rows      float64 `json:"hours_rowed_over_usual"`
}

// StoreFigures is how long a store lasts.
type StoreFigures struct {
	Lasts  float64 `json:"lasts_days"`
	Spread float64 `json:"lasts_spread_days"`
	Ends   bool    `json:"ends"`           // false: it outlasts what is counted, and lasts_days is how far that was
	Chance float64 `json:"chance_it_does"` // that it outlasts the passage
}

// RowerFigures is one of the crew on a usual day, and at the end.
type RowerFigures struct {
	Name       string  `json:"name"`
	Resting    float64 `json:"resting_w"`
	Spends     float64 `json:"spends_mj"` // a usual day, as measured on ocean rowers
	Spread     float64 `json:"spends_spread_mj"`
	ByWork     float64 `json:"by_work_mj"`  // work over its efficiency
	ByTable    float64 `json:"by_table_mj"` // activity tables: an over-estimate
	OverTable  float64 `json:"by_table_over_spent"`
	Leaving    float64 `json:"mass_leaving_kg"`
	Middle     float64 `json:"mass_median_arrival_kg"`
	MiddleSpan float64 `json:"mass_median_arrival_spread_kg"`
	Late       float64 `json:"mass_late_arrival_kg"` // on the day of nineteen in twenty
	Lost       float64 `json:"share_lost_median_arrival"`
	LostLate   float64 `json:"share_lost_late_arrival"`
}

// PhaseFigures is a run of days on one kind of bag, for one rower.
type PhaseFigures struct {
	Name    string  `json:"name"`
	First   int     `json:"first_day"`
	Last    int     `json:"last_day"`
	Packed  int     `json:"days_packed"`
	Offered float64 `json:"packed_mj"`
	Eaten   float64 `json:"eaten_mj"`
	Spent   float64 `json:"spent_mj"`
}

// DayFigures is one day of the ledger, for all; energies and masses of each rower stand beside.
type DayFigures struct {
	Day          int       `json:"day"`
	Offered      []float64 `json:"packed_mj"`
	Eaten        []float64 `json:"eaten_mj"`
	Spent        []float64 `json:"spent_mj"`
	Mass         []float64 `json:"mass_kg"`
	FoodLeft     float64   `json:"food_left_mj"`
	Water        float64   `json:"water_needed_kg"`
	WaterSpread  float64   `json:"water_needed_spread_kg"`
	ForFood      float64   `json:"water_into_food_kg"` // a part of what is needed
	Made         float64   `json:"water_made_kg"`
	ByHand       float64   `json:"water_by_hand_kg"`
	HandHours    float64   `json:"hand_hours"`
	DrinkingLeft float64   `json:"drinking_left_kg"`
	Missing      float64   `json:"water_missing_kg"`
}

// StockFigures is the water carried, its kinds apart, and the emergency food.
type StockFigures struct {
	Drinking   float64 `json:"drinking_kg"`
	Reserve    float64 `json:"reserve_kg"`
	Ballast    float64 `json:"ballast_kg"`
	RaftDays   float64 `json:"reserve_raft_days"` // the first day dry, then half a kilogram a day each
	SpareMJ    float64 `json:"emergency_food_mj"`
	SpareDays  float64 `json:"emergency_food_days"` // lying and waiting
	SpareRange float64 `json:"emergency_food_spread_days"`
}

// WantedFigures is what nineteen in twenty asks for.
type WantedFigures struct {
	Packed      int     `json:"days_packed"`
	Days        int     `json:"days_for_19_in_20"`
	Missing     int     `json:"days_missing"` // of the days packed, leftovers not counted; 0 for none
	Food        float64 `json:"missing_food_kg"`
	Water       float64 `json:"missing_water_kg"`
	Carry       float64 `json:"water_to_carry_kg"` // so that nobody is short on the days of the ledger
	CarrySpread float64 `json:"water_to_carry_spread_kg"`
}

// TenFigures is what ten more days of food do: the folder changed and asked again.
type TenFigures struct {
	Days        int     `json:"days"`
	Mass        float64 `json:"mass_kg"`
	Lasts       float64 `json:"food_lasts_days"`
	Was         float64 `json:"food_lasted_days"`
	Speed       float64 `json:"calm_speed_kn"` // leaving; 0 where nobody rows
	SpeedWas    float64 `json:"calm_speed_was_kn"`
	Height      float64 `json:"height_of_gravity_left_m"` // on the tightest day
	HeightWas   float64 `json:"height_of_gravity_left_was_m"`
	HeightDay   int     `json:"tightest_day"`
	HeightKnown bool    `json:"height_known"` // false where she does not float or finds no balance

	Leaving      float64 `json:"height_of_gravity_left_leaving_m"`
	LeavingWas   float64 `json:"height_of_gravity_left_leaving_was_m"`
	LeavingKnown bool    `json:"leaving_known"`
}

// LadderFigures is by when to cut, if food must last until a day.
type LadderFigures struct {
	Until  int           `json:"until_day"`
	Shares []ShareFrom   `json:"least_share"` // from a day on; 0 where it is too late even for nothing
	Latest []LatestShare `json:"latest_day"`
}

// ShareFrom is the least cut from a day on.
type ShareFrom struct {
	From  int     `json:"from_day"`
	Share float64 `json:"share"`
}

// LatestShare is the last day on which a cut to a share will do; 0 where it never does, which is too little a cut.
type LatestShare struct {
	Share float64 `json:"share"`
	Day   int     `json:"day"`
}

// CutFigures is a way to make the food last, and what it costs the body most short of it.
type CutFigures struct {
	Decided int     `json:"decided_on_day"`
	From    int     `json:"from_day"`
	Share   float64 `json:"share"`
	Starts  string  `json:"starts"`
	Until   int     `json:"until_day"`
	Lasts   float64 `json:"lasts_days"`
	Lost    float64 `json:"share_of_body_lost"`
	Spread  float64 `json:"share_of_body_lost_spread"`
	Says    string  `json:"says"`
}

// FailureFigures is the water with makers lost.
type FailureFigures struct {
	What   string  `json:"what"`
	From   int     `json:"from_day"` // 0 for none lost
	Lasts  float64 `json:"water_lasts_days"`
	Ends   bool    `json:"ends"`
	Pumped float64 `json:"hand_hours_a_day"`   // for all, over the ten days after
	Short  float64 `json:"missing_kg_a_day"`   // for each, once the tank is empty
	Drunk  float64 `json:"drunk_kg_a_day"`     // by each, then
	Lacks  float64 `json:"lacking_after_week"` // share of a body's mass that lacks after a week of that, worst of the crew
	Says   string  `json:"says"`
}

const mega = 1e6

// figures lays the ledger out for machines.
func (q *ask) figures() (Figures, error) {
	r := &q.arrival
	f := Figures{Arrival: ArrivalFigures{Median: r.median, Tenth: r.tenth, Twentieth: r.twentieth, Helped: r.helped(), Rows: q.rows},
		Food:  StoreFigures{q.lasts.Food.Value, q.lasts.Food.Spread, q.lasts.FoodEnds, q.chance.food},
		Water: StoreFigures{q.lasts.Water.Value, q.lasts.Water.Spread, q.lasts.WaterEnds, q.chance.water}, Ten: q.more}
	if r.tally != nil {
		f.Arrival.Passages = r.tally.Passages
	}
	p := q.plan(q.days)
	for i := range p.Rowers {
		one, err := q.rower(i)
		if err != nil {
			return f, err
		}
		f.Rowers = append(f.Rowers, one)
	}
	for _, x := range q.ledger.Phases(p) {
		f.Phases = append(f.Phases, PhaseFigures{x.Name, x.First + 1, x.Last + 1, x.Packed, x.Offered.Value / mega, x.Eaten.Value / mega, x.Spent.Value / mega})
	}
	for _, d := range q.ledger.Days {
		o := DayFigures{Day: d.Day + 1, FoodLeft: d.FoodLeft.Value / mega, Water: d.Water.Value, WaterSpread: d.Water.Spread, ForFood: d.ForFood.Value, Made: d.Made.Value, ByHand: d.ByHand.Value,
			HandHours: d.HandHours.Value, DrinkingLeft: d.DrinkingLeft.Value, Missing: d.Missing.Value}
		for _, e := range d.Each {
			o.Offered, o.Eaten, o.Spent, o.Mass = append(o.Offered, e.Offered.Value/mega), append(o.Eaten, e.Eaten.Value/mega), append(o.Spent, e.Spent.Value/mega), append(o.Mass, e.Mass.Value)
		}
		f.Days = append(f.Days, o)
	}
	var err error
	if f.Stock, err = q.stock(p); err != nil {
		return f, err
	}
	if f.Wanted, err = q.wanted(p); err != nil || !q.full {
		return f, err
	}
	if f.Ladder, err = q.ladder(); err != nil {
		return f, err
	}
	if f.Cuts, err = q.cuts(); err != nil {
		return f, err
	}
	f.Failures, err = q.failures()
	return f, err
}

// rower is one of the crew.
func (q *ask) rower(i int) (RowerFigures, error) {
	r := &q.p.Plan.Rowers[i]
	s, err := r.Person.Spending(r.Habit)
	if err != nil {
		return RowerFigures{}, err
	}
	mid, late := q.ledger.Days[q.at(q.arrival.median)].Each[i], q.ledger.Days[q.at(q.arrival.twentieth)].Each[i]
	return RowerFigures{Name: r.Person.Name, Resting: s.Resting.Value, Spends: s.Taken.Value / mega, Spread: s.Taken.Spread / mega, ByWork: s.ByWork.Value / mega, ByTable: s.ByTable / mega, OverTable: s.OverTab,
		Leaving: r.Person.Mass, Middle: mid.Mass.Value, MiddleSpan: mid.Mass.Spread, Late: late.Mass.Value, Lost: mid.Lost.Value, LostLate: late.Lost.Value}, nil
}

func (q *ask) stock(p *sustenance.Plan) (StockFigures, error) {
	s := StockFigures{Drinking: p.Stock.Drinking, Reserve: p.Stock.Reserve, Ballast: p.Stock.Ballast, SpareMJ: p.Spare / mega}
	spare, err := p.SpareDays()
	if err != nil {
		return s, err
	}
	s.SpareDays, s.SpareRange = spare.Value, spare.Spread
	if s.Reserve > 0 {
		s.RaftDays, err = sustenance.RaftDays(s.Reserve, len(p.Rowers))
	}
	return s, err
}

// wanted is what nineteen in twenty asks for, in days of bags.
func (q *ask) wanted(p *sustenance.Plan) (WantedFigures, error) {
	w := WantedFigures{Packed: p.Rations.Days(), Days: int(math.Ceil(q.arrival.twentieth))}
	w.Missing = max(0, w.Days-w.Packed)
	var err error
	if w.Food, w.Water, err = p.Extra(w.Missing); err != nil {
		return w, err
	}
	carry, err := p.WaterToCarry()
	w.Carry, w.CarrySpread = carry.Value, carry.Spread
	return w, err
}
