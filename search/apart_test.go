package search

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// designOf names the design of a build by the ids that tell it apart.
func designOf(b *constraints.Build, a Apart) string {
	var ids []string
	for _, slot := range constraints.Slots() {
		if a.By(slot) {
			ids = append(ids, slot.String()+" "+b.ID(slot))
		}
	}
	if a.motors {
		ids = append(ids, string(rune('0'+b.Motors())))
	}
	return strings.Join(ids, "\n")
}

// plainDesigns groups a plain ranking of all builds: the best of each design, in
// order, and how many builds each has.
func plainDesigns(p *constraints.Problem, entries []entry, a Apart) (list []entry, alike []uint64) {
	places := map[string]int{}
	for _, e := range entries {
		name := designOf(walk.Assemble(p, e.id), a)
		at, known := places[name]
		if !known {
			at = len(list)
			places[name] = at
			list, alike = append(list, e), append(alike, 0)
		}
		alike[at]++
	}
	return list, alike
}

// randomApart draws what tells designs apart: often what nobody asks otherwise, and
// the electrical parts alone.
func randomApart(r *rand.Rand) Apart {
	if r.IntN(4) == 0 {
		return ApartByMotor()
	}
	a := Apart{motors: r.IntN(2) == 0, slots: uint16(r.IntN(1 << len(constraints.Slots())))}
	if r.IntN(3) == 0 {
		a.slots &= ApartIn(false, constraints.SlotBattery, constraints.SlotController, constraints.SlotMotor).slots
	}
	if a.None() {
		a.motors = true
	}
	return a
}

// sameDesigns compares a ranking to the first of a plain one.
func sameDesigns(t *testing.T, seed uint64, what string, want []entry, alike []uint64, top int, got *Result) {
	t.Helper()
	if top > 0 && len(want) > top {
		want, alike = want[:top], alike[:top]
	}
	if len(want)+got.Len() == 0 {
		return
	}
	if d := cmp.Diff(want, got.ranked, cmp.AllowUnexported(entry{})); d != "" {
		t.Fatalf("seed %d, %s: designs differ from the plain search (-plain +fast):\n%s", seed, what, d)
	}
	if d := cmp.Diff(alike, got.alike); d != "" {
		t.Fatalf("seed %d, %s: what they stand for differs from the plain search (-plain +fast):\n%s", seed, what, d)
	}
	for i, n := range alike {
		if s := got.At(i); s.StandsFor != n || s.Rank != i+1 {
			t.Fatalf("seed %d, %s: rank %d, %d builds, want %d and %d", seed, what, s.Rank, s.StandsFor, i+1, n)
		}
	}
}

// TestDesignsEqualPlain: the best build of each design, the counts of their builds
// and the tally are those of a ranking of all builds, grouped; for any number of
// workers and of designs, counted or not.
func TestDesignsEqualPlain(t *testing.T) {
	n := uint64(*catalogs) / 2
	if testing.Short() {
		n /= 10
	}
	grouped := 0
	for seed := range n {
		p, ok := randomProblem(t, seed+120_000, randcat.Small())
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 14))
		strict, a := seed%3 == 0, randomApart(r)
		tally, entries := plain(p, strict)
		want, alike := plainDesigns(p, entries, a)
		if len(want) < len(entries) {
			grouped++
		}
		for _, o := range []Options{{}, {Top: 1 + r.IntN(3), Workers: 1}, {Top: 20, Workers: 5}} {
			o.Strict, o.Apart = strict, a
			got, err := Rank(t.Context(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(tally, got.Tally); d != "" {
				t.Fatalf("seed %d, %v: counts differ from the plain search (-plain +fast):\n%s", seed, a.Names(), d)
			}
			sameDesigns(t, seed, strings.Join(a.Names(), ","), want, alike, o.Top, got)
		}
		o := Options{Top: 1 + r.IntN(5), Strict: strict, Apart: a}
		only, err := RankOnly(t.Context(), p, o)
		if err != nil {
			t.Fatal(err)
		}
		sameDesigns(t, seed, "not counted, "+strings.Join(a.Names(), ","), want, alike, o.Top, only)
	}
	if grouped < int(n)/10 {
		t.Errorf("only %d of %d catalogs have builds of one design", grouped, n)
	}
}

