package catalog

import "slices"

// The words of the enumerations, by value; "" for not given.
func shaftKeys() []string   { return []string{"", "plain", "flat", "keyway"} }
func tyres() []string       { return []string{"", "urethane", "rubber", "pneumatic"} }
func chemistries() []string { return []string{"", "li-ion", "li-po", "lfp"} }
func sides() []string       { return []string{"motor", "wheel"} }

// String is the word for k in a catalog, "" for KeyUnknown.
func (k ShaftKey) String() string { return shaftKeys()[k] }

// String is the word for t in a catalog, "" for TyreUnknown.
func (t Tyre) String() string { return tyres()[t] }

// String is the word for c in a catalog, "" for ChemistryUnknown.
func (c Chemistry) String() string { return chemistries()[c] }

// String is the word for s in a catalog.
func (s Side) String() string { return sides()[s] }

// wordIndex is the enumeration's value for a word, which must be one of words.
func wordIndex[E ~uint8](words []string, word string) E {
	return E(max(slices.Index(words, word), 0))
}
