package plan

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
)

// box is a boat of flat sides, 4 m long, 1 m broad and 0.6 m deep, with lockers whose sizes are closed forms.
const boxBoat = `boat: Box
hull:
  offsets: offsets.csv
weights:
  - {what: all up, mass: 300 kg, at: [2 m, 0 m, 0.2 m]}
compartments:
  - {number: 1, name: fore, from: 0 m, to: 1 m, packing: 50%}
  - {number: 2, name: low port, from: 1 m, to: 3 m, side: port, top: 0.3 m, packing: 60%, limit: 20 kg}
  - {number: 3, name: low starboard, from: 1 m, to: 3 m, side: starboard, top: 0.3 m, packing: 60%, wet: yes}
  - {number: 4, name: over all, from: 1 m, to: 3 m, sole: 0.3 m, packing: 60%}
  - {name: stern, from: 3 m, to: 4 m, packing: 60%}
`

const boxOffsets = "station,distance_mm,height_mm,halfbreadth_mm\n" +
	"0,0,0,0\n0,0,0,500\n0,0,0,500\n0,0,600,500\n" +
	"1,2000,0,0\n1,2000,0,500\n1,2000,0,500\n1,2000,600,500\n" +
	"2,4000,0,0\n2,4000,0,500\n2,4000,0,500\n2,4000,600,500\n"

const boxStores = `what,count,mass,where,used,volume,dry,pinned,notes
bread,10,1 kg,2,days 1-10,2 L,yes,,
water,8,1 kg,3,days 3-10 into 1,1 L,,,
"rope, long",1,5 kg,stern,,,,yes,
lamp,1,0.5 kg,2.0 m; 0.1 m; 0.4 m,,1 L,,,
bread,4,1 kg,4,days 11-14,2 L,,,
`

func boxDraft(t *testing.T) *boatfolder.Draft {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"boat.yaml": boxBoat, "offsets.csv": boxOffsets, "stores.csv": boxStores} {
		write(t, dir, name, text)
	}
	d, faults := boatfolder.Open(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return d
}

