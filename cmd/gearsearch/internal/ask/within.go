//go:build !js

package ask

import (
	"context"
	"time"
)

// within is a context that ends after some time.
func within(ctx context.Context, most time.Duration) (context.Context, context.CancelFunc) {
	return context.WithTimeout(ctx, most)
}
