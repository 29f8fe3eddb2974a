package house

import (
	"go/ast"
	"go/parser"
	"go/token"
	"testing"
)

// parsed is a file of the given text.
func parsed(t *testing.T, text string) file {
	t.Helper()
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, "x_test.go", text, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	return file{name: "x_test.go", pkg: "internal/x", test: true, ast: tree, set: set}
}

// TestSilentIsFound: the rule on comments can fail.
func TestSilentIsFound(t *testing.T) {
	f := parsed(t, `package x
// A is said.
func A() {}
func B() {}
type C int
// D and E are said.
const ( D = 1
E = 2 )
var F = 3
type g int
func (g) H() {}
func (C) Error() string { return "" }
func (C) I() {}
`)
	var got []string
	for _, d := range f.ast.Decls {
		got = append(got, silent(d)...)
	}
	want := "B C F I"
	said := ""
	for i, s := range got {
		if i > 0 {
			said += " "
		}
		said += s
	}
	if said != want {
		t.Errorf("found %q, want %q", said, want)
	}
}

// TestEmptySourceIsFound: the rule on sources can fail.
func TestEmptySourceIsFound(t *testing.T) {
	f := parsed(t, `package x
type row struct { name string; want float64; source string }
var a = []row{ {"a", 1, "a book"}, {"b", 2, ""}, {name: "c", want: 3}, {name: "d", source: "closed form"}, {name: "e", source: " "} }
`)
	var good, bad int
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
			if named(e.(*ast.CompositeLit), at) {
				good++
			} else {
				bad++
			}
		}
		return true
	})
	if good != 2 || bad != 3 {
		t.Errorf("%d rows pass and %d fail, want 2 and 3", good, bad)
	}
}
