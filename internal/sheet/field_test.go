package sheet

import "testing"

// TestSplitKeepsEverySpot: the pieces together are the matrix, and a group is broken only where it alone is too wide.
func TestSplitKeepsEverySpot(t *testing.T) {
	m := Matrix{Heading: "h", Alt: "a", Rows: []Line{{Name: "r"}}, Cells: [][]Spot{nil}}
	for i, g := range "aaabbbbbcc" {
		m.Columns = append(m.Columns, Line{Group: string(g)})
		m.Cells[0] = append(m.Cells[0], Spot{Value: float64(i)})
	}
	for most, want := range map[int][]int{4: {3, 4, 3}, 5: {3, 5, 2}, 8: {8, 2}, 20: {10}} {
		parts, n := m.Split(most), 0
		for i, p := range parts {
			if i >= len(want) || len(p.Columns) != want[i] || len(p.Cells[0]) != want[i] {
				t.Fatalf("at most %d: piece %d has %d columns, want %v", most, i, len(p.Columns), want)
			}
			for _, s := range p.Cells[0] {
				if s.Value != float64(n) {
					t.Errorf("at most %d: spot %g where %d belongs", most, s.Value, n)
				}
				n++
			}
			if (p.Heading != "") != (i == 0) || (p.Alt != "") != (i == len(parts)-1) {
				t.Errorf("at most %d: heading or sentence in the wrong piece", most)
			}
		}
		if n != 10 {
			t.Errorf("at most %d: %d spots of 10", most, n)
		}
	}
}
