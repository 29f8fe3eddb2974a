package web

import (
	"context"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

// FolderShown is the folder's text, valid or not.
type FolderShown struct {
	Stamp     string      `json:"stamp"`
	NameOfTry string      `json:"name_of_try" doc:"empty for the folder as it stands"`
	Files     []FileShown `json:"files" doc:"boat.yaml first"`
	Faults    []Fault     `json:"faults"`
	Notes     []NoteShown `json:"notes" doc:"what the reader passed over or took for granted"`
}

// FileShown is one file's text and what in it may be changed.
type FileShown struct {
	Name   string             `json:"name"`
	Text   string             `json:"text"`
	Values []boatfolder.Value `json:"values" doc:"in the order in which they stand"`
}

type folderInput struct {
	Try string `query:"try" maxLength:"80" doc:"the folder with the edits of the try of this name; as it stands if left out"`
}

type folderOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         FolderShown
}

// NeedsNow is what is missing and what was taken for granted, over all questions.
type NeedsNow struct {
	Needs       []NeedShown    `json:"needs"`
	Assumptions []AssumedShown `json:"assumptions"`
	Stamp       string         `json:"stamp"`
}

// NeedShown is an input without which a question cannot be answered.
type NeedShown struct {
	Question  string   `json:"question" doc:"the first that needs it"`
	Title     string   `json:"title" doc:"of that question"`
	Questions []string `json:"questions" doc:"all that need it"`
	File      string   `json:"file"`
	Key       string   `json:"key"`
	Why       string   `json:"why"`
	Line      int      `json:"line" doc:"where the key stands; 0 when it is not written yet"`
}

// AssumedShown is a value that the folder did not give.
type AssumedShown struct {
	What      string   `json:"what"`
	Value     string   `json:"value"`
	Why       string   `json:"why"`
	File      string   `json:"file" doc:"where to say otherwise"`
	Key       string   `json:"key"`
	Line      int      `json:"line" doc:"where the key stands; 0 when it is not written yet"`
	Questions []string `json:"questions" doc:"the ids of those that take it for granted"`
}

type needsOutput struct {
	CacheControl string `header:"Cache-Control"`
	Body         NeedsNow
}

// registerFolder adds the endpoints of the folder's text.
func (s *service) registerFolder(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "folder", Method: http.MethodGet, Path: "/api/folder",
		Summary: "The folder's files as text, with every value that may be changed; also of a folder that has faults",
	}, s.folder)
	huma.Register(api, huma.Operation{
		OperationID: "needs", Method: http.MethodGet, Path: "/api/needs",
		Summary: "What is missing and what was taken for granted, over all questions, with the line it belongs to",
	}, s.needs)
}

// folder shows the text as it stands, so that faults can be mended in it, even where what is
// answered is from before.
func (s *service) folder(_ context.Context, in *folderInput) (*folderOutput, error) {
	now := s.desk.current()
	out := FolderShown{Stamp: now.seen, NameOfTry: in.Try, Files: []FileShown{}, Faults: []Fault{}, Notes: []NoteShown{}}
	draft, boat, faults := now.draft, now.boat, now.faults
	if in.Try != "" {
		one, err := now.try(in.Try)
		if err != nil {
			return nil, err
		}
		with, err := s.with(now, one.Edits)
		if err == nil {
			draft, boat, faults, out.Stamp = with.draft, with.boat, with.faults, with.stamp
		} else if draft != nil {
			changed, wrong := change(draft, one.Edits)
			if len(wrong) > 0 { // shown without the edits that do not fit
				faults = append(slices.Clone(wrong), faults...)
			} else {
				draft, out.Stamp = changed, changed.Stamp()
				_, faults = readDraft(changed)
			}
		}
	}
	out.Faults = append(out.Faults, faults...)
	if boat != nil && len(faults) == 0 {
		for _, n := range boat.Folder.Notes {
			out.Notes = append(out.Notes, NoteShown{n.Where.File, n.Where.Line, n.Where.Column, n.What, n.Why})
		}
	}
	if draft != nil {
		for _, name := range draft.Files() {
			if text, ok := draft.Text(name); ok {
				out.Files = append(out.Files, FileShown{name, text, append([]boatfolder.Value{}, draft.Values(name)...)})
			}
		}
	}
	return &folderOutput{fresh, out}, nil
}

// needs asks every question in brief and gathers what they miss. A question that cannot be asked
// is left out: its own answer says why.
func (s *service) needs(ctx context.Context, in *State) (*needsOutput, error) {
	now, err := s.place(in.Which, &in.Moment)
	if err != nil {
		return nil, err
	}
	answers, _ := s.askAll(ctx, now, in.Moment)
	if err := ctx.Err(); err != nil {
		return nil, trouble(err)
	}
	out := NeedsNow{Needs: []NeedShown{}, Assumptions: []AssumedShown{}, Stamp: now.stamp}
	lines := lineFinder{draft: now.draft, values: map[string][]boatfolder.Value{}}
	for i, q := range s.table {
		for _, n := range answers[i].Needs {
			out.need(q, n, lines.line(n.File, n.Key))
		}
		for _, a := range answers[i].Assumptions {
			out.assumption(q.ID, a, lines)
		}
	}
	return &needsOutput{fresh, out}, nil
}

func (o *NeedsNow) need(q answer.Question, n answer.Need, line int) {
	for i := range o.Needs {
		if have := &o.Needs[i]; have.File == n.File && have.Key == n.Key && have.Why == n.Why {
			have.Questions = append(have.Questions, q.ID)
			return
		}
	}
	o.Needs = append(o.Needs, NeedShown{q.ID, q.Title, []string{q.ID}, n.File, n.Key, n.Why, line})
}

func (o *NeedsNow) assumption(question string, a answer.Assumption, lines lineFinder) {
	file, key, line := whereSaid(a.File)
	for i := range o.Assumptions {
		if have := &o.Assumptions[i]; have.What == a.What && have.Value == a.Value && have.Why == a.Why && have.File == file && have.Key == key {
			if !slices.Contains(have.Questions, question) {
				have.Questions = append(have.Questions, question)
			}
			return
		}
	}
	if line == 0 {
		line = lines.line(file, key)
	}
	o.Assumptions = append(o.Assumptions, AssumedShown{a.What, a.Value, a.Why, file, key, line, []string{question}})
}

// saidAt is how an assumption says where it may be said otherwise: a file, and its key or its line.
var saidAt = regexp.MustCompile(`^([^:;]+?)(?::\s*(\d+)|:\s*([^;]+?))?\s*(?:;.*)?$`)

// whereSaid takes apart boat.yaml: hull.tolerance, cuts.csv:34 and a plain file; of several the first.
func whereSaid(said string) (file, key string, line int) {
	m := saidAt.FindStringSubmatch(strings.TrimSpace(said))
	if m == nil {
		return said, "", 0
	}
	line, _ = strconv.Atoi(m[2]) // empty, or figures
	return m[1], m[3], line
}

// lineFinder finds where a key is written.
type lineFinder struct {
	draft  *boatfolder.Draft
	values map[string][]boatfolder.Value
}

// line is where a key's value stands, or the first of what lies within it; 0 when nothing does.
func (l lineFinder) line(file, key string) int {
	if l.draft == nil || key == "" {
		return 0
	}
	values, ok := l.values[file]
	if !ok {
		values = l.draft.Values(file)
		l.values[file] = values
	}
	for _, v := range values {
		if rest, ok := strings.CutPrefix(v.Key, key); ok && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			return v.Line
		}
	}
	return 0
}
