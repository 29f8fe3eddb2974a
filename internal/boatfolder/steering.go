package boatfolder

import (
	"thole/internal/model"
	"thole/internal/units"
)

// What figures of a rudder, of boards and of what stands in the wind can be and commonly are. Common practice, no source.
var (
	chordBounds  = bounds{length, 0.02, 0.12, 0.60, 3.0, "a rudder's chord"}
	bladeDepth   = bounds{length, 0.05, 0.30, 1.20, 3.0, "a rudder's depth"}
	turnsBounds  = bounds{angle, radians(5), radians(20), radians(50), radians(90), "the angle that a rudder turns to"}
	balanceMost  = 0.5
	boardChord   = bounds{length, 0.02, 0.12, 2.50, 20, "a board's chord"}
	boardDepth   = bounds{length, 0.02, 0.08, 1.20, 3.0, "a board's depth"}
	partBounds   = bounds{length, 0.001, 0.002, 4.0, 12, "a side of what stands on deck"}
	wireBounds   = bounds{length, 0.0005, 0.001, 8.0, 30, "a side of what a wire takes up"}
	windBounds   = bounds{speed, 0.5, 5, 25, 60, "the wind that courses are asked of"}
	clearBounds  = bounds{length, 0, 0, 0.15, 0.5, "the room asked round the oars"}
	sectorBounds = bounds{angle, 0, 0, radians(180), radians(180), ""}
)

// rudder reads the blade that she is steered with.
func (r *reader) rudder(n *node) *model.Rudder {
	if n == nil {
		return nil
	}
	out := &model.Rudder{Balance: n.get("balance").value(), Raised: n.get("raised").yes(), Source: n.at}
	depth, below := n.get("depth"), n.get("below")
	out.Chord = units.Length(r.in(n.get("chord"), "chord", chordBounds))
	out.Depth = units.Length(r.in(depth, "depth", bladeDepth))
	out.Turns = units.Angle(r.in(n.get("turns"), "turns", turnsBounds))
	if at := n.get("at"); at != nil {
		out.At = r.exactPoint(at)
		r.aboard(at, out.At, "rudder", "top of its blade")
	}
	r.notNegative(below, "below")
	if below != nil {
		v := units.Length(r.exact(below))
		out.Below = &v
		if depth != nil && v > out.Depth {
			r.fault(below.at, below.text, "it is a part of the depth", "below %q is more than the blade's depth %q", shorten(below.text), shorten(depth.text))
		}
	}
	if k := n.get("balance"); k != nil && k.number > balanceMost {
		r.fault(k.at, k.text, "write the share of the chord that lies forward of the stock", "balance %q is more than half", shorten(k.text))
	}
	return out
}

// board reads a dagger board, a centreboard or a skeg.
func (r *reader) board(n *node) model.Board {
	b := model.Board{Name: n.get("name").str(), Down: n.get("down") == nil || n.get("down").yes(), Source: n.at}
	b.Chord = units.Length(r.in(n.get("chord"), "chord", boardChord))
	b.Depth = units.Length(r.in(n.get("depth"), "depth", boardDepth))
	if at := n.get("at"); at != nil {
		b.At = r.exactPoint(at)
		r.aboard(at, b.At, "board", b.Name)
	}
	return b
}

// windPart reads a thing that stands in the wind.
func (r *reader) windPart(n *node) model.WindPart {
	w := model.WindPart{Name: n.get("name").str(), Kind: model.WindKind(n.get("kind").str()), Source: n.at}
	if at := n.get("at"); at != nil {
		w.At = r.exactPoint(at)
		r.aboard(at, w.At, "part", w.Name)
	}
	if size := n.get("size"); size != nil {
		b := partBounds
		if w.Kind == model.WindWire {
			b = wireBounds
		}
		for i, side := range size.items {
			w.Size[i] = units.Length(r.in(side, []string{"along", "across", "up"}[i], b))
		}
	}
	return w
}

// courseLimits reads what is asked of her at the oars and on her course.
func (r *reader) courseLimits(n *node, l *model.Limits) {
	if k := n.get("clearance"); k != nil {
		v := units.Length(r.in(k, "clearance", clearBounds))
		l.Clearance = &v
	}
	if k := n.get("wind"); k != nil {
		v := units.Speed(r.in(k, "wind", windBounds))
		l.Wind = &v
	}
	if k := n.get("sector"); k != nil {
		v := units.Angle(r.in(k, "sector", sectorBounds))
		l.Sector = &v
	}
}
