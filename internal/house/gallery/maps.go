package gallery

import (
	"fmt"
	"math"

	"thole/internal/sheet"
)

// Map is a passage of 70 days over an invented sea, with invented land about it: from a cape in the east to an island in the west.
func Map() *sheet.Map {
	m := &sheet.Map{Heading: "Where the boats go", MinX: -62, MinY: 4, MaxX: -16, MaxY: 28, Mile: 1.0 / 60,
		Alt:      "From Cape Rowan the boats spread over about 400 miles to either side of the route by day 40, and close in on Whin Island from day 60 on.",
		AllMeans: "share of the passages that come through", DayMeans: "share that is there on the day",
		Notice: "Invented land: this is no chart of any place.",
		Land: [][][2]float64{
			{{-16, 28}, {-19, 28}, {-18.2, 25.5}, {-20.4, 23}, {-19.6, 20.4}, {-21.2, 17.6}, {-20.2, 15}, {-17.5, 13}, {-16, 12.6}},
			{{-17.4, 22}, {-16.6, 22.4}, {-16.7, 20.9}, {-17.3, 20.8}}, // a lake
			{{-59.2, 13.4}, {-58.6, 13.9}, {-58.2, 13.2}, {-58.5, 12.6}, {-59, 12.7}},
			{{-62, 18}, {-61, 17.2}, {-60.6, 16}, {-61.4, 15.2}, {-62, 15.4}},
			{{-40.1, 6.2}, {-39.7, 6.5}, {-39.6, 6.1}},
		}}
	for lon := -60; lon <= -20; lon += 10 {
		m.Lines = append(m.Lines, sheet.Path{Role: sheet.Grid, Name: fmt.Sprintf("%d° W", -lon), Points: [][2]float64{{float64(lon), 4}, {float64(lon), 28}}})
	}
	for lat := 5; lat <= 25; lat += 5 {
		m.Lines = append(m.Lines, sheet.Path{Role: sheet.Grid, Name: fmt.Sprintf("%d° N", lat), Points: [][2]float64{{-62, float64(lat)}, {-16, float64(lat)}}})
	}
	route := sheet.Path{Role: sheet.Other, Name: "route"}
	for i := range 21 {
		t := float64(i) / 20
		route.Points = append(route.Points, [2]float64{-21.2 - 36.9*t, 17.6 - 4.4*t + 1.2*math.Sin(math.Pi*t)})
	}
	m.Lines = append(m.Lines, route,
		sheet.Path{Role: sheet.Limit, Name: "beyond it she no longer reaches the landfall", Points: [][2]float64{{-30, 24.5}, {-40, 20.5}, {-50, 17.2}, {-57.5, 14.4}}},
		sheet.Path{Role: sheet.Limit, Name: "beyond it she no longer reaches the landfall", Points: [][2]float64{{-34, 8}, {-46, 10.4}, {-57.5, 12.2}}})
	m.Labels = []sheet.Label{
		{X: -21.2, Y: 17.6, Text: "Cape Rowan", Anchor: "start", Role: sheet.Main},
		{X: -58.3, Y: 13.2, Text: "Whin Island", Anchor: "end", Role: sheet.Main},
		{X: -39.8, Y: 6.3, Text: "Bent Rocks", Anchor: "start", Role: sheet.Limit},
		{X: -58.0, Y: 12.4, Text: "South Ledge", Anchor: "start", Role: sheet.Limit},
		{X: -60.6, Y: 16, Text: "Outer Head", Anchor: "end", Role: sheet.Other},
		{X: -31, Y: 26.5, Text: "The Invented Sea", Anchor: "middle", Role: sheet.Water},
	}
	where := func(day float64, aside float64) (x, y float64) {
		t := math.Min(day/70, 1)
		return -21.2 - 36.9*t, 17.6 - 4.4*t + 1.2*math.Sin(math.Pi*t) + aside*math.Sin(math.Pi*t)
	}
	for i, name := range []string{"one in two", "early, one in twenty", "late, one in twenty"} {
		pace := []float64{1, 1.2, 0.8}[i]
		t := sheet.Track{Name: name, Role: sheet.Main}
		if i > 0 {
			t.Role = sheet.Other
		}
		for d := 0.0; d*pace <= 70; d++ {
			x, y := where(d*pace, []float64{0.4, 2.2, -2.4}[i])
			t.Points = append(t.Points, [2]float64{x, y + 0.25*math.Sin(d)})
		}
		m.Tracks = append(m.Tracks, t)
	}
	const cell = 2.0
	for x := m.MinX; x <= m.MaxX; x += cell {
		m.X = append(m.X, x)
	}
	for y := m.MinY; y <= m.MaxY; y += cell {
		m.Y = append(m.Y, y)
	}
	most := map[[2]int]float64{}
	for day := 0; day <= 70; day += 10 {
		cx, cy := where(float64(day), 0)
		wide := 0.5 + 3*math.Sin(math.Pi*math.Min(float64(day), 66)/70)
		on := sheet.MapOn{Day: day, Said: fmt.Sprintf("the middle boat is at %.1f° N %.1f° W", cy, -cx)}
		whole := 0.0
		for i := range len(m.X) - 1 {
			for j := range len(m.Y) - 1 {
				dx, dy := (m.X[i]+cell/2-cx)/wide, (m.Y[j]+cell/2-cy)/wide
				if s := math.Exp(-(dx*dx + dy*dy) / 2); s > 0.01 {
					on.Boxes = append(on.Boxes, sheet.Box{I: i, J: j, Share: s})
					whole += s
				}
			}
		}
		for k := range on.Boxes {
			b := &on.Boxes[k]
			b.Share /= whole
			at := [2]int{b.I, b.J}
			most[at] = math.Min(1, most[at]+1.5*b.Share)
		}
		m.Days = append(m.Days, on)
	}
	for i := range len(m.X) - 1 {
		for j := range len(m.Y) - 1 {
			if s := most[[2]int{i, j}]; s > 0 {
				m.All = append(m.All, sheet.Box{I: i, J: j, Share: s})
			}
		}
	}
	m.Finish()
	return m
}