func read(t *testing.T, d *boatfolder.Draft) *model.Folder {
	t.Helper()
	f, faults := d.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

func TestLockersOfABox(t *testing.T) {
	d := boxDraft(t)
	s, err := Load(answer.NewCase(read(t, d)), d, 5, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		locker                     int
		usable, filled, mass       float64
		word, side                 string
		wet, over, heavy, noVolume bool
		source                     string
	}{
		// 8 of the water over days 3-10 is one a day: 3 are gone at the end of day 5, and lie in 1.
		{0, 0.5 * 1 * 1 * 0.6, 0.003, 3, "1", "both", false, false, false, false, "length times breadth times depth times packing; 3 of 1 L"},
		{1, 0.6 * 2 * 0.5 * 0.3, 0.010, 5, "2", "port", false, false, false, false, "half the breadth; 5 of 2 L are left"},
		{2, 0.6 * 2 * 0.5 * 0.3, 0.005, 5, "3", "starboard", true, false, false, false, "5 of 1 L are left"},
		{3, 0.6 * 2 * 1 * 0.3, 0.008, 4, "4", "both", false, false, false, false, "the upper half; nothing of it is used before day 11"},
		{4, 0.6 * 1 * 1 * 0.6, 0, 5, "stern", "both", false, false, false, true, "its one thing has no volume"},
	} {
		if c.source == "" {
			t.Fatal("no source")
		}
		l := s.Lockers[c.locker]
		// The hull is faired, so that its corners are known to a tenth of a millimetre.
		if math.Abs(l.UsableVolume-c.usable) > 1e-3*c.usable || math.Abs(l.FilledVolume-c.filled) > 1e-12 || math.Abs(l.MassIn-c.mass) > 1e-12 {
			t.Errorf("%s: %.5f m3 usable, %.5f filled, %.3f kg; want %.5f, %.5f, %.3f (%s)", l.Name, l.UsableVolume, l.FilledVolume, l.MassIn, c.usable, c.filled, c.mass, c.source)
		}
		if l.Word != c.word || l.Side != c.side || l.Wet != c.wet || l.Over != c.over || l.TooHeavy != c.heavy || (l.Unknown > 0) != c.noVolume {
			t.Errorf("%+v", l)
		}
	}
	if b := s.Things[0]; b.Left != 5 || b.Count != 10 || !b.Dry || b.Pinned || b.Was != "2" || b.PinKey == "" || b.Used != "days 1 to 10" || b.Line != 2 {
		t.Errorf("%+v", b)
	}
	if r := s.Things[2]; !r.Pinned || r.Locker != 4 || r.Volume != "" {
		t.Errorf("%+v", r)
	}
}

func TestTooMuchIsSaid(t *testing.T) {
	d := boxDraft(t)
	// Its limit is 20 kg and it holds 180 L: 100 loaves of 2 L and 1 kg are too much of both.
	d, faults := d.With(boatfolder.Edit{File: "stores.csv", Key: "rows[0].count", Was: "10", Text: "100"})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s, err := Load(answer.NewCase(read(t, d)), d, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	if l := s.Lockers[1]; !l.Over || !l.TooHeavy || l.Room != "20 L too much" || math.Abs(l.Share-200.0/180) > 2e-3 {
		t.Errorf("%+v", l)
	}
}

// TestViews: what covers another lies in a view above it, every compartment is in the views of its side, and every thing
// that is left is drawn inside the outline of the compartment that it lies in.
func TestViews(t *testing.T) {
	d := boxDraft(t)
	s, err := Draw(answer.NewCase(read(t, d)), d, 5, "")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, v := range s.Views {
		words := ""
		for _, o := range v.Lockers {
			if o.Locker >= 0 {
				words += " " + s.Now.Lockers[o.Locker].Short
			} else if len(o.Spots) > 0 {
				words += " loose"
			}
			for _, spot := range o.Spots {
				if o.Locker >= 0 && !inside(o.Points, spot.At) {
					t.Errorf("%s: %s is drawn outside %s", v.Name, spot.Thing, s.Now.Lockers[o.Locker].Name)
				}
			}
		}
		got = append(got, v.Name+":"+words)
	}
	want := []string{"From above, the upper ones: 1 4 stern loose", "From above, those under them: 2 3", "Starboard side: 1 3 4 stern loose", "Port side: 1 2 4 stern"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s", strings.Join(got, "\n"))
	}
	// The outline of 2 from above is 2 m by 0.5 m, to port: closed form.
	lo, hi := extent(s.Views[1].Lockers[0].Points)
	if math.Abs(lo[0]-1) > 1e-3 || math.Abs(hi[0]-3) > 1e-3 || math.Abs(lo[1]+0.5) > 1e-3 || math.Abs(hi[1]) > 1e-3 {
		t.Errorf("%v to %v", lo, hi)
	}
}

func extent(points [][2]float64) (lo, hi [2]float64) {
	lo, hi = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, q := range points {
		for k := range q {
			lo[k], hi[k] = math.Min(lo[k], q[k]), math.Max(hi[k], q[k])
		}
	}
	return lo, hi
}

// inside counts the crossings of a ray, which is odd inside (Shimrat, CACM 5 (1962) 434).
func inside(loop [][2]float64, at [2]float64) bool {
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a[1] > at[1]) != (b[1] > at[1]) && at[0] < a[0]+(at[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

func TestCalendar(t *testing.T) {
	d := boxDraft(t)
	s, err := Draw(answer.NewCase(read(t, d)), d, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Calendar) != 2 || len(s.Calendar[0].Days) != 7 || len(s.Calendar[1].Days) != 7 {
		t.Fatalf("%d weeks", len(s.Calendar))
	}
	// One loaf a day from the first, one of the water a day from the third, four loaves more from the eleventh.
	for day, want := range map[int]string{1: "2: 1 bread", 3: "2: 1 bread; 3: 1 water", 10: "2: 1 bread; 3: 1 water", 11: "4: 1 bread"} {
		one := s.Calendar[(day-1)/7].Days[(day-1)%7]
		if one.Day != day || one.Said != want {
			t.Errorf("day %d: %+v", day, one)
		}
		for _, o := range append(one.Port, one.Starboard...) {
			if o.New != (day == 1 && o.Short == "2" || day == 3 && o.Short == "3") {
				t.Errorf("day %d: %+v", day, o)
			}
		}
	}
	if day := s.Calendar[0].Days[2]; len(day.Port) != 1 || len(day.Starboard) != 1 || len(day.Middle) != 0 {
		t.Errorf("%+v", day)
	}
}

func TestCarry(t *testing.T) {
	for _, c := range []struct {
		name, id, into string
		count          int
		says           string // the error, or the rows that are other than before
	}{
		{"all of it", "stores.csv:rows[0]", "3", 0, "bread,10,1 kg,3,days 1-10,2 L,yes,,"},
		{"by its name", "stores.csv:rows[0]", "Stern", 10, "bread,10,1 kg,stern,days 1-10,2 L,yes,,"},
		{"part of it", "stores.csv:rows[1]", "2", 3, "water,5,1 kg,3,days 3-10 into 1,1 L,,,|water,3,1 kg,2,days 3-10 into 1,1 L,,,"},
		{"from a point", "stores.csv:rows[3]", "1", 0, "lamp,1,0.5 kg,1,,1 L,,,"},
		{"where it lies", "stores.csv:rows[0]", "2", 4, ""},
		{"no such locker", "stores.csv:rows[0]", "9", 0, `no compartment is called "9"`},
		{"more than there are", "stores.csv:rows[0]", "3", 11, "there are 10 of bread, not 11"},
		{"no such row", "stores.csv:rows[50]", "3", 0, "nothing to be carried"},
		{"a weight", "boat.yaml:weights[0]", "3", 0, "nothing to be carried"},
	} {
		d := boxDraft(t)
		edits, err := Carry(read(t, d), d, c.id, c.into, c.count)
		if err != nil {
			if !strings.Contains(err.Error(), c.says) || c.says == "" {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		after, faults := d.With(edits...)
		if len(faults) > 0 {
			t.Errorf("%s: %v", c.name, faults)
			continue
		}
		read(t, after)
		old, _ := d.Text("stores.csv")
		now, _ := after.Text("stores.csv")
		var other []string
		for _, line := range strings.Split(now, "\n") {
			if !strings.Contains(old, line+"\n") {
				other = append(other, line)
			}
		}
		if got := strings.Join(other, "|"); got != c.says {
			t.Errorf("%s: %q", c.name, got)
		}
	}
}

// Two rows of one name in one place: which pieces are carried could not be told.
func TestCarryOfTwoAlike(t *testing.T) {
	d := boxDraft(t)
	d, faults := d.With(boatfolder.Edit{File: "stores.csv", Key: "rows[4].where", Was: "4", Text: "2"})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f := read(t, d)
	if _, err := Carry(f, d, "stores.csv:rows[0]", "3", 2); err == nil || !strings.Contains(err.Error(), "lines 2 and 6") {
		t.Errorf("%v", err)
	}
	for row := range 2 { // all of either can be
		if edits, err := Carry(f, d, fmt.Sprintf("stores.csv:rows[%d]", 4*row), "3", 0); err != nil || len(edits) != 1 {
			t.Errorf("%v %v", edits, err)
		}
	}
}
