package sheet

// Field is a quantity over two axes: righting arms by heel and day. A face draws it as a map with
// contours, and lets a person read along either axis.
type Field struct {
	Heading string `json:"heading,omitempty"`
	X       Axis   `json:"x"`
	Y       Axis   `json:"y"`
	Z       Axis   `json:"z"` // the quantity; its ticks are for curves cut out of the field
	// Xs and Ys ascend; Values has a row for each of Ys with a value for each of Xs.
	Xs     []float64   `json:"xs"`
	Ys     []float64   `json:"ys"`
	Values [][]float64 `json:"values"`
	// Levels are the contours, ascending; Contour makes them.
	Levels []Level `json:"levels"`
	// Limit is the value that must not be passed, LimitName what it means; Under what is said of where it is.
	Limit     float64 `json:"limit"`
	LimitName string  `json:"limit_name"`
	Under     string  `json:"under"`
	Shown     int     `json:"shown"`      // the row that is shown elsewhere, an index into Ys
	ShownName string  `json:"shown_name"` // what that row is: "day 61, the day shown"
	Begin     int     `json:"begin"`      // the column at which to begin reading, an index into Xs
	Note      string  `json:"note,omitempty"`
	Alt       string  `json:"alt"`
}

// Level is one contour of a field, in the units of its axes.
type Level struct {
	Value float64        `json:"value"`
	Limit bool           `json:"limit,omitempty"` // it is the field's limit
	Lines [][][2]float64 `json:"lines"`           // the contour
	// Areas outline where the value is at least this, by the even-odd rule; they run along the field's edges.
	Areas [][][2]float64 `json:"areas"`
	// At is where the contour has most room for its value, when it has a line.
	At [2]float64 `json:"at"`
}

// Matrix is states that can each be told in a word, in rows and columns: read at a glance.
type Matrix struct {
	Heading string   `json:"heading,omitempty"`
	Across  string   `json:"across"` // what the columns are: "crew place and day"
	Down    string   `json:"down"`
	Columns []Line   `json:"columns"`
	Rows    []Line   `json:"rows"`
	Cells   [][]Spot `json:"cells"` // a row for each of Rows
	Key     []Word   `json:"key"`   // what each standing means here
	Unit    string   `json:"unit,omitempty"`
	Places  int      `json:"places"`
	Note    string   `json:"note,omitempty"`
	Alt     string   `json:"alt"`
}

// Line is the head of a row or column; neighbours with one Group stand under it together.
type Line struct {
	Group string `json:"group,omitempty"`
	Name  string `json:"name"`
}

// Spot is one state of a matrix.
type Spot struct {
	Standing Standing `json:"standing"`
	Value    float64  `json:"value"`
	Untold   bool     `json:"untold,omitempty"` // there is no value
	Said     string   `json:"said"`             // the state in words, with its numbers
}

// Word is what a standing is called in a matrix.
type Word struct {
	Standing Standing `json:"standing"`
	Letter   string   `json:"letter"` // for a face that has no patterns
	Text     string   `json:"text"`
}

// Standing is how a state stands to its limit.
type Standing string

// The standings. Each face has one filling for each, that is told in black print too.
const (
	Holds  Standing = "holds"
	Tight  Standing = "tight" // it holds, by less than asked
	Short  Standing = "short" // it does not hold
	Lost   Standing = "lost"  // beyond telling by how much
	Absent Standing = "none"  // there is no such state
)

// Account says how figures were worked out.
type Account struct {
	Method string
	Source string
	Inputs []string
}

// Explain puts the account of each figure into it, by the figure's name.
func (f *Figures) Explain(of func(name string) Account) {
	for i := range f.Rows {
		r := &f.Rows[i]
		a := of(r.Name)
		r.Method, r.Source, r.Inputs = a.Method, a.Source, a.Inputs
	}
}

// Split gives a matrix in pieces of at most so many columns, for a face that has room for no more; groups of
// columns stay whole where they fit. The note and the sentence go with the last.
func (m Matrix) Split(most int) []Matrix {
	var out []Matrix
	for from := 0; from < len(m.Columns); {
		to := min(from+max(most, 1), len(m.Columns))
		for end := to; to < len(m.Columns) && end > from; end-- {
			if m.Columns[end-1].Group != m.Columns[end].Group {
				to = end
				break
			}
		}
		part := m
		part.Columns, part.Cells = m.Columns[from:to], nil
		for _, row := range m.Cells {
			part.Cells = append(part.Cells, row[min(from, len(row)):min(to, len(row))])
		}
		if from > 0 {
			part.Heading = ""
		}
		if to < len(m.Columns) {
			part.Note, part.Alt = "", ""
		}
		out = append(out, part)
		from = to
	}
	return out
}
