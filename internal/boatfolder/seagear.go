package boatfolder

import (
	"thole/internal/model"
	"thole/internal/units"
)

// What figures of sea anchors, anchors and their lines can be and commonly are. Common practice, no source.
var (
	parachuteBounds = bounds{length, 0.5, 1.5, 6.0, 20, "a parachute's diameter"}
	coneBounds      = bounds{length, 0.1, 0.3, 2.0, 5.0, "the diameter of a cone's mouth"}
	seriesBounds    = bounds{length, 0.05, 0.10, 0.25, 1.0, "the diameter of one cone of a series"}
	seriesCones     = bounds{number, 2, 40, 250, 1000, ""}
	lineBounds      = bounds{length, 0.5, 10, 200, 1000, "the length of a line at sea"}
	chainBounds     = bounds{length, 0.2, 1, 50, 300, "the length of a small boat's chain"}
	thickBounds     = bounds{length, 0.002, 0.005, 0.024, 0.08, "the thickness of a small boat's line or chain"}
	strengthBounds  = bounds{force, 500, 3000, 100e3, 2e6, "what such a line or fitting breaks at"}
	anchorBounds    = bounds{mass, 0.3, 1.5, 30, 500, "the mass of a small boat's anchor"}
)

// seaAnchor reads a sea anchor or a drogue.
func (r *reader) seaAnchor(n *node) model.SeaAnchor {
	a := model.SeaAnchor{
		Name: n.get("name").str(), Kind: model.SeaAnchorKind(n.get("kind").str()), From: model.End(n.get("from").str()), Source: n.at,
		Line: r.rope(n.get("line"), lineBounds), Fitting: units.Force(r.in(n.get("fitting"), "fitting", strengthBounds)),
	}
	across := map[model.SeaAnchorKind]bounds{model.Parachute: parachuteBounds, model.Cone: coneBounds, model.SeriesDrogue: seriesBounds}
	if b, known := across[a.Kind]; known {
		a.Diameter = units.Length(r.in(n.get("diameter"), "diameter", b))
	}
	cones := n.get("cones")
	switch {
	case a.Kind == model.SeriesDrogue && cones == nil && !n.has("cones"):
		r.fault(n.at, a.Name, "write cones: 90", "series drogue %q does not say how many cones it has", shorten(a.Name))
	case cones == nil || a.Kind == "":
	case a.Kind != model.SeriesDrogue:
		r.fault(cones.at, cones.text, "write kind: series drogue, or leave the cones out", "%s %q is one by itself and has no count of cones", a.Kind, shorten(a.Name))
	default:
		a.Cones = int(cones.number)
		switch b := seriesCones; {
		case cones.number < b.least || cones.number > b.most:
			r.fault(cones.at, cones.text, "write how many cones are on the line", "cones %q cannot be", shorten(cones.text))
		case cones.number < b.low || cones.number > b.high:
			r.note(cones.at, "it is taken as written; some 40 to 250 are common", "cones %q is rare", shorten(cones.text))
		}
	}
	return a
}

// groundAnchor reads an anchor.
func (r *reader) groundAnchor(n *node) model.Anchor {
	return model.Anchor{
		Name: n.get("name").str(), Kind: model.AnchorKind(n.get("kind").str()), Source: n.at,
		Mass:  units.Mass(r.in(n.get("mass"), "mass", anchorBounds)),
		Chain: r.rope(n.get("chain"), chainBounds), Line: r.rope(n.get("line"), lineBounds),
	}
}

// rope reads a line or a chain; nil where there is none.
func (r *reader) rope(n *node, long bounds) *model.Rope {
	if n == nil {
		return nil
	}
	return &model.Rope{
		Length: units.Length(r.in(n.get("length"), "length", long)), Diameter: units.Length(r.in(n.get("diameter"), "diameter", thickBounds)),
		Strength: units.Force(r.in(n.get("strength"), "strength", strengthBounds)), Source: n.at,
	}
}

// underway reads what she is rowed, steered, held and stopped with.
func (r *reader) underway(n *node) {
	b := &r.boat
	names := map[string]bool{}
	for _, k := range n.get("rowing").all() {
		r.unique(names, k, "rowing place")
		b.Rowing = append(b.Rowing, r.rowingPlace(k))
	}
	b.Rudder = r.rudder(n.get("rudder"))
	clear(names)
	for _, k := range n.get("boards").all() {
		r.unique(names, k, "board")
		b.Boards = append(b.Boards, r.board(k))
	}
	for _, k := range n.get("windage").all() { // a rail on either side bears one name
		b.Windage = append(b.Windage, r.windPart(k))
	}
	clear(names)
	for _, k := range n.get("sea anchors").all() {
		r.unique(names, k, "sea anchor")
		b.SeaAnchors = append(b.SeaAnchors, r.seaAnchor(k))
	}
	clear(names)
	for _, k := range n.get("anchors").all() {
		r.unique(names, k, "anchor")
		b.Anchors = append(b.Anchors, r.groundAnchor(k))
	}
}
