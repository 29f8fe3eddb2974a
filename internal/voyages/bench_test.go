package voyages

import (
	"context"
	"strconv"
	"testing"
)

func BenchmarkPassage(b *testing.B) {
	s := atlantic()
	s.Route = []Point{{Place{17 * deg, 150 * deg}, 1000}}
	s.Most = 80
	r, err := New(s)
	if err != nil {
		b.Fatal(err)
	}
	c := counter{t: r.NewTally()}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := r.passage(uint64(i), &c, false); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1920, "ns/step")
}

func BenchmarkTenThousand(b *testing.B) {
	if testing.Short() {
		b.Skip("fewer passages show that it goes on working")
	}
	r, err := New(atlantic())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		t, err := r.Run(context.Background(), 0, 10000, 2, nil)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(t.AtSeaS)/86400/float64(t.Passages), "days")
		med, _ := t.ArrivalBy(0.5)
		b.ReportMetric(med, "median")
		b.ReportMetric(float64(t.Ends[Arrived]), "arrived")
		b.ReportMetric(float64(t.Ends[Missed]), "missed")
		b.ReportMetric(float64(t.Ends[Ashore]), "ashore")
	}
}

// BenchmarkPassages shows the cost by their number: linear, the memory the same.
func BenchmarkPassages(b *testing.B) {
	r, err := New(atlantic())
	if err != nil {
		b.Fatal(err)
	}
	for _, n := range []uint64{500, 1000, 2000, 4000} {
		b.Run(strconv.FormatUint(n, 10), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := r.Run(context.Background(), 0, n, 1, nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "us/passage")
		})
	}
}
