// Package gallery holds one block of every kind and one answer of every verdict,
// for the tests of the faces. Every figure in it is invented; nothing here was
// worked out from a boat.
package gallery

import (
	"context"
	"math"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/sheet"
)

// Blocks has one block for every field of sheet.Block, by its JSON name.
func Blocks() map[string]sheet.Block {
	return map[string]sheet.Block{
		"text":    {Text: &sheet.Text{Heading: "In words", Paragraphs: []string{"She floats 12 mm by the stern – as drawn, ± 4 mm.", "The aft cabin’s hatch is taken as shut."}}},
		"figures": {Figures: figures()},
		"table":   {Table: table()},
		"chart":   {Chart: Chart()},
		"field":   {Field: Field()},
		"matrix":  {Matrix: Matrix()},
		"drawing": {Drawing: Drawing()},
		"map":     {Map: Map()},
		"solid":   {Solid: solid()},
		"warning": {Warning: &sheet.Warning{Text: "A capsize test in sheltered water proves her; this does not."}},
		"sources": {Sources: &sheet.Sources{Rows: []sheet.Source{
			{What: "Areas of cuts by Green’s theorem", Source: "closed form"},
			{What: "Heel held, sinkage and trim set free", Source: "statics; no source needed"}}}},
	}
}

// Kinds lists the names of Blocks in the order of a sheet.
var Kinds = []string{"text", "figures", "table", "chart", "field", "matrix", "drawing", "map", "solid", "warning", "sources"}

// Sheet is every kind of block on one sheet.
func Sheet() sheet.Sheet {
	var s sheet.Sheet
	all := Blocks()
	for _, k := range Kinds {
		s.Blocks = append(s.Blocks, all[k])
		if k == "chart" { // curves and bars are one kind
			s.Blocks = append(s.Blocks, sheet.Block{Chart: Bars()})
		}
	}
	return s
}

func figures() *sheet.Figures {
	return &sheet.Figures{Heading: "Figures", Rows: []sheet.Figure{
		{Name: "displacement", Value: 624.3, Unit: "kg", Places: 1, Spread: 18.2},
		{Name: "draft", Value: 0.214, Unit: "m", Places: 3, Why: "to the lowest point of the keel",
			Method: "weight and displaced water in balance", Source: "Archimedes", Inputs: []string{"boat.yaml: weights", "cuts.csv"}},
		{Name: "trim by the stern", Value: -0.42, Unit: "°", Places: 2},
		{Name: "waterline length", Text: "21 ft 6 in"},
	}}
}

func table() *sheet.Table {
	return &sheet.Table{Heading: "Every day", Note: "Invented figures.",
		Columns: []sheet.Column{{Name: "crew", Text: true}, {Name: "day"}, {Name: "displacement", Unit: "kg"}, {Name: "least arm", Unit: "mm", Places: 1}},
		Rows: [][]sheet.Cell{
			{{Text: "at the oars"}, {Value: 0}, {Value: 1021}, {Value: 52.5}},
			{{Text: "in the cabin"}, {Value: 61}, {Value: 792}, {Value: -8.25, Loud: true}},
			{{Text: "outside"}, {Value: 80}, {Value: 716}, {Empty: true}},
		}}
}

// Chart is a righting curve of an invented boat.
func Chart() *sheet.Chart {
	c := &sheet.Chart{Heading: "Righting arm", Alt: "The arm rises to 0.31 m at 42 degrees and stays above nothing to 180.",
		X:     sheet.Axis{Name: "heel", Unit: "°", Min: 0, Max: 180, Ticks: []float64{0, 30, 60, 90, 120, 150, 180}},
		Y:     sheet.Axis{Name: "righting arm", Unit: "m", Min: -0.1, Max: 0.4, Ticks: []float64{-0.1, 0, 0.1, 0.2, 0.3, 0.4}, Places: 1},
		Marks: []sheet.Mark{{X: 148, Y: 0.05, Text: "least arm, 0.05 m", Role: sheet.Main}},
	}
	curve := func(name string, role sheet.Role, a, b float64) {
		s := sheet.Series{Name: name, Role: role}
		for d := 0.0; d <= 180; d += 5 {
			r := d * math.Pi / 180
			s.X, s.Y = append(s.X, d), append(s.Y, a*math.Sin(r)+b*math.Sin(2*r))
		}
		c.Series = append(c.Series, s)
	}
	curve("day 61, in the cabin", sheet.Main, 0.22, 0.1)
	curve("day 0, at the oars", sheet.Other, 0.26, 0.09)
	curve("day 0, hatch open", sheet.Other, 0.12, 0.12)
	c.Series = append(c.Series, sheet.Series{Name: "arm asked for", Role: sheet.Limit, X: []float64{0, 180}, Y: []float64{0.02, 0.02}})
	return c
}

