package weather

import (
	"math"
	"math/bits"
)

// Draws are the random numbers of one passage. Each is a function of the seed, the passage's
// number, a stream and a step, and of nothing else: any passage can be made again alone, and in
// any order. Two boats sent out under one seed meet the same chances.
//
// Source: Philox 4x32 with ten rounds, Salmon, Moraes, Dror & Shaw, Parallel random numbers: as
// easy as 1, 2, 3 (SC11, 2011)
type Draws struct{ Seed, Passage uint64 }

// Streams keep the draws of different things apart.
const (
	StreamBegin uint32 = iota // the weather at the start
	StreamWind                // its steps
	StreamYear                // its slow steps
	StreamBody                // what befalls the rower, by passage
	StreamDay                 // and by day
)

// Philox's multipliers and Weyl steps. Source: as Draws
const (
	philoxM0 = 0xD2511F53
	philoxM1 = 0xCD9E8D57
	philoxW0 = 0x9E3779B9
	philoxW1 = 0xBB67AE85
)

// philox is one block.
func philox(c [4]uint32, k0, k1 uint32) [4]uint32 {
	for range 10 {
		h0, l0 := bits.Mul32(philoxM0, c[0])
		h1, l1 := bits.Mul32(philoxM1, c[2])
		c = [4]uint32{h1 ^ c[1] ^ k0, l1, h0 ^ c[3] ^ k1, l0}
		k0 += philoxW0
		k1 += philoxW1
	}
	return c
}

// Uniforms are two numbers over 0 and under 1.
func (d Draws) Uniforms(step, stream uint32) (a, b float64) {
	x := philox([4]uint32{step, stream, uint32(d.Passage), uint32(d.Passage >> 32)}, uint32(d.Seed), uint32(d.Seed>>32))
	return unit(x[0], x[1]), unit(x[2], x[3])
}

// Normals are two independent numbers of mean 0 and standard deviation 1.
//
// Source: Box & Muller, Annals of Mathematical Statistics 29 (1958)
func (d Draws) Normals(step, stream uint32) (a, b float64) {
	u, v := d.Uniforms(step, stream)
	r := math.Sqrt(-2 * math.Log(u))
	s, c := math.Sincos(2 * math.Pi * v)
	return r * c, r * s
}

// unit is 52 bits in the middle of their cells, so that neither 0 nor 1 comes.
func unit(lo, hi uint32) float64 {
	n := (uint64(hi)<<32 | uint64(lo)) >> 12
	return (float64(n) + 0.5) * (1.0 / (1 << 52))
}
