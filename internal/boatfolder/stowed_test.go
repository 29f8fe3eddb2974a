package boatfolder

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"thole/internal/model"
	"thole/internal/units"
)

func FuzzNeeds(f *testing.F) {
	seed(f, "needs.yaml")
	f.Fuzz(func(t *testing.T, text string) { readWhole(t, "needs.yaml", text) })
}

const stowedStores = "what,count,mass,where,used,known,provides,needs,volume,size,group,apart,dry,most,reach,pinned,expires,inspect,notes\n" +
	"gel,2,1 kg,203,,,eat; Eat;water,crew; battery,1.2 L,20 cm x 8 in x 300 mm,food,fuel;tar,yes,50%,from the cabin,yes,2027-06-30,2027-01-01,\"a; b\"\n" +
	"rope,1,1 kg,203,,,,,,,,,no,,,,,,\n"

// What the columns for stowing say is in the model; a side of 8 in is 203.2 mm (NIST SP 811), and sides run from the longest.
func TestStowedColumns(t *testing.T) {
	f, faults := inMemory(map[string]string{"boat.yaml": smallest + lockers, "offsets.csv": box, "stores.csv": stowedStores})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	got := f.Stores[0]
	day := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }
	want := model.Store{What: "gel", Count: 2, Mass: got.Mass, Where: model.Place{}, Volume: 0.0012, Size: [3]units.Length{0.3, 0.2032, 0.2}, Group: "food",
		Apart: []string{"fuel", "tar"}, Dry: model.KeepDry, Most: 0.5, Reach: model.FromTheCabin, Pinned: true, Provides: []string{"eat", "water"}, Needs: []string{"crew", "battery"},
		Expires: day(2027, 6, 30), Inspect: day(2027, 1, 1), Notes: "a; b", Source: got.Source}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("read as\n%+v\nwant\n%+v", got, want)
	}
	if rope := f.Stores[1]; rope.Dry != model.MayBeWet || rope.Provides != nil || rope.Size != [3]units.Length{} || !rope.Expires.IsZero() {
		t.Errorf("blank cells read as %+v", rope)
	}
	// Semicolons and decimal commas, as spreadsheets write them.
	f, faults = inMemory(map[string]string{"boat.yaml": smallest + lockers, "offsets.csv": box,
		"stores.csv": "what;mass;where;volume;size;provides\ngel;1,5 kg;203;1,2 L;30,5 x 20 x 15 cm;\"eat;water\"\n"})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if s := f.Stores[0]; s.Volume != 0.0012 || s.Size[0] != 0.305 || len(s.Provides) != 2 {
		t.Errorf("read as %+v", s)
	}
}

// Edits know the new keys by the tables of keys: their kinds, their choices, and the file that is not there yet.
func TestStowedEdits(t *testing.T) {
	d := draftOf(map[string]string{"boat.yaml": smallest + lockers, "offsets.csv": box, "stores.csv": stowedStores})
	kinds := map[string]string{}
	for _, v := range d.Values("stores.csv") {
		kinds[v.Key] = v.Kind
		if v.Key == "rows[0].reach" && len(v.Choices) != 3 {
			t.Errorf("choices %v", v.Choices)
		}
	}
	for key, want := range map[string]string{"volume": "volume", "size": "size", "provides": "names", "dry": "yes or no", "most": "share", "reach": "choice", "expires": "date"} {
		if got := kinds["rows[0]."+key]; got != want {
			t.Errorf("%s is %q, want %q", key, got, want)
		}
	}
	after, faults := d.With(
		Edit{File: "needs.yaml", Key: "functions", Text: "[{name: eat, rank: 4}, {name: light, rank: 2, any of: [lamp]}]"},
		Edit{File: "boat.yaml", Key: "compartments[0].reach", Text: "in calm"}, Edit{File: "boat.yaml", Key: "compartments[0].limit", Text: "60 kg"},
		Edit{File: "boat.yaml", Key: "weights[0].provides", Text: "[lamp]"}, Edit{File: "stores.csv", Key: "rows[1].dry", Of: "rope", Was: "no", Text: "yes"},
	)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	after, faults = after.With(Edit{File: "needs.yaml", Key: "functions[1].rank", Of: "light", Text: "3"})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := after.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if c := f.Boat.Compartments[0]; c.Reach != model.InCalm || c.Limit != 60 || f.Needs == nil || f.Needs.Functions[1].Rank != 3 || f.Stores[1].Dry != model.KeepDry || len(f.Boat.Weights[0].Provides) != 1 {
		t.Errorf("read as %+v, %+v", c, f.Needs)
	}
	if text, _ := after.Text("needs.yaml"); !strings.Contains(text, "rank: 3") {
		t.Error(text)
	}
}

// The demo's lockers are reached as their hatches lie. Source: demo/sanderling/boat.yaml, by eye.
func TestReachOf(t *testing.T) {
	f, faults := Read("../../demo/sanderling")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for i, c := range f.Boat.Compartments {
		want := model.InCalm
		switch c.Number / 100 {
		case 2, 4:
			want = model.FromTheCabin
		case 3:
			want = model.AtTheSeat
		}
		if got, given := f.Boat.ReachOf(i); got != want || given {
			t.Errorf("%d is reached %s, want %s", c.Number, got, want)
		}
	}
}
