package oars

import "thole/internal/sheet"

// account says how a figure was worked out.
func (q *ask) account(name string) sheet.Account {
	body := q.c.Inputs("boat.yaml: rowing", "voyage.yaml: crew")
	all := append(q.c.Afloat(), q.c.Inputs("boat.yaml: rowing", "boat.yaml: rudder", "boat.yaml: boards", "boat.yaml: windage", "voyage.yaml: scrape", "voyage.yaml: water temperature")...)
	const stroke = "an even pull through the drive, blades slipping as plates (Hoerner 1965; Caplan and Gardner 2007)"
	switch name {
	case "least room", "oar at the catch", "oar at the finish", "way of the hands", "seat slides", "hands above the seat at the catch", "hands above the seat at the finish", "hands above the seat, blade out", "least room, heeled 10 degrees":
		return sheet.Account{Method: "a chain of segments from the heels to the hands, and the oar on its pin between the hands and the water; each thing not known of a body moved to its ends",
			Source: "Drillis and Contini (1966); Agius et al. (2023); JCGM 100:2008, 5.1", Inputs: append(q.c.Afloat(), q.c.Inputs("boat.yaml: rowing")...)}
	case "power at the handles":
		return sheet.Account{Method: "as the folder gives it, or what a healthy adult keeps up for the hours of a day, no more than the energy a body turns over for weeks", Source: "Wilkie (1960); Thurber et al., Science Advances 5 (2019)", Inputs: body}
	case "food burnt at the oars":
		return sheet.Account{Method: "power times hours, over the share of food's energy that becomes work", Source: "exercise physiology textbooks, 20 %, from memory", Inputs: body}
	case "strokes a minute", "pull at the handles", "blade's efficiency", "thrust":
		return sheet.Account{Method: "the stroke at the speed that she makes", Source: stroke, Inputs: all}
	case "head wind that stops her":
		return sheet.Account{Method: "the wind whose force on all that stands above the water, seen from ahead, is the thrust at rest", Source: stroke + "; shapes by the IMO MODU Code, table 3-1", Inputs: all}
	}
	return sheet.Account{Method: "the speed at which thrust and resistance are equal; for a power, the other way about",
		Source: stroke + "; ITTC-57; Michell (1898); Holtrop & Mennen (1982); Granville (1958)", Inputs: all}
}
