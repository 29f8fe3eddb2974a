package passage

import "thole/internal/sheet"

// account says how a figure was worked out.
func (q *ask) account(name string) sheet.Account {
	way := q.c.Inputs("voyage.yaml: from", "voyage.yaml: to", "voyage.yaml: leave")
	all := append(way, q.c.Afloat()...)
	all = append(all, q.c.Inputs("boat.yaml: rowing", "boat.yaml: rudder", "boat.yaml: boards", "boat.yaml: windage")...)
	const wind = "COADS, FNOC and Esbensen and Kushnir by NOAA/PMEL; Rice (1945)"
	switch name {
	case "way by the points given":
		return sheet.Account{Method: "shortest lines on the ellipsoid from point to point", Source: "Karney, Journal of Geodesy 87 (2013)", Inputs: q.c.Inputs("voyage.yaml: from", "voyage.yaml: to")}
	case "hours in a gale", "most wind met":
		return sheet.Account{Method: "counted over all steps of all passages; the wind of a step is the climatology's mean with a departure as wide as makes its mean speed what it is", Source: wind + "; Beaufort's limits: WMO code table 1100", Inputs: way}
	case "highest sea met":
		return sheet.Account{Method: "the sea grows and falls with the wind of the steps before, in the open ocean", Source: "Shore Protection Manual (1984); Pierson and Moskowitz (1964); WMO code table 3700", Inputs: way}
	case "hours rowed", "days to the sea anchor", "hours adrift":
		return sheet.Account{Method: "counted over all passages: who rows by the watches, the daylight, the breaks and the days lost; the sea anchor by the rules of the wind", Source: "the folder's own rules, or those listed as taken", Inputs: all}
	}
	return sheet.Account{Method: "order statistics over all passages, simulated hour by hour; one that never arrives is counted last", Source: wind + "; the boat by ITTC-57, Michell (1898), Hoerner (1965); David and Nagaraja, Order Statistics", Inputs: all}
}