// Drawing is a boat cut open along her length, invented.
func Drawing() *sheet.Drawing {
	hull := [][2]float64{{0, 0.95}, {0.25, 0.35}, {0.9, 0.12}, {2.2, 0.02}, {4.2, 0.03}, {5.6, 0.16}, {6.3, 0.4}, {6.5, 0.9}, {5.2, 0.78}, {3.2, 0.72}, {1.2, 0.8}}
	return &sheet.Drawing{Heading: "Cut open along her length", MinX: -0.3, MinY: -0.25, MaxX: 6.8, MaxY: 1.6,
		Alt: "A decked boat of 6.5 m seen from starboard, cut open, floating with 0.26 m of draft.",
		Paths: []sheet.Path{
			{Role: sheet.Sea, Closed: true, Points: [][2]float64{{-1, 0.28}, {8, 0.30}, {8, -1}, {-1, -1}}},
			{Role: sheet.Body, Name: "hull", Closed: true, Points: hull},
			{Role: sheet.Space, Name: "fore locker", Closed: true, Points: [][2]float64{{0.9, 0.2}, {1.9, 0.1}, {1.9, 0.74}, {0.9, 0.8}}},
			{Role: sheet.Space, Name: "aft locker", Closed: true, Points: [][2]float64{{4.4, 0.12}, {5.4, 0.2}, {5.4, 0.7}, {4.4, 0.7}}},
			{Role: sheet.Skin, Name: "aft cabin", Points: [][2]float64{{4.3, 0.75}, {4.4, 1.4}, {6.1, 1.35}, {6.45, 0.9}}},
			{Role: sheet.Skin, Name: "hull", Closed: true, Points: hull},
			{Role: sheet.Thing, Name: "water", Closed: true, Points: [][2]float64{{2.6, 0.1}, {3.2, 0.1}, {3.2, 0.3}, {2.6, 0.3}}},
			{Role: sheet.Water, Points: [][2]float64{{-0.3, 0.282}, {6.8, 0.297}}},
		},
		Labels: []sheet.Label{
			{X: 1.4, Y: 0.45, Text: "fore locker", Anchor: "middle", Role: sheet.Space},
			{X: 4.9, Y: 0.45, Text: "aft locker", Anchor: "middle", Role: sheet.Space},
			{X: 5.2, Y: 1.1, Text: "aft cabin", Anchor: "middle", Role: sheet.Space},
			{X: 2.9, Y: 0.2, Text: "water, 80 L", Anchor: "middle", Role: sheet.Thing},
			{X: 3.0, Y: 0.25, Text: "battery", Anchor: "middle", Role: sheet.Thing},
			{X: 6.7, Y: 0.33, Text: "water today", Anchor: "end", Role: sheet.Water},
		}}
}

func solid() *sheet.Solid {
	return &sheet.Solid{Heading: "Her shape", Up: [3]float64{0, 0, 1}, Level: 0.2, Alt: "A hull of 6.5 m, floating upright, to turn.",
		Surfaces: []sheet.Surface{{Role: sheet.Skin, Name: "hull", Rows: [][][3]float64{
			{{0, 0, 0.9}, {3, 0, 0}, {6, 0, 0.2}}, {{0, 0.1, 0.95}, {3, 0.7, 0.7}, {6, 0.4, 0.8}}}}}}
}

