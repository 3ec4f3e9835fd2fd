package say

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

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

// Brief is a message in which every very long word is cut.
func Brief(message string) string {
	const most, kept = 300, 60 // characters: a long path stays whole
	long := func(word string) bool { return utf8.RuneCountInString(word) > most }
	words := strings.Split(message, " ")
	if !slices.ContainsFunc(words, long) {
		return message
	}
	for i, word := range words {
		if long(word) {
			words[i] = string([]rune(word)[:kept]) + "…"
		}
	}
	return strings.Join(words, " ")
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
