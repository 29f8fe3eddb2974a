package web

import (
	"thole/internal/boatfolder"
	"thole/internal/byhand"
	"thole/internal/levers"
	"thole/internal/model"
	"thole/internal/plan"
	"thole/internal/portrait"
)

// onDisk reads real folders.
var onDisk = source{
	open:       openFolder,
	read:       func(_ string, d *boatfolder.Draft) (*model.Folder, []Fault) { return readDraft(d) },
	stamp:      boatfolder.Stamp,
	tries:      readTries,
	writeTries: writeTries,
	lastDay:    (*model.Folder).LastDay,
	conditions: conditionNames,
	portrait:   portrait.Draw,
	hand:       hand{byhand.Draw, byhand.Pull},
	stow:       stowed{plan.Draw, plan.Load, plan.Carry},
	levers:     levering{levers.List, levers.Table, levers.Edits},
}

func openFolder(dir string) (*boatfolder.Draft, []Fault) {
	draft, faults := boatfolder.Open(dir)
	return draft, told(faults)
}

func readDraft(d *boatfolder.Draft) (*model.Folder, []Fault) {
	folder, faults := d.Read()
	return folder, told(faults)
}

// change makes edits on a draft.
func change(d *boatfolder.Draft, edits []boatfolder.Edit) (*boatfolder.Draft, []Fault) {
	changed, faults := d.With(edits...)
	return changed, told(faults)
}

// told puts faults into the words of the page; nil when there are none.
func told(faults boatfolder.Faults) []Fault {
	var out []Fault
	for _, f := range faults {
		out = append(out, Fault{f.File, f.Line, f.Column, f.Key, f.Text, f.Say, f.Mend})
	}
	return out
}

func conditionNames(f *model.Folder) []string {
	var names []string
	for _, c := range f.Conditions() {
		names = append(names, c.Name)
	}
	return names
}

func readTries(dir string) (tries, error) {
	stored, err := boatfolder.ReadTries(dir)
	out := tries{Version: stored.Version}
	for _, t := range stored.Tries {
		out.Tries = append(out.Tries, Try(t))
	}
	return out, err
}

func writeTries(dir string, t tries) error {
	out := boatfolder.Tries{Version: t.Version, Tries: []boatfolder.Try{}}
	for _, one := range t.Tries {
		out.Tries = append(out.Tries, boatfolder.Try(one))
	}
	return boatfolder.WriteTries(dir, out)
}
