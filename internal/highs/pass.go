package highs

import (
	"encoding/binary"
	"fmt"
	"math"

	"github.com/tetratelabs/wazero/api"
)

// prepare passes the model, the options and the start to the solver.
func (w *watch) prepare(h uint64, lay *matrix) error {
	for _, o := range []struct {
		name string
		on   bool
	}{{"output_flag", false}, {"log_to_console", false}} {
		if err := w.in.option(h, "Highs_setBoolOptionValue", o.name, b2u(o.on)); err != nil {
			return err
		}
	}
	gap := w.opt.Gap
	if gap == 0 {
		gap = 1e-6
	}
	if err := w.in.option(h, "Highs_setDoubleOptionValue", "mip_rel_gap", api.EncodeF64(gap)); err != nil {
		return err
	}
	if err := w.in.option(h, "Highs_setIntOptionValue", "threads", 1); err != nil {
		return err
	}
	if err := w.in.option(h, "Highs_setIntOptionValue", "random_seed", uint64(uint32(w.opt.Seed)&0x7fffffff)); err != nil {
		return err
	}
	if w.opt.Seconds > 0 {
		if err := w.in.option(h, "Highs_setDoubleOptionValue", "time_limit", api.EncodeF64(w.opt.Seconds)); err != nil {
			return err
		}
	}
	if err := w.pass(h, lay); err != nil {
		return err
	}
	if w.x != nil && lay.whole {
		at, err := w.in.putFloats(w.x)
		if err != nil {
			return err
		}
		if _, err := w.in.call("Highs_setSolution", h, uint64(at), 0, 0, 0); err != nil {
			return err
		}
	}
	if _, err := w.in.call("Highs_js_setCallback", h, w.in.hook, 0); err != nil {
		return err
	}
	kinds := []uint64{simplexStep, interiorStep}
	if lay.whole {
		kinds = []uint64{better, mipStep}
	}
	for _, k := range kinds {
		if _, err := w.in.call("Highs_startCallback", h, k); err != nil {
			return err
		}
	}
	return nil
}

// pass hands the model over.
func (w *watch) pass(h uint64, lay *matrix) error {
	m := w.model
	cols := [3][]float64{}
	whole := make([]int32, len(m.Columns))
	for j, c := range m.Columns {
		cols[0], cols[1], cols[2] = append(cols[0], c.Cost), append(cols[1], c.Lower), append(cols[2], c.Upper)
		if c.Integer {
			whole[j] = 1
		}
	}
	rows := [2][]float64{}
	for _, r := range m.Rows {
		rows[0], rows[1] = append(rows[0], r.Lower), append(rows[1], r.Upper)
	}
	const minimise, byRow = 1, 2
	sense := int32(minimise)
	if m.Maximise {
		sense = -1
	}
	args := []uint64{h, uint64(len(m.Columns)), uint64(len(m.Rows)), uint64(len(lay.value)), byRow, api.EncodeI32(sense), api.EncodeF64(m.Offset)}
	for _, v := range [][]float64{cols[0], cols[1], cols[2], rows[0], rows[1]} {
		at, err := w.in.putFloats(v)
		if err != nil {
			return err
		}
		args = append(args, uint64(at))
	}
	for _, v := range [][]int32{lay.start[:len(m.Rows)+1], lay.index} {
		at, err := w.in.putInts(v)
		if err != nil {
			return err
		}
		args = append(args, uint64(at))
	}
	value, err := w.in.putFloats(lay.value)
	if err != nil {
		return err
	}
	kind, err := w.in.putInts(whole)
	if err != nil {
		return err
	}
	code, err := w.in.call("Highs_passMip", append(args, uint64(value), uint64(kind))...)
	if err == nil && int32(code) < 0 {
		err = fmt.Errorf("%w: it does not take the model", ErrSolver)
	}
	return err
}

// option sets one of the solver's options.
func (in *instance) option(h uint64, set, name string, value uint64) error {
	at, err := in.text(name)
	if err != nil {
		return err
	}
	code, err := in.call(set, h, uint64(at), value)
	if err == nil && int32(code) < 0 {
		err = fmt.Errorf("%w: it does not know the option %s", ErrSolver, name)
	}
	return err
}

// info reads one of the solver's figures.
func (in *instance) info(h uint64, name string) (float64, error) {
	text, err := in.text(name)
	if err != nil {
		return 0, err
	}
	at, err := in.room(8)
	if err != nil {
		return 0, err
	}
	if _, err := in.call("Highs_getDoubleInfoValue", h, uint64(text), uint64(at)); err != nil {
		return 0, err
	}
	v, _ := in.memory.ReadFloat64Le(at)
	return v, nil
}

// room allocates bytes in the solver's memory.
func (in *instance) room(n int) (uint32, error) {
	at, err := in.call("malloc", uint64(max(n, 8)))
	if err == nil && at == 0 {
		err = fmt.Errorf("%w: its memory is full", ErrSolver)
	}
	return uint32(at), err
}

// put copies bytes into the solver's memory.
func (in *instance) put(b []byte) (uint32, error) {
	at, err := in.room(len(b))
	if err != nil {
		return 0, err
	}
	if !in.memory.Write(at, b) {
		return 0, fmt.Errorf("%w: its memory is full", ErrSolver)
	}
	return at, nil
}

// text copies a word of ours into the solver's memory.
func (in *instance) text(s string) (uint32, error) { return in.put(append([]byte(s), 0)) }

// putFloats copies numbers into the solver's memory.
func (in *instance) putFloats(v []float64) (uint32, error) {
	b := make([]byte, 0, 8*len(v))
	for _, x := range v {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
	}
	return in.put(b)
}

// putInts copies whole numbers into the solver's memory.
func (in *instance) putInts(v []int32) (uint32, error) {
	b := make([]byte, 0, 4*len(v))
	for _, x := range v {
		b = binary.LittleEndian.AppendUint32(b, uint32(x))
	}
	return in.put(b)
}

// floats copies n numbers out of the solver's memory.
func (in *instance) floats(at uint32, n int) ([]float64, bool) {
	b, ok := in.memory.Read(at, uint32(8*n))
	if !ok {
		return nil, false
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = math.Float64frombits(binary.LittleEndian.Uint64(b[8*i:]))
	}
	return out, true
}

// b2u is a truth as the solver takes it.
func b2u(b bool) uint64 {
	if b {
		return 1
	}
	return 0
}
