package model

import "thole/internal/units"

// What voyage.yaml and boat.yaml say of the passage itself: how the crew live, by which rules they row or lie to a sea
// anchor, how weather is to be made, and with what they make water. What was not said is nothing or nil, and who uses it
// lists what was taken instead.

// File is a file of the folder that is read by who understands it.
type File struct {
	Name string // relative to the folder
	Data []byte
}

// Range is a number with the half width of its 19-in-20 range; a share is of one.
type Range struct {
	Value, Tolerance float64
	Given            bool
}

// Hours is a part of the day by the sun's mean time at her longitude: 6 to 10. It does not run over midnight.
type Hours struct{ From, To float64 }

// Habits are how days at sea are spent.
type Habits struct {
	Watches  []Hours  // when somebody rows; from the crew's hours when empty
	Daylight *bool    // they are cut to between sunrise and sunset
	Breaks   *float64 // share of a watch that is not rowed
	Rest     int      // each so many days one of rest; 0 none
	Lost     *float64 // share of days that injury and repair take
	Allow    *bool    // she steers up-current by what is known of the set
}

// Rules are what is done in which wind.
type Rules struct {
	Stop    units.Speed // from this wind nobody rows and the sea anchor goes out
	Against units.Speed // from this wind, when it comes from ahead, the sea anchor goes out instead of rowing
	Ahead   units.Angle // how far from right ahead still counts as ahead
	In      *float64    // the share of those winds below which it comes in again
	Idle    *bool       // it goes out too when nobody rows and she would be set back
}

// Weather replaces how winds are made to depart from their climatology.
type Weather struct {
	East, North  units.Duration // until a departure has fallen to 1/e
	Reach        units.Length   // the way over which it does
	Year         units.Speed    // spread of one year's mean
	Season       int            // days over which that falls to 1/e
	Spread       *float64       // 1 is the climatology's own
	YearGiven    bool
	SeasonGiven  bool
	CurrentDoubt units.Speed // how far the person's own current may be wrong; 0 when not said
}

// Diet is what the food is made of, shares of its energy; the rest is carbohydrate.
type Diet struct{ Fat, Protein *float64 }

// WaterMaker turns sea water into fresh.
type WaterMaker struct {
	Name    string
	Hand    bool         // worked by hand
	AnHour  units.Volume // m3 an hour
	Spread  units.Volume // half width of the 19-in-20 range; 0 when not given
	Hours   units.Duration
	Draws   units.Power // electric; 0 when not given
	From    int         // first day on which it works; 0 from the start
	Until   int         // day on which it stops for good; 0 never
	Source  Source
	Service string // a word of what it provides, for those who ask what its loss does; empty when not given
}

// Keeping says what a thing is kept for, beyond being used.
type Keeping string

// The keepings.
const (
	KeptForUse  Keeping = ""
	KeptReserve Keeping = "reserve" // sealed, for when something has gone wrong
	KeptBallast Keeping = "ballast" // drunk only against sea water let in
)
