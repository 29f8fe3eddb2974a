package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"io/fs"
	"net/http"
	"path"
	"slices"
	"strings"
	"time"

	"thole/internal/answer"
)

// dist is the page as built from web/.
//
//go:embed all:dist
var dist embed.FS

// kinds are the media types of the page's files; the machine's own table of
// types may hold anything.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".svg":  "image/svg+xml",
	".woff": "font/woff",
	".txt":  "text/plain; charset=utf-8",
}

// page is the built page's files by the path at which they are served.
type page map[string]pageFile

type pageFile struct {
	body []byte
	kind string
	tag  string
}

// embeddedPage reads the built page.
func embeddedPage() (page, error) {
	files := page{}
	err := fs.WalkDir(dist, "dist", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		kind, ok := kinds[path.Ext(name)]
		if !ok {
			return nil
		}
		body, err := dist.ReadFile(name)
		sum := sha256.Sum256(body)
		files[strings.TrimPrefix(name, "dist")] = pageFile{body, kind, `"` + hex.EncodeToString(sum[:12]) + `"`}
		return err
	})
	if err != nil {
		return nil, err
	}
	if _, ok := files["/index.html"]; !ok {
		return nil, errors.New("the page has not been built into the program (run: npm ci --ignore-scripts && npm run build, in web/)")
	}
	return files, nil
}

// places are the page's addresses beside those of the questions.
var places = []string{"levers", "tries", "folder", "hand", "stowage"}

// shows tells whether the page itself is at an address: QUESTION,
// QUESTION/parts, QUESTION/parts/NAME or QUESTION/parts/NAME/wall. Which parts
// there are is known only once the question is asked, so any name will do; the
// page says when there is no such part.
func shows(address []string, table []answer.Question) bool {
	if len(address) == 1 && slices.Contains(places, address[0]) {
		return true
	}
	if !slices.ContainsFunc(table, func(q answer.Question) bool { return q.ID == address[0] }) {
		return false
	}
	switch len(address) {
	case 1:
		return true
	case 2, 3, 4:
		return address[1] == "parts" && (len(address) < 3 || address[2] != "") && (len(address) < 4 || address[3] == "wall")
	}
	return false
}

// handler serves the page's files, and the page itself at its own addresses and those of every
// question of the table and of its parts. Nothing else is there, so no path leads anywhere else.
func (p page) handler(table []answer.Question) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			http.Error(w, "This page can only be read.", http.StatusMethodNotAllowed)
			return
		}
		name := r.URL.Path
		if name == "/" || shows(strings.Split(strings.TrimPrefix(name, "/"), "/"), table) {
			name = "/index.html"
		}
		file, ok := p[name]
		if !ok {
			http.Error(w, "There is no such page. The boat is at /.", http.StatusNotFound)
			return
		}
		if strings.HasPrefix(name, "/assets/") { // their names change with their content
			w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		} else {
			w.Header().Set("Cache-Control", "no-cache")
		}
		w.Header().Set("Content-Type", file.kind)
		w.Header().Set("ETag", file.tag)
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(file.body))
	})
}
