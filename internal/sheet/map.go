package sheet

// Map is a piece of the earth with what goes on there from day to day. Places are projected already: plane coordinates,
// north up, that a face only scales to fit, both axes alike.
type Map struct {
	Heading string  `json:"heading,omitempty"`
	MinX    float64 `json:"min_x"`
	MinY    float64 `json:"min_y"`
	MaxX    float64 `json:"max_x"`
	MaxY    float64 `json:"max_y"`
	// Land is closed rings, cut at the map's edge; filled by the even-odd rule.
	Land [][][2]float64 `json:"land,omitempty"`
	// Lines are painted over land and boxes in order: meridians and parallels (Grid), the route (Other), lines not to be passed (Limit), ...
	Lines  []Path  `json:"lines,omitempty"`
	Labels []Label `json:"labels,omitempty"`
	Tracks []Track `json:"tracks,omitempty"`
	// X and Y are the edges of the columns and rows of boxes, rising.
	X []float64 `json:"x,omitempty"`
	Y []float64 `json:"y,omitempty"`
	// All is where the boats are on any day; Days where they are on one, by rising day.
	All  []Box   `json:"all,omitempty"`
	Days []MapOn `json:"days,omitempty"`
	// What a box counts: "share of the passages that come through"; and of a day's: "share that is here on the day".
	AllMeans string `json:"all_means,omitempty"`
	DayMeans string `json:"day_means,omitempty"`
	// Mile is the length of a nautical mile in the middle of the map, for a scale; 0 shows none.
	Mile   float64 `json:"mile,omitempty"`
	Notice string  `json:"notice,omitempty"` // where the coast comes from and what it is not good for
	Alt    string  `json:"alt"`              // the map in a sentence or two
}

// Track is where one boat is, a point a day.
type Track struct {
	Name   string       `json:"name"`
	Role   Role         `json:"role"`
	First  int          `json:"first"` // the day of the first point
	Points [][2]float64 `json:"points"`
}

// Box is a cell of a map's grid: column I from X[I] to X[I+1], row J from Y[J] to Y[J+1].
type Box struct {
	I     int     `json:"i"`
	J     int     `json:"j"`
	Share float64 `json:"share"` // over 0 to 1
}

// MapOn is a map's boxes on a day.
type MapOn struct {
	Day   int   `json:"day"`
	Boxes []Box `json:"boxes"`
}
