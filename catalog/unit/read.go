package unit

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"unicode"
)

// Fault is what is wrong with a text for a quantity.
type Fault uint8

// The faults. OK is the zero value.
const (
	OK         Fault = iota
	NoNumber         // it does not begin with a number
	TooLarge         // the number is beyond all
	Comma            // a decimal comma
	Thousands        // a mark or gap between thousands
	NoUnit           // a number alone
	NotOfKind        // what follows the number is no unit of the kind
	OutOfRange       // there is no such quantity
)

// Amount is a quantity as it was read.
type Amount struct {
	Value float64 // in the unit that was asked for
	Unit  string  // as written; of money, the currency
	Bare  bool    // a number without a unit; the Fault is NoUnit
}

// Read reads a quantity of kind k and gives it in the unit to, one of the
// kind's, or "" for its base unit. A space may stand between number and unit;
// case does not matter, but for the m of a thousandth.
func (k *Kind) Read(text, to string) (Amount, Fault) {
	text = strings.TrimSpace(text)
	before := ""
	if k.Money {
		before, text = cutSign(text)
	}
	number, rest, fault := Split(text)
	if fault != OK {
		return Amount{}, fault
	}
	if before != "" && rest != "" {
		return Amount{Unit: before + " " + rest}, NotOfKind
	}
	rest = before + rest
	if rest == "" {
		x, err := strconv.ParseFloat(number, 64)
		if err != nil {
			return Amount{}, TooLarge
		}
		return Amount{Value: x, Bare: true}, NoUnit
	}
	x, fault := exactly(number)
	switch {
	case fault != OK:
		return Amount{}, fault
	case k.Money:
		return k.money(x, rest)
	case k.Quotient:
		return k.quotient(x, rest)
	}
	from, ok := k.unit(rest)
	if !ok {
		return Amount{Unit: rest}, NotOfKind
	}
	into := Unit{per: ratio{1, 1}}
	if to != "" {
		into, _ = k.unit(to)
	}
	value := convert(x, from, into)
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return Amount{}, OutOfRange
	}
	return Amount{Value: value, Unit: rest}, OK
}

// Split takes the number off the front of a text and gives what follows,
// without surrounding space.
func Split(text string) (number, rest string, fault Fault) {
	text = strings.TrimSpace(text)
	n := numberLength(text)
	if n == 0 {
		return "", "", NoNumber
	}
	rest = strings.TrimSpace(text[n:])
	switch {
	case strings.HasPrefix(rest, ","):
		return "", "", Comma
	case strings.HasPrefix(rest, "'"), strings.HasPrefix(rest, "_"), rest != "" && isDigit(rest[0]):
		return "", "", Thousands
	}
	return text[:n], rest, OK
}

// cutSign takes the sign or code of a currency off the front of an amount.
func cutSign(text string) (sign, rest string) {
	n := strings.IndexFunc(text, func(r rune) bool { return r >= '0' && r <= '9' || strings.ContainsRune("+-. ", r) })
	if n <= 0 {
		return "", text
	}
	return text[:n], text[n:]
}

func (k *Kind) money(x *big.Rat, currency string) (Amount, Fault) {
	if len(currency) > maxCurrency || strings.ContainsAny(currency, "0123456789%+-.,:'_") || strings.ContainsFunc(currency, unicode.IsSpace) {
		return Amount{Unit: currency}, NotOfKind
	}
	value, _ := x.Float64()
	return Amount{Value: value, Unit: currency}, OK
}

// maxCurrency is the longest code or sign of a currency, in bytes.
const maxCurrency = 8

// quotient reads what follows the first of two numbers.
func (k *Kind) quotient(x *big.Rat, rest string) (Amount, Fault) {
	second, ok := strings.CutPrefix(rest, ":")
	if !ok {
		return Amount{Unit: rest}, NotOfKind
	}
	number, behind, fault := Split(second)
	switch {
	case fault != OK:
		return Amount{}, fault
	case behind != "":
		return Amount{Unit: behind}, NotOfKind
	}
	y, fault := exactly(number)
	switch {
	case fault != OK:
		return Amount{}, fault
	case x.Sign() <= 0 || y.Sign() <= 0:
		return Amount{}, OutOfRange
	case x.Cmp(y) < 0:
		x, y = y, x
	}
	value, _ := new(big.Rat).Quo(x, y).Float64()
	return Amount{Value: value, Unit: rest}, OK
}

