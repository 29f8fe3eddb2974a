package crossing

import (
	"crypto/sha256"
	"slices"
	"sync"
)

// few are the things made last, by the sum of all that they hang on. Whoever asks for one that is being made waits for it.
type few[T any] struct {
	most int // kept

	mu    sync.Mutex
	by    map[[sha256.Size]byte]T
	order [][sha256.Size]byte // the one asked for last at the end
}

// get gives what was made before, or makes it. What cannot be made is not kept.
func (f *few[T]) get(key [sha256.Size]byte, build func() (T, error)) (T, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	v, ok := f.by[key]
	if ok {
		f.order = slices.DeleteFunc(f.order, func(k [sha256.Size]byte) bool { return k == key })
	} else {
		var err error
		if v, err = build(); err != nil {
			return v, err
		}
		if f.by == nil {
			f.by = map[[sha256.Size]byte]T{}
		}
		if len(f.order) == f.most {
			delete(f.by, f.order[0])
			f.order = f.order[1:]
		}
		f.by[key] = v
	}
	f.order = append(f.order, key)
	return v, nil
}
