package provisions

import (
	"slices"

	"thole/internal/model"
	"thole/internal/units"
)

// More is a folder with food for more days: all that is used until the last day lasts so much longer, at the rate of that day,
// as the lever `food` makes it.
//
// In:     days, above 0
// Out:    a copy; the folder itself where nothing in it is used up
func More(f *model.Folder, days int) *model.Folder {
	last := 0
	for i := range f.Stores {
		last = max(last, f.Stores[i].Use.Last)
	}
	if last == 0 || days <= 0 {
		return f
	}
	out := *f
	out.Stamp = ""
	out.Stores = slices.Clone(f.Stores)
	for i := range out.Stores {
		s := &out.Stores[i]
		if s.Use.Last < last {
			continue
		}
		long := float64(s.Use.Last - s.Use.First + 1)
		if s.Use.First == s.Use.Last { // used at one go, on the last day
			s.Use.First, s.Use.Last = last+days, last+days
			continue
		}
		s.Use.Last = last + days
		times := (long + float64(days)) / long
		s.Mass.Value *= units.Mass(times)
		s.Mass.Tolerance *= units.Mass(times)
		s.Volume *= units.Volume(times)
		s.Energy *= units.Energy(times)
		s.Soaks *= units.Volume(times)
		s.Drink *= units.Volume(times)
	}
	return &out
}
