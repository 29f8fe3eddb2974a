package byhand

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
)

// TestPullWrites: what a pull writes is what a rule reads.
func TestPullWrites(t *testing.T) {
	p, f := demo(t, "sanderling")
	v, err := draw(answer.NewCase(f), p, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	feet, g := demo(t, "turnstone")
	w, err := draw(answer.NewCase(g), feet, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	b := box.folder(t)
	u, err := draw(answer.NewCase(b), box, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct {
		name   string
		paper  paper
		folder *model.Folder
		handle Handle
		by     [3]float64
		want   []string
		source string
	}{
		{"10 mm up at 1:8 is 1.25 mm of the model", p, f, handle(t, v, "station 2, point 3"), [3]float64{0, 0, 0.010}, []string{"42.5 -> 43.8"}, "arithmetic: 42.5 + 10/8, to 0.1 mm"},
		{"10 mm out at 1:8", p, f, handle(t, v, "station 2, point 3"), [3]float64{0, 0.010, 0}, []string{"5.5 -> 6.8"}, "arithmetic: 5.5 + 10/8, to 0.1 mm"},
		{"both at once", p, f, handle(t, v, "station 2, point 3"), [3]float64{0, 0.008, -0.008}, []string{"5.5 -> 6.5", "42.5 -> 41.5"}, "arithmetic"},
		{"the place of a station stays", p, f, handle(t, v, "station 2, point 3"), [3]float64{0.5, 0, 0}, nil, "the contract of Pull"},
		{"the keel stays on the centre line", p, f, handle(t, v, "station 2, point 1"), [3]float64{0, 0.1, 0}, nil, "the contract of Pull"},
		{"less than a tenth of the model's millimetre is nothing", p, f, handle(t, v, "station 2, point 3"), [3]float64{0, 0, 0.0003}, nil, "arithmetic"},
		{"stem", p, f, handle(t, v, "stem, point 5"), [3]float64{0.008, 0, -0.016}, []string{"37.0 -> 38.0", "42.5 -> 40.5"}, "arithmetic"},
		{"a store", p, f, handle(t, v, "stove and pans"), [3]float64{0.1, 0, 0.005}, []string{"4.60 m; 0.10 m; 0.55 m -> 4.70 m; 0.10 m; 0.555 m"}, "arithmetic"},
		{"a weight with a tail", p, f, handle(t, v, "water jugs"), [3]float64{-0.2, 0.015, -0.04}, []string{"3.10 m -> 2.90 m", "0 m -> 0.015 m", "0.20 m +- 15 mm -> 0.16 m +- 15 mm"}, "arithmetic"},
		{"feet, inches and eighths", feet, g, handle(t, w, "station 5, point 2"), [3]float64{0, 0.0254, -0.0254}, []string{"1-8-2+ -> 1-9-2+", "0-4-2+ -> 0-3-2+"}, "arithmetic: an inch is 25.4 mm"},
		{"keel of nought in feet", feet, g, handle(t, w, "station 5, point 1"), [3]float64{0, 0, 0.0254}, []string{"0 -> 0-1-0"}, "arithmetic: an inch is 25.4 mm"},
		{"both rows of a corner", box, b, handle(t, u, "station 1, point 2"), [3]float64{0, 0.0104, 0}, []string{"500 -> 510", "500 -> 510"}, "arithmetic, to 1 mm full size"},
		{"a weight's nought", box, b, handle(t, u, "all up"), [3]float64{0, 0.0504, -0.1}, []string{"0 -> 0.05 m", "0.30 m +- 15 mm -> 0.20 m +- 15 mm"}, "arithmetic"},
		{"a weight in feet", box, b, handle(t, u, "chain"), [3]float64{0.3048, 0.0254, 0}, []string{"1-6-0 -> 2-6-0", "-0-3-4 -> -0-2-4"}, "arithmetic: a foot is 304.8 mm"},
	} {
		h := r.handle
		edits, err := pull(r.folder, r.paper, h.ID, [3]*float64{to(h.X + r.by[0]), to(h.Y + r.by[1]), to(h.Z + r.by[2])})
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
			continue
		}
		var got []string
		for _, e := range edits {
			got = append(got, e.Was+" -> "+e.Text)
		}
		if strings.Join(got, " | ") != strings.Join(r.want, " | ") {
			t.Errorf("%s: got %q, want %q (%s)", r.name, got, r.want, r.source)
		}
	}
}

// TestThereAndBack: a reading pulled away and back leaves the table's own bytes, in one go or in two.
func TestThereAndBack(t *testing.T) {
	p, f := demo(t, "sanderling")
	v, err := draw(answer.NewCase(f), p, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"station 2, point 3", "station 6, point 1,", "station 1, point 2", "stem, point 5"} {
		h := handle(t, v, strings.TrimSuffix(name, ","))
		out, err := pull(f, p, h.ID, [3]*float64{to(h.X + 0.01), to(h.Y + 0.01), to(h.Z + 0.003)})
		if err != nil || len(out) == 0 {
			t.Fatal(name, out, err)
		}
		there := p.edited(t, out)
		g := there.folder(t)
		back, err := pull(g, there, h.ID, [3]*float64{to(h.X), to(h.Y), to(h.Z)})
		if err != nil {
			t.Fatal(name, err)
		}
		if again := there.edited(t, back); again["cuts.csv"] != p["cuts.csv"] {
			t.Errorf("%s: out by %v and back by %v leaves other bytes", name, out, back)
		}
		none, err := pull(f, p, h.ID, [3]*float64{to(h.X), to(h.Y), to(h.Z)})
		if err != nil || len(none) != 0 {
			t.Errorf("%s: not moved, and yet %v %v", name, none, err)
		}
	}
}

// TestCounterpart: a value is found again in the line as it was, whatever has been changed beside it.
func TestCounterpart(t *testing.T) {
	now := "  - {what: \"bulkheads, four\", mass: 12.5 kg, at: [3.305 m, 0.012 m, 0.45 m +- 15 mm]}   # weighed"
	was := "  - {what: \"bulkheads, four\", mass: 12.5 kg, at: [3.30 m, 0 m, 0.45 m +- 15 mm]}   # weighed"
	for _, r := range []struct{ text, want string }{{"3.305 m", "3.30 m"}, {"0.012 m", "0 m"}, {"0.45 m +- 15 mm", "0.45 m +- 15 mm"}} {
		if got := counterpart(now, was, strings.Index(now, r.text)+1); got != r.want {
			t.Errorf("%s: got %q, want %q", r.text, got, r.want)
		}
	}
	if got := counterpart("a,b,c", "a", 5); got != "" {
		t.Errorf("a line with less in it gives %q", got)
	}
	g := figureOf("3.305 m")
	g.first = "3.3 m"
	if got := g.write(3.3); got != "3.3 m" {
		t.Errorf("got %q, want what stood there", got)
	}
}

// TestBoxPulled: a box made broader carries more by the closed form.
func TestBoxPulled(t *testing.T) {
	f := box.folder(t)
	c := answer.NewCase(f)
	v, err := draw(c, box, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	var edits []boatfolder.Edit
	now, g := box, f
	for _, name := range []string{"station 0, point 2", "station 0, point 3", "station 1, point 2", "station 1, point 3"} {
		h := handle(t, v, name)
		e, err := pull(g, now, h.ID, [3]*float64{nil, to(h.Y + 0.1), nil})
		if err != nil {
			t.Fatal(err)
		}
		edits = append(edits, e...)
		now = box.edited(t, edits)
		g = now.folder(t)
	}
	was, err := c.Trip()
	if err != nil {
		t.Fatal(err)
	}
	after, err := answer.NewCase(g).Trip()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct {
		name      string
		got, want float64
		source    string
	}{
		{"volume before", was.Ship.Body.Envelope.Volume(), 4 * 1.0 * 0.6, "length × breadth × depth, closed form"},
		{"volume after", after.Ship.Body.Envelope.Volume(), 4 * 1.2 * 0.6, "length × breadth × depth, closed form"},
		{"freeboard before", least(was.Freeboard(was.Float(was.State(0, 0), nil).Rest.Attitude)), 0.6 - 0.640/4.0, "draft = mass / (density × length × breadth), closed form; she trims"},
	} {
		tol := 1e-9
		if strings.HasPrefix(r.name, "freeboard") {
			tol = 0.08 // the chain lies forward and to port: only that she floats about there
		}
		if !(math.Abs(r.got-r.want) <= tol) {
			t.Errorf("%s: got %.9f, want %.9f (%s)", r.name, r.got, r.want, r.source)
		}
	}
}

func least[T any](v float64, _ T) float64 { return v }

// TestShape: a pull of the shape takes the readings about it along, less with their distance, and leaves keel and sheer; so
// the surface comes to where the hand is, which a single reading beyond the measuring error cannot bring about.
func TestShape(t *testing.T) {
	p, f := demo(t, "sanderling")
	v, err := draw(answer.NewCase(f), p, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	h := handle(t, v, "station 6, point 6")
	const out = 0.040
	for _, alone := range []bool{true, false} {
		id := Shape + h.ID
		if alone {
			id = h.ID
		}
		edits, err := pull(f, p, id, [3]*float64{nil, to(h.Y + out), nil})
		if err != nil {
			t.Fatal(err)
		}
		there := p.edited(t, edits)
		w, err := draw(answer.NewCase(there.folder(t)), there, 0, "")
		if err != nil {
			t.Fatal(err)
		}
		now := handle(t, w, "station 6, point 6")
		if alone {
			if !now.Misread || len(edits) != 1 {
				t.Errorf("a single reading pulled by %.0f mm should look misread: %+v, %d edits", 1000*out, now, len(edits))
			}
			continue
		}
		// 4 mm is the reading error, full size, within which the fairing may move a point
		if now.Misread || !(math.Abs(now.Off) < 0.004) {
			t.Errorf("the surface did not come along: %+v", now)
		}
		if got := now.Y - h.Y; !(math.Abs(got-out) <= 0.0004+1e-9) {
			t.Errorf("the pulled point moved by %.4f, not %.4f to a tenth of a millimetre of the model", got, out)
		}
		for i, a := range v.Handles {
			b := w.Handles[i]
			moved := math.Hypot(b.Y-a.Y, b.Z-a.Z)
			if moved > out+0.0004 || b.X != a.X || b.Z != a.Z {
				t.Errorf("%s moved by %.4f and more than the hand", a.Name, moved)
			}
			if moved > 0 && (strings.Contains(a.Name, "the sheer") || strings.Contains(a.Name, "point 1 from") || math.Abs(a.X-h.X) > 2.8) {
				t.Errorf("%s moved by %.4f and should stay", a.Name, moved)
			}
		}
		for _, name := range []string{"station 6, point 5", "station 6, point 7", "station 5, point 6", "station 7, point 6"} {
			if by := handle(t, w, name).Y - handle(t, v, name).Y; !(by > 0.005 && by < out) {
				t.Errorf("%s followed by %.4f", name, by)
			}
		}
	}
	// hard pulls, of knuckles too, stay fair enough for the fairing to follow them: a tenth of the half-breadth
	for _, r := range []struct{ boat, point string }{{"sanderling", "station 6, point 7"}, {"sanderling", "station 3, point 6"}, {"turnstone", "station 5, point 3"}, {"turnstone", "station 8, point 2"}} {
		p, f := demo(t, r.boat)
		v, err := draw(answer.NewCase(f), p, 0, "")
		if err != nil {
			t.Fatal(err)
		}
		h := handle(t, v, r.point)
		edits, err := pull(f, p, Shape+h.ID, [3]*float64{nil, to(1.1 * h.Y), nil})
		if err != nil {
			t.Fatal(err)
		}
		there := p.edited(t, edits)
		w, err := draw(answer.NewCase(there.folder(t)), there, 0, "")
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range w.Handles {
			if h.Misread {
				t.Errorf("%s, %s pulled by a tenth: %s looks misread", r.boat, r.point, h.Name)
			}
		}
	}
	// a box: the corner's line goes along its length, and the deck's edge and the keel stay
	b := box.folder(t)
	u, err := draw(answer.NewCase(b), box, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	edits, err := pull(b, box, Shape+handle(t, u, "station 1, point 2").ID, [3]*float64{nil, to(0.6), nil})
	if err != nil || len(edits) != 2 {
		t.Errorf("the corner of a box, too long for its other end to follow: %v %v", edits, err)
	}
	if e, err := pull(b, box, Shape+handle(t, u, "all up").ID, [3]*float64{nil, to(0.6), nil}); err == nil {
		t.Errorf("a weight has no shape about it: %v", e)
	}
}

// TestHeld: a reading stops at the centre line and short of its neighbours' line, and what comes of it can be read.
func TestHeld(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another, many times over: nothing for the race detector")
	}
	p, f := demo(t, "sanderling")
	v, err := draw(answer.NewCase(f), p, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for i, h := range v.Handles {
		if h.Kind != Reading || i%7 != 0 {
			continue
		}
		for _, by := range [][2]float64{{-3, 0}, {0.5, 0}, {0, 2}, {0, -2}, {0.4, -0.4}, {-0.1, 0.15}} {
			id := h.ID
			if i%2 == 0 {
				id = Shape + id
			}
			edits, err := pull(f, p, id, [3]*float64{to(h.X + by[0]), to(h.Y + by[0]), to(h.Z + by[1])})
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range edits {
				if strings.HasPrefix(e.Text, "-") && strings.HasSuffix(e.Key, "halfbreadth_mm") {
					t.Errorf("%s pulled by %v: %v", h.Name, by, e)
				}
			}
			if h.End {
				continue
			}
			n++
			p.edited(t, edits).folder(t) // fails where the section crosses itself
		}
	}
	if n < 60 {
		t.Errorf("only %d pulls were tried", n)
	}
}

// TestHostile: nothing that is sent stops it or becomes text.
func TestHostile(t *testing.T) {
	p, f := demo(t, "sanderling")
	v, err := draw(answer.NewCase(f), p, 0, "")
	if err != nil {
		t.Fatal(err)
	}
	h := v.Handles[20]
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e9, -1e300} {
		for k := range 3 {
			var where [3]*float64
			where[k] = to(bad)
			if e, err := pull(f, p, h.ID, where); err == nil {
				t.Errorf("%v: %v", bad, e)
			}
		}
	}
	for _, id := range []string{"", "cuts.csv:rows[999999]", "../../etc/passwd:rows[0]", strings.Repeat("x", 1<<16), "cuts.csv:rows[-1]"} {
		if e, err := pull(f, p, id, [3]*float64{to(0), to(0), to(0)}); err == nil || len(err.Error()) > 200 {
			t.Errorf("%.40q: %v %v", id, e, err)
		}
	}
	if e, err := pull(f, p, h.ID, [3]*float64{}); err != nil || len(e) != 0 {
		t.Errorf("nothing asked: %v %v", e, err)
	}
	if _, err := draw(answer.NewCase(f), p, -1, ""); err == nil {
		t.Error("day -1 was drawn")
	}
	if _, err := draw(answer.NewCase(f), p, 0, "on the moon"); err == nil {
		t.Error("a condition that is none was drawn")
	}
	if _, err := draw(answer.NewCase(f), paper{}, 0, ""); err == nil {
		t.Error("a folder without its table was drawn")
	}
}

func BenchmarkShape(b *testing.B) {
	p, f := demo(b, "sanderling")
	spots, err := spotsOf(f, p, 0)
	if err != nil {
		b.Fatal(err)
	}
	h := spots[60]
	for b.Loop() {
		if _, err := pull(f, p, Shape+h.ID, [3]*float64{nil, to(h.Y + 0.01), to(h.Z + 0.01)}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPull(b *testing.B) {
	p, f := demo(b, "sanderling")
	spots, err := spotsOf(f, p, 0)
	if err != nil {
		b.Fatal(err)
	}
	h := spots[40]
	for b.Loop() {
		if _, err := pull(f, p, h.ID, [3]*float64{nil, to(h.Y + 0.01), to(h.Z + 0.01)}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestOnADraft: what Pull gives, the folder's own draft takes, and reads back at the place asked for; pulled back, the
// bytes are the first ones.
func TestOnADraft(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	for _, name := range []string{"sanderling", "turnstone"} {
		first, faults := boatfolder.Open(filepath.Join("..", "..", "demo", name))
		if faults != nil {
			t.Fatal(faults)
		}
		f, faults := first.Read()
		if faults != nil {
			t.Fatal(faults)
		}
		v, err := Draw(answer.NewCase(f), first, 0, "")
		if err != nil {
			t.Fatal(err)
		}
		for i, h := range v.Handles {
			if i%5 != 0 {
				continue
			}
			// 1/16 in is the coarsest that any of these files is written to
			edits, err := Pull(f, first, h.ID, to(h.X+0.0127), to(h.Y+0.0127), to(h.Z+0.0127))
			if err != nil || len(edits) == 0 {
				t.Errorf("%s, %s: %v %v", name, h.Name, edits, err)
				continue
			}
			there, faults := first.With(edits...)
			if faults != nil {
				t.Errorf("%s, %s: %v", name, h.Name, faults)
				continue
			}
			g, faults := there.Read()
			if faults != nil {
				t.Errorf("%s, %s: %v", name, h.Name, faults)
				continue
			}
			spots, err := spotsOf(g, there, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range spots {
				if s.ID != h.ID {
					continue
				}
				for k, by := range []float64{s.X - h.X, s.Y - h.Y, s.Z - h.Z} {
					if want := map[bool]float64{true: 0.0127}[h.Free[k]]; math.Abs(by-want) > 0.0008 {
						t.Errorf("%s, %s: moved by %.4f in %d, want %.4f (one sixteenth of an inch, half of it to the nearest)", name, h.Name, by, k, want)
					}
				}
			}
			back, err := Pull(g, there, h.ID, to(h.X), to(h.Y), to(h.Z))
			if err != nil {
				t.Fatal(err)
			}
			again, faults := there.With(back...)
			if faults != nil {
				t.Fatal(faults)
			}
			for _, file := range first.Files() {
				one, _ := first.Text(file)
				if other, _ := again.Text(file); one != other {
					t.Errorf("%s, %s: out and back leaves other bytes: %v", name, h.Name, again.Changes())
				}
			}
		}
	}
}
