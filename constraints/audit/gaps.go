package audit

import (
	"cmp"
	"slices"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// Gap is a key that some parts lack, and what stays undecided without it.
type Gap struct {
	Kind, Key string
	IDs       []string // of the parts without it, in order
	// Checks are the names of the checks that are undecided for builds with
	// such a part, where the brief makes them apply: none where something is
	// assumed instead.
	Checks []string
	// Instead is what stands in the key's place; its zero value: nothing does.
	Instead constraints.Instead
}

// Gaps are the keys that parts lack and that leave something undecided: first the
// keys that most checks need, then those that most parts lack, then in the order of
// the catalog format; keys that every kind has come after all others of the
// drivetrain. A key is no gap where another answers for it: a motor's max_volts where
// every controller has one, the hub of a gear drive that names its wheels, the mass
// of a cell in packs that have their own.
func Gaps(c *catalog.Catalog) []Gap {
	g := &gapFinder{constraints.NewStock(c), map[keyOf][]*claim{}}
	for _, check := range constraints.Registry() {
		g.needs(check.Name, check.Needs)
	}
	for _, check := range outfit.Registry() {
		g.needs(check.Name, check.Needs)
	}
	for _, i := range constraints.Insteads() {
		g.claim(i.Kind, i.Key, claim{instead: i, of: i.Of})
	}
	for _, n := range outfit.Demanded() {
		g.claim(n.Kind, n.Key, claim{instead: constraints.Instead{Kind: n.Kind, Key: n.Key, Stand: constraints.PartIsPassedOver}, of: n.Of})
	}
	var out []Gap
	for _, k := range keys() {
		if gap := g.gap(k); len(gap.IDs) > 0 {
			out = append(out, gap)
		}
	}
	slices.SortStableFunc(out, func(a, b Gap) int {
		return cmp.Or(cmp.Compare(len(b.Checks), len(a.Checks)), cmp.Compare(len(b.IDs), len(a.IDs)))
	})
	return out
}

// keyOf is a key of a kind.
type keyOf struct{ kind, key string }

// claim is that of a check, or of what stands instead, on a key.
type claim struct {
	check   string // "": instead stands
	instead constraints.Instead
	of      func(s *constraints.Stock, p *catalog.Part) bool // nil: it holds of all parts
	holds   bool                                             // of a part without the key
}

// gapFinder gathers the claims on keys.
type gapFinder struct {
	stock  *constraints.Stock
	claims map[keyOf][]*claim
}

// needs notes the keys that a check needs and that no others answer for.
func (g *gapFinder) needs(check string, needs []constraints.Need) {
	for _, n := range needs {
		if n.Unless == nil || !n.Unless(g.stock) {
			g.claim(n.Kind, n.Key, claim{check: check, of: n.Of})
		}
	}
}

func (g *gapFinder) claim(kind, key string, c claim) {
	k := keyOf{kind, key}
	g.claims[k] = append(g.claims[k], &c)
}

// gap looks for the parts that do not give a key.
func (g *gapFinder) gap(k keyOf) Gap {
	gap := Gap{Kind: k.kind, Key: k.key}
	claims := g.claims[k]
	if claims == nil {
		return gap
	}
	for e := range g.stock.Entries(k.kind) {
		if _, value := e.Value(k.key); value == nil && g.missed(claims, e.Part) {
			gap.IDs = append(gap.IDs, e.Part.ID)
		}
	}
	for _, c := range claims {
		switch {
		case !c.holds:
		case c.check == "":
			gap.Instead = c.instead
		default:
			gap.Checks = append(gap.Checks, c.check)
		}
	}
	return gap
}

// missed reports whether a claim holds of a part without the key, and notes
// which do.
func (g *gapFinder) missed(claims []*claim, p *catalog.Part) bool {
	missed := false
	for _, c := range claims {
		if c.of == nil || c.of(g.stock, p) {
			c.holds, missed = true, true
		}
	}
	return missed
}

// keys lists the keys of all kinds in the order of Gaps.
func keys() []keyOf {
	var own, common, around []keyOf
	everywhere := map[string]int{}
	kinds := catalog.Kinds()
	for _, k := range kinds {
		for _, f := range k.Fields {
			everywhere[f.Key]++
		}
	}
	for _, k := range kinds {
		for _, f := range k.Fields {
			switch at := (keyOf{k.Name, f.Key}); {
			case k.Accessory:
				around = append(around, at)
			case everywhere[f.Key] == len(kinds):
				common = append(common, at)
			default:
				own = append(own, at)
			}
		}
	}
	return slices.Concat(own, common, around)
}
