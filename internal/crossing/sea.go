package crossing

import (
	"crypto/sha256"
	"math"

	"thole/internal/climate"
	"thole/internal/model"
)

// year is the mean length of a year, s. Months by it are out by a day and a half at most, which no climatology can tell.
const year = 365.2425 * 86400

// month is the time of the year.
func month(when float64) climate.Month {
	y := when / year
	return climate.Month(12 * (y - math.Floor(y)))
}

// winds are the mean wind of a climatology.
type winds struct{ *climate.WindField }

// Wind is as voyages.Climate has it.
func (w winds) Wind(lat, lon, when float64) (east, north, speed float64) {
	return w.WindField.Wind(lat, lon, month(when))
}

// currents are the mean current and what a wind off its mean drags along.
type currents struct{ *climate.CurrentField }

// Current is as voyages.Currents has it.
func (c currents) Current(lat, lon, when float64) (east, north float64) {
	return c.CurrentField.Current(lat, lon, month(when))
}

// Error is as voyages.Doubts has it.
func (c currents) Error(lat, lon, when float64) float64 {
	return c.CurrentField.Error(lat, lon, month(when))
}

// Drag is as voyages.Dragged has it.
func (currents) Drag(lat, east, north float64) (de, dn float64) {
	return climate.WindDriven(lat, east, north)
}

// storms are the published seasons.
type storms struct{}

// Stormy is as voyages.Seasons has it.
func (storms) Stormy(lat, lon, when float64) bool {
	b := climate.Storms(lat, lon)
	return b != nil && b.Season(month(when)) != climate.Quiet
}

// read keeps what was read of the person's own files by their content: a page asks for the same folder at every touch, and a
// drifter climatology takes seconds and some hundred megabytes.
var read = few[any]{most: 4}

// once reads a file, or gives what was read of it before.
func once[T any](kind string, f *model.File, by func(name string, file []byte) (T, error)) (T, error) {
	h := sha256.New()
	h.Write([]byte(kind + "\x00" + f.Name + "\x00"))
	h.Write(f.Data)
	v, err := read.get([sha256.Size]byte(h.Sum(nil)), func() (any, error) { return by(f.Name, f.Data) })
	if err != nil {
		var none T
		return none, err
	}
	return v.(T), nil
}

// seas are the winds and the currents of a folder: the person's own where there are such, laid over the embedded.
func (c *Crossing) seas() error {
	v := c.Trip.Folder.Voyage
	wind, current := climate.StandardWind(), climate.StandardCurrent()
	if v.Wind != nil {
		own, err := once("wind", v.Wind, climate.ReadWind)
		if err != nil {
			return err
		}
		wind = own
		c.note("winds are those of %s, and the embedded ones where it has none", v.Wind.Name)
		for _, n := range own.Notes {
			c.note("%s: %s", v.Wind.Name, n)
		}
	}
	doubt := float64(v.Weather.CurrentDoubt)
	if v.Current != nil {
		own, err := once("current", v.Current, climate.ReadCurrent)
		if err != nil {
			return err
		}
		current = own
		c.note("currents are those of %s, and the embedded ones where it has none", v.Current.Name)
		for _, n := range own.Notes {
			c.note("%s: %s", v.Current.Name, n)
		}
		if doubt > 0 {
			doubted := *own // what is kept is shared
			doubted.Doubt = doubt
			current = &doubted
		} else {
			c.take("how far your current may be wrong", c.speed(climate.OwnDoubt), "about the standard error of a drifter mean in the open ocean; modelling choice", "voyage.yaml: weather.current doubt")
		}
	} else {
		c.take("the current", "mean of the month, built in", current.Name+"; in the trades probably a third to a half too weak; its doubt is drawn for each passage", "voyage.yaml: current")
	}
	if v.Sets != nil {
		zones, err := once("sets", v.Sets, climate.ReadZones)
		if err != nil {
			return err
		}
		if doubt > 0 {
			zones = append([]climate.Zone(nil), zones...)
			for i := range zones {
				if zones[i].Doubt == 0 {
					zones[i].Doubt = doubt
				}
			}
		}
		current = current.With(zones...)
		c.note("%d sets of %s are laid over the current", len(zones), v.Sets.Name)
	}
	if v.Wind == nil {
		c.take("the wind", "mean of the month, built in", wind.Name+"; departures from it are drawn", "voyage.yaml: wind")
	}
	c.Spec.Climate = winds{wind}
	c.Spec.Currents, c.Spec.Doubts, c.Spec.Dragged = currents{current}, currents{current}, currents{current}
	c.Spec.Seasons = storms{}
	return nil
}
