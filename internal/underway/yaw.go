package underway

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/heading"
	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/resistance"
)

// Exposed is a thing that stands in the wind, with the box that it fills, for a drawing.
type Exposed struct {
	heading.Part
	Kind   string // what it was taken from: hull, folder, rower, oars
	Lo, Hi r3.Vec // in the boat's frame; both nothing for the hull
}

// Blade is a rudder or board as it hangs, with its corners seen from the side, x and z in the boat's frame.
type Blade struct {
	heading.Foil
	Corners [4][2]float64
	Lifts   bool // it can be lifted: a rudder, or a board deeper than it is long
}

// Yaw is what wind and water see of her in a state: enough to tell where she points.
type Yaw struct {
	State    model.State
	Attitude hydro.Attitude // her heel left out
	View     heading.Silhouette
	Exposed  []Exposed
	Blades   []Blade
	Oars     heading.Oars
	Rowed    *Rowed
	Taken    []string // the crew whose stature the folder does not give
	thrust   []float64
}

// usualTurn is how far a rudder turns where that is not given: common practice, no source.
const usualTurn = 35 * math.Pi / 180

// Yaw looks at her from the side and from ahead on a day in a condition, worked out once.
//
// Error:  as At, and heading.ErrInput for a boat without cuts
func (w *Way) Yaw(day, condition int) (*Yaw, error) {
	v, err := w.keep.Keep(fmt.Sprintf("underway yaw %d %d", day, condition), func() (any, error) {
		r, err := w.At(day, condition)
		if err != nil {
			return nil, err
		}
		return newYaw(r), nil
	})
	if err != nil {
		return nil, err
	}
	return v.(*Yaw), nil
}

// The thrust is asked thousands of times, and so is read off a table to this speed, m/s, in so many steps.
const (
	mostSpeed   = 6.0
	thrustSteps = 120
)

func newYaw(r *Rowed) *Yaw {
	y := *r.seen
	y.Rowed = r
	y.pulls(r.Thrust)
	return &y
}

// pulls lays the table of the thrust.
func (y *Yaw) pulls(thrust func(v float64) resistance.Force) {
	y.thrust = make([]float64, thrustSteps+1)
	for i := range y.thrust {
		y.thrust[i] = thrust(mostSpeed * float64(i) / thrustSteps).Value
	}
}

// look is what wind and water see of her in a state, before anybody pulls.
func look(t *afloat.Trip, s model.State, a hydro.Attitude) (*Yaw, error) {
	a.Heel = 0
	view, err := heading.Profile(t.Ship.Body.Envelope, a)
	if err != nil {
		return nil, err
	}
	y := &Yaw{State: s, Attitude: a, View: view}
	y.Exposed = append(y.Exposed, Exposed{Part: view.Part("hull and cabins", heading.ShapeFlat), Kind: "hull"})
	b := &t.Folder.Boat
	for i := range b.Windage {
		y.stands(&b.Windage[i])
	}
	y.crew(t, s)
	if b.Rudder != nil {
		y.hang(b.Rudder)
	}
	for i := range b.Boards {
		y.board(&b.Boards[i])
	}
	return y, nil
}

// Above is how high a point stands over the water.
func (y *Yaw) Above(x, z float64) float64 { return z - y.Attitude.Level - y.Attitude.Slope*x }

// shapes are the drag coefficients by the form that the folder names.
//
// Source: IMO MODU Code, table 3-1, from memory; a pole as thin as these is a wire to the wind, for its Reynolds
// number lies below the fall of a cylinder's drag (Hoerner, Fluid-Dynamic Drag, ch. 3)
var shapes = map[model.WindKind]float64{
	model.WindBox: heading.ShapeFlat, model.WindRounded: heading.ShapeCylinder, model.WindPole: heading.ShapeWires,
	model.WindRail: heading.ShapeBeams, model.WindWire: heading.ShapeWires, "": heading.ShapeFlat,
}

// layers is how many strips a thing that stands in the wind is cut into by height.
const layers = 4

// box adds a box that stands in the wind; what of it lies under water does not.
func (y *Yaw) box(name, kind string, shape float64, lo, hi r3.Vec) {
	low := math.Max(0, y.Above((lo.X+hi.X)/2, lo.Z))
	high := y.Above((lo.X+hi.X)/2, hi.Z)
	if high <= low {
		return
	}
	e := Exposed{Kind: kind, Lo: lo, Hi: hi, Part: heading.Part{Name: name, Shape: shape}}
	h := (high - low) / layers
	for k := range layers {
		z := low + (float64(k)+0.5)*h
		e.Side = append(e.Side, heading.Strip{Area: h * (hi.X - lo.X), X: (lo.X + hi.X) / 2, Height: z})
		e.Front = append(e.Front, heading.Strip{Area: h * (hi.Y - lo.Y), Height: z})
	}
	y.Exposed = append(y.Exposed, e)
}

