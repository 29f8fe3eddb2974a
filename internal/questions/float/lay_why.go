package float

import "thole/internal/sheet"

// Where the methods of the figures are printed.
const (
	basic  = "Rawson & Tupper, Basic Ship Theory, ch. 3"
	greens = "Green's theorem, exact on each section; Gauss-Legendre along the length (Davis & Rabinowitz, Methods of Numerical Integration)"
)

// account says how a figure was worked out.
func (q *ask) account(name string) sheet.Account {
	a := sheet.Account{Source: basic, Inputs: q.c.Afloat()}
	switch name {
	case "displacement":
		a.Method = "weights, stores and crew added up; tolerances as independent, 19 in 20"
		a.Source, a.Inputs = "JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1", q.c.Load()
	case "KG", "centre of gravity aft of station 0":
		a.Method = "moments of weights, stores and crew, over their sum"
		a.Source, a.Inputs = "statics; JCGM 100:2008, 5.1, for the range", q.c.Load()
		if name == "KG" {
			a.Inputs = q.c.Afloat() // her lowest point is the hull's, as she lies
		}
	case "draft", "least freeboard", "trim, by the stern", "heel, to starboard":
		a.Method = "sinkage, trim and heel balanced together by Newton's method to a residual of 1e-10"
	case "metacentric height GM", "lengthwise metacentric height GML":
		a.Method = "buoyancy's centre plus the waterplane's second moment over the volume, less the centre of gravity"
	case "BM":
		a.Method = "second moment of the waterplane about its middle line, over the volume"
	case "KB", "centre of buoyancy aft of station 0":
		a.Method = "first moments of the sections below the water, summed along her"
		a.Source = greens
	case "wetted skin":
		a.Method = "outline of each section below the water, with the slope of the skin along her, summed along her"
		a.Source = greens
	case "to sink her one centimetre":
		a.Method = "waterplane times the water's density times a centimetre"
	case "block coefficient", "prismatic coefficient", "waterplane coefficient":
		a.Method = "volume or waterplane over that of the block, prism or rectangle about it"
	default: // the waterplane's own figures
		a.Method = "the cut of the water through the sections, summed along her"
		a.Source = greens
	}
	return a
}
