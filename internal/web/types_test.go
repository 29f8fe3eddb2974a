package web

import (
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/sheet"
)

// TestThePagesTypesAreTheServers holds web/src/lib/types.ts against the structs
// that are sent: the same keys, and a key that Go may leave out is optional.
func TestThePagesTypesAreTheServers(t *testing.T) {
	source := string(must(os.ReadFile("../../web/src/lib/types.ts")))
	interfaces := map[string][]string{}
	for _, m := range regexp.MustCompile(`(?s)export interface (\w+) \{(.*?)\n\}`).FindAllStringSubmatch(source, -1) {
		for _, key := range regexp.MustCompile(`(?m)^  (\w+\??):`).FindAllStringSubmatch(m[2], -1) {
			interfaces[m[1]] = append(interfaces[m[1]], key[1])
		}
	}
	checked := map[string]bool{}
	var check func(reflect.Type)
	check = func(typ reflect.Type) {
		switch typ.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			check(typ.Elem())
			return
		case reflect.Struct:
		default:
			return
		}
		if checked[typ.Name()] {
			return
		}
		checked[typ.Name()] = true
		var want []string
		for i := range typ.NumField() {
			name, rest, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
			if name == "-" {
				continue
			}
			if strings.Contains(rest, "omitempty") {
				name += "?"
			}
			want = append(want, name)
			check(typ.Field(i).Type)
		}
		got := slices.Clone(interfaces[typ.Name()])
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: types.ts has %v, Go has %v", typ.Name(), got, want)
		}
	}
	for _, sent := range []any{Boat{}, Asked{}, Told{}, End{}, Changed{}, answer.Answer{}, sheet.Sheet{}, Part{}} {
		check(reflect.TypeOf(sent))
	}
	for name := range interfaces {
		if !checked[name] {
			t.Errorf("types.ts has %s, which the server does not send", name)
		}
	}
	if len(checked) < 25 {
		t.Errorf("only %d types were checked", len(checked))
	}
}

// TestThePageKnowsEveryRole holds the page's looks of lines against the roles.
func TestThePageKnowsEveryRole(t *testing.T) {
	roles := []sheet.Role{sheet.Main, sheet.Other, sheet.Limit, sheet.Water, sheet.Sea, sheet.Body, sheet.Space, sheet.Thing, sheet.Grid, sheet.Skin, sheet.Pointer}
	css := string(must(os.ReadFile("../../web/src/page.css")))
	types := string(must(os.ReadFile("../../web/src/lib/types.ts")))
	for _, role := range roles {
		if !strings.Contains(css, ".role-"+string(role)+" {") {
			t.Errorf("page.css has no look for %s", role)
		}
		if !strings.Contains(types, `| "`+string(role)+`"`) {
			t.Errorf("types.ts has no role %s", role)
		}
	}
}
