// Package layout says how the embedded climate files are laid out: the lattice, the order of
// the bytes and what a byte is worth. The recipe writes by it and package climate reads by it.
package layout

import "math"

// The lattice: cells of two degrees, twelve months, from the south and from Greenwich eastward.
const (
	Rows   = 90
	Cols   = 180
	Months = 12
	Cells  = Rows * Cols
	Step   = 2.0 // degrees
	South  = -89.0
	West   = 1.0 // degrees east of the first column's centre
)

// Channel is one quantity: a signed byte b is worth Offset + Step*b. The byte -128 is not used.
type Channel struct {
	Name   string
	Unit   string
	Offset float64
	Step   float64
}

// The quantities of each file, in their order. The steps are modelling choices: half a step is
// well below the scatter of the data (0.35 m/s from cell to cell in the trades).
var (
	Wind = []Channel{
		{"east", "m/s", 0, .2},
		{"north", "m/s", 0, .2},
		{"speed", "m/s", 12.6, .1},
	}
	Weather = []Channel{
		{"air", "degC", 12, .25},
		{"sea", "degC", 12, .25},
		{"pressure", "Pa", 100000, 50},
		{"cloud", "1", .5, .004},
		{"sun", "W/m2", 180, 1.5},
	}
	Years = []Channel{
		{"east", "m/s", 6.35, .05},
		{"north", "m/s", 6.35, .05},
	}
	Current = []Channel{
		{"east", "m/s", 0, .01},
		{"north", "m/s", 0, .01},
	}
)

// Origins of a cell's value, one byte a cell and month after the quantities of a file.
const (
	Land    byte = iota // no sea here: spread from the nearest sea, only so that no hole is left
	Ships               // reports of ships (COADS), smoothed
	Blended             // ships and the weather centre's analyses, weighted by latitude
	Charts              // analyses and objective charts only: the ships are missing or too few
	Spread              // sea without data: spread from its neighbours
	Section             // current from the sea's density
)

// Lat is the latitude of a row's centre, degrees.
func Lat(row int) float64 { return South + Step*float64(row) }

// Lon is the longitude of a column's centre, degrees east, 0 to 360.
func Lon(col int) float64 { return West + Step*float64(col) }

// Index is where a month's cell stands among a channel's bytes.
func Index(month, row, col int) int { return (month*Rows+row)*Cols + col }

// Pack rounds a value to its byte; what lies outside the channel's range is held at its end.
func (c Channel) Pack(x float64) int8 {
	return int8(math.Max(-127, math.Min(127, math.Round((x-c.Offset)/c.Step))))
}

// Unpack is what a byte is worth.
func (c Channel) Unpack(b int8) float64 { return c.Offset + c.Step*float64(b) }
