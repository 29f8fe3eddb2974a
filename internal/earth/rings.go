package earth

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
)

// ErrRings is packed land that cannot be read.
var ErrRings = errors.New("earth: packed land")

// Rings are closed lines on a lattice: a point (i, j) lies at longitude
// West + i*StepLon and latitude South + j*StepLat, in degrees. A point is inside the
// land when an odd number of rings goes round it; the last point joins the first, and
// rings of one or two points are rocks too small to have an inside.
type Rings struct {
	West, South, StepLon, StepLat float64
	Rings                         [][][2]int32
}

const (
	ringsMark = "land rings 1\n"
	mostRings = 1 << 20
	mostSteps = 1 << 24 // lattice lines, so that sums stay in range
)

// Pack writes rings as bytes: a mark, the lattice as four little-endian float64, then
// each ring as a count and the zigzag varints of its steps from point to point, the
// first from the first point of the ring before.
func (r Rings) Pack() []byte {
	out := []byte(ringsMark)
	for _, v := range []float64{r.West, r.South, r.StepLon, r.StepLat} {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
	}
	out = binary.AppendUvarint(out, uint64(len(r.Rings)))
	var begin [2]int32
	for _, ring := range r.Rings {
		out = binary.AppendUvarint(out, uint64(len(ring)))
		at := begin
		for i, p := range ring {
			out = binary.AppendVarint(out, int64(p[0])-int64(at[0]))
			out = binary.AppendVarint(out, int64(p[1])-int64(at[1]))
			at = p
			if i == 0 {
				begin = p
			}
		}
	}
	return out
}

// Unpack reads what Pack wrote.
//
// Error:  ErrRings, naming the ring and the byte at which it cannot be read
func Unpack(b []byte) (Rings, error) {
	var r Rings
	head := len(ringsMark) + 4*8
	if len(b) < head || string(b[:len(ringsMark)]) != ringsMark {
		return r, fmt.Errorf("%w: it does not begin with %q", ErrRings, ringsMark)
	}
	for i, to := range []*float64{&r.West, &r.South, &r.StepLon, &r.StepLat} {
		*to = math.Float64frombits(binary.LittleEndian.Uint64(b[len(ringsMark)+8*i:]))
		if !(math.Abs(*to) <= 360) {
			return r, fmt.Errorf("%w: number %d of the lattice is %g", ErrRings, i+1, *to)
		}
	}
	at, bad := head, false
	count := func() int {
		v, n := binary.Uvarint(b[at:])
		if n <= 0 || v > uint64(len(b)) { // each thing counted takes a byte or more
			bad = true
			return 0
		}
		at += n
		return int(v)
	}
	step := func(from int32) int32 {
		v, n := binary.Varint(b[at:])
		v += int64(from)
		if n <= 0 || v < -mostSteps || v > mostSteps {
			bad = true
			return 0
		}
		at += n
		return int32(v)
	}
	n := count()
	if bad || n > mostRings {
		return r, fmt.Errorf("%w: byte %d: the count of rings", ErrRings, at)
	}
	r.Rings = make([][][2]int32, 0, n)
	var begin [2]int32
	for i := range n {
		m := count()
		ring := make([][2]int32, 0, min(m, len(b)-at))
		p := begin
		for k := 0; k < m && !bad; k++ {
			p[0] = step(p[0])
			p[1] = step(p[1])
			if k == 0 {
				begin = p
			}
			ring = append(ring, p)
		}
		if bad || m == 0 {
			return r, fmt.Errorf("%w: byte %d: ring %d of %d", ErrRings, at, i+1, n)
		}
		r.Rings = append(r.Rings, ring)
	}
	if at != len(b) {
		return r, fmt.Errorf("%w: %d bytes after the last ring", ErrRings, len(b)-at)
	}
	return r, nil
}
