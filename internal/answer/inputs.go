package answer

import "strings"

// Inputs names what in the folder a figure was worked out from, as "file: key". Of the keys given those are
// left out that this folder does not have; "hull" stands for the table of the hull with what boat.yaml says of it.
func (c *Case) Inputs(keys ...string) []string {
	b := &c.Folder.Boat
	var out []string
	for _, k := range keys {
		if k == "hull" {
			if b.Hull.File != "" {
				out = append(out, b.Hull.File)
			}
			k = "boat.yaml: hull"
		}
		file, key, _ := strings.Cut(k, ": ")
		has := true
		switch {
		case file == "stores.csv":
			has = len(c.Folder.Stores) > 0
		case file == "needs.yaml":
			has = c.Folder.Needs != nil && (key != "functions" || len(c.Folder.Needs.Functions) > 0)
		case k == "voyage.yaml: scrape":
			has = c.Folder.Voyage != nil && c.Folder.Voyage.Scrape > 0
		case k == "voyage.yaml: water temperature":
			has = c.Folder.Voyage != nil && c.Folder.Voyage.WaterTemperature != nil
		case file == "voyage.yaml":
			has = c.Folder.Voyage != nil && (key != "crew" || len(c.Folder.Voyage.Crew) > 0)
		case key == "water":
			has = b.Water > 0
		case key == "weights":
			has = len(b.Weights) > 0
		case key == "cabins":
			has = len(b.Cabins) > 0
		case key == "wells":
			has = len(b.Wells) > 0
		case key == "compartments":
			has = len(b.Compartments) > 0
		case key == "rudder":
			has = b.Rudder != nil
		case key == "boards":
			has = len(b.Boards) > 0
		case key == "windage":
			has = len(b.Windage) > 0
		case key == "rowing":
			has = len(b.Rowing) > 0
		case key == "deck":
			has = b.Camber > 0
		case key == "loft":
			has = b.Loft.Source.File != ""
		}
		if has {
			out = append(out, k)
		}
	}
	return out
}

// Load are the inputs of all that hangs on the weights.
func (c *Case) Load() []string {
	return c.Inputs("boat.yaml: weights", "stores.csv", "voyage.yaml: crew", "boat.yaml: compartments")
}

// Afloat are the inputs of all that hangs on the weights and on the shape that bears them.
func (c *Case) Afloat() []string {
	return append(c.Load(), c.Inputs("hull", "boat.yaml: cabins", "boat.yaml: wells", "boat.yaml: deck", "boat.yaml: water")...)
}
