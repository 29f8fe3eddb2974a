package answer

import "testing"

// A gap is never written smaller than it is. Source: arithmetic
func TestHowFar(t *testing.T) {
	for gap, want := range map[float64]string{0: "the best there is", 0.0121: "at most 1.3 % from the best", 0.02: "at most 2.0 % from the best", 0.125: "at most 13 % from the best", 40: "at most 999 % from the best"} {
		if got := (Finding{Gap: &gap}).HowFar(); got != want {
			t.Errorf("%v: %q, want %q", gap, got, want)
		}
	}
	if got := (Finding{}).HowFar(); got != "how far from the best is not known yet" {
		t.Error(got)
	}
}
