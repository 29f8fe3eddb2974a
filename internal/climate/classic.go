package climate

import (
	"encoding/binary"
	"fmt"
	"math"
)

// container is what a netCDF file holds, as far as is asked here.
type container struct {
	dims []dimension
	vars []variable
}

// dimension is a named length; 0 in a classic file is the unlimited one.
type dimension struct {
	name string
	n    int
}

// variable is a lattice of numbers; its values are read when they are asked for.
type variable struct {
	name    string
	dims    []int              // among the container's
	text    map[string]string  // what it bears in words
	number  map[string]float64 // what it bears as one number
	lengths []int
	read    func() ([]float64, error)
}

// find is the variable of a name, or nil.
func (c *container) find(name string) *variable {
	for i := range c.vars {
		if c.vars[i].name == name {
			return &c.vars[i]
		}
	}
	return nil
}

// classic reads netCDF's classic formats: the 32-bit one, 64-bit offset and 64-bit data.
//
// It is our own, because a person's file comes from anywhere: no count in it is believed
// before the bytes that it claims are there.
// Source: Unidata, The NetCDF Classic Format Specification
type classic struct {
	b       []byte
	at      int
	wide    bool // counts of 64 bits
	far     bool // offsets of 64 bits
	records int
}

// broken is the fault of a file that ends or claims too much; it is thrown and caught here.
type broken struct{ why string }

// readClassic reads the header.
func readClassic(b []byte) (c *container, err error) {
	r := &classic{b: b}
	defer func() {
		if p := recover(); p != nil {
			f, ours := p.(broken)
			if !ours {
				panic(p)
			}
			c, err = nil, fmt.Errorf("it is not a sound netCDF file (%s, byte %d): get it again", f.why, r.at)
		}
	}()
	version := r.take(4)[3]
	if version != 1 && version != 2 && version != 5 {
		return nil, fmt.Errorf("it is not a sound netCDF file (version %d is not known): get it again", version)
	}
	r.wide, r.far = version == 5, version != 1
	r.records = r.count(0)
	c = &container{}
	for range r.list(10) {
		name := r.name()
		c.dims = append(c.dims, dimension{name, r.count(0)})
	}
	r.attributes() // of the whole file
	type place struct{ begin, kind int }
	var places []place
	for range r.list(11) {
		v := variable{name: r.name()}
		for range r.count(4) {
			id := r.count(0)
			if id >= len(c.dims) {
				panic(broken{"a variable has a dimension that is not there"})
			}
			v.dims = append(v.dims, id)
			v.lengths = append(v.lengths, c.dims[id].n)
		}
		v.text, v.number = r.attributes()
		kind := r.u32()
		r.count(0) // its size, which follows from the rest
		begin := 0
		if r.far {
			begin = r.u64()
		} else {
			begin = r.u32()
		}
		c.vars, places = append(c.vars, v), append(places, place{begin, kind})
	}
	if r.records >= math.MaxUint32 {
		return nil, fmt.Errorf("it does not say how many records it has: get it again, whole")
	}
	for i, v := range c.vars {
		for k, n := range v.lengths {
			if n == 0 && k > 0 {
				panic(broken{"its unlimited dimension is not the first"})
			}
		}
		if width(places[i].kind) == 0 {
			panic(broken{"a variable is of no known kind"})
		}
	}
	stride, recorded := 0, 0
	for i, v := range c.vars {
		if len(v.lengths) > 0 && v.lengths[0] == 0 {
			recorded++
			size := r.product(v.lengths[1:], width(places[i].kind))
			stride += (size + 3) / 4 * 4
			if stride > len(b)+4 {
				panic(broken{"a record is longer than the file"})
			}
		}
	}
	for i := range c.vars {
		v, p := &c.vars[i], places[i]
		recorder := len(v.lengths) > 0 && v.lengths[0] == 0
		rows, each := 1, stride
		inner := v.lengths
		if recorder {
			rows, inner = r.records, v.lengths[1:]
			v.lengths = append([]int{r.records}, inner...)
		}
		one := r.product(inner, width(p.kind))
		if recorder && recorded == 1 {
			each = one
		}
		v.read = func() ([]float64, error) {
			if one == 0 || rows == 0 || rows > 1 && each == 0 || rows > 1+(len(b)-p.begin)/max(each, 1) || p.begin > len(b) || p.begin+(rows-1)*each+one > len(b) {
				return nil, fmt.Errorf("its values run past the file's end: get it again, whole")
			}
			out := make([]float64, 0, rows*one/width(p.kind))
			for k := range rows {
				out = decode(out, b[p.begin+k*each:][:one], p.kind)
			}
			return out, nil
		}
	}
	return c, nil
}