// TestDesignsOfLanes: with lanes of one lot each or of mixed lots, of every size,
// and few groups queued at once, the designs are those of the plain search.
func TestDesignsOfLanes(t *testing.T) {
	n := uint64(*catalogs) / 5
	if testing.Short() {
		n /= 10
	}
	parted, mixed := 0, 0
	for seed := range n {
		p, ok := randomProblem(t, seed+150_000, randcat.Small())
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 15))
		strict, a, top := seed%3 == 0, randomApart(r), 1+r.IntN(4)
		_, entries := plain(p, strict)
		want, alike := plainDesigns(p, entries, a)
		plan := func() *walk.Plan {
			pl := walk.NewPlan(p, strict)
			pl.Sizes.LaneLeast, pl.Sizes.Lane = []int{1, 3}[seed%2], []int{1, 2, 7}[seed%3]
			pl.Sizes.StretchPairs = []int{1, 3 * len(p.Wheels), pl.Sizes.StretchPairs}[seed%3]
			pl.Sizes.Queue = []int{1, 7, 50}[seed%3]
			return pl
		}
		s, o := newScorer(p), Options{Top: top, Workers: 1 + int(seed%3), Strict: strict, Apart: a}
		pl := plan()
		tops := newTops(pl, s, o, func() *ration { return nil })
		if d := newDesigns(p, a); pl.Lot != nil {
			parted++
		} else if d.lots > 1 {
			mixed++
		}
		walk.All(t.Context(), pl, tops, nil)
		counted := bestOf(tops, top)
		first := plan() // which newTops parts by designs, for the walk too
		tops = newTops(first, s, o, func() *ration { return nil })
		walk.BestFirst(t.Context(), first, tops, tops[0].floor, s.microBound, nil)
		for _, ranked := range [][]entry{counted, bestOf(tops, top)} {
			got := &Result{Problem: p, Complete: true, Apart: a, scorer: s, ranked: ranked}
			got.count(t.Context(), plan(), o)
			sameDesigns(t, seed, strings.Join(a.Names(), ","), want, alike, top, got)
		}
	}
	if parted < int(n)/20 || mixed < int(n)/20 {
		t.Errorf("of %d catalogs the lanes of %d are of one lot, those of %d of several: too few to tell", n, parted, mixed)
	}
}

// TestDesignsOfAFront: a front is taken over builds, and then lists the best of each
// design that is on it; these stand for all their feasible builds.
func TestDesignsOfAFront(t *testing.T) {
	var figures []constraints.Figure
	for _, name := range []string{"top_speed_kmh", "price"} {
		f, _ := constraints.FigureNamed(name)
		figures = append(figures, f)
	}
	fewer, beyond := 0, 0
	for seed := range uint64(200) {
		p, ok := randomProblem(t, seed+170_000, randcat.Small())
		if !ok {
			continue
		}
		a := randomApart(rand.New(rand.NewPCG(seed, 16)))
		_, entries := plain(p, false)
		_, alike := plainDesigns(p, entries, a)
		all, _ := plainDesigns(p, entries, a)
		front, err := Front(t.Context(), p, figures, Options{})
		if err != nil {
			t.Fatal(err)
		}
		want, on := plainDesigns(p, front.ranked, a)
		counts := make([]uint64, len(want))
		for i, e := range want {
			name := designOf(walk.Assemble(p, e.id), a)
			at := slices.IndexFunc(all, func(o entry) bool { return designOf(walk.Assemble(p, o.id), a) == name })
			if counts[i] = alike[at]; counts[i] > on[i] {
				beyond++
			}
		}
		if len(want) < front.Len() {
			fewer++
		}
		for _, top := range []int{0, 2} {
			got, err := Front(t.Context(), p, figures, Options{Top: top, Apart: a})
			if err != nil {
				t.Fatal(err)
			}
			if got.FrontSize != front.FrontSize {
				t.Fatalf("seed %d: %d on the front, want %d", seed, got.FrontSize, front.FrontSize)
			}
			sameDesigns(t, seed, "front of "+strings.Join(a.Names(), ","), want, counts, top, got)
		}
	}
	if fewer < 10 || beyond < 10 {
		t.Errorf("%d fronts have builds of one design, %d designs have builds beside the front: too few to tell", fewer, beyond)
	}
}

// TestApartNone: a design of every build is a ranking of all builds, which stands
// for nothing.
func TestApartNone(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.StreetBrief)
	want, err := Rank(t.Context(), p, Options{Top: 50})
	if err != nil {
		t.Fatal(err)
	}
	every := ApartIn(true, constraints.Slots()...)
	one, err := Rank(t.Context(), p, Options{Top: 50, Apart: every})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want.ranked, one.ranked, cmp.AllowUnexported(entry{})); d != "" {
		t.Errorf("told apart by every choice, the builds differ from those that are not told apart:\n%s", d)
	}
	if s := want.At(0); s.StandsFor != 0 || !want.Counted() {
		t.Errorf("not told apart, a build stands for %d", s.StandsFor)
	}
	if s := one.At(0); s.StandsFor != 1 || !one.Counted() {
		t.Errorf("told apart by every choice, a build stands for %d, want 1", s.StandsFor)
	}
}

