package house

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// root is the module's folder seen from this package.
const root = "../.."

// file is one Go file of the module.
type file struct {
	name string // from the module's folder, with slashes
	pkg  string // import path without the module's name: internal/draw
	test bool
	ast  *ast.File
	set  *token.FileSet
}

// lines is how many lines a file has.
func (f file) lines() int { return f.set.File(f.ast.Pos()).LineCount() }

// at is where a node stands.
func (f file) at(n ast.Node) string {
	p := f.set.Position(n.Pos())
	p.Filename = f.name
	return p.String()
}

// imports lists what a file imports.
func (f file) imports() []string {
	var out []string
	for _, i := range f.ast.Imports {
		out = append(out, strings.Trim(i.Path.Value, `"`))
	}
	return out
}

// files reads every Go file of the module.
func files(t *testing.T) []file {
	t.Helper()
	var out []file
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			switch d.Name() {
			case "node_modules", "testdata", ".git", "dist", "tools":
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(strings.TrimPrefix(path, root+string(filepath.Separator)))
		pkg := filepath.ToSlash(filepath.Dir(name))
		out = append(out, file{name: name, pkg: pkg, test: strings.HasSuffix(name, "_test.go"), ast: tree, set: set})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) < 10 {
		t.Fatalf("only %d files found", len(out))
	}
	return out
}

// isGenerated tells whether a file says that no person wrote it.
func (f file) isGenerated() bool { return ast.IsGenerated(f.ast) }

// TestLength: past 500 lines a file has a seam.
func TestLength(t *testing.T) {
	for _, f := range files(t) {
		if n := f.lines(); n > 500 && !f.isGenerated() {
			t.Errorf("%s has %d lines: find the seam (500 at most)", f.name, n)
		}
	}
}

// TestComments: every package, and every exported thing in it, says what it is.
func TestComments(t *testing.T) {
	said := map[string]bool{}
	for _, f := range files(t) {
		if f.test {
			continue
		}
		said[f.pkg] = said[f.pkg] || f.ast.Doc.Text() != ""
		for _, d := range f.ast.Decls {
			for _, name := range silent(d) {
				t.Errorf("%s: %s has no comment", f.at(d), name)
			}
		}
	}
	for pkg, ok := range said {
		if !ok {
			t.Errorf("package %s has no comment", pkg)
		}
	}
}

// silent lists the exported names of a declaration that bear no comment.
func silent(d ast.Decl) []string {
	var out []string
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && d.Doc.Text() == "" && !(d.Recv != nil && (hidden(d.Recv) || customary[d.Name.Name])) {
			out = append(out, d.Name.Name)
		}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				if s.Name.IsExported() && d.Doc.Text()+s.Doc.Text() == "" {
					out = append(out, s.Name.Name)
				}
			case *ast.ValueSpec:
				for _, n := range s.Names {
					if n.IsExported() && d.Doc.Text()+s.Doc.Text()+s.Comment.Text() == "" {
						out = append(out, n.Name)
					}
				}
			}
		}
	}
	return out
}

// customary are methods whose meaning their interface already says.
var customary = map[string]bool{"Error": true, "String": true, "Len": true, "Less": true, "Swap": true, "Unwrap": true,
	"MarshalJSON": true, "UnmarshalJSON": true, "ServeHTTP": true, "Read": true, "Write": true, "Close": true}

// hidden tells whether a method belongs to a type that is not exported.
func hidden(recv *ast.FieldList) bool {
	t := recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.Ident:
			return !x.IsExported()
		default:
			return false
		}
	}
}

// TestSources: a row of a numeric check that has a source names it. In a struct
// with a field `source`, the field is written down and not empty, in every row.
func TestSources(t *testing.T) {
	rows := 0
	for _, f := range files(t) {
		if !f.test {
			continue
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			list, ok := n.(*ast.CompositeLit)
			if !ok {
				return true
			}
			at, ok := sourceField(f, list.Type)
			if !ok {
				return true
			}
			for _, e := range list.Elts {
				if kv, ok := e.(*ast.KeyValueExpr); ok {
					e = kv.Value
				}
				row, ok := e.(*ast.CompositeLit)
				if !ok {
					continue
				}
				rows++
				if !named(row, at) {
					t.Errorf("%s: a check without a source", f.at(row))
				}
			}
			return true
		})
	}
	t.Logf("%d rows with a source", rows)
}

// sourceField is the place of the field `source` in the struct that a list holds,
// where the list's type or the file's own declaration shows it.
func sourceField(f file, t ast.Expr) (int, bool) {
	var elem ast.Expr
	switch t := t.(type) {
	case *ast.ArrayType:
		elem = t.Elt
	case *ast.MapType:
		elem = t.Value
	default:
		return 0, false
	}
	if id, ok := elem.(*ast.Ident); ok {
		ast.Inspect(f.ast, func(n ast.Node) bool {
			if s, ok := n.(*ast.TypeSpec); ok && s.Name.Name == id.Name {
				elem = s.Type
			}
			return true
		})
	}
	s, ok := elem.(*ast.StructType)
	if !ok {
		return 0, false
	}
	i := 0
	for _, field := range s.Fields.List {
		for _, n := range field.Names {
			if strings.EqualFold(n.Name, "source") {
				return i, true
			}
			i++
		}
	}
	return 0, false
}

// named tells whether a row's source is written and not an empty string.
func named(row *ast.CompositeLit, at int) bool {
	full := func(e ast.Expr) bool {
		lit, ok := e.(*ast.BasicLit)
		return !ok || strings.Trim(lit.Value, "\"` ") != ""
	}
	for i, e := range row.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			if id, ok := kv.Key.(*ast.Ident); ok && strings.EqualFold(id.Name, "source") {
				return full(kv.Value)
			}
			continue
		}
		if i == at {
			return full(e)
		}
	}
	return false
}
