package sheet

// Pattern is a part to be cut, at its true size: what a face prints over tiled
// paper, writes for a plotter, or lists as points to plot with a batten.
type Pattern struct {
	Name    string  `json:"name"`  // short and fit for a file name: mould-05
	Title   string  `json:"title"` // Mould 5, 2.20 m aft of station 0
	Face    string  `json:"face"`  // which face is drawn: "its body stands ahead of the face drawn"
	Drawing Drawing `json:"drawing"`
	// Points are the coordinates to plot instead of trusting paper, in the drawing's frame.
	Points []PlotPoint `json:"points,omitempty"`
	Notes  []string    `json:"notes,omitempty"`
	// Thickness of the material it is cut from, metres; 0 when it is no part (a lines drawing).
	Thickness float64 `json:"thickness_m"`
	Count     int     `json:"count"` // how many are cut; a mirrored pair is two
}

// PlotPoint is a named point of a pattern, metres in the drawing's frame.
type PlotPoint struct {
	Name string  `json:"name"`
	X    float64 `json:"x_m"`
	Y    float64 `json:"y_m"`
	// Bevel is the angle of the edge there from square, radians; positive leans away from the face drawn.
	Bevel    float64 `json:"bevel_rad"`
	HasBevel bool    `json:"has_bevel"`
}
