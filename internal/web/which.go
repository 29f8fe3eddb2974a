package web

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

// keptTrials is how many tries and positions of a finger are kept.
const keptTrials = 24

// Which says which state of the folder is meant.
type Which struct {
	Try   string `query:"try" maxLength:"80" doc:"the folder with the edits of the try of this name; as it stands if left out"`
	Units string `query:"units" enum:"metric,feet" doc:"the units to show; the folder's own if left out"`
}

// trial is the folder with edits that are not written to it.
type trial struct {
	draft  *boatfolder.Draft
	boat   *answer.Case // nil when the edits do not fit or the folder is not valid with them
	stamp  string
	faults []Fault
	stale  bool // made on the last good files, because those that are there now have faults
}

// key marks what an edition's answers hang on: its files and the units in which they are said.
func (e edition) key() string {
	return inUnits(e.stamp, e.system())
}

// which finds the edition that is meant: the folder as it stands or with a try's edits, in the
// units wanted. Its draft is the one that its boat was read from.
func (s *service) which(w Which) (edition, error) {
	now := s.desk.current()
	if w.Try != "" {
		one, err := now.try(w.Try)
		if err != nil {
			return now, err
		}
		if now, err = s.with(now, one.Edits); err != nil {
			return now, err
		}
	} else if now.boat == nil {
		return now, faulty(http.StatusConflict, "the boat folder cannot be read as it stands", now.faults)
	} else {
		now.draft = now.good
	}
	return s.said(now, w.Units), nil
}

// with is an edition with edits made.
func (s *service) with(now edition, edits []boatfolder.Edit) (edition, error) {
	t := s.desk.trials.get(strings.Join([]string{"try", now.seen, now.stamp, mark(edits)}, " "), func() trial { return s.tryOut(now, edits) })
	if t.boat == nil {
		return now, faulty(http.StatusConflict, "these edits do not fit the folder as it stands", t.faults)
	}
	now.boat, now.draft, now.stamp, now.stale = t.boat, t.draft, t.stamp, t.stale
	if !t.stale {
		now.faults = nil // the edits mend what the files have
	}
	return now, nil
}

// said is an edition in the units wanted. Sentences and margins are worded by the questions, so
// that it is the folder itself that is turned, and asked again.
func (s *service) said(now edition, wanted string) edition {
	sys := units.Metric
	if wanted == "feet" {
		sys = units.Feet
	}
	if wanted == "" || now.boat == nil || now.system() == sys {
		return now
	}
	other := *now.boat.Folder
	other.Boat.Units = sys
	now.boat = s.desk.boats.ready(now.stamp, &other, now.boat)
	return now
}

// tryOut makes edits on the files as they stand; while those have faults that the edits do not
// mend, on the last that could be read.
func (s *service) tryOut(now edition, edits []boatfolder.Edit) trial {
	first := trial{faults: now.faults}
	for i, from := range now.drafts() {
		draft, faults := change(from, edits)
		var folder *model.Folder
		if len(faults) == 0 {
			folder, faults = readDraft(draft)
		}
		if len(faults) > 0 {
			if i == 0 {
				first.faults = faults
			}
			continue
		}
		made := trial{draft: draft, stamp: draft.Stamp(), stale: from != now.draft}
		made.boat = s.desk.boats.ready(made.stamp, folder, now.boat)
		return made
	}
	return first
}

// drafts are the files as they stand and, where those have faults, the last that could be read.
func (e edition) drafts() []*boatfolder.Draft {
	var out []*boatfolder.Draft
	for _, d := range []*boatfolder.Draft{e.draft, e.good} {
		if d != nil && !slices.Contains(out, d) {
			out = append(out, d)
		}
	}
	return out
}

// mark is a short mark of edits.
func mark(edits []boatfolder.Edit) string {
	b, err := json.Marshal(edits)
	if err != nil { // plain texts and names: it cannot be
		panic(err)
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:16])
}

// try finds a try by its name.
func (e edition) try(name string) (Try, error) {
	i := slices.IndexFunc(e.tries.Tries, func(t Try) bool { return t.Name == name })
	if i >= 0 {
		return e.tries.Tries[i], nil
	}
	there := "there are none"
	if len(e.tries.Tries) > 0 {
		var names []string
		for _, t := range e.tries.Tries {
			names = append(names, t.Name)
		}
		there = "the tries are: " + strings.Join(names, ", ")
	}
	return Try{}, huma.Error404NotFound(fmt.Sprintf("there is no try called %q (%s)", name, there))
}

// faulty is an error that tells of faults in the folder's files, each with its place.
func faulty(status int, say string, faults []Fault) error {
	var details []error
	for _, f := range faults {
		d := &huma.ErrorDetail{Location: f.File, Message: f.Say}
		if f.Line > 0 {
			d.Location = fmt.Sprintf("%s:%d:%d", f.File, f.Line, f.Column)
		}
		if f.Mend != "" {
			d.Message += " (" + f.Mend + ")"
		}
		if f.Text != "" {
			d.Value = f.Text
		}
		details = append(details, d)
	}
	return huma.NewError(status, say, details...)
}
