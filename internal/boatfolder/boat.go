package boatfolder

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
	"thole/internal/units"
)

// readBoat takes boat.yaml into the model. Its keys have been checked; what is
// left are the rules between them.
func (r *reader) readBoat(n *node) {
	b := &r.boat
	b.Name, b.About = n.get("boat").str(), strings.TrimSpace(n.get("about").str())
	if n.get("units").str() == "feet" {
		b.Units = units.Feet
	}
	b.Water = units.Density(n.get("water").value())
	r.plain(n.get("water"))
	b.Hull = r.hull(n.get("hull"))
	camber := n.get("deck").get("camber")
	b.Camber = units.Length(camber.value())
	r.plain(camber)
	r.named = !n.has("compartments") || n.get("compartments") != nil
	names := map[string]bool{}
	for _, c := range n.get("cabins").all() {
		r.unique(names, c, "cabin")
		b.Cabins = append(b.Cabins, r.cabin(c))
	}
	r.extent = extentOf(b.Hull.Readings)
	for _, w := range n.get("wells").all() {
		r.unique(names, w, "well")
		b.Wells = append(b.Wells, r.well(w))
	}
	all := []model.Readings{b.Hull.Readings}
	for _, c := range b.Cabins {
		all = append(all, c.Readings)
	}
	if r.extent.known() { // without her hull the cabins do not tell how far she reaches
		r.extent = extentOf(all...)
	}
	for _, c := range n.get("compartments").all() {
		r.compartment(c)
	}
	for _, o := range n.get("openings").all() {
		b.Openings = append(b.Openings, r.opening(o))
	}
	for _, p := range n.get("pumps").all() {
		b.Pumps = append(b.Pumps, r.pump(p))
	}
	for _, w := range n.get("weights").all() {
		b.Weights = append(b.Weights, r.weight(w))
	}
	for _, m := range n.get("marks").all() {
		b.Marks = append(b.Marks, r.mark(m))
	}
	b.Limits = r.limits(n.get("limits"))
	b.Loft = r.loft(n.get("loft"))
	r.underway(n)
	names = map[string]bool{}
	for _, m := range n.get("water makers").all() {
		r.unique(names, m, "water maker")
		b.Makers = append(b.Makers, r.maker(m))
	}
}

// plain notes a tolerance where the model has no room for one.
func (r *reader) plain(n *node) {
	if n != nil && n.given {
		r.note(n.at, "it is taken as exact", "the +- of %s passed over", n.at.Key)
	}
}

// exact gives a length's value, and notes a tolerance that goes unused.
func (r *reader) exact(n *node) float64 {
	r.plain(n)
	return n.value()
}

func (r *reader) unique(names map[string]bool, n *node, what string) {
	name := n.get("name")
	if name == nil {
		return
	}
	if plain := plainName(name.text); names[plain] {
		r.fault(name.at, name.text, "give each its own name", "%s %q: the name is taken", what, shorten(name.text))
	} else {
		names[plain] = true
	}
}

func (r *reader) hull(n *node) model.Hull {
	h := model.Hull{Scale: 1, Source: n.source()}
	table := n.get("offsets")
	if cuts := n.get("cuts"); cuts != nil {
		table, h.FromModel, h.Tolerance = cuts, true, 0.0005
		if scale := n.get("scale"); scale != nil {
			h.Scale = scale.number
		}
	}
	h.File = table.str()
	if tol := n.get("tolerance"); tol != nil {
		h.Tolerance, h.ToleranceGiven = units.Length(r.exact(tol)), true
		r.notNegative(tol, "tolerance")
	}
	h.Planking = units.Length(r.exact(n.get("planking")))
	r.notNegative(n.get("planking"), "planking")
	if to := n.get("to"); to.str() == "inside" {
		h.Inside = true
		if !n.has("planking") {
			r.fault(to.at, to.text, "write planking: 9 mm", "readings to the inside need the planking's thickness")
		}
	}
	if h.FromModel && n.get("scale") == nil {
		return h // a table at an unknown scale tells nothing
	}
	h.Readings = r.readings(table, "hull", h.Scale)
	return h
}

