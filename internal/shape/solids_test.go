package shape

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/units"
)

// boxed is a box's readings between two places and two heights.
func boxed(from, to, half, low, high float64) model.Readings {
	var r model.Readings
	for _, x := range []float64{from, to} {
		r.Stations = append(r.Stations, model.Station{X: x, Points: []model.Reading{{Z: low}, {Z: low, Y: half, Corner: true}, {Z: high, Y: half}}})
	}
	return r
}

func boxBoat() *model.Boat {
	b := &model.Boat{}
	b.Hull.Scale, b.Hull.Readings = 1, boxed(0, 6, 1, 0, 0.8)
	return b
}

func build(t *testing.T, b *model.Boat) *Ship {
	t.Helper()
	s, err := Build(b)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

const arithmetic = "boxes, arithmetic"

func TestSolidsJoin(t *testing.T) {
	b := boxBoat()
	b.Cabins = []model.Cabin{
		{Name: "aft", Readings: boxed(4, 5.5, 0.7, 0.6, 1.4)}, // 0.2 m of it inside the hull
		{Name: "over the end", Readings: boxed(5, 6.5, 0.5, 0.8, 1.2)},
	}
	b.Wells = []model.Well{{Name: "well", OpenToTheSea: true, Readings: boxed(1.5, 3.5, 0.5, 0.4, 3)}}
	s := build(t, b)
	// the second cabin overlaps the first from 5 to 5.5 m, half-breadth 0.5, height 0.8 to 1.2
	want := 6*2*0.8 + 1.5*1.4*0.6 + 1.5*1*0.4 - 0.5*1*0.4 - 2*1*0.4
	x, y, _ := s.Body.Envelope.Centroid()
	wantX := (9.6*3 + 1.26*4.75 + 0.6*5.75 - 0.2*5.25 - 0.8*2.5) / want
	run(t, []check{
		{"volume", s.Body.Envelope.Volume(), want, 1e-6, arithmetic},
		{"centre", x, wantX, 1e-6, arithmetic},
		{"on the centre line", y, 0, 1e-12, arithmetic},
	})
}

func TestCamber(t *testing.T) {
	b := boxBoat()
	b.Camber = 0.06
	run(t, []check{{"volume under a round of beam", build(t, b).Body.Volume(), 9.6 + 6*2*0.06*2/3, 1e-6, "parabola, two thirds of its box, closed form"}})
}

// TestWells: an open well floats her deeper by its volume under water; a shut one
// only once its rim is under.
func TestWells(t *testing.T) {
	load := hydro.Load{Mass: 6 * 2 * 0.3 * sw, G: r3.Vec{X: 3, Z: 0.2}}
	sea := hydro.Sea{Density: sw}
	for _, c := range []struct {
		name  string
		open  bool
		draft float64
	}{
		{"shut: as if it were not there", false, 0.3},
		{"open: the waterplane lacks 2 m² from 0.1 m up", true, (3.6 - 0.2) / 10},
	} {
		b := boxBoat()
		b.Wells = []model.Well{{Name: "well", OpenToTheSea: c.open, Readings: boxed(2, 4, 0.5, 0.1, 3)}}
		s := build(t, b)
		r, err := hydro.Float(s.Body, load, sea, nil)
		if err != nil {
			t.Fatal(err)
		}
		run(t, []check{{c.name, r.Level, c.draft, 1e-7, "box less a box, arithmetic"}})
		// On her side, and over, the rim is under and both are alike.
		if r, err = hydro.Hold(s.Body, load, sea, 100*math.Pi/180, nil); err != nil {
			t.Fatal(err)
		}
		open := s.Body.Envelope.Below(r.Plane()).Volume
		run(t, []check{{c.name + ", over: only the envelope floats", open, 3.6, 1e-6, "Archimedes"}})
	}
}

func TestInsideOfPlanking(t *testing.T) {
	const radius, skin = 0.5, 0.012
	b := &model.Boat{}
	b.Hull.Scale = 1
	for _, x := range []float64{0, 2, 4} {
		st := model.Station{X: x}
		for i := 0; i <= 24; i++ {
			s, c := math.Sincos(math.Pi * float64(i) / 24)
			st.Points = append(st.Points, model.Reading{Y: radius * s, Z: radius - radius*c})
		}
		b.Hull.Readings.Stations = append(b.Hull.Readings.Stations, st)
	}
	outside := build(t, b).Body.Volume()
	b.Hull.Inside, b.Hull.Planking = true, units.Length(skin)
	inside := build(t, b).Body.Volume()
	const src = "circle, closed form: pi R² L"
	run(t, []check{
		{"to the outside", outside, math.Pi * radius * radius * 4, 1e-4, src},
		{"to the inside", inside, math.Pi * (radius + skin) * (radius + skin) * 4, 2e-3, src},
	})
	// A cone: square to the skin is farther across than the planking is thick.
	cone := &model.Boat{}
	cone.Hull.Scale, cone.Hull.Inside, cone.Hull.Planking = 1, true, units.Length(skin)
	for _, x := range []float64{0, 1, 2} {
		st := model.Station{X: x}
		r := 0.3 + 0.2*x
		for i := 0; i <= 24; i++ {
			s, c := math.Sincos(math.Pi * float64(i) / 24)
			st.Points = append(st.Points, model.Reading{Y: r * s, Z: 1 - r*c})
		}
		cone.Hull.Readings.Stations = append(cone.Hull.Readings.Stations, st)
	}
	s := build(t, cone)
	want := 0.5 + skin*math.Sqrt(1+0.2*0.2)
	run(t, []check{{"the cone's radius at mid length", math.Sqrt(s.Section(1).Area() / math.Pi), want, 1e-4, "cone: thickness over the cosine of its slope, closed form"}})
}

func TestRooms(t *testing.T) {
	b := boxBoat()
	b.Cabins = []model.Cabin{{Name: "aft", Readings: boxed(4, 5.5, 0.7, 0.6, 1.4)}}
	b.Wells = []model.Well{{Name: "well", OpenToTheSea: true, Readings: boxed(1.5, 3.5, 0.5, 0.4, 3)}}
	v := func(f float64) *float64 { return &f }
	b.Compartments = []model.Compartment{
		{Name: "fore", From: 0, To: 1},
		{Name: "below the well", From: 1, To: 4, Top: v(0.3)},
		{Name: "port", From: 1, To: 4, Sole: v(0.3), Side: model.Port},
		{Name: "starboard", From: 1, To: 4, Sole: v(0.3), Side: model.Starboard},
		{Name: "aft cabin", From: 4, To: 6, Cabin: "aft"},
		{Name: "pockets", From: 1.5, To: 3.5, Inboard: v(0.6), Outboard: v(0.8), Sole: v(0.2), Top: v(0.5)},
	}
	s := build(t, b)
	var all float64
	for _, r := range s.Rooms[:5] {
		all += r.Volume
	}
	run(t, []check{
		{"fore", s.Rooms[0].Volume, 1.6, 1e-9, arithmetic},
		{"below the well", s.Rooms[1].Volume, 1.8, 1e-9, arithmetic},
		{"port", s.Rooms[2].Volume, 3*1*0.5 - 2*0.5*0.4, 1e-9, arithmetic},
		{"starboard is its like", s.Rooms[3].Centre.Y, -s.Rooms[2].Centre.Y, 1e-12, "symmetry"},
		{"with the cabin", s.Rooms[4].Volume, 2*2*0.8 + 1.5*1.4*0.6, 1e-9, arithmetic},
		{"pockets on both sides", s.Rooms[5].Volume, 2 * 2 * 0.2 * 0.3, 1e-9, arithmetic},
		{"all rooms make the boat", all, s.Body.Envelope.Volume(), 1e-6, "property: what fills her is her volume"},
	})
	b.Compartments = []model.Compartment{{Name: "nowhere", From: 7, To: 8}}
	if _, err := Build(b); err == nil {
		t.Error("a compartment beyond her end was made")
	}
	b.Compartments = []model.Compartment{{Name: "no room", From: 1, To: 2, Sole: v(0.9)}}
	if _, err := Build(b); err == nil {
		t.Error("a compartment without room was made")
	}
}

// TestPlankedRooms: within the planking there is less.
func TestPlankedRooms(t *testing.T) {
	b := boxBoat()
	b.Hull.Planking = 0.009
	b.Compartments = []model.Compartment{{Name: "middle", From: 2, To: 3}}
	s := build(t, b)
	run(t, []check{{"room", s.Rooms[0].Volume, 2 * (1 - 0.009) * (0.8 - 0.009), 1e-9, "box less 9 mm at bottom and sides, arithmetic"}})
}
