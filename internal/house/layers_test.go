package house

import (
	"bytes"
	"go/ast"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// may says which packages of ours a package may import, apart from itself and
// what lies under it. Arrows run one way; what is not here may import nothing
// of ours until a line is written for it.
var may = map[string][]string{
	"units":      {},
	"cuts":       {},
	"sheet":      {},
	"draw":       {"sheet"},
	"fairing":    {"cuts"},
	"planks":     {"fairing", "cuts"},
	"hydro":      {"cuts"},
	"hydraulics": {},
	"heading":    {"cuts", "hydro"},
	"drift":      {"heading"},
	"motion":     {"heading"},
	"underway":   {"afloat", "cuts", "drift", "fairing", "heading", "hydro", "model", "motion", "resistance", "rowing", "shape", "units"},
	"faulttree":  {},
	"highs":      {},
	"stowing":    {"highs"},
	"stowage":    {"afloat", "model", "shape", "stowing", "hydro", "cuts", "units", "lists"},
	"searches":   {"searches", "answer", "afloat", "crossing", "model", "stowage", "stowing", "sheet", "lists", "units", "voyages"},
	"climate":    {"weather"}, // embeds its data, and so is not among the engine
	"sustenance": {},
	"earth":      {},
	"coast":      {"earth"},
	"materials":  {},
	"rowing":     {},
	"nesting":    {},
	"lines":      {"cuts", "fairing"},
	"resistance": {"cuts", "fairing", "hydro"},
	"lists":      {"model", "units", "sheet"},
	"exchange":   {"afloat", "boatfolder", "lists", "model", "sheet", "stowage", "stowing", "units"},
	"moulds":     {"cuts", "fairing"},
	"model":      {"units"},
	"weather":    {},
	"voyages":    {"weather"},
	"sweep":      {},
	"crossing":   {"afloat", "climate", "coast", "cuts", "drift", "earth", "heading", "hydro", "model", "motion", "underway", "units", "voyages", "weather"},
	"provisions": {"afloat", "lists", "model", "sustenance", "units"},
	"fleet":      {"answer", "afloat", "boatfolder", "climate", "crossing", "levers", "model", "sheet", "sweep", "units", "voyages"},
	"shape":      {"model", "units", "cuts", "fairing", "hydro"},
	"schema":     {},
	"boatfolder": {"units", "model", "cuts", "schema", "climate"},
	"afloat":     {"model", "shape", "units", "cuts", "hydro"},
	"trials":     {"afloat", "model", "shape", "units", "cuts", "hydro"},
	"answer":     {"afloat", "model", "shape", "sheet", "units"},
	"portrait":   {"answer", "afloat", "model", "shape", "sheet", "units", "cuts", "hydro", "fairing"},
	"questions":  {"questions", "answer", "afloat", "model", "shape", "sheet", "units", "cuts", "hydro", "fairing", "portrait", "lines", "moulds", "planks", "nesting", "materials", "hydraulics", "heading", "drift", "rowing", "resistance", "underway", "trials", "faulttree", "stowing", "stowage", "lists", "crossing", "provisions", "sustenance", "voyages", "weather", "climate", "earth", "coast"},
	"levers":     {"answer", "boatfolder", "model", "sheet", "units"},
	"plan":       {"afloat", "answer", "boatfolder", "cuts", "levers", "lists", "model", "shape", "sheet", "stowage", "units"},
	"byhand":     {"answer", "afloat", "boatfolder", "model", "shape", "sheet", "units", "cuts", "fairing", "lines"},
	"terminal":   {"answer", "exchange", "fleet", "levers", "lists", "model", "sheet", "draw", "units"}, // of fleet, what a sweep is asked and comes to; cmd does it
	"book":       {"answer", "levers", "lists", "model", "sheet", "draw", "portrait", "units"},
	"web":        {"answer", "exchange", "levers", "lists", "byhand", "model", "plan", "sheet", "draw", "portrait", "units", "boatfolder"},
	"house":      {"answer", "model", "sheet", "units"},
}

// faces show answers; only cmd may import them.
var faces = map[string]bool{"terminal": true, "book": true, "web": true}

// engine packages must also build for the browser, and so draw nothing, print
// nothing and open no file, database or connection.
var engine = map[string]bool{"units": true, "cuts": true, "sheet": true, "fairing": true, "nesting": true, "materials": true, "planks": true, "hydro": true, "model": true,
	"shape": true, "answer": true, "questions": true, "portrait": true, "afloat": true, "lines": true, "moulds": true, "hydraulics": true, "resistance": true, "heading": true, "drift": true, "motion": true, "underway": true, "trials": true, "rowing": true, "faulttree": true, "lists": true, "stowing": true, "stowage": true,
	"earth": true, "sustenance": true, "weather": true, "voyages": true, "crossing": true, "provisions": true}

// layer is the name by which a package stands in the table: the folder under
// internal, or schema; nothing for what only wires and tests (cmd, web).
func layer(pkg string) string {
	rest, ok := strings.CutPrefix(pkg, "internal/")
	if !ok && rest != "schema" {
		return ""
	}
	name, _, _ := strings.Cut(rest, "/")
	return name
}

// TestArrows: imports run one way.
func TestArrows(t *testing.T) {
	for _, f := range files(t) {
		from := layer(f.pkg)
		allowed, known := may[from]
		if from != "" && !known {
			t.Errorf("%s: package %s has no line in the table of layers", f.name, f.pkg)
			continue
		}
		for _, path := range f.imports() {
			ours, ok := strings.CutPrefix(path, "thole/")
			if !ok || from == "" {
				continue
			}
			to := layer(ours)
			if faces[to] && to != from {
				t.Errorf("%s: only cmd imports the face %s", f.name, to)
			}
			if f.test && (to == "house" || !faces[to]) || to == from && from != "questions" {
				continue // a test may look further down, and use the house's helpers
			}
			if !contains(allowed, to) {
				t.Errorf("%s: %s may not import %s", f.name, from, to)
			}
		}
	}
}

// TestQuestionsStandAlone: a question imports no other question; only the table does.
func TestQuestionsStandAlone(t *testing.T) {
	for _, f := range files(t) {
		if layer(f.pkg) != "questions" || f.pkg == "internal/questions" {
			continue
		}
		for _, path := range f.imports() {
			if strings.HasPrefix(path, "thole/internal/questions") && path != "thole/"+f.pkg {
				t.Errorf("%s: a question imports %s; what both need moves down", f.name, path)
			}
		}
	}
}

// TestEngineIsBare: the engine imports nothing that draws, prints, stores or connects.
func TestEngineIsBare(t *testing.T) {
	banned := []string{"net", "net/http", "database/sql", "os/exec", "embed", "html/template",
		"codeberg.org/go-pdf/", "github.com/spf13/", "github.com/vbauerster/", "github.com/danielgtaylor/", "modernc.org/",
		"github.com/tdewolff/", "golang.org/x/image/", "image"}
	for _, f := range files(t) {
		if !engine[layer(f.pkg)] || f.test {
			continue
		}
		for _, path := range f.imports() {
			for _, b := range banned {
				if path == b || strings.HasSuffix(b, "/") && strings.HasPrefix(path, b) {
					t.Errorf("%s: the engine imports %s", f.name, path)
				}
			}
		}
	}
}

// TestFacesNameNoQuestion: a face whose source holds a question's name knows
// something that the next question would have to teach it again.
func TestFacesNameNoQuestion(t *testing.T) {
	ids := questions(t)
	for _, f := range files(t) {
		if !faces[layer(f.pkg)] || f.test {
			continue
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			s, err := strconv.Unquote(lit.Value)
			if err == nil && contains(ids, s) {
				t.Errorf("%s: a face names the question %q", f.at(lit), s)
			}
			return true
		})
	}
}

