package boatfolder

import (
	"strings"
	"testing"
)

// draftOf is a draft of files in memory, beside the smallest folder.
func draftOf(files map[string]string) *Draft { return openWith("nowhere", with(files)) }

// edited makes edits that must be made, and gives the file's text.
func edited(t *testing.T, file, text string, edits ...Edit) string {
	t.Helper()
	for i := range edits {
		edits[i].File = file
	}
	d, faults := draftOf(map[string]string{file: text}).With(edits...)
	if faults != nil {
		t.Fatalf("faults:\n%v", faults)
	}
	return string(d.leaf(file).data)
}

// Each edit leaves every other byte as it stood.
func TestEditsOfKeys(t *testing.T) {
	const boat = `# head
boat: "Two: words"   # her name
about: |   # in short
  one
  two

units: metric
hull:
  offsets: offsets.csv  # table
  tolerance: 2 mm
deck: {camber: 60 mm}     # crown
limits:
weights:
  # the shell
  - {what: planking, mass: 68 kg, at: [3.41 m, 0 m, 0.35 m +- 15 mm]}   # by area

  # Loose gear.
  - what: 'mate''s bag'
    mass: 4 kg   # guessed
    in: 203
    # nothing below
  # - {what: left out}
marks: [{name: bow, at: [0.4 m, 0.3 m]}]
loft:
  moulds: [1 m,
    2 m, # middle
    3 m]
# tail
`
	for _, c := range []struct {
		name      string
		edit      Edit
		old, want string // one replacement of the text
	}{
		{"a plain value", Edit{Key: "units", Text: "feet"}, "units: metric", "units: feet"},
		{"in brackets", Edit{Key: "weights[0].mass", Text: "70.5 kg +- 10%"}, "68 kg", "70.5 kg +- 10%"},
		{"a coordinate", Edit{Key: "weights[0].at[2]", Text: "0.4 m"}, "0.35 m +- 15 mm", "0.4 m"},
		{"double quotes stay", Edit{Key: "boat", Text: "Wren"}, `"Two: words"`, `"Wren"`},
		{"double quotes inside", Edit{Key: "boat", Text: `The "Wren" \ 2`}, `"Two: words"`, `"The \"Wren\" \\ 2"`},
		{"single quotes stay", Edit{Key: "weights[1].what", Text: "cook's box"}, `'mate''s bag'`, `'cook''s box'`},
		{"a comma in brackets", Edit{Key: "weights[0].what", Text: "planking, 9 mm"}, "what: planking", `what: "planking, 9 mm"`},
		{"a colon in brackets", Edit{Key: "weights[0].what", Text: "planking: oak"}, "what: planking", `what: "planking: oak"`},
		{"a bracket in brackets", Edit{Key: "weights[0].what", Text: "a }b"}, "what: planking", `what: "a }b"`},
		{"a comma on a line", Edit{Key: "hull.offsets", Text: "a,b.csv"}, "offsets.csv", "a,b.csv"},
		{"a number sign", Edit{Key: "hull.offsets", Text: "a #b"}, "offsets.csv", `"a #b"`},
		{"a quotation mark", Edit{Key: "deck.camber", Text: `2 1/2"`}, "60 mm", `'2 1/2"'`},
		{"a minus", Edit{Key: "weights[0].at[1]", Text: "-0.2 m"}, "m, 0 m, 0.35", "m, -0.2 m, 0.35"},
		{"a leading hyphen", Edit{Key: "units", Text: "- x"}, "metric", `"- x"`},
		{"null", Edit{Key: "units", Text: "null"}, "metric", `"null"`},
		{"an apostrophe first", Edit{Key: "weights[0].what", Text: "'t"}, "what: planking", `what: "'t"`},
		{"lines of text", Edit{Key: "about", Text: "three\n\nfour: # 5\n"}, "  one\n  two\n", "  three\n\n  four: # 5\n"},
		{"a line of text without end", Edit{Key: "about", Text: "three"}, "|   # in short\n  one\n  two\n", "|-   # in short\n  three\n"},
		{"a point", Edit{Key: "weights[0].at", Text: "[1 m, 2 m, 3 m]"}, "[3.41 m, 0 m, 0.35 m +- 15 mm]", "[1 m, 2 m, 3 m]"},
		{"an item", Edit{Key: "marks[0]", Text: "{name: stern, at: [6 m, 0.3 m]}"}, "{name: bow, at: [0.4 m, 0.3 m]}", "{name: stern, at: [6 m, 0.3 m]}"},

		{"a new key in brackets", Edit{Key: "weights[0].ballast", Text: "yes"}, "15 mm]}", "15 mm], ballast: yes}"},
		{"a new key of lines", Edit{Key: "weights[1].count", Text: "2"}, "    # nothing below\n", "    count: 2\n    # nothing below\n"},
		{"a new key of the file", Edit{Key: "water", Text: "1000 kg/m3"}, "    3 m]\n", "    3 m]\nwater: 1000 kg/m3\n"},
		{"a new key of a key with others", Edit{Key: "hull.planking", Text: "9 mm"}, "  tolerance: 2 mm\n", "  tolerance: 2 mm\n  planking: 9 mm\n"},
		{"a new key of an empty key", Edit{Key: "limits.heel", Text: "1 deg"}, "limits:", "limits: {heel: 1 deg}"},
		{"a new tuple", Edit{Key: "loft.sheet", Text: "[2440 mm, 1220 mm]"}, "    3 m]\n", "    3 m]\n  sheet: [2440 mm, 1220 mm]\n"},

		{"an item first", Edit{Key: "weights[0]", Do: Insert, Text: "{what: keel, mass: 9 kg, in: 1}"}, "  # the shell\n", "  - {what: keel, mass: 9 kg, in: 1}\n  # the shell\n"},
		{"an item between", Edit{Key: "weights[1]", Do: Insert, Text: "{what: keel, mass: 9 kg, in: 1}"}, "  # Loose gear.\n", "  - {what: keel, mass: 9 kg, in: 1}\n  # Loose gear.\n"},
		{"an item last", Edit{Key: "weights[2]", Do: Insert, Text: "what: keel\nmass: 9 kg"}, "    # nothing below\n", "    # nothing below\n  - what: keel\n    mass: 9 kg\n"},
		{"an item in brackets first", Edit{Key: "marks[0]", Do: Insert, Text: "{name: stern, at: [6 m, 0.3 m]}"}, "[{name: bow", "[{name: stern, at: [6 m, 0.3 m]}, {name: bow"},
		{"an item in brackets last", Edit{Key: "loft.moulds[3]", Do: Insert, Text: "4 m"}, "    3 m]", "    3 m, 4 m]"},
		{"a list that was not there", Edit{Key: "pumps[0]", Do: Insert, Text: "{name: hand, kind: hand}"}, "    3 m]\n", "    3 m]\npumps:\n  - {name: hand, kind: hand}\n"},
		{"a list in a key", Edit{Key: "weights[0].at", Do: Remove}, ", at: [3.41 m, 0 m, 0.35 m +- 15 mm]", ""},

		{"an item and its remark out", Edit{Key: "weights[0]", Do: Remove}, "  - {what: planking, mass: 68 kg, at: [3.41 m, 0 m, 0.35 m +- 15 mm]}   # by area\n", ""},
		{"an item of lines out", Edit{Key: "weights[1]", Do: Remove}, "  - what: 'mate''s bag'\n    mass: 4 kg   # guessed\n    in: 203\n    # nothing below\n", ""},
		{"a key and its remark out", Edit{Key: "weights[1].mass", Do: Remove}, "    mass: 4 kg   # guessed\n", ""},
		{"an item's first key out", Edit{Key: "weights[1].what", Do: Remove}, "what: 'mate''s bag'\n    mass", "mass"},
		{"the first in brackets out", Edit{Key: "weights[0].what", Do: Remove}, "what: planking, ", ""},
		{"the last in brackets out", Edit{Key: "weights[0].at[2]", Do: Remove}, ", 0.35 m +- 15 mm", ""},
		{"one on its own line out", Edit{Key: "loft.moulds[1]", Do: Remove}, "    2 m, # middle\n", ""},
		{"the only item out", Edit{Key: "marks[0]", Do: Remove}, "[{name: bow, at: [0.4 m, 0.3 m]}]", "[]"},
		{"the only key out", Edit{Key: "deck.camber", Do: Remove}, "{camber: 60 mm}", "{}"},
		{"the only key of lines out", Edit{Key: "loft.moulds", Do: Remove}, "loft:\n  moulds: [1 m,\n    2 m, # middle\n    3 m]\n", "loft: {}\n"},
		{"a key of the file out", Edit{Key: "boat", Do: Remove}, "boat: \"Two: words\"   # her name\n", ""},
		{"text of lines out", Edit{Key: "about", Do: Remove}, "about: |   # in short\n  one\n  two\n", ""},
	} {
		for _, form := range []struct {
			name string
			in   func(string) string
		}{
			{"", func(s string) string { return s }},
			{", lines ended the other way", func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }},
			{", behind a byte order mark", func(s string) string { return byteMark + s }},
			{", without a last line end", func(s string) string { return strings.TrimSuffix(s, "\n# tail\n") }},
		} {
			t.Run(c.name+form.name, func(t *testing.T) {
				if strings.Count(boat, c.old) < 1 {
					t.Fatalf("%q is not in the text", c.old)
				}
				want := form.in(strings.Replace(boat, c.old, c.want, 1))
				if got := edited(t, "boat.yaml", form.in(boat), c.edit); got != want {
					t.Errorf("got\n%q\nwant\n%q", got, want)
				}
			})
		}
	}
}
