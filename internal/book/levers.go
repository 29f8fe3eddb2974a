package book

import (
	"thole/internal/levers"
	"thole/internal/sheet"
)

// levers prints what would change the answers: the table, what changes nothing, and what could not be asked.
func (p *paper) levers(r levers.Result) {
	if len(r.Rows) == 0 {
		return
	}
	p.doc.AddPage()
	t := r.Sheet(false)
	t.Heading = "What would change it"
	p.block(sheet.Block{Table: &t})
	p.list("Change nothing that a question's margin hangs on", r.Idle())
	p.list("Could not be asked", r.Troubled())
	p.list("Cautions", r.Cautions())
}
