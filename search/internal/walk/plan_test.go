package walk

import (
	"slices"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// TestClassesAreMotorsAlike: every motor with every number is in one class, all
// drives fit the motors of a class alike, and no two classes are alike.
func TestClassesAreMotorsAlike(t *testing.T) {
	classes, members := 0, 0
	for seed := range uint64(200) {
		p, ok := randcat.Problem(t, seed+90_000, randcat.Small())
		if !ok {
			continue
		}
		pl := NewPlan(p, seed%2 == 0)
		list := pl.fitClasses()
		seen := map[[2]int]bool{}
		for i, c := range list {
			for _, m := range c.members {
				if at := [2]int{int(m), c.count}; seen[at] {
					t.Fatalf("seed %d: motor %d with number %d is in two classes", seed, m, c.count)
				} else {
					seen[at] = true
				}
				b := &constraints.Build{Problem: p, Motor: p.Motors[m], Count: c.count}
				for d := range p.Drives {
					b.Drive = p.Drives[d]
					if got := pl.test(b, pl.Fit); got != c.fits[d] {
						t.Fatalf("seed %d: motor %d, drive %d: %+v, the class says %+v", seed, m, d, got, c.fits[d])
					}
				}
			}
			for _, other := range list[:i] {
				if other.count == c.count && slices.Equal(other.fits, c.fits) {
					t.Fatalf("seed %d: two classes are alike", seed)
				}
			}
		}
		if len(seen) != len(p.Motors)*len(p.Counts) {
			t.Fatalf("seed %d: %d of %d motors and numbers are in a class", seed, len(seen), len(p.Motors)*len(p.Counts))
		}
		classes, members = classes+len(list), members+len(seen)
	}
	if members <= classes || classes == 0 {
		t.Errorf("%d classes of %d motors: none has two", classes, members)
	}
}

// BenchmarkClasses sorts the motors of a market into classes.
func BenchmarkClasses(b *testing.B) {
	pl := NewPlan(randcat.MarketProblem(b, randcat.Markets()[2], randcat.PlainStreetBrief), false)
	for b.Loop() {
		pl.fitClasses()
	}
}

// BenchmarkLanes sorts a market's pairs of drive and wheel into the lanes of
// every class.
func BenchmarkLanes(b *testing.B) {
	pl := NewPlan(randcat.MarketProblem(b, randcat.Markets()[2], randcat.PlainStreetBrief), false)
	hubs, classes := pl.hubs(), pl.fitClasses()
	for b.Loop() {
		for _, c := range classes {
			pl.groups(c, hubs)
		}
	}
}
