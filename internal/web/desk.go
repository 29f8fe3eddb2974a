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
	"thole/internal/model"
	"thole/internal/sheet"
)

// lookPause is how often the folder is looked at for changes, at most.
const lookPause = time.Second

// source is where a boat folder comes from: the disk, or a test.
type source struct {
	read       func(dir string) (*model.Folder, []Fault)
	stamp      func(dir string) (string, error)
	lastDay    func(*model.Folder) int
	conditions func(*model.Folder) []string
	portrait   func(c *answer.Case, day int, condition string) (sheet.Drawing, error)
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
	stamp  string       // of the files that boat was read from
	boat   *answer.Case // the last that could be read; nil when none could
	faults []Fault      // of the files as they stand now
	stale  bool         // boat is older than the files, which have faults
}

// desk keeps the folder that is being shown, and reads it again when it changes.
type desk struct {
	dir  string
	from source

	mu     sync.Mutex
	now    edition
	seen   string // stamp of the files last looked at
	looked time.Time

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
	d := &desk{dir: dir, from: from}
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
	stamp, err := d.from.stamp(d.dir)
	if err != nil {
		stamp = "unreadable: " + err.Error()
	}
	if d.now.number > 0 && stamp == d.seen {
		return
	}
	d.seen = stamp
	next := edition{number: d.now.number + 1, stamp: d.now.stamp, boat: d.now.boat}
	if err != nil {
		next.faults = []Fault{{File: d.dir, Say: err.Error(), Mend: "put the folder back; the page takes it up again by itself"}}
	} else if folder, faults := d.from.read(d.dir); len(faults) > 0 || folder == nil {
		next.faults = faults
	} else {
		// A file written between the stamp and the reading gives the next
		// look another stamp, so the reading is made again then.
		next.boat, next.stamp = answer.NewCase(folder), stamp
	}
	next.stale = next.boat != nil && len(next.faults) > 0
	d.now = next
}

// changes sends every new edition's number, the first at once, until ctx or the
// desk is done.
func (d *desk) changes(ctx context.Context, send func(edition) error) {
	clock := time.NewTicker(lookPause)
	defer clock.Stop()
	sent, quiet := 0, 0
	for {
		now := d.current()
		// A line now and then even when nothing changed shows whether
		// anyone is still there.
		if now.number != sent || quiet >= 15 {
			if send(now) != nil {
				return
			}
			sent, quiet = now.number, 0
		}
		quiet++
		select {
		case <-ctx.Done():
			return
		case <-d.open.Done():
			return
		case <-clock.C:
		}
	}
}

// Close ends the streams of changes.
func (d *desk) Close() error {
	d.close()
	return nil
}
