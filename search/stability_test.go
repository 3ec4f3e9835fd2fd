package search

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// reweighted is the problem of the same brief with one weight set anew.
func reweighted(t *testing.T, p *constraints.Problem, criterion string, weight float64) *constraints.Problem {
	t.Helper()
	brief := p.Brief.Clone()
	if err := brief.Set("weights."+criterion, strconv.FormatFloat(weight, 'g', -1, 64), "test"); err != nil {
		t.Fatal(err)
	}
	q, err := constraints.NewProblem(p.Catalog, brief)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// scoresUnder are the scores of builds, by their numbers, in another problem.
func scoresUnder(q *constraints.Problem, ids []uint64) map[uint64]float64 {
	out := map[uint64]float64{}
	for _, id := range ids {
		out[id] = ScoreBuild(walk.Assemble(q, id)).Score
	}
	return out
}

// TestWeightRanges: with a weight a little inside its range the first build
// still scores most of all, at the end of the range it draws level with the
// build that takes over and no other is before them, and a little outside that
// build scores more.
func TestWeightRanges(t *testing.T) {
	t.Parallel()
	const (
		level  = 1e-7 // of scores up to 100
		little = 1e-3 // of a weight
	)
	n := uint64(200)
	if testing.Short() {
		n = 90
	}
	ends, open := 0, 0
	for seed := range n {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		_, entries := plain(p, false)
		if len(entries) < 2 || len(entries) > 400 {
			continue
		}
		var ids []uint64
		for _, e := range entries {
			ids = append(ids, e.id)
		}
		number := func(b *constraints.Build) uint64 {
			i := slices.IndexFunc(ids, func(id uint64) bool { return same(walk.Assemble(p, id), b) })
			if i < 0 {
				t.Fatalf("seed %d: a build that is not feasible takes over", seed)
			}
			return ids[i]
		}
		r, err := Rank(t.Context(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		s, complete, _ := Stable(t.Context(), r, 3, 0, nil, Options{Workers: 1 + int(seed%3)})
		if !complete || s.Wins != nil {
			t.Fatalf("seed %d: complete %v, wins %v without draws", seed, complete, s.Wins)
		}
		first := ids[0]
		for _, w := range s.Ranges {
			if w.Low < 0 || w.Low > w.Weight || w.High < w.Weight {
				t.Fatalf("seed %d: %s is %v, and may be %v to %v", seed, w.Name, w.Weight, w.Low, w.High)
			}
			for _, end := range []struct {
				to    float64
				rival *constraints.Build
				last  float64 // that a weight may be
				way   float64
			}{{w.Low, w.Below, 0, -1}, {w.High, w.Above, 1000, +1}} {
				if end.rival == nil {
					open++
					scores := scoresUnder(reweighted(t, p, w.Name, end.last), ids)
					for id, x := range scores {
						if x > scores[first]+level {
							t.Fatalf("seed %d: %s of %v puts %d before the first, and nothing takes over", seed, w.Name, end.last, id)
						}
					}
					continue
				}
				if end.way*end.to > end.way*end.last {
					continue // no brief may say so
				}
				ends++
				rival := number(end.rival)
				inside := w.Weight + (end.to-w.Weight)*(1-little)
				at := scoresUnder(reweighted(t, p, w.Name, end.to), ids)
				within := scoresUnder(reweighted(t, p, w.Name, inside), ids)
				for _, id := range ids {
					if within[id] > within[first]+level {
						t.Fatalf("seed %d: %s may be %v to %v, but at %v build %d leads", seed, w.Name, w.Low, w.High, inside, id)
					}
					if at[id] > at[first]+level {
						t.Fatalf("seed %d: %s may be %v to %v, but at the end build %d leads already", seed, w.Name, w.Low, w.High, id)
					}
				}
				if math.Abs(at[rival]-at[first]) > level {
					t.Fatalf("seed %d: at %s of %v the two score %v and %v", seed, w.Name, end.to, at[first], at[rival])
				}
				outside := end.to + end.way*little*math.Max(end.to, 1)
				if outside < 0 || outside > 1000 {
					continue
				}
				beyond := scoresUnder(reweighted(t, p, w.Name, outside), ids)
				if beyond[rival] <= beyond[first] {
					t.Fatalf("seed %d: %s of %v is beyond its range, and the two score %v and %v", seed, w.Name, outside, beyond[first], beyond[rival])
				}
				for _, id := range ids { // of those level at the end, the one that gains most takes over
					if math.Abs(at[id]-at[first]) < 1e-11 && beyond[id] > beyond[rival]+level {
						t.Fatalf("seed %d: at %s of %v build %d takes over before %d", seed, w.Name, end.to, id, rival)
					}
				}
			}
		}
	}
	t.Logf("%d ends where another takes over, %d where none does", ends, open)
	if ends < 20 || open < 20 {
		t.Errorf("%d ends where another takes over, %d where none does: the test does not test", ends, open)
	}
}

// TestLevelWithinRounding: a build that scores more, but by less than the
// ranking tells apart, takes over at once and not before.
func TestLevelWithinRounding(t *testing.T) {
	text := strings.NewReplacer("price = 10\n", "price = 25.000000001\n").Replace(oneBuild) + `[[wheel]]
id = "x"
diameter_mm = 100
hub = "h"
price = 25
`
	for _, unpriced := range []string{"kv = 150", `id = "c"`, `id = "b"`, "ratio = 3"} {
		text = strings.Replace(text, unpriced, unpriced+"\nprice = 100", 1)
	}
	r, err := Rank(t.Context(), textProblem(t, text, ""), Options{})
	if err != nil || r.Len() != 2 || r.At(0).Build.Wheel.ID != "w" || r.At(0).Score >= r.At(1).Score {
		t.Fatalf("%d builds, %v: the test does not test", r.Len(), err)
	}
	s, _, _ := Stable(t.Context(), r, 2, 0, nil, Options{})
	for _, w := range s.Ranges {
		if w.Name == "price" && (w.High != w.Weight || w.Above == nil || w.Above.Wheel.ID != "x") {
			t.Errorf("price of %v may be up to %v", w.Weight, w.High)
		}
	}
}

// TestWins: the shares of draws are those that one finds by scoring every
// feasible build with the same weights.
func TestWins(t *testing.T) {
	t.Parallel()
	const draws = 300
	tested := 0
	for seed := range uint64(150) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		_, entries := plain(p, false)
		if len(entries) < 2 {
			continue
		}
		tested++
		r, err := Rank(t.Context(), p, Options{Top: 20})
		if err != nil {
			t.Fatal(err)
		}
		want := plainWins(p, entries, 10, draws, seed)
		for _, workers := range []int{1, 3} {
			s, complete, _ := Stable(t.Context(), r, 10, draws, rand.New(rand.NewPCG(seed, 5)), Options{Workers: workers})
			if !complete || s.Draws != draws {
				t.Fatalf("seed %d: complete %v, %d draws", seed, complete, s.Draws)
			}
			if d := cmp.Diff(want, s.Wins, cmpopts.EquateApprox(0, 1e-12)); d != "" {
				t.Fatalf("seed %d, %d workers: wins differ (-plain +fast):\n%s", seed, workers, d)
			}
		}
	}
	if tested < 15 {
		t.Errorf("only %d problems with builds to compare", tested)
	}
}

// plainWins draws the same weights, scores every build and counts the wins of
// the first ones; among equals the ranking decides.
func plainWins(p *constraints.Problem, entries []entry, first, draws int, seed uint64) []float64 {
	var vectors [][]float64
	for _, e := range entries {
		var v []float64
		for _, c := range ScoreBuild(walk.Assemble(p, e.id)).Scores {
			v = append(v, c.Score)
		}
		vectors = append(vectors, v)
	}
	random := rand.New(rand.NewPCG(seed, 5))
	out := make([]float64, min(first, len(entries)))
	for range draws {
		weights := make([]float64, len(vectors[0]))
		for i := range weights {
			weights[i] = random.ExpFloat64()
		}
		winner, most := 0, -1.0
		for i, v := range vectors {
			sum := 0.0
			for j := range v {
				sum += float64(weights[j] * v[j])
			}
			if sum > most {
				winner, most = i, sum
			}
		}
		if winner < len(out) {
			out[winner] += 1 / float64(draws)
		}
	}
	return out
}

// TestWinsOfPrunedRivals: rivals that are pruned all the way, in two parts,
// lose no draw that they would have won.
func TestWinsOfPrunedRivals(t *testing.T) {
	t.Parallel()
	const draws = 100
	pruned := 0
	for seed := range uint64(150) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		_, entries := plain(p, false)
		if len(entries) < 20 {
			continue
		}
		s := newScorer(p)
		leaders := [][]float64{s.vector(walk.Assemble(p, entries[0].id)), s.vector(walk.Assemble(p, entries[1].id))}
		var parts [2]*rivals
		for i := range parts {
			parts[i] = newRivals(s, leaders[0], leaders)
			parts[i].few, parts[i].pruneAt = 2, 2*len(leaders[0])
		}
		for i, e := range entries {
			parts[i%2].Visit(walk.Assemble(p, e.id), e.id)
		}
		if before := len(entries) * len(leaders[0]); len(parts[0].open)+len(parts[1].open) < before/2 {
			pruned++
		}
		parts[0].merge(parts[1])
		got := parts[0].wins(context.Background(), draws, rand.New(rand.NewPCG(seed, 5)))
		if d := cmp.Diff(plainWins(p, entries, 2, draws, seed), got, cmpopts.EquateApprox(0, 1e-12)); d != "" {
			t.Fatalf("seed %d: wins differ (-plain +fast):\n%s", seed, d)
		}
	}
	if pruned < 5 {
		t.Errorf("only %d problems with rivals that were pruned", pruned)
	}
}

// TestRivalsPruned: what is left is the distinct points that no other beats.
func TestRivalsPruned(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 8))
	for range 50 {
		const k = 4
		v := newRivals(&scorer{criteria: make([]Criterion, k), weights: make([]float64, k)}, make([]float64, k), nil)
		for range r.IntN(300) * k {
			v.open = append(v.open, math.Floor(r.Float64()*4)/4)
		}
		points := slices.Clone(v.open)
		var want [][]float64
		for _, i := range plainFront(points, k) {
			want = append(want, points[i*k:(i+1)*k])
		}
		slices.SortFunc(want, slices.Compare)
		want = slices.CompactFunc(want, slices.Equal)
		v.prune()
		if d := cmp.Diff(slices.Concat(want...), v.open, cmpopts.EquateEmpty()); d != "" {
			t.Fatalf("pruned differs (-plain +fast):\n%s", d)
		}
	}
}

