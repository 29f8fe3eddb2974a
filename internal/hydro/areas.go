package hydro

import (
	"sort"

	"thole/internal/cuts"
)

// Areas is how much of the body's sections keeps the water out below a plane, m², at places along it: what bears her
// up along her length. Dry pockets are in; what is flooded or loose is not taken off.
func (b *Body) Areas(p cuts.Plane) (x, area []float64) {
	x, area = b.Envelope.Areas(p)
	for i := range b.Pockets {
		if !b.Pockets[i].dry(p) {
			continue
		}
		px, pa := b.Pockets[i].Stack.Areas(p)
		for k, at := range x {
			j := sort.SearchFloat64s(px, at)
			switch {
			case j < len(px) && px[j] == at:
				area[k] += pa[j]
			case j > 0 && j < len(px):
				t := (at - px[j-1]) / (px[j] - px[j-1])
				area[k] += pa[j-1] + t*(pa[j]-pa[j-1])
			}
		}
	}
	return x, area
}