func (r *reader) notNegative(n *node, name string) {
	if n != nil && n.number < 0 {
		r.fault(n.at, n.text, "write it without the minus", "%s %q is negative", name, shorten(n.text))
	}
}

func (r *reader) cabin(n *node) model.Cabin {
	tol := n.get("tolerance")
	r.notNegative(tol, "tolerance")
	return model.Cabin{
		Name: n.get("name").str(), Source: n.at,
		Readings: r.readings(n.get("offsets"), "cabin", 1), Tolerance: units.Length(r.exact(tol)),
	}
}

// clearance is how far above the highest sheer a well without a top is carried, so
// that it clears any deck.
const clearance = 2.0

func (r *reader) well(n *node) model.Well {
	w := model.Well{Name: n.get("name").str(), OpenToTheSea: n.get("open to the sea") == nil || n.get("open to the sea").yes(), Source: n.at}
	if table := n.get("offsets"); table != nil {
		w.Readings = r.readings(table, "well", 1)
		w.Drains = r.drains(n, w)
		return w
	}
	from, to, half, sole := n.get("from"), n.get("to"), n.get("half-breadth"), n.get("sole")
	if from == nil || to == nil || half == nil || sole == nil {
		return w
	}
	r.before(n, "from", "to")
	r.before(n, "sole", "top")
	if half.number <= 0 {
		r.fault(half.at, half.text, "measure from the centre line outward", "half-breadth %q is not above nothing", shorten(half.text))
	}
	top := r.exact(n.get("top"))
	if !n.has("top") && r.extent.known() {
		top = r.extent.maxZ + clearance
	}
	for i, end := range []*node{from, to} {
		w.Readings.Stations = append(w.Readings.Stations, model.Station{
			Label: []string{"from", "to"}[i], X: r.exact(end),
			Points: []model.Reading{
				{Z: r.exact(sole), Source: sole.at},
				{Z: sole.number, Y: r.exact(half), Corner: true, Source: half.at},
				{Z: top, Y: half.number, Source: n.at},
			},
		})
	}
	w.Drains = r.drains(n, w)
	return w
}

// before checks that one length is less than another, where both are given.
func (r *reader) before(n *node, low, high string) {
	a, b := n.get(low), n.get(high)
	if a != nil && b != nil && a.number >= b.number {
		r.fault(b.at, b.text, fmt.Sprintf("%s must be less than %s", low, high), "%s %q is not beyond %s %q", high, shorten(b.text), low, shorten(a.text))
	}
}

func (r *reader) optionalLength(n *node) *float64 {
	if n == nil {
		return nil
	}
	v := r.exact(n)
	return &v
}

func (r *reader) compartment(n *node) {
	c := model.Compartment{
		Number: int(n.get("number").value()), Name: n.get("name").str(),
		From: r.exact(n.get("from")), To: r.exact(n.get("to")),
		Sole: r.optionalLength(n.get("sole")), Top: r.optionalLength(n.get("top")),
		Inboard: r.optionalLength(n.get("inboard")), Outboard: r.optionalLength(n.get("outboard")),
		Wet: n.get("wet").yes(), Packing: n.get("packing").value(), Source: n.at,
		Reach: reachNamed(n.get("reach")), Limit: units.Mass(n.get("limit").value()),
	}
	r.plain(n.get("limit"))
	switch n.get("side").str() {
	case "port":
		c.Side = model.Port
	case "starboard":
		c.Side = model.Starboard
	}
	r.before(n, "from", "to")
	r.before(n, "sole", "top")
	r.before(n, "inboard", "outboard")
	r.notNegative(n.get("inboard"), "inboard")
	r.notNegative(n.get("outboard"), "outboard")
	r.reaches(n, c)
	if in := n.get("in"); in != nil {
		c.Cabin = r.cabinNamed(in)
	}
	index := len(r.boat.Compartments)
	r.boat.Compartments = append(r.boat.Compartments, c)
	if name := n.get("name"); name != nil {
		r.register(name, plainName(name.text), index, "name")
	}
	if number := n.get("number"); number != nil {
		r.register(number, fmt.Sprint(c.Number), index, "number")
	}
}

