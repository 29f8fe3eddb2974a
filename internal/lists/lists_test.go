package lists

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/stowing"
	"thole/internal/units"
)

// used is a store used up over some days.
func used(count, first, last int) *model.Store {
	return &model.Store{What: "day bags", Count: count, Mass: model.Mass{Value: 1}, Use: model.Use{First: first, Last: last}}
}

// TestTakenAsStowing: the whole units of a day are those of internal/stowing, which plans by them: its masses of a boat
// that holds one store of 1 kg a piece are the pieces left.
func TestTakenAsStowing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.IntRange(1, 120).Draw(t, "days")
		first := rapid.IntRange(1, days).Draw(t, "first")
		last := rapid.IntRange(first, days).Draw(t, "last")
		s := used(rapid.IntRange(1, 200).Draw(t, "count"), first, last)
		p := &stowing.Problem{
			Items:  []stowing.Item{{Name: s.What, Units: s.Count, Mass: 1, Volume: 0.001, First: first, Last: last}},
			Places: []stowing.Place{{Name: "hold", Volume: 1}},
			Trip:   stowing.Trip{Days: days, Rest: []stowing.Load{{Mass: 0}}},
		}
		want, err := stowing.Masses(p)
		if err != nil {
			t.Fatal(err)
		}
		for d := range want {
			if got := float64(Left(s, d)); got != want[d] {
				t.Fatalf("%d left on day %d of %d-%d, and internal/stowing has %g", Left(s, d), d, first, last, want[d])
			}
			if d > 0 && Taken(s, d) != Left(s, d-1)-Left(s, d) {
				t.Fatalf("day %d: %d taken of %d", d, Taken(s, d), Left(s, d-1))
			}
		}
	})
}

// TestTakenEvenly: never more than half a unit from an even use, all of it in the end, nothing outside its days.
func TestTakenEvenly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := rapid.IntRange(1, 60).Draw(t, "first")
		last := first + rapid.IntRange(0, 90).Draw(t, "more")
		s := used(rapid.IntRange(1, 300).Draw(t, "count"), first, last)
		sum := 0
		for d := 0; d <= last+3; d++ {
			n := Taken(s, d)
			sum += n
			if n < 0 || (d < first || d > last) && n != 0 {
				t.Fatalf("%d taken on day %d", n, d)
			}
			if even := s.Use.Left(d) * float64(s.Count); math.Abs(float64(Left(s, d))-even) > 0.5+1e-9 {
				t.Fatalf("%d left on day %d where an even use leaves %.2f", Left(s, d), d, even)
			}
		}
		if sum != s.Count || Left(s, last) != 0 || Left(s, 0) != s.Count {
			t.Fatalf("%d taken of %d", sum, s.Count)
		}
	})
	if kept := (&model.Store{Count: 4}); Taken(kept, 1) != 0 || Left(kept, 99) != 4 {
		t.Error("a store that is kept is taken")
	}
}

// demo reads a demo boat.
func demo(t *testing.T, name string) *model.Folder {
	t.Helper()
	f, faults := boatfolder.Read("../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

// TestCalendar: the days hold every unit once, by the compartments' numbers, and the weeks hold the days.
func TestCalendar(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		f := demo(t, name)
		days := Calendar(f)
		if len(days) != f.Voyage.Days {
			t.Errorf("%s: %d days", name, len(days))
		}
		sums := make([]int, len(f.Stores))
		for _, takes := range days {
			before := 0
			for _, k := range takes {
				sums[k.Store] += k.Units
				no := math.MaxInt // at a point
				if k.Compartment >= 0 {
					no = f.Boat.Compartments[k.Compartment].Number
				}
				if no < before {
					t.Errorf("%s: %d stands behind %d", name, no, before)
				}
				before = no
			}
		}
		for i, n := range sums {
			s := &f.Stores[i]
			if want := s.Count; s.Use.Last == 0 && n != 0 || s.Use.Last > 0 && n != want {
				t.Errorf("%s: %d of %d %s", name, n, want, s.What)
			}
		}
		stocks := Stocks(f)
		for _, w := range Weeks(f) {
			for _, r := range w.Rows {
				before := stocks[r.Store][w.First-1]
				for d, n := range r.Days {
					if before -= n; before != stocks[r.Store][w.First+d] {
						t.Errorf("%s: week %d: %s", name, w.Number, r.What)
					}
				}
				if r.Left != before {
					t.Errorf("%s: week %d: %d of %s left, and %d by its days", name, w.Number, r.Left, r.What, before)
				}
			}
		}
	}
}

// TestInTurn: rows of one kind together are taken as one row, and each of them never more than a unit from its even use; a row by itself
// as Left says.
func TestInTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := rapid.IntRange(1, 20).Draw(t, "first")
		last := first + rapid.IntRange(0, 60).Draw(t, "more")
		f := &model.Folder{}
		all := model.Store{Use: model.Use{First: first, Last: last}}
		for range rapid.IntRange(1, 3).Draw(t, "rows") {
			s := *used(rapid.IntRange(1, 40).Draw(t, "count"), first, last)
			s.Group = "food"
			f.Stores = append(f.Stores, s)
			all.Count += s.Count
		}
		alone := *used(9, first, last)
		f.Stores = append(f.Stores, alone)
		stocks := Stocks(f)
		for d := 0; d <= last; d++ {
			sum := 0
			for i := range f.Stores[:len(f.Stores)-1] {
				s := &f.Stores[i]
				sum += stocks[i][d]
				if even := s.Use.Left(d) * float64(s.Count); math.Abs(float64(stocks[i][d])-even) > 1.5 || d > 0 && stocks[i][d] > stocks[i][d-1] {
					t.Fatalf("%d of row %d left on day %d where an even use leaves %.2f", stocks[i][d], i, d, even)
				}
			}
			if sum != Left(&all, d) || stocks[len(f.Stores)-1][d] != Left(&alone, d) {
				t.Fatalf("day %d: %d left together, and %d of one row; alone %d", d, sum, Left(&all, d), stocks[len(f.Stores)-1][d])
			}
		}
	})
	// Ten bags over ten days, five on either side: one a day, the sides in turn.
	f := &model.Folder{Voyage: &model.Voyage{Days: 10}}
	for range 2 {
		s := *used(5, 1, 10)
		s.Group = "food"
		f.Stores = append(f.Stores, s)
	}
	for d, takes := range Calendar(f) {
		if len(takes) != 1 || takes[0].Units != 1 || takes[0].Store != d%2 {
			t.Errorf("day %d: %+v", d+1, takes)
		}
	}
}

