package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"github.com/danielgtaylor/huma/v2"

	"thole/internal/boatfolder"
)

// Try is a named list of edits that are not written to the folder's files.
type Try struct {
	Name  string            `json:"name" minLength:"1" maxLength:"80"`
	Edits []boatfolder.Edit `json:"edits" maxItems:"2000"`
}

// tries are the tries of a folder as they are stored.
type tries struct {
	Version int
	Tries   []Try
	trouble string // what was wrong with their file
}

// otherVersion: somebody else wrote the tries meanwhile.
const otherVersion = "the tries have been written by another page meanwhile: those are at version %d, these were made from version %d; nothing was written"

// TriesNow are all tries of the folder, with what each does to it.
type TriesNow struct {
	Version int     `json:"version" doc:"grows with every writing; to be given back with the next"`
	Tries   []Tried `json:"tries"`
	Trouble string  `json:"trouble,omitempty" doc:"the file of the tries could not be read; where it was put aside"`
}

// Tried is a try and what it does to the folder as it stands.
type Tried struct {
	Name    string              `json:"name"`
	Edits   []boatfolder.Edit   `json:"edits"`
	Changes []boatfolder.Change `json:"changes" doc:"line by line; empty when the edits do not fit"`
	Faults  []Fault             `json:"faults" doc:"why the edits do not fit, or what is wrong with the folder once they are made"`
}

type triesOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         TriesNow
}

type triesInput struct {
	Body struct {
		Version int   `json:"version" minimum:"0" doc:"the version that these tries were made from"`
		Tries   []Try `json:"tries" maxItems:"40"`
	}
}

type keepInput struct {
	Body struct {
		Name    string `json:"name" minLength:"1" maxLength:"80"`
		Version int    `json:"version" minimum:"0" doc:"the version of the tries that is shown"`
	}
}

// Kept is what keeping a try wrote.
type Kept struct {
	Changes []boatfolder.Change `json:"changes"`
	Stamp   string              `json:"stamp" doc:"of the files as they are now"`
	Version int                 `json:"version" doc:"of the tries that are left"`
}

type keptOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         Kept
}

type draftInput struct {
	Body struct {
		Try   string            `json:"try,omitempty" maxLength:"80" doc:"the try on top of which the edits are made; none if left out"`
		Edits []boatfolder.Edit `json:"edits" maxItems:"2000"`
	}
}

// Drafted is what edits would do.
type Drafted struct {
	Changes []boatfolder.Change `json:"changes"`
	Faults  []Fault             `json:"faults" doc:"why the edits do not fit, or what is wrong with the folder once they are made"`
	Values  []boatfolder.Value  `json:"values" doc:"of the files that the edits touch, as they would then stand"`
	Stamp   string              `json:"stamp" doc:"of the files as they would be; empty when the edits do not fit"`
}

type draftedOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         Drafted
}

// registerTries adds the endpoints by which the folder is tried out and changed.
func (s *service) registerTries(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "tries", Method: http.MethodGet, Path: "/api/tries",
		Summary: "The tries: named changes of the folder that are not written to its files",
	}, s.tries)
	huma.Register(api, huma.Operation{
		OperationID: "put-tries", Method: http.MethodPut, Path: "/api/tries", BodyReadTimeout: -1,
		Summary: "Store all tries anew; refused (409) when another page stored some meanwhile",
	}, s.putTries)
	huma.Register(api, huma.Operation{
		OperationID: "keep", Method: http.MethodPost, Path: "/api/keep", BodyReadTimeout: -1,
		Summary: "Write a try into the folder's files, and drop it from the tries",
	}, s.keep)
	huma.Register(api, huma.Operation{
		OperationID: "draft", Method: http.MethodPost, Path: "/api/draft", BodyReadTimeout: -1,
		Summary: "What edits would do to the folder; nothing is stored",
	}, s.draft)
}

func (s *service) tries(context.Context, *struct{}) (*triesOutput, error) {
	return &triesOutput{fresh, s.showTries(s.desk.current())}, nil
}

// showTries tells what each try does to the folder as it stands.
func (s *service) showTries(now edition) TriesNow {
	out := TriesNow{Version: now.tries.Version, Tries: []Tried{}, Trouble: now.tries.trouble}
	for _, t := range now.tries.Tries {
		shown := Tried{Name: t.Name, Edits: t.Edits}
		shown.Changes, _, _, shown.Faults = attempt(now, t.Edits)
		if shown.Edits == nil {
			shown.Edits = []boatfolder.Edit{}
		}
		out.Tries = append(out.Tries, shown)
	}
	return out
}

// attempt makes edits on the files as they stand. The lists are empty rather than nothing.
func attempt(now edition, edits []boatfolder.Edit) (changes []boatfolder.Change, values []boatfolder.Value, stamp string, faults []Fault) {
	changes, values, faults = []boatfolder.Change{}, []boatfolder.Value{}, []Fault{}
	if now.draft == nil {
		return changes, values, "", append(faults, now.faults...)
	}
	d, wrong := change(now.draft, edits)
	if len(wrong) > 0 {
		return changes, values, "", wrong
	}
	changes = append(changes, d.Changes()...)
	var touched []string
	for _, e := range edits {
		if !slices.Contains(touched, e.File) {
			touched = append(touched, e.File)
			values = append(values, d.Values(e.File)...)
		}
	}
	_, wrong = readDraft(d)
	return changes, values, d.Stamp(), append(faults, wrong...)
}

