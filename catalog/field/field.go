package field

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/catalog/unit"
)

// Field is one key of a table that decodes into a T: what the key means and
// what it may hold, and where its value goes. Exactly one of the accessors is
// given, except that Number and Text together make a key that takes a number
// or one of Words.
type Field[T any] struct {
	Key       string
	Required  bool
	Unit      string            // as shown: "mm", "A"; "" for none
	Per       float64           // key units per SI unit, 1000 for mm: SI = value / Per; 0 means 1
	Min, Max  float64           // of a number, in the key's unit, both inclusive; both 0: any finite number
	Above     bool              // Min itself is not allowed
	Whole     bool              // whole numbers only
	Fallback  any               // what a key that is not given holds, in its unit: a number, one of Words, a []float64 or a []string; nil: nothing
	Default   string            // what absence means where no Fallback says it, for the reference page; "" for unknown
	Words     []string          // the words allowed of a text; nil: any
	Kind      *unit.Kind        // what kind of quantity it is: the units that its number may be written in; nil: that of Unit, if any
	Also      []string          // what people call the key, for hints: with or without a unit at the end
	AlsoWords map[string]string // what people write for its words, in small letters, with the word meant
	Fold      bool              // words stand in capitals too
	ID        bool              // the text is an id, [a-z0-9][a-z0-9._-]*
	Day       bool              // the text is a day, 2026-05-01; TOML's own date goes too
	Spread    bool              // the text may be a list in a family, one for each member
	Once      bool              // no item of the list may stand twice
	Filled    bool              // the list may not be empty
	Verbatim  bool              // the list's texts are taken as they stand, with commas and blanks: they never stand in a CSV file
	Meaning   string            // one line
	Asks      bool              // a number that is given asks for something; without: it says how things are, or how to ask
	Eases     int               // which way a number asks for less: +1 the greater, −1 the lower; 0: neither
	Eased     string            // what asking for less is, in a few words

	Number   func(*T) *float64   // NaN: absent
	Currency func(*T) *string    // beside Number, for an amount of money: the currency that was written, "" for none
	Count    func(*T) *int       // a whole number; 0: absent
	Text     func(*T) *string    // "": absent
	Set      func(*T, string)    // with Get: a text that is not kept as a string
	Get      func(*T) string     // "": absent
	Flag     func(*T) **bool     // nil: absent
	Bool     func(*T) *bool      // absent is false
	Texts    func(*T) *[]string  // one text or a list of them; nil: absent
	Numbers  func(*T) *[]float64 // one number or a list of them; never a family
	// Section and Sections mark a table, and a list of tables, that the caller
	// reads.
	Section, Sections bool
}

// Lift makes fields of a T out of the fields of a part of it.
func Lift[T, P any](fields []Field[P], part func(*T) *P) []Field[T] {
	out := make([]Field[T], len(fields))
	for i, f := range fields {
		out[i] = Field[T]{
			Key: f.Key, Required: f.Required, Unit: f.Unit, Per: f.Per, Min: f.Min, Max: f.Max, Above: f.Above,
			Whole: f.Whole, Fallback: f.Fallback, Default: f.Default, Words: f.Words, Kind: f.Kind, Also: f.Also, AlsoWords: f.AlsoWords, Fold: f.Fold, ID: f.ID, Day: f.Day, Spread: f.Spread, Once: f.Once,
			Filled: f.Filled, Verbatim: f.Verbatim, Meaning: f.Meaning, Asks: f.Asks, Eases: f.Eases, Eased: f.Eased, Section: f.Section, Sections: f.Sections,
			Number: through(f.Number, part), Currency: through(f.Currency, part), Count: through(f.Count, part), Text: through(f.Text, part),
			Flag: through(f.Flag, part), Bool: through(f.Bool, part),
			Texts: through(f.Texts, part), Numbers: through(f.Numbers, part),
		}
		if f.Set != nil {
			out[i].Set = func(t *T, s string) { f.Set(part(t), s) }
			out[i].Get = func(t *T) string { return f.Get(part(t)) }
		}
	}
	return out
}

func through[T, P, V any](get func(*P) V, part func(*T) *P) func(*T) V {
	if get == nil {
		return nil
	}
	return func(t *T) V { return get(part(t)) }
}

// Type is the type of a key's value.
type Type string

// The types, in the words of the reference page.
const (
	TypeNumber       Type = "number"
	TypeWhole        Type = "whole number"
	TypeNumberOrWord Type = "number or word"
	TypeText         Type = "text"
	TypeWord         Type = "word"
	TypeID           Type = "id"
	TypeDay          Type = "day"
	TypeFlag         Type = "true or false"
	TypeTexts        Type = "text or list of texts"
	TypeNumbers      Type = "number or list of numbers"
	TypeSection      Type = "table"
	TypeSections     Type = "list of tables"
)

