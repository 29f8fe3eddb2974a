package crossing

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash"
	"math"

	"thole/internal/model"
)

// alike are the tallies of the passages made last. Most changes that a person thinks about leave the passage as it was (a hatch, a
// drain, a locker's name), and need not be sailed again. A tally is some hundred kilobytes.
var alike = few[*made]{most: 16}

// madeOf are the tallies of a passage, new or made before by one that is alike in everything.
func (c *Crossing) madeOf() *made {
	m, _ := alike.get(c.mark(), func() (*made, error) { return newMade(), nil })
	return m
}

// mark is all that a passage hangs on, but for what is the same in every one: the land, the seasons and the embedded fields.
func (c *Crossing) mark() [sha256.Size]byte {
	h := sha256.New()
	s := &c.Spec
	w := s.Wear
	days := w.Days
	w.Days = nil
	fmt.Fprintln(h, s.Seed, s.Step, s.Most, s.Past, s.Offing, s.Cell)
	fmt.Fprintf(h, "%v\n%v\n%v\n%v\n%v\n%v\n", s.Start, s.Depart, s.Route, s.Weather, s.Rules, w)
	v := c.Trip.Folder.Voyage
	fmt.Fprintln(h, v.Weather.CurrentDoubt)
	for _, f := range []*model.File{v.Wind, v.Current, v.Sets} {
		if f == nil {
			fmt.Fprintln(h, "none")
			continue
		}
		fmt.Fprintf(h, "%q %d\n", f.Name, len(f.Data))
		h.Write(f.Data)
	}
	var row []float64
	for _, d := range days {
		row = append(row, d.Load, d.Foul)
	}
	floats(h, row)
	if b, ok := s.Boat.(*boat); ok {
		b.mark(h)
	}
	return [sha256.Size]byte(h.Sum(nil))
}

// mark writes all that the table of her motion holds.
func (b *boat) mark(h hash.Hash) {
	row := []float64{b.least, b.perLoad, b.perWind, b.perAngle, float64(b.loads), float64(b.winds), float64(b.angles)}
	for _, l := range b.legs {
		row = append(row, l.turn, l.speed)
	}
	for _, l := range b.lies {
		row = append(row, l.down, l.across, l.heldDown, l.heldAcross)
	}
	floats(h, row)
}

// floats writes a row of figures, bit by bit, behind how many there are.
func floats(h hash.Hash, row []float64) {
	out := binary.LittleEndian.AppendUint64(nil, uint64(len(row)))
	for _, x := range row {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(x))
	}
	h.Write(out)
}
