package field

import (
	"math"
	"slices"
)

// clear is Table.Clear.
func (t *core) clear(of *box) {
	for i := range t.fields {
		t.fields[i].clear(of)
	}
}

// clear sets one key to what it is where a file does not give it. A text that is not
// kept as a string stays as it is.
func (f *Field[T]) clear(of *T) {
	switch {
	case f.Count != nil:
		*f.Count(of) = 0
	case f.Flag != nil:
		*f.Flag(of) = nil
	case f.Bool != nil:
		*f.Bool(of) = false
	case f.Texts != nil:
		*f.Texts(of) = nil
	case f.Numbers != nil:
		*f.Numbers(of) = nil
	}
	if f.Number != nil {
		*f.Number(of) = math.NaN()
	}
	if f.Currency != nil {
		*f.Currency(of) = ""
	}
	if f.Text != nil {
		*f.Text(of) = ""
	}
	switch v := f.Fallback.(type) {
	case float64:
		*f.Number(of) = f.toSI(v)
	case string:
		*f.Text(of) = v
	case []string:
		*f.Texts(of) = slices.Clone(v)
	case []float64:
		list := make([]float64, len(v))
		for i, x := range v {
			list[i] = f.toSI(x)
		}
		*f.Numbers(of) = list
	}
}

// fallsBack notes the key's default, as a value and as it is written; false where the
// key may not hold it.
func (f *Field[T]) fallsBack(in *Info) bool {
	in.Default = f.Default
	if f.Fallback == nil {
		return true
	}
	if whole, ok := f.Fallback.(int); ok {
		f.Fallback = float64(whole)
	}
	in.Fallback, in.Default = f.Fallback, TOML(f.Fallback)
	allowed := f.Default == ""
	switch v := f.Fallback.(type) {
	case float64:
		wrong, _ := in.fault(v)
		return allowed && f.Number != nil && wrong == ""
	case string:
		if f.Number == nil {
			in.Default = v // the key takes nothing but words, which need no quotes
		}
		return allowed && f.Text != nil && (f.Words == nil || slices.Contains(f.Words, v))
	case []float64:
		return allowed && f.Numbers != nil
	case []string:
		return allowed && f.Texts != nil
	}
	return false
}
