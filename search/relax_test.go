package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"sync"
	"testing"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// fitting lists the numbers of the builds that pass what no number of the
// brief changes. What a brief may open is among them.
func fitting(p *constraints.Problem, strict bool) []uint64 {
	fixed := []string{"bore", "profile", "hub", "belt", "voltage"}
	var ids []uint64
	eachBuild(p, func(b *constraints.Build, id uint64) {
		for _, r := range b.Results() {
			if slices.Contains(fixed, r.Name) && r.Rejects(strict) {
				return
			}
		}
		ids = append(ids, id)
	})
	return ids
}

// feasibleUnder counts the feasible builds, up to some many, of the problem
// that a changed brief makes anew. A brief that contradicts itself has none.
func feasibleUnder(p *constraints.Problem, ids []uint64, strict bool, most int, change func(b *constraints.Brief)) int {
	brief := p.Brief.Clone()
	change(brief)
	q, err := constraints.NewProblem(p.Catalog, brief)
	if err != nil {
		return 0
	}
	n := 0
	for _, id := range ids {
		if !walk.Assemble(q, id).Rejected(strict) {
			if n++; n == most {
				break
			}
		}
	}
	return n
}

var briefKeys = sync.OnceValue(constraints.BriefKeys)

// bounds are the values, in SI units, between which a key of the brief may be.
func bounds(t *testing.T, c ease.Concession) (low, high float64) {
	t.Helper()
	for _, k := range briefKeys() {
		if k.Section+"."+k.Key == c.Key {
			return k.Min / k.Per, k.Max / k.Per
		}
	}
	t.Fatalf("a brief has no key %s", c.Key)
	return 0, 0
}

// lastValue is the furthest that a concession goes: where its key may go, and
// for speeds that are slowed down, a stroll.
func lastValue(t *testing.T, c ease.Concession) float64 {
	low, high := bounds(t, c)
	switch {
	case c.Eases > 0:
		return high
	case slices.Contains([]string{"target.climb_speed_kmh", "target.launch_speed_kmh", "target.cruise_kmh", "target.climb_length_m", "target.stop_from_kmh", "ride.wind_kmh"}, c.Key):
		return math.Max(low, 1/3.6)
	case c.Key == "target.top_speed_kmh" || c.Key == "target.hill_torque_nm" || c.Key == "target.range_km":
		return 1e-9 // they are above 0
	}
	return low
}

// few are the sizes of catalogs whose every build is looked at many times.
var few = randcat.Sizes{Motors: 3, Controllers: 2, Batteries: 2, Pulleys: 3, Belts: 4, Mounts: 2, Gears: 2, Wheels: 3}

// hardened is a random problem of which some keys of the brief ask for more,
// and the numbers of the builds that may be opened.
func hardened(t *testing.T, seed uint64, keys int, strict bool) (p *constraints.Problem, ids []uint64) {
	t.Helper()
	p, ok := randomProblem(t, seed, few)
	if !ok {
		return nil, nil
	}
	r := rand.New(rand.NewPCG(seed, 11))
	brief := p.Brief.Clone()
	all := ease.Concessions(p)
	for range keys {
		c := all[r.IntN(len(all))]
		x := *c.Value(brief) * math.Pow(1.3+2*r.Float64(), -float64(c.Eases))
		if c.Key == "limit.mesh_teeth" {
			x = math.Round(x)
		}
		low, high := bounds(t, c)
		*c.Value(brief) = math.Min(math.Max(x, low), high)
	}
	q, err := constraints.NewProblem(p.Catalog, brief)
	if err != nil {
		return nil, nil
	}
	return q, fitting(q, strict)
}

