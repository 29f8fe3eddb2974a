package patience

import (
	"testing"
	"time"
)

// What keeps its time is never late; what takes out of all proportion is, however busy the machine.
func TestOver(t *testing.T) {
	if Over(time.Second, time.Second) {
		t.Error("a second is longer than a second")
	}
	if !Over(100*time.Hour, time.Second) {
		t.Errorf("days for a second, with the work done in %v", work())
	}
}
