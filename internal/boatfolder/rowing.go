package boatfolder

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
	"thole/internal/units"
)

// What figures of a rowing place can be and commonly are.
//
// Source: the measures that rowers pass on for fixed and sliding seats; common practice, no source
var (
	travelBounds    = bounds{length, 0.05, 0.30, 0.90, 1.5, "travel"}
	stretcherBounds = bounds{angle, 0, radians(30), radians(60), radians(90), "a stretcher's angle"}
	heelsBounds     = bounds{length, 0.05, 0.50, 1.10, 2.5, "the way from the seat, at its bow stop, aft to the heels"}
	pinBounds       = bounds{length, 0.02, 0.15, 0.80, 2.0, "the way from the seat, at its bow stop, aft to the pin"}
	restBounds      = bounds{length, 0.01, 0.12, 0.40, 1.0, "the oar's height over the seat"}
	oarBounds       = bounds{length, 1.0, 2.4, 4.2, 8.0, "an oar's length"}
	inboardBounds   = bounds{length, 0.2, 0.6, 1.3, 3.0, "the inboard of an oar"}
	gearBounds      = bounds{number, 0.5, 1.8, 2.9, 8.0, ""}
	bladeBounds     = bounds{length, 0.1, 0.35, 0.80, 2.0, "a blade's length"}
	widthBounds     = bounds{length, 0.03, 0.10, 0.27, 0.6, "a blade's width"}
	gripBounds      = bounds{length, 0.015, 0.025, 0.050, 0.1, "a handle's thickness"}
	aboveBounds     = bounds{length, -0.2, -0.03, 0.03, 0.2, "the height of one oar over the other"}
)

// farShift bounds how far a stretcher or a gate can be shifted.
const farShift = 1.0

// inside is how far inside the deck's edge, or below it, a pin may be written: the edge is read between stations.
const insideEdge = 0.01

func radians(deg float64) float64 { return deg * math.Pi / 180 }

// rowingPlace reads a place from which she is rowed.
func (r *reader) rowingPlace(n *node) model.RowingPlace {
	p := model.RowingPlace{Name: n.get("name").str(), OneSide: n.get("oars one side").yes(), Source: n.at}
	seat := n.get("seat")
	if seat != nil {
		p.Seat = r.exactPoint(seat)
		r.aboard(seat, p.Seat, "seat", p.Name)
	}
	p.Travel = units.Length(r.in(n.get("travel"), "travel", travelBounds))
	p.Stretcher = r.stretcher(n.get("stretcher"), seat, p)
	p.Gates = r.gates(n.get("gates"), seat, p)
	p.Oars = r.oars(n.get("oars"), p)
	return p
}

// fromSeat checks how far one coordinate of a point lies from the seat's. A rower faces aft: the stretcher and the gates
// lie aft of the seat, and the oars above it. No is what is said of one on the wrong side, and mend the cure.
func (r *reader) fromSeat(n *node, d float64, b bounds, what, no, mend string) {
	switch {
	case d < b.least:
		r.fault(n.at, n.text, mend, "%s %s the seat", what, no)
	case d > b.most:
		r.fault(n.at, n.text, fmt.Sprintf("at most %s from the seat is within reach", r.shown(b.most)), "%s is out of reach", what)
	case d < b.low || d > b.high:
		r.note(n.at, fmt.Sprintf("it is taken as written; %s is commonly from %s to %s", b.commonlyOf, r.shown(b.low), r.shown(b.high)),
			"%s is %s from the seat", what, r.shown(d))
	}
}

const facesAft = "the rower faces aft: feet lie aft of the seat and gates between; x runs aft"

func (r *reader) stretcher(n, seat *node, p model.RowingPlace) *model.Stretcher {
	if n == nil {
		return nil
	}
	s := &model.Stretcher{Places: r.shifts(n.get("places")), Source: n.at}
	s.Angle = units.Angle(r.in(n.get("angle"), "angle", stretcherBounds))
	if at := n.get("at"); at != nil {
		s.At = r.exactPoint(at)
		r.aboard(at, s.At, "stretcher", p.Name)
		if seat != nil {
			r.fromSeat(at.items[0], s.At.X-p.Seat.X, heelsBounds, fmt.Sprintf("the stretcher of %q", shorten(p.Name)), "does not stand aft of", facesAft)
			if s.At.Z > p.Seat.Z {
				r.note(at.items[2].at, "they are taken as written; below it is common", "the heels of %q lie above the seat", shorten(p.Name))
			}
		}
	}
	return s
}

// shifts are the places of what can be shifted; one of nothing where it cannot.
func (r *reader) shifts(n *node) []float64 {
	var out []float64
	for _, k := range n.all() {
		v := r.exact(k)
		switch {
		case math.Abs(v) > farShift:
			r.fault(k.at, k.text, "write how far aft of at it stands, not where", "places %q is farther than it can be shifted", shorten(k.text))
		case slices.Contains(out, v):
			r.fault(k.at, k.text, "write each once", "places %q is given twice", shorten(k.text))
		default:
			out = append(out, v)
		}
	}
	if len(out) == 0 {
		return []float64{0}
	}
	return out
}

