package afloat

import "context"

// SearchCount is how many states a search for the tightest works out.
func (t *Trip) SearchCount() int {
	s := t.newSearch()
	s.run(context.Background())
	return len(s.tried)
}
