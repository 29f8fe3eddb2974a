package provisions

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/model"
	"thole/internal/sustenance"
)

// alike is by how much the energy of two days may differ for them to be of one kind of bag, as a share.
const alike = 0.01

// food makes the rations by day from the stores' calendar, and the emergency food.
func (p *Provisions) food(f *model.Folder) {
	var silent, kept []string
	any, soaked := false, false
	p.Days = make([]Day, f.LastDay())
	for i := range f.Stores {
		s := &f.Stores[i]
		if s.Where.None || s.Kept == model.KeptBallast {
			continue
		}
		if s.Energy <= 0 {
			if s.Use.Last > 0 && eaten(s) {
				silent = append(silent, s.What)
			}
			continue
		}
		any = true
		n := float64(max(1, s.Count))
		if s.Kept == model.KeptReserve || s.Use.Last == 0 {
			p.Plan.Spare += n * float64(s.Energy)
			if s.Kept != model.KeptReserve {
				kept = append(kept, s.What)
			}
			continue
		}
		soaked = soaked || s.Soaks > 0
		share := n / float64(s.Use.Last-s.Use.First+1)
		for d := max(1, s.Use.First); d <= s.Use.Last; d++ {
			day := &p.Days[d-1]
			day.Energy += share * float64(s.Energy)
			day.Mass += share * float64(s.Mass.Value)
			day.Water += share * float64(s.Soaks) * freshWater
		}
	}
	if !any {
		p.lack(stores, "energy", "no row says how much energy is in one of it; write 3,400 kcal or 14.2 MJ beside a day's bag, from its label: by mass alone it could be half or double")
		return
	}
	packed := 0.0
	for _, d := range p.Days {
		packed += d.Energy
	}
	if packed == 0 {
		p.lack(stores, "used", "nothing with an energy is used on any day; write days 1-80 beside what is eaten on the way, and reserve under kept beside what is not")
		return
	}
	if len(silent) > 0 {
		p.assume("food without an energy", "none in "+some(silent), "the rows say nothing of it, and it counts for nothing", stores+": energy")
	}
	if len(kept) > 0 {
		p.assume("food that is used on no day", "emergency food: "+some(kept), "kept apart, and not counted among the rations", stores+": kept")
	}
	if !soaked {
		for i := range p.Days {
			p.Days[i].Water = sustenance.Dried("", 1, p.Days[i].Energy).Water
		}
		p.assume("water that the food wants", "0.23 L for each 1,000 kcal", "dried main dishes, half the energy eaten dry; makers' figures, from memory. It is part of what is drunk, not more than it", stores+": soaks")
	}
	p.ration()
}

// ration makes runs of days with like bags, for one rower, of the calendar; no bag differs from the calendar's sum.
func (p *Provisions) ration() {
	people := float64(max(1, len(p.Plan.Rowers)))
	last := len(p.Days)
	for last > 0 && p.Days[last-1].Energy == 0 {
		last--
	}
	for from := 0; from < last; {
		first, to := p.Days[from], from
		var sum Day
		for ; to < last && math.Abs(p.Days[to].Energy-first.Energy) <= alike*first.Energy && math.Abs(p.Days[to].Water-first.Water) <= 0.1*first.Water+1e-9; to++ {
			sum.Energy, sum.Mass, sum.Water = sum.Energy+p.Days[to].Energy, sum.Mass+p.Days[to].Mass, sum.Water+p.Days[to].Water
		}
		n := float64(to - from)
		p.Plan.Rations = append(p.Plan.Rations, sustenance.Ration{Name: named(from+1, to), Days: to - from,
			Energy: sum.Energy / n / people, Mass: sum.Mass / n / people, Water: sum.Water / n / people})
		from = to
	}
	if len(p.Plan.Rowers) > 1 {
		p.assume("who eats how much", "each the same share of a day's bags", "the calendar says what is opened, not by whom it is eaten", stores+": energy")
	}
}

// named is a run of days in words.
func named(from, to int) string {
	if from == to {
		return fmt.Sprintf("day %d", from)
	}
	return fmt.Sprintf("days %d to %d", from, to)
}

// eaten tells whether a row is food by what it provides or by its group.
func eaten(s *model.Store) bool {
	return model.PlainName(s.Group) == "food" || slices.ContainsFunc(s.Provides, func(w string) bool {
		switch model.PlainName(w) {
		case "food", "hotfood", "coldfood":
			return true
		}
		return false
	})
}

// some names the first few of many.
func some(names []string) string {
	const few = 3
	if len(names) <= few {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:few], ", "), len(names)-few)
}
