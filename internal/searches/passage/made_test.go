package passage

import (
	"thole/internal/crossing"
	"thole/internal/sheet"
	"thole/internal/voyages"
)

// cellOf is a cell of a table.
type cellOf = sheet.Cell

// departure is a hundred passages: so many arrive, one a day; so many miss; so many of all meet a season of storms.
func departure(arrive, miss, stormy int) crossing.Departure {
	t := &voyages.Tally{Shape: voyages.Shape{Most: 200}, Arrival: voyages.Counts{}, Passages: 100, Stormy: uint64(stormy)}
	for i := range arrive {
		t.Arrival[int32(i*24)]++
	}
	t.Ends[voyages.Arrived], t.Ends[voyages.Missed], t.Ends[voyages.OutOfTime] = uint64(arrive), uint64(miss), uint64(100-arrive-miss)
	return crossing.Departure{Tally: t}
}
