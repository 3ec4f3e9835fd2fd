package rank

import (
	"context"
	"strings"
	"time"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search"
)

// The time to count the price of wishes, in nanoseconds: for each combination whose
// parts fit, for each of these where a launch or a torque is asked for, and for each
// build that gets as far as these, which are computed one by one. Measured on the
// demo catalog and on markets of up to a billion combinations.
const (
	nanosFitting  = 25
	nanosExact    = 100
	nanosComputed = 2000
)

// withoutTime is about how long it takes to count the price of wishes after a
// search.
func withoutTime(r *search.Result) time.Duration {
	fitting, computed, each := float64(r.Feasible), float64(r.Feasible), float64(nanosFitting)
	for _, x := range r.Rejections() {
		switch x.Check.Name {
		case "bore", "profile", "hub", "belt", "voltage":
			continue
		case "launch", "hill-torque":
			each = nanosExact
			computed += float64(x.Count)
		}
		fitting += float64(x.Count)
	}
	nanos := each * fitting
	if each == nanosExact {
		nanos += nanosComputed * computed
	}
	return time.Duration(nanos)
}

// fewWishes is how many wishes a ranking names.
const fewWishes = 3

// quickWithout is how long a ranking counts the price of wishes by itself at
// the most, as estimated; a count that takes mostWithout on a busy machine ends
// without an answer.
const (
	quickWithout = time.Second
	mostWithout  = 3 * time.Second
)

// quickWishes are the prices of the wishes, for a ranking; nil where counting them
// takes long.
func quickWishes(ctx context.Context, d *ask.Desk, result *search.Result, strict bool) *search.Wishes {
	if !result.Complete || withoutTime(result) > quickWithout {
		return nil
	}
	ctx, cancel := d.Within(ctx, mostWithout)
	defer cancel()
	if w := search.WithoutEach(ctx, result.Problem, search.Options{Strict: strict}); w.Complete {
		return w
	}
	return nil
}

// dearest adds the dearest wishes to a ranking.
func (r *text) dearest(out *layout.Text) {
	if r.wishes == nil {
		return
	}
	var list []string
	for i, w := range r.wishes.Dearest(fewWishes) {
		name, asked := say.Wish(w.Wish, r.result.Problem, r.system)
		more := layout.Whole(w.More)
		if i == 0 {
			more += " more " + say.Plural(uint64(w.More), "build", "builds")
		}
		list = append(list, more+" without "+strings.ReplaceAll(name, " ", say.NBSP)+say.NBSP+asked)
	}
	switch len(list) {
	case 0:
	case 1:
		out.Paragraph("The one wish that costs builds by itself: " + list[0] + ".")
	default:
		out.Paragraph("What costs most, each dropped alone: " + strings.Join(list, ", ") + ".")
	}
}
