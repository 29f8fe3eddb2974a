package byhand

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"thole/internal/boatfolder"
	"thole/internal/model"
)

// Errors of Pull.
var (
	ErrNowhere = errors.New("that is no place in or about the boat")
	ErrUnknown = errors.New("there is nothing to pull of that name")
)

// farthest is how far from station 0 a pull may lead, metres; what lies outside the boat the folder's reader tells.
const farthest = 1000

// Shape before a reading's id pulls the shape by it, as a batten sprung there: the readings about it follow.
const Shape = "shape:"

// Pull is the edits that bring a handle to a place. Coordinates that are nil or that it may not be pulled
// along stay. A reading stops at the centre line, and short of where its section would cross itself; both rows of a
// corner move together. With Shape before the id the readings about it follow, less with their distance (lean).
// Nothing moved gives no edits.
//
// In:     metres, full size; f is what d reads as
// Error:  ErrNowhere for what is no number or far away, ErrUnknown
// Good to: what is written: 0.1 mm on a model, 1 mm full size, 1/16 in where the file is in feet, inches and eighths
func Pull(f *model.Folder, d *boatfolder.Draft, id string, x, y, z *float64) ([]boatfolder.Edit, error) {
	return pull(f, d, id, [3]*float64{x, y, z})
}

func pull(f *model.Folder, d text, id string, to [3]*float64) ([]boatfolder.Edit, error) {
	for _, v := range to {
		if v != nil && !(math.Abs(*v) <= farthest) {
			return nil, ErrNowhere
		}
	}
	spots, err := spotsOf(f, d, 0)
	if err != nil {
		return nil, err
	}
	own, about := strings.CutPrefix(id, Shape)
	i := slices.IndexFunc(spots, func(s spot) bool { return s.ID == own && (!about || s.Kind == Reading) })
	if i < 0 {
		return nil, fmt.Errorf("%w: %q", ErrUnknown, shorten(id))
	}
	s := &spots[i]
	if s.weight {
		if err := s.lookUp(d); err != nil {
			return nil, err
		}
	}
	one := move{spot: s}
	for k, v := range to {
		if v != nil && s.Free[k] {
			one.by[k] = *v - s.place()[k]
		}
	}
	if s.Kind == Reading {
		one.by[1] = math.Max(one.by[1], -s.Y)
	}
	all := moves{one}
	if about {
		all = lean(spots, one)
	}
	changed := d.Changes()
	for _, m := range all {
		m.spot.remember(d, changed)
	}
	share := 1.0
	if s.Kind == Reading {
		share = all.hold()
	}
	var out []boatfolder.Edit
	for _, m := range all {
		out = append(out, m.edits(share)...)
	}
	return out, nil
}

// place is where a spot is.
func (s *spot) place() [3]float64 { return [3]float64{s.X, s.Y, s.Z} }

// edits write a share of a move into the file.
func (m *move) edits(share float64) []boatfolder.Edit {
	s := m.spot
	var out []boatfolder.Edit
	var cell string // of a place that stands in one cell
	for k := range s.figures {
		for _, g := range s.figures[k] {
			text := g.was
			if m.by[k] != 0 {
				text = g.write(s.place()[k] + share*m.by[k])
			}
			if s.inOneCell() {
				cell += map[bool]string{true: ";"}[k > 0] + text
			} else if text != g.was {
				out = append(out, boatfolder.Edit{File: g.file, Key: g.key, Of: g.of, Was: g.was, Text: text})
			}
		}
	}
	if s.inOneCell() && cell != s.cell() {
		g := &s.figures[0][0]
		out = append(out, boatfolder.Edit{File: g.file, Key: g.key, Of: g.of, Was: s.cell(), Text: cell})
	}
	return out
}

// inOneCell tells whether a place stands in one cell: 3.10 m; 0 m; 0.42 m.
func (s *spot) inOneCell() bool {
	return s.weight && len(s.figures[0]) > 0 && s.figures[0][0].key == s.figures[2][0].key
}

// cell is the whole text of such a place.
func (s *spot) cell() string {
	return s.figures[0][0].was + ";" + s.figures[1][0].was + ";" + s.figures[2][0].was
}

// lookUp finds the three figures of a weight's place in its file.
func (s *spot) lookUp(d text) error {
	values := d.Values(s.File)
	find := func(key string) *boatfolder.Value {
		for i := range values {
			if values[i].Key == key {
				return &values[i]
			}
		}
		return nil
	}
	if v := find(s.Key); v != nil && strings.Count(v.Text, ";") == 2 {
		column := v.Column
		for k, part := range strings.Split(v.Text, ";") {
			g := figureOf(part)
			g.file, g.key, g.of = s.File, s.Key, v.Of
			g.line, g.column = v.Line, column
			column += utf8.RuneCountInString(part) + 1
			g.comma = decimalComma(v.Text)
			s.figures[k] = []figure{g}
		}
		s.alike()
		return nil
	}
	for k := range s.figures {
		v := find(fmt.Sprintf("%s[%d]", s.Key, k))
		if v == nil {
			return fmt.Errorf("%s:%d: the place of %s cannot be written over", s.File, s.Line, s.Name)
		}
		g := figureOf(v.Text)
		g.file, g.key, g.of = s.File, v.Key, v.Of
		g.line, g.column = v.Line, v.Column
		s.figures[k] = []figure{g}
	}
	s.alike()
	return nil
}

// remember gives each figure the text that stood in its place before any edit of the draft, so that what is pulled back
// to where it was is written as it was.
func (s *spot) remember(d text, all []boatfolder.Change) {
	var changes []boatfolder.Change
	for _, c := range all {
		if c.File == s.File && !c.New && !c.Gone {
			changes = append(changes, c)
		}
	}
	if len(changes) == 0 {
		return
	}
	words, _ := d.Text(s.File)
	lines := strings.Split(strings.TrimPrefix(words, "\ufeff"), "\n")
	for k := range s.figures {
		for i := range s.figures[k] {
			g := &s.figures[k][i]
			if g.line < 1 || g.line > len(lines) {
				continue
			}
			now := strings.TrimSuffix(lines[g.line-1], "\r")
			for _, c := range changes {
				if c.After == now {
					g.first = counterpart(now, c.Before, g.column)
				}
			}
		}
	}
}

// separators stand between the values of a line, in a table and in a yaml file.
const separators = ",;[]{}"

// counterpart is the value of a line that stands behind as many separators as the place in another form of the line.
func counterpart(line, other string, column int) string {
	n := 0
	for i, r := range []rune(line) {
		if i+1 >= column {
			break
		}
		if strings.ContainsRune(separators, r) {
			n++
		}
	}
	rest := other
	for ; n > 0; n-- {
		i := strings.IndexAny(rest, separators)
		if i < 0 {
			return ""
		}
		rest = rest[i+1:]
	}
	if i := strings.IndexAny(rest, separators); i >= 0 {
		rest = rest[:i]
	}
	return strings.TrimSpace(rest)
}

// alike gives a bare nought the form of the figures beside it.
func (s *spot) alike() {
	for k := range s.figures {
		for j := range s.figures {
			if other := s.figures[j][0].text; j != k && !bare.MatchString(other) {
				s.figures[k][0].like = other
			}
		}
	}
}

// shorten keeps what was sent from filling the message.
func shorten(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
