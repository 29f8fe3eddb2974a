package provisions

import (
	"fmt"

	"thole/internal/model"
	"thole/internal/sustenance"
)

// freshWater is kg in a cubic metre.
const freshWater = 1000

// What is taken of a maker of which the folder says how fast it is and no more.
const (
	// electricHours a day that a desalinator may run: what a hundred watts of panel leave after lights, radio and plotter on a fair day,
	// about 8 Ah of 25; crews' figures, no source.
	electricHours = 2
	// handHours a day that hands may pump: what can be taken from sleep and rowing for weeks; modelling choice.
	handHours = 4
	// unsteady is how far a maker's flow is from its sheet, as a share, 19 in 20: crews tell a fifth to a third less or more as membranes
	// and batteries age; modelling choice.
	unsteady = 0.2
)

// water is what is carried and what makes more.
func (p *Provisions) water(f *model.Folder) {
	told := false
	add := func(kept model.Keeping, kg float64) {
		told = told || kg > 0
		switch kept {
		case model.KeptReserve:
			p.Plan.Stock.Reserve += kg
		case model.KeptBallast:
			p.Plan.Stock.Ballast += kg
		default:
			p.Plan.Stock.Drinking += kg
		}
	}
	for i := range f.Boat.Weights {
		w := &f.Boat.Weights[i]
		kept := w.Kept
		if kept == model.KeptForUse && w.Ballast {
			kept = model.KeptBallast
		}
		if !w.Where.None {
			add(kept, float64(w.Drink)*freshWater*float64(max(1, w.Count)))
		}
	}
	for i := range f.Stores {
		if s := &f.Stores[i]; !s.Where.None {
			add(s.Kept, float64(s.Drink)*freshWater*float64(max(1, s.Count)))
		}
	}
	for i := range f.Boat.Makers {
		told = true
		if m, works := p.maker(&f.Boat.Makers[i], fmt.Sprintf("%s: water makers[%d]", boat, i)); works {
			p.Plan.Makers = append(p.Plan.Makers, m)
		}
	}
	if !told {
		p.lack(boat, "water makers", "nothing aboard is said to hold or to make fresh water; name the desalinator or hand pump with its litres an hour, and write under drink how many litres a jug holds")
	}
}

// maker is one that turns sea water into fresh; false where it never works.
func (p *Provisions) maker(w *model.WaterMaker, key string) (sustenance.Maker, bool) {
	usual, say := sustenance.Electric(electricHours), "what a hundred watts of panel leave on a fair day; crews' figures, no source"
	if w.Hand {
		usual, say = sustenance.HandPump(handHours), "what can be taken from sleep and rowing for weeks; modelling choice"
	}
	m := sustenance.Maker{Name: w.Name, Hand: w.Hand, Hours: float64(w.Hours) / sustenance.Hour, PerHour: sustenance.Value{Value: float64(w.AnHour) * freshWater, Spread: float64(w.Spread) * freshWater}}
	if m.Name == "" {
		m.Name = usual.Name
	}
	if m.PerHour.Value == 0 {
		m.PerHour = usual.PerHour
		p.assume("what the "+m.Name+" makes", fmt.Sprintf("%g ± %g L an hour", m.PerHour.Value, m.PerHour.Spread), "crews' figures", key+".an hour")
	} else if m.PerHour.Spread == 0 {
		m.PerHour.Spread = unsteady * m.PerHour.Value
		p.assume("how far the "+m.Name+" is from its sheet", fmt.Sprintf("± %.2g L an hour", m.PerHour.Spread), "membranes and batteries age; modelling choice", key+".an hour")
	}
	if m.Hours == 0 {
		m.Hours = usual.Hours
		p.assume("hours that the "+m.Name+" may run", fmt.Sprintf("%g h a day", m.Hours), say, key+".hours")
	}
	if !w.Hand {
		m.Energy = usual.Energy
		if w.Draws > 0 {
			m.Energy = float64(w.Draws) * sustenance.Hour / m.PerHour.Value
		} else {
			p.assume("what the "+m.Name+" draws", fmt.Sprintf("%.1f Wh a litre", m.Energy/sustenance.WattHour), "makers' sheets, 0.7 to 0.9 Ah at 12 V", key+".draws")
		}
	}
	if w.From > 0 {
		m.From = w.From - 1
	}
	if w.Until > 0 {
		m.Breaks = w.Until - 1
	}
	return m, w.Until == 0 || m.Breaks > m.From
}
