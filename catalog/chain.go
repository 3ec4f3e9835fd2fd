package catalog

import (
	"cmp"
	"math"
	"slices"
)

// The kinds that share a slot: by the profile the one or the other goes into it.
const (
	pulleyKind, sprocketKind = "pulley", "sprocket"
	beltKind, chainKind      = "belt", "chain"
)

// Chained reports whether the profile is a chain's; no profile is not.
func (p *Profile) Chained() bool { return p != nil && p.Chain != nil }

// Kind is the name of the pulley's kind: sprocket where its profile is a chain's.
func (p *Pulley) Kind() string {
	if p.Profile.Chained() {
		return sprocketKind
	}
	return pulleyKind
}

// Kind is the name of the belt's kind: chain where its profile is a chain's.
func (b *Belt) Kind() string {
	if b.Profile.Chained() {
		return chainKind
	}
	return beltKind
}

// BreakingLoad is what a chain bears before it breaks, in N: as given, else what ISO
// 606 asks of its profile at least. NaN for a belt.
func (b *Belt) BreakingLoad() float64 {
	if b.Profile.Chained() && math.IsNaN(b.Breaking) {
		return b.Profile.Chain.Breaking
	}
	return b.Breaking
}

// Closes reports whether the belt or chain makes a ring by itself. A chain of an odd
// number of links does not: inner and outer links take turns.
func (b *Belt) Closes() bool { return !b.Profile.Chained() || b.Teeth%2 == 0 }

// AllPulleys are the pulleys and the sprockets, sorted by id.
func (c *Catalog) AllPulleys() []*Pulley { return merged(c.Pulleys, c.Sprockets) }

// AllBelts are the belts and the chains, sorted by id.
func (c *Catalog) AllBelts() []*Belt { return merged(c.Belts, c.Chains) }

// PulleyByID finds a pulley or a sprocket.
func (c *Catalog) PulleyByID(id string) (p *Pulley, ok bool) {
	if p, ok := ByID(c.Pulleys, id); ok {
		return p, true
	}
	return ByID(c.Sprockets, id)
}

// merged is one list of two that are sorted by id.
func merged[T common](a, b []T) []T {
	if len(b) == 0 {
		return a
	}
	return slices.SortedFunc(slices.Values(slices.Concat(a, b)), func(x, y T) int { return cmp.Compare(x.Common().ID, y.Common().ID) })
}
