//go:build unix

package crossing

import (
	"context"
	"math"
	"syscall"
	"testing"
)

// used is the time of all cores that the process has used, s: what others do with the machine is not in it.
func used(t *testing.T) float64 {
	t.Helper()
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		t.Fatal(err)
	}
	return float64(r.Utime.Sec) + float64(r.Utime.Usec)/1e6
}

// TestCostIsLinear: four times the passages cost four times as much, within a band for what a shared machine's caches do.
//
// Source: the machine's own count of time used
func TestCostIsLinear(t *testing.T) {
	if testing.Short() {
		t.Skip("a second of passages; left out with -short")
	}
	c := demo(t, "sanderling", Quick)
	cost := func(n uint64) float64 {
		least := math.Inf(1)
		for range 2 {
			from := used(t)
			if _, err := c.Runner.Run(context.Background(), 0, n, 1, nil); err != nil {
				t.Fatal(err)
			}
			least = math.Min(least, used(t)-from)
		}
		return least
	}
	cost(20) // what is made once is made
	few, more := cost(100), cost(400)
	t.Logf("%.2f ms a passage of 100, %.2f of 400", 1e3*few/100, 1e3*more/400)
	if r := more / few; r < 2.5 || r > 6.5 {
		t.Errorf("four times the passages cost %.1f times as much", r)
	}
}