// product is the size of a variable or record in bytes.
func (r *classic) product(lengths []int, size int) int {
	for _, n := range lengths {
		if n != 0 && size > len(r.b)/n {
			panic(broken{"a variable is larger than the file"})
		}
		size *= n
	}
	return size
}

// take is the next n bytes.
func (r *classic) take(n int) []byte {
	if n < 0 || n > len(r.b)-r.at {
		panic(broken{"it ends too soon"})
	}
	r.at += n
	return r.b[r.at-n : r.at]
}

// u32 and u64 are the next whole number; one too large for any file is a fault.
func (r *classic) u32() int { return int(binary.BigEndian.Uint32(r.take(4))) }
func (r *classic) u64() int {
	x := binary.BigEndian.Uint64(r.take(8))
	if x > 1<<46 {
		panic(broken{"a number is too large"})
	}
	return int(x)
}

// count is the next count of things that take at least size bytes each.
func (r *classic) count(size int) int {
	n := 0
	if r.wide {
		n = r.u64()
	} else {
		n = r.u32()
	}
	if size > 0 && n > (len(r.b)-r.at)/size {
		panic(broken{"a count is larger than the file"})
	}
	return n
}

// list is the length of the next list, which must bear the tag or be absent.
func (r *classic) list(tag int) int {
	got := r.u32()
	n := r.count(8)
	if got != tag && (got != 0 || n != 0) {
		panic(broken{"a list is not where it should be"})
	}
	return n
}

// name is the next name, filled up to a multiple of four.
func (r *classic) name() string {
	n := r.count(1)
	s := string(r.take(n))
	r.take((4 - n%4) % 4)
	return s
}

// attributes reads a list of them; those of several numbers are left out.
func (r *classic) attributes() (map[string]string, map[string]float64) {
	text, number := map[string]string{}, map[string]float64{}
	for range r.list(12) {
		name, kind := r.name(), r.u32()
		w := width(kind)
		if w == 0 {
			panic(broken{"an attribute is of no known kind"})
		}
		n := r.count(w) * w
		raw := r.take(n)
		r.take((4 - n%4) % 4)
		if kind == 2 {
			text[name] = string(raw)
		} else if n == w {
			number[name] = decode(nil, raw, kind)[0]
		}
	}
	return text, number
}

// width is how many bytes a kind of number takes; 0 for none that is known.
func width(kind int) int {
	if kind < 1 || kind > 11 {
		return 0
	}
	return [...]int{1, 1, 2, 4, 4, 8, 1, 2, 4, 8, 8}[kind-1]
}

// decode reads numbers of one kind, big end first.
func decode(out []float64, b []byte, kind int) []float64 {
	e := binary.BigEndian
	for w := width(kind); len(b) >= w; b = b[w:] {
		var x float64
		switch kind {
		case 1:
			x = float64(int8(b[0]))
		case 2, 7:
			x = float64(b[0])
		case 3:
			x = float64(int16(e.Uint16(b)))
		case 4:
			x = float64(int32(e.Uint32(b)))
		case 5:
			x = float64(math.Float32frombits(e.Uint32(b)))
		case 6:
			x = math.Float64frombits(e.Uint64(b))
		case 8:
			x = float64(e.Uint16(b))
		case 9:
			x = float64(e.Uint32(b))
		case 10:
			x = float64(int64(e.Uint64(b)))
		case 11:
			x = float64(e.Uint64(b))
		}
		out = append(out, x)
	}
	return out
}