func (r *reader) register(n *node, name string, index int, what string) {
	if other, taken := r.compartments[name]; taken && other != index {
		r.fault(n.at, n.text, "give each its own "+what, "compartment %s %q is taken", what, shorten(n.text))
		return
	}
	r.compartments[name] = index
}

// reaches checks that a compartment lies in the boat at all.
func (r *reader) reaches(n *node, c model.Compartment) {
	from, to := n.get("from"), n.get("to")
	if !r.extent.known() || from == nil || to == nil {
		return
	}
	if c.From >= r.extent.maxX || c.To <= r.extent.minX {
		r.fault(from.at, from.text, "the boat runs "+r.along(), "compartment %q lies beyond the boat's end", shorten(c.Name))
	}
}

func (r *reader) along() string {
	return fmt.Sprintf("from %s to %s aft of station 0", r.shown(r.extent.minX), r.shown(r.extent.maxX))
}

func (r *reader) shown(v float64) string { return r.boat.Units.Length(units.Length(v)) }

func (r *reader) cabinNamed(in *node) string {
	var known []string
	for _, c := range r.boat.Cabins {
		if plainName(c.Name) == plainName(in.text) {
			return c.Name
		}
		known = append(known, c.Name)
	}
	r.fault(in.at, in.text, meant(in.text, known, "cabins"), "no cabin is called %q", shorten(in.text))
	return ""
}

func (r *reader) opening(n *node) model.Opening {
	size := n.get("size")
	o := model.Opening{Name: n.get("name").str(), Closed: n.get("closed").yes(), NonReturn: n.get("non-return").yes(), Source: n.at}
	if at := n.get("at"); at != nil {
		o.At = r.exactPoint(at)
		r.aboard(at, o.At, "opening", o.Name)
	}
	if size != nil {
		o.Width, o.Height = units.Length(r.exact(size.items[0])), units.Length(r.exact(size.items[1]))
		if o.Width <= 0 || o.Height <= 0 {
			r.fault(size.at, "", "write size: [0.5 m, 0.5 m]", "opening %q has no size", shorten(o.Name))
		}
	}
	if into := n.get("into"); into != nil {
		o.Into = r.space(into)
	}
	return o
}

// space finds what an opening leads into: a compartment or a cabin.
func (r *reader) space(into *node) string {
	if i, ok := r.compartments[plainName(into.text)]; ok {
		return r.boat.Compartments[i].Name
	}
	known := r.compartmentNames()
	for _, c := range r.boat.Cabins {
		if plainName(c.Name) == plainName(into.text) {
			return c.Name
		}
		known = append(known, c.Name)
	}
	r.fault(into.at, into.text, meant(into.text, known, "compartments and cabins"), "no compartment or cabin is called %q", shorten(into.text))
	return ""
}

func (r *reader) compartmentNames() []string {
	var known []string
	for _, c := range r.boat.Compartments {
		if c.Name != "" {
			known = append(known, c.Name)
		}
	}
	for _, c := range r.boat.Compartments {
		if c.Number > 0 {
			known = append(known, fmt.Sprint(c.Number))
		}
	}
	return slices.Clip(known)
}

func (r *reader) exactPoint(at *node) r3.Vec {
	return r3.Vec{X: r.exact(at.items[0]), Y: r.exact(at.items[1]), Z: r.exact(at.items[2])}
}

func (r *reader) mark(n *node) model.Mark {
	m := model.Mark{Name: n.get("name").str(), Source: n.at}
	if at := n.get("at"); at != nil {
		m.X, m.Z = r.exact(at.items[0]), r.exact(at.items[1])
		r.aboard(at, r3.Vec{X: m.X, Z: m.Z}, "mark", m.Name)
	}
	return m
}

func (r *reader) limits(n *node) model.Limits {
	var l model.Limits
	long := func(key string) *units.Length {
		v := r.optionalLength(n.get(key))
		r.notNegative(n.get(key), key)
		return (*units.Length)(v)
	}
	turn := func(key string) *units.Angle {
		v := r.optionalLength(n.get(key))
		r.notNegative(n.get(key), key)
		return (*units.Angle)(v)
	}
	l.Freeboard, l.HeightLeft = long("freeboard"), long("height left")
	l.Heel, l.Trim = turn("heel"), turn("trim")
	r.courseLimits(n, &l)
	return l
}
