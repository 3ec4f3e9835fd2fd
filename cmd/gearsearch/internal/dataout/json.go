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
	"strconv"

	"gearsearch/cmd/gearsearch/internal/dataout/decimal"
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
		return decimal.Append(to, v, "null")
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
func plain[T string | []byte](s T) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}
