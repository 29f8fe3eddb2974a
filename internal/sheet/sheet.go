// Package sheet holds the neutral blocks that an answer is laid out in.
//
// A question fills a sheet; each face (terminal, page, book) draws every kind
// of block and does no arithmetic of its own. Numbers in a block are already in
// the unit named beside them. Every kind of block is one field of Block, so a
// face can be tested for drawing them all.
package sheet

// Sheet is an answer laid out, top to bottom.
type Sheet struct {
	Blocks []Block `json:"blocks"`
}

// Block is one piece of a sheet; exactly one field is set.
type Block struct {
	Text    *Text    `json:"text,omitempty"`
	Figures *Figures `json:"figures,omitempty"`
	Table   *Table   `json:"table,omitempty"`
	Chart   *Chart   `json:"chart,omitempty"`
	Field   *Field   `json:"field,omitempty"`
	Matrix  *Matrix  `json:"matrix,omitempty"`
	Drawing *Drawing `json:"drawing,omitempty"`
	Map     *Map     `json:"map,omitempty"`
	Solid   *Solid   `json:"solid,omitempty"`
	Warning *Warning `json:"warning,omitempty"`
	Sources *Sources `json:"sources,omitempty"`
}

// Text is plain sentences under an optional heading.
type Text struct {
	Heading    string   `json:"heading,omitempty"`
	Paragraphs []string `json:"paragraphs"`
}

// Figures is a column of named numbers.
type Figures struct {
	Heading string   `json:"heading,omitempty"`
	Rows    []Figure `json:"rows"`
}

// Figure is one named number.
type Figure struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit,omitempty"`
	Places int     `json:"places"`           // digits behind the point
	Spread float64 `json:"spread,omitempty"` // half width of the 19-in-20 range, same unit
	Text   string  `json:"text,omitempty"`   // shown instead of the number when set (feet and inches, a word)
	Why    string  `json:"why,omitempty"`    // what it is
	Method string  `json:"method,omitempty"` // how it was worked out
	Source string  `json:"source,omitempty"` // where the method is printed
	// Inputs are what it was worked out from, each a file of the folder and, behind a colon, a key in it: boat.yaml: weights
	Inputs []string `json:"inputs,omitempty"`
}

// Table is rows under named columns.
type Table struct {
	Heading string   `json:"heading,omitempty"`
	Columns []Column `json:"columns"`
	Rows    [][]Cell `json:"rows"`
	Note    string   `json:"note,omitempty"`
}

// Column is a column of a table.
type Column struct {
	Name   string `json:"name"`
	Unit   string `json:"unit,omitempty"`
	Places int    `json:"places"`
	Text   bool   `json:"text,omitempty"` // holds words, set flush left
}

// Cell is one cell: a number, or words when Text is set, or empty.
type Cell struct {
	Value float64 `json:"value"`
	Text  string  `json:"text,omitempty"`
	Empty bool    `json:"empty,omitempty"`
	Loud  bool    `json:"loud,omitempty"` // the row or figure that matters
}

// Chart is curves over one horizontal axis.
type Chart struct {
	Heading string   `json:"heading,omitempty"`
	X       Axis     `json:"x"`
	Y       Axis     `json:"y"`
	Series  []Series `json:"series"`
	Marks   []Mark   `json:"marks,omitempty"`
	Alt     string   `json:"alt"` // the chart in a sentence, for a reader who cannot see it
}

// Axis is one axis of a chart.
type Axis struct {
	Name   string    `json:"name"`
	Unit   string    `json:"unit,omitempty"`
	Min    float64   `json:"min"`
	Max    float64   `json:"max"`
	Ticks  []float64 `json:"ticks"`
	Places int       `json:"places"`
}

// Series is one curve, or one row of bars.
type Series struct {
	Name string    `json:"name"`
	X    []float64 `json:"x"`
	Y    []float64 `json:"y"`
	Role Role      `json:"role"`
	// Width above nothing makes bars of the points: each so wide about its X, standing on Base and Y high, so
	// that several can be piled up. Rows of bars are told apart by how they are filled, in their order.
	Width float64   `json:"width,omitempty"`
	Base  []float64 `json:"base,omitempty"`
}

// Role says how much a curve or a line matters, not what it looks like.
type Role string

// The roles of curves and paths. Each face has one look for each.
const (
	Main    Role = "main"    // the thing asked about: heavy ink line
	Other   Role = "other"   // shown beside it: thin ink line
	Limit   Role = "limit"   // what must not be passed: dashed
	Water   Role = "water"   // the water's surface
	Sea     Role = "sea"     // filled: the water
	Body    Role = "body"    // filled: the boat's own material, pale
	Space   Role = "space"   // outline of a compartment
	Thing   Role = "thing"   // a weight, a crew member, gear
	Grid    Role = "grid"    // reference lines
	Skin    Role = "skin"    // outline of the hull: heavy
	Pointer Role = "pointer" // leader lines of labels
)

// Mark is a named point on a chart.
type Mark struct {
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Text string  `json:"text"`
	Role Role    `json:"role"`
}

// Drawing is a plane drawing in metres, y up; each face scales it to fit.
type Drawing struct {
	Heading string  `json:"heading,omitempty"`
	MinX    float64 `json:"min_x"`
	MinY    float64 `json:"min_y"`
	MaxX    float64 `json:"max_x"`
	MaxY    float64 `json:"max_y"`
	Paths   []Path  `json:"paths"` // painted in order
	Labels  []Label `json:"labels,omitempty"`
	Alt     string  `json:"alt"`
}

// Path is a polyline.
type Path struct {
	Role   Role         `json:"role"`
	Name   string       `json:"name,omitempty"` // shown when touched
	Points [][2]float64 `json:"points"`
	Closed bool         `json:"closed,omitempty"`
}

// Label is words at a point of a drawing.
type Label struct {
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Text   string  `json:"text"`
	Anchor string  `json:"anchor"` // start, middle or end
	Role   Role    `json:"role"`
}

// Solid is surfaces to turn in the hand; each is a grid of points in metres.
type Solid struct {
	Heading  string    `json:"heading,omitempty"`
	Surfaces []Surface `json:"surfaces"`
	// Water is the plane of the sea: points with Up·p = Level, Up pointing to the sky.
	Up    [3]float64 `json:"up"`
	Level float64    `json:"level"`
	Alt   string     `json:"alt"`
}

// Surface is rows of equally many points; neighbours span a quadrilateral.
type Surface struct {
	Role Role           `json:"role"`
	Name string         `json:"name"`
	Rows [][][3]float64 `json:"rows"`
}

// Warning is a caution that belongs to the answer.
type Warning struct {
	Text string `json:"text"`
}

// Sources is how an answer was worked out and where the method is printed.
type Sources struct {
	Rows []Source `json:"rows"`
}

// Source is one step and its source.
type Source struct {
	What   string `json:"what"`
	Source string `json:"source"`
}
