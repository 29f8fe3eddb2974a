package nesting

import (
	"context"
	"testing"
)

// BenchmarkBoat lays 40 parts of 60 points.
func BenchmarkBoat(b *testing.B) {
	for b.Loop() {
		r, err := Pack(context.Background(), boat(), ply, nil, Options{})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(r.Sheets), "sheets")
		b.ReportMetric(float64(r.Bound.Sheets), "bound")
		b.ReportMetric(100*r.Waste, "waste%")
		b.ReportMetric(float64(r.Layouts), "layouts")
	}
}

// BenchmarkLayout is one plain layout of the same boat, without a search.
func BenchmarkLayout(b *testing.B) {
	for b.Loop() {
		if _, err := Pack(context.Background(), boat(), ply, nil, Options{Effort: 1e-9}); err != nil {
			b.Fatal(err)
		}
	}
}
