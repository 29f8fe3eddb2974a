package boatfolder

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// examples are the fenced blocks of docs/boat-folder.md.
func examples(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile("../../docs/boat-folder.md")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for i, part := range strings.Split(string(data), "\n```") {
		if i%2 == 1 {
			_, block, _ := strings.Cut(part, "\n")
			out = append(out, block+"\n")
		}
	}
	return out
}

// The manual's examples are read as they stand there.
func TestManual(t *testing.T) {
	read := map[string]bool{}
	voyage := ""
	for _, block := range examples(t) {
		files := map[string]string{}
		switch {
		case strings.HasPrefix(block, "boat:"):
			files["boat.yaml"] = block
		case strings.HasPrefix(block, "rowing:"):
			files["boat.yaml"] = smallest + block
		case strings.HasPrefix(block, "from:"):
			files["voyage.yaml"] = block
			voyage = block
		case strings.HasPrefix(block, "functions:"):
			files["needs.yaml"] = block
		case strings.HasPrefix(block, "floated:"):
			files["trials.yaml"], files["voyage.yaml"] = block, voyage
		case strings.HasPrefix(block, "levers:"):
			files["whatif.yaml"] = block
		case strings.HasPrefix(block, "measure,"):
			files["offsets.csv"] = block
			files["boat.yaml"] = strings.Replace(smallest, "3.10 m", "0.5 m", 1)
		case strings.HasPrefix(block, "what,south"):
			files["sets.csv"], files["voyage.yaml"] = block, "sets: sets.csv\n"
		case strings.HasPrefix(block, "station,"):
			// Two stations of a model, 60 mm apart: at 1:20 she is long enough.
			files["cuts.csv"] = block
			files["boat.yaml"] = strings.NewReplacer("3.10 m", "0.5 m", "offsets: offsets.csv", "cuts: cuts.csv\n  scale: 20").Replace(smallest)
		default:
			continue
		}
		if _, faults := inMemory(with(files)); len(faults) > 0 {
			t.Errorf("%s\n%v", block, faults)
		}
		word, _, _ := strings.Cut(block, ":")
		read[strings.Split(word, ",")[0]] = true
	}
	if len(read) != 9 {
		t.Errorf("examples read: %v", read)
	}
	manual, _ := os.ReadFile("../../docs/boat-folder.md")
	for _, p := range published {
		for _, k := range p.shape.keys {
			if !strings.Contains(string(manual), k.name) {
				t.Errorf("the manual does not name %s", k.name)
			}
		}
	}
}

// The same boat, written as points in millimetres and as a classic table in
// feet-inches-eighths, is the same readings; and a model's cuts at 1:s are the
// full size's over s.
func TestTablesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const sixteenth = 25.4 / 16 // mm; NIST SP 811: an inch is 25.4 mm exactly
		stations := rapid.IntRange(2, 6).Draw(t, "stations")
		scale := rapid.SampledFrom([]float64{2, 8, 10}).Draw(t, "scale")
		points := "station,distance_mm,height_mm,halfbreadth_mm,knuckle\n"
		model := points
		rows := map[string]string{}
		header := "measure,line"
		step := rapid.IntRange(200, 600).Draw(t, "spacing")
		for i := range stations {
			n := func(least, most int, what string) int { return rapid.IntRange(least, most).Draw(t, what) }
			keel := n(0, 50, "keel")
			chineZ, chineY := keel+n(1, 80, "chine's height"), n(1, 200, "chine")
			sheerZ, sheerY := chineZ+n(1, 200, "sheer's height"), n(1, 300, "sheer")
			header += fmt.Sprintf(",%d", i)
			for row, v := range map[string]int{
				"distance,": i * step, "height,keel": keel, "height,chine": chineZ, "height,sheer": sheerZ,
				"half-breadth,chine": chineY, "half-breadth,sheer": sheerY,
			} {
				plus := ""
				if v%2 == 1 {
					plus = "+"
				}
				rows[row] += fmt.Sprintf(",%d-%d-%d%s", v/192, v/16%12, v/2%8, plus)
			}
			for _, p := range []struct {
				z, y int
				name string
			}{{keel, 0, ""}, {chineZ, chineY, "chine"}, {sheerZ, sheerY, ""}} {
				line := func(by float64) string {
					return fmt.Sprintf("%d,%.9f,%.9f,%.9f,%s\n", i, float64(i*step)*sixteenth/by, float64(p.z)*sixteenth/by, float64(p.y)*sixteenth/by, p.name)
				}
				points += line(1)
				model += line(scale)
			}
		}
		classic := header + "\n"
		for row, cells := range rows {
			classic += row + cells + "\n"
		}
		boat := strings.Replace(smallest, "3.10 m", "0.3 m", 1)
		cuts := strings.Replace(boat, "offsets: offsets.csv", fmt.Sprintf("cuts: offsets.csv\n  scale: %g", scale), 1)
		a, faultsA := inMemory(map[string]string{"boat.yaml": boat, "offsets.csv": points})
		b, faultsB := inMemory(map[string]string{"boat.yaml": boat, "offsets.csv": classic})
		c, faultsC := inMemory(map[string]string{"boat.yaml": cuts, "offsets.csv": model})
		if len(faultsA) != len(faultsB) || len(faultsA) != len(faultsC) {
			t.Fatalf("faults:\n%v\n%v\n%v", faultsA, faultsB, faultsC)
		}
		if len(faultsA) > 0 {
			return
		}
		const tol = 1e-8 // metres; nine decimals of a millimetre were written
		for i, s := range a.Boat.Hull.Readings.Stations {
			for _, other := range []struct {
				x      float64
				points int
			}{
				{b.Boat.Hull.Readings.Stations[i].X, len(b.Boat.Hull.Readings.Stations[i].Points)},
				{c.Boat.Hull.Readings.Stations[i].X, len(c.Boat.Hull.Readings.Stations[i].Points)},
			} {
				if math.Abs(s.X-other.x) > tol || len(s.Points) != other.points {
					t.Fatalf("station %d at %v and %v, %d and %d points", i, s.X, other.x, len(s.Points), other.points)
				}
			}
			for j, p := range s.Points {
				q, m := b.Boat.Hull.Readings.Stations[i].Points[j], c.Boat.Hull.Readings.Stations[i].Points[j]
				if math.Abs(p.Z-q.Z)+math.Abs(p.Y-q.Y)+math.Abs(p.Z-m.Z)+math.Abs(p.Y-m.Y) > tol || p.Knuckle != q.Knuckle || p.Corner != q.Corner || p.Corner != m.Corner {
					t.Fatalf("station %d, point %d: %+v, %+v and %+v", i, j, p, q, m)
				}
			}
		}
	})
}