// TestMoreTellsMoreApart: of an unlimited list, what is counted adds up to all
// feasible builds, and a further choice that tells designs apart loses none.
func TestMoreTellsMoreApart(t *testing.T) {
	tested := 0
	for seed := range uint64(150) {
		p, ok := randomProblem(t, seed+180_000, randcat.Small())
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 17))
		few := randomApart(r)
		more := few
		more.motors = true
		more.slots |= randomApart(r).slots
		list := func(a Apart) map[uint64]bool {
			got, err := Rank(t.Context(), p, Options{Apart: a})
			if err != nil {
				t.Fatal(err)
			}
			sum, ids := uint64(0), map[uint64]bool{}
			for i, e := range got.ranked {
				sum += got.alike[i]
				ids[e.id] = true
			}
			if sum != got.Feasible {
				t.Fatalf("seed %d, apart by %v: %d builds in all designs, %d feasible", seed, a.Names(), sum, got.Feasible)
			}
			return ids
		}
		less, all := list(few), list(more)
		for id := range less {
			if !all[id] {
				t.Fatalf("seed %d: apart by %v a build is the best of its design, by %v it is not", seed, few.Names(), more.Names())
			}
		}
		if len(less) > 1 && len(less) < len(all) {
			tested++
		}
	}
	if tested < 10 {
		t.Errorf("only %d catalogs have more designs when more tells them apart", tested)
	}
}

// TestDesignsOfAMarket: on a market, with lanes of the usual size, designs by what
// pairs of drive and wheel have are those of a ranking of all builds.
func TestDesignsOfAMarket(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.StreetBrief)
	all, err := Rank(t.Context(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for why, a := range map[string]Apart{
		"electrical groups have a design each": ApartByMotor(),
		"few, which no list of 20 fills":       ApartIn(true),
		"lanes of one wheel each":              ApartIn(false, constraints.SlotWheel),
		"lanes of some teeth and a wheel":      ApartIn(true, constraints.SlotMotorPulley, constraints.SlotMotor),
		"lanes of several drives":              ApartIn(true, constraints.DriveSlots()...),
		"a design for most builds":             ApartIn(true, append(constraints.DriveSlots(), constraints.SlotWheel, constraints.SlotMotor)...),
	} {
		want, alike := plainDesigns(p, all.ranked, a)
		for _, o := range []Options{{Apart: a}, {Top: 7, Workers: 3, Apart: a}, {Top: 20, Apart: a}} {
			got, err := Rank(t.Context(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			if got.Feasible != all.Feasible {
				t.Fatalf("%s: %d feasible, want %d", why, got.Feasible, all.Feasible)
			}
			sameDesigns(t, 0, why, want, alike, o.Top, got)
			if o.Top == 0 {
				continue
			}
			only, err := RankOnly(t.Context(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			sameDesigns(t, 0, why+", not counted", want, alike, o.Top, only)
		}
	}
}

// TestDesignsHaveRoom: an unlimited list holds so many designs, of any number of
// builds, whoever finds them.
func TestDesignsHaveRoom(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	o := Options{Apart: ApartByMotor()}
	all, err := Rank(t.Context(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, workers := range []int{1, 2, 7} {
		o.Workers = workers
		if r, err := rankBy(t.Context(), p, newScorer(p), o, all.Len()); err != nil || r.Len() != all.Len() {
			t.Errorf("%d workers, room for just so many: %v", workers, err)
		}
		if _, err := rankBy(t.Context(), p, newScorer(p), o, all.Len()-1); err == nil {
			t.Errorf("%d workers: room for one less is enough", workers)
		}
	}
}

// TestApartNames: the words say the choices, the whole drive by one word.
func TestApartNames(t *testing.T) {
	for _, tt := range []struct {
		apart Apart
		want  string
	}{
		{Apart{}, ""},
		{ApartByMotor(), "motor,motors,battery"},
		{ApartIn(true), "motors"},
		{ApartIn(false, constraints.DriveSlots()...), "drive"},
		{ApartIn(false, constraints.SlotWheel, constraints.SlotBelt), "belt,wheel"},
		{ApartIn(true, constraints.Slots()...), "motor,motors,battery,controller,drive,wheel"},
	} {
		if got := strings.Join(tt.apart.Names(), ","); got != tt.want {
			t.Errorf("%s, want %s", got, tt.want)
		}
	}
}