func (s *service) putTries(_ context.Context, in *triesInput) (*triesOutput, error) {
	if err := checkTries(in.Body.Tries); err != nil {
		return nil, err
	}
	for i := range in.Body.Tries {
		in.Body.Tries[i].Edits = boatfolder.Compact(in.Body.Tries[i].Edits)
	}
	s.desk.writing.Lock()
	defer s.desk.writing.Unlock()
	if err := s.desk.store(tries{Version: in.Body.Version, Tries: in.Body.Tries}); err != nil {
		return nil, err
	}
	s.desk.again()
	return &triesOutput{fresh, s.showTries(s.desk.current())}, nil
}

// store writes the tries, if nobody else has meanwhile. They are on the disk when it returns.
func (d *desk) store(t tries) error {
	err := d.from.writeTries(d.dir, t)
	if err == nil {
		d.mu.Lock()
		d.aside = ""
		d.mu.Unlock()
		return nil
	}
	d.again()
	now := d.current().tries
	switch {
	case errors.Is(err, boatfolder.ErrMoved):
		return huma.Error409Conflict(fmt.Sprintf(otherVersion, now.Version, t.Version))
	case now.trouble == "" && now.Version != t.Version: // a broken file was put aside just now
		d.mu.Lock()
		d.aside, d.now.tries.trouble = err.Error(), err.Error()
		d.mu.Unlock()
		return huma.Error409Conflict(err.Error() + "; nothing was written")
	}
	return huma.Error500InternalServerError("the tries could not be written: " + err.Error())
}

// checkTries refuses what could not be told apart or found again.
func checkTries(all []Try) error {
	seen := map[string]bool{}
	for _, t := range all {
		switch {
		case strings.TrimSpace(t.Name) != t.Name || t.Name == "":
			return huma.Error422UnprocessableEntity(fmt.Sprintf("the name %q begins or ends with a blank, or is empty: a try needs a name that can be read", t.Name))
		case strings.ContainsFunc(t.Name, func(r rune) bool { return !unicode.IsPrint(r) }):
			return huma.Error422UnprocessableEntity(fmt.Sprintf("the name %q holds letters that cannot be shown", t.Name))
		case seen[t.Name]:
			return huma.Error422UnprocessableEntity(fmt.Sprintf("two tries are called %q: give one another name", t.Name))
		}
		seen[t.Name] = true
		if err := checkEdits(t.Edits); err != nil {
			return err
		}
	}
	return nil
}

// checkEdits refuses edits that name anything outside the folder, or acts that there are not. The
// reader and the writer never leave the folder either; here it is said before anything is stored.
func checkEdits(edits []boatfolder.Edit) error {
	for _, e := range edits {
		if strings.ContainsAny(e.File, "\\\x00") || !filepath.IsLocal(e.File) || strings.HasPrefix(e.File, ".") {
			return huma.Error422UnprocessableEntity(fmt.Sprintf("an edit names the file %q: only files inside the boat folder can be changed (boat.yaml)", e.File))
		}
		switch e.Do {
		case boatfolder.Set, boatfolder.Insert, boatfolder.Remove:
		default:
			return huma.Error422UnprocessableEntity(fmt.Sprintf("an edit of %s is to %q: it may set (leave it out), %s or %s", e.File, e.Do, boatfolder.Insert, boatfolder.Remove))
		}
	}
	return nil
}

func (s *service) keep(_ context.Context, in *keepInput) (*keptOutput, error) {
	d := s.desk
	d.writing.Lock()
	defer d.writing.Unlock()
	d.again() // what counts is what lies on the disk now
	now := d.current()
	if now.tries.Version != in.Body.Version {
		return nil, huma.Error409Conflict(fmt.Sprintf(otherVersion, now.tries.Version, in.Body.Version))
	}
	one, err := now.try(in.Body.Name)
	if err != nil {
		return nil, err
	}
	// Opened anew: what the questions do not read is not watched either, and may be edited all the same.
	files, faults := d.from.open(d.dir)
	if files == nil {
		return nil, faulty(http.StatusConflict, "the folder cannot be opened; nothing was written", faults)
	}
	draft, faults := change(files, one.Edits)
	if len(faults) > 0 {
		return nil, faulty(http.StatusConflict, "the folder has been changed since these edits were made, and they do not fit it any more; nothing was written", faults)
	}
	if _, faults = readDraft(draft); len(faults) > 0 {
		return nil, faulty(http.StatusUnprocessableEntity, "with these edits the folder cannot be read; nothing was written", faults)
	}
	kept := Kept{Changes: append([]boatfolder.Change{}, draft.Changes()...), Stamp: draft.Stamp()}
	switch err := draft.Save(); {
	case errors.Is(err, boatfolder.ErrMoved):
		d.again()
		return nil, huma.Error409Conflict(err.Error() + "; look at it and keep the try again")
	case err != nil:
		d.again()
		return nil, huma.Error500InternalServerError("the files could not be written: " + err.Error())
	}
	left := slices.DeleteFunc(slices.Clone(now.tries.Tries), func(t Try) bool { return t.Name == one.Name })
	if err := d.store(tries{Version: now.tries.Version, Tries: left}); err != nil {
		return nil, huma.Error500InternalServerError(fmt.Sprintf("the files hold %q now, but it could not be dropped from the tries: %v", one.Name, err))
	}
	d.again()
	kept.Version = d.current().tries.Version
	return &keptOutput{fresh, kept}, nil
}

func (s *service) draft(_ context.Context, in *draftInput) (*draftedOutput, error) {
	if err := checkEdits(in.Body.Edits); err != nil {
		return nil, err
	}
	now, edits := s.desk.current(), in.Body.Edits
	if in.Body.Try != "" {
		one, err := now.try(in.Body.Try)
		if err != nil {
			return nil, err
		}
		edits = append(slices.Clone(one.Edits), edits...)
	}
	var out Drafted
	out.Changes, out.Values, out.Stamp, out.Faults = attempt(now, edits)
	return &draftedOutput{fresh, out}, nil
}
