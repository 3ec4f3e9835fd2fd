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
	if out, ok := appendQuickly(to, x); ok {
		return out
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

// tens are powers of ten that a float64 holds exactly.
var tens = [...]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// The numbers that appendQuickly writes, if it does, by their power of ten.
const leastQuick, mostQuick = -6, 14

// appendQuickly writes a number of common size in a fraction of the time: ten
// digits are a product or a quotient of one rounding, which is far less than
// what decides how they are rounded, unless that is near a half.
func appendQuickly(to []byte, x float64) ([]byte, bool) {
	const half, sure = 0.5, 1e-4
	size := math.Abs(x)
	if !(size >= 1e-6 && size < 1e14) {
		return to, false
	}
	_, binary := math.Frexp(size)
	power := int(math.Floor(float64(float64(binary-1) * 0.30103))) // or one more
	scaled := size
	for {
		if shift := digits - 1 - power; shift >= 0 {
			scaled = size * tens[shift]
		} else {
			scaled = size / tens[-shift]
		}
		if scaled < 1e10 {
			break
		}
		power++
	}
	whole := math.Floor(scaled)
	rest := scaled - whole
	if scaled < 1e9 || math.Abs(rest-half) < sure {
		return to, false
	}
	n := uint64(whole)
	if rest > half {
		n++
	}
	if n == 1e10 {
		n, power = 1e9, power+1
	}
	if power < leastQuick || power > mostQuick {
		return to, false
	}
	if x < 0 {
		to = append(to, '-')
	}
	last := digits
	for ; n%10 == 0; last-- {
		n /= 10
	}
	var text [digits]byte
	for i := last - 1; i >= 0; i-- {
		text[i] = byte('0' + n%10)
		n /= 10
	}
	return appendDigits(to, text[:last], power+1), true
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
