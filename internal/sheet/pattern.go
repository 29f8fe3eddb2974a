package sheet

// Pattern is a part to be cut, at its true size: what a face prints over tiled
// paper, writes for a plotter, or lists as points to plot with a batten.
type Pattern struct {
	Name    string // short and fit for a file name: mould-5
	Title   string // Mould 5, at 2.20 m
	Face    string // which face is drawn: "seen from astern; its body stands ahead of the line"
	Drawing Drawing
	// Points are the coordinates to plot instead of trusting paper, in the drawing's frame.
	Points []PlotPoint
	Notes  []string
	// Thickness of the material it is cut from, metres; 0 when it is no part (a lines drawing).
	Thickness float64
	Count     int // how many are cut; a mirrored pair is two
}

// PlotPoint is a named point of a pattern, metres in the drawing's frame.
type PlotPoint struct {
	Name string
	X, Y float64
	// Bevel is the angle of the edge there from square, radians; positive leans away from the face drawn.
	Bevel    float64
	HasBevel bool
}
