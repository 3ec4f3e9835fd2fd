package field

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// MaxText is the longest text that a key takes, in bytes.
const MaxText = 4096

// CheckText says what in a text must not be there: "" for nothing. Refused
// are control characters, characters that change the direction of writing,
// line separators and invalid UTF-8: none of them belongs in a name, and all
// can disturb a terminal or a file.
func CheckText(s string) string {
	if len(s) > MaxText {
		return fmt.Sprintf("is %d bytes long, at most %d", len(s), MaxText)
	}
	for i := 0; i < len(s); {
		if c := s[i]; c >= 0x20 && c < 0x7f {
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			return "has invalid UTF-8"
		case refused(r):
			return fmt.Sprintf("has a control character, U+%04X", r)
		}
		i += n
	}
	return ""
}

func refused(r rune) bool {
	return r < 0x20 || r >= 0x7f && r <= 0x9f || // C0, DEL, C1
		r == 0x061c || r == 0x200e || r == 0x200f || // directional marks
		r >= 0x2028 && r <= 0x202e || // line and paragraph separators, embeddings, overrides
		r >= 0x2066 && r <= 0x2069 || // isolates
		r == 0xfeff || // byte order mark
		r >= 0xfff9 && r <= 0xfffb || // interlinear marks
		r >= 0xe0000 && r <= 0xe007f // tags
}

// text reads a text for the field.
func (in *Info) text(v Value, r *Report) (s string, ok bool) {
	if in.Type == TypeDay {
		return in.day(v, r)
	}
	switch v.Kind() {
	case KindText:
		s = v.String()
	case KindCell:
		if s = v.String(); v.tree.header != 0 {
			s = original(s)
		}
	case KindInteger, KindFloat, KindFlag, KindDate:
		r.Add(v.Place(), WrongType, "write "+strconv.Quote(v.shown()), "%s is %s, must be text", in.Key, v.shown())
		return "", false
	default:
		r.Add(v.Place(), WrongType, "", "%s is %s, must be text", in.Key, v.Kind().noun())
		return "", false
	}
	if wrong := CheckText(s); wrong != "" {
		r.Add(v.Place(), WrongText, "", "%s %s", in.Key, wrong)
		return "", false
	}
	if strings.TrimSpace(s) == "" {
		s = "" // a blank cell is an absent one
	}
	if in.Fold {
		s = in.folded(s)
	}
	return s, in.allowed(s, v, r)
}

// folded is the word that a text spells but for capitals; the text itself where it
// spells none.
func (in *Info) folded(s string) string {
	for _, word := range in.Words {
		if strings.EqualFold(word, s) {
			return word
		}
	}
	return s
}

// allowed holds a text to the field's words or to the form of ids.
func (in *Info) allowed(s string, v Value, r *Report) bool {
	switch {
	case in.ID && !IsID(s):
		hint := ""
		if id := asID(s); id != "" {
			hint = "write " + Quote(id)
		}
		r.Add(v.Place(), WrongText, hint, "%s is %s, must be small letters, digits, and . _ - after the first", in.Key, Quote(s))
		return false
	case in.Words != nil && !slices.Contains(in.Words, s):
		r.Add(v.Place(), UnknownWord, in.wordHint(s), "%s is %s, must be %s", in.Key, Quote(s), wordList(in.Words))
		return false
	case s == "" && (in.Required || in.Type == TypeTexts):
		r.Add(v.Place(), WrongText, "", "%s is empty", in.Key)
		return false
	}
	return true
}

// IsID reports whether s is an id: [a-z0-9][a-z0-9._-]*.
func IsID(s string) bool {
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			continue
		}
		if i == 0 || c != '.' && c != '_' && c != '-' {
			return false
		}
	}
	return s != ""
}

// asID turns a text into an id as far as that is obvious, "" if it is not.
func asID(s string) string {
	id := strings.Map(func(r rune) rune {
		if r == ' ' || r == '/' {
			return '-'
		}
		return r
	}, strings.ToLower(strings.TrimSpace(s)))
	if id = strings.TrimLeft(id, "._-"); IsID(id) {
		return id
	}
	return ""
}

// flag reads true or false for the field.
func (in *Info) flag(v Value, r *Report) (value, ok bool) {
	s := v.String()
	switch v.Kind() {
	case KindFlag:
		return s == "true", true
	case KindCell: // spreadsheets write TRUE
		switch strings.ToLower(strings.TrimSpace(s)) {
		case "true":
			return true, true
		case "false":
			return false, true
		}
		r.Add(v.Place(), WrongType, "", "%s is %s, must be true or false", in.Key, Quote(s))
		return false, false
	case KindText:
		hint := ""
		switch strings.ToLower(s) {
		case "true", "yes", "on":
			hint = "write true without quotes"
		case "false", "no", "off":
			hint = "write false without quotes"
		}
		r.Add(v.Place(), WrongType, hint, "%s is the text %s, must be true or false", in.Key, Quote(s))
		return false, false
	}
	r.Add(v.Place(), WrongType, "", "%s is %s, must be true or false", in.Key, v.shownOrNoun())
	return false, false
}

func (v Value) shownOrNoun() string {
	if k := v.Kind(); k == KindList || k == KindSection {
		return k.noun()
	}
	return v.shown()
}
