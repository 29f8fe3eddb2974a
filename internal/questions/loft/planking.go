package loft

import "context"

// plank makes the skin's parts.
func (q *ask) plank(ctx context.Context) error { return ctx.Err() }
