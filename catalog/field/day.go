package field

import (
	"strings"
	"time"
)

// Days are texts in the form of ISO 8601, which sort as they follow one another.

// The years that a day may lie in: others are slips of the hand.
const (
	firstYear = 1990
	lastYear  = 2099
)

// dayPattern is a day for regular expressions.
const dayPattern = `^(199[0-9]|20[0-9]{2})-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$`

// day reads a day, written as a text or as a date of TOML.
func (in *Info) day(v Value, r *Report) (s string, ok bool) {
	switch v.Kind() {
	case KindText, KindCell, KindDate:
		s = strings.TrimSpace(v.String())
	default:
		r.Add(v.Place(), WrongType, dayHint, "%s is %s, must be a day", in.Key, v.shownOrNoun())
		return "", false
	}
	if s == "" && v.Kind() != KindDate {
		return "", true // a blank cell is an absent one
	}
	day, err := time.Parse(time.DateOnly, s)
	if err != nil {
		r.Add(v.Place(), WrongText, dayHint, "%s is %s, must be a day", in.Key, Quote(s))
		return "", false
	}
	if y := day.Year(); y < firstYear || y > lastYear {
		r.Add(v.Place(), OutOfRange, "", "%s is %s, must be of the years %d to %d", in.Key, Quote(s), firstYear, lastYear)
		return "", false
	}
	return s, true
}

// dayHint says how a day is written.
const dayHint = `write year, month and day as in "2026-05-01"`
