package levers

import (
	"fmt"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

// Text is an offer as a lever of whatif.yaml, to be put under its levers.
func Text(o answer.Offer) string { return boatfolder.LeverText(o.Name, o.Acts) }

// Case is the desk's folder, ready to be asked.
func (k *Desk) Case() *answer.Case { return k.base }

// Offered is an offer as a lever of the desk's folder.
//
// Error: what its acts name is not there, or cannot be done with it
func (k *Desk) Offered(o answer.Offer) (Lever, error) {
	edits, err := Edits(k.Folder, k.draft, o.Acts)
	if err != nil {
		return Lever{}, fmt.Errorf("%s: %w", o.Name, err)
	}
	return Lever{Name: o.Name, Edits: edits}, nil
}

// Keep writes what a lever does into the folder. What stood there before is kept in earlier/.
//
// Error: it cannot be made, leaves a fault, or the folder has been changed since it was opened: nothing is written then; or a file could not be written
func (k *Desk) Keep(l Lever) error {
	d, faults := k.draft.With(l.Edits...)
	if len(faults) > 0 {
		return faults
	}
	if _, faults = d.Read(); len(faults) > 0 {
		return faults
	}
	return d.Save()
}

// Try keeps a lever as a try under a name, beside those that there are.
//
// Error: there is one of that name, or too many, or the tries cannot be read or written
func (k *Desk) Try(name string, l Lever) error {
	return boatfolder.AddTry(k.Folder.Dir, boatfolder.Try{Name: name, Edits: l.Edits})
}
