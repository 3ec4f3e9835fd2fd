package search

import (
	"slices"
	"testing"

	"gearsearch/constraints"
)

// slotsOf are the slots that belong to choices.
func slotsOf(set constraints.Scope) []constraints.Slot {
	return slices.DeleteFunc(constraints.Slots(), func(s constraints.Slot) bool { return constraints.ScopeOf(s)&set == 0 })
}

// TestUnlock: what is to be freed too is what leads to a change that passes, as
// one finds by freeing each set of choices and looking at every build; of the
// fewest choices.
func TestUnlock(t *testing.T) {
	t.Parallel()
	n := uint64(500)
	if testing.Short() {
		n = 100
	}
	sizes := map[int]int{}
	for seed := range n {
		c, ok := newSwapCase(t, seed)
		if !ok {
			continue
		}
		file := fileOf(t, c.ids, c.motors)
		some := func(freed []constraints.Slot) (passes, few bool) {
			p, base, err := constraints.Free(c.catalog, c.brief, file, constraints.Freed{Slots: freed})
			if err != nil || p.Combinations() > 5000 {
				return false, false
			}
			eachBuild(p, func(b *constraints.Build, _ uint64) { passes = passes || !b.Rejected(false) && !same(b, base) })
			return passes, true
		}
		if _, few := some(constraints.Slots()); !few {
			continue
		}
		if passes, few := some(c.freed); passes || !few {
			continue
		}
		var want []constraints.Scope
		for size := 1; size <= len(choicesOf) && len(want) == 0; size++ {
			for mask := range constraints.OnAll + 1 {
				set := mask &^ constraints.OnCount
				if set != mask || len(choicesIn(set)) != size {
					continue
				}
				idle := slices.ContainsFunc(choicesIn(set), func(x constraints.Scope) bool { // freed anyway
					return !slices.ContainsFunc(slotsOf(x), func(s constraints.Slot) bool { return !slices.Contains(c.freed, s) })
				})
				if passes, _ := some(union(c.freed, slotsOf(set))); passes && !idle {
					want = append(want, set)
				}
			}
		}
		p, base, err := constraints.Free(c.catalog, c.brief, file, constraints.Freed{Slots: c.freed})
		if err != nil {
			t.Fatal(err)
		}
		got, complete := Unlock(t.Context(), p, base, constraints.Freed{Slots: c.freed}, Options{Workers: 1 + int(seed%2)})
		slices.Sort(got)
		slices.Sort(want)
		if !complete || !slices.Equal(got, want) {
			t.Fatalf("seed %d, %v freed: %v, want %v", seed, c.freed, got, want)
		}
		size := 0
		if len(want) > 0 {
			size = len(choicesIn(want[0]))
		}
		sizes[size]++
	}
	t.Log(sizes)
	if sizes[0] == 0 || sizes[1] < 5 || !testing.Short() && sizes[2] == 0 {
		t.Errorf("%v: the test does not test", sizes)
	}
}

// choicesIn are the single choices of a set.
func choicesIn(set constraints.Scope) []constraints.Scope {
	return slices.DeleteFunc(slices.Clone(choicesOf[:]), func(c constraints.Scope) bool { return set&c == 0 })
}

// union is the slots of two lists, each once.
func union(a, b []constraints.Slot) []constraints.Slot {
	out := slices.Concat(a, b)
	slices.Sort(out)
	return slices.Compact(out)
}
