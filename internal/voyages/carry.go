package voyages

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"maps"
	"math"
	"slices"
	"sort"
)

// mark begins the bytes of a tally, and names their form.
const mark = "thole tally 2\n"

// MarshalBinary is the tally as bytes, the same for equal tallies: to be sent and kept.
func (t *Tally) MarshalBinary() ([]byte, error) {
	b := []byte(mark)
	float := func(x float64) { b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x)) }
	whole := func(n uint64) { b = binary.AppendUvarint(b, n) }
	counts := func(c Counts) {
		whole(uint64(len(c)))
		for _, k := range c.Bins() {
			b = binary.AppendVarint(b, int64(k))
			whole(c[k])
		}
	}
	float(t.Most)
	float(t.Step)
	float(t.Cell)
	whole(uint64(len(t.Points)))
	whole(uint64(len(t.Left)))
	whole(t.Passages)
	for _, n := range t.Ends {
		whole(n)
	}
	for _, c := range []Counts{t.Arrival, t.Runs, t.LayDays, t.NearMiles} {
		counts(c)
	}
	for _, c := range t.Points {
		counts(c)
	}
	for _, c := range t.Left {
		counts(c)
	}
	boxes := make([]Box, 0, len(t.Where))
	for k := range t.Where {
		boxes = append(boxes, k)
	}
	sort.Slice(boxes, func(i, j int) bool {
		x, y := boxes[i], boxes[j]
		if x.Day != y.Day {
			return x.Day < y.Day
		}
		if x.Lat != y.Lat {
			return x.Lat < y.Lat
		}
		return x.Lon < y.Lon
	})
	whole(uint64(len(boxes)))
	for _, k := range boxes {
		for _, n := range []int32{k.Day, k.Lat, k.Lon} {
			b = binary.AppendVarint(b, int64(n))
		}
		whole(t.Where[k])
	}
	whole(uint64(len(t.First)))
	for _, k := range slices.Sorted(maps.Keys(t.First)) {
		b = binary.AppendVarint(b, int64(k))
		whole(t.First[k])
	}
	whole(uint64(len(t.Others)))
	for _, k := range slices.Sorted(maps.Keys(t.Others)) {
		whole(uint64(k))
		whole(t.Others[k])
	}
	for _, n := range []int64{t.RowedS, t.DriftedS, t.LayS, t.GaleS, t.AtSeaS} {
		b = binary.AppendVarint(b, n)
	}
	whole(t.Stormy)
	whole(t.StormyDays)
	for _, x := range []float64{t.Fastest, t.Slowest, t.MostWind, t.HighestSea} {
		float(x)
	}
	return binary.LittleEndian.AppendUint32(b, crc32.ChecksumIEEE(b)), nil
}

// UnmarshalBinary reads what MarshalBinary wrote.
//
// Error:  ErrInput where bytes are not a tally, or not whole
func (t *Tally) UnmarshalBinary(data []byte) error {
	bad := fmt.Errorf("voyages: %w: %d bytes are not a tally, or are damaged; do the part again", ErrInput, len(data))
	n := len(data) - 4
	if n < len(mark) || !bytes.HasPrefix(data, []byte(mark)) || crc32.ChecksumIEEE(data[:n]) != binary.LittleEndian.Uint32(data[n:]) {
		return bad
	}
	b, ok := data[len(mark):n], true
	float := func() float64 {
		if len(b) < 8 {
			ok, b = false, nil
			return 0
		}
		x := math.Float64frombits(binary.LittleEndian.Uint64(b))
		b = b[8:]
		return x
	}
	whole := func() uint64 {
		x, k := binary.Uvarint(b)
		if k <= 0 {
			ok, b = false, nil
			return 0
		}
		b = b[k:]
		return x
	}
	signed := func() int64 {
		x, k := binary.Varint(b)
		if k <= 0 {
			ok, b = false, nil
			return 0
		}
		b = b[k:]
		return x
	}
	length := func() int { // never more than the bytes there are
		x := whole()
		if x > uint64(len(b)) {
			ok = false
			return 0
		}
		return int(x)
	}
	counts := func() Counts {
		c := Counts{}
		for range length() {
			k := signed()
			c[int32(k)] = whole()
		}
		return c
	}
	var r Tally
	r.Most, r.Step, r.Cell = float(), float(), float()
	points, left := length(), length()
	r.Shape.Points = points
	r.Passages = whole()
	for i := range r.Ends {
		r.Ends[i] = whole()
	}
	for _, c := range []*Counts{&r.Arrival, &r.Runs, &r.LayDays, &r.NearMiles} {
		*c = counts()
	}
	r.Points, r.Left = make([]Counts, points), make([]Counts, left)
	for i := range r.Points {
		r.Points[i] = counts()
	}
	for i := range r.Left {
		r.Left[i] = counts()
	}
	r.Where = map[Box]uint64{}
	for range length() {
		k := Box{int32(signed()), int32(signed()), int32(signed())}
		r.Where[k] = whole()
	}
	r.First, r.Others = map[int32]uint64{}, map[End]uint64{}
	for range length() {
		k := signed()
		r.First[int32(k)] = whole()
	}
	for range length() {
		k := whole()
		if k >= uint64(ends) {
			return bad
		}
		r.Others[End(k)] = whole()
	}
	for _, n := range []*int64{&r.RowedS, &r.DriftedS, &r.LayS, &r.GaleS, &r.AtSeaS} {
		*n = signed()
	}
	r.Stormy, r.StormyDays = whole(), whole()
	for _, x := range []*float64{&r.Fastest, &r.Slowest, &r.MostWind, &r.HighestSea} {
		*x = float()
	}
	if !ok || len(b) != 0 {
		return bad
	}
	*t = r
	return nil
}
