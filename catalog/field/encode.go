package field

import (
	"iter"
	"math"
	"strconv"
	"strings"
)

// Values yields each field with the value that a T holds for it, in the key's
// unit: a float64, int, string, bool, []string or []float64, nil where it is
// absent. Sections are left out.
func (t *Table[T]) Values(of *T) iter.Seq2[*Info, any] {
	return func(yield func(*Info, any) bool) {
		for i := range t.fields {
			if t.fields[i].Section || t.fields[i].Sections {
				continue
			}
			if !yield(&t.infos[i], t.fields[i].value(of)) {
				return
			}
		}
	}
}

// Lookup returns the value of one key, as Values gives it; ok is false if the
// table has no such key or the value is absent.
func (t *Table[T]) Lookup(of *T, key string) (value any, ok bool) {
	i, known := t.index[key]
	if !known {
		return nil, false
	}
	value = t.fields[i].value(of)
	return value, value != nil
}

func (f *Field[T]) value(of *T) any {
	switch {
	case f.Number != nil:
		if f.Text != nil && *f.Text(of) != "" {
			return *f.Text(of)
		}
		return present(f.inUnit(*f.Number(of)))
	case f.Count != nil:
		if n := *f.Count(of); n != 0 {
			return n
		}
	case f.Text != nil:
		if s := *f.Text(of); s != "" {
			return s
		}
	case f.Get != nil:
		if s := f.Get(of); s != "" {
			return s
		}
	case f.Flag != nil:
		if b := *f.Flag(of); b != nil {
			return *b
		}
	case f.Bool != nil:
		if *f.Bool(of) {
			return true
		}
	case f.Texts != nil:
		if list := *f.Texts(of); list != nil {
			return list
		}
	case f.Numbers != nil:
		if list := *f.Numbers(of); list != nil {
			out := make([]float64, len(list))
			for i, x := range list {
				out[i] = f.inUnit(x)
			}
			return out
		}
	}
	return nil
}

// inUnit turns an SI value into the key's unit, as it would be written: without
// the last digits, which are conversion's, where there is a conversion.
func (f *Field[T]) inUnit(x float64) float64 {
	if f.Per == 1 {
		return x
	}
	y, err := strconv.ParseFloat(FormatNumber(x*f.Per), 64)
	if err != nil {
		return x * f.Per
	}
	return y
}

func present(x float64) any {
	if math.IsNaN(x) {
		return nil
	}
	return x
}

// Cell is a value of Values as a CSV cell: lists with ListSeparator, "" for
// nil.
func Cell(value any) string {
	switch v := value.(type) {
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case int:
		return strconv.Itoa(v)
	case bool:
		return strconv.FormatBool(v)
	case string:
		return v
	case []string:
		return strings.Join(v, ListSeparator)
	case []float64:
		cells := make([]string, len(v))
		for i, x := range v {
			cells[i] = Cell(x)
		}
		return strings.Join(cells, ListSeparator)
	}
	return ""
}