// Maps are maps that a face must outlive: nothing on them, no size, one box, boxes and tracks that point beyond the grid,
// a name longer than the paper, land over all of it.
func Maps() map[string]*sheet.Map {
	whole := [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	return map[string]*sheet.Map{
		"nothing":  {Alt: "nothing"},
		"no width": {MinY: 0, MaxY: 1, Alt: "a line", Land: [][][2]float64{{{0, 0}, {0, 1}, {0, 0.5}}}},
		"one box":  {MaxX: 1, MaxY: 1, Alt: "one box", X: []float64{0, 1}, Y: []float64{0, 1}, All: []sheet.Box{{Share: 1}}},
		"beyond": {MaxX: 2, MaxY: 1, Alt: "beyond", X: []float64{0, 1}, Y: []float64{0, 1}, Steps: []sheet.Step{{Text: "any"}},
			All: []sheet.Box{{I: 4, J: 2, Share: 2}, {I: -1, J: 0}}, Days: []sheet.MapOn{{Day: 5, Boxes: []sheet.Box{{I: 1, Share: 0.5}}}},
			Tracks: []sheet.Track{{Name: "lost", First: 9}, {Name: "gone", Role: sheet.Main, First: -3, Points: [][2]float64{{-40, 9}, {1e9, -1e9}}}},
			Lines:  []sheet.Path{{Role: sheet.Other}, {Role: sheet.Grid, Name: "0°", Points: [][2]float64{{1, 0}}}}},
		"all land": {MaxX: 1, MaxY: 1, Alt: "all land", Land: [][][2]float64{whole}, Mile: 1e-9,
			Labels: []sheet.Label{{X: 0.5, Y: 0.5, Text: "a place with a name that is a good deal longer than any sheet of paper on which it is ever going to be printed by anybody anywhere", Role: sheet.Main}, {Text: ""}}},
		// Over the date line a map goes on counting: 170 E is 170, 170 W is 190.
		"date line": {MinX: 170, MaxX: 200, MinY: -30, MaxY: -10, Alt: "over the date line", Mile: 1.0 / 60,
			Lines:  []sheet.Path{{Role: sheet.Grid, Name: "180°", Points: [][2]float64{{180, -30}, {180, -10}}}},
			Tracks: []sheet.Track{{Name: "westward", Role: sheet.Main, Points: [][2]float64{{198, -12}, {185, -16}, {178, -20}, {172, -27}}}}},
	}
}
