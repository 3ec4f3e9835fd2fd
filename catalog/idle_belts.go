package catalog

import (
	"math"
	"slices"

	"gearsearch/drive"
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
	pulleyProfile := func(p *Pulley) string { return p.Profile.ID }
	pulleySize := func(p *Pulley) [2]float64 { return [2]float64{float64(p.Teeth), p.Width} }
	small, smallOf := lots(s.small.live(), pulleyProfile, pulleySize)
	large, largeOf := lots(s.large.live(), pulleyProfile, pulleySize)
	belts, beltOf := lots(s.belts.live(), func(b *Belt) string { return b.Profile.ID }, func(b *Belt) [2]float64 { return [2]float64{float64(b.Teeth), b.Width} })
	mounts, mountOf := lots(s.mounts.live(), func(*Mount) string { return "" }, func(m *Mount) [2]float64 { return [2]float64{m.CentreMin, m.CentreMax} })

	decidable := len(s.Belts) > 0 && len(s.Mounts) > 0 // else the check is not decided
	work := beltWork
	if decidable {
		for _, profile := range profilesOf(small) {
			u := beltUse{ofProfile(small, profile), ofProfile(large, profile), ofProfile(belts, profile), mounts, &work}
			u.find()
		}
	}
	pulley := func(of map[*Pulley]*lot[Pulley], others []*lot[Pulley], which string) func(*Pulley) (lack, bool) {
		return func(p *Pulley) (lack, bool) {
			if len(ofProfile(others, p.Profile.ID)) == 0 {
				return lack{key: "profile", why: "no " + which + " that is left has its profile, " + p.Profile.ID}, false
			}
			return lack{key: "teeth", why: "no belt holds it and a " + which + " as far apart as a mount does"}, !decidable || of[p].used
		}
	}
	strike(s, &s.small, pulley(smallOf, large, "wheel pulley"))
	strike(s, &s.large, pulley(largeOf, small, "motor pulley"))
	strike(s, &s.mounts, func(m *Mount) (lack, bool) {
		return lack{key: "centre_min_mm", why: "no belt holds a pair of pulleys as far apart as it does, " + mm(m.CentreMin) + " to " + mm(m.CentreMax)}, !decidable || mountOf[m].used
	})
	strike(s, &s.belts, func(b *Belt) (lack, bool) {
		small, large := ofProfile(small, b.Profile.ID), ofProfile(large, b.Profile.ID)
		if len(small) == 0 || len(large) == 0 {
			return lack{key: "profile", why: "no pair of pulleys that is left has its profile, " + b.Profile.ID}, false
		}
		if widest := widestFace(small, large); !widthFits(b.Width, widest) {
			return lack{key: "width_mm", why: "no pair of pulleys takes a belt wider than " + mm(widest)}, false
		}
		return lack{key: "teeth", why: "it holds no pair of pulleys as far apart as a mount does"}, !decidable || beltOf[b].used
	})
}

// profilesOf are the profiles of lots, each once.
func profilesOf(all []*lot[Pulley]) []string {
	var out []string
	for _, l := range all {
		if !slices.Contains(out, l.profile) {
			out = append(out, l.profile)
		}
	}
	return out
}

// widthFits reports whether a belt may run on a face of a width: what is not
// known fits.
func widthFits(belt, face float64) bool {
	return math.IsNaN(belt) || math.IsNaN(face) || drive.AtMost(belt, face)
}

// narrower is the narrower of two faces, the known one where the other is not.
func narrower(a, b float64) float64 {
	switch {
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	}
	return math.Min(a, b)
}

// widestFace is the widest face that a pair of pulleys has in common; NaN where
// there is a pair of which neither is known.
func widestFace(small, large []*lot[Pulley]) float64 {
	widest := func(pulleys []*lot[Pulley]) float64 {
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
	small, large []*lot[Pulley]
	belts        []*lot[Belt]
	mounts       []*lot[Mount]
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
func (u *beltUse) pair(a, b *lot[Pulley]) {
	face := narrower(a.one.Width, b.one.Width)
	da, db := a.one.Profile.PitchDiameter(a.one.Teeth), b.one.Profile.PitchDiameter(b.one.Teeth)
	fresh := slices.ContainsFunc(u.mounts, func(m *lot[Mount]) bool { return !m.used })
	for _, belt := range u.belts {
		*u.work--
		if a.used && b.used && belt.used && !fresh || !widthFits(belt.one.Width, face) {
			continue
		}
		centre, reaches := drive.CentreDistance(belt.one.Profile.Pitch*float64(belt.one.Teeth), da, db)
		if !reaches {
			continue
		}
		for _, m := range u.mounts {
			*u.work--
			if drive.AtLeast(centre, m.one.CentreMin) && drive.AtMost(centre, m.one.CentreMax) {
				a.used, b.used, belt.used, m.used = true, true, true, true
			}
		}
	}
}
