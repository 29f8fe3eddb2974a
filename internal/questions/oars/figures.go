package oars

import (
	"thole/internal/rowing"
	"thole/internal/underway"
)

// Figures are the fit of each of the crew, and what they make of her. Lengths are metres, angles degrees, spreads half the width
// of the 19-in-20 range.
type Figures struct {
	Clearance float64      `json:"clearance_asked_m"`
	Fits      []FitFigures `json:"fits"`      // each of the crew at each place that they row from
	Condition string       `json:"condition"` // who is at the oars for what follows
	Rowers    int          `json:"rowers"`
	Power     float64      `json:"power_w"` // at the handles, all of those at the oars
	Spread    float64      `json:"power_spread_w"`
	Days      []DayFigures `json:"days"` // the heaviest and the lightest day, and the day asked for
}

// FitFigures is one of the crew at one rowing place, in the setting with most room.
type FitFigures struct {
	Name        string         `json:"name"`
	Place       string         `json:"place"`
	Gate        float64        `json:"gate_shift_m"`      // of the gates, aft of where they are written
	Hole        float64        `json:"stretcher_shift_m"` // likewise
	Room        float64        `json:"room_m"`            // where it is tightest
	RoomSpread  float64        `json:"room_spread_m"`
	Tightest    string         `json:"tightest"`
	Catch       float64        `json:"catch_deg"` // from square, with the boat on her heaviest day
	Finish      float64        `json:"finish_deg"`
	Run         float64        `json:"run_m"` // the hands' way along their arc
	Slide       float64        `json:"slide_m"`
	HandsCatch  float64        `json:"hands_catch_m"` // above the seat
	HandsFinish float64        `json:"hands_finish_m"`
	Gear        float64        `json:"gear"`  // outboard over half the span
	Lever       float64        `json:"lever"` // blade's arm over hand's arm
	Overlap     float64        `json:"overlap_m"`
	Checks      []CheckFigures `json:"checks"`
}

// CheckFigures is one thing looked at.
type CheckFigures struct {
	What   string  `json:"what"`
	Room   float64 `json:"room_m"` // an angle as the way of the hands
	Spread float64 `json:"spread_m"`
	When   string  `json:"when,omitempty"`
	Edge   string  `json:"edge,omitempty"`
	Counts bool    `json:"counts"` // heeled 10 degrees it is told and does not count
}

// DayFigures is what the crew make of her on a day.
type DayFigures struct {
	Day        int     `json:"day"`
	Mass       float64 `json:"mass_kg"`
	Scraped    float64 `json:"days_since_scraped"`
	Calm       float64 `json:"calm_speed_kn"`
	CalmSpread float64 `json:"calm_speed_spread_kn"`
	Thrust     float64 `json:"thrust_n"` // at that speed
	Efficiency float64 `json:"blade_efficiency"`
	Rate       float64 `json:"strokes_a_minute"`
	Pull       float64 `json:"pull_n"` // mean through the drive, at one rower's handles
	// StopWind is the head wind at 10 m that just holds her; left out when none does.
	StopWind       float64 `json:"stop_wind_kn,omitempty"`
	StopWindSpread float64 `json:"stop_wind_spread_kn,omitempty"`
}

func (q *ask) figures() Figures {
	f := Figures{Clearance: q.asked, Condition: q.t.Conditions[q.rowed].Name}
	for i := range q.crew.Rowers {
		f.Fits = append(f.Fits, q.fitted(&q.crew.Rowers[i]))
	}
	crew := q.at[q.days[0]].r.Crew
	f.Rowers, f.Power, f.Spread = len(crew.Rowers), crew.Power().Value, crew.Power().Spread
	seen := map[int]bool{}
	for _, d := range []int{q.days[0], q.days[1], q.day} {
		if !seen[d] {
			seen[d] = true
			f.Days = append(f.Days, dayOf(q.at[d]))
		}
	}
	return f
}

func (q *ask) fitted(r *underway.Rower) FitFigures {
	st := r.Fit.Stroke
	f := FitFigures{Name: r.Name, Place: q.place(r).Name, Gate: r.Gates[r.Gate], Hole: r.Holes[r.Hole], Room: r.Left, RoomSpread: r.Spread, Tightest: string(r.Tightest.Kind),
		Catch: st.CatchAngle * deg, Finish: st.FinishAngle * deg, Run: st.Run, Slide: st.Slide, HandsCatch: st.HandCatch, HandsFinish: st.HandFinish}
	if g, err := r.Setup.Oar.Gears(r.Setup.Gate.Half); err == nil {
		f.Gear, f.Lever, f.Overlap = g.Plain, g.Lever, g.Overlap
	}
	for _, c := range q.checks(r) {
		left, spread := underway.Left(c, &r.Setup)
		f.Checks = append(f.Checks, CheckFigures{What: string(c.Kind), Room: left, Spread: spread, When: c.Water, Edge: c.Edge, Counts: !c.Noted})
	}
	return f
}

// checks is everything looked at for a rower, heeled with it.
func (q *ask) checks(r *underway.Rower) []rowing.Check {
	fit, err := r.Setup.Fit(q.waters)
	if err != nil {
		return r.Fit.Checks // heeled she cannot be looked at
	}
	var out []rowing.Check
	for _, c := range fit.Checks {
		if c.Asked {
			out = append(out, c)
		}
	}
	return out
}

func dayOf(s *sea) DayFigures {
	f := DayFigures{Day: s.day, Mass: s.r.State.Mass, Scraped: s.r.Scraped, Calm: s.calm.Speed / knot, CalmSpread: s.calm.Spread / knot, Thrust: s.calm.Thrust.Value}
	if len(s.r.Crew.Rowers) > 0 {
		if p, err := s.r.Crew.Rowers[0].Pull(s.calm.Speed); err == nil {
			f.Efficiency, f.Rate, f.Pull = p.Efficiency.Value, p.Rate, p.Handle
		}
	}
	if s.stopErr == nil {
		f.StopWind, f.StopWindSpread = s.stop/knot, s.stopSpread/knot
	}
	return f
}
