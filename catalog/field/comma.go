package field

import (
	"fmt"
	"regexp"
	"strings"
)

// typedComma is a number with a comma in it, and what follows it.
var typedComma = regexp.MustCompile(`^([+-]?)([0-9]*),([0-9]+)([^0-9.,]*)$`)

// Numbers with separators of thousands that can be read in one way: gaps or
// apostrophes; both marks, of which the last is the decimal one; one mark several
// times. What stands about the number stays.
var groupings = []*regexp.Regexp{
	regexp.MustCompile(`^([^0-9.,]*)([0-9]{1,3}(?:[ '’\x{a0}\x{2009}\x{202f}][0-9]{3})+)(?:[.,]([0-9]+))?([^0-9.,]*)$`),
	regexp.MustCompile(`^([^0-9.,]*)([0-9]{1,3}(?:,[0-9]{3})+)\.([0-9]+)([^0-9.,]*)$`),
	regexp.MustCompile(`^([^0-9.,]*)([0-9]{1,3}(?:\.[0-9]{3})+),([0-9]+)([^0-9.,]*)$`),
	regexp.MustCompile(`^([^0-9.,]*)([0-9]{1,3}(?:,[0-9]{3}){2,})()([^0-9.,]*)$`),
	regexp.MustCompile(`^([^0-9.,]*)([0-9]{1,3}(?:\.[0-9]{3}){2,})()([^0-9.,]*)$`),
}

// ungrouped is a number without its separators of thousands, with a decimal point;
// any other text, and a number that may be read in two ways, stays as it is.
func ungrouped(s string) string {
	for _, form := range groupings {
		m := form.FindStringSubmatch(s)
		if m == nil {
			continue
		}
		whole := strings.Map(func(r rune) rune {
			if r < '0' || r > '9' {
				return -1
			}
			return r
		}, m[2])
		if m[3] != "" {
			whole += "." + m[3]
		}
		return m[1] + whole + m[4]
	}
	return s
}

// Pointed is a number as somebody typed it with a point for a decimal comma; any
// other text stays as it is. One such as 1,500, which may mean thousands, is a
// problem without a place.
func Pointed(text string) (string, *Problem) {
	for _, mark := range []string{ListSeparator, rangeMark, stepMark} { // of several numbers each
		if before, after, several := strings.Cut(text, mark); several {
			first, wrong := Pointed(strings.TrimSpace(before))
			if wrong != nil {
				return "", wrong
			}
			rest, wrong := Pointed(strings.TrimSpace(after))
			return first + mark + rest, wrong
		}
	}
	m := typedComma.FindStringSubmatch(text)
	if m == nil {
		return text, nil
	}
	sign, whole, decimals, rest := m[1], m[2], m[3], m[4]
	const group = 3 // digits between thousands
	if len(decimals) == group && len(whole) > 0 && len(whole) <= group && whole[0] != '0' {
		short := strings.TrimSuffix(strings.TrimRight(sign+whole+"."+decimals, "0"), ".")
		return "", &Problem{
			Code:    WrongType,
			Message: fmt.Sprintf("%s can be read in two ways", Quote(text)),
			Hint:    "write " + sign + whole + decimals + rest + " or " + short + rest,
		}
	}
	return sign + whole + "." + decimals + rest, nil
}
