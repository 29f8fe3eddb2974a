package units

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// What is written like another keeps its unit and its +-.
//
// Source: the contract of LengthLike and MassLike; the factors of NIST SP 811.
func TestLike(t *testing.T) {
	for _, c := range []struct {
		name, like string
		si         float64
		want       string
		source     string
	}{
		{"length", "0.42 m", 0.44, "0.44 m", "decimals as they are"},
		{"length", "420 mm", 0.4405, "440.5 mm", "a decimal more where half a millimetre needs it"},
		{"length", "0.35 m +- 15 mm", 0.25, "0.25 m +- 15 mm", "the tolerance stays"},
		{"length", "1-5-0", 0.4572, "1-6-0", "18 in exactly"},
		{"length", "1-3-4+", 0.396875, "1-3-5", "15 5/8 in"},
		{"length", "2 1/2 in", 0.0762, "3 in", "76.2 mm"},
		{"length", "21 ft 6 in", 6.5786, "21 ft 7 in", "21 ft 7 in is 6.5786 m"},
		{"length", "0", 0.1, "0.10 m", "a bare nothing takes metres"},
		{"length", "-0.24 m", -0.04, "-0.04 m", "signs"},
		{"mass", "42 kg +- 10%", 52, "52 kg +- 10%", "the tolerance stays"},
		{"mass", "10.4 kg", 11.2333333, "11.233 kg", "within a gram"},
		{"mass", "154 lb +- 4 lb", 160 * 0.45359237, "160 lb +- 4 lb", "pounds stay"},
		{"mass", "1,15 kg", 2.3, "2,30 kg", "a decimal comma stays"},
		{"mass", "350 g", 0.4, "400 g", "grams stay"},
	} {
		got := ""
		if c.name == "length" {
			got = LengthLike(c.like, Length(c.si), 1e-4, Metric)
		} else {
			got = MassLike(c.like, Mass(c.si), 1e-3)
		}
		if got != c.want {
			t.Errorf("%g like %q: %q, want %q (%s)", c.si, c.like, got, c.want, c.source)
		}
	}
}

// What is written reads back, within what was asked or a thirty-second of an inch.
func TestLikeReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		like := rapid.SampledFrom([]string{"9 mm", "0.420 m", "42 cm", "1-2-3", "2 ft", "2 1/2 in", "21 ft 6 in", `6' 3 1/2"`, "0", "0.3 m +- 5 mm", "3/4 in"}).Draw(t, "like")
		v := rapid.Float64Range(-9, 9).Draw(t, "length")
		text := LengthLike(like, Length(v), 1e-4, Metric)
		got, _, _, err := WithTolerance(text, ParseLength)
		if err != nil || math.Abs(float64(got)-v) > 0.0254/32+1e-9 {
			t.Fatalf("%g like %q: %q, %v (%v)", v, like, text, got, err)
		}
	})
}
