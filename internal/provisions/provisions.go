// Package provisions is the food and the water of a boat folder as package sustenance asks for them: the crew's bodies and
// days, the bags that the stores' calendar opens, the drinking water with its reserve and ballast kept apart, and the makers.
package provisions

import (
	"errors"

	"thole/internal/afloat"
	"thole/internal/sustenance"
)

// Lacks is what a folder does not say and no ledger can be kept without.
type Lacks struct{ File, Key, Why string }

// Assumed is what the folder does not give, and what was taken.
type Assumed struct{ What, Value, Why, File string }

// Provisions are a folder's.
type Provisions struct {
	Plan    sustenance.Plan
	Lacks   []Lacks // why there is no plan; empty when there is
	Assumed []Assumed
}

// Of reads a folder's provisions.
//
// In:     on, the conditions of a day of the passage, or nil for the trades'
// Error:  figures that no ledger can be kept with
func Of(t *afloat.Trip, on func(day int) sustenance.Conditions) (*Provisions, error) {
	return nil, errors.New("provisions: not built")
}
