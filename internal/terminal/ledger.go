package terminal

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
)

// ledgerName is the file that lists what was written into a folder, each with
// the SHA-256 of its content, in the form that sha256sum -c checks. It tells our
// files from a person's, and ours from ours that a person has changed.
const ledgerName = "written.sha256"

// ledger is that list. While files are being replaced a name may have two sums.
type ledger map[string]map[string]bool

// entry is a line of the list.
var entry = regexp.MustCompile(`^([0-9a-f]{64})  ([^/\\]+)$`)

// readLedger reads the list of a folder; a folder without one has an empty list.
//
// Error: a line that is not of its form
func readLedger(d disk, dir string) (ledger, error) {
	l := ledger{}
	b, err := d.Read(filepath.Join(dir, ledgerName))
	if errors.Is(err, fs.ErrNotExist) {
		return l, nil
	}
	if err != nil {
		return l, err
	}
	for i, line := range strings.Split(strings.TrimRight(string(b), "\n"), "\n") {
		m := entry.FindStringSubmatch(strings.TrimRight(line, "\r"))
		if m == nil {
			return ledger{}, fmt.Errorf("%s:%d: this is not a list of files that thole wrote (move it away)", filepath.Join(dir, ledgerName), i+1)
		}
		l.add(m[2], m[1])
	}
	return l, nil
}

func (l ledger) add(name, sum string) {
	if l[name] == nil {
		l[name] = map[string]bool{}
	}
	l[name][sum] = true
}

// write puts the list into the folder.
func (l ledger) write(d disk, dir string) error {
	return writeFile(d, filepath.Join(dir, ledgerName), func(w io.Writer) error {
		var lines []string
		for name, sums := range l {
			for sum := range sums {
				lines = append(lines, sum+"  "+name+"\n")
			}
		}
		sort.Strings(lines)
		_, err := io.WriteString(w, strings.Join(lines, ""))
		return err
	})
}

// sum is the SHA-256 of a content.
func sum(b []byte) string {
	s := sha256.Sum256(b)
	return hex.EncodeToString(s[:])
}

// foreign lists the files that writing would overwrite and that are not as we
// left them: a person's own, or ours with a person's changes.
func (l ledger) foreign(d disk, dir string, files []output) ([]string, error) {
	var out []string
	for _, f := range files {
		b, err := d.Read(filepath.Join(dir, f.name))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if s := sum(b); s != sum(f.content) && !l[f.name][s] {
			out = append(out, f.name)
		}
	}
	return out, nil
}

// left lists the files of an earlier writing that are still there and no longer
// belong to the answer.
func (l ledger) left(d disk, dir string, files []output) []string {
	now := map[string]bool{}
	for _, f := range files {
		now[f.name] = true
	}
	var out []string
	for name := range l {
		if _, err := d.Read(filepath.Join(dir, name)); !now[name] && err == nil {
			out = append(out, name)
		}
	}
	sort.Strings(out)
	return out
}
