package say

import (
	"strconv"
	"strings"

	"gearsearch/catalog/field"
)

// Dashed is a flag as it is typed.
func Dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

// Shown is a file name or word from the command line as messages show it: as
// it is where that is plain, else in quotes with escapes.
func Shown(s string) string {
	plain := func(r rune) bool { return strconv.IsPrint(r) && r != ' ' && r != '"' && r != '\\' }
	if s == "" || strings.IndexFunc(s, func(r rune) bool { return !plain(r) }) >= 0 {
		return field.Quote(s)
	}
	return s
}

// Typed is a word as a POSIX shell reads it back.
func Typed(word string) string {
	const plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./:,=%+@"
	if word != "" && strings.Trim(word, plain) == "" {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

// Together says what several do: "sheet does", "rank, sheet and swap do".
func Together(names []string, one, more string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0] + " " + one
	}
	return strings.Join(names[:last], ", ") + " and " + names[last] + " " + more
}

// Repeated are words behind others.
func Repeated(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return " " + strings.Join(words, " ")
}