// stands adds a thing that the folder names.
func (y *Yaw) stands(w *model.WindPart) {
	half := r3.Vec{X: float64(w.Size[0]) / 2, Y: float64(w.Size[1]) / 2, Z: float64(w.Size[2]) / 2}
	y.box(w.Name, "folder", shapes[w.Kind], r3.Sub(w.At, half), r3.Add(w.At, half))
}

// The rower above the gunwale, metres: a trunk and head as broad as the shoulders; and how thick a loom is.
// Source: Drillis and Contini (1966): sitting height 0.52 and shoulders 0.26 of the stature; the trunk's depth and the
// usual stature are modelling choices
const (
	sitting    = 0.52
	shoulders  = 0.26
	trunkDepth = 0.28
	anyStature = 1.75
	loomThick  = 0.05
)

// crew adds those who sit at the oars, and the oars' looms; who lies in a cabin stands in no wind.
func (y *Yaw) crew(t *afloat.Trip, s model.State) {
	b := &t.Folder.Boat
	at := AtOars(t.Folder, s.Condition)
	for i, p := range at {
		if p < 0 {
			continue
		}
		place := &b.Rowing[p]
		person := &t.Folder.Voyage.Crew[i]
		tall := float64(person.Stature)
		if tall == 0 {
			tall = anyStature
			y.Taken = append(y.Taken, person.Name)
		}
		x := place.Seat.X + float64(place.Travel)/2
		// Of the body the wind sees what stands above the gunwale; the rest is behind the hull's own side.
		low := math.Max(place.Seat.Z, t.Ship.Hull.Edge(x).Z)
		high := place.Seat.Z + sitting*tall
		if high > low {
			y.box(person.Name, "rower", heading.ShapeFlat,
				r3.Vec{X: x - trunkDepth/2, Y: -shoulders * tall / 2, Z: low}, r3.Vec{X: x + trunkDepth/2, Y: shoulders * tall / 2, Z: high})
		}
		if o, g := place.Oars, place.Gates; o != nil && g != nil {
			out := float64(o.Length - o.Inboard)
			n := 2.0
			if place.OneSide {
				n = 1
			}
			h := math.Max(0.05, y.Above(g.At.X, g.At.Z))
			y.Exposed = append(y.Exposed, Exposed{Kind: "oars", Lo: g.At, Hi: g.At,
				Part: heading.Plain("oars of "+person.Name, 0, n*out*loomThick, g.At.X, h, heading.ShapeWires, 0)})
			// At mid-drive the oar stands square to her; a blade's middle is half a blade from the tip.
			y.Oars.Arm = math.Max(y.Oars.Arm, math.Abs(g.At.Y)+out-float64(o.BladeLength)/2)
		}
	}
}

// AtOars tells for each of the crew at which rowing place they sit in a condition; -1 for none. Somebody whose place
// lies within a forearm of a seat's run sits there.
func AtOars(f *model.Folder, c model.Condition) []int {
	const near = 0.5
	if f.Voyage == nil {
		return nil
	}
	out := make([]int, len(f.Voyage.Crew))
	for i := range out {
		out[i] = -1
		if i >= len(c.Places) || c.Places[i] < 0 || c.Places[i] >= len(f.Voyage.Crew[i].Places) {
			continue
		}
		w := f.Voyage.Crew[i].Places[c.Places[i]].Where
		if w.None || w.Compartment >= 0 {
			continue
		}
		best := near
		for k := range f.Boat.Rowing {
			r := &f.Boat.Rowing[k]
			off := math.Max(0, math.Max(r.Seat.X-w.At.X, w.At.X-r.Seat.X-float64(r.Travel)))
			if off < best && math.Abs(w.At.Y-r.Seat.Y) < near {
				best, out[i] = off, k
			}
		}
	}
	return out
}

// Conditions picks the condition in which she is rowed and the one in which she is left to lie: the first with
// somebody at the oars, and the one with the most of the crew inside a cabin's length and nobody at the oars.
//
// Out:    -1 for none
func Conditions(t *afloat.Trip) (rowed, left int) {
	rowed, left = -1, -1
	most := -1
	for i, c := range t.Conditions {
		rowing, inside := 0, 0
		for _, p := range AtOars(t.Folder, c) {
			if p >= 0 {
				rowing++
			}
		}
		for k, p := range c.Places {
			if t.Folder.Voyage == nil || k >= len(t.Folder.Voyage.Crew) || p < 0 || p >= len(t.Folder.Voyage.Crew[k].Places) {
				continue
			}
			w := t.Folder.Voyage.Crew[k].Places[p].Where
			for _, s := range t.Ship.Cabins {
				if !w.None && w.Compartment < 0 && w.At.X > s.From && w.At.X < s.To {
					inside++
				}
			}
		}
		if rowing > 0 && rowed < 0 {
			rowed = i
		}
		if rowing == 0 && inside > most {
			most, left = inside, i
		}
	}
	return rowed, left
}

