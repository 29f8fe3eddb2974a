package underway

import (
	"fmt"
	"math"

	"thole/internal/drift"
	"thole/internal/heading"
	"thole/internal/model"
)

// End is the end of the boat from which a sea anchor or drogue goes: as the folder has it, else the bow for a parachute and the stern
// for all else.
func End(s *model.SeaAnchor) model.End {
	switch {
	case s.From != "":
		return s.From
	case s.Kind == model.Parachute:
		return model.Bow
	}
	return model.Stern
}

// Device is a sea anchor or drogue of the folder as package drift has it.
func Device(s *model.SeaAnchor) drift.Device {
	d := drift.Device{Kind: drift.Conical, Diameter: float64(s.Diameter), Count: s.Cones}
	if s.Kind == model.Parachute {
		d.Kind = drift.FlatCircular
	}
	return d
}

// Fitting is where a device's line leaves her, m aft.
func (y *Yaw) Fitting(s *model.SeaAnchor) float64 {
	if End(s) == model.Bow {
		return y.View.From
	}
	return y.View.To
}

// Held is how she drifts to her sea anchor, over wind and load, as shares of the wind.
type Held struct {
	Name         string
	winds, loads []float64
	down, across [][]float64 // by load, by wind
}

// SeaAnchor is the one that goes from the bow, the first in the folder; nil for none.
func (w *Way) SeaAnchor() *model.SeaAnchor {
	all := w.Trip.Folder.Boat.SeaAnchors
	for i := range all {
		if End(&all[i]) == model.Bow {
			return &all[i]
		}
	}
	return nil
}

// Held is how she lies to her sea anchor, as she is left to lie (Conditions), on the heaviest and the lightest day or the one between, in
// winds of a grain's. It is worked out once.
//
// Out:    nil where she has none
// Error:  as Yaw, drift.Device.DragArea and heading's
func (w *Way) Held(g Grain) (*Held, error) {
	s := w.SeaAnchor()
	if s == nil {
		return nil, nil
	}
	v, err := w.keep.Keep(fmt.Sprintf("underway held %v", g), func() (any, error) { return w.held(g, s) })
	if err != nil {
		return nil, err
	}
	return v.(*Held), nil
}

func (w *Way) held(g Grain, s *model.SeaAnchor) (*Held, error) {
	area, err := Device(s).DragArea()
	if err != nil {
		return nil, fmt.Errorf("boat.yaml: sea anchors: %s: %w", s.Name, err)
	}
	rowed, lies := Conditions(w.Trip)
	if lies < 0 {
		lies = max(0, rowed)
	}
	h := &Held{Name: s.Name}
	for _, k := range g.Winds {
		if k > 0 {
			h.winds = append(h.winds, k*tableKnot)
		}
	}
	days := w.days(lies, min(2, g.Loads))
	for i := len(days) - 1; i >= 0; i-- { // the lightest first
		y, err := w.Yaw(days[i], lies)
		if err != nil {
			return nil, err
		}
		b := y.Boat(y.AsTold())
		b.Towed = []heading.Towed{{X: y.Fitting(s), DragArea: area.Value}}
		m, err := heading.New(b)
		if err != nil {
			return nil, err
		}
		var down, across []float64
		for _, wind := range h.winds {
			d, a, err := lying(m, wind)
			if err != nil {
				return nil, fmt.Errorf("to %s in %.0f m/s: %w", s.Name, wind, err)
			}
			down, across = append(down, d/wind), append(across, a/wind)
		}
		h.loads, h.down, h.across = append(h.loads, y.State.Mass), append(h.down, down), append(h.across, across)
	}
	return h, nil
}

// lying is how she drifts at the stable angle nearest to beam-on, with the wind on her starboard side: where a boat that is let go
// comes to lie first.
func lying(m *heading.Model, wind float64) (down, across float64, err error) {
	rests, err := m.Rests(wind, heading.Control{})
	best := math.Inf(1)
	for _, l := range rests {
		if off := math.Abs(l.From - math.Pi/2); l.Stable && l.From > -1e-6 && off < best {
			best = off
			s, c := math.Sincos(l.Divergence())
			down, across = l.Speed()*c, l.Speed()*s
		}
	}
	return down, across, err
}

// Drift is how she goes to leeward, and to starboard of dead downwind with the wind on her starboard side, m/s.
//
// In:     wind m/s; load kg
// Good to: the table's points exactly; between them straight as a share of the wind, past them that of the end
func (h *Held) Drift(wind, load float64) (down, across float64) {
	i, t := between(h.winds, wind)
	j, u := between(h.loads, load)
	at := func(v [][]float64) float64 {
		k, l := min(i+1, len(h.winds)-1), min(j+1, len(h.loads)-1)
		return wind * ((v[j][i]*(1-t)+v[j][k]*t)*(1-u) + (v[l][i]*(1-t)+v[l][k]*t)*u)
	}
	return at(h.down), at(h.across)
}

// between is the row below a value and how far it is to the next, held within the ends.
func between(rows []float64, x float64) (int, float64) {
	for i := 1; i < len(rows); i++ {
		if x < rows[i] || i == len(rows)-1 {
			return i - 1, math.Max(0, math.Min(1, (x-rows[i-1])/(rows[i]-rows[i-1])))
		}
	}
	return 0, 0
}
