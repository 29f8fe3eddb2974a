// Package patience tells whether a test has waited too long for what is to come soon, on whatever machine it runs.
//
// Soon is so much time on a quiet machine. A loaded one, or one that the race detector slows, does a fixed piece of work in so
// many times the time: so much longer may all else take there, too.
//
// Whoever runs the tests may have more patience than CI has: THOLE_LONG=1 asks for the long run.
package patience

import (
	"math"
	"os"
	"runtime"
	"sync"
	"time"
)

// quiet is how long the piece of work takes on a quiet machine, and a little less: one of two cores, measured. It is long enough
// for a busy machine to give its cores to others meanwhile.
const quiet = 120 * time.Millisecond

// Rounds is how many rounds a test goes: few in every run, and many where the environment has THOLE_LONG=1.
func Rounds(few, many int) int {
	if Long() {
		return many
	}
	return few
}

// Long tells whether this is the long run.
func Long() bool { return os.Getenv("THOLE_LONG") == "1" }

// Over tells whether something took longer than it takes at most on a quiet machine, and longer than that too on this one as it is now.
func Over(took, most time.Duration) bool {
	if took <= most {
		return false
	}
	slower := math.Max(1, float64(work())/float64(quiet))
	return float64(took) > float64(most)*slower
}

// work does the piece of work on all cores at once, since what is waited for may use them all.
func work() time.Duration {
	began := time.Now()
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			x := make([]float64, 1000)
			for i := range 30000 {
				for k := range x {
					x[k] = math.Sqrt(x[k] + float64(i+k))
				}
			}
			runtime.KeepAlive(x)
		})
	}
	wait.Wait()
	return time.Since(began)
}
