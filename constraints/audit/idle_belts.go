package audit

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// beltWork is how many combinations of pulleys, belt and mount are tried before
// what is left is taken to fit: a second's work, and enough for any catalog
// but the largest, since parts of one size are tried as one.
const beltWork = 10_000_000

// lot is parts of one size.
type lot[T any] struct {
	one     *T // of them
	used    bool
	profile string
}

// lots sorts parts out by size. NaN is a size of its own.
func lots[T any](parts []*T, profile func(*T) string, size func(*T) [2]float64) (all []*lot[T], of map[*T]*lot[T]) {
	type key struct {
		profile string
		size    [2]float64
	}
	index := map[key]*lot[T]{}
	of = map[*T]*lot[T]{}
	for _, t := range parts {
		k := key{profile(t), size(t)}
		for i, x := range k.size {
			if math.IsNaN(x) {
				k.size[i] = -1
			}
		}
		if index[k] == nil {
			index[k] = &lot[T]{one: t, profile: k.profile}
			all = append(all, index[k])
		}
		of[t] = index[k]
	}
	return all, of
}

// ofProfile are the lots of one profile.
func ofProfile[T any](all []*lot[T], profile string) []*lot[T] {
	return slices.DeleteFunc(slices.Clone(all), func(l *lot[T]) bool { return l.profile != profile })
}

// beltParts strikes out pulleys, belts and mounts that go with no others.
func (s *idleSearch) beltParts() {
	if len(s.small.all) == 0 || len(s.large.all) == 0 {
		return
	}
	pulleyProfile := func(p *catalog.Pulley) string { return p.Profile.ID }
	pulleySize := func(p *catalog.Pulley) [2]float64 { return [2]float64{float64(p.Teeth), p.Width} }
	small, smallOf := lots(s.small.live(), pulleyProfile, pulleySize)
	large, largeOf := lots(s.large.live(), pulleyProfile, pulleySize)
	belts, beltOf := lots(s.belts.live(), func(b *catalog.Belt) string { return b.Profile.ID }, func(b *catalog.Belt) [2]float64 { return [2]float64{float64(b.Teeth), b.Width} })
	mounts, mountOf := lots(s.mounts.live(), func(*catalog.Mount) string { return "" }, func(m *catalog.Mount) [2]float64 { return [2]float64{m.CentreMin, m.CentreMax} })

	decidable := len(s.belts.all) > 0 && len(s.Mounts) > 0 // else the check is not decided
	work := beltWork
	if decidable {
		for _, profile := range profilesOf(small) {
			u := beltUse{ofProfile(small, profile), ofProfile(large, profile), ofProfile(belts, profile), mounts, &work}
			u.find()
		}
	}
	pulley := func(of map[*catalog.Pulley]*lot[catalog.Pulley], others []*lot[catalog.Pulley], other constraints.Slot, pair func(p, other *catalog.Pulley) bool) func(*catalog.Pulley) (lack, bool) {
		return func(p *catalog.Pulley) (lack, bool) {
			if !slices.ContainsFunc(others, func(l *lot[catalog.Pulley]) bool { return pair(p, l.one) }) {
				return lack{key: "profile", code: NoSuchPulley, quantities: []Quantity{named(other.String()), named(p.Profile.ID)}}, false
			}
			return lack{key: "teeth", code: NoBeltForIt, quantities: []Quantity{named(other.String())}}, !decidable || of[p].used
		}
	}
	strike(s, &s.small, pulley(smallOf, large, constraints.SlotWheelPulley, s.bench.paired))
	strike(s, &s.large, pulley(largeOf, small, constraints.SlotMotorPulley, func(p, other *catalog.Pulley) bool { return s.bench.paired(other, p) }))
	strike(s, &s.mounts, func(m *catalog.Mount) (lack, bool) {
		return lack{key: "centre_min_mm", code: NoBeltSoFar, quantities: []Quantity{given(m.CentreMin, perMilli), given(m.CentreMax, perMilli)}}, !decidable || mountOf[m].used
	})
	strike(s, &s.belts, func(b *catalog.Belt) (lack, bool) {
		small, large := ofProfile(small, b.Profile.ID), ofProfile(large, b.Profile.ID)
		if len(small) == 0 || len(large) == 0 {
			return lack{key: "profile", code: NoSuchPair, quantities: []Quantity{named(b.Profile.ID)}}, false
		}
		if widest := widestFace(small, large); !constraints.RunsOn(b.Width, widest) {
			return lack{key: "width_mm", code: NoSuchFace, quantities: []Quantity{given(widest, perMilli)}}, false
		}
		if !b.Closes() {
			return lack{key: "links", code: OddLinks, quantities: []Quantity{plain(float64(b.Teeth))}}, false
		}
		key := "teeth"
		if b.Profile.Chained() {
			key = "links"
		}
		return lack{key: key, code: NoPairForIt}, !decidable || beltOf[b].used
	})
}

// profilesOf are the profiles of lots, each once.
func profilesOf(all []*lot[catalog.Pulley]) []string {
	var out []string
	for _, l := range all {
		if !slices.Contains(out, l.profile) {
			out = append(out, l.profile)
		}
	}
	return out
}

// widestFace is the widest face that a pair of pulleys has in common; NaN where
// there is a pair of which neither is known.
func widestFace(small, large []*lot[catalog.Pulley]) float64 {
	widest := func(pulleys []*lot[catalog.Pulley]) float64 {
		w := 0.0
		for _, p := range pulleys {
			if math.IsNaN(p.one.Width) {
				return math.Inf(1)
			}
			w = math.Max(w, p.one.Width)
		}
		return w
	}
	if w := math.Min(widest(small), widest(large)); !math.IsInf(w, 1) {
		return w
	}
	return math.NaN()
}

// beltUse is the parts of one profile, and all mounts.
type beltUse struct {
	small, large []*lot[catalog.Pulley]
	belts        []*lot[catalog.Belt]
	mounts       []*lot[catalog.Mount]
	work         *int
}

// find marks the lots that go together.
func (u *beltUse) find() {
	for _, a := range u.small {
		for _, b := range u.large {
			u.pair(a, b)
			if *u.work < 0 {
				u.giveUp()
				return
			}
		}
	}
}

// giveUp takes everything to fit.
func (u *beltUse) giveUp() {
	markAll(u.small)
	markAll(u.large)
	markAll(u.belts)
	markAll(u.mounts)
}

func markAll[T any](all []*lot[T]) {
	for _, l := range all {
		l.used = true
	}
}

// pair puts each belt round a pair of pulleys and looks for mounts that hold
// them as far apart, as long as that can tell something new.
func (u *beltUse) pair(a, b *lot[catalog.Pulley]) {
	face := constraints.Face(a.one, b.one)
	fresh := slices.ContainsFunc(u.mounts, func(m *lot[catalog.Mount]) bool { return !m.used })
	for _, belt := range u.belts {
		*u.work--
		if a.used && b.used && belt.used && !fresh || !constraints.RunsOn(belt.one.Width, face) || !belt.one.Closes() {
			continue
		}
		centre, reaches := constraints.BeltCentre(a.one, b.one, belt.one)
		if !reaches {
			continue
		}
		for _, m := range u.mounts {
			*u.work--
			if constraints.HoldsAt(m.one, centre) {
				a.used, b.used, belt.used, m.used = true, true, true, true
			}
		}
	}
}
