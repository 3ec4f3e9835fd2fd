package field

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// FormatNumber writes a number of a document in the shortest form that reads
// back as the same number of at most 15 significant digits, without an
// exponent: a value converted to SI units and back is written as it was read.
func FormatNumber(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
	if err != nil {
		rounded = x
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

var errTooLarge = errors.New("number is too large")

// parseNumber reads a TOML number as the parser delimits it.
func parseNumber(raw []byte, kind Kind) (float64, error) {
	if x, ok := parseDecimal(raw); ok {
		return x, nil
	}
	s := string(bytes.ReplaceAll(raw, []byte{'_'}, nil))
	if kind == KindFloat {
		switch strings.TrimLeft(s, "+-") {
		case "nan":
			return math.NaN(), nil
		case "inf":
			return math.Inf(1), nil
		}
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return x, errTooLarge
		}
		return x, nil
	}
	base := 10
	if len(s) > 2 && s[0] == '0' {
		base = 0 // 0x, 0o, 0b
	}
	n, err := strconv.ParseInt(s, base, 64)
	if err != nil {
		return 0, errTooLarge
	}
	return float64(n), nil
}

// parseDecimal reads plain decimals of at most 15 digits, which is nearly all
// numbers of a catalog, without allocating. Digits and power of ten are exact
// in a float64, so the one division rounds correctly.
func parseDecimal(raw []byte) (float64, bool) {
	var digits uint64
	power := 1.0
	point := false
	if len(raw) > 16 {
		return 0, false
	}
	for _, c := range raw {
		switch {
		case c >= '0' && c <= '9':
			digits = digits*10 + uint64(c-'0')
			if point {
				power *= 10
			}
		case c == '.' && !point:
			point = true
		default:
			return 0, false
		}
	}
	if len(raw) == 16 && !point {
		return 0, false
	}
	return float64(digits) / power, true
}

// number is amount for a number that is no amount of money.
func (in *Info) number(v Value, r *Report) (x float64, ok bool) {
	x, _, ok = in.amount(v, r)
	return x, ok
}

var (
	cellNumber = regexp.MustCompile(`^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?$`)
	withComma  = regexp.MustCompile(`^[+-]?[0-9]+,[0-9]+$`)
	grouped    = regexp.MustCompile(`^[+-]?[0-9]{1,3}([.,' \x{a0}\x{2009}\x{202f}’][0-9]{3})+([.,][0-9]+)?$`)
)

// IsNumber reports whether a text is a decimal number as a cell of a CSV file has
// it.
func IsNumber(s string) bool { return cellNumber.MatchString(s) }

// numberHint says how to write the number that a text was meant to be.
func numberHint(s, quotes string) string {
	s = strings.TrimSpace(s)
	switch {
	case cellNumber.MatchString(s):
		return "write " + s + quotes
	case typedComma.MatchString(s):
		if _, p := Pointed(s); p != nil {
			return p.Hint
		}
		if !withComma.MatchString(s) {
			return ""
		}
		return "write " + strings.Replace(s, ",", ".", 1) + quotes + ", with a decimal point"
	case grouped.MatchString(s):
		return "write it without separators of thousands"
	}
	return ""
}

// inRange holds x, in the key's unit, to the field's range.
func (in *Info) inRange(x float64, v Value, r *Report) bool {
	wrong, hint := in.fault(x)
	if wrong != "" {
		r.Add(v.Place(), OutOfRange, hint, "%s is %s, %s", in.Key, v.shown(), wrong)
	}
	return wrong == ""
}

// fault is what is wrong with a number, in the key's unit; "" for nothing.
func (in *Info) fault(x float64) (wrong, hint string) {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return "must be a finite number", "leave the key out where there is no value"
	case x < in.Min || x > in.Max || in.Above && x == in.Min:
		return "must be " + in.Range(), in.unitHint(x)
	case in.Whole && x != math.Trunc(x):
		return "must be a whole number", ""
	}
	return "", ""
}

// shown is a value as written, shortened where it is very long.
func (v Value) shown() string {
	s := v.String()
	if len(s) > 40 {
		s = s[:40] + "…"
	}
	return visible(s)
}

// slip is a unit that a number may have been given in by mistake.
type slip struct {
	unit   string
	factor float64 // of the key's unit
}

// slipsFor returns the units that are mistaken for a key's unit.
func slipsFor(unit string) []slip {
	switch unit {
	case "mm":
		return []slip{{"m", 1000}, {"cm", 10}, {"in", 25.4}}
	case "g":
		return []slip{{"kg", 1000}, {"mg", 0.001}}
	case "kg":
		return []slip{{"g", 0.001}}
	case "mΩ":
		return []slip{{"Ω", 1000}, {"µΩ", 0.001}}
	case "mm²":
		return []slip{{"m²", 1e6}, {"cm²", 100}}
	case "mA":
		return []slip{{"A", 1000}, {"µA", 0.001}}
	case "A", "V", "Ah", "W":
		return []slip{{"m" + unit, 0.001}, {"k" + unit, 1000}}
	case "km":
		return []slip{{"m", 0.001}}
	case "km/h":
		return []slip{{"m/s", 3.6}}
	case "%":
		return []slip{{"(as a share of 1)", 100}}
	}
	return nil
}

// unitHint says in which unit an out-of-range number would fit.
func (in *Info) unitHint(x float64) string {
	fits := func(x float64) bool { return x >= in.Min && x <= in.Max && x > 0 }
	if x <= 0 {
		return ""
	}
	for _, s := range slipsFor(in.Unit) {
		if y := x * s.factor; fits(y) {
			return fmt.Sprintf("%s %s is %s %s", FormatNumber(x), s.unit, FormatNumber(y), in.Unit)
		}
	}
	if in.Max == 1 && in.Unit == "" && x > 5 && fits(x/100) {
		return fmt.Sprintf("%s %% is %s", FormatNumber(x), FormatNumber(x/100))
	}
	switch in.Unit {
	case "km/h", "%", "°C": // have no thousandfold that anybody writes
		return ""
	}
	for _, factor := range []float64{1000, 0.001} {
		if y := x * factor; in.Unit != "" && !in.Whole && (x > in.Max || x < 1) && fits(y) {
			return fmt.Sprintf("%s would fit: is the unit %s?", FormatNumber(y), in.Unit)
		}
	}
	return ""
}

// noun names a kind of value in a message.
func (k Kind) noun() string {
	switch k {
	case KindText, KindCell:
		return "text"
	case KindInteger, KindFloat:
		return "a number"
	case KindFlag:
		return "true or false"
	case KindDate:
		return "a date or time"
	case KindList:
		return "a list"
	case KindSection:
		return "a table"
	}
	return "absent"
}
