package underway

import (
	"fmt"
	"math"
	"sync"

	"thole/internal/cuts"
	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/resistance"
	"thole/internal/units"
)

// usualSea is the water's temperature where the folder names none, degrees Celsius: the tropical trade winds', a modelling choice.
const usualSea = 25.0

// clean is the sand roughness of fresh paint, m. Source: Schultz (2007), table 1, from memory.
const clean = 30e-6

// foil is how thick a blade is over its chord where nothing is said: plates rounded off. Modelling choice.
const foil = 0.10

// The grid on which the wave making is kept: level amidships, m, and slope. Between its points waves run straight (TestBetween).
const (
	levelStep = 0.030
	slopeStep = 0.010
)

// sea takes the water.
func (w *Way) sea() {
	celsius := usualSea
	if v := w.Trip.Folder.Voyage; v != nil && v.WaterTemperature != nil {
		celsius = float64(*v.WaterTemperature)
	} else {
		w.take("temperature of the water", w.Trip.Folder.Boat.Units.Temperature(units.Temperature(usualSea)), "the sea in the trade winds; it sets how thick the water is", "voyage.yaml: water temperature")
	}
	w.Water = resistance.SeaAt(celsius, w.Trip.Sea.Density)
	if v := w.Trip.Folder.Voyage; (v == nil || v.Scrape == 0) && w.Trip.Days > 0 {
		w.take("scraping of the bottom", "never", "not said; growth then goes on to the last day", "voyage.yaml: scrape")
	}
}

func (w *Way) take(what, value, why, file string) {
	w.Assumed = append(w.Assumed, Assumed{what, value, why, file})
}

// Scraped is how many days the growth is old at the end of a day. On a day of scraping it is scraped in the evening.
func (w *Way) Scraped(day int) int {
	if v := w.Trip.Folder.Voyage; v != nil && v.Scrape > 0 {
		return day % v.Scrape
	}
	return day
}

// upright is an attitude without its list.
func upright(a hydro.Attitude) hydro.Attitude {
	c := math.Cos(a.Heel)
	return hydro.Attitude{Level: a.Level / c, Slope: a.Slope / c}
}

// of is she in a state.
func (w *Way) of(s model.State) (*Rowed, error) {
	f := w.Trip.Float(s, nil)
	if f.Err != nil {
		return nil, fmt.Errorf("%s she does not float: %w", w.Trip.When(s.Day, max(0, w.Trip.Condition(s.Condition.Name))), f.Err)
	}
	r := &Rowed{State: s, Attitude: upright(f.Rest.Attitude), Scraped: float64(w.Scraped(s.Day)), water: w.Water}
	hull, err := w.hull(r.Attitude)
	if err != nil {
		return nil, err
	}
	waves, err := w.waves(r.Attitude)
	if err != nil {
		return nil, err
	}
	if r.seen, err = look(w.Trip, s, r.Attitude); err != nil {
		return nil, err
	}
	if r.Boat, err = resistance.NewBoatMaking(hull, waves, resistance.Skin{Paint: clean}, w.hung(r.seen), stands(r.seen)); err != nil {
		return nil, err
	}
	if r.Table, err = r.Boat.In(resistance.Condition{Water: w.Water, Days: r.Scraped}); err != nil {
		return nil, err
	}
	crew, err := w.Crew()
	if err != nil {
		return nil, err
	}
	r.Crew = crew.at(AtOars(w.Trip.Folder, s.Condition))
	return r, nil
}

// hull is her under water.
func (w *Way) hull(a hydro.Attitude) (*resistance.Hull, error) {
	h := w.Trip.Ship.Hull
	return resistance.FromSections(func(x float64) cuts.Section { return h.Section(x, 0) }, h.From, h.To, a)
}

// waves is the wave making between the four points of the grid about an attitude, each worked out once for the shape.
func (w *Way) waves(a hydro.Attitude) (*resistance.Wavemaking, error) {
	h := w.Trip.Ship.Hull
	mid := (h.From + h.To) / 2
	u, v := (a.Level+a.Slope*mid)/levelStep, a.Slope/slopeStep
	i, j := math.Floor(u), math.Floor(v)
	du, dv := u-i, v-j
	var of [4]*resistance.Wavemaking
	var errs [4]error
	shares := []float64{(1 - du) * (1 - dv), du * (1 - dv), (1 - du) * dv, du * dv}
	var wait sync.WaitGroup
	for k := range of {
		wait.Add(1)
		go func() {
			defer wait.Done()
			i, j := i+float64(k%2), j+float64(k/2)
			of[k], errs[k] = w.kept(fmt.Sprintf("underway waves %g %g", i, j), hydro.Attitude{Level: i*levelStep - j*slopeStep*mid, Slope: j * slopeStep})
		}()
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return resistance.Between(of[:], shares)
}

func (w *Way) kept(key string, a hydro.Attitude) (*resistance.Wavemaking, error) {
	v, err := w.keep.KeepShape(key, func() (any, error) {
		h, err := w.hull(a)
		if err != nil {
			return nil, err
		}
		return h.Wavemaking(), nil
	})
	if err != nil {
		return nil, err
	}
	return v.(*resistance.Wavemaking), nil
}

// hung are rudder and boards that are in the water.
func (w *Way) hung(y *Yaw) []resistance.Appendage {
	var out []resistance.Appendage
	for _, b := range y.Blades {
		if chord := b.Corners[1][0] - b.Corners[0][0]; !b.Up && b.Area > 0 && chord > 0 {
			out = append(out, resistance.Appendage{Name: b.Name, Area: b.Area, Chord: chord, Thickness: foil})
		}
	}
	return out
}

// bow is the drag of hull and cabins from ahead, over that of a wall: they are faired, the cabins' ends are not. Modelling choice.
const bow = 0.8

// stands are what the wind meets from ahead, strip by strip.
func stands(y *Yaw) []resistance.Windage {
	var out []resistance.Windage
	for _, e := range y.Exposed {
		drag := e.Shape
		if e.Kind == "hull" {
			drag *= bow
		}
		for _, s := range e.Front {
			if s.Area > 0 {
				out = append(out, resistance.Windage{Name: e.Name, Area: s.Area, Drag: drag, Height: math.Max(0, s.Height)})
			}
		}
	}
	return out
}
