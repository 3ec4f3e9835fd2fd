package search

import (
	"context"
	"sync/atomic"
	"time"
)

// until is a context that ends with another, or when the work is called off. Unlike
// one of package context it asks the other each time that it is asked, which may let
// further work go on meanwhile.
type until struct {
	context.Context
	off atomic.Bool
}

func newUntil(ctx context.Context) *until { return &until{Context: ctx} }

// cancel calls the work off.
func (u *until) cancel() { u.off.Store(true) }

// Err is not nil once the work is to end.
func (u *until) Err() error {
	if u.off.Load() {
		return context.Canceled
	}
	return u.Context.Err()
}

// showing is a context of a search on one goroutine that shows now and then what is
// found: a search asks often whether it is to end.
type showing struct {
	context.Context
	show  func()
	last  time.Time // that it was shown, or the beginning
	asked int
}

// How long a search runs between two looks at what it has found, and how often it is
// asked between two looks at the clock, which cost more than the question.
const (
	showEvery  = 250 * time.Millisecond
	looksEvery = 16
)

// shown is ctx, which calls o.Sofar with what found returns if the options want that
// and one worker searches.
func (o Options) shown(ctx context.Context, found func() *Result) context.Context {
	if o.Sofar == nil || o.Workers != 1 {
		return ctx
	}
	return &showing{Context: ctx, show: func() { o.Sofar(found()) }, last: time.Now()}
}

func (s *showing) Err() error {
	if s.asked++; s.asked%looksEvery == 0 && time.Since(s.last) >= showEvery {
		s.show()
		s.last = time.Now()
	}
	return s.Context.Err()
}
