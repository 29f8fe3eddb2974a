package feed

import (
	"testing"

	"thole/internal/answer"
	"thole/internal/provisions"
)

// BenchmarkLasts is what the answer costs beside the passages: how long food and water last, with spreads.
func BenchmarkLasts(b *testing.B) {
	for _, name := range demos {
		t, err := answer.NewCase(folder(b, name)).Trip()
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				p, err := provisions.Of(t, nil)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := p.Plan.Lasts(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
