package web

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"sync"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/sheet"
)

// lookPause is how often the folder is looked at for changes, at most.
const lookPause = time.Second

// source is where a boat folder comes from: the disk, or a test.
type source struct {
	open       func(dir string) (*boatfolder.Draft, []Fault)
	read       func(dir string, d *boatfolder.Draft) (*model.Folder, []Fault)
	stamp      func(dir string) (string, error)
	tries      func(dir string) (tries, error)
	writeTries func(dir string, t tries) error // the version after the one given is stored
	lastDay    func(*model.Folder) int
	conditions func(*model.Folder) []string
	portrait   func(c *answer.Case, day int, condition string) (sheet.Drawing, error)
	hand       hand
	stow       stowed
	levers     levering
}

// Fault is one thing in the folder's files that has to be mended.
type Fault struct {
	File   string `json:"file"`
	Line   int    `json:"line" doc:"1 is the first; 0 when the fault is the whole file's"`
	Column int    `json:"column"`
	Key    string `json:"key"`
	Text   string `json:"text" doc:"the offending text"`
	Say    string `json:"say" doc:"what is wrong with it"`
	Mend   string `json:"mend" doc:"what to write instead"`
}

// edition is the folder as it stood at one moment. It is not changed once made.
type edition struct {
	number int          // grows with every change seen
	seen   string       // stamp of the files as they stand now
	stamp  string       // of the files that boat was read from
	boat   *answer.Case // the last that could be read; nil when none could
	faults []Fault      // of the files as they stand now
	stale  bool         // boat is older than the files, which have faults

	draft *boatfolder.Draft // the files as they stand now; nil when they cannot be opened
	good  *boatfolder.Draft // the files that boat was read from
	tries tries
}

// desk keeps the folder that is being shown, and reads it again when it changes.
type desk struct {
	dir  string
	from source

	mu     sync.Mutex
	now    edition
	looked time.Time
	wake   chan struct{} // closed when the page itself has written something
	aside  string        // what was wrong with a file of tries that was put aside

	writing sync.Mutex // of whoever writes tries or the files

	boats  *boats
	trials *recent[trial] // by the files and the edits

	open  context.Context
	close context.CancelFunc
}

// newDesk reads dir for the first time. It fails only where there is no folder.
func newDesk(dir string, from source) (*desk, error) {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such boat folder", dir)
	case err != nil:
		return nil, err
	case !info.IsDir():
		return nil, fmt.Errorf("%s is not a folder (name the folder that holds boat.yaml)", dir)
	}
	d := &desk{dir: dir, from: from, wake: make(chan struct{}), boats: newBoats(), trials: newRecent[trial](keptTrials)}
	d.open, d.close = context.WithCancel(context.Background())
	d.current()
	return d, nil
}

// current is the folder as it stands, looked at no more often than lookPause.
func (d *desk) current() edition {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.now.number > 0 && time.Since(d.looked) < lookPause {
		return d.now
	}
	d.look()
	d.looked = time.Now()
	return d.now
}

// look reads the folder again if its files changed.
func (d *desk) look() {
	d.lookForTries()
	stamp, err := d.from.stamp(d.dir)
	if err != nil {
		stamp = "unreadable: " + err.Error()
	}
	if d.now.number > 0 && stamp == d.now.seen {
		return
	}
	next := d.now
	next.number, next.seen, next.draft, next.faults = d.now.number+1, stamp, nil, nil
	var folder *model.Folder
	if err != nil {
		next.faults = []Fault{{File: d.dir, Say: err.Error(), Mend: "put the folder back; the page takes it up again by itself"}}
	} else if next.draft, next.faults = d.from.open(d.dir); len(next.faults) == 0 {
		folder, next.faults = d.from.read(d.dir, next.draft)
	}
	if folder != nil && len(next.faults) == 0 {
		// A file written between the stamp and the reading gives the next
		// look another stamp, so the reading is made again then.
		next.boat = d.boats.ready(stamp, folder, d.now.boat)
		next.stamp, next.good = stamp, next.draft
	}
	next.stale = next.boat != nil && len(next.faults) > 0
	d.now = next
}

// lookForTries reads the tries. A broken file is moved out of the way by the reading, which tells of
// it once; here it is told until tries are written again.
func (d *desk) lookForTries() {
	found, err := d.from.tries(d.dir)
	if err != nil {
		if found, again := d.from.tries(d.dir); again == nil {
			d.aside = err.Error()
			d.now.tries = found
		} else {
			d.now.tries.trouble = again.Error()
			return
		}
	} else {
		d.now.tries = found
	}
	d.now.tries.trouble = d.aside
}

// again looks at the folder at once, and tells those who listen.
func (d *desk) again() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.look()
	d.looked = time.Now()
	close(d.wake)
	d.wake = make(chan struct{})
}

// awaken is closed at the next writing.
func (d *desk) awaken() <-chan struct{} {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.wake
}

// changes sends every new edition's number and every new version of the tries, the first at
// once, until ctx or the desk is done.
func (d *desk) changes(ctx context.Context, send func(edition) error) {
	clock := time.NewTicker(lookPause)
	defer clock.Stop()
	sent, tries, quiet := 0, 0, 0
	for {
		woken := d.awaken()
		now := d.current()
		// A line now and then even when nothing changed shows whether
		// anyone is still there.
		if now.number != sent || now.tries.Version != tries || quiet >= 15 {
			if send(now) != nil {
				return
			}
			sent, tries, quiet = now.number, now.tries.Version, 0
		}
		quiet++
		select {
		case <-ctx.Done():
			return
		case <-d.open.Done():
			return
		case <-woken:
		case <-clock.C:
		}
	}
}

// Close ends the streams of changes.
func (d *desk) Close() error {
	d.close()
	return nil
}
