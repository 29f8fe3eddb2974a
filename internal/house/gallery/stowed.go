package gallery

import (
	"time"

	"thole/internal/model"
	"thole/internal/units"
)

// Stowed is an invented boat with something in her lockers, for the lists.
func Stowed() *model.Folder {
	f := Folder()
	f.Voyage.Days, f.Voyage.Leave = 16, time.Date(2027, 1, 12, 0, 0, 0, 0, time.UTC)
	f.Voyage.Crew[0].Mass = model.Mass{Value: 76, Tolerance: 2, Given: true}
	f.Boat.Compartments = []model.Compartment{
		{Number: 202, Name: "fore bin port", Side: model.Port, Limit: 40},
		{Number: 201, Name: "fore bin starboard", Side: model.Starboard},
		{Number: 300, Name: "well hold", Wet: true},
		{Name: "lazarette"},
	}
	at := func(i int) model.Place { return model.Place{Compartment: i} }
	mass := func(kg units.Mass, known model.Known) model.Mass {
		share := units.Mass(0.15)
		if known == model.Weighed {
			share = 0.02
		}
		return model.Mass{Value: kg, Tolerance: share * kg, Known: known}
	}
	lazarette := at(3)
	point := model.Place{Compartment: -1}
	point.At.X, point.At.Y, point.At.Z = 2.3, -0.2, 0.5
	f.Boat.Weights = []model.Weight{{What: "battery", Count: 2, Mass: mass(13.4, model.Weighed), Where: at(1)}}
	f.Stores = []model.Store{
		{What: "day bags port", Count: 8, Mass: mass(1.15, model.Weighed), Where: at(0), Use: model.Use{First: 1, Last: 16}, Group: "food"},
		{What: "day bags starboard", Count: 8, Mass: mass(1.15, model.Weighed), Where: at(1), Use: model.Use{First: 1, Last: 16}, Group: "food"},
		{What: "water in bottles", Count: 40, Mass: mass(1.55, model.Estimated), Where: at(2), Use: model.Use{First: 1, Last: 16, Into: &lazarette}, Group: "water"},
		{What: "flares", Count: 3, Mass: mass(0.45, model.Weighed), Where: at(2), Group: "safety", Expires: time.Date(2027, 1, 20, 0, 0, 0, 0, time.UTC)},
		{What: "repair timber, glue and cloth", Count: 1, Mass: mass(6, model.Unsaid), Where: at(3), Notes: "the cabin’s side first"},
		{What: "grab bag", Count: 1, Mass: mass(6.8, model.Estimated), Where: point, Group: "safety"},
	}
	f.Needs = &model.Needs{Checklist: []model.Check{
		{What: "flares in date", Asks: "race organisers commonly", By: time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)},
		{What: "beacon registered", Asks: "authorities commonly", Done: true},
	}}
	return f
}
