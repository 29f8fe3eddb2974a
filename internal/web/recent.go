package web

import (
	"container/list"
	"sync"
)

// recent keeps the few things last used. Each is made once, however many ask for it at the
// same time.
type recent[V any] struct {
	most int

	mu    sync.Mutex
	kept  map[string]*list.Element // of *recentOne[V]
	order *list.List               // the last used in front
}

type recentOne[V any] struct {
	key   string
	once  sync.Once
	made  bool // guarded by recent.mu, as value is
	value V
}

func newRecent[V any](most int) *recent[V] {
	return &recent[V]{most: most, kept: map[string]*list.Element{}, order: list.New()}
}

// get gives what is kept under a key, or makes it. Who asks for another key does not wait for it.
func (r *recent[V]) get(key string, build func() V) V {
	r.mu.Lock()
	e, ok := r.kept[key]
	if ok {
		r.order.MoveToFront(e)
	} else {
		e = r.order.PushFront(&recentOne[V]{key: key})
		r.kept[key] = e
		for r.order.Len() > r.most {
			delete(r.kept, r.order.Remove(r.order.Back()).(*recentOne[V]).key)
		}
	}
	one := e.Value.(*recentOne[V])
	r.mu.Unlock()
	one.once.Do(func() {
		value := build()
		r.mu.Lock()
		defer r.mu.Unlock()
		one.value, one.made = value, true
	})
	return one.value
}

// peek gives what is kept under a key, if it is made.
func (r *recent[V]) peek(key string) (value V, ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if e, there := r.kept[key]; there {
		one := e.Value.(*recentOne[V])
		return one.value, one.made
	}
	return value, false
}
