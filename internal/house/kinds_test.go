package house

import (
	"reflect"
	"strings"

	"thole/internal/sheet"
)

// kinds lists the JSON names of the kinds of block.
func kinds() []string {
	var out []string
	t := reflect.TypeFor[sheet.Block]()
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		out = append(out, name)
	}
	return out
}
