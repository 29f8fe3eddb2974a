package stowage_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/boatfolder"
	"thole/internal/stowage"
	"thole/internal/stowing"
)

// box is a hull 6 m long, 1 m wide and 0.6 m deep with square sides, so that every volume is a product.
const box = `station,distance_mm,height_mm,halfbreadth_mm
0,0,0,0
0,0,0,500
0,0,0,500
0,0,600,500
1,6000,0,0
1,6000,0,500
1,6000,0,500
1,6000,600,500
`

const barge = `boat: Barge
hull: {offsets: offsets.csv}
compartments:
  - {number: 100, name: fore locker, from: 0.5 m, to: 1.0 m, top: 0.2 m, packing: 50%, reach: in calm}
  - {number: 201, name: right locker, from: 2.0 m, to: 2.5 m, side: starboard, top: 0.4 m, packing: 60%, reach: at the seat, limit: 40 kg}
  - {number: 202, name: left locker, from: 2.0 m, to: 2.5 m, side: port, top: 0.4 m, reach: at the seat}
  - {number: 301, name: wet locker, from: 4.0 m, to: 4.5 m, side: starboard, top: 0.4 m, wet: yes, packing: 60%, reach: from the cabin}
openings:
  - {name: hatch 100, at: [0.7 m, 0 m, 0.6 m], size: [300 mm, 200 mm], into: 100, closed: yes}
  - {name: hatch 201, at: [2.2 m, 0.2 m, 0.6 m], size: [200 mm, 200 mm], into: 201, closed: yes}
  - {name: hatch 202, at: [2.2 m, -0.2 m, 0.6 m], size: [200 mm, 200 mm], into: 202, closed: yes}
  - {name: hatch 301, at: [4.2 m, 0.2 m, 0.6 m], size: [400 mm, 400 mm], into: 301, closed: yes}
weights:
  - {what: hull, mass: 300 kg, at: [3 m, 0 m, 0.2 m]}
`

const voyage = `days: 14
crew:
  - {name: rower, mass: 80 kg, places: {at the oars: [3 m, 0 m, 0.5 m]}}
`

const header = "what,count,mass,where,used,volume,size,group,apart,dry,most,reach,pinned\n"

// folder is a trip of a barge with the stores given.
func folder(t testing.TB, stores string) *afloat.Trip {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"boat.yaml": barge, "offsets.csv": box, "voyage.yaml": voyage, "stores.csv": header + stores} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, faults := boatfolder.Read(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	trip, err := afloat.New(f)
	if err != nil {
		t.Fatal(err)
	}
	return trip
}