// TestMassStays: with all that was used still counted, either where it went or as gone, the stores weigh the same every day.
func TestMassStays(t *testing.T) {
	f := demo(t, "sanderling")
	total := func(on int) (lies float64) {
		for _, l := range Compartments(f, on) {
			sum := 0.0
			for _, th := range l.Things {
				sum += th.MassKg
			}
			if math.Abs(sum-l.MassKg) > 1e-9 {
				t.Errorf("%s holds %g kg, and its things weigh %g", l.Name, l.MassKg, sum)
			}
			lies += sum
		}
		return lies
	}
	gone := 0.0
	start := total(0)
	for d, takes := range Calendar(f) {
		for _, k := range takes {
			if s := &f.Stores[k.Store]; s.Use.Into == nil {
				gone += float64(k.Units) * float64(s.Mass.Value)
			}
		}
		if got := total(d + 1); math.Abs(got+gone-start) > 1e-6 {
			t.Fatalf("day %d: %g kg lie there and %g are gone, of %g", d+1, got, gone, start)
		}
	}
}

func TestNoun(t *testing.T) {
	// Plain English: the word that a reader would look under.
	for what, want := range map[string]string{
		"day bags 1-10 port": "bags", "bags days 1-14 starboard": "bags", "emergency water in pouches": "water", "hand pump for water": "pump",
		"sea anchor warp 70 m": "warp", "repair timber, glue and cloth": "timber", "oars in use": "oars", "satellite telephone": "telephone",
		"grab bag": "bag", "snacks port": "snacks", "stove and pans": "stove", "anchor": "anchor", "12 V pump": "pump", "port": "port", "": "", "  ": "  ", "for sale": "sale", "8": "8",
	} {
		if what == "12 V pump" {
			want = "pump"
		}
		if got := Noun(what); got != want {
			t.Errorf("%q stands under %q, want %q", what, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		if s := rapid.String().Draw(t, "what"); strings.TrimSpace(s) != "" && !strings.Contains(s, strings.TrimSpace(Noun(s))) {
			t.Fatalf("%q stands under %q, which is no part of it", s, Noun(s))
		}
	})
}

// TestWeighing: the spread is that of the day's state, worked out by another way in internal/model, and weighing everything
// leaves the root of the sum of squares of what is left.
func TestWeighing(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		f := demo(t, name)
		s := Weighing(f)
		state := f.At(0, f.Conditions()[0], make([]r3.Vec, len(f.Boat.Compartments)))
		const half = 1.959964 // 19 in 20 of a normal distribution, standard tables
		if math.Abs(s.SpreadKg-half*state.Doubt) > 1e-6 || math.Abs(s.MassKg-state.Mass) > 1e-6 {
			t.Errorf("%s: %g ± %g kg, and the state has %g ± %g", name, s.MassKg, s.SpreadKg, state.Mass, half*state.Doubt)
		}
		before := s.SpreadKg
		for i, r := range s.Rows {
			if r.LeftKg > before+1e-9 || i > 0 && r.SpreadKg > s.Rows[i-1].SpreadKg || r.Known == model.Weighed.String() {
				t.Errorf("%s: %+v", name, r)
			}
			before = r.LeftKg
		}
	}
	// 3, 4 and 12 kg: 13 by the squares; without the 12, and the 4, and the 3: near 5, 3 and 0, by hand.
	at := model.Place{Compartment: -1}
	f := &model.Folder{Boat: model.Boat{Weights: []model.Weight{
		{What: "three", Where: at, Mass: model.Mass{Value: 1, Tolerance: 3}}, {What: "twelve", Where: at, Mass: model.Mass{Value: 1, Tolerance: 12}}, {What: "four", Where: at, Mass: model.Mass{Value: 1, Tolerance: 4, Known: model.Calculated}},
	}}}
	s := Weighing(f)
	for i, want := range []struct {
		what string
		left float64
	}{{"twelve", 5}, {"four", 3}, {"three", 0}} {
		if r := s.Rows[i]; r.What != want.what || math.Abs(r.LeftKg-want.left) > 0.04 { // 2 % of 1 kg stays of each
			t.Errorf("%s leaves %g, want %s %g", r.What, r.LeftKg, want.what, want.left)
		}
	}
	if s.SpreadKg != 13 {
		t.Errorf("3, 4 and 12 make %g", s.SpreadKg)
	}
}

