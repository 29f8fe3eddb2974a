package boatfolder

import (
	"slices"

	"thole/internal/model"
	"thole/internal/units"
)

// pump reads a bilge pump. Its keys have been checked; what is left are the rules between them.
func (r *reader) pump(n *node) model.Pump {
	p := model.Pump{Name: n.get("name").str(), Hand: n.get("kind").str() == "hand", Source: n.at}
	if kind := n.get("kind"); kind != nil {
		switch {
		case p.Hand && !n.has("stroke") && n.has("flow a minute"):
			r.fault(kind.at, kind.text, "write stroke: 0.4 L and strokes a minute: 40", "pump %q is worked by hand but has no stroke", shorten(p.Name))
		case !p.Hand && n.has("stroke"):
			r.fault(kind.at, kind.text, "write flow a minute: 30 L, or kind: hand", "pump %q is electric but has a stroke", shorten(p.Name))
		}
	}
	size := func(name string) units.Length {
		k := n.get(name)
		if k != nil && k.number <= 0 {
			r.fault(k.at, k.text, "write it as a length above nothing", "%s %q is not above nothing", name, shorten(k.text))
		}
		return units.Length(r.exact(k))
	}
	p.Stroke = units.Volume(r.exact(n.get("stroke")))
	p.Rate = n.get("strokes a minute").value() / 60
	p.Flow = r.exact(n.get("flow a minute")) / 60
	p.Shut, p.Bore, p.Length = size("greatest lift"), size("bore"), size("length")
	p.Outlet = r.optionalLength(n.get("outlet"))
	for _, c := range n.get("reaches").all() {
		if at := r.compartmentPlace(c.at, c.text); at.Compartment >= 0 && !slices.Contains(p.Reaches, at.Compartment) {
			p.Reaches = append(p.Reaches, at.Compartment)
		}
	}
	return p
}
