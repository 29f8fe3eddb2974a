package web

import (
	"cmp"
	"slices"
	"strings"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/units"
)

// Boat describes the folder being shown.
type Boat struct {
	Name       string          `json:"name"`
	About      string          `json:"about"`
	Units      string          `json:"units" enum:"metric,feet"`
	Days       int             `json:"days" doc:"the last day of the trip; 0 when the folder has no voyage"`
	Leave      string          `json:"leave" doc:"the date of day 0, year-month-day; empty when not given"`
	Conditions []string        `json:"first_day_conditions" doc:"the places the crew may be in, the usual one first"`
	Questions  []QuestionShown `json:"questions" doc:"in the order of the table"`
	Groups     []string        `json:"groups" doc:"the questions' groups in the order in which they are shown"`
	Number     int             `json:"number" doc:"grows with every change of the folder's files"`
	Stamp      string          `json:"stamp" doc:"of the files that the answers are worked out from"`
	Stale      bool            `json:"stale" doc:"the files have faults; what is shown is from before"`
	Faults     []Fault         `json:"faults"`
	Notes      []NoteShown     `json:"notes" doc:"what the reader passed over or took for granted"`
	Events     []Event         `json:"events" doc:"what happens over the trip, by day"`
}

// QuestionShown is a row of the table of questions.
type QuestionShown struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Group string `json:"group"`
	// Search is what may be looked for to better its answer.
	Search *SearchShown `json:"search,omitempty"`
}

// NoteShown is what the reader did with something it found.
type NoteShown struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
	What   string `json:"what"`
	Why    string `json:"why"`
}

// Event is something that happens on a day of the trip.
type Event struct {
	Day  int    `json:"day"`
	Text string `json:"text"`
}

// describe puts an edition into the words of the page. Every list is there,
// empty or not.
func describe(now edition, table []answer.Question, searches *searching, from source) Boat {
	b := Boat{
		Conditions: []string{}, Questions: []QuestionShown{}, Groups: []string{},
		Number: now.number, Stamp: now.stamp, Stale: now.stale, Faults: now.faults,
		Notes: []NoteShown{}, Events: []Event{}, Units: "metric",
	}
	if b.Faults == nil {
		b.Faults = []Fault{}
	}
	for _, q := range table {
		b.Questions = append(b.Questions, QuestionShown{q.ID, q.Title, string(q.Group), searches.shown(q.ID)})
	}
	for _, g := range answer.Groups {
		b.Groups = append(b.Groups, string(g))
	}
	if now.boat == nil {
		return b
	}
	f := now.boat.Folder
	b.Name, b.About = f.Boat.Name, f.Boat.About
	if f.Boat.Units == units.Feet {
		b.Units = "feet"
	}
	b.Days = from.lastDay(f)
	b.Conditions = append(b.Conditions, from.conditions(f)...)
	if f.Voyage != nil && !f.Voyage.Leave.IsZero() {
		b.Leave = f.Voyage.Leave.Format("2006-01-02")
	}
	for _, n := range f.Notes {
		b.Notes = append(b.Notes, NoteShown{n.Where.File, n.Where.Line, n.Where.Column, n.What, n.Why})
	}
	b.Events = append(b.Events, events(f, b.Days)...)
	return b
}

// eventWords bounds how many stores one event names.
const eventWords = 4

// events lists what the folder says of its days: leaving, stores that come into
// use and stores that are used up, arriving. The days are the folder's own.
func events(f *model.Folder, last int) []Event {
	if f.Voyage == nil {
		return nil
	}
	var all []Event
	if from := f.Voyage.From.Name; from != "" {
		all = append(all, Event{0, "leave " + from})
	}
	begun, gone := map[int][]string{}, map[int][]string{}
	for _, s := range f.Stores {
		if s.Use.Last == 0 {
			continue
		}
		if s.Use.First > 1 {
			begun[s.Use.First] = append(begun[s.Use.First], s.What)
		}
		if s.Use.Last < last {
			gone[s.Use.Last] = append(gone[s.Use.Last], s.What)
		}
	}
	for day, what := range begun {
		if len(gone[day-1]) > 0 {
			continue // the next of a row of stores: that the last is used up says it
		}
		all = append(all, Event{day, "begin: " + listed(what)})
	}
	for day, what := range gone {
		all = append(all, Event{day, "used up: " + listed(what)})
	}
	if to := f.Voyage.To.Name; to != "" && last > 0 {
		all = append(all, Event{last, to})
	}
	slices.SortFunc(all, func(a, b Event) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Text, b.Text))
	})
	return all
}

// listed names the first few, each once.
func listed(names []string) string {
	slices.Sort(names)
	names = slices.Compact(names)
	if len(names) > eventWords {
		return strings.Join(names[:eventWords-1], ", ") + " and more"
	}
	return strings.Join(names, ", ")
}
