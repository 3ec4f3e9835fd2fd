package field

import (
	"iter"
	"strings"
	"unicode/utf8"
)

// Nearest returns the candidate that a mistyped word most likely meant: the one that
// differs by case only, else the one with the fewest letters to insert, delete,
// change or swap, provided that these are few for the length of the word. The first
// of equals wins; ok is false where no candidate is near.
func Nearest(word string, candidates iter.Seq[string]) (nearest string, ok bool) {
	limit := 1 + utf8.RuneCountInString(word)/4
	if utf8.RuneCountInString(word) > 64 {
		return "", false
	}
	w := []rune(strings.ToLower(word))
	best := limit + 1
	var rows distanceRows
	for c := range candidates {
		if strings.EqualFold(c, word) {
			return c, true
		}
		if best == 0 || len(c) > 4*(len(w)+best) || len(c) < len(w)-best {
			continue
		}
		if d := rows.distance(w, []rune(strings.ToLower(c)), best-1); d < best {
			nearest, best = c, d
		}
	}
	return nearest, best <= limit
}

// distanceRows is scratch for distance.
type distanceRows [3][]int

// distance is the number of letters to insert, delete, change or swap with
// their neighbour to turn a into b (optimal string alignment), or limit+1 if
// it is more than limit.
func (rows *distanceRows) distance(a, b []rune, limit int) int {
	if d := len(a) - len(b); d > limit || -d > limit {
		return limit + 1
	}
	for i := range rows {
		if cap(rows[i]) < len(b)+1 {
			rows[i] = make([]int, len(b)+1)
		}
		rows[i] = rows[i][:len(b)+1]
	}
	before, last, now := rows[0], rows[1], rows[2]
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			d := last[j-1]
			if a[i-1] != b[j-1] {
				d++
			}
			d = min(d, last[j]+1, now[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, before[j-2]+1)
			}
			now[j] = d
			least = min(least, d)
		}
		if least > limit {
			return limit + 1
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}
