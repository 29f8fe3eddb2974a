package stow

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

// long is an invented folder of 14 compartments, 120 rows of stores and 90 days, laid into the compartments one after the other.
func long(t testing.TB) *answer.Case {
	t.Helper()
	dir := t.TempDir()
	var boat, stores strings.Builder
	boat.WriteString("boat: Long barge\nhull: {offsets: offsets.csv}\ncompartments:\n")
	var rooms []int
	for k := range 7 {
		from := 0.6 + 0.95*float64(k)
		reach := []string{"in calm", "from the cabin", "at the seat", "at the seat", "at the seat", "from the cabin", "in calm"}[k]
		for side, name := range []string{"port", "starboard"} {
			n := 100*(k+1) + side
			rooms = append(rooms, n)
			fmt.Fprintf(&boat, "  - {number: %d, name: %s locker %d, from: %.2f m, to: %.2f m, side: %s, top: 0.3 m, packing: 60%%, reach: %s}\n", n, name, k+1, from, from+0.9, name, reach)
		}
	}
	boat.WriteString("weights:\n  - {what: hull, mass: 350 kg, at: [3.9 m, 0 m, 0.1 m]}\n  - {what: ballast, mass: 3000 kg, at: [3.9 m, 0 m, 0.02 m]}\n")
	stores.WriteString("what,count,mass,where,used,volume,group,apart,dry,reach,most,provides\n")
	for i := range 120 {
		room := rooms[i%len(rooms)]
		switch {
		case i < 27: // ten days' bags each, three by three
			first := 1 + 10*(i/3)
			fmt.Fprintf(&stores, "bags %d,10,0.9 kg,%d,days %d-%d,2.2 L,food,fuel,,,,food\n", i+1, room, first, first+9)
		case i < 30:
			fmt.Fprintf(&stores, "gas %d,9,0.4 kg,%d,days 1-90,0.9 L,fuel,,,,,gas\n", i+1, 700+i%2)
		case i%10 == 0:
			fmt.Fprintf(&stores, "line %d,2,%.1f kg,%d,,3 L,,,,at the seat,50%%,line\n", i+1, 1+float64(i%7)/2, 300+i%2)
		default:
			fmt.Fprintf(&stores, "thing %d,1,%.1f kg,%d,,%.1f L,,,,,,part %d\n", i+1, 0.5+float64(i*7%13)/4, room, 1+float64(i*5%11)/2, i/2)
		}
	}
	for name, text := range map[string]string{
		"offsets.csv": "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,0,600\n0,0,0,600\n0,0,700,600\n1,7800,0,0\n1,7800,0,600\n1,7800,0,600\n1,7800,700,600\n",
		"boat.yaml":   boat.String(), "stores.csv": stores.String(), "needs.yaml": "functions:\n  - {name: eat, rank: 4, any of: [food]}\n  - {name: cook, rank: 1, any of: [gas]}\n  - {name: make fast, rank: 2, any of: [line]}\n",
		"voyage.yaml": "days: 90\ncrew:\n  - {name: rower, mass: 80 kg, places: {at the oars: [3.9 m, 0 m, 0.5 m]}}\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, faults := boatfolder.Read(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return answer.NewCase(f)
}

// BenchmarkLong is the whole search, from the folder to what it offers: 120 rows, 14 compartments, 90 days, let for 8.5 seconds.
func BenchmarkLong(b *testing.B) {
	seconds := 8.5
	if testing.Short() {
		seconds = 1
	}
	for b.Loop() {
		c := long(b)
		found, err := Run(context.Background(), c, seconds, nil)
		if err != nil {
			b.Fatal(err)
		}
		gap := math.NaN()
		if found.Gap != nil {
			gap = 100 * *found.Gap
		}
		b.ReportMetric(gap, "gap%")
		b.Log(found.Sentence)
	}
}
