package field

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"gearsearch/catalog/unit"
)

// Range is what a text such as "12..80" or "10..30/2.5" stands for: the numbers
// Low + i·Step, i = 0, 1, …, up to High, all in their key's unit. They are decimals,
// as somebody would write them one by one: 0.1..0.5/0.1 has 0.3 and no neighbour of
// it.
type Range struct {
	Low, High, Step float64
	Len             int // how many numbers they are, 1 to MaxItems

	decimals int8 // of Low and Step, whichever has more
	stepped  bool // the step is written
}

// At is number i of the range, from 0.
func (g Range) At(i int) float64 {
	x, _ := strconv.ParseFloat(strconv.FormatFloat(g.Low+float64(i)*g.Step, 'f', int(g.decimals), 64), 64)
	return x
}

// String is the range as it is written in a document.
func (g Range) String() string {
	plain := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	s := plain(g.Low) + rangeMark + plain(g.High)
	if g.stepped {
		s += stepMark + plain(g.Step)
	}
	return s
}

// What stands between the ends of a range, and before its step.
const rangeMark, stepMark = "..", "/"

const (
	// rangeHair is how far, of High itself, a number may lie above High.
	rangeHair = 1e-9
	// plainDecimal is a number of a range without its sign.
	plainDecimal = `[0-9]+(\.[0-9]{1,12})?`
)

var (
	rangeNumber = regexp.MustCompile(`^[+-]?` + plainDecimal + `$`)
	wholeRange  = regexp.MustCompile(rangePattern(false))
)

// rangePattern is a regular expression, of ECMAScript and of Go alike, for ranges,
// with a step or, where none need be given, without.
func rangePattern(stepped bool) string {
	const end = `[+-]?` + plainDecimal
	pattern := `^\s*` + end + `\s*\.\.\s*` + end + `(\s*/\s*[+]?` + plainDecimal + `)`
	if !stepped {
		pattern += "?"
	}
	return pattern + `\s*$`
}

// rangeText is the text of a value that is a range or was meant to be one; ok is
// false for any other.
func rangeText(v Value) (s string, ok bool) {
	if k := v.Kind(); k != KindText && k != KindCell {
		return "", false
	}
	s = strings.TrimSpace(v.String())
	return s, strings.Contains(s, rangeMark)
}

// readRange reads a range of numbers for the key. It reports what is wrong; ok is
// false then.
func (in *Info) readRange(s string, v Value, r *Report) (g Range, ok bool) {
	wrong := func(c Code, hint, says string) (Range, bool) {
		r.Add(v.Place(), c, hint, "%s is the range %s%s", in.Key, Quote(s), says)
		return Range{}, false
	}
	low, rest, _ := strings.Cut(s, rangeMark)
	high, step, stepped := strings.Cut(rest, stepMark)
	texts := []string{low, high, step}
	var x [3]float64
	for i, name := range []string{"lower end", "upper end", "step"} {
		text := strings.TrimSpace(texts[i])
		if i == 2 && !stepped {
			break
		}
		if text == "" {
			return wrong(WrongText, in.rangeHint(), " without "+rangeArticle(i)+" "+name)
		}
		plain, good := in.plainNumber(text, v, r)
		if !good {
			return Range{}, false
		}
		if !rangeNumber.MatchString(plain) {
			return wrong(WrongType, in.rangeHint(), ": its "+name+" is "+Quote(text)+", must be a "+rangeNoun(text))
		}
		x[i], _ = strconv.ParseFloat(plain, 64)
		texts[i] = plain
	}
	g = Range{Low: x[0], High: x[1], Step: x[2], stepped: stepped}
	switch {
	case !stepped && !in.Whole:
		return wrong(Missing, "put the step behind it, as in "+Quote(s+"/0.5"), " without a step, which a key that is not whole needs")
	case !stepped:
		g.Step, texts[2] = 1, "1"
	case g.Step <= 0:
		return wrong(OutOfRange, "", ": its step must be above 0")
	}
	if in.Whole && g.Step != math.Trunc(g.Step) {
		return wrong(OutOfRange, "", ": its step must be a whole number")
	}
	for i, name := range []string{"lower", "upper"} {
		if says, hint := in.fault(x[i]); says != "" {
			return wrong(OutOfRange, hint, ": its "+name+" end "+says)
		}
	}
	if g.High < g.Low {
		return wrong(Contradiction, "write the lower end first", ", which runs backwards")
	}
	g.decimals = int8(max(decimals(texts[0]), decimals(texts[2])))
	if g.Len = g.count(); g.Len > MaxItems {
		return wrong(TooLarge, "a table stands for at most "+strconv.Itoa(MaxItems)+" parts", ", of too many numbers")
	}
	return g, true
}

// count is how many numbers the range has; more than MaxItems where they are too many.
func (g Range) count() int {
	top := g.High + rangeHair*math.Abs(g.High)
	if (top-g.Low)/g.Step > MaxItems {
		return MaxItems + 1
	}
	n := max(1, int((top-g.Low)/g.Step)) // division may be off by a rounding: the decimals decide
	for n > 1 && g.At(n-1) > top {
		n--
	}
	for g.At(n) <= top {
		n++
	}
	return n
}

// decimals is how many digits stand behind the point of a plain number.
func decimals(number string) int {
	_, behind, _ := strings.Cut(number, ".")
	return len(behind)
}

// rangeArticle goes before the name of a part of a range.
func rangeArticle(i int) string { return [...]string{"a", "an", "a"}[i] }

// rangeNoun is what a number of a range must be.
func rangeNoun(text string) string {
	if _, rest, fault := unit.Split(text); fault == unit.OK && rest != "" && !strings.HasPrefix(rest, ".") {
		return "plain number, without a unit"
	}
	return "plain number"
}

// rangeHint says how a range of the key is written.
func (in *Info) rangeHint() string {
	switch {
	case in.Whole:
		return `a range is written as in "12..80", or with a step as in "12..80/2"`
	case in.Unit != "":
		return `a range is written as in "10..30/2.5", in ` + in.Unit
	}
	return `a range is written as in "10..30/2.5"`
}

// rangeAstray reports a range at a key that takes none: one that holds no single
// number. Free texts, such as names and notes, may say what they like.
func (in *Info) rangeAstray(v Value, r *Report) bool {
	s, ok := rangeText(v)
	if !ok || in.Type == TypeText || !wholeRange.MatchString(s) {
		return false
	}
	r.Add(v.Place(), WrongType, "write one table for each", "%s is the range %s: only keys that take a number may be ranges", in.Key, Quote(s))
	return true
}
