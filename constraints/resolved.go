package constraints

import (
	"reflect"

	"gearsearch/catalog/field"
)

// ResolvedSection is one section of a brief as it was understood.
type ResolvedSection struct {
	Name string
	Keys []ResolvedKey
}

// ResolvedKey is one key with its value in the key's unit: a float64, string,
// bool, []string or []float64; nil where nothing is set and no default stands
// in.
type ResolvedKey struct {
	field.Info
	Value any
}

// Differs reports whether the key has a value, and another than its default.
func (k *ResolvedKey) Differs() bool {
	return k.Value != nil && !reflect.DeepEqual(k.Value, k.Fallback)
}

// Resolved lists the brief section by section, defaults filled in. The
// rolling resistance stays nil where it follows from the wheel, and the grip where it
// is that of wet ground: no brief gives both.
func (p *Problem) Resolved() []ResolvedSection {
	b := *p.Brief
	b.Ground.AirDensity, b.Rider.DragArea = p.AirDensity, p.DragArea
	rolling, drag := b.Fitted()
	b.Ground.Fitted, b.Rider.Fitted = &rolling, &drag
	wet := isSet(b.Ground.Wet)
	if b.Ground.Wet = &wet; !wet {
		b.Ground.Grip = p.Grip
	}
	return b.Values()
}

// Values lists the brief section by section, as it stands: a key whose default
// is a rule, and which is not set, has no value.
func (b *Brief) Values() []ResolvedSection {
	out := make([]ResolvedSection, len(briefSections))
	for i, s := range briefSections {
		out[i].Name = s.name
		for info, value := range s.table.Values(b) {
			out[i].Keys = append(out[i].Keys, ResolvedKey{*info, value})
		}
	}
	return out
}
