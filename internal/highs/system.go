package highs

import (
	"context"
	"errors"
	"time"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
)

// began is where the solver's clock starts.
var began = time.Now()

// What the solver's system calls answer, in the numbers of its C library.
const (
	noEntry  = -44 // no such file
	noSystem = -52 // no such function
	badFile  = 8
)

// system is all that the solver sees of the world: a clock, memory, and our callback. It
// has no files, no environment and no output.
func system(r wazero.Runtime) wazero.HostModuleBuilder {
	b := r.NewHostModuleBuilder("a")
	const i32, i64, f64 = api.ValueTypeI32, api.ValueTypeI64, api.ValueTypeF64
	fn := func(name string, in []api.ValueType, out []api.ValueType, f api.GoModuleFunc) {
		b.NewFunctionBuilder().WithGoModuleFunction(f, in, out).Export(name)
	}
	is := func(v int32) api.GoModuleFunc {
		return func(_ context.Context, _ api.Module, s []uint64) { s[0] = api.EncodeI32(v) }
	}
	die := func(why string) api.GoModuleFunc {
		return func(context.Context, api.Module, []uint64) { panic(errors.New(why)) }
	}
	n := func(k int) []api.ValueType {
		out := make([]api.ValueType, k)
		for i := range out {
			out[i] = i32
		}
		return out
	}
	one := n(1)
	fn("a", n(3), nil, die("an error inside it that it does not catch (memory may have run out)")) // __cxa_throw
	fn("b", n(1), nil, die("it ended by itself"))                                                  // exit
	fn("k", nil, nil, die("it gave up"))                                                           // abort
	fn("r", n(1), nil, die("it ended by itself"))                                                  // proc_exit
	fn("c", nil, []api.ValueType{f64}, func(_ context.Context, _ api.Module, s []uint64) {         // emscripten_get_now
		s[0] = api.EncodeF64(float64(time.Since(began)) / 1e6)
	})
	fn("j", nil, []api.ValueType{f64}, func(_ context.Context, _ api.Module, s []uint64) { // emscripten_date_now
		s[0] = api.EncodeF64(float64(time.Now().UnixMicro()) / 1e3)
	})
	fn("p", []api.ValueType{i32, i64, i32}, one, func(_ context.Context, m api.Module, s []uint64) { // clock_time_get
		now := uint64(time.Since(began))
		if s[0] == 0 {
			now = uint64(time.Now().UnixNano())
		}
		m.Memory().WriteUint64Le(uint32(s[2]), now)
		s[0] = 0
	})
	fn("d", n(1), one, is(0))        // fd_close
	fn("e", n(3), one, is(noSystem)) // fcntl
	fn("h", n(3), one, is(noSystem)) // ioctl
	fn("i", n(4), one, is(noEntry))  // openat
	fn("g", n(4), one, is(badFile))  // fd_read
	fn("t", []api.ValueType{i32, i64, i32, i32}, one, is(badFile))
	fn("f", n(4), one, swallow)                                            // fd_write
	fn("l", []api.ValueType{i32, f64}, one, is(0))                         // setitimer
	fn("s", nil, nil, func(context.Context, api.Module, []uint64) {})      // runtime_keepalive_clear
	fn("n", n(2), one, is(0))                                              // environ_get
	fn("o", n(2), one, func(_ context.Context, m api.Module, s []uint64) { // environ_sizes_get
		m.Memory().WriteUint32Le(uint32(s[0]), 0)
		m.Memory().WriteUint32Le(uint32(s[1]), 0)
		s[0] = 0
	})
	fn("m", n(4), nil, func(_ context.Context, m api.Module, s []uint64) { // tzset: Greenwich, no summer time
		m.Memory().WriteUint32Le(uint32(s[0]), 0)
		m.Memory().WriteUint32Le(uint32(s[1]), 0)
		m.Memory().Write(uint32(s[2]), []byte("UTC\x00"))
		m.Memory().Write(uint32(s[3]), []byte("UTC\x00"))
	})
	fn("q", n(1), one, grow) // resize_heap
	fn("hook", n(5), nil, called)
	return b
}

// swallow takes what the solver would print and drops it.
func swallow(_ context.Context, m api.Module, s []uint64) {
	total := uint32(0)
	for k := range uint32(s[2]) {
		n, _ := m.Memory().ReadUint32Le(uint32(s[1]) + 8*k + 4)
		total += n
	}
	m.Memory().WriteUint32Le(uint32(s[3]), total)
	s[0] = 0
}

// page is the unit in which memory grows; most is where it ends.
const (
	page = 64 << 10
	most = 2 << 30
)

// grow gives the solver more memory, a fifth more than it has at least so that it does not
// ask for every byte. It answers 1, or 0 when there is no more.
func grow(_ context.Context, m api.Module, s []uint64) {
	has, asked := uint64(m.Memory().Size()), s[0]&0xffffffff
	for _, want := range []uint64{max(asked, has+has/5), asked} {
		if want > most {
			continue
		}
		if _, ok := m.Memory().Grow(uint32((want - has + page - 1) / page)); ok {
			s[0] = 1
			return
		}
	}
	s[0] = 0
}
