package swap

import (
	"slices"

	"gearsearch/constraints"
	"gearsearch/search"
)

// Counts of an answer are those of its rounds; each round counts the build in hand
// where that is in play.

// change are the words for all that changes.
func (s *Answer) change() []string {
	var words []string
	for _, r := range s.Rounds {
		words = append(words, r.Change...)
	}
	return words
}

// inTurn reports whether one thing is changed at a time.
func (s *Answer) inTurn() bool { return len(s.Rounds) > 1 }

// complete reports whether no round was interrupted.
func (s *Answer) complete() bool {
	return !slices.ContainsFunc(s.Rounds, func(r *Round) bool { return !r.result.Complete })
}

// played is in how many rounds the build in hand was counted.
func (s *Answer) played() uint64 {
	n := uint64(0)
	for _, r := range s.Rounds {
		if r.inPlay && r.result.Combinations > 0 {
			n++
		}
	}
	return n
}

// total is how many changes there are.
func (s *Answer) total() uint64 {
	n := uint64(0)
	for _, r := range s.Rounds {
		n += r.result.Combinations
	}
	return n - s.played()
}

// feasible is how many changes pass every check.
func (s *Answer) feasible() uint64 {
	n := uint64(0)
	for _, r := range s.Rounds {
		n += r.result.Feasible
		if r.inPlay && len(s.misses) == 0 && r.result.Feasible > 0 {
			n--
		}
	}
	return n
}

// held is 1 where the build in hand is among what is counted as data, else 0.
func (s *Answer) held() uint64 { return min(1, s.played()) }

// rejections are the checks that apply, with how many changes each is the first to
// reject, the build in hand counted once more where held is.
func (s *Answer) rejections(held uint64) []search.Rejection {
	var out []search.Rejection
	for _, c := range constraints.Registry() {
		x, applies := search.Rejection{Check: c}, false
		for _, r := range s.Rounds {
			for _, one := range r.result.Rejections() {
				if one.Check == c {
					x.Count, applies = x.Count+one.Count, true
				}
			}
		}
		if len(s.misses) > 0 && s.misses[0].Check == c && x.Count >= s.played() {
			x.Count += held - s.played()
		}
		if applies {
			out = append(out, x)
		}
	}
	return out
}
