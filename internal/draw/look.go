package draw

import "thole/internal/sheet"

// Ink is a colour, red, green and blue from 0 to 255.
type Ink struct{ R, G, B int }

// Look is how a role is drawn on paper.
type Look struct {
	Line float64   // weight in millimetres; 0 draws no line
	Ink  Ink       // of the line and of words
	Fill *Ink      // nil leaves a closed shape empty
	Dash []float64 // millimetres on and off; nil is unbroken
}

// The two weights of line.
const (
	thin  = 0.18
	heavy = 0.50
)

var (
	ink   = Ink{28, 32, 38}
	grey  = Ink{106, 104, 98}
	pale  = Ink{190, 182, 166}
	sea   = Ink{214, 227, 231}
	water = Ink{40, 88, 112}
	body  = Ink{240, 231, 213}
	thing = Ink{206, 197, 180}
	red   = Ink{142, 40, 28}
)

// looks has one look for each role.
var looks = map[sheet.Role]Look{
	sheet.Main:    {Line: heavy, Ink: ink},
	sheet.Other:   {Line: thin, Ink: ink},
	sheet.Limit:   {Line: heavy, Ink: red, Dash: []float64{2, 1.2}},
	sheet.Water:   {Line: thin, Ink: water},
	sheet.Sea:     {Fill: &sea, Ink: water},
	sheet.Body:    {Line: thin, Ink: ink, Fill: &body},
	sheet.Space:   {Line: thin, Ink: grey},
	sheet.Thing:   {Line: thin, Ink: ink, Fill: &thing},
	sheet.Grid:    {Line: thin, Ink: pale},
	sheet.Skin:    {Line: heavy, Ink: ink},
	sheet.Pointer: {Line: thin, Ink: grey},
}

// dashes tells several curves of one role apart without colour.
var dashes = [][]float64{nil, {0.3, 0.9}, {2.4, 0.8, 0.3, 0.8}, {1.2, 0.8}, {3.6, 0.8}}

// LookOf is how a role is drawn; a role that is not known is drawn as Other.
func LookOf(r sheet.Role) Look {
	if l, ok := looks[r]; ok {
		return l
	}
	return looks[sheet.Other]
}

// wordInk is the colour of words of a role: reference lines are pale, but what is
// written on them must be read.
func wordInk(r sheet.Role) Ink {
	if r == sheet.Grid {
		return grey
	}
	return LookOf(r).Ink
}

// dash is the break of a stroke's line.
func (s Stroke) dash() []float64 {
	if s.Role == sheet.Other {
		return dashes[s.Turn%len(dashes)]
	}
	return LookOf(s.Role).Dash
}

// filled tells whether a stroke is an area.
func (s Stroke) filled() bool { return s.Closed && LookOf(s.Role).Fill != nil }
