package weather

// Force is one of Beaufort's.
type Force struct {
	Number    int
	Low, High float64 // m/s at 10 m, both ends within
	Knots     float64 // the mean wind
	Wave, Max float64 // m, probable significant height in the open sea, and the highest
	Name      string
}

// Beauforts are the forces 0 to 12; the last has no upper end but that of winds.
//
// Source: limits, WMO code table 1100; mean knots and waves as the UK Met Office prints them
var Beauforts = [13]Force{
	{0, 0, 0.2, 0, 0, 0, "calm"},
	{1, 0.3, 1.5, 2, 0.1, 0.1, "light air"},
	{2, 1.6, 3.3, 5, 0.2, 0.3, "light breeze"},
	{3, 3.4, 5.4, 9, 0.6, 1.0, "gentle breeze"},
	{4, 5.5, 7.9, 13, 1.0, 1.5, "moderate breeze"},
	{5, 8.0, 10.7, 19, 2.0, 2.5, "fresh breeze"},
	{6, 10.8, 13.8, 24, 3.0, 4.0, "strong breeze"},
	{7, 13.9, 17.1, 30, 4.0, 5.5, "near gale"},
	{8, 17.2, 20.7, 37, 5.5, 7.5, "gale"},
	{9, 20.8, 24.4, 44, 7.0, 10.0, "strong gale"},
	{10, 24.5, 28.4, 52, 9.0, 12.5, "storm"},
	{11, 28.5, 32.6, 60, 11.5, 16.0, "violent storm"},
	{12, 32.7, 200, 64, 14, 14, "hurricane"},
}

// Gale is the least wind of force 8, m/s.
const Gale = 17.2

// Beaufort is the force of a wind; between two limits as printed, the nearer.
//
// In:     wind m/s
func Beaufort(wind float64) Force {
	for i := 12; i > 0; i-- {
		if wind >= (Beauforts[i-1].High+Beauforts[i].Low)/2 {
			return Beauforts[i]
		}
	}
	return Beauforts[0]
}

// SeaState is a line of the table of seas.
type SeaState struct {
	Code int
	High float64 // m, the most of its significant height
	Name string
}

// SeaStates are 0 to 9; the last has no end.
//
// Source: WMO code table 3700 (from memory, high)
var SeaStates = [10]SeaState{
	{0, 0, "calm (glassy)"}, {1, 0.1, "calm (rippled)"}, {2, 0.5, "smooth"}, {3, 1.25, "slight"},
	{4, 2.5, "moderate"}, {5, 4, "rough"}, {6, 6, "very rough"}, {7, 9, "high"}, {8, 14, "very high"},
	{9, 100, "phenomenal"},
}

// StateOf is the sea state of a significant height, m; the limit itself belongs to the lower.
func StateOf(height float64) SeaState {
	for _, s := range SeaStates {
		if height <= s.High {
			return s
		}
	}
	return SeaStates[9]
}
