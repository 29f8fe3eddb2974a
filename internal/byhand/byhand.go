// Package byhand is the boat in three views with what a hand may pull: the readings of the hull's
// table, and the weights that are put down by a point.
//
// The views are read off the one fair surface, so they agree by construction. A pull becomes edits of
// the folder's own text, in the unit and to the roundness in which the file is written: what a hand
// did is what a rule would have measured. Metres in the boat's frame.
package byhand

import (
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/sheet"
)

// Views is the boat as a plan of her lines shows her.
type Views struct {
	Body    sheet.Drawing `json:"body"`    // sections seen from astern: the fore body to starboard, the after body to port
	Profile sheet.Drawing `json:"profile"` // from starboard, bow to the left
	Plan    sheet.Drawing `json:"plan"`    // from above, starboard up; its x is the profile's
	Handles []Handle      `json:"handles"`
}

// Kinds of handles.
const (
	Reading = "reading"
	Weight  = "weight"
)

// Handle is something that a hand may pull.
type Handle struct {
	ID   string  `json:"id"` // its file and row; the same while values change
	Kind string  `json:"kind"`
	Name string  `json:"name"` // station 4, point 6 from the keel
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Z    float64 `json:"z"`
	File string  `json:"file"`
	Key  string  `json:"key"`
	Line int     `json:"line"`
	// Off is how far the fair surface lies from a reading, metres; positive when the reading stands proud of it.
	Off  float64 `json:"off"`
	Free [3]bool `json:"free"` // which of x, y and z it may be pulled along
	Mass float64 `json:"mass"` // of a weight on the day shown, kg
	// Aft: in the body plan the reading stands on the port side.
	Aft bool `json:"aft"`
	// End: a point of the stem's or the stern's profile, which no section passes through.
	End bool `json:"end"`
	// Misread: its neighbours contradict it both ways, so that the fairing left it out.
	Misread bool   `json:"misread"`
	Place   string `json:"place"`   // where it is, in the folder's units
	Written string `json:"written"` // the same as the file has it
	Fair    string `json:"fair"`    // how it stands to the fair line, in words; empty for a weight
}

// Draw is the three views of a case on a day in a condition. d is what the case's folder was read from.
//
// Error: the shape could not be built, or there is no such day or condition
// Good to: 0.1 mm between the views at every station (TestViewsAgree)
func Draw(c *answer.Case, d *boatfolder.Draft, day int, condition string) (Views, error) {
	return draw(c, d, day, condition)
}

func draw(c *answer.Case, d text, day int, condition string) (Views, error) {
	t, err := c.Trip()
	if err != nil {
		return Views{}, err
	}
	day, cond, err := answer.Options{Day: day, Condition: condition}.Pick(t)
	if err != nil {
		return Views{}, err
	}
	spots, err := spotsOf(c.Folder, d, day)
	if err != nil {
		return Views{}, err
	}
	p := &pen{trip: t, folder: c.Folder, system: c.Folder.Boat.Units}
	p.lay()
	state := t.State(day, cond)
	if !c.Weightless() {
		if f := t.Float(state, nil); f.Err == nil && math.Abs(f.Rest.Heel) < math.Pi/3 {
			pl := f.Rest.Plane()
			p.water = func(x float64) float64 { return (pl.Level + pl.Slope*x) / pl.Cos }
		}
	}
	v := Views{}
	for i := range spots {
		p.judge(&spots[i])
		spots[i].shorten()
		v.Handles = append(v.Handles, spots[i].Handle)
	}
	p.extent(v.Handles)
	v.Profile, v.Plan, v.Body = p.profile(&state, spots), p.plan(), p.body()
	name := c.Folder.Boat.Name
	v.Profile.Alt = fmt.Sprintf("%s from the side, bow to the left: %d buttocks, %d stations", name, len(p.buttocks), len(p.stations))
	v.Plan.Alt = fmt.Sprintf("%s from above, bow to the left: her sheer and %d waterlines on the starboard side", name, len(p.waterlines))
	v.Body.Alt = fmt.Sprintf("%s in %d sections: the fore body on the right, the after body on the left", name, len(p.stations))
	return v, nil
}

// shorten leaves of a handle's place what is finer than any file is written, so that it is short to send.
func (h *Handle) shorten() {
	for _, v := range []*float64{&h.X, &h.Y, &h.Z, &h.Off} {
		*v = math.Round(*v*1e6) / 1e6
	}
}
