package boatfolder

import (
	"thole/internal/model"
	"thole/internal/units"
)

// loft reads how she is to be built; what is left out stays nothing.
func (r *reader) loft(n *node) model.Loft {
	l := model.Loft{Planking: n.get("planking").str(), Source: n.source()}
	count := func(name string, most float64) int {
		k := n.get(name)
		if k != nil && (k.number < 1 || k.number > most) {
			r.fault(k.at, k.text, "write a whole number from 1", "%s %q is not a number of them that can be built", name, shorten(k.text))
			return 0
		}
		return int(k.value())
	}
	size := func(name string) units.Length {
		k := n.get(name)
		if k != nil && k.number <= 0 {
			r.fault(k.at, k.text, "write it as a length above nothing", "%s %q is not above nothing", name, shorten(k.text))
		}
		return units.Length(r.exact(k))
	}
	l.Strakes, l.Layers = count("strakes", 30), count("layers", 12)
	l.Lap, l.Strip, l.Mould = size("lap"), size("strip"), size("mould thickness")
	l.Stringer, l.Siding = size("stringer"), size("siding")
	l.Angle = units.Angle(r.exact(n.get("angle")))
	l.Scarf = n.get("scarf").value()
	if k := n.get("set-up line"); k != nil {
		z := r.exact(k)
		l.SetUp = &z
	}
	for _, m := range n.get("moulds").all() {
		if x := r.exact(m); r.extent.known() && (x <= r.extent.minX || x >= r.extent.maxX) {
			r.fault(m.at, m.text, "give a place between her ends", "mould %q stands beyond the boat", shorten(m.text))
		} else {
			l.Moulds = append(l.Moulds, x)
		}
	}
	if parts := n.get("sheet").all(); len(parts) == 2 {
		l.SheetLength, l.SheetWidth = units.Length(r.exact(parts[0])), units.Length(r.exact(parts[1]))
		for _, p := range parts {
			if p.number <= 0 {
				r.fault(p.at, p.text, "write its size", "a sheet %q long is none", shorten(p.text))
			}
		}
	}
	return l
}