// TestRelaxIsLeast: a problem made anew with the value that Relax finds has
// enough feasible builds, with a value a millionth or more nearer to the
// brief's it has not; and it never has where Relax finds none.
func TestRelaxIsLeast(t *testing.T) {
	t.Parallel()
	n := uint64(1000)
	if testing.Short() {
		n = 150
	}
	opened := map[string]int{}
	for seed := range n {
		strict := seed%4 == 0
		p, ids := hardened(t, seed, int(seed%3), strict)
		if len(ids) == 0 {
			continue
		}
		builds := feasibleUnder(p, ids, strict, math.MaxInt, func(*constraints.Brief) {}) + 1 + int(seed%2*(seed/2%4))
		o := RelaxOptions{Options: Options{Strict: strict, Workers: 1 + int(seed%3)}, Builds: builds}
		r := Relax(t.Context(), p, o)
		if !r.Complete {
			t.Fatalf("seed %d: not complete", seed)
		}
		for _, opening := range r.Openings {
			if r.Pairs {
				break
			}
			g := opening.Concessions[0]
			opened[g.Key]++
			what := fmt.Sprintf("seed %d: %d builds by %s from %v to %v", seed, builds, g.Key, g.From, g.To)
			checkOpening(t, what, p, opening, builds, strict)
			if less := oneLess(g); float64(g.Eases)*less > float64(g.Eases)*g.From*g.PerSI {
				if got := readBack(t, what, p, strict, map[string]float64{g.Key: less}); got >= builds {
					t.Errorf("%s: one step less than %v, %v, opens %d too", what, g.Short, less, got)
				}
			}
			nearer := g.To - float64(g.Eases)*1e-6*math.Max(math.Abs(g.To), math.Abs(g.From))
			if float64(g.Eases)*nearer < float64(g.Eases)*g.From {
				nearer = g.From
			}
			for _, x := range append(between(g.Key, g.From, nearer), nearer) {
				if got := countUnder(p, ids, strict, builds, g.Concession, x); got >= builds {
					t.Fatalf("%s: %v opens %d already", what, x, got)
				}
			}
		}
		for _, c := range r.Helpless {
			bears := false
			eachBuild(p, func(b *constraints.Build, _ uint64) {
				bears = bears || slices.ContainsFunc(b.Results(), func(x constraints.Result) bool { return slices.Contains(c.Checks, x.Name) && x.Rejects(strict) })
			})
			if !bears {
				t.Errorf("seed %d: %s is called helpless, and no build fails what it eases", seed, c.Key)
			}
			last := lastValue(t, c)
			for _, x := range append(between(c.Key, *c.Value(p.Brief), last), last) {
				if got := countUnder(p, ids, strict, builds, c, x); got >= builds {
					t.Fatalf("seed %d: %s of %v opens %d builds of %d, and is called helpless", seed, c.Key, x, got, builds)
				}
			}
		}
	}
	t.Log(opened)
	for _, key := range allConcessions {
		if opened[key] == 0 && !testing.Short() && key != "limit.mesh_teeth" && key != "limit.erpm_headroom_pct" { // rare; see TestRelaxByHand
			t.Errorf("%s opened nothing: the test does not test it", key)
		}
	}
}

// allConcessions are the keys of all concessions, in order.
var allConcessions = []string{
	"board.hanger_mm", "target.top_speed_kmh", "target.top_speed_max_kmh", "target.climb_grade_pct", "target.climb_speed_kmh",
	"target.climb_length_m", "target.stop_m", "target.stop_from_kmh", "target.hill_torque_nm", "target.launch_speed_kmh", "target.launch_s", "target.range_km", "target.cruise_kmh",
	"limit.erpm_ceiling", "limit.erpm_headroom_pct", "limit.price", "limit.mass_kg", "limit.mesh_teeth",
	"limit.ground_clearance_mm", "limit.heat_factor", "limit.winding_max_c", "ride.stops_per_km", "ride.ascent_m_per_km", "ride.wind_kmh",
}

// between are values of a key from one to another, dense near the first. What
// a cruise speed or a ceiling opens a further one may close: there are more.
func between(key string, from, to float64) []float64 {
	n := 3
	if key == "target.cruise_kmh" || key == "limit.erpm_ceiling" {
		n = 24
	}
	var out []float64
	for i := range n {
		s := float64(i) / float64(n)
		out = append(out, from+(to-from)*s*s, from+(to-from)*s)
	}
	return out
}

// countUnder is feasibleUnder with one concession's value.
func countUnder(p *constraints.Problem, ids []uint64, strict bool, most int, c ease.Concession, x float64) int {
	return feasibleUnder(p, ids, strict, most, func(b *constraints.Brief) { *c.Value(b) = x })
}

