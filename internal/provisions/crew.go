package provisions

import (
	"fmt"
	"math"

	"thole/internal/model"
	"thole/internal/sustenance"
)

// What is taken of a body of which the folder says nothing.
const (
	// usualHours at the oars in a day: what crossings were rowed at, 8 to 12 for one alone; common practice, no source. Package
	// underway takes the same.
	usualHours = 10
	// usualIndex is the body mass index by which a stature is told from a mass, kg/m2: fit adults lie between 21 and 27; common
	// practice, no source. A hand's breadth of stature moves the resting rate by 4 %.
	usualIndex = 24
	// usualAge in years; modelling choice. Ten years move the resting rate by 3 %.
	usualAge = 35
	// usualPower is a power at the handles, W; modelling choice. What is spent is not counted from it.
	usualPower = 75
)

// crew makes a rower of each of the crew.
func (p *Provisions) crew(f *model.Folder) {
	for i := range f.Voyage.Crew {
		m := &f.Voyage.Crew[i]
		key := func(k string) string { return fmt.Sprintf("%s: crew[%d].%s", voyage, i, k) }
		if m.Mass.Value <= 0 {
			p.lack(voyage, fmt.Sprintf("crew[%d].mass", i), "what a body burns goes with its mass")
			continue
		}
		p.Plan.Rowers = append(p.Plan.Rowers, p.rower(m, key))
	}
}

// rower is one of the crew with what was taken for granted.
func (p *Provisions) rower(m *model.Person, key func(string) string) sustenance.Rower {
	of := func(what string) string { return what + " of " + m.Name }
	b := sustenance.Person{Name: m.Name, Mass: float64(m.Mass.Value), Stature: float64(m.Stature), Age: float64(m.Age)}
	if m.Body == model.Woman {
		b.Sex = sustenance.Woman
	} else if m.Body == "" {
		p.assume(of("body"), "man", "the equations are for men and women; a man's asks for more food", key("body"))
	}
	if b.Stature == 0 {
		b.Stature = math.Sqrt(b.Mass / usualIndex)
		p.assume(of("stature"), fmt.Sprintf("%.2f m", b.Stature), fmt.Sprintf("a body mass index of %d kg/m2", usualIndex), key("stature"))
	}
	if b.Age == 0 {
		b.Age = usualAge
		p.assume(of("age"), fmt.Sprintf("%d years", usualAge), "modelling choice; ten years move the resting rate by 3 %", key("age"))
	}
	if m.Fat.Value > 0 {
		b.Fat = sustenance.Value{Value: m.Fat.Value, Spread: m.Fat.Tolerance}
	} else {
		fat := b.FatShare()
		p.assume(of("body fat"), fmt.Sprintf("%.0f ± %.0f %%", 100*fat.Value, 100*fat.Spread), "Deurenberg and others (1991), from stature and mass; a muscular rower is told too fat", key("body fat"))
	}
	h := sustenance.Habit{Hours: float64(m.Hours) / sustenance.Hour, Power: float64(m.Power.Value)}
	if h.Hours == 0 {
		h.Hours = usualHours
		p.assume(of("hours at the oars"), fmt.Sprintf("%d h a day", usualHours), "common practice, no source", key("hours"))
	}
	if h.Power == 0 {
		h.Power = usualPower
		p.assume(of("power"), fmt.Sprintf("%d W", usualPower), "modelling choice; only the sum by work hangs on it, which is shown and not counted with", key("power"))
	}
	r := sustenance.Usual(b, h)
	if m.Eats.Value > 0 {
		r.Appetite.Liked.Value = m.Eats.Value
		if m.Eats.Given {
			r.Appetite.Liked.Spread = m.Eats.Tolerance
		}
	} else {
		l := r.Appetite.Liked
		p.assume(of("what is eaten of a full bag"), fmt.Sprintf("%.0f ± %.0f %%", 100*l.Value, 100*l.Spread), "such that the mass that ocean rowers lost comes out (49 Atlantic rowers; Reid and others 2017)", key("eats"))
	}
	if m.Seasick != nil {
		r.Appetite.SickDays = float64(*m.Seasick)
	} else {
		p.assume(of("days of seasickness"), fmt.Sprintf("%.0f days, eating %.0f %% on the first", r.Appetite.SickDays, 100*r.Appetite.SickLeft), "crews' logs, no published figures", key("seasick"))
	}
	return r
}
