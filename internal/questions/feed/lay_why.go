package feed

import (
	"strings"

	"thole/internal/sheet"
)

// account says how a figure was worked out.
func (q *ask) account(name string) sheet.Account {
	crew := q.c.Inputs("voyage.yaml: crew")
	food := append(q.c.Inputs("stores.csv"), crew...)
	water := append(q.c.Inputs("boat.yaml: water makers", "boat.yaml: weights"), food...)
	trip := crew
	if q.way != nil {
		trip = append(append(q.c.Inputs("voyage.yaml: from", "voyage.yaml: to", "voyage.yaml: leave"), q.c.Afloat()...), q.c.Inputs("boat.yaml: rowing")...)
	} else if q.c.Folder.Voyage.Days > 0 {
		trip = append(q.c.Inputs("voyage.yaml: days"), crew...)
	}
	const bodies = "Mifflin and St Jeor (1990); 49 Atlantic rowers (abstract, 2020 and 2021); Reid et al. (2017); Hall (2008)"
	switch {
	case name == "food lasts":
		return sheet.Account{Method: "the bags opened one after the other; the least of bag, liking, stomach and sickness eaten, half of the rest kept", Source: bodies, Inputs: food}
	case strings.HasPrefix(name, "chance"):
		return sheet.Account{Method: "the mean of the share that has arrived over how long the stores may last", Source: "P(arrival < lasts) = E[By(lasts)]", Inputs: append(trip, water...)}
	case name == "half are in by day", name == "nine in ten by day", name == "nineteen in twenty by day", name == "taken to be in by day":
		return sheet.Account{Method: "quantiles of simulated passages, or the planned days where none could be made", Source: "see how long it will take", Inputs: trip}
	case name == "days of bags packed":
		return sheet.Account{Method: "days on which the stores' calendar opens something with an energy", Source: "the boat folder", Inputs: food}
	case name == "days of bags for 19 in 20", name == "the missing days' food", name == "their water":
		return sheet.Account{Method: "the day of nineteen in twenty less the days packed; by the last bag, and the water that makers do not make", Source: "quantile of the passages; the ledger's mean need", Inputs: append(trip, water...)}
	case strings.Contains(name, " spends"), strings.Contains(name, " eats"):
		return sheet.Account{Method: "the resting rate times what was measured on ocean rowers at such hours; the least of bag, liking, stomach and sickness", Source: bodies, Inputs: food}
	case strings.Contains(name, " needs"):
		return sheet.Account{Method: "sweat by the heat balance of a clothed body at the oars and in the cabin, breath, skin, urine, less what burning makes", Source: "ISO 7933:2004; Fanger (1970); physiology textbooks", Inputs: food}
	case name == "into dried food":
		return sheet.Account{Method: "what the day's bags want, by the share of them that is eaten", Source: "the boat folder, or makers' figures for dried meals, from memory", Inputs: food}
	}
	return sheet.Account{Method: "the day's need drawn from the tank; machines fill up what was drunk, hands what is then missing", Source: "conservation of mass; crews' figures for makers where the folder gives none", Inputs: water}
}
