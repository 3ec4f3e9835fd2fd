package catalog

import (
	"math"
	"slices"

	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
)

// Key units per SI unit.
const (
	perMilli   = 1000  // mm, mΩ, g of kg
	perPercent = 100   // % of a share
	perPull    = 0.001 // N/mm of N/m
	perDegree  = 180 / math.Pi
)

type number[T any] func(*T) *float64

// The rows below are the catalog format: each range is wide enough for any
// real part and narrow enough to catch a wrong unit.

// lastShared is the last key that every kind has.
const lastShared = "link"

// How a part is made that is not bought.
const (
	MadePrinted = "printed"
	MadeCut     = "cut" // out of plate or bar
	MadeBuilt   = "built"
)

// Makings are the words for how a part is made.
func Makings() []string { return []string{MadePrinted, MadeCut, MadeBuilt} }

// Shared reports whether every kind has the key.
func Shared(key string) bool {
	return slices.ContainsFunc(partFields(func(p *Part) *Part { return p }, ""), func(f field.Field[Part]) bool { return f.Key == key })
}

// partFields are the keys of every kind. lot is what sold_in is unless given.
func partFields[T any](part func(*T) *Part, lot string) []field.Field[T] {
	return field.Lift([]field.Field[Part]{
		{Key: "id", Required: true, ID: true, Spread: true, Meaning: "the part's name in briefs and builds, no other part's", Text: func(p *Part) *string { return &p.ID }},
		{Key: "name", Default: "the id", Meaning: "the name to show", Text: func(p *Part) *string { return &p.Name }},
		{Key: "price", Also: []string{"cost"}, Min: 0, Max: 1e6, Meaning: "of sold_in pieces, in the catalog's currency", Number: func(p *Part) *float64 { return &p.Price }, Currency: func(p *Part) *string { return &p.currency }},
		{Key: "sold_in", Also: []string{"pack_size", "pieces"}, Min: 1, Max: 1000, Default: lot, Meaning: "pieces for one price", Count: func(p *Part) *int { return &p.SoldIn }},
		{Key: "priced", Also: []string{"price_date", "date"}, Day: true, Meaning: "the day of that price", Text: func(p *Part) *string { return &p.Priced }},
		{Key: "source", Also: []string{"shop", "seller", "supplier"}, Meaning: "where price and values are from: a shop, a friend, a measurement", Text: func(p *Part) *string { return &p.Source }},
		{Key: "mass_g", Also: []string{"weight", "kg"}, Unit: "g", Per: perMilli, Min: 0, Max: 1e6, Meaning: "of one piece", Number: func(p *Part) *float64 { return &p.Mass }},
		{Key: "owned", Default: "false", Meaning: "true: it is there already and costs nothing", Bool: func(p *Part) *bool { return &p.Owned }},
		{Key: "made", Words: Makings(), Default: "bought", Meaning: "how you make it where you do not buy it: the price is then the material's, and answers have the figures to make it by", Text: func(p *Part) *string { return &p.Made }},
		{Key: "note", Also: []string{"notes", "comment"}, Meaning: "what is worth knowing", Text: func(p *Part) *string { return &p.Note }},
		{Key: lastShared, Also: []string{"url"}, Meaning: "where to read more or buy", Text: func(p *Part) *string { return &p.Link }},
	}, part)
}

// Rows of quantities that several kinds have, or that are alike.

func length[T any](key string, low, high float64, meaning string, at number[T]) field.Field[T] {
	return field.Field[T]{Key: key, Unit: "mm", Per: perMilli, Min: low, Max: high, Meaning: meaning, Number: at}
}

func current[T any](key string, high float64, meaning string, at number[T]) field.Field[T] {
	return field.Field[T]{Key: key, Unit: "A", Min: 0, Above: true, Max: high, Meaning: meaning, Number: at}
}

func volts[T any](key string, low, high float64, meaning string, at number[T]) field.Field[T] {
	return field.Field[T]{Key: key, Unit: "V", Min: low, Max: high, Meaning: meaning, Number: at}
}

func milliohms[T any](key string, low, high float64, meaning string, at number[T]) field.Field[T] {
	return field.Field[T]{Key: key, Unit: "mΩ", Per: perMilli, Min: low, Max: high, Meaning: meaning, Number: at}
}

// share is a part of 1 that may be all of it but not nothing.
func share[T any](key, fallback, meaning string, at number[T]) field.Field[T] {
	return field.Field[T]{Key: key, Kind: &unit.Share, Min: 0, Above: true, Max: 1, Default: fallback, Meaning: meaning, Number: at}
}

// whole is a number of things.
func whole[T any](key string, low, high float64, fallback, meaning string, at number[T]) field.Field[T] {
	return field.Field[T]{Key: key, Whole: true, Min: low, Max: high, Default: fallback, Meaning: meaning, Number: at}
}

func shaftKey[T any](meaning string, at func(*T) *ShaftKey) field.Field[T] {
	return field.Field[T]{
		Key: "shaft_key", Words: shaftKeys()[1:], Meaning: meaning,
		Set: func(t *T, word string) { *at(t) = wordIndex[ShaftKey](shaftKeys(), word) },
		Get: func(t *T) string { return at(t).String() },
	}
}

func hubs[T any](meaning string, at func(*T) *[]string) field.Field[T] {
	return field.Field[T]{Key: "hub", Filled: true, Meaning: meaning, Texts: at}
}

func profileID[T any](at func(*T) **Profile) field.Field[T] {
	return field.Field[T]{
		Key: "profile", Required: true, ID: true, Meaning: "tooth profile, built in or the id of one in the catalog",
		// A placeholder stands for the profile until references are resolved.
		Set: func(t *T, id string) { *at(t) = &Profile{Part: Part{ID: id}} },
		Get: func(t *T) string {
			if *at(t) == nil {
				return ""
			}
			return (*at(t)).ID
		},
	}
}

// as says what kind of quantity a row without a unit holds.
func as[T any](kind *unit.Kind, f field.Field[T]) field.Field[T] {
	f.Kind = kind
	return f
}

// also says what else people call a key.
func also[T any](f field.Field[T], names ...string) field.Field[T] {
	f.Also = names
	return f
}

// required marks a row as one that must be given.
func required[T any](f field.Field[T]) field.Field[T] {
	f.Required = true
	return f
}

// or says what absence means.
func or[T any](f field.Field[T], fallback string) field.Field[T] {
	f.Default = fallback
	return f
}
