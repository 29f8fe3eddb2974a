package answer

import (
	"reflect"
	"strings"

	"thole/internal/model"
)

// Inputs names what in the folder a figure was worked out from, as "file: key". Of the keys given those are
// left out that this folder does not have; "hull" stands for the table of the hull with what boat.yaml says of it, and a key that
// names a person's own winds or currents brings the file's name with it.
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
		case file == "voyage.yaml":
			var own *model.File
			if has, own = voyageHas(c.Folder.Voyage, key); own != nil {
				out = append(out, own.Name)
			}
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
		case key == "water makers":
			has = len(b.Makers) > 0
		case key == "sea anchors":
			has = len(b.SeaAnchors) > 0
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

// voyageHas tells whether voyage.yaml says something under a key, and gives the file that the key names.
func voyageHas(v *model.Voyage, key string) (has bool, own *model.File) {
	if v == nil {
		return false, nil
	}
	first, _, _ := strings.Cut(key, ".")
	first, _, _ = strings.Cut(first, "[")
	var said any
	switch first {
	case "from":
		return v.From.Given, nil
	case "to":
		return v.To.Given, nil
	case "by":
		said = v.By
	case "leave":
		said = v.Leave
	case "days":
		said = v.Days
	case "crew":
		return len(v.Crew) > 0, nil
	case "scrape":
		said = v.Scrape
	case "water temperature":
		said = v.WaterTemperature
	case "wind":
		return v.Wind != nil, v.Wind
	case "current":
		return v.Current != nil, v.Current
	case "sets":
		return v.Sets != nil, v.Sets
	case "habits":
		said = v.Habits
	case "rules":
		said = v.Rules
	case "weather":
		said = v.Weather
	case "diet":
		said = v.Diet
	default:
		return true, nil
	}
	return !reflect.ValueOf(said).IsZero(), nil
}

// Load are the inputs of all that hangs on the weights.
func (c *Case) Load() []string {
	return c.Inputs("boat.yaml: weights", "stores.csv", "voyage.yaml: crew", "boat.yaml: compartments")
}

// Afloat are the inputs of all that hangs on the weights and on the shape that bears them.
func (c *Case) Afloat() []string {
	return append(c.Load(), c.Inputs("hull", "boat.yaml: cabins", "boat.yaml: wells", "boat.yaml: deck", "boat.yaml: water")...)
}