// TestShopping: rows of one name and group are one, groups stand together, and what goes bad too early is seen.
func TestShopping(t *testing.T) {
	leave := time.Date(2027, 1, 12, 0, 0, 0, 0, time.UTC)
	f := &model.Folder{Voyage: &model.Voyage{Leave: leave, Days: 30}, Stores: []model.Store{
		{What: "wet rations", Group: "food", Count: 3, Mass: model.Mass{Value: 0.5}, Use: model.Use{First: 1, Last: 20}},
		{What: "stove gas", Group: "fuel", Count: 2, Mass: model.Mass{Value: 0.4}},
		{What: "Wet  rations", Group: "Food", Count: 4, Mass: model.Mass{Value: 0.5}, Expires: leave.AddDate(0, 0, 5), Use: model.Use{First: 1, Last: 10}},
		{What: "odd thing", Count: 1},
	}}
	got := Shopping(f)
	if len(got) != 3 || got[0].What != "wet rations" || got[0].Count != 7 || got[0].MassKg != 3.5 || got[1].Group != "fuel" || got[2].What != "odd thing" {
		t.Fatalf("%+v", got)
	}
	if want := leave.AddDate(0, 0, 19); !got[0].GoodUntil.Equal(want) || !got[0].Late() {
		t.Errorf("must keep until %v, want %v; late %v", got[0].GoodUntil, want, got[0].Late())
	}
	if got[1].Late() || !got[1].GoodUntil.Equal(leave.AddDate(0, 0, 29)) {
		t.Errorf("%+v", got[1])
	}
}

// TestLists: each list of both demos has a sheet and a flat table whose rows fill its columns, the same twice over; and those
// that are of a day change with it.
func TestLists(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		f := demo(t, name)
		for _, l := range All {
			flat := l.Flat(f, 30)
			for _, r := range flat.Rows {
				if len(r) != len(flat.Columns) {
					t.Fatalf("%s: %d cells under %d columns", l.Kind, len(r), len(flat.Columns))
				}
			}
			if len(flat.Rows) == 0 || len(l.Sheet(f, 30).Blocks) == 0 {
				t.Errorf("%s: nothing", l.Kind)
			}
			for _, b := range l.Sheet(f, 30).Blocks {
				if b.Table != nil {
					for _, r := range b.Table.Rows {
						if len(r) != len(b.Table.Columns) {
							t.Fatalf("%s: %d cells under %d columns of its sheet", l.Kind, len(r), len(b.Table.Columns))
						}
					}
				}
			}
		}
	}
	for _, u := range []units.System{units.Metric, units.Feet} {
		f := demo(t, "sanderling")
		f.Boat.Units = u
		column := compartmentTable(f, 0).Columns[5]
		if want := map[units.System]string{units.Metric: "kg", units.Feet: "lb"}[u]; column.Unit != want {
			t.Errorf("%s: masses in %s", u, column.Unit)
		}
	}
}

// TestEmptyBoat: a boat without stores, compartments or voyage has empty lists.
func TestEmptyBoat(t *testing.T) {
	for _, f := range []*model.Folder{{}, {Boat: model.Boat{Compartments: []model.Compartment{{Name: "hold"}}}}} {
		for _, l := range All {
			l.Sheet(f, 3)
			l.Flat(f, 3)
			if l.Of(f, 3) == nil && l.Kind == "compartments" {
				t.Errorf("%s: nil", l.Kind)
			}
		}
	}
}

// TestCompartmentOrder: by number, those without one behind, in the order of the file, and points last.
func TestCompartmentOrder(t *testing.T) {
	f := &model.Folder{Boat: model.Boat{Compartments: []model.Compartment{{Name: "b"}, {Name: "late", Number: 500}, {Name: "a"}, {Name: "early", Number: 100}}},
		Stores: []model.Store{{What: "rope", Where: model.Place{Compartment: -1}}}}
	var got []string
	for _, l := range Compartments(f, 0) {
		got = append(got, l.Name)
	}
	if want := []string{"early", "late", "b", "a", "in no compartment"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
