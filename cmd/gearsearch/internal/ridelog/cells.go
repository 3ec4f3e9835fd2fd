package ridelog

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
)

// fault is what is wrong with the text of a number.
type fault uint8

const (
	fine fault = iota
	noNumber
	ambiguous // a decimal point beside a decimal comma
)

// number reads a number, with a decimal point or a decimal comma; the unit of its
// column may stand behind.
func number(text []byte, q Quantity, si float64) (float64, fault) {
	end := 0
	points, commas := 0, 0
	for end < len(text) {
		c := text[end]
		if c == '.' {
			points++
		}
		if c == ',' {
			commas++
		}
		exponent := (c == 'e' || c == 'E') && end > 0 && end+1 < len(text) && bytes.IndexByte([]byte("+-0123456789"), text[end+1]) >= 0
		if !(c >= '0' && c <= '9' || c == '.' || c == ',' || c == '+' || c == '-' || exponent) {
			break
		}
		end++
	}
	if rest := bytes.TrimSpace(text[end:]); len(rest) > 0 {
		if u, ok := q.unitNamed(string(rest)); !ok || u.si != si {
			return 0, noNumber
		}
	}
	if points+commas > 1 {
		return 0, ambiguous
	}
	digits := text[:end]
	if commas > 0 {
		digits = bytes.Replace(digits, []byte(","), []byte("."), 1)
	}
	x, err := strconv.ParseFloat(string(digits), 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, noNumber
	}
	return x, fine
}

// timeOfDay is a time of day, with whatever date before it.
var timeOfDay = regexp.MustCompile(`(?:^|[ T])(\d{1,2}):(\d{2}):(\d{2})(?:[.,](\d{1,9}))?\s*([AaPp][Mm])?\s*(?:Z|[+-]\d{2}:?\d{2})?$`)

const day = 24 * hour

// epochMillis is a time since 1970 that is in milliseconds: in seconds it is of the
// year 5138.
const epochMillis = 1e11

// clock reads a time in s: a number in the unit of its column, or a time of day. Past
// midnight it goes on.
func (r *reader) clock(text []byte) (float64, bool) {
	c := &r.columns[Time]
	if x, fault := number(text, Time, c.si); fault == fine {
		if c.bare && x > epochMillis {
			c.si = 1e-3
		}
		return x * c.si, true
	}
	found := timeOfDay.FindSubmatch(text)
	if found == nil {
		return 0, false
	}
	part := func(i int) float64 {
		n, _ := strconv.Atoi(string(found[i]))
		return float64(n)
	}
	t := part(1)*hour + part(2)*minute + part(3)
	if len(found[4]) > 0 {
		t += part(4) / math.Pow10(len(found[4]))
	}
	if len(found[5]) > 0 {
		if t >= 12*hour && t < 13*hour {
			t -= 12 * hour
		}
		if found[5][0]|0x20 == 'p' {
			t += 12 * hour
		}
	}
	if r.dated && t < r.today-day/2 {
		r.days += day
	}
	r.dated, r.today = true, t
	return t + r.days, true
}
