package route

import (
	"encoding/csv"
	"errors"
	"io"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"gearsearch/catalog/field"
)

// errEnds is for a way that no CSV file tells.
var errEnds = errors.New("a speed or surface in the CSV file of a route holds until the next, and here one ends without a next")

// WriteCSV writes a way so that ReadCSV makes the same legs of it, bit for bit: a row for
// its start and one for the end of each leg. Distances and heights have as many decimals
// as that takes. Columns that would be empty are left out. The error is that of writing,
// or that a leg has no speed or no surface of its own behind one that has: a CSV file
// cannot say so.
func WriteCSV(w io.Writer, r *Route) error {
	t := columns(nil)
	keys := slices.DeleteFunc(t.Keys(), func(key string) bool { return !r.has(key) })
	out := csv.NewWriter(w)
	if err := out.Write(keys); err != nil {
		return err
	}
	at, up := decimalOf(0), decimalOf(r.Height)
	for i := range len(r.Legs) + 1 {
		x, ok := r.row(i)
		if !ok {
			return errEnds
		}
		if i > 0 {
			at, up = at.plus(r.Legs[i-1].Length), up.plus(r.Legs[i-1].Rise)
		}
		cells := []string{at.String(), up.String()}
		for _, key := range keys[len(cells):] {
			value, _ := t.Lookup(&x, key)
			cells = append(cells, field.Cell(value))
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// row is what the CSV file says of the start of leg i, or of the end of the way, beside
// distance and height; ok is false where it cannot say that.
func (r *Route) row(i int) (x row, ok bool) {
	x.speed = math.NaN()
	before := Leg{Speed: math.NaN()}
	if i > 0 {
		before = r.Legs[i-1]
		x.stop = before.Stop
	}
	if i == len(r.Legs) {
		return x, true
	}
	leg := &r.Legs[i]
	if leg.Speed != before.Speed {
		x.speed = leg.Speed
	}
	if leg.Surface != before.Surface {
		x.surface = leg.Surface
	}
	return x, (math.IsNaN(before.Speed) || !math.IsNaN(leg.Speed)) && (before.Surface == "" || leg.Surface != "")
}

// has reports whether a column of a CSV file says something of the way.
func (r *Route) has(key string) bool {
	return slices.ContainsFunc(r.Legs, func(l Leg) bool {
		switch key {
		case speedKey:
			return !math.IsNaN(l.Speed)
		case surfaceKey:
			return l.Surface != ""
		case stopKey:
			return l.Stop
		}
		return true
	})
}

// decimal is a number with its decimals.
type decimal struct {
	value *big.Rat
	scale int // decimals
}

// decimalOf is a number in the fewest digits that read as the same.
func decimalOf(x float64) decimal { return decimal{value: new(big.Rat)}.plus(x) }

// plus adds a number in the fewest digits that read as the same.
func (d decimal) plus(x float64) decimal {
	text := strconv.FormatFloat(x, 'f', -1, 64)
	_, decimals, _ := strings.Cut(text, ".")
	sum := new(big.Rat)
	if y, ok := new(big.Rat).SetString(text); ok { // a finite number does
		sum.Add(d.value, y)
	}
	return decimal{sum, max(d.scale, len(decimals))}
}

// String is the number with its decimals, without zeros behind them.
func (d decimal) String() string {
	text := d.value.FloatString(d.scale)
	if d.scale > 0 {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}
