package loft

import "thole/internal/sheet"

// account says how a figure was worked out.
func (q *ask) account(name string) sheet.Account {
	a := sheet.Account{Method: "read off one fair surface laid through the readings", Source: "property, checked to a ten-thousandth of a millimetre: the views agree by construction",
		Inputs: q.c.Inputs("hull", "boat.yaml: loft")}
	switch name {
	case "skin, both sides":
		a.Method, a.Source = "girth of the sections with the slope of the skin along her, summed along her", "Gauss-Legendre; Davis & Rabinowitz, Methods of Numerical Integration"
	case "most that a reading was moved", "moved by more than half a millimetre":
		a.Method = "readings are faired like a batten in all directions at once: least bending, within the reading error"
		a.Source = "Reinsch, Smoothing by spline functions, Numer. Math. 10 (1967); Tukey, Exploratory Data Analysis (1977), ch. 16"
		a.Inputs = q.c.Inputs("hull")
	case "readings":
		a.Method, a.Source = "counted", "the boat folder"
		a.Inputs = q.c.Inputs("hull")
	}
	return a
}
