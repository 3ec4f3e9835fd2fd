package search

import (
	"context"
	"errors"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// asking is a context that counts how often it is asked whether it has ended, and
// ends after so many times; 0: never. Several workers may ask it.
type asking struct {
	context.Context
	asked atomic.Int64
	most  int64
	each  func()
}

func (a *asking) Err() error {
	asked := a.asked.Add(1)
	if a.each != nil {
		a.each()
	}
	if a.most > 0 && asked > a.most {
		return errors.New("over")
	}
	return nil
}

// TestSearchesAsk: every search asks the context that it is given, and often, so
// that a caller with one processor can have other work done; and it ends with it.
func TestSearchesAsk(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	figure, _ := constraints.FigureNamed("price")
	one := Options{Top: 20, Workers: 1}
	for name, search := range map[string]func(ctx context.Context) (complete bool, err error){
		"Rank":     func(ctx context.Context) (bool, error) { r, err := Rank(ctx, p, one); return r.Complete, err },
		"RankOnly": func(ctx context.Context) (bool, error) { r, err := RankOnly(ctx, p, one); return r.Complete, err },
		"Front": func(ctx context.Context) (bool, error) {
			r, err := Front(ctx, p, []constraints.Figure{figure}, one)
			return r.Complete, err
		},
		"Stream": func(ctx context.Context) (bool, error) {
			r, err := Stream(ctx, p, one, func(Scored) error { return nil })
			return r.Complete, err
		},
		"WithoutEach": func(ctx context.Context) (bool, error) { return WithoutEach(ctx, p, one).Complete, nil },
	} {
		ctx := &asking{Context: t.Context()}
		if complete, err := search(ctx); err != nil || !complete {
			t.Fatalf("%s: complete %v, %v", name, complete, err)
		}
		const often = 50
		if asked := ctx.asked.Load(); asked < often {
			t.Errorf("%s asks %d times whether it is to end", name, asked)
		}
		if complete, err := search(&asking{Context: t.Context(), most: often / 2}); err != nil || complete {
			t.Errorf("%s, told to end: complete %v, %v", name, complete, err)
		}
	}
}

// TestSofar: what is shown while a search runs are builds that are feasible, in order,
// and no worse than those shown before; the answer does not depend on it.
func TestSofar(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	for _, apart := range []Apart{{}, ApartByMotor()} {
		for name, search := range map[string]func(context.Context, *constraints.Problem, Options) (*Result, error){"Rank": Rank, "RankOnly": RankOnly} {
			o := Options{Top: 20, Workers: 1, Apart: apart}
			want, err := search(t.Context(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			shown, last := 0, entry{score: -1}
			o.Sofar = func(r *Result) {
				shown++
				if r.Len() == 0 {
					return
				}
				if !slices.IsSortedFunc(r.ranked, entry.compare) || r.Len() > o.Top {
					t.Errorf("%s shows %d builds, or in disorder", name, r.Len())
				}
				if first := r.ranked[0]; last.score >= 0 && last.compare(first) < 0 {
					t.Errorf("%s shows a worse build after a better one", name)
				}
				last = r.ranked[0]
				for s := range r.Builds() {
					if slices.ContainsFunc(s.Build.Results(), func(r constraints.Result) bool { return r.Verdict == constraints.Fail && !r.Demoted }) {
						t.Errorf("%s shows a build that is not feasible", name)
					}
				}
			}
			slow := &asking{Context: t.Context(), each: func() { time.Sleep(300 * time.Microsecond) }}
			got, err := search(slow, p, o)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got.ranked, want.ranked) || !slices.Equal(got.alike, want.alike) {
				t.Errorf("%s ranks otherwise when it shows what it has", name)
			}
			if shown == 0 {
				t.Errorf("%s shows nothing, in %d questions", name, slow.asked.Load())
			}
			shown, o.Workers = 0, 2
			if _, err := search(slow, p, o); err != nil || shown > 0 {
				t.Errorf("%s with two workers shows %d times, %v", name, shown, err)
			}
		}
	}
}
