package levers

import (
	"context"
	"testing"

	"thole/internal/answer"
	"thole/internal/questions"
)

// BenchmarkTable is every question with every lever of a whole boat, from her files.
func BenchmarkTable(b *testing.B) {
	if testing.Short() {
		b.Skip("twelve seconds a round, and cmd's TestLevers shows that it goes on working")
	}
	for b.Loop() {
		desk, err := Open("../../demo/sanderling")
		if err != nil {
			b.Fatal(err)
		}
		r, err := desk.Table(context.Background(), questions.Table, answer.Options{}, nil)
		if err != nil || len(r.Rows) != len(desk.Levers) {
			b.Fatal(len(r.Rows), err)
		}
	}
}

// BenchmarkList is the levers of a folder and what each writes.
func BenchmarkList(b *testing.B) {
	for b.Loop() {
		if _, err := Open("../../demo/sanderling"); err != nil {
			b.Fatal(err)
		}
	}
}