// TestStableOfNothing: an empty ranking, and an interrupted look at one that is
// not.
func TestStableOfNothing(t *testing.T) {
	p := textProblem(t, oneBuild, "[target]\ntop_speed_kmh = 150\n")
	r, err := Rank(t.Context(), p, Options{})
	if err != nil || r.Len() > 0 {
		t.Fatalf("%d builds, %v", r.Len(), err)
	}
	if s, complete, _ := Stable(t.Context(), r, 10, 5, rand.New(rand.NewPCG(1, 1)), Options{}); !complete || len(s.Ranges)+len(s.Wins) > 0 {
		t.Errorf("complete %v, %+v", complete, s)
	}
	p = textProblem(t, oneBuild, "")
	if r, err = Rank(t.Context(), p, Options{}); err != nil || r.Len() != 1 {
		t.Fatalf("%d builds, %v", r.Len(), err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, complete, _ := Stable(ctx, r, 10, 5, rand.New(rand.NewPCG(1, 1)), Options{}); complete {
		t.Error("an interrupted look is called complete")
	}
	s, _, _ := Stable(t.Context(), r, 10, 5, rand.New(rand.NewPCG(1, 1)), Options{})
	if d := cmp.Diff([]float64{1}, s.Wins); d != "" {
		t.Errorf("the only build does not always win:\n%s", d)
	}
	for _, w := range s.Ranges {
		if w.Low != 0 || !math.IsInf(w.High, 1) {
			t.Errorf("%s of the only build may be %v to %v", w.Name, w.Low, w.High)
		}
	}
}
