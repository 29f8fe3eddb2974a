package boatfolder

import (
	"regexp"
	"strconv"
	"strings"
	"sync"

	"thole/internal/climate"
	"thole/internal/model"
)

// own is which of a person's own files of the sea one is.
type own int

const (
	ownWind own = iota
	ownCurrent
	ownSets
	ownKinds
)

// judged is what was found in a person's own file of the sea.
type judged struct {
	notes []string
	err   error
}

// judge reads such a file with the package that knows it, for what is wrong with it.
func (k own) judge(name string, data []byte) judged {
	switch k {
	case ownWind:
		f, err := climate.ReadWind(name, data)
		if err != nil {
			return judged{err: err}
		}
		return judged{notes: f.Notes}
	case ownCurrent:
		f, err := climate.ReadCurrent(name, data)
		if err != nil {
			return judged{err: err}
		}
		return judged{notes: f.Notes}
	}
	_, err := climate.ReadZones(name, data)
	return judged{err: err}
}

// seaFile keeps what was found in a file for a draft: a large one takes a second to read.
type seaFile struct {
	once  [ownKinds]sync.Once
	found [ownKinds]judged
}

func (s *seaFile) judge(k own, name string, data []byte) judged {
	s.once[k].Do(func() { s.found[k] = k.judge(name, data) })
	return s.found[k]
}

// ownFile reads a file of winds or currents that voyage.yaml names; nil where it names none.
func (r *reader) ownFile(n *node, k own) *model.File {
	if n == nil {
		return nil
	}
	data, ok := r.open(n)
	if !ok {
		return nil
	}
	var found judged
	if kept, ok := r.files.(pages); ok {
		found = kept.draft.leaf(n.text).sea.judge(k, n.text, data)
	} else {
		found = k.judge(n.text, data)
	}
	if found.err != nil {
		r.seaFaults(n, found.err)
		return nil
	}
	for _, note := range found.notes {
		r.note(n.at, "it is read so", "%s: %s", n.text, note)
	}
	return &model.File{Name: n.text, Data: data}
}

var seaPlace = regexp.MustCompile(`^:([0-9]+): `)

// seaFaults tells the faults of such a file in the way of the others: at its line, or at the key that names it where the whole file is meant.
func (r *reader) seaFaults(n *node, err error) {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, one := range many.Unwrap() {
			r.seaFaults(n, one)
		}
		return
	}
	at, mend := n.at, "mend the first ones and look again"
	say := strings.TrimPrefix(err.Error(), n.text)
	if m := seaPlace.FindStringSubmatch(say); m != nil {
		at, mend = model.Source{File: n.text, Column: 1}, "mend the line, or take it out"
		at.Line, _ = strconv.Atoi(m[1])
		say = say[len(m[0]):]
	} else {
		say = n.text + ": " + strings.TrimPrefix(say, ": ")
	}
	if i := strings.LastIndex(say, ": "); i > 0 {
		say, mend = say[:i], say[i+2:]
	}
	r.fault(at, "", plainLine(mend), "%s", plainLine(say))
}

// plainLine leaves out what cannot be shown of a name that stood in a file of bytes.
func plainLine(text string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f || c == '\ufffd' {
			return '?'
		}
		return c
	}, text)
}
