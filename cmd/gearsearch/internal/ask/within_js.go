package ask

import (
	"context"
	"time"
)

// within is a context that ends after some time. In a browser a search keeps the only
// thread, and no timer comes in between: whoever asks whether the context has ended
// looks at the clock.
func within(ctx context.Context, most time.Duration) (context.Context, context.CancelFunc) {
	ctx, cancel := context.WithTimeout(ctx, most)
	return &clocked{Context: ctx, end: time.Now().Add(most)}, cancel
}

// clocked is a context that looks at the clock, one time in looksEvery: that costs more
// than the question. It is asked by one goroutine at a time.
type clocked struct {
	context.Context
	end   time.Time
	asked int
	over  bool
}

const looksEvery = 16

func (c *clocked) Err() error {
	if c.asked++; c.asked%looksEvery == 0 {
		c.over = c.over || time.Now().After(c.end)
	}
	if c.over {
		return context.DeadlineExceeded
	}
	return c.Context.Err()
}
