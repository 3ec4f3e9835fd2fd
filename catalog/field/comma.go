package field

import (
	"fmt"
	"regexp"
	"strings"
)

// typedComma is a number with a comma in it, and what follows it.
var typedComma = regexp.MustCompile(`^([+-]?)([0-9]*),([0-9]+)([^0-9.,]*)$`)

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