// Info is a field without its accessors: what documentation, completion and
// schemas need.
type Info struct {
	Key       string
	Type      Type
	Required  bool
	Unit      string
	Per       float64 // never 0
	Min, Max  float64 // -Inf, +Inf where there is no limit
	Above     bool
	Whole     bool
	Kind      *unit.Kind        // of the quantity, nil: a bare number, or no number; not to be changed
	Also      []string          // not to be changed
	AlsoWords map[string]string // not to be changed
	ID        bool              // texts are ids
	Words     []string
	Fold      bool   // words stand in capitals too
	Fallback  any    // float64, string, []float64, []string or nil; not to be changed
	Default   string // in words; Fallback as it is written
	Meaning   string
	Family    bool // in a family of parts the value may be a list, one for each member
	Filled    bool
	Verbatim  bool
	Once      bool
	Asks      bool
	Eases     int
	Eased     string
}

// Numeric reports whether the key holds a number, or may.
func (in *Info) Numeric() bool {
	switch in.Type {
	case TypeNumber, TypeWhole, TypeNumberOrWord, TypeNumbers:
		return true
	}
	return false
}

// Range is the range of a number in words with its unit, such as "5 to 10000
// rpm/V" or "above 0, at most 1 "; "" where any number goes.
func (in *Info) Range() string {
	s := ""
	switch {
	case math.IsInf(in.Min, -1) && math.IsInf(in.Max, 1):
		return ""
	case math.IsInf(in.Max, 1) && in.Above:
		s = "above " + FormatNumber(in.Min)
	case math.IsInf(in.Max, 1):
		s = "at least " + FormatNumber(in.Min)
	case in.Min == in.Max:
		s = FormatNumber(in.Min)
	case in.Above:
		s = "above " + FormatNumber(in.Min) + ", at most " + FormatNumber(in.Max)
	default:
		s = FormatNumber(in.Min) + " to " + FormatNumber(in.Max)
	}
	if in.Unit != "" {
		s += " " + in.Unit
	}
	return s
}

func (f *Field[T]) info(table string) Info {
	in := Info{
		Key: f.Key, Required: f.Required, Unit: f.Unit, Per: f.Per, Min: f.Min, Max: f.Max, Above: f.Above,
		Whole: f.Whole || f.Count != nil, ID: f.ID, Words: f.Words, Fold: f.Fold, Meaning: f.Meaning,
		Filled: f.Filled, Verbatim: f.Verbatim, Once: f.Once, Asks: f.Asks, Eases: f.Eases, Eased: f.Eased,
		Kind: f.kind(), Also: f.Also, AlsoWords: f.AlsoWords,
		Family: f.Spread || f.Number != nil || f.Count != nil,
	}
	if f.Min == 0 && f.Max == 0 {
		in.Min, in.Max = math.Inf(-1), math.Inf(1)
	}
	switch {
	case f.Number != nil && f.Text != nil:
		in.Type, in.Family = TypeNumberOrWord, false
	case f.Number != nil && !f.Whole:
		in.Type = TypeNumber
	case f.Number != nil || f.Count != nil:
		in.Type = TypeWhole
	case f.ID && f.Texts == nil:
		in.Type = TypeID
	case f.Day:
		in.Type = TypeDay
	case (f.Text != nil || f.Set != nil) && f.Words != nil:
		in.Type = TypeWord
	case f.Text != nil || f.Set != nil && f.Get != nil:
		in.Type = TypeText
	case f.Flag != nil || f.Bool != nil:
		in.Type = TypeFlag
	case f.Texts != nil:
		in.Type = TypeTexts
	case f.Numbers != nil:
		in.Type = TypeNumbers
	case f.Section:
		in.Type = TypeSection
	case f.Sections:
		in.Type = TypeSections
	default:
		panic(fmt.Sprintf("field: %s.%s has no accessor", table, f.Key))
	}
	return in
}

// kind is the kind of quantity that a field holds, nil where it is none.
func (f *Field[T]) kind() *unit.Kind {
	switch {
	case f.Number == nil && f.Count == nil && f.Numbers == nil:
		return nil
	case f.Currency != nil:
		return &unit.Money
	case f.Kind != nil:
		return f.Kind
	}
	return unit.Of(f.Unit)
}

// Infos lists the fields in table order. The caller must not change it.
func (t *core) Infos() []Info { return t.infos }

// Info is the field of that key; ok is false if the table has none.
func (t *core) Info(key string) (in *Info, ok bool) {
	i, ok := t.index[key]
	if !ok {
		return nil, false
	}
	return &t.infos[i], true
}

// Keys lists the keys in table order.
func (t *core) Keys() []string {
	keys := make([]string, len(t.infos))
	for i := range t.infos {
		keys[i] = t.infos[i].Key
	}
	return keys
}

// toSI converts a value in the key's unit. Units smaller than SI's divide, so
// that 97 mm is exactly 0.097 m; larger ones multiply by the whole factor.
func (f *Field[T]) toSI(x float64) float64 {
	if inverse := math.Round(1 / f.Per); f.Per < 1 && math.Abs(inverse*f.Per-1) < 1e-12 {
		return x * inverse
	}
	return x / f.Per
}

// wordList is the words of a field for a message: a, b or c.
func wordList(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = Quote(w)
	}
	if len(quoted) < 2 {
		return strings.Join(quoted, "")
	}
	last := len(quoted) - 1
	return strings.Join(quoted[:last], ", ") + " or " + quoted[last]
}