// checkOpening: the brief with what an opening says makes a problem with enough
// feasible builds, and its own build is one of them and was none before.
func checkOpening(t *testing.T, what string, p *constraints.Problem, opening Opening, builds int, strict bool) {
	t.Helper()
	brief, conceded, cost := p.Brief.Clone(), ease.Concessions(p), 0.0
	for _, g := range opening.Concessions {
		at := slices.IndexFunc(conceded, func(c ease.Concession) bool { return c.Key == g.Key })
		if at < 0 {
			t.Fatalf("%s: %s is no concession of the problem", what, g.Key)
		}
		*conceded[at].Value(brief) = g.To
		if g.To != g.From {
			cost += math.Abs(g.To-g.From) / math.Abs(g.From-zeroOf(p, g.Concession))
		}
		if float64(g.Eases)*g.To < float64(g.Eases)*g.From {
			t.Errorf("%s: that asks for more", what)
		}
	}
	if math.Abs(cost-opening.Cost) > 1e-12 {
		t.Errorf("%s: cost %v, want %v", what, opening.Cost, cost)
	}
	q, err := constraints.NewProblem(p.Catalog, brief)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	tally, _ := plain(q, strict)
	if tally.Feasible < uint64(builds) {
		t.Errorf("%s: opens %d builds", what, tally.Feasible)
	}
	full, short := map[string]float64{}, map[string]float64{}
	for _, g := range opening.Concessions {
		full[g.Key], short[g.Key] = g.Written, g.Short
	}
	for _, numbers := range []map[string]float64{full, short} {
		if got := readBack(t, what, p, strict, numbers); got < builds {
			t.Errorf("%s: written as %v it opens %d builds", what, numbers, got)
		}
	}
	if opening.Relaxed.Rejected(strict) || !opening.Build.Rejected(strict) {
		t.Errorf("%s: its build is rejected %v, and %v before", what, opening.Relaxed.Rejected(strict), opening.Build.Rejected(strict))
	}
	if got, want := ScoreBuild(opening.Relaxed).Score, scoreOf(t, q, opening.Build); math.Abs(got-want) > 1e-9 {
		t.Errorf("%s: its build scores %v, in a problem made anew %v", what, got, want)
	}
}

// readBack counts the feasible builds under a brief whose keys are set to
// numbers with the digits of data out, by the reader of flags.
func readBack(t *testing.T, what string, p *constraints.Problem, strict bool, numbers map[string]float64) int {
	t.Helper()
	brief := p.Brief.Clone()
	for key, x := range numbers {
		if err := brief.Set(key, strconv.FormatFloat(x, 'g', WrittenDigits, 64), "relax"); err != nil {
			t.Fatalf("%s: %v", what, err)
		}
	}
	q, err := constraints.NewProblem(p.Catalog, brief)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	tally, _ := plain(q, strict)
	return int(tally.Feasible)
}

// oneLess is the short value of a concession, one less in the last of four
// digits or, where it has more, in the last that it has.
func oneLess(g Given) float64 {
	if g.Key == "limit.mesh_teeth" {
		return g.Short + 1 // whole numbers only
	}
	digits := defaultDigits
	for text := strconv.FormatFloat(g.Short, 'e', digits-1, 64); ; text = strconv.FormatFloat(g.Short, 'e', digits-1, 64) {
		if x, err := strconv.ParseFloat(text, 64); err != nil || x == g.Short {
			break
		}
		digits++
	}
	toward := g.Concession
	toward.Eases = -toward.Eases
	return toward.Beyond(g.Short, digits)
}

// scoreOf finds a build again in another problem and scores it.
func scoreOf(t *testing.T, q *constraints.Problem, b *constraints.Build) float64 {
	t.Helper()
	again, err := q.Find(b.File())
	if err != nil {
		t.Fatal(err)
	}
	return ScoreBuild(again).Score
}

