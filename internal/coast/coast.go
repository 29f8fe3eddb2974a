// Package coast holds the world's land, for package earth to ask questions of.
//
// Model: the coastline of Natural Earth at 1:10 million (version 4.1, in the public
// domain), by way of the npm package world-atlas 2.0.2, whose lattice is 0.0036 degrees of
// longitude by 0.0017 of latitude (at most 400 m by 190 m); and a list of reefs, rocks
// and shoals that it lacks, made by hand and from memory. The recipe beside this
// package makes the file that is embedded.
//
// Good to: a line drawn at 1:10 million is good to about a mile, here and there to two;
// islets are left out or moved. There are no depths, no shoals but the few listed, no
// lights. It serves to plan at sea-room's scale, never to approach a shore by.
package coast

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"fmt"
	"io"
	"sync"

	"thole/internal/earth"
)

//go:embed land.bin.gz
var packed []byte

// Notice is what must be said wherever the coast is shown.
const Notice = "Coast: Natural Earth 1:10 million (public domain), by the npm package world-atlas 2.0.2; good to a mile or two. Reefs and rocks: a few, from memory. Not a chart."

// StandOff is the sea room in m to keep from this coast, for what it does not show:
// two miles. Modelling choice: the error of a line at 1:10 million, which its makers
// do not state.
const StandOff = 2 * 1852

var world = sync.OnceValues(func() (*earth.Land, error) {
	b, err := unpacked()
	if err != nil {
		return nil, err
	}
	rings, err := earth.Unpack(b)
	if err != nil {
		return nil, err
	}
	return earth.NewLand(rings, Hazards())
})

// World is the world's land and the hazards of Hazards, made once (a tenth of a second)
// and shared.
func World() *earth.Land {
	l, err := world()
	if err != nil { // what is embedded was checked when this was built
		panic(fmt.Sprintf("coast: the embedded land: %v", err))
	}
	return l
}

// unpacked is the embedded land, decompressed.
func unpacked() ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(z)
}
