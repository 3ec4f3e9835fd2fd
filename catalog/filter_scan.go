package catalog

import (
	"strings"
	"unicode/utf8"

	"gearsearch/catalog/field"
)

// token is a piece of a filter's text.
type token struct {
	kind       tokenKind
	text       string // of a word or an operator; of a quoted value without quotes
	start, end int    // byte offsets
}

type tokenKind uint8

const (
	tokenEnd tokenKind = iota
	tokenWord
	tokenQuoted
	tokenOperator
	tokenOpen
	tokenClose
)

// operatorBytes begin or make an operator. Some are in no operator, but are in
// those of other languages.
const operatorBytes = "=!<>~&|"

// scan cuts a filter's text into tokens, of which the last is the end.
func scan(src field.Source) ([]token, *field.Problem) {
	s := string(src.Data)
	var out []token
	for i := 0; i < len(s); {
		t := token{start: i, end: i + 1}
		switch c := s[i]; {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			i++
			continue
		case c == '(':
			t.kind = tokenOpen
		case c == ')':
			t.kind = tokenClose
		case c == '"' || c == '\'':
			text, end, ok := quoted(s, i)
			if !ok {
				return nil, field.ProblemIn(src, i, i+1, field.Syntax, "a quote in a value in quotes is doubled", "the value is not closed by a quote")
			}
			t.kind, t.text, t.end = tokenQuoted, text, end
		case strings.IndexByte(operatorBytes, c) >= 0:
			for t.end < len(s) && strings.IndexByte(operatorBytes, s[t.end]) >= 0 {
				t.end++
			}
			t.kind, t.text = tokenOperator, s[i:t.end]
		default:
			t.end = i + wordLength(s[i:])
			t.kind, t.text = tokenWord, s[i:t.end]
		}
		out = append(out, t)
		i = t.end
	}
	return append(out, token{start: len(s), end: len(s)}), nil
}

// quoted reads the value in quotes that begins at i.
func quoted(s string, i int) (text string, end int, ok bool) {
	mark := s[i]
	var b strings.Builder
	for i++; i < len(s); i++ {
		if s[i] == mark {
			if i+1 == len(s) || s[i+1] != mark {
				return b.String(), i + 1, true
			}
			i++
		}
		b.WriteByte(s[i])
	}
	return "", 0, false
}

// wordLength is the length of the word that s begins with, at least one
// character.
func wordLength(s string) int {
	n := strings.IndexAny(s, " \t\n\r()\"'"+operatorBytes)
	if n < 0 {
		return len(s)
	}
	_, first := utf8.DecodeRuneInString(s)
	return max(n, first)
}
