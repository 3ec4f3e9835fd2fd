// Package dataout writes what scripts read: JSON documents, JSON lines and CSV
// of builds.
//
// Keys keep their order, numbers are rounded to ten significant digits, what
// is not known or does not exist is null (in CSV an empty cell), and NaN
// never appears. Units are metric and part of the names, whatever units the
// tables for people use.
package dataout

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

// Object is a JSON object whose keys keep their order.
type Object []Member

// Member is one key of an Object. Its value is nil, a bool, string, float64,
// int, uint64, []string, []float64, Object or []Object.
type Member struct {
	Key   string
	Value any
}

// Get returns the value of a key, nil if there is none.
func (o Object) Get(key string) any {
	for _, m := range o {
		if m.Key == key {
			return m.Value
		}
	}
	return nil
}

// Append appends the object to a text as compact JSON on one line.
func (o Object) Append(to []byte) []byte { return appendValue(to, o) }

func appendValue(to []byte, value any) []byte {
	switch v := value.(type) {
	case nil:
		return append(to, "null"...)
	case bool:
		return strconv.AppendBool(to, v)
	case string:
		return appendString(to, v)
	case int:
		return strconv.AppendInt(to, int64(v), 10)
	case int64:
		return strconv.AppendInt(to, v, 10)
	case uint64:
		return strconv.AppendUint(to, v, 10)
	case float64:
		return appendNumber(to, v, "null")
	case []string:
		return appendList(to, v)
	case []float64:
		return appendList(to, v)
	case []Object:
		return appendList(to, v)
	case Object:
		to = append(to, '{')
		for i, m := range v {
			if i > 0 {
				to = append(to, ", "...)
			}
			to = append(appendString(to, m.Key), ": "...)
			to = appendValue(to, m.Value)
		}
		return append(to, '}')
	default:
		panic(fmt.Sprintf("dataout: a value of type %T", value)) // program text, not input
	}
}

func appendList[T any](to []byte, list []T) []byte {
	to = append(to, '[')
	for i, x := range list {
		if i > 0 {
			to = append(to, ", "...)
		}
		to = appendValue(to, x)
	}
	return append(to, ']')
}

func appendString(to []byte, s string) []byte {
	if plain(s) {
		return append(append(append(to, '"'), s...), '"')
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		panic(err) // a string can be encoded
	}
	return append(to, bytes.TrimSuffix(b.Bytes(), []byte("\n"))...)
}

// plain reports whether a text needs no escapes in JSON.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}

// digits is how many significant digits data out has: more than any part is
// known to, and few enough that no rounding of the last bits shows.
const digits = 10

// Number writes a number with ten significant digits at most; none stands for
// what is not finite.
func Number(x float64, none string) string { return string(appendNumber(nil, x, none)) }

func appendNumber(to []byte, x float64, none string) []byte {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return append(to, none...)
	}
	if x == 0 {
		return append(to, '0') // and never -0
	}
	var space [32]byte
	mantissa, exponent, _ := bytes.Cut(strconv.AppendFloat(space[:0], x, 'e', digits-1, 64), []byte{'e'})
	power, _ := strconv.Atoi(string(exponent))
	if power < -6 || power > 20 {
		mantissa = bytes.TrimRight(mantissa, "0")
		mantissa = bytes.TrimSuffix(mantissa, []byte{'.'})
		return append(append(append(to, mantissa...), 'e'), exponent...)
	}
	if mantissa[0] == '-' {
		to, mantissa = append(to, '-'), mantissa[1:]
	}
	mantissa[1] = mantissa[0] // over the point: the digits are together now
	return appendDigits(to, bytes.TrimRight(mantissa[1:], "0"), power+1)
}

// appendDigits writes digits with the decimal point behind so many of them.
func appendDigits(to, digits []byte, point int) []byte {
	switch {
	case point <= 0:
		to = append(to, "0."...)
		for range -point {
			to = append(to, '0')
		}
		return append(to, digits...)
	case point >= len(digits):
		to = append(to, digits...)
		for range point - len(digits) {
			to = append(to, '0')
		}
		return to
	}
	return append(append(append(to, digits[:point]...), '.'), digits[point:]...)
}
