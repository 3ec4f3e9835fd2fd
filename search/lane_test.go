package search

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

var (
	catalogs = flag.Int("catalogs", 4_000, "random catalogs on which each test of equality compares the search to the plain one")
	firstOf  = flag.Uint64("first", 0, "the catalog with which the two that name a catalog by its seed begin")
)

// collector is a visitor that remembers whom it saw.
type collector struct {
	entries []entry
	scorer  *scorer
}

func (c *collector) Visit(b *constraints.Build, id uint64) {
	c.entries = append(c.entries, newEntry(c.scorer, b, id))
}

// onBoundary moves some limits of a brief onto the values of a random build of
// its problem, so that comparisons meet equality, or so little to either side
// that a window must not decide.
func onBoundary(r *rand.Rand, p *constraints.Problem) (*constraints.Problem, error) {
	b := walk.Assemble(p, r.Uint64N(uint64(p.Combinations())))
	brief := p.Brief.Clone()
	set := func(to *float64, value float64) {
		if r.IntN(2) == 0 && value > 0 && !math.IsNaN(value) {
			*to = value * (1 + float64(r.IntN(5)-2)*walk.Slack/3)
		}
	}
	v, _ := b.TopSpeed()
	set(&brief.Target.TopSpeed, v)
	set(&brief.Limit.Price, b.Price().Known)
	set(&brief.Limit.Mass, b.Mass().Known)
	set(&brief.Target.Range, b.Range())
	if brief.Target.TopSpeedMax < brief.Target.TopSpeed {
		brief.Target.TopSpeedMax = brief.Target.TopSpeed
	}
	if p.Climbs() {
		limit, _ := b.HeatLimit()
		set(&brief.Limit.HeatFactor, b.ClimbCurrent()/limit)
		if b.ThrustKnown() {
			set(&brief.Target.ClimbGrade, b.Board().ClimbLimit(brief.Target.ClimbSpeed))
		}
	}
	return constraints.NewProblem(p.Catalog, brief)
}

// TestLanesEqualPlain: with lanes of any size, every pair of which is decided
// by windows and sums where they can, and with limits on the very values of
// builds, the walk counts and visits what the plain search does.
func TestLanesEqualPlain(t *testing.T) {
	n := uint64(*catalogs)
	if testing.Short() {
		n /= 10
	}
	decided, boundary := uint64(0), 0
	for seed := *firstOf; seed < *firstOf+n; seed++ {
		p, ok := randomProblem(t, seed+10_000, randcat.Small())
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 3))
		if seed%2 == 0 {
			q, err := onBoundary(r, p)
			if err != nil {
				continue
			}
			p = q
			boundary++
		}
		strict := seed%3 == 0
		want, entries := plain(p, strict)
		pl := walk.NewPlan(p, strict)
		pl.Sizes.LaneLeast, pl.Sizes.Lane, pl.Sizes.Block = 1, []int{1, 3, 10, 1000}[seed%4], []int{1, 2, 5}[seed%3]
		pl.Sizes.CoreLeast = []int{0, 3}[seed%2]
		pl.Sizes.StretchPairs = []int{pl.Sizes.StretchPairs, 1, 4 * len(p.Wheels)}[seed%3]
		c := &collector{scorer: newScorer(p)}
		got, complete := walk.All(t.Context(), pl, []*collector{c}, nil)
		if !complete {
			t.Fatal("not complete")
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("seed %d: counts differ from the plain search (-plain +lanes):\n%s", seed, d)
		}
		slices.SortFunc(c.entries, entry.compare)
		if d := cmp.Diff(entries, c.entries, cmp.AllowUnexported(entry{})); d != "" && len(entries)+len(c.entries) > 0 {
			t.Fatalf("seed %d: builds differ from the plain search (-plain +lanes):\n%s", seed, d)
		}
		decided += got.Combinations
	}
	t.Logf("%d combinations, %d problems on a boundary", decided, boundary)
	if boundary < int(n)/4 {
		t.Errorf("only %d problems on a boundary", boundary)
	}
}

// TestLanesOfAMarket: on a market with a hundred thousand combinations the
// lanes find what the plain search does.
func TestLanesOfAMarket(t *testing.T) {
	if testing.Short() {
		t.Skip("a plain search of a market takes a second")
	}
	m := randcat.Market{Motors: 6, Controllers: 3, Batteries: 4, MotorPulleys: 8, WheelPulleys: 8, Belts: 16, Mounts: 2, Gears: 6, Wheels: 8}
	for _, text := range []string{randcat.PlainStreetBrief, randcat.StreetBrief} {
		p := marketProblem(t, m, text)
		want, entries := plain(p, false)
		got, err := Rank(t.Context(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got.Tally); d != "" {
			t.Fatalf("counts differ from the plain search (-plain +fast):\n%s", d)
		}
		if d := cmp.Diff(entries, got.ranked, cmp.AllowUnexported(entry{})); d != "" {
			t.Fatalf("builds differ from the plain search (-plain +fast):\n%s", d)
		}
		for _, top := range []int{1, 20} {
			only, err := RankOnly(t.Context(), p, Options{Top: top})
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(entries[:min(top, len(entries))], only.ranked, cmp.AllowUnexported(entry{})); d != "" {
				t.Fatalf("builds without counting differ from the plain search (-plain +fast):\n%s", d)
			}
		}
		t.Logf("%d combinations, %d feasible", got.Combinations, got.Feasible)
	}
}

// FuzzSearch lets the fuzzer choose the random catalog, the lanes and the
// strictness.
func FuzzSearch(f *testing.F) {
	f.Add(uint64(1), uint64(2), 3, true)
	f.Fuzz(func(t *testing.T, a, b uint64, size int, strict bool) {
		r := rand.New(rand.NewPCG(a, b))
		c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(randcat.Catalog(r, randcat.Small()))})
		if err != nil {
			t.Fatal(err)
		}
		brief, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(randcat.Brief(r))})
		if err != nil {
			return
		}
		p, err := constraints.NewProblem(c, brief)
		if err != nil {
			return
		}
		if q, err := onBoundary(r, p); err == nil && a%2 == 0 {
			p = q
		}
		want, entries := plain(p, strict)
		pl := walk.NewPlan(p, strict)
		pl.Sizes.LaneLeast, pl.Sizes.Lane, pl.Sizes.Block, pl.Sizes.CoreLeast = 1, 1+int(uint(size)%300), 1+int(uint(size)%7), int(uint(size)%3)
		v := &collector{scorer: newScorer(p)}
		got, _ := walk.All(t.Context(), pl, []*collector{v}, nil)
		slices.SortFunc(v.entries, entry.compare)
		if d := cmp.Diff(want, got) + cmp.Diff(len(entries), len(v.entries)); d != "" {
			t.Fatalf("differs from the plain search (-plain +lanes):\n%s", d)
		}
		for i := range entries {
			if entries[i] != v.entries[i] {
				t.Fatalf("place %d: %+v, plainly %+v", i+1, v.entries[i], entries[i])
			}
		}
	})
}
