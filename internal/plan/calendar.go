package plan

import (
	"fmt"

	"thole/internal/lists"
	"thole/internal/model"
)

// OpenedWeek is seven days of the trip, the last week perhaps fewer.
type OpenedWeek struct {
	Number int         `json:"number"` // from 1
	Days   []OpenedDay `json:"days"`
}

// OpenedDay is which compartments are opened on a day, on each side, and what is taken out. What lies at a point is at hand, and
// has nothing to be opened.
type OpenedDay struct {
	Day       int      `json:"day"`
	Port      []Opened `json:"port"`
	Middle    []Opened `json:"middle"` // that reach over both sides
	Starboard []Opened `json:"starboard"`
	Said      string   `json:"said"` // all of it in words
}

// Opened is one compartment that is opened on a day.
type Opened struct {
	Locker int    `json:"locker"`
	Short  string `json:"short"`
	Takes  string `json:"takes"` // 1 day bags 1-10 port
	// New: something is taken out of it that was not in the week before.
	New bool `json:"new"`
}

// calendar is the order in which things are used, week by week.
func calendar(f *model.Folder, lockers []Locker) []OpenedWeek {
	weeks := []OpenedWeek{}
	last := map[[2]int]int{} // the day on which a store was last taken out of a place
	for i, takes := range lists.Calendar(f) {
		if i%7 == 0 {
			weeks = append(weeks, OpenedWeek{Number: i/7 + 1})
		}
		day := OpenedDay{Day: i + 1, Port: []Opened{}, Middle: []Opened{}, Starboard: []Opened{}}
		for k := 0; k < len(takes); {
			at := takes[k].Compartment
			if at < 0 {
				k++
				continue
			}
			one := Opened{Locker: at, Short: lockers[at].Short}
			for ; k < len(takes) && takes[k].Compartment == at; k++ {
				if one.Takes != "" {
					one.Takes += ", "
				}
				one.Takes += fmt.Sprintf("%d %s", takes[k].Units, f.Stores[takes[k].Store].What)
				mark := [2]int{at, takes[k].Store}
				if was, ever := last[mark]; !ever || i+1-was > 7 {
					one.New = true
				}
				last[mark] = i + 1
			}
			switch lockers[at].Side {
			case "port":
				day.Port = append(day.Port, one)
			case "starboard":
				day.Starboard = append(day.Starboard, one)
			default:
				day.Middle = append(day.Middle, one)
			}
			if day.Said != "" {
				day.Said += "; "
			}
			day.Said += one.Short + ": " + one.Takes
		}
		week := &weeks[len(weeks)-1]
		week.Days = append(week.Days, day)
	}
	return weeks
}
