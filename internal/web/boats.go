package web

import (
	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/units"
)

// Folders that are kept ready to be asked: those that are shown, and apart from them the last
// positions of a finger, which would push the others out.
const (
	keptBoats = 16
	keptPulls = 4
)

// boats are folders ready to be asked, by the stamp of their files and the units.
type boats struct {
	shown  *recent[*answer.Case]
	pulled *recent[*answer.Case]
}

func newBoats() *boats {
	return &boats{newRecent[*answer.Case](keptBoats), newRecent[*answer.Case](keptPulls)}
}

// inUnits marks what answers hang on: the folder's files, and the units in which they are said.
func inUnits(stamp string, sys units.System) string {
	if sys == units.Feet {
		return stamp + " feet"
	}
	return stamp + " metric"
}

// ready gives the folder of a stamp, made ready from one that differs little, or from nothing. What
// a finger left behind is taken over.
func (b *boats) ready(stamp string, f *model.Folder, near *answer.Case) *answer.Case {
	key := inUnits(stamp, f.Boat.Units)
	return b.shown.get(key, func() *answer.Case {
		if left, ok := b.pulled.peek(key); ok {
			return left
		}
		return newCase(f, near)
	})
}

// underHand is ready for a folder that is thrown away soon.
func (b *boats) underHand(stamp string, f *model.Folder, near *answer.Case) *answer.Case {
	key := inUnits(stamp, f.Boat.Units)
	if there, ok := b.shown.peek(key); ok {
		return there
	}
	return b.pulled.get(key, func() *answer.Case { return newCase(f, near) })
}

func newCase(f *model.Folder, near *answer.Case) *answer.Case {
	if near == nil {
		return answer.NewCase(f)
	}
	return answer.NewCaseFrom(f, near)
}
