package answer

import "sync"

// shelf keeps things under keys, each made once.
type shelf struct {
	mu   sync.Mutex
	kept map[string]*kept
}

type kept struct {
	sync.Mutex
	made  bool
	value any
}

// keep gives what was made under a key before, or makes it; an error is not kept.
func (s *shelf) keep(key string, build func() (any, error)) (any, error) {
	s.mu.Lock()
	if s.kept == nil {
		s.kept = map[string]*kept{}
	}
	k := s.kept[key]
	if k == nil {
		k = &kept{}
		s.kept[key] = k
	}
	s.mu.Unlock()
	k.Lock() // of this key alone: who asks for another need not wait
	defer k.Unlock()
	if k.made {
		return k.value, nil
	}
	v, err := build()
	if err == nil {
		k.value, k.made = v, true
	}
	return v, err
}
