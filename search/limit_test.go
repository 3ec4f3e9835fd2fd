package search

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// TestRankHoldsSoMany: all builds are ranked where there is room for them, and
// an error says that there is none; likewise for the best so many.
func TestRankHoldsSoMany(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	all, err := Rank(t.Context(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := all.Len()
	for _, tt := range []struct {
		top, most int
		tooMany   bool
		why       string
	}{
		{0, n, false, "there is room for just so many"},
		{0, n - 1, true, "one more than there is room for"},
		{5, 5, false, "only the best are held"},
		{6, 5, true, "more are asked for"},
		{1 << 62, MostRanked, true, "far more are asked for"},
	} {
		r, err := rankBy(t.Context(), p, newScorer(p), Options{Top: tt.top}, tt.most)
		var tooMany *TooManyError
		if errors.As(err, &tooMany) != tt.tooMany {
			t.Errorf("top %d of at most %d: %v; %s", tt.top, tt.most, err, tt.why)
		}
		if err == nil && r.Len() != min(n, max(tt.top, tt.top-1)) && r.Len() != n {
			t.Errorf("top %d of at most %d: %d ranked; %s", tt.top, tt.most, r.Len(), tt.why)
		}
	}
}

// TestNumbersPastTenToTheEighteenth: how many combinations there are is told to the last
// digit up to 2⁶³ − 1, beyond what a float64 can, and more are refused.
func TestNumbersPastTenToTheEighteenth(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	times := func(motors, controllers, batteries, wheels int) *constraints.Problem {
		return p.With(
			constraints.Only(slices.Repeat(p.Drives[:1], 9901)...), constraints.Only(slices.Repeat(p.Motors[:1], motors)...),
			constraints.Only(slices.Repeat(p.Controllers[:1], controllers)...), constraints.Only(slices.Repeat(p.Batteries[:1], batteries)...),
			constraints.Only(slices.Repeat(p.Wheels[:1], wheels)...),
		)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, tt := range []struct {
		why                                    string
		motors, controllers, batteries, wheels int
		want                                   uint64 // 0: too many
	}{
		{"of which a float64 loses the last three digits", 10005, 9901, 9180, 367, 3304334154977385300},
		{"just below 2⁶³", 10005, 9901, 9180, 1024, 9219722546857881600},
		{"past 2⁶³", 10005, 9901, 9180, 1025, 0},
		{"past 2⁶⁴", 10005, 9901, 9180, 2100, 0},
		{"20 times 2⁶⁴", 10005, 9901, 91800, 4200, 0},
	} {
		q := times(tt.motors, tt.controllers, tt.batteries, tt.wheels)
		if got, ok := q.Number(); got != tt.want && ok || ok != (tt.want > 0) {
			t.Errorf("%s: %d, %v, want %d", tt.why, got, ok, tt.want)
		}
		if tt.want > 1<<62 {
			continue // the same in twice the time
		}
		r, err := RankOnly(ctx, q, Options{Top: 1})
		if (err == nil) != (tt.want > 0) || err == nil && r.Combinations != tt.want {
			t.Errorf("%s: ranked without a count: %v, %+v", tt.why, err, r)
		}
	}
}

// TestHugeNumbersAreRefused: every question that lists so many things refuses
// more than it holds, before it searches.
func TestHugeNumbersAreRefused(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	base := &constraints.Build{Problem: p}
	base.Electrify(p.Batteries[0], p.Controllers[0], p.Motors[0], 0)
	base.Roll(p.Drives[0], p.Wheels[0])
	const huge = int(^uint(0) >> 1)
	many := p.With(
		constraints.Only(slices.Repeat(p.Motors, 1000)[:1000]...), constraints.Only(slices.Repeat(p.Batteries, 1000)[:1000]...),
		constraints.Only(slices.Repeat(p.Controllers, 1000)[:1000]...),
	)
	compared := Result{Problem: p, scorer: newScorer(p), ranked: []entry{{}}, Tally: Tally{Feasible: MostCompared + 1}}
	for why, ask := range map[string]func() error{
		"rank":      func() error { _, err := Rank(t.Context(), p, Options{Top: huge}); return err },
		"rank only": func() error { _, err := RankOnly(t.Context(), p, Options{Top: huge}); return err },
		"swaps":     func() error { _, _, err := Swaps(t.Context(), p, base, Options{Top: huge}); return err },
		"sets": func() error {
			_, err := Share(t.Context(), []*constraints.Problem{p, p}, []constraints.Slot{constraints.SlotMotor}, ShareOptions{Options: Options{Top: huge}})
			return err
		},
		"choices": func() error {
			_, err := Share(t.Context(), []*constraints.Problem{many, many}, []constraints.Slot{constraints.SlotMotor}, ShareOptions{Options: Options{Top: 1}})
			return err
		},
		"comparison": func() error {
			_, _, err := Stable(t.Context(), &compared, 1, 1, rand.New(rand.NewPCG(1, 1)), Options{})
			return err
		},
	} {
		var tooMany *TooManyError
		if err := ask(); !errors.As(err, &tooMany) {
			t.Errorf("%s: %v", why, err)
		}
	}
}

// TestFrontPrunes: a front that is pruned on the way is that of all builds.
func TestFrontPrunes(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	var figures []constraints.Figure
	for _, name := range []string{"top_speed_kmh", "range_km", "price", "mass_kg"} {
		f, _ := constraints.FigureNamed(name)
		figures = append(figures, f)
	}
	once, often := &gatherer{figures: figures, pruneAt: 1 << 30}, &gatherer{figures: figures, pruneAt: 1}
	for _, g := range []*gatherer{once, often} {
		walk.All(t.Context(), walk.NewPlan(p, false), []*gatherer{g}, nil)
		g.prune()
	}
	if len(once.ids) < 10 || len(once.ids) != len(often.ids) {
		t.Fatalf("%d on the front, %d where it is pruned often", len(once.ids), len(often.ids))
	}
	for i := range once.ids {
		if once.ids[i] != often.ids[i] {
			t.Fatalf("build %d is %d, pruned often %d", i, often.ids[i], once.ids[i])
		}
	}
}
