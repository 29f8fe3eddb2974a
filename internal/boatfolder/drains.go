package boatfolder

import (
	"math"

	"thole/internal/model"
	"thole/internal/units"
)

// drainSlack is how far outside a well's box a drain may be written: the figures are rounded.
const drainSlack = 0.02

// mostDrains bounds a count of drains that are alike.
const mostDrains = 100

// drains reads the holes through which a well empties.
func (r *reader) drains(n *node, w model.Well) []model.Drain {
	var out []model.Drain
	box := extentOf(w.Readings)
	names := map[string]bool{}
	for _, k := range n.get("drains").all() {
		r.unique(names, k, "drain")
		d := model.Drain{Name: k.get("name").str(), Kind: model.DrainKind(k.get("kind").str()), Flap: k.get("flap").yes(),
			Count: max(1, int(k.get("count").value())), Coefficient: k.get("coefficient").value(), Source: k.at}
		if c := k.get("count"); c != nil && c.number > mostDrains {
			r.fault(c.at, c.text, "write how many there are", "count %q is more than a well has room for", shorten(c.text))
			d.Count = 1
		}
		if c := k.get("coefficient"); c != nil && c.number > 1 {
			r.fault(c.at, c.text, "write 0.61 for a plain hole, or leave it out", "coefficient %q is more than 1", shorten(c.text))
		}
		d.Fall = units.Length(r.exact(k.get("fall")))
		r.notNegative(k.get("fall"), "fall")
		r.drainSize(k, &d)
		if at := k.get("at"); at != nil {
			d.At = r.exactPoint(at)
			p := d.At
			if box.known() && (p.X < box.minX-drainSlack || p.X > box.maxX+drainSlack ||
				math.Abs(p.Y) > box.maxY+drainSlack || p.Z < box.minZ-drainSlack || p.Z > box.maxZ+drainSlack) {
				r.fault(at.at, "", "give the lowest point of its inner end, on the well's sole or side", "drain %q lies outside the well %q", shorten(d.Name), shorten(w.Name))
			}
		}
		out = append(out, d)
	}
	return out
}

// drainSize reads how large the hole is, and from its form the usual kind.
func (r *reader) drainSize(k *node, d *model.Drain) {
	usual := model.Tube
	if round := k.get("diameter"); round != nil {
		d.Diameter = units.Length(r.exact(round))
		if d.Diameter <= 0 {
			r.fault(round.at, round.text, "write diameter: 50 mm", "drain %q has no size", shorten(d.Name))
		}
	}
	if size := k.get("size"); size != nil {
		usual = model.Slot
		d.Width, d.Height = units.Length(r.exact(size.items[0])), units.Length(r.exact(size.items[1]))
		if d.Width <= 0 || d.Height <= 0 {
			r.fault(size.at, "", "write size: [300 mm, 60 mm]", "drain %q has no size", shorten(d.Name))
		}
	}
	if d.Kind == "" {
		d.Kind = usual
	}
}
