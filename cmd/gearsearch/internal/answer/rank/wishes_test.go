package rank

import (
	"context"
	"testing"
	"time"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/constraints/kittest"
	"gearsearch/search"
)

// demoResult is the ranking of the demo with its first brief.
func demoResult(t *testing.T) *search.Result {
	t.Helper()
	p := kittest.Demo(t, "harbour")
	r, err := search.Rank(t.Context(), p, search.Options{Top: 1})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestQuickWishes: a ranking says what wishes cost where that is quick, and
// nothing where it is not, or where the ranking or the count was interrupted.
func TestQuickWishes(t *testing.T) {
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	for _, c := range []struct {
		name   string
		ctx    context.Context
		change func(r *search.Result)
		want   bool
		why    string
	}{
		{"the demo", t.Context(), func(*search.Result) {}, true, "a tenth of a second"},
		{"interrupted", ended, func(*search.Result) {}, false, "the count has not ended"},
		{"an incomplete ranking", t.Context(), func(r *search.Result) { r.Complete = false }, false, "its counts say nothing"},
		{"a hundred times the demo", t.Context(), func(r *search.Result) {
			for i := range r.Rejected {
				r.Rejected[i] *= 100
			}
		}, false, "some ten seconds"},
		{"parts that do not fit", t.Context(), func(r *search.Result) { r.Rejected[0] *= 1_000_000 }, true, "they are passed over at once"},
	} {
		r := demoResult(t)
		c.change(r)
		if got := quickWishes(c.ctx, &ask.Desk{}, r, false); (got != nil) != c.want {
			t.Errorf("%s: counted %t after an estimate of %v: %s", c.name, got != nil, withoutTime(r), c.why)
		}
	}
	if d := withoutTime(demoResult(t)); d < 10*time.Millisecond || d > quickWithout/3 {
		t.Errorf("the demo is estimated to take %v", d)
	}
}
