package search

import (
	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// WrittenDigits is how many significant digits the value of a concession has
// where it is written for programs.
const WrittenDigits = 10

// defaultDigits is how many it has where it is written for people.
const defaultDigits = 4

// written is values of a set of concessions as a brief has them: numbers in the
// units of the keys, and what is read from them, in SI units.
type written struct {
	numbers [2]float64
	values  [2]float64
}

// writeDown writes each value that differs from the brief's by a rule, and the
// others as they are. ok is false where a brief may not have what is written.
func writeDown(brief *constraints.Brief, set []ease.Concession, values [2]float64, rule func(c *ease.Concession, value float64) float64) (w written, ok bool) {
	for i := range set {
		c := &set[i]
		if from := *c.Value(brief); values[i] == from {
			w.numbers[i], w.values[i] = from*c.PerSI, from
			continue
		}
		w.numbers[i] = rule(c, values[i])
		if w.values[i], ok = c.Read(w.numbers[i]); !ok {
			return w, false
		}
	}
	return w, true
}

// writtenFully writes values with WrittenDigits so that the written values make
// as many builds feasible: rounded towards asking for less, and a step further
// where that is not enough.
func writtenFully(brief *constraints.Brief, set []ease.Concession, values [2]float64, opens func([2]float64) bool) (w written, ok bool) {
	for _, rule := range []func(c *ease.Concession, value float64) float64{
		func(c *ease.Concession, value float64) float64 { return c.Shown(value, WrittenDigits) },
		func(c *ease.Concession, value float64) float64 {
			return c.Beyond(c.Shown(value, WrittenDigits), WrittenDigits)
		},
	} {
		if w, ok = writeDown(brief, set, values, rule); ok && opens(w.values) {
			return w, true
		}
	}
	return w, false
}

// writtenShortly writes the values with the fewest digits that make as many
// builds feasible as the full ones, but with no fewer digits than asked for.
func writtenShortly(brief *constraints.Brief, set []ease.Concession, full written, digits int, opens func([2]float64) bool) written {
	for d := digits; d < WrittenDigits; d++ {
		w, ok := writeDown(brief, set, full.values, func(c *ease.Concession, value float64) float64 { return c.Shown(value, d) })
		if ok && opens(w.values) {
			return w
		}
	}
	return full
}
