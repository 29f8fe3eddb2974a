package flood

import "thole/internal/sheet"

// account says how a figure was worked out.
func (q *ask) account(name string) sheet.Account {
	a := sheet.Account{Inputs: q.c.Afloat(), Source: "Barrass & Derrett, Ship Stability for Masters and Mates, Bilging (lost buoyancy)",
		Method: "the sea stands in the holed compartment as outside, what its stores fill excepted; sinkage, trim and heel are balanced anew"}
	switch name {
	case "stiffness GM", "range of her arms", "height of gravity left":
		a.Method = "her arms with the compartment open to the sea, from 0 to 180 degrees on both sides, free to trim"
		a.Source = "Barrass & Derrett, stability at large angles"
	case "two methods apart by":
		a.Method = "the same sea taken as weight of loose water, level whatever the heel, must give the same rest"
		a.Source = "Barrass & Derrett, Bilging (added weight)"
	}
	return a
}
