package gallery

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"thole/internal/house/golden"
	"thole/internal/sheet"
)

// TestEveryKind walks sheet.Block: a kind that is added there must be shown here,
// and so come before every face.
func TestEveryKind(t *testing.T) {
	kind := reflect.TypeFor[sheet.Block]()
	all := Blocks()
	if kind.NumField() != len(all) || len(Kinds) != len(all) {
		t.Errorf("sheet.Block has %d kinds, the gallery shows %d and lists %d", kind.NumField(), len(all), len(Kinds))
	}
	for i := range kind.NumField() {
		name, _, _ := strings.Cut(kind.Field(i).Tag.Get("json"), ",")
		b, ok := all[name]
		if !ok {
			t.Errorf("the gallery has no %q block", name)
			continue
		}
		if reflect.ValueOf(b).Field(i).IsNil() {
			t.Errorf("the gallery's %q block has another field set", name)
		}
	}
}

// TestBlocksForThePage keeps the list that the page's own tests draw from.
func TestBlocksForThePage(t *testing.T) {
	got, err := json.MarshalIndent(Sheet(), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "blocks.json", append(got, '\n'))
}