// Answers has one answer of every verdict.
func Answers() []answer.Answer {
	cautions := []string{"This is an aid to judgement. A new boat is proven by an inclining and a capsize test."}
	return []answer.Answer{
		{Question: "shape", Title: "What shape do I cut?", Verdict: answer.Yes, Sentence: "Yes: the measured cuts are fair within 0.5 mm of the model.",
			Margin:      &answer.Margin{Value: 0.0012, Unit: "m", Asked: 0.001, Confidence: 0.99, Spread: 0.0003, Shown: "1.2 mm ± 0.3", What: "reading error left over"},
			Figures:     map[string]float64{"residual_m": 0.0008},
			NotLookedAt: []string{"the half of the model that was not measured"}, Cautions: cautions},
		{Question: "marks", Title: "Will she float on her marks?", Verdict: answer.Close, Sentence: "Close: she floats 9 mm deeper aft than her mark on day 0; ± 14 mm.",
			Margin:      &answer.Margin{Value: 0.011, Unit: "m", Asked: 0.03, Confidence: 0.94, Spread: 0.014, Shown: "11 mm ± 14", What: "height of the mark above the water left"},
			Worst:       &answer.Worst{Day: 0, Condition: "at the oars"},
			Figures:     map[string]float64{"draft_m": 0.214},
			Assumptions: []answer.Assumption{{What: "water", Value: "1025 kg/m³", Why: "sea water", File: "boat.yaml: water"}},
			Method:      []answer.Method{{What: "Balance of weight and displaced water", Source: "Archimedes"}},
			NotLookedAt: []string{"waves", "growth on the bottom"}, Cautions: cautions, Sheet: Sheet()},
		{Question: "upright", Title: "Will she come back up?", Verdict: answer.No, Sentence: "No: on day 61, with the hatch open, she would lie at 151°; 8 mm of arm are short.",
			Margin:      &answer.Margin{Value: -0.008, Unit: "m", Asked: 0.02, Confidence: 0.11, Spread: 0.012, Shown: "−8 mm ± 12", What: "height of gravity left"},
			Worst:       &answer.Worst{Day: 61, Condition: "in the cabin"},
			Figures:     map[string]any{"curve": []map[string]float64{{"heel_deg": 0, "arm_m": 0}}},
			Method:      []answer.Method{{What: "Heel held, sinkage and trim free", Source: "textbook"}},
			NotLookedAt: []string{"water coming in while she is over"}, Cautions: cautions, Sheet: Sheet(),
			Offers: []answer.Offer{{Name: "rice from 202 to 301", Why: "It lies 200 mm lower there.", Acts: []model.Act{{Do: model.Put, What: []string{"rice"}, From: "202", To: "301", Count: 2}}},
				{Name: "the hatch shut", Why: "No water comes in through it.", Acts: []model.Act{{Do: model.Shut, What: []string{"aft cabin hatch"}}}}}},
		{Question: "clears", Title: "Will the deck clear?", Verdict: answer.CannotTell, Sentence: "Cannot tell: no scupper is given.",
			Figures: map[string]float64{},
			Needs:   []answer.Need{{File: "boat.yaml", Key: "openings", Why: "the water leaves through them"}}, Cautions: cautions},
	}
}

// Table is a table of questions that give Answers, one in each group.
func Table() []answer.Question {
	var out []answer.Question
	for i, a := range Answers() {
		out = append(out, answer.Question{ID: a.Question, Title: a.Title, Group: answer.Groups[i%len(answer.Groups)],
			Ask: func(ctx context.Context, _ *answer.Case, o answer.Options) (answer.Answer, error) {
				if o.Progress != nil {
					o.Progress(1, 1)
				}
				return a, ctx.Err()
			}})
	}
	return out
}

// Folder is a folder with a name and a voyage, and no boat to work with.
func Folder() *model.Folder {
	return &model.Folder{Dir: "gallery", Boat: model.Boat{Name: "Gallery"},
		Notes:  []model.Note{{Where: model.Source{File: "cuts.csv", Line: 7}, What: "reading left blank", Why: "passed over"}},
		Voyage: &model.Voyage{Days: 80, Crew: []model.Person{{Name: "rower", Places: []model.CrewPlace{{Name: "at the oars"}, {Name: "in the cabin"}}}}}}
}