// convert turns a number of one unit into one of another, rounded once.
func convert(x *big.Rat, from, into Unit) float64 {
	if from.curve != nil {
		y, _ := x.Float64()
		if into.curve != nil {
			return y
		}
		return tidy(from.curve(y) * float64(into.per.den) / float64(into.per.num))
	}
	base := new(big.Rat).Mul(x, from.per.rat())
	base.Add(base, from.zero.rat())
	base.Sub(base, into.zero.rat())
	if into.curve == nil {
		base.Quo(base, into.per.rat())
	}
	value, _ := base.Float64()
	return value
}

// tidy rounds a number that is not exact to 15 digits, so that 45 degrees are 100 %.
func tidy(x float64) float64 {
	const digits = 15
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return x
	}
	return y
}

func (r ratio) rat() *big.Rat {
	if r.den == 0 {
		return new(big.Rat)
	}
	return big.NewRat(r.num, r.den)
}

// The most digits and the greatest exponent of a number that is converted, far
// more than a float64 has.
const maxDigits, maxExponent = 100, 400

// exactly is a decimal number as the fraction that it is.
func exactly(number string) (*big.Rat, Fault) {
	if i := strings.IndexAny(number, "eE"); i >= 0 {
		if n, err := strconv.Atoi(number[i+1:]); err != nil || n > maxExponent || n < -maxExponent {
			return nil, TooLarge
		}
	}
	if len(number) > maxDigits {
		return nil, TooLarge
	}
	if _, err := strconv.ParseFloat(number, 64); err != nil {
		return nil, TooLarge
	}
	x, ok := new(big.Rat).SetString(number)
	if !ok {
		return nil, NoNumber
	}
	return x, OK
}

// unit is the unit of that name.
func (k *Kind) unit(name string) (Unit, bool) {
	if name == "" {
		return Unit{}, false
	}
	name = strings.ReplaceAll(name, "\u03bc", "\u00b5") // the Greek mu for the micro sign; the ohm sign and the Greek omega have one small letter
	wanted := strings.ToLower(name)                     // and no case folding, which takes ſ for s
	for _, u := range k.Units {
		for _, n := range u.Names {
			if strings.ToLower(n) == wanted && !(u.milli && name[0] != 'm') {
				return u, true
			}
		}
	}
	return Unit{}, false
}

// Has reports whether a name is that of a unit of the kind.
func (k *Kind) Has(name string) bool {
	_, ok := k.unit(name)
	return ok
}

// Named is the name of a unit of the kind as messages have it, by any of its
// names; "" where there is none.
func (k *Kind) Named(name string) string {
	u, ok := k.unit(name)
	if !ok {
		return ""
	}
	return u.Names[0]
}

// Equal reports whether two kinds are one.
func (k *Kind) Equal(other *Kind) bool { return k == other }

// Same reports whether two names are of one unit of the kind.
func (k *Kind) Same(a, b string) bool {
	u, ok := k.unit(a)
	v, also := k.unit(b)
	return ok && also && u.Names[0] == v.Names[0]
}

// List lists the units of k as messages name them.
func (k *Kind) List() []string {
	names := make([]string, len(k.Units))
	for i, u := range k.Units {
		names[i] = u.Names[0]
	}
	return names
}

// Known is the units of k in words.
func (k *Kind) Known() string {
	switch {
	case k.Quotient:
		return `known: two numbers with a colon, as in 15:36`
	case k.Money:
		return "known: the catalog's currency"
	}
	return "known: " + strings.Join(k.List(), " ")
}

// SameCurrency reports whether two names are of one currency: letters of either
// case, and the sign of the euro, the pound or the US dollar for its code.
func SameCurrency(a, b string) bool { return currency(a) == currency(b) }

func currency(name string) string {
	switch name = strings.ToUpper(name); name {
	case "€", "EURO", "EUROS":
		return "EUR"
	case "£":
		return "GBP"
	case "$", "US$":
		return "USD"
	}
	return name
}

// Per is how many of a unit one of the kind's base unit is.
func (k *Kind) Per(name string) float64 {
	u, ok := k.unit(name)
	if !ok || u.per.num == 0 {
		return math.NaN()
	}
	return float64(u.per.den) / float64(u.per.num)
}

// numberLength is the length of the decimal number that s begins with.
func numberLength(s string) int {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	whole := digits(s[i:])
	i += whole
	part := 0
	if i < len(s) && s[i] == '.' {
		part = digits(s[i+1:])
		if whole+part > 0 {
			i += 1 + part
		}
	}
	if whole+part == 0 {
		return 0
	}
	return i + exponentLength(s[i:])
}

// exponentLength is the length of the exponent that s begins with.
func exponentLength(s string) int {
	if s == "" || s[0] != 'e' && s[0] != 'E' {
		return 0
	}
	i := 1
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	n := digits(s[i:])
	if n == 0 {
		return 0
	}
	return i + n
}

func digits(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
