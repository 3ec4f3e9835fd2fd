package constraints

import "gearsearch/catalog/field"

// ResolvedSection is one section of a brief as it was understood.
type ResolvedSection struct {
	Name string
	Keys []ResolvedKey
}

// ResolvedKey is one key with its value in the key's unit: a float64, string,
// []string or []float64; nil where nothing is set and no default stands in.
type ResolvedKey struct {
	field.Info
	Value any
}

// Resolved lists the brief section by section, defaults filled in. The share
// of the weight on driven wheels stays nil where it follows from the number of
// motors, and the rolling resistance where it follows from the wheel.
func (p *Problem) Resolved() []ResolvedSection {
	b := p.Brief.Clone()
	b.Ground.AirDensity, b.Ground.Grip = p.AirDensity, p.Grip
	t := newBriefTables()
	return []ResolvedSection{
		{"rider", resolved(t.rider, &b.Rider)},
		{"board", resolved(t.board, &b.Board)},
		{"ground", resolved(t.ground, &b.Ground)},
		{"target", resolved(t.target, &b.Target)},
		{"limit", resolved(t.limit, &b.Limit)},
		{"weights", resolved(t.weights, &b.Weights)},
		{"tolerance", resolved(t.vary, &b.Vary)},
		{"keep", resolved(t.keep, &b.Keep)},
		{"avoid", resolved(t.avoid, &b.Avoid)},
	}
}

func resolved[T any](t *field.Table[T], of *T) []ResolvedKey {
	var keys []ResolvedKey
	for info, value := range t.Values(of) {
		if value == nil && info.Default == "[]" {
			value = []string{}
		}
		keys = append(keys, ResolvedKey{*info, value})
	}
	return keys
}
