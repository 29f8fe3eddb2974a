package levers

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

// hours changes the time at the oars of everybody whose hours are given, and the watches with it.
func (p *pen) hours(a model.Act) error {
	v := p.f.Voyage
	rowed, err := v.WithHours(a.Time)
	if err != nil {
		return err
	}
	for i, h := range rowed.Crew {
		if h == 0 {
			continue
		}
		key := fmt.Sprintf("crew[%d].hours", i)
		was, _ := p.value(voyageFile, key)
		p.set(voyageFile, key, v.Crew[i].Name, hoursText(was.Text, h))
	}
	for k, w := range rowed.Watches { // the model's are in the day's order, the file's in any
		for i := range rowed.Watches {
			key := fmt.Sprintf("habits.watches[%d]", i)
			was, _ := p.value(voyageFile, key)
			if from, to, err := boatfolder.HoursOf(was.Text); err == nil && (model.Hours{From: from, To: to}) == v.Habits.Watches[k] {
				p.set(voyageFile, key, "", boatfolder.WatchText(w.From, w.To))
			}
		}
	}
	return nil
}

// hoursText writes a time like one that stands in a file: in minutes where that is, or where tenths of an hour are not enough.
func hoursText(like string, d units.Duration) string {
	minutes := int(math.Round(float64(d) / 60))
	if minutes%6 != 0 || strings.Contains(like, "min") {
		return fmt.Sprintf("%d min", minutes)
	}
	return strconv.FormatFloat(float64(minutes)/60, 'f', -1, 64) + " h"
}

// anHour is how much the offered levers change the day.
const anHour = units.Duration(3600)

// day offers an hour less and more at the oars.
func (o *offer) day() {
	o.one(voyages, "an hour less at the oars", model.Act{Do: model.MoreHours, Time: -anHour})
	o.one(voyages, "an hour more at the oars", model.Act{Do: model.MoreHours, Time: anHour})
}

// water offers another of what holds the most fresh water, where that is not the ballast: of that more and less is offered already.
func (o *offer) water() {
	best, most := "", units.Volume(0)
	for _, w := range o.f.Boat.Weights {
		if w.Ballast && w.Drink > 0 {
			return
		}
		if w.Drink > most {
			best, most = w.What, w.Drink
		}
	}
	for _, s := range o.f.Stores {
		if s.Drink > most && s.Kept != model.KeptReserve {
			best, most = s.What, s.Drink
		}
	}
	if best != "" {
		o.one(loading, fmt.Sprintf("one more %s, %s of water", short(best), units.Metric.Volume(most)), model.Act{Do: model.Another, What: []string{best}})
	}
}