func demo(t testing.TB, name string) *afloat.Trip {
	t.Helper()
	f, faults := boatfolder.Read("../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	trip, err := afloat.New(f)
	if err != nil {
		t.Fatal(err)
	}
	return trip
}

// judged is a folder's stowage as written.
func judged(t testing.TB, trip *afloat.Trip) (*stowage.Stowage, *stowage.Judge, *stowage.Judgement) {
	t.Helper()
	s, err := stowage.New(trip)
	if err != nil {
		t.Fatal(err)
	}
	j, err := s.NewJudge(&s.Problem)
	if err != nil {
		t.Fatal(err)
	}
	was, err := j.Of(s.Written)
	if err != nil {
		t.Fatal(err)
	}
	return s, j, was
}

// TestPlaces: what of the folder becomes of a place.
func TestPlaces(t *testing.T) {
	s, _, was := judged(t, folder(t, "rice,10,1 kg,201,days 1-10,1 L,,food,,yes,,,\nrubbish,7,0.1 kg,202,days 1-14 into 100,2 L,,,,,,,\n"))
	for _, row := range []struct {
		name      string
		got, want float64
		source    string
	}{
		{"volume of 201", s.Problem.Places[1].Volume, 0.6 * 0.5 * 0.5 * 0.4, "length x breadth x height x packing"},
		{"volume of 202, no packing given", s.Problem.Places[2].Volume, stowage.UsualPacking * 0.5 * 0.5 * 0.4, "length x breadth x height x usual packing"},
		{"volume of 100, less the rubbish that goes there", s.Problem.Places[0].Volume, 0.5*0.5*1*0.2 - 7*0.002, "length x breadth x height x packing, less 14 L"},
		{"x of 201", s.Problem.Places[1].At.X, 2.25, "middle of a box"},
		{"y of 201", s.Problem.Places[1].At.Y, 0.25, "middle of a box"},
		{"z of 201", s.Problem.Places[1].At.Z, 0.2, "middle of a box"},
		{"limit of 201", s.Problem.Places[1].MassLimit, 40, "the folder"},
		{"hatch of 100", s.Problem.Places[0].Opening[0] * s.Problem.Places[0].Opening[1], 0.06, "the folder"},
		{"room left in the fullest, 202", was.Room, 0.06 - 7*0.002, "60 L less 14 L"},
		{"its doubt", 1.96 * was.Doubt, 0.1 * 0.06, "a tenth of 60 L"},
	} {
		if row.source == "" {
			t.Errorf("%s has no source", row.name)
		}
		if math.Abs(row.got-row.want) > 1e-6 {
			t.Errorf("%s: %g, want %g (%s)", row.name, row.got, row.want, row.source)
		}
	}
	if !s.Places[2].Guessed || s.Places[1].Guessed || !s.Problem.Places[3].Wet {
		t.Errorf("a packing guessed or not, or the wet: %+v", s.Places)
	}
	if s.Problem.Places[0].Reach != stowing.InCalm || s.Problem.Places[3].Reach != stowing.FromCabin || s.Problem.Places[1].Reach != stowing.AtSeat {
		t.Error("reaches are not those of the folder")
	}
}

// TestRules: each rule, broken alone, is told, and its least mend takes it away when it is made in the folder.
//
// Source: the manual of the folder, one rule at a time; the mend by direct trial
func TestRules(t *testing.T) {
	for _, row := range []struct {
		rule   stowage.Rule
		stores string
		place  string
		mend   string // "" for none
	}{
		{stowage.Opening, "chart tube,1,1 kg,201,,2 L,900 x 210 x 210 mm,,,,,,\n", "201 right locker", "chart tube from 201 right locker to 301 wet locker"},
		{stowage.Dry, "flour,4,1 kg,301,,1 L,,food,,yes,,,\n", "301 wet locker", "4 of flour from 301 wet locker to 201 right locker"},
		{stowage.Apart, "flour,4,1 kg,201,,1 L,,food,,yes,,,\npetrol,1,2 kg,201,,3 L,,fuel,food,,,,\n", "201 right locker", "petrol from 201 right locker to 202 left locker"},
		{stowage.Reach, "rope,1,1 kg,100,,1 L,,,,,,at the seat,\n", "100 fore locker", "rope from 100 fore locker to 201 right locker"},
		{stowage.Split, "lamps,4,1 kg,201,,1 L,,,,,50%,,\n", "201 right locker", "2 of lamps from 201 right locker to 202 left locker"},
		{stowage.Limit, "shot,5,9 kg,201,,1 L,,,,,,,\n", "201 right locker", "1 of shot from 201 right locker to 202 left locker"},
		{stowage.Volume, "kapok,7,0.1 kg,202,,10 L,,,,,,,\n", "202 left locker", "1 of kapok from 202 left locker to 201 right locker"},
		{stowage.Volume, "mast,1,1 kg,202,,900 L,,,,,,,\n", "202 left locker", ""},
	} {
		trip := folder(t, row.stores)
		s, j, was := judged(t, trip)
		if len(was.Broken) != 1 || was.Broken[0].Rule != row.rule || s.Problem.Places[was.Broken[0].Place].Name != row.place {
			t.Errorf("%s: told is %+v", row.rule, was.Broken)
			continue
		}
		if said := s.Said(was.Broken[0]); !strings.Contains(said, row.place) {
			t.Errorf("%s does not name its place: %s", row.rule, said)
		}
		m, err := s.Mend(j, s.Written, was, was.Broken[0])
		if err != nil {
			t.Fatal(err)
		}
		if m == nil {
			if row.mend != "" {
				t.Errorf("%s: no mend found, and %s is one", row.rule, row.mend)
			}
			continue
		}
		if said := s.MoveSaid(m.Move); said != row.mend {
			t.Errorf("%s: the least mend is %q, want %q", row.rule, said, row.mend)
		}
		l := s.Written.Clone()
		l.Move(m.Item, m.From, m.To, m.Units)
		again, err := afloat.NewFrom(s.Applied(l), trip)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, now := judged(t, again); len(now.Broken) > 0 {
			t.Errorf("%s: mended by %q, the folder still breaks %+v", row.rule, row.mend, now.Broken)
		}
	}
}

// TestAsOne: which rows are one item.
func TestAsOne(t *testing.T) {
	for _, row := range []struct {
		what, stores string
		items        int
	}{
		{"kept and alike", "lamps,2,1 kg,201,,1 L,,,,,50%,,\nlamps,2,1 kg,202,,1 L,,,,,50%,,\n", 1},
		{"of another mass", "lamps,2,1 kg,201,,1 L,,,,,,,\nlamps,2,2 kg,202,,1 L,,,,,,,\n", 2},
		{"used one after the other", "rice,4,1 kg,201,days 1-4,1 L,,,,,,,\nrice,6,1 kg,202,days 5-10,1 L,,,,,,,\n", 1},
		{"used at the same time", "rice,5,1 kg,201,days 1-10,1 L,,,,,,,\nrice,5,1 kg,202,days 1-10,1 L,,,,,,,\n", 1},
		{"used with a gap between", "rice,4,1 kg,201,days 1-4,1 L,,,,,,,\nrice,4,1 kg,202,days 11-14,1 L,,,,,,,\n", 2},
		{"alike with names of their own", "rice a,2,1 kg,201,,1 L,,,,,,,\nrice b,2,1 kg,202,,1 L,,,,,,,\n", 2},
	} {
		if s, _, _ := judged(t, folder(t, row.stores)); len(s.Items) != row.items {
			t.Errorf("%s: %d items, want %d", row.what, len(s.Items), row.items)
		}
	}
	// Split over two places, a kind keeps its share; in one of them it does not.
	for where, broken := range map[string]int{"202": 0, "201": 1} {
		if _, _, was := judged(t, folder(t, "lamps,2,1 kg,201,,1 L,,,,,50%,,\nlamps,2,1 kg,"+where+",,1 L,,,,,50%,,\n")); len(was.Broken) != broken {
			t.Errorf("the second pair of lamps in %s: %+v", where, was.Broken)
		}
	}
}

// TestWrittenMoments: with the rest of a day the moments of the layout as written are the boat's, on every day.
//
// Source: model.State, a sum of its own
func TestWrittenMoments(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		trip := demo(t, name)
		s, _, _ := judged(t, trip)
		b, err := s.Balanced(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		e, err := stowing.NewEvaluator(&b.Problem)
		if err != nil {
			t.Fatal(err)
		}
		var f stowing.Figures
		e.Evaluate(s.Written, &f)
		for d := range trip.Days + 1 {
			st := trip.State(d, 0)
			off := r3.Sub(f.Days[d].Moment, r3.Scale(st.Mass, st.G))
			off.Y = 0 // what the places of the crew make uneven is in it
			if math.Abs(f.Days[d].Mass-st.Mass) > 1e-9 || r3.Norm(off) > 1e-8 {
				t.Errorf("%s, day %d: %g kg, want %g; moment off by %v", name, d, f.Days[d].Mass, st.Mass, off)
			}
			if b.Problem.Trip.Rest[d].Mass < 0 {
				t.Errorf("%s, day %d: a rest of %g kg", name, d, b.Problem.Trip.Rest[d].Mass)
			}
		}
	}
}

// TestSmallBest: on a small boat the plan found by way of the solver is the best of all folders that differ from it in where rows lie. With
// no limits handling decides; with those of the boat her height does.
//
// Source: every folder judged by itself
func TestSmallBest(t *testing.T) {
	for _, row := range []struct {
		what, stores string
		limits       bool
		handling     bool // of the best, more than the least that any folder has
	}{
		{"height decides", "rice,1,8 kg,100,days 1-7,20 L,,food,,yes,,,\nbeans,1,8 kg,100,days 8-14,20 L,,food,,yes,,,\nfuel,1,5 kg,202,,10 L,,fuel,food,,,,\nkedge,1,20 kg,100,,15 L,250 x 250 x 300 mm,,,,,,\nflares,1,2 kg,100,,8 L,,,,yes,,at the seat,\n", true, false},
		{"all food has room in one locker at the seat", "rice,1,8 kg,100,days 1-7,20 L,,food,,yes,,,\nbeans,1,8 kg,301,days 8-14,20 L,,food,,,,,\nfuel,1,5 kg,202,,10 L,,fuel,food,,,,\nkedge,1,20 kg,100,,15 L,250 x 250 x 300 mm,,,,,,\n", false, false},
		{"food for a week more than a locker holds", "rice,1,8 kg,100,days 1-7,40 L,,food,,yes,,,\nbeans,1,8 kg,100,days 1-7,35 L,,food,,yes,,,\nbars,1,8 kg,100,days 8-14,35 L,,food,,yes,,,\nfuel,1,5 kg,202,days 1-14,10 L,,fuel,food,,,,\n", false, true},
		{"what the lockers at the seat do not bear", "rice,1,30 kg,301,days 1-7,20 L,,food,,,,,\nbeans,1,30 kg,301,days 1-7,20 L,,food,,,,,\nfuel,1,25 kg,202,,45 L,,fuel,food,,,,yes\nkedge,1,20 kg,100,,15 L,250 x 250 x 300 mm,,,,,,\n", false, true},
	} {
		trip := folder(t, row.stores)
		s, _, _ := judged(t, trip)
		b, err := s.Balanced(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if !row.limits {
			b.Problem.Trip.Limits = nil
		}
		plan, err := stowing.Solve(context.Background(), &b.Problem, stowing.Options{Seconds: 20, Start: &s.Written})
		if err != nil {
			t.Fatal(err)
		}
		if !plan.Proved || len(plan.Rules) > 0 {
			t.Fatalf("%s: not proved: gap %g, rules %+v", row.what, plan.Gap, plan.Rules)
		}
		best, easiest, tried := math.Inf(1), math.Inf(1), 0
		everyFolder(t, trip, s, &b.Problem, func(got *stowage.Judgement) {
			tried++
			easiest = math.Min(easiest, got.Figures.Handling)
			if len(got.Figures.Rules) == 0 {
				best = math.Min(best, got.Figures.Objective)
			}
		})
		if math.Abs(best-plan.Objective) > 1e-5 {
			t.Errorf("%s: the plan costs %g, the best of %d folders %g", row.what, plan.Objective, tried, best)
		}
		if !row.limits && (plan.Price > 0 || plan.Handling > easiest+0.01 != row.handling) {
			t.Errorf("%s: a handling of %g, and of any folder at least %g; %g for wishes: handling does not decide as it should", row.what, plan.Handling, easiest, plan.Price)
		}
		t.Logf("%s: the best of %d folders costs %g, handling %g; broken %+v", row.what, tried, best, plan.Handling, plan.Broken)
	}
}

// everyFolder judges every way of laying the rows into the places, each with the rest, the limits and the prices of moving of one problem.
func everyFolder(t *testing.T, trip *afloat.Trip, s *stowage.Stowage, like *stowing.Problem, f func(*stowage.Judgement)) {
	where := make([]int, len(trip.Folder.Stores))
	var every func(row int)
	every = func(row int) {
		if row < len(where) {
			if len(like.Items[row].Pins) > 0 {
				where[row] = trip.Folder.Stores[row].Where.Compartment
				every(row + 1)
				return
			}
			for k := range s.Places {
				where[row] = k
				every(row + 1)
			}
			return
		}
		g := *trip.Folder
		g.Stores = slices.Clone(g.Stores)
		for r, k := range where {
			g.Stores[r].Where.Compartment = k
		}
		moved, err := afloat.NewFrom(&g, trip)
		if err != nil {
			t.Fatal(err)
		}
		other, err := stowage.New(moved)
		if err != nil {
			t.Fatal(err)
		}
		p := other.Problem
		p.Trip.Rest, p.Trip.Limits, p.Keeps = like.Trip.Rest, like.Trip.Limits, like.Keeps
		p.Items = slices.Clone(p.Items)
		for i := range p.Items {
			p.Items[i].Was = like.Items[i].Was
		}
		j, err := other.NewJudge(&p)
		if err != nil {
			t.Fatal(err)
		}
		got, err := j.Of(other.Written)
		if err != nil {
			t.Fatal(err)
		}
		f(got)
	}
	every(0)
}

// TestAgain: what is left is planned out of where it lies, all of it, and by its last day.
func TestAgain(t *testing.T) {
	trip := folder(t, "rice,14,1 kg,100,days 1-14,1 L,,food,,yes,,,\nrice,14,1 kg,201,days 1-14,1 L,,food,,yes,,,\n")
	s, _, _ := judged(t, trip)
	b, err := s.Balanced(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	stock := [][]int{{6, 0, 0, 0}, {0, 3, 2, 0}} // two bags were carried to 202 underway, and more was eaten than planned
	p, err := b.Again(7, stock)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := stowing.Solve(context.Background(), p, stowing.Options{Seconds: 2})
	if err != nil {
		t.Fatal(err)
	}
	taken, total := make([]int, len(s.Places)), 0
	for _, day := range plan.Use {
		for _, k := range day {
			taken[k.Place] += k.Units
			total += k.Units
		}
	}
	if len(plan.Use) != 7 || total != 11 || !slices.Equal(taken, []int{6, 3, 2, 0}) {
		t.Errorf("taken %v over %d days", taken, len(plan.Use))
	}
	if math.Abs(p.Trip.Rest[0].Mass-380) > 1 {
		t.Errorf("the rest weighs %g kg on day 7, want the hull and the rower, 380", p.Trip.Rest[0].Mass)
	}
	if _, err := b.Again(14, stock); err == nil {
		t.Error("a plan after the last day")
	}
	if _, err := b.Again(7, stock[:1]); err == nil {
		t.Error("a stock of another folder")
	}
}