func (r *reader) gates(n, seat *node, p model.RowingPlace) *model.Gates {
	if n == nil {
		return nil
	}
	g := &model.Gates{Places: r.shifts(n.get("places")), Source: n.at}
	g.Above = units.Length(r.in(n.get("above"), "above", aboveBounds))
	at := n.get("at")
	if at == nil {
		return g
	}
	g.At = r.exactPoint(at)
	r.aboard(at, g.At, "gate", p.Name)
	y, z := at.items[1], at.items[2]
	switch {
	case p.OneSide && g.At.Y == 0:
		r.fault(y.at, y.text, "write how far to starboard it stands, or with a minus to port", "the gate of %q stands amidships", shorten(p.Name))
	case !p.OneSide && g.At.Y <= 0:
		r.fault(y.at, y.text, "write the one on starboard; port is alike", "the gate of %q is not to starboard", shorten(p.Name))
	}
	if p.Stretcher != nil && p.Stretcher.At != (r3.Vec{}) && g.At.X >= p.Stretcher.At.X {
		r.fault(at.items[0].at, at.items[0].text, "gates stand between the seat and the stretcher", "the gate of %q is not forward of its stretcher", shorten(p.Name))
	}
	if seat != nil {
		what := fmt.Sprintf("the gate of %q", shorten(p.Name))
		r.fromSeat(at.items[0], g.At.X-p.Seat.X, pinBounds, what, "does not stand aft of", facesAft)
		r.fromSeat(z, g.At.Z-p.Seat.Z, restBounds, what, "is not above", fmt.Sprintf("heights are above the base line; the seat's is %s", shorten(seat.items[2].text)))
	}
	r.overTheEdge(y, z, g.At, p.Name)
	return g
}

// overTheEdge remarks on a gate from which the oar would lie on the deck's edge.
func (r *reader) overTheEdge(y, z *node, pin r3.Vec, name string) {
	edgeY, edgeZ, ok := r.edgeAt(pin.X)
	if !ok {
		return
	}
	const why = "it is taken as written; the oar crosses the deck before it is outboard"
	if in := edgeY - math.Abs(pin.Y); in > insideEdge {
		r.note(y.at, why, "the gate of %q stands %s inside the deck's edge", shorten(name), r.shown(in))
	}
	if below := edgeZ - pin.Z; below > insideEdge {
		r.note(z.at, why, "the gate of %q stands %s below the deck's edge", shorten(name), r.shown(below))
	}
}

// edgeAt is the deck's edge of the hull as measured, straight between stations; not where she has none.
func (r *reader) edgeAt(x float64) (y, z float64, ok bool) {
	all := r.boat.Hull.Readings.Stations
	for i := 1; i < len(all); i++ {
		a, b := all[i-1], all[i]
		if x < a.X || x > b.X || b.X <= a.X || len(a.Points) == 0 || len(b.Points) == 0 {
			continue
		}
		p, q := a.Points[len(a.Points)-1], b.Points[len(b.Points)-1]
		t := (x - a.X) / (b.X - a.X)
		return p.Y + t*(q.Y-p.Y), p.Z + t*(q.Z-p.Z), true
	}
	return 0, 0, false
}

// oars reads the oars, and whether they are of the gates that they lie in.
func (r *reader) oars(n *node, p model.RowingPlace) *model.Oars {
	if n == nil {
		return nil
	}
	whole, inboard := n.get("length"), n.get("inboard")
	o := &model.Oars{Count: 2, Source: n.at}
	o.Length, o.Inboard = units.Length(r.in(whole, "length", oarBounds)), units.Length(r.in(inboard, "inboard", inboardBounds))
	o.Grip = units.Length(r.in(n.get("grip"), "grip", gripBounds))
	if p.OneSide {
		o.Count = 1
	}
	if count := n.get("count"); count != nil && int(count.number) != o.Count {
		mend := "write count: 2; spare oars are stores. For one oar write oars one side: yes"
		if p.OneSide {
			mend = "write count: 1; spare oars are stores. For a pair leave oars one side out"
		}
		r.fault(count.at, count.text, mend, "count %q is not what a rower has in hand", shorten(count.text))
	}
	if whole == nil || inboard == nil {
		return o
	}
	out := o.Length - o.Inboard
	switch {
	case out <= 0:
		r.fault(inboard.at, inboard.text, "it is the part from the handle's end to the pin", "inboard %q is not less than the oar's length %q", shorten(inboard.text), shorten(whole.text))
	case float64(out/o.Inboard) < gearBounds.low || float64(out/o.Inboard) > gearBounds.high:
		r.note(inboard.at, fmt.Sprintf("it is taken as written; commonly it is from %g to %g times", gearBounds.low, gearBounds.high),
			"the outboard part of an oar of %q is %.2g times its inboard part", shorten(p.Name), float64(out/o.Inboard))
	}
	if blade := n.get("blade"); blade != nil {
		o.BladeLength = units.Length(r.in(blade.items[0], "length", bladeBounds))
		o.BladeWidth = units.Length(r.in(blade.items[1], "width", widthBounds))
		if out > 0 && o.BladeLength >= out {
			r.fault(blade.items[0].at, blade.items[0].text, "write blade: [length, width]", "the blade is not shorter than the oar's outboard part")
		}
	}
	r.overlap(inboard, p, o)
	return o
}

// overlap remarks on handles that lie far apart or far over one another when the oars are square to the boat.
func (r *reader) overlap(inboard *node, p model.RowingPlace, o *model.Oars) {
	const apart, over = 0.15, 0.30 // common practice, no source
	if p.OneSide || p.Gates == nil || p.Gates.At.Y <= 0 {
		return
	}
	switch both := 2 * (float64(o.Inboard) - p.Gates.At.Y); {
	case both < -apart:
		r.note(inboard.at, "it is taken as written; an inboard of half the span and some 50 mm is common", "the handles of %q end %s apart", shorten(p.Name), r.shown(-both))
	case both > over:
		r.note(inboard.at, "it is taken as written; an inboard of half the span and some 50 mm is common", "the handles of %q overlap by %s", shorten(p.Name), r.shown(both))
	}
}
