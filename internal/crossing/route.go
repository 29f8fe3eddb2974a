package crossing

import (
	"fmt"
	"math"

	"thole/internal/coast"
	"thole/internal/earth"
	"thole/internal/model"
	"thole/internal/voyages"
)

const (
	mile = 1852.0
	// loose is how near a point between counts as passed, rowers' custom (a hundred sea miles, common practice, no source), and
	// legShare the share of the shorter leg at it beyond which a corner would be cut too far: modelling choice.
	loose    = 100 * mile
	legShare = 0.25
	// landShare is the share of the way to the nearest land that a point may be passed within, and nearest the least: modelling choices.
	landShare = 0.5
	closest   = mile
	// arrived is how near the landfall counts as arrived: from a seat with the eye at 1.2 m palms of 20 m are seen from 11 to 12 sea
	// miles on a perfect day (the dip of the horizon); ten is within hail of help. Modelling choice.
	arrived = 10 * mile
	// past is how far beyond the landfall she has missed it: modelling choice, a day's row that would have to be won back against the wind.
	past = 30 * mile
	// offing is how far from the start land begins to count: she sets out from it, by a way that is hers to choose. Modelling choice.
	offing = 15 * mile
	// spacing is how finely the route is tried against the land, m.
	spacing = 10e3
)

// place is a waypoint's.
func place(w model.Waypoint) earth.Place {
	return earth.Place{Lat: float64(w.Lat), Lon: float64(w.Lon)}
}

// written is a place as the folder writes it.
func written(p earth.Place) string {
	lat, lon := p.Degrees()
	ns, ew := "N", "E"
	if lat < 0 {
		ns = "S"
	}
	if lon < 0 {
		ew = "W"
	}
	return fmt.Sprintf("[%.2f %s, %.2f %s]", math.Abs(lat), ns, math.Abs(lon), ew)
}

// name is what a place of the route is called.
func (c *Crossing) name(i int) string {
	v := c.Trip.Folder.Voyage
	n := ""
	switch {
	case i == 0:
		n = v.From.Name
	case i <= len(v.By):
		n = v.By[i-1].Name
	default:
		n = v.To.Name
	}
	if n == "" {
		n = fmt.Sprintf("point %d", i)
	}
	return n
}

// route takes the places and how near each counts.
func (c *Crossing) route() error {
	v := c.Trip.Folder.Voyage
	c.Places = []earth.Place{place(v.From)}
	within := []float64{0}
	for _, w := range v.By {
		c.Places, within = append(c.Places, place(w)), append(within, float64(w.Within))
	}
	c.Places, within = append(c.Places, place(v.To)), append(within, float64(v.To.Within))
	var err error
	if c.Route, err = earth.WGS84.Route(earth.GreatCircle, c.Places...); err != nil {
		return fmt.Errorf("voyage.yaml: %w", err)
	}
	land, legs := coast.World(), c.Route.Legs()
	last := len(c.Places) - 1
	for i := 1; i <= last; i++ {
		key := fmt.Sprintf("voyage.yaml: by[%d].within", i-1)
		if i == last {
			key = "voyage.yaml: to.within"
		}
		if within[i] == 0 && i == last {
			within[i] = math.Min(arrived, legs[i-1].Line.Distance/2)
			c.take("how near counts as arrived", c.way(within[i]), "land is in sight from a low seat on a good day; what is nearer is pilotage, and not looked at", key)
		} else if within[i] == 0 {
			within[i] = math.Min(loose, legShare*math.Min(legs[i-1].Line.Distance, legs[i].Line.Distance))
			within[i] = math.Max(closest, math.Min(within[i], landShare*land.Distance(c.Places[i], loose/landShare)))
			c.take("how near counts as passed at "+c.name(i), c.way(within[i]), "a hundred sea miles by custom; a quarter of the leg, and half-way to land, at the most", key)
		}
		c.Spec.Route = append(c.Spec.Route, voyages.Point{Place: voyages.Place(c.Places[i]), Within: within[i]})
	}
	c.Spec.Start = voyages.Place(c.Places[0])
	c.Spec.Land = land
	c.Spec.Offing, c.Spec.Past = offing, math.Max(past, 2*within[last])
	c.take("how far beyond the landfall she has missed it", c.way(c.Spec.Past), "a day's row to be won back against the wind; modelling choice", "")
	c.take("how far from the start land begins to count", c.way(offing), "how she leaves the shore is hers to choose; modelling choice", "")
	return c.crosses(land, within[last])
}

// crosses notes where the legs meet land.
func (c *Crossing) crosses(land *earth.Land, within float64) error {
	for i, l := range c.Route.Legs() {
		one, err := earth.WGS84.Route(earth.GreatCircle, l.From, l.To)
		if err != nil {
			return err
		}
		points, err := one.Points(spacing)
		if err != nil {
			return err
		}
		for k := 1; k < len(points); k++ {
			s, meets := land.Strikes(points[k-1], points[k])
			if !meets {
				continue
			}
			from, to := voyages.Distance(c.Spec.Start, voyages.Place(s.At)), voyages.Distance(voyages.Place(c.Places[len(c.Places)-1]), voyages.Place(s.At))
			if from < offing || to < within {
				continue
			}
			what := "land"
			if s.Hazard >= 0 {
				what = land.Hazards()[s.Hazard].Name
			}
			c.note("the way from %s to %s runs over %s at %s: put a point between in voyage.yaml: by", c.name(i), c.name(i+1), what, written(s.At))
			break
		}
	}
	return nil
}
