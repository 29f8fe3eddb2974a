package climate

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"thole/internal/weather"
)

func file(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestReadDrifters: a file laid out as the drifter climatology is, months, longitude, latitude.
// Written by scipy 1.10.1, and copied by nccopy 4.9.0 to the 64-bit formats.
func TestReadDrifters(t *testing.T) {
	for _, name := range []string{"drifter.nc", "drifter2.nc", "drifter5.nc"} {
		t.Run(name, func(t *testing.T) { drifters(t, name) })
	}
}

func drifters(t *testing.T, name string) {
	f, err := ReadCurrent(name, file(t, name))
	if err != nil {
		t.Fatal(err)
	}
	const source = "the formula by which scipy wrote the file"
	u, v := f.Mean(12.125*deg, -57.875*deg, 0) // longitude 3, latitude 2
	u2, _ := f.Mean(11.625*deg, (-59.375+360)*deg, 6)
	run(t, []check{
		{"u", u, -.2 - .03 + .04 + .05, 1e-6, source}, {"v", v, .1 + .03 - .04, 1e-6, source},
		{"between four", u2, -.2 - .015 + .03 - .05, 1e-6, source},
	})
	if o := f.Origin(12*deg, -58*deg, 1); o != Own {
		t.Errorf("origin %v", o)
	}
	if e := f.Error(12*deg, -58*deg, 1); e != OwnDoubt {
		t.Errorf("error %g", e)
	}
	f.Doubt = .02
	if e := f.Error(12*deg, -58*deg, 1); e != .02 {
		t.Errorf("error %g", e)
	}
	// outside the file the embedded current answers
	u, v = f.Current(30*deg, -40*deg, 3)
	if a, b := StandardCurrent().Current(30*deg, -40*deg, 3); a != u || b != v || f.Origin(30*deg, -40*deg, 3) == Own {
		t.Errorf("outside: %g %g", u, v)
	}
	if len(f.Notes) != 1 || !strings.Contains(f.Notes[0], "1 cells lack some months") {
		t.Errorf("notes %q", f.Notes)
	}
}

// TestReadPacked: whole numbers with a factor, latitude running south, standard names.
// Written by scipy 1.10.1 by records of the month.
func TestReadPacked(t *testing.T) {
	f, err := ReadWind("wind.nc", file(t, "wind.nc"))
	if err != nil {
		t.Fatal(err)
	}
	u, v, s := f.Mean(18*deg, -36*deg, 4) // latitude 1, longitude 2
	const source = "the formula by which scipy wrote the file"
	run(t, []check{{"u", u, -6, 1e-5, source}, {"v", v, -3, 1e-5, source}, {"scalar", s, 7.5, 1e-5, source}})
	south, _, _ := f.Mean(16*deg, -36*deg, 4)
	north, _, _ := f.Mean(20*deg, -36*deg, 4)
	run(t, []check{{"u in the south", south, -6.1, 1e-5, source}, {"u in the north", north, -5.9, 1e-5, source}})
	if f.Origin(18*deg, -36*deg, 4) != Own || f.Origin(18*deg, -30*deg, 4) == Own {
		t.Error("the file's edge is in the wrong place")
	}
}

// TestReadLone: a lone variable by records has them without padding between.
func TestReadLone(t *testing.T) {
	f, err := ReadCurrent("lone.nc", file(t, "lone.nc"))
	if err != nil {
		t.Fatal(err)
	}
	for month := range 12 {
		u, v := f.Mean(14*deg, -38*deg, month)
		const source = "the formula by which scipy wrote the file, looked at with Unidata's ncdump"
		run(t, []check{{"u", u, (3*(float64(month)-6) + 3) / 100, 1e-6, source}, {"v", v, .01, 1e-6, source}})
	}
}

const good = `month,lat,lon,east_kn,north_kn
# winds of one month all the year
0,10,-40,-10,-4
0,10,-38,-10,-4
0,12,-40,-12,-4
0,12,-38,-12,
`

func TestReadCSV(t *testing.T) {
	f, err := ReadWind("own.csv", []byte(good))
	if err != nil {
		t.Fatal(err)
	}
	u, v, s := f.Wind(11*deg, -40*deg, 5)
	const source = "the file, half way"
	run(t, []check{{"u", u, -11 * Knot, 1e-5, source}, {"v", v, -4 * Knot, 1e-5, source}})
	// the scalar mean keeps the embedded wind's spread
	wu, wv, ws := StandardWind().Mean(10*deg, -40*deg, 5)
	_, _, got := f.Mean(10*deg, -40*deg, 5)
	run(t, []check{{"scalar", got, weather.RiceMean(math.Hypot(10, 4)*Knot, Sigma(math.Hypot(wu, wv), ws)), .05, "Rice's mean"}})
	if s < math.Hypot(u, v) || len(f.Notes) != 1 {
		t.Errorf("scalar %g, notes %q", s, f.Notes)
	}
	if c, err := ReadCurrent("own.csv", []byte("month,lat,lon,east,north\n0,10,-40,.2,.1\n")); err != nil {
		t.Error(err)
	} else if u, v := c.Current(10.2*deg, -40.3*deg, 3); math.Abs(u-.2)+math.Abs(v-.1) > 1e-6 {
		t.Errorf("one place alone: %g %g", u, v)
	}
}

// TestTooFewMonths: a cell of five months is left out, one of six is bridged, and each is said.
func TestTooFewMonths(t *testing.T) {
	var b strings.Builder
	b.WriteString("month,lat,lon,east,north\n")
	for m := 1; m <= 12; m++ {
		for lon, months := range map[int]int{-40: 12, -38: 6, -36: 5} {
			if m <= months {
				fmt.Fprintf(&b, "%d,10,%d,.5,.5\n", m, lon)
			}
		}
	}
	f, err := ReadCurrent("few.csv", []byte(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	if notes := strings.Join(f.Notes, "; "); notes != "1 cells lack some months: bridged by straight lines; 1 cells have fewer than 6 months: left out" {
		t.Errorf("notes %q", notes)
	}
	if f.Origin(10*deg, -38*deg, 8) != Own || f.Origin(10*deg, -36*deg, 3) == Own {
		t.Error("the wrong cell is left out")
	}
}

// TestGustyVector: a file whose scalar mean is under its vector, or whose lines would run so, is mended.
func TestGustyVector(t *testing.T) {
	var b strings.Builder
	b.WriteString("month,lat,lon,east,north,scalar\n")
	for m := 1; m <= 12; m++ {
		fmt.Fprintf(&b, "%d,10,-40,%d,%d,%d\n", m, 8*(m%2), 8*((m+1)%2), 8-m%3) // to the east and to the north by turns
	}
	f, err := ReadWind("gusty.csv", []byte(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	for m := Month(0); m < 12; m += .05 {
		if u, v, s := f.Wind(10*deg, -40*deg, m); s < math.Hypot(u, v)-1e-5 {
			t.Fatalf("at %g: a vector of %g and a scalar mean of %g", float64(m), math.Hypot(u, v), s)
		}
	}
}

// TestFaults: each names the file, the line, the text and the mend.
func TestFaults(t *testing.T) {
	head := "month,lat,lon,east,north\n"
	for _, r := range []struct{ file, want string }{
		{"", "is empty"},
		{"month,lat,lon\n", `own.csv:1: the header "month,lat,lon" has no column "east"`},
		{"month,lat,lon,east_mph,north\n", `own.csv:1: column "east_mph": unit "mph" is not known: write east, east_ms or east_kn`},
		{"month,lat,lon,east,east,north\n", `"east" stands there twice`},
		{head, "no line after the header"},
		{head + "1,10,20,5,x\n", `own.csv:2: north "x" is no number`},
		{head + "1,10,20,5,NaN\n", `own.csv:2: north "NaN" is no number`},
		{head + "1,95,20,5,1\n", `own.csv:2: lat "95" is outside -90 to 90`},
		{head + "1.5,10,20,5,1\n", `own.csv:2: month "1.5": write a whole number`},
		{head + "13,10,20,5,1\n", `own.csv:2: month "13" is outside 0 to 12`},
		{head + "1,10,20\n", `own.csv:2: there are 3 columns, east is missing`},
		{head + "1,10,20,5,1\n\n1,10,20,5,1\n", `own.csv:4: month 1 at 10, 20 stands in line 2 already`},
		{head + "1,10,20,5,1\n1,11,20,5,1\n1,13.5,20,5,1\n", "13.5 is off the lattice of 1 degrees"},
		{head + "1,10,20,5,1\n1,10.001,20,5,1\n", "0.001 apart"},
		{head + "0,10,20,,\n", "every value is missing"},
		{head + "0,10,20,5,1\n0,10,21,70,1\n", "own.csv: month 1, 10, 21: east is 70 m/s: a mean wind is never more than 60 m/s"},
		{head + "1,10,20,\"5,1\n", "own.csv:2: "},
		{head + "1,10,0,5,1\n1,10,180,5,1\n1,10,360,5,1\n", "more than once round"},
		{"CDF\x01", "not a sound netCDF file"},
		{"\x89HDF\r\n\x1a\n", "own.csv: it is netCDF-4, which is not read: copy it to the classic format"},
	} {
		_, err := ReadWind("own.csv", []byte(r.file))
		if err == nil || !strings.Contains(err.Error(), r.want) {
			t.Errorf("%q:\n got %v\nwant %s", r.file, err, r.want)
		}
	}
	if _, err := ReadWind("d.nc", file(t, "wind.nc")[:200]); err == nil {
		t.Error("a cut file is read")
	}
	if _, err := ReadCurrent("w.nc", file(t, "wind.nc")); err == nil || !strings.Contains(err.Error(), "eastward_sea_water_velocity") {
		t.Errorf("a wind is read as a current: %v", err)
	}
	many := head + strings.Repeat("1,10,20,5,x\n", 50)
	if _, err := ReadWind("own.csv", []byte(many)); strings.Count(err.Error(), "\n") != faultsShown || !strings.Contains(err.Error(), "and 30 more") {
		t.Errorf("fifty faults: %v", err)
	}
}

// TestBridge: what is missing lies straight between what is known, over the new year too.
func TestBridge(t *testing.T) {
	nan := math.NaN()
	f := [12]float64{nan, 2, 3, 4, nan, nan, 7, 6, 5, 4, 3, nan}
	bridge(&f)
	for m, want := range []float64{3 - 2./3, 2, 3, 4, 5, 6, 7, 6, 5, 4, 3, 3 - 1./3} {
		if math.Abs(f[m]-want) > 1e-12 {
			t.Errorf("month %d: %g, want %g", m+1, f[m], want)
		}
	}
}

// TestRoundTrip: a made-up csv comes back as it was written.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, cols := rapid.IntRange(2, 4).Draw(t, "rows"), rapid.IntRange(2, 4).Draw(t, "cols")
		south, west := float64(rapid.IntRange(-60, 50).Draw(t, "south")), float64(rapid.IntRange(-170, 340).Draw(t, "west"))
		var b strings.Builder
		b.WriteString("lon,lat,month,north,east\n")
		type at struct{ lat, lon, u, v float64 }
		var all []at
		for j := range rows {
			for i := range cols {
				a := at{south + 2*float64(j), west + 3*float64(i), rapid.Float64Range(-2, 2).Draw(t, "u"), rapid.Float64Range(-2, 2).Draw(t, "v")}
				all = append(all, a)
				fmt.Fprintf(&b, "%g,%g,0,%g,%g\n", a.lon, a.lat, a.v, a.u)
			}
		}
		f, err := ReadCurrent("made.csv", []byte(b.String()))
		if west+3*float64(cols-1) > 360 {
			if err == nil {
				t.Fatal("a longitude past 360 is read")
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range all {
			if u, v := f.Current(a.lat*deg, a.lon*deg, 7.3); math.Abs(u-a.u)+math.Abs(v-a.v) > 1e-5 {
				t.Fatalf("at %g %g: %g %g, want %g %g", a.lat, a.lon, u, v, a.u, a.v)
			}
		}
	})
}

// TestBrokenFiles: bytes changed or cut make a fault or other numbers, never a crash, and no wait.
func TestBrokenFiles(t *testing.T) {
	whole := map[string][]byte{"drifter.nc": file(t, "drifter.nc"), "drifter5.nc": file(t, "drifter5.nc"), "wind.nc": file(t, "wind.nc"), "own.csv": []byte(good)}
	start := time.Now()
	for name, from := range whole {
		for i := range min(len(from), 1600) {
			if time.Since(start) > 20*time.Second {
				t.Logf("stopped at byte %d of %s after %v", i, name, time.Since(start))
				break
			}
			for _, x := range []byte{0, 0x7f, 0xff, from[i] ^ 1} {
				b := append([]byte(nil), from...)
				b[i] = x
				if f, err := ReadCurrent(name, b); err == nil {
					if u, v := f.Current(12*deg, -58*deg, 1); math.IsNaN(u + v) {
						t.Fatalf("%s: byte %d as %#x: a current of %g %g", name, i, x, u, v)
					}
				}
			}
			if _, err := ReadWind(name, from[:i]); err == nil && name != "own.csv" && i < len(from)-4 {
				t.Fatalf("%s cut at byte %d is read", name, i)
			}
		}
	}
}

func FuzzReadWind(f *testing.F) {
	f.Add([]byte(good))
	f.Add(file(f, "wind.nc"))
	f.Add(file(f, "drifter.nc"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if w, err := ReadWind("x", b); err == nil {
			if u, v, s := w.Wind(.2, -.6, 3); math.IsNaN(u + v + s) {
				t.Errorf("%g %g %g", u, v, s)
			}
		}
	})
}
