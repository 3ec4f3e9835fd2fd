package field

import (
	"fmt"
	"iter"
	"math"
	"strconv"
	"strings"
)

// values is Table.Values.
func (t *core) values(of *box) iter.Seq2[*Info, any] {
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

// lookup is Table.Lookup.
func (t *core) lookup(of *box, key string) (value any, ok bool) {
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

// inUnit turns an SI value into the key's unit, in the fewest digits that read
// back as the same value: the last ones of the product are conversion's.
func (f *Field[T]) inUnit(x float64) float64 {
	if f.Per == 1 || math.IsNaN(x) {
		return x
	}
	y := x * f.Per
	for digits := 15; digits <= 17; digits++ {
		if short, err := strconv.ParseFloat(strconv.FormatFloat(y, 'g', digits, 64), 64); err == nil && f.toSI(short) == x {
			return short
		}
	}
	// The number that x was read from is a neighbour of the product.
	for _, towards := range []float64{math.Inf(-1), math.Inf(1)} {
		if near := math.Nextafter(y, towards); f.toSI(near) == x {
			return near
		}
	}
	return y
}

func present(x float64) any {
	if math.IsNaN(x) {
		return nil
	}
	return x
}

// Cell is a value of Values, or a Range, as a CSV cell: lists with ListSeparator, ""
// for nil. An apostrophe stands before a text, or an item of a list, that a
// spreadsheet would run as a formula; reading takes it away.
func Cell(value any) string {
	switch v := value.(type) {
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case int:
		return strconv.Itoa(v)
	case bool:
		return strconv.FormatBool(v)
	case string:
		return harmless(v)
	case Range:
		return v.String()
	case []string:
		cells := make([]string, len(v))
		for i, s := range v {
			cells[i] = harmless(s)
		}
		return strings.Join(cells, ListSeparator)
	case []float64:
		cells := make([]string, len(v))
		for i, x := range v {
			cells[i] = Cell(x)
		}
		return strings.Join(cells, ListSeparator)
	}
	return ""
}

// TOML is a value of Values, or a Range, as TOML; "" for nil.
func TOML(value any) string {
	switch v := value.(type) {
	case string:
		return tomlText(v)
	case Range:
		return tomlText(v.String())
	case []string:
		return tomlList(v, tomlText)
	case []float64:
		return tomlList(v, func(x float64) string { return Cell(x) })
	}
	return Cell(value)
}

func tomlList[V any](list []V, write func(V) string) string {
	items := make([]string, len(list))
	for i, v := range list {
		items[i] = write(v)
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// tomlText is a text in quotes. Texts that were read have nothing in them to
// escape but quotes and backslashes; others may.
func tomlText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case refused(r):
			fmt.Fprintf(&b, `\U%08x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