// questions lists the names of the questions: the folders under internal/questions.
func questions(t *testing.T) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(root, "internal/questions/*/*.go"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, f := range found {
		seen[filepath.Base(filepath.Dir(f))] = true
	}
	var out []string
	for id := range seen {
		out = append(out, id)
	}
	sort.Strings(out)
	return out
}

// TestEveryQuestionIsListed: a folder under questions stands in the table.
func TestEveryQuestionIsListed(t *testing.T) {
	listed := map[string]bool{}
	for _, f := range files(t) {
		if f.pkg == "internal/questions" {
			for _, path := range f.imports() {
				listed[filepath.Base(path)] = true
			}
		}
	}
	for _, id := range questions(t) {
		if !listed[id] {
			t.Errorf("internal/questions/%s is not in the table of questions", id)
		}
	}
}

// TestPageDrawsEveryBlock: the page's source handles every kind of block by its
// JSON name. (That what it does with them can be seen is its own tests' work; the
// gallery's blocks.json has an example of each.)
func TestPageDrawsEveryBlock(t *testing.T) {
	var all bytes.Buffer
	src := filepath.Join(root, "web", "src")
	if _, err := os.Stat(src); os.IsNotExist(err) {
		t.Skip("there is no page's source here")
	}
	err := filepath.Walk(src, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		all.Write(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range kinds() {
		if !bytes.Contains(all.Bytes(), []byte("block."+kind)) {
			t.Errorf("the page does not draw a block's %q (no block.%s in web/src)", kind, kind)
		}
	}
}

// TestEngineBuildsForTheBrowser builds the engine for WebAssembly.
func TestEngineBuildsForTheBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("builds for another machine; left out with -short")
	}
	seen := map[string]bool{}
	for _, f := range files(t) {
		if engine[layer(f.pkg)] && !f.test {
			seen["thole/"+f.pkg] = true
		}
	}
	args := []string{"build"}
	for p := range seen {
		args = append(args, p)
	}
	sort.Strings(args[1:])
	c := exec.Command("go", args...)
	c.Dir = root
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	if out, err := c.CombinedOutput(); err != nil {
		t.Errorf("the engine does not build for the browser: %v\n%s", err, out)
	}
}

// contains tells whether a list holds a word.
func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