// TestRelaxPairsAreCheapest: where no single concession helps, the pair that
// Relax finds opens enough builds, less of either does not, and no pair of
// concessions of different checks does that costs less in sum. Pairs with the climb speed
// are not held to that on a hill of some length: they are tried, but a slower climb may be
// hotter at the top or cooler, and of speeds only the nearest is taken at which all checks
// but that of the heat pass.
func TestRelaxPairsAreCheapest(t *testing.T) {
	t.Parallel()
	n := uint64(*catalogs) / 25
	if testing.Short() {
		n = 40
	}
	const slower = "target.climb_speed_kmh"
	pairs, several, none := map[string]int{}, 0, 0
	for seed := range n {
		strict, builds := seed%5 == 0, 1+int(seed%3)
		p, ids := hardened(t, seed, 3, strict)
		if len(ids) == 0 || p.HasRoute() { // another climb speed may leave more to a warmer winding
			continue
		}
		o := RelaxOptions{Options: Options{Strict: strict, Workers: 1 + int(seed%3)}, Builds: builds}
		r := Relax(t.Context(), p, o)
		if r.Feasible >= uint64(builds) || len(r.Openings) > 0 && !r.Pairs {
			continue
		}
		count := func(set []ease.Concession, x, y float64) int {
			return feasibleUnder(p, ids, strict, builds, func(b *constraints.Brief) { *set[0].Value(b), *set[1].Value(b) = x, y })
		}
		dearest := 3.0
		if len(r.Openings) > 0 {
			opening := r.Openings[0]
			a, b := opening.Concessions[0], opening.Concessions[1]
			pairs[a.Key+" "+b.Key]++
			what := fmt.Sprintf("seed %d: %d builds by %s from %v to %v and %s from %v to %v", seed, builds, a.Key, a.From, a.To, b.Key, b.From, b.To)
			checkOpening(t, what, p, opening, builds, strict)
			set := []ease.Concession{a.Concession, b.Concession}
			const less = 1e-6
			closes := p.Brief.Target.ClimbLength > 0 && (a.Key == slower || b.Key == slower) // as below
			if x := a.To - less*(a.To-a.From); !closes && math.Abs(x-a.To) > 1e-8*math.Abs(a.To) && count(set, x, b.To) >= builds {
				t.Errorf("%s: %v of the first is enough", what, x)
			}
			if y := b.To - less*(b.To-b.From); !closes && math.Abs(y-b.To) > 1e-8*math.Abs(b.To) && count(set, a.To, y) >= builds {
				t.Errorf("%s: %v of the second is enough", what, y)
			}
			dearest = opening.Cost * (1 - 1e-4)
			if builds > 1 {
				several++
			}
		} else {
			none++
		}
		all := ease.Concessions(p)
		for _, set := range pairsOf(all) {
			if overlap(set[0].Checks, set[1].Checks) {
				continue // a continuum of trade-offs, of which the ends are tried
			}
			if p.Brief.Target.ClimbLength > 0 && (set[0].Key == slower || set[1].Key == slower) {
				continue // slower up a hill of some length is hotter at its end: what opens may close again
			}
			for i := range 6 {
				share := float64(i) / 5
				x, y := moved(t, p, set[0], dearest*share), moved(t, p, set[1], dearest*(1-share))
				if got := count(set, x, y); got >= builds {
					t.Errorf("seed %d: %s of %v and %s of %v open %d builds of %d at a cost of %v", seed, set[0].Key, x, set[1].Key, y, got, builds, dearest)
					break
				}
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	t.Logf("%d kinds of pairs, %d for several builds, none %d times: %v", len(pairs), several, none, pairs)
	if !testing.Short() && (len(pairs) < 10 || several == 0 || none == 0) {
		t.Errorf("%d kinds of pairs, %d for several builds, none %d times: the test does not test", len(pairs), several, none)
	}
}

// zeroOf is from where the values of a key count: temperatures from the air's.
func zeroOf(p *constraints.Problem, c ease.Concession) float64 {
	if c.Unit == "°C" {
		return p.Air()
	}
	return 0
}

// moved is the value of a concession that costs so much, as far as it goes.
func moved(t *testing.T, p *constraints.Problem, c ease.Concession, cost float64) float64 {
	t.Helper()
	from, last := *c.Value(p.Brief), lastValue(t, c)
	x := from + float64(c.Eases)*cost*math.Abs(from-zeroOf(p, c))
	if float64(c.Eases)*x > float64(c.Eases)*last {
		if math.Abs(last-from) > 0 {
			return last
		}
		return from
	}
	return x
}
