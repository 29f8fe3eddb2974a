// Recipe makes the land that package coast embeds, from the public npm package
// world-atlas 2.0.2 (TopoJSON of Natural Earth, which is in the public domain). It is
// run by hand, and its test checks that what it makes is what is embedded:
//
//	npm pack world-atlas@2.0.2
//	go run ./internal/coast/recipe world-atlas-2.0.2.tgz internal/coast/land.bin.gz
//
// What it does: takes the rings of the 1:10 million land as they stand, on their own
// lattice (0.0036 by 0.0017 degrees); joins their arcs; drops points that repeat the
// one before; cuts rings that cross the 180th meridian along it, and closes the one
// that goes round the south pole there; orders the rings from west to east; packs them.
package main

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"sort"

	"thole/internal/earth"
)

// What goes in and what must come out.
const (
	member   = "package/land-10m.json"
	wantIn   = "9b9f584709c119d63fbadf484ce425260497697b7166be7a2fe360e8c0b171a8"
	wantOut  = "a7694e3d8fe3aff1e4a35ab44e87fff3a4cfc7a3a5e0d5e3d7de266703992d64" // of the packed rings, before compression
	round    = 99999                                                              // steps of the lattice round the earth
	southern = -2830                                                              // a step past the south pole; land stops at it
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "give the package world-atlas-2.0.2.tgz and the file to write")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "recipe:", err)
		os.Exit(1)
	}
}

// run reads the package and writes the land.
func run(from, to string) error {
	text, err := take(from)
	if err != nil {
		return err
	}
	if got := sum(text); got != wantIn {
		return fmt.Errorf("%s in %s has sha256 %s, not %s: another version of the package", member, from, got, wantIn)
	}
	rings, err := read(text)
	if err != nil {
		return err
	}
	packed := rings.Pack()
	if got := sum(packed); got != wantOut {
		return fmt.Errorf("the packed land has sha256 %s, not %s: the recipe has changed", got, wantOut)
	}
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return err
	}
	_, err = z.Write(packed)
	if err := errors.Join(err, z.Close()); err != nil {
		return err
	}
	points := 0
	for _, r := range rings.Rings {
		points += len(r)
	}
	fmt.Printf("%d rings, %d points, %d bytes, %d compressed\n", len(rings.Rings), points, len(packed), out.Len())
	return os.WriteFile(to, out.Bytes(), 0o644)
}

func sum(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])
}

// take reads one file out of a packed archive.
func take(archive string) ([]byte, error) {
	f, err := os.Open(archive)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", archive, err)
	}
	for t := tar.NewReader(z); ; {
		h, err := t.Next()
		if err != nil {
			return nil, fmt.Errorf("%s: looking for %s: %w", archive, member, err)
		}
		if h.Name == member {
			return io.ReadAll(t)
		}
	}
}

// topology is what of a TopoJSON file holds land (the TopoJSON specification, 2013):
// arcs are steps on a lattice, rings name their arcs, ~n for arc n turned round.
type topology struct {
	Transform struct{ Scale, Translate [2]float64 }
	Arcs      [][][2]int32
	Objects   struct {
		Land struct {
			Geometries []struct {
				Type string
				Arcs [][][]int
			}
		}
	}
}

// read makes rings of a topology.
func read(text []byte) (earth.Rings, error) {
	var t topology
	if err := json.Unmarshal(text, &t); err != nil {
		return earth.Rings{}, err
	}
	out := earth.Rings{West: t.Transform.Translate[0], South: t.Transform.Translate[1], StepLon: t.Transform.Scale[0], StepLat: t.Transform.Scale[1]}
	for _, arc := range t.Arcs {
		for i := 1; i < len(arc); i++ {
			arc[i][0] += arc[i-1][0]
			arc[i][1] += arc[i-1][1]
		}
	}
	for _, g := range t.Objects.Land.Geometries {
		if g.Type != "MultiPolygon" {
			return out, fmt.Errorf("a geometry of type %q, where only MultiPolygon was known", g.Type)
		}
		for _, polygon := range g.Arcs {
			for _, arcs := range polygon {
				out.Rings = append(out.Rings, cut(join(t.Arcs, arcs))...)
			}
		}
	}
	sort.SliceStable(out.Rings, func(i, j int) bool { return out.Rings[i][0][0] < out.Rings[j][0][0] })
	return out, nil
}

// join makes one ring of its arcs.
func join(all [][][2]int32, arcs []int) [][2]int32 {
	var ring [][2]int32
	for _, n := range arcs {
		i, back := n, n < 0
		if back {
			i = ^n
		}
		arc := all[i]
		for k := range arc {
			p := arc[k]
			if back {
				p = arc[len(arc)-1-k]
			}
			if len(ring) == 0 || ring[len(ring)-1] != p {
				ring = append(ring, p)
			}
		}
	}
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	return ring
}

// cut makes a ring run on past the 180th meridian instead of leaping back across the
// map, closes it at the pole if it goes round the earth, and cuts it into what lies on
// each side of that meridian.
func cut(ring [][2]int32) [][][2]int32 {
	if len(ring) == 0 {
		return nil
	}
	west, east := ring[0][0], ring[0][0]
	for i := 1; i < len(ring); i++ {
		ring[i][0] = beside(ring[i][0], ring[i-1][0])
		west, east = min(west, ring[i][0]), max(east, ring[i][0])
	}
	last, begin := ring[len(ring)-1], ring[0]
	if end := beside(begin[0], last[0]); end != begin[0] {
		ring = append(ring, [2]int32{end, begin[1]}, [2]int32{end, southern}, [2]int32{begin[0], southern})
		west, east = min(west, end), max(east, end)
	}
	if west >= 0 && east <= round {
		return [][][2]int32{ring}
	}
	var out [][][2]int32
	for turn := int32(-2); turn <= 2; turn++ {
		part := side(side(ring, turn*round, 1), (turn+1)*round, -1)
		for i := range part {
			part[i][0] -= turn * round
		}
		if len(part) > 0 {
			out = append(out, part)
		}
	}
	return out
}

// beside is a longitude brought within half a turn of another.
func beside(x, near int32) int32 {
	for x-near > round/2 {
		x -= round
	}
	for near-x > round/2 {
		x += round
	}
	return x
}

// side keeps what of a ring lies on one side of a meridian (Sutherland & Hodgman, 1974).
func side(ring [][2]int32, at, sign int32) [][2]int32 {
	var out [][2]int32
	add := func(p [2]int32) {
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	for i, p := range ring {
		q := ring[(i+len(ring)-1)%len(ring)]
		in, was := sign*(p[0]-at) >= 0, sign*(q[0]-at) >= 0
		if in != was {
			t := float64(at-q[0]) / float64(p[0]-q[0])
			add([2]int32{at, q[1] + int32(math.Round(t*float64(p[1]-q[1])))})
		}
		if in {
			add(p)
		}
	}
	return out
}