// hang adds the rudder.
func (y *Yaw) hang(r *model.Rudder) {
	turns := float64(r.Turns)
	if turns == 0 {
		turns = usualTurn
	}
	chord, depth := float64(r.Chord), float64(r.Depth)
	top, foot := r.At.Z, r.At.Z-depth
	if over := y.Above(r.At.X+chord/2, top); over > 0 { // what stands out of the water steers nothing
		top -= over
	}
	f := heading.Foil{Name: "rudder", X: r.At.X + chord/4, Area: chord * (top - foot), Span: top - foot, MaxAngle: turns, Behind: true, Up: r.Raised || top-foot < 1e-3}
	if f.Up {
		f.Area, f.Span = chord*depth, depth
	}
	y.Blades = append(y.Blades, Blade{Foil: f, Lifts: true,
		Corners: [4][2]float64{{r.At.X, r.At.Z}, {r.At.X + chord, r.At.Z}, {r.At.X + chord, foot}, {r.At.X, foot}}})
}

// aft is where the hull's wake begins, as a share of the length of the water's reach: a modelling choice.
const aft = 0.7

// board adds a dagger board or a skeg.
func (y *Yaw) board(b *model.Board) {
	chord, depth := float64(b.Chord), float64(b.Depth)
	fore, foot := b.At.X-chord/2, b.At.Z-depth
	f := heading.Foil{Name: b.Name, X: fore + chord/4, Area: chord * depth, Span: depth, Mirrored: true, Up: !b.Down,
		Behind: b.At.X > y.View.From+aft*(y.View.To-y.View.From)}
	y.Blades = append(y.Blades, Blade{Foil: f, Lifts: depth > chord,
		Corners: [4][2]float64{{fore, b.At.Z}, {fore + chord, b.At.Z}, {fore + chord, foot}, {fore, foot}}})
}

// Lifted tells whether she has a board that can be lifted.
func (y *Yaw) Lifted() bool {
	for _, b := range y.Blades {
		if b.Lifts && b.MaxAngle == 0 {
			return true
		}
	}
	return false
}

// Setting is what of rudder and boards is in the water.
type Setting struct {
	Rudder bool // down
	Boards bool // those that can be lifted are down
}

// String is the setting in words.
func (s Setting) String() string {
	word := map[bool]string{true: "down", false: "up"}
	return fmt.Sprintf("rudder %s, board %s", word[s.Rudder], word[s.Boards])
}

// Thrust is what the crew make at a speed, N; astern as at rest.
func (y *Yaw) Thrust(v float64) float64 {
	if !(v > 0) {
		return y.thrust[0]
	}
	i := int(v / mostSpeed * thrustSteps)
	if i >= thrustSteps {
		return y.thrust[thrustSteps]
	}
	f := v/mostSpeed*thrustSteps - float64(i)
	return y.thrust[i] + f*(y.thrust[i+1]-y.thrust[i])
}

// AsTold is the setting that the folder gives.
func (y *Yaw) AsTold() Setting {
	s := Setting{}
	for _, b := range y.Blades {
		if b.MaxAngle > 0 {
			s.Rudder = !b.Up
		} else if b.Lifts && !b.Up {
			s.Boards = true
		}
	}
	return s
}

// Boat is what the balance is asked with.
//
// In:     what is down
func (y *Yaw) Boat(s Setting) heading.Boat {
	b := heading.Boat{Hull: y.View.Hull, Oars: y.Oars, Resistance: y.Rowed.Resistance, Water: y.Rowed.water.Density, Coefficients: heading.Usual()}
	for _, e := range y.Exposed {
		b.Parts = append(b.Parts, e.Part)
	}
	for _, l := range y.Blades {
		f := l.Foil
		switch {
		case f.MaxAngle > 0:
			f.Up = f.Span < 1e-3 || !s.Rudder
		case l.Lifts:
			f.Up = !s.Boards
		}
		b.Foils = append(b.Foils, f)
	}
	return b
}

// Lateral is the area of what is under water seen from the side, blades that are down with it, and its centre.
func (y *Yaw) Lateral(s Setting) heading.Outline {
	out := y.View.Under
	mx, mz := out.Area*out.X, out.Area*out.Height
	for i, f := range y.Boat(s).Foils {
		if f.Up {
			continue
		}
		c := y.Blades[i].Corners
		x := (c[0][0] + c[1][0]) / 2
		out.Area += f.Area
		mx, mz = mx+f.Area*x, mz+f.Area*(y.Above(x, c[2][1])+f.Span/2)
	}
	if out.Area > 0 {
		out.X, out.Height = mx/out.Area, mz/out.Area
	}
	return out
}

// Windage is the area of what stands in the wind seen from the side, and its centre.
func (y *Yaw) Windage() heading.Outline {
	var out heading.Outline
	for _, e := range y.Exposed {
		area, x, height := e.Area()
		out.Area += area
		out.X += area * x
		out.Height += area * height
	}
	if out.Area > 0 {
		out.X, out.Height = out.X/out.Area, out.Height/out.Area
	}
	return out
}
