package answer

import (
	"sync"

	"thole/internal/model"
	"thole/internal/shape"
)

// Case is one boat folder made ready to be asked. What several questions need
// (the stack of cuts above all) is worked out once, at the first asking.
// A Case may be asked by many goroutines at once.
type Case struct {
	Folder *model.Folder

	once  sync.Once
	ship  *shape.Ship
	fault error
}

// NewCase makes a folder ready to be asked.
func NewCase(f *model.Folder) *Case { return &Case{Folder: f} }

// Ship is the boat's solids as stacks of cuts.
func (c *Case) Ship() (*shape.Ship, error) {
	c.once.Do(func() { c.ship, c.fault = shape.Build(&c.Folder.Boat) })
	return c.ship, c.fault
}
