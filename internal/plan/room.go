package plan

import (
	"thole/internal/model"
	"thole/internal/stowage"
)

// usable is how much goes into a compartment.
func usable(c *model.Compartment, volume float64) float64 {
	if c.Packing > 0 {
		return c.Packing * volume
	}
	return stowage.UsualPacking * volume
}

// volumeOf is how much room one piece of a store takes; 0 when it is not known.
func volumeOf(s *model.Store) float64 { return float64(s.Volume) }
