package drain

import (
	"strings"

	"thole/internal/sheet"
)

// account says how a figure was worked out; those of one well begin with its name.
func (q *ask) account(name string) sheet.Account {
	a := sheet.Account{Inputs: q.c.Afloat(), Source: "Barrass & Derrett, Ship Stability for Masters and Mates, effect of slack tanks; Archimedes",
		Method: "each well filled to the lowest place of its rim as she then lies, the water keeping its level; sinkage, trim and heel balanced with it"}
	ends := func(s string) bool { return strings.HasSuffix(name, ", "+s) }
	switch {
	case ends("volume to the brim"):
		a.Method, a.Source = "the hull's room within the well, up to its rim", "Green's theorem on sections, summed along her"
		a.Inputs = q.c.Inputs("boat.yaml: wells", "hull")
	case ends("sole above the sea, empty"), name == "metacentric height, empty":
		a.Method, a.Source = "sinkage, trim and heel balanced with every well dry", "Rawson & Tupper, Basic Ship Theory, ch. 3"
	case ends("half empty after"), ends("clear after"), ends("down to the sole after"):
		a.Method = "drains as holes and sills, Q = Cd A root of 2 g h and 2/3 Cd b root of 2 g times h to the 1.5; the sea outside as she rises"
		a.Source = "Torricelli; Poleni; textbook discharge coefficients, from memory"
	case ends("what stays in"):
		a.Method, a.Source = "the water below the drains and the sea outside once it has stopped; bailed with 12 L a bucket, eight a minute", "statics; the bailing is common practice, no source"
	}
	return a
}
