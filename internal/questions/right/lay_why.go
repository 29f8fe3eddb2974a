package right

import "thole/internal/sheet"

// account says how a figure was worked out.
func (q *ask) account(name string) sheet.Account {
	a := sheet.Account{Source: "Barrass & Derrett, Ship Stability for Masters and Mates, stability at large angles", Inputs: q.c.Afloat(),
		Method: "at each heel she is free to sink and to trim; the arm is the distance across between weight and buoyancy, every 5 degrees, refined between"}
	switch name {
	case "height of gravity left":
		a.Method = "the least of arm over the sine of heel: a rise of gravity by d takes d sin(heel) off every arm"
		a.Source = "Barrass & Derrett, KN curves"
	case "metacentric height GM":
		a.Method = "buoyancy's centre plus the waterplane's second moment over the volume, less the centre of gravity"
		a.Source = "Rawson & Tupper, Basic Ship Theory, ch. 3"
	case "area under the curve to 30 degrees", "area under the curve to 40 degrees":
		a.Method, a.Source = "Simpson's rule on the arms", "closed form for a cubic"
	case "roll period":
		a.Method = "T = f B / root of GM, with f from 0.73 to 0.88"
		a.Source = "IMO 2008 IS Code part B; national fishing-vessel rules"
	case "weight":
		a.Method = "weights, stores and crew added up; tolerances as independent, 19 in 20"
		a.Source, a.Inputs = "JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1", q.c.Load()
	}
	return a
}
