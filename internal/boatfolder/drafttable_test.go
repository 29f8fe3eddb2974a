package boatfolder

import (
	"strings"
	"testing"
)

func TestEditsOfCells(t *testing.T) {
	const commas = `# stores
what,count,mass,where,used,known,provides,notes
day bags,5,1.15 kg,202,days 1-10,weighed,,"ends, first"

# the heavy ones
 tool box ,1, 4 kg ,"3.10 m; 0 m; 0.42 m",,weighed,,
"rope, 20 m",,2 kg,202
`
	semicolons := strings.NewReplacer(",", ";", "1.15", "1,15", "3.10", "3,10", "0.42", "0,42").Replace(commas)
	for _, c := range []struct {
		name      string
		text      string
		edit      Edit
		old, want string
	}{
		{name: "a cell", text: commas, edit: Edit{Key: "rows[0].mass", Text: "1.2 kg"}, old: "1.15 kg", want: "1.2 kg"},
		{name: "as places are called elsewhere", text: commas, edit: Edit{Key: "stores[0].mass", Text: "1.2 kg"}, old: "1.15 kg", want: "1.2 kg"},
		{name: "spaces round a cell stay", text: commas, edit: Edit{Key: "rows[1].mass", Text: "5 kg"}, old: " 4 kg ", want: " 5 kg "},
		{name: "a name with spaces", text: commas, edit: Edit{Key: "rows[1].what", Text: "tools"}, old: " tool box ", want: " tools "},
		{name: "quotes stay", text: commas, edit: Edit{Key: "rows[0].notes", Text: "ends"}, old: `"ends, first"`, want: `"ends"`},
		{name: "quotes inside", text: commas, edit: Edit{Key: "rows[0].notes", Text: `the "red" ones`}, old: `"ends, first"`, want: `"the ""red"" ones"`},
		{name: "a separator is quoted", text: commas, edit: Edit{Key: "rows[1].what", Text: "box, tools"}, old: " tool box ", want: `"box, tools"`},
		{name: "a blank cell", text: commas, edit: Edit{Key: "rows[0].provides", Text: "food"}, old: "weighed,,\"", want: "weighed,food,\""},
		{name: "a cell made blank", text: commas, edit: Edit{Key: "rows[0].used", Text: ""}, old: "days 1-10", want: ""},
		{name: "beyond a short row", text: commas, edit: Edit{Key: "rows[2].known", Text: "weighed"}, old: "2 kg,202", want: "2 kg,202,,weighed"},
		{name: "a point", text: commas, edit: Edit{Key: "rows[1].where", Text: "3.2 m; 0 m; 0.42 m"}, old: `"3.10 m; 0 m; 0.42 m"`, want: `"3.2 m; 0 m; 0.42 m"`},
		{name: "a row", text: commas, edit: Edit{Key: "rows[1]", Text: "gel,2,1 kg,202"}, old: ` tool box ,1, 4 kg ,"3.10 m; 0 m; 0.42 m",,weighed,,`, want: "gel,2,1 kg,202"},
		{name: "a row put in", text: commas, edit: Edit{Key: "rows[1]", Do: Insert, Text: "gel,2,1 kg,202"}, old: "# the heavy ones\n", want: "gel,2,1 kg,202\n# the heavy ones\n"},
		{name: "a row put in first", text: commas, edit: Edit{Key: "rows[0]", Do: Insert, Text: "gel,2,1 kg,202"}, old: "day bags", want: "gel,2,1 kg,202\nday bags"},
		{name: "a row put in last", text: commas, edit: Edit{Key: "rows[3]", Do: Insert, Text: "gel,2,1 kg,202"}, old: "2 kg,202\n", want: "2 kg,202\ngel,2,1 kg,202\n"},
		{name: "a row out", text: commas, edit: Edit{Key: "rows[0]", Do: Remove}, old: "day bags,5,1.15 kg,202,days 1-10,weighed,,\"ends, first\"\n", want: ""},
		{name: "the last row out", text: commas, edit: Edit{Key: "rows[2]", Do: Remove}, old: "\"rope, 20 m\",,2 kg,202\n", want: ""},

		{name: "a decimal comma stays", text: semicolons, edit: Edit{Key: "rows[0].mass", Text: "1.2 kg"}, old: "1,15 kg", want: "1,2 kg"},
		{name: "a decimal comma written", text: semicolons, edit: Edit{Key: "rows[0].mass", Text: "1,2 kg"}, old: "1,15 kg", want: "1,2 kg"},
		{name: "a decimal comma where there was none", text: semicolons, edit: Edit{Key: "rows[1].mass", Text: "4.5 kg"}, old: " 4 kg ", want: " 4,5 kg "},
		{name: "a point with semicolons", text: semicolons, edit: Edit{Key: "rows[1].where", Text: "3.2 m; 0 m; 0.42 m"}, old: `"3,10 m; 0 m; 0,42 m"`, want: `"3,2 m; 0 m; 0,42 m"`},
		{name: "words keep their points", text: semicolons, edit: Edit{Key: "rows[0].notes", Text: "see 2.5"}, old: `"ends; first"`, want: `"see 2.5"`},
	} {
		for _, form := range []struct {
			name string
			in   func(string) string
		}{
			{"", func(s string) string { return s }},
			{", lines ended the other way", func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }},
			{", behind a byte order mark", func(s string) string { return byteMark + s }},
			{", without a last line end", func(s string) string { return strings.TrimSuffix(s, "\n") }},
		} {
			t.Run(c.name+form.name, func(t *testing.T) {
				if strings.Count(c.text, c.old) != 1 {
					t.Fatalf("%q is there %d times", c.old, strings.Count(c.text, c.old))
				}
				want := form.in(strings.Replace(c.text, c.old, c.want, 1))
				c.edit.File = "stores.csv"
				d, faults := draftOf(map[string]string{"stores.csv": form.in(c.text)}).With(c.edit)
				if faults != nil {
					t.Fatal(faults)
				}
				if got := string(d.leaf("stores.csv").data); got != want {
					t.Errorf("got\n%q\nwant\n%q", got, want)
				}
			})
		}
	}
}
