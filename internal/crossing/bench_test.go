package crossing

import (
	"context"
	"runtime"
	"testing"

	"thole/internal/answer"
	"thole/internal/voyages"
)

func benchmarkNew(b *testing.B, name string, d Detail) {
	base := answer.NewCase(folder(b, name))
	of(b, base, d)
	for b.Loop() {
		b.StopTimer()
		k := heavier(b, name, base)
		b.StartTimer()
		of(b, k, d)
	}
}

func BenchmarkNewWhole(b *testing.B)     { benchmarkNew(b, "sanderling", Whole) }
func BenchmarkNewQuick(b *testing.B)     { benchmarkNew(b, "sanderling", Quick) }
func BenchmarkNewQuickPair(b *testing.B) { benchmarkNew(b, "turnstone", Quick) }

// BenchmarkPassages is passages of the demonstration boats by one worker.
func BenchmarkPassages(b *testing.B) {
	for _, name := range []string{"sanderling", "turnstone"} {
		b.Run(name, func(b *testing.B) {
			c := demo(b, name, Whole)
			var days float64
			n := uint64(0)
			for b.Loop() {
				t, err := c.Runner.Run(context.Background(), n, 100, 1, nil)
				if err != nil {
					b.Fatal(err)
				}
				n += 100
				days += float64(t.AtSeaS) / 86400
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/days/24, "ns/step")
			b.ReportMetric(days/float64(n), "days")
		})
	}
}

// BenchmarkTenThousand is ten thousand passages of eighty days at hourly steps, whatever becomes of her: by two workers.
func BenchmarkTenThousand(b *testing.B) {
	if testing.Short() {
		b.Skip("fewer passages show that it goes on working")
	}
	c := demo(b, "sanderling", Whole)
	s := c.Spec
	s.Route = []voyages.Point{{Place: voyages.Place{Lat: s.Route[2].Lat, Lon: -179 * deg}, Within: 1}} // out of reach
	s.Land, s.Most = nil, 80
	r, err := voyages.New(s)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		t, err := r.Run(context.Background(), 0, 10000, 2, nil)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(t.AtSeaS)/86400/10000, "days")
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.Sys)/1e6, "MB")
}
