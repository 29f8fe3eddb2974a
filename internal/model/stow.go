package model

import "fmt"

// Portion is so many pieces of a store in one compartment, and the days on which they are used.
type Portion struct {
	In          string // a compartment
	Count       int
	First, Last int // 0, 0 for what is kept
}

// Used is when a portion is used, as the folder writes it; empty for what is kept.
func (p *Portion) Used() string {
	switch {
	case p.Last == 0:
		return ""
	case p.First == p.Last:
		return fmt.Sprintf("day %d", p.First)
	}
	return fmt.Sprintf("days %d-%d", p.First, p.Last)
}
