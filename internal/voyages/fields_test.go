package voyages

import (
	"math"

	"thole/internal/weather"
)

const deg = math.Pi / 180

// steady is the same wind, or none, everywhere.
type steady struct{ u, v, speed float64 }

func (s steady) Wind(_, _, _ float64) (float64, float64, float64) { return s.u, s.v, s.speed }

// flow is the same current everywhere.
type flow struct{ u, v float64 }

func (f flow) Current(_, _, _ float64) (float64, float64) { return f.u, f.v }

// easy goes at one speed wherever she is pointed, and not at all when left.
type easy float64

func (e easy) Rowed(_, off, _ float64) (float64, float64, bool) { return off, float64(e), true }
func (e easy) Adrift(_, _ float64) (float64, float64)           { return 0, 0 }
func (e easy) Anchored(_, _ float64) (float64, float64)         { return 0, 0 }

// cork goes with a share of the wind and is never rowed.
type cork float64

func (c cork) Rowed(_, off, _ float64) (float64, float64, bool) { return off, 0, false }
func (c cork) Adrift(w, _ float64) (float64, float64)           { return w * float64(c), 0 }
func (c cork) Anchored(w, _ float64) (float64, float64)         { return w * float64(c), 0 }

// dory is something like a boat: slower into the wind, not kept within 50 degrees of it when it blows.
type dory struct{}

func (dory) Rowed(w, off, load float64) (float64, float64, bool) {
	kept := true
	if math.Abs(off) < 50*deg && w > 7 {
		off, kept = math.Copysign(50*deg, off), false
	}
	return off, math.Max(0.05, 0.9-0.06*w*math.Cos(off)) * math.Pow(600/load, 0.2), kept
}
func (dory) Adrift(w, _ float64) (float64, float64)   { return 0.035 * w, 0.01 * w }
func (dory) Anchored(w, _ float64) (float64, float64) { return 0.012 * w, 0 }

// disk is round land.
type disk struct {
	at     Place
	radius float64
}

func (d disk) Clear(lat, lon float64) float64 { return Distance(d.at, Place{lat, lon}) - d.radius }

// seasonal blows harder in the north and by the time of the year.
type seasonal struct{}

func (seasonal) Wind(lat, lon, when float64) (float64, float64, float64) {
	s := math.Sin(2 * math.Pi * when / (365.25 * 86400))
	u, v := -6*math.Cos(3*(lat-15*deg)), -2+s
	return u, v, math.Hypot(u, v) + 0.6 + 2*math.Abs(lat)
}

// plain is the least that runs.
func plain() Spec {
	return Spec{Seed: 1, Start: Place{0, 0}, Route: []Point{{Place{0, -10 * deg}, 1000}}, Climate: steady{}, Boat: easy(1),
		Weather: weather.Usual(), Rules: Rules{Habit: Habit{Watches: []Watch{{0, 24}}}, Storm: 100, Ease: 0.8},
		Wear: Wear{Load: 600, Eaten: 4, Least: 400}, Most: 100, Past: 20000}
}

// atlantic is a passage with everything in it: 80 days and more, 2,550 nautical miles.
func atlantic() Spec {
	return Spec{Seed: 20261212, Start: Place{28.1 * deg, -17.1 * deg}, Depart: 1797033600,
		Route:   []Point{{Place{20 * deg, -30 * deg}, 150e3}, {Place{17.0 * deg, -61.7 * deg}, 15e3}},
		Climate: seasonal{}, Currents: flow{-0.1, -0.01}, Land: disk{Place{17 * deg, -61.8 * deg}, 10e3}, Boat: dory{},
		Weather: weather.Usual(),
		Rules:   Rules{Habit: Habit{Watches: []Watch{{6, 9}, {10, 13}, {15, 19}}, Breaks: 0.1}, Allow: true, Storm: 16, Against: 8, Ahead: 70 * deg, Ease: 0.8, Idle: true},
		Wear:    Wear{Load: 650, Eaten: 2.5, Least: 400, Fouling: 0.03, Foulest: 0.2, Sick: 0.4, SickDays: 7, Lost: 0.02, Every: 0, Pace: 0.05},
		Most:    120, Past: 30000, Offing: 10000}
}
