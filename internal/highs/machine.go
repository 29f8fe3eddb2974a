package highs

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// packed is the solver, as the npm package has it, compressed.
//
//go:embed highs.wasm.gz
var packed []byte

// Version is the version of the npm package that the solver comes from.
const Version = "1.15.3"

// Hash is the SHA-256 of the solver's file.
const Hash = "528be4365bea1d4188988646b244263f50320df55782e14d6af5bce7cd45c840"

// machine is the compiled solver, made once and used by every solve.
type machine struct {
	runtime wazero.Runtime
	highs   wazero.CompiledModule
	hook    wazero.CompiledModule
}

// ready compiles the solver on the first call, which takes a second or two, or some
// hundredths where a compiled copy lies in the user's cache folder.
var ready = sync.OnceValues(func() (*machine, error) {
	code, err := unpack()
	if err != nil {
		return nil, err
	}
	ctx := experimental.WithCompilationWorkers(context.Background(), runtime.GOMAXPROCS(0))
	config := wazero.NewRuntimeConfig().WithCloseOnContextDone(true)
	if cache := onDisk(); cache != nil {
		config = config.WithCompilationCache(cache)
	}
	m := &machine{runtime: wazero.NewRuntimeWithConfig(ctx, config)}
	if m.highs, err = m.runtime.CompileModule(ctx, code); err != nil {
		return nil, fmt.Errorf("%w: it does not compile: %v", ErrSolver, err)
	}
	if m.hook, err = m.runtime.CompileModule(ctx, hookCode); err != nil {
		return nil, fmt.Errorf("%w: its hook does not compile: %v", ErrSolver, err)
	}
	if _, err = system(m.runtime).Instantiate(ctx); err != nil {
		return nil, fmt.Errorf("%w: it cannot be linked: %v", ErrSolver, err)
	}
	return m, nil
})

// unpack is the solver's file, checked against its hash.
func unpack() ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, fmt.Errorf("%w: its file is damaged: %v", ErrSolver, err)
	}
	code, err := io.ReadAll(z)
	if err != nil {
		return nil, fmt.Errorf("%w: its file is damaged: %v", ErrSolver, err)
	}
	if sum := sha256.Sum256(code); hex.EncodeToString(sum[:]) != Hash {
		return nil, fmt.Errorf("%w: its file is not the one pinned (SHA-256 %x, not %s)", ErrSolver, sum, Hash)
	}
	return code, nil
}

// onDisk is a cache of compiled code between runs, where the user's cache folder can be
// written to; nil where not, which only costs the time to compile.
func onDisk() wazero.CompilationCache {
	dir, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(dir, "thole", "highs"))
	if err != nil {
		return nil
	}
	return cache
}

// Warm compiles the solver ahead of its first use, so that the first person who asks does
// not wait for it.
func Warm() error {
	_, err := ready()
	return err
}

// instance is one running copy of the solver with its own memory, for one solve.
type instance struct {
	ctx    context.Context
	module api.Module
	memory api.Memory
	hook   uint64 // where the solver finds our callback
}

// start makes a fresh copy of the solver. What it holds goes when the copy is closed, so
// nothing that it allocates is freed one by one.
func (m *machine) start(ctx context.Context) (*instance, error) {
	resolve := func(in api.Module) context.Context {
		return experimental.WithImportResolver(ctx, func(name string) api.Module {
			if name == "highs" && in != nil {
				return in
			}
			return nil // looked up in the runtime, which knows our system by its name
		})
	}
	plain := wazero.NewModuleConfig().WithName("").WithStartFunctions()
	module, err := m.runtime.InstantiateModule(resolve(nil), m.highs, plain)
	if err != nil {
		return nil, fmt.Errorf("%w: it does not start: %v", ErrSolver, err)
	}
	in := &instance{ctx: ctx, module: module, memory: module.ExportedMemory("u")}
	if _, err := in.call("init"); err != nil {
		in.close()
		return nil, err
	}
	hook, err := m.runtime.InstantiateModule(resolve(module), m.hook, plain)
	if err != nil {
		in.close()
		return nil, fmt.Errorf("%w: its hook does not start: %v", ErrSolver, err)
	}
	at, err := hook.ExportedFunction("place").Call(ctx)
	if err != nil {
		in.close()
		return nil, fmt.Errorf("%w: its hook finds no place: %v", ErrSolver, err)
	}
	in.hook = at[0]
	return in, nil
}

// close gives the copy's memory back.
func (in *instance) close() { _ = in.module.Close(context.Background()) }

// call calls one of the solver's functions by its name in the solver's C interface.
func (in *instance) call(name string, args ...uint64) (uint64, error) {
	out, err := in.module.ExportedFunction(exports[name]).Call(in.ctx, args...)
	if err != nil {
		return 0, fmt.Errorf("%w in %s: %v", ErrSolver, name, err)
	}
	if len(out) == 0 {
		return 0, nil
	}
	return out[0], nil
}

// exports are the short names under which this build of the solver exports its functions.
// They are read off build/highs.js of the same package and change with every build, which
// is why the file is pinned by its hash.
var exports = map[string]string{
	"init":                         "v",
	"malloc":                       "uc",
	"Highs_create":                 "F",
	"Highs_run":                    "N",
	"Highs_passMip":                "V",
	"Highs_setBoolOptionValue":     "ia",
	"Highs_setIntOptionValue":      "ja",
	"Highs_setDoubleOptionValue":   "ka",
	"Highs_setStringOptionValue":   "la",
	"Highs_getDoubleInfoValue":     "Ba",
	"Highs_getIntInfoValue":        "Aa",
	"Highs_getSolution":            "Ea",
	"Highs_getModelStatus":         "Ga",
	"Highs_getObjectiveValue":      "Ka",
	"Highs_setSolution":            "Va",
	"Highs_startCallback":          "Ya",
	"Highs_js_setCallback":         "A",
	"Highs_getCallbackDataOutItem": "nc",
}

// hookCode is a module of one function that puts our callback into the solver's table of
// functions, which nothing outside WebAssembly can do:
//
//	(module
//	  (type (func (param i32 i32 i32 i32 i32)))
//	  (type (func (result i32)))
//	  (import "a" "hook" (func $hook (type 0)))
//	  (import "highs" "sc" (table 0 funcref))
//	  (func (export "place") (type 1) (table.grow 0 (ref.func $hook) (i32.const 1)))
//	  (elem declare func $hook))
//
// Source: WebAssembly Core Specification, release 2.0, ch. 5 (binary format)
var hookCode = []byte{
	0x00, 'a', 's', 'm', 1, 0, 0, 0,
	1, 13, 2, 0x60, 5, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0, 0x60, 0, 1, 0x7f,
	2, 23, 2, 1, 'a', 4, 'h', 'o', 'o', 'k', 0, 0, 5, 'h', 'i', 'g', 'h', 's', 2, 's', 'c', 1, 0x70, 0, 0,
	3, 2, 1, 1,
	7, 9, 1, 5, 'p', 'l', 'a', 'c', 'e', 0, 1,
	9, 5, 1, 3, 0, 1, 0,
	10, 11, 1, 9, 0, 0xd2, 0, 0x41, 1, 0xfc, 15, 0, 0x0b,
}
