package web

import (
	"encoding/json"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/byhand"
	"thole/internal/plan"
	"thole/internal/sheet"
)

// typeFiles are where the page says what the server sends.
var typeFiles = []string{"lib/types.ts", "lib/trytypes.ts", "hand/types.ts", "stow/types.ts"}

// TestThePagesTypesAreTheServers holds the page's types against the structs
// that are sent: the same keys, and a key that Go may leave out is optional.
func TestThePagesTypesAreTheServers(t *testing.T) {
	interfaces := map[string][]string{}
	for _, name := range typeFiles {
		source := string(must(os.ReadFile("../../web/src/" + name)))
		for _, m := range regexp.MustCompile(`(?s)export interface (\w+)(?: extends (\w+))? \{(.*?)\n\}`).FindAllStringSubmatch(source, -1) {
			interfaces[m[1]] = append(interfaces[m[1]], interfaces[m[2]]...)
			for _, key := range regexp.MustCompile(`(?m)^  (\w+\??):`).FindAllStringSubmatch(m[3], -1) {
				interfaces[m[1]] = append(interfaces[m[1]], key[1])
			}
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
			t.Errorf("%s: the page's types have %v, Go has %v", typ.Name(), got, want)
		}
	}
	for _, sent := range []any{Boat{}, Asked{}, Told{}, Progress{}, End{}, Changed{}, answer.Answer{}, sheet.Sheet{}, Part{},
		FolderShown{}, NeedsNow{}, TriesNow{}, Try{}, Kept{}, Drafted{}, LeverList{}, LeverRow{}, LeverEnd{}, Pulled{}, byhand.Views{}, plan.Stowage{}, ListNamed{}, ListShown{}, OfferMade{}, Begun{}, Found{}, FoundLast{}} {
		check(reflect.TypeOf(sent))
	}
	for name := range interfaces {
		if !checked[name] {
			t.Errorf("the page's types have %s, which the server does not send", name)
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

// TestTheInterfaceIsDescribed: every endpoint stands in docs/interface.md with an example, and in the description made from the code.
func TestTheInterfaceIsDescribed(t *testing.T) {
	r := newRig(t)
	_, body, _ := r.get(t, "/api/openapi.json")
	var described struct {
		Paths map[string]map[string]any `json:"paths"`
	}
	if err := json.Unmarshal([]byte(body), &described); err != nil || len(described.Paths) < 14 {
		t.Fatalf("%v: %d paths", err, len(described.Paths))
	}
	doc := string(must(os.ReadFile("../../docs/interface.md")))
	for path, methods := range described.Paths {
		words := regexp.MustCompile(`\{\w+\}`).ReplaceAllString(strings.TrimPrefix(path, "/api/"), `[\w-]+`)
		example := regexp.MustCompile(`(?m)^curl .*"\$AT/` + words + `["?]`)
		if got := len(example.FindAllString(doc, -1)); got < len(methods) {
			t.Errorf("docs/interface.md has %d examples of %s, which has %d methods", got, path, len(methods))
		}
	}
}
