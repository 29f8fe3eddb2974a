package book

import (
	"strconv"

	"thole/internal/draw/letters"
	"thole/internal/lists"
	"thole/internal/model"
)

// lists prints what is used on board with a pencil: what lies where, labels to cut out, what is taken when, where to find a
// thing, the counts, and the checklist.
func (p *paper) lists(f *model.Folder) {
	for _, l := range lists.All {
		if len(f.Stores) == 0 {
			break
		}
		switch l.Kind {
		case "compartments":
			p.chapter(l.Title)
			p.plan(f)
			p.labels(f)
		case "weeks":
			p.chapter(l.Title)
			p.calendar(f)
		case "names":
			p.chapter(l.Title)
			for _, b := range l.Sheet(f, 0).Blocks {
				p.block(b)
			}
		case "inventory":
			p.chapter(l.Title)
			p.inventory(f)
		}
	}
	p.checklist(f.Needs)
}

// chapter begins a page with a large title.
func (p *paper) chapter(title string) {
	p.doc.AddPage()
	p.set(letters.Serif, "B", 22)
	p.lines(title, flush)
	p.gap(2)
}

// plan is what lies in each compartment, with a box to cross off when it is in.
func (p *paper) plan(f *model.Folder) {
	scale := f.Boat.Units.Heavy()
	p.set(letters.Serif, "I", small)
	p.lines("At the departure. Cross off what is in.", flush)
	p.gap(1)
	for _, l := range lists.Compartments(f, 0) {
		if l.Count == 0 {
			continue
		}
		g := grid{columns: []ruled{{"", 7, false}, {"what", 93, false}, {"count", 16, true}, {"mass, " + scale.Unit, 22, true}, {"  used", 32, false}}}
		for _, t := range l.Things {
			g.rows = append(g.rows, []entry{{boxes: 1}, {text: t.What}, {text: strconv.Itoa(t.Count)}, {text: lists.Mass(f, t.MassKg)}, {text: "  " + t.Used}})
		}
		g.rows = append(g.rows, []entry{{}, {text: "together", heavy: true}, {text: strconv.Itoa(l.Count), heavy: true}, {text: lists.Mass(f, l.MassKg), heavy: true}, {}})
		p.need(18 + float64(min(len(g.rows), 8))*6.8)
		p.heading(titled(&l))
		p.grid(&g)
	}
}

// titled is a compartment's line with what is to be known before it is opened.
func titled(l *lists.Locker) string {
	if about := l.About(); about != "" {
		return l.Title() + " – " + about
	}
	return l.Title()
}

// calendar is what is taken in each week, a box for each thing.
func (p *paper) calendar(f *model.Folder) {
	weeks := lists.Weeks(f)
	if len(weeks) == 0 {
		p.para("Nothing aboard is used up on the way.")
	}
	for _, w := range weeks {
		g := grid{columns: []ruled{{"no.", 12, false}, {"what", 52, false}}}
		for d := w.First; d <= w.Last; d++ {
			g.columns = append(g.columns, ruled{strconv.Itoa(d), 13, false})
		}
		g.columns = append(g.columns, ruled{"left", 15, true})
		for _, r := range w.Rows {
			row := []entry{{text: r.Where.Short(), heavy: true}, {text: r.What}}
			for _, n := range r.Days {
				e := entry{boxes: n}
				if n > 2 {
					e.text = strconv.Itoa(n)
				}
				row = append(row, e)
			}
			g.rows = append(g.rows, append(row, entry{text: strconv.Itoa(r.Left)}))
		}
		p.need(26 + float64(min(len(g.rows), 12))*6.8)
		p.heading(w.Title())
		if open := w.Open(); open != "" {
			p.set(letters.Serif, "I", small)
			p.lines(open, flush)
		}
		p.grid(&g)
	}
}

// inventory is what should be left on some days, each with room for what is there.
func (p *paper) inventory(f *model.Folder) {
	p.set(letters.Serif, "I", small)
	p.lines("What should be left at the end of the day; write what is there beside it.", flush)
	p.gap(1)
	days := lists.Counts(f)
	g := grid{columns: []ruled{{"no.", 12, false}, {"what", 46, false}, {"leaving", 16, true}}}
	stocks := [][]lists.Stock{lists.Inventory(f, 0)}
	for _, d := range days {
		g.columns = append(g.columns, ruled{"day " + strconv.Itoa(d), 11, true}, ruled{"there", 13, true})
		stocks = append(stocks, lists.Inventory(f, d))
	}
	for i, s := range stocks[0] {
		row := []entry{{text: s.Where.Short(), heavy: true}, {text: s.What}, {text: strconv.Itoa(s.Left)}}
		for k := range days {
			row = append(row, entry{text: strconv.Itoa(stocks[k+1][i].Left)}, entry{text: ""})
		}
		g.rows = append(g.rows, row)
	}
	p.grid(&g)
}

// checklist is what is to be looked at before leaving, as the folder has it.
func (p *paper) checklist(n *model.Needs) {
	if n == nil || len(n.Checklist) == 0 {
		return
	}
	p.chapter("Before leaving")
	p.set(letters.Serif, "I", small)
	p.lines("The folder's own checklist: a starting list. Ask the organiser and the authority; theirs stands above it.", flush)
	p.gap(1)
	g := grid{columns: []ruled{{"", 7, false}, {"what", 88, false}, {"who asks", 50, false}, {"by", 25, false}}}
	for _, c := range n.Checklist {
		by := ""
		if !c.By.IsZero() {
			by = c.By.Format("2006-01-02")
		}
		g.rows = append(g.rows, []entry{{boxes: 1, crossed: c.Done}, {text: c.What}, {text: c.Asks}, {text: by}})
	}
	p.grid(&g)
}
