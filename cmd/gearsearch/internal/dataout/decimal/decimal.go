// Package decimal writes numbers for scripts: rounded to ten significant digits,
// with no more of them than it takes, and quickly.
package decimal

import (
	"bytes"
	"math"
	"strconv"
)

// digits is how many significant digits data out has: more than any part is
// known to, and few enough that no rounding of the last bits shows.
const digits = 10

// Text is a number with ten significant digits at most; none stands for what is
// not finite.
func Text(x float64, none string) string { return string(Append(nil, x, none)) }

// Append appends what Text gives.
func Append(to []byte, x float64, none string) []byte {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return append(to, none...)
	}
	if x == 0 {
		return append(to, '0') // and never -0
	}
	if out, ok := appendQuickly(to, x); ok {
		return out
	}
	var space [32]byte
	mantissa, exponent, _ := bytes.Cut(strconv.AppendFloat(space[:0], x, 'e', digits-1, 64), []byte{'e'})
	power, _ := strconv.Atoi(string(exponent))
	if power < -6 || power > 20 {
		mantissa = bytes.TrimRight(mantissa, "0")
		mantissa = bytes.TrimSuffix(mantissa, []byte{'.'})
		return append(append(append(to, mantissa...), 'e'), exponent...)
	}
	if mantissa[0] == '-' {
		to, mantissa = append(to, '-'), mantissa[1:]
	}
	mantissa[1] = mantissa[0] // over the point: the digits are together now
	return appendDigits(to, bytes.TrimRight(mantissa[1:], "0"), power+1)
}

// tens are powers of ten that a float64 holds exactly.
var tens = [...]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// The numbers that appendQuickly writes, if it does, by their power of ten.
const leastQuick, mostQuick = -6, 14

// appendQuickly writes a number of common size in a fraction of the time: ten
// digits are a product or a quotient of one rounding, which is far less than
// what decides how they are rounded, unless that is near a half.
func appendQuickly(to []byte, x float64) ([]byte, bool) {
	const half, sure = 0.5, 1e-4
	size := math.Abs(x)
	if !(size >= 1e-6 && size < 1e14) {
		return to, false
	}
	_, binary := math.Frexp(size)
	power := int(math.Floor(float64(float64(binary-1) * 0.30103))) // or one more
	scaled := size
	for {
		if shift := digits - 1 - power; shift >= 0 {
			scaled = size * tens[shift]
		} else {
			scaled = size / tens[-shift]
		}
		if scaled < 1e10 {
			break
		}
		power++
	}
	whole := math.Floor(scaled)
	rest := scaled - whole
	if scaled < 1e9 || math.Abs(rest-half) < sure {
		return to, false
	}
	n := uint64(whole)
	if rest > half {
		n++
	}
	if n == 1e10 {
		n, power = 1e9, power+1
	}
	if power < leastQuick || power > mostQuick {
		return to, false
	}
	if x < 0 {
		to = append(to, '-')
	}
	text := written(n)
	last := digits
	for text[last-1] == '0' { // the first is not
		last--
	}
	return appendDigits(to, text[:last], power+1), true
}

// pairs are the numbers of two digits.
const pairs = "00010203040506070809101112131415161718192021222324252627282930313233343536373839404142434445464748495051525354555657585960616263646566676869707172737475767778798081828384858687888990919293949596979899"

// written is a number of ten digits, two at a time.
func written(n uint64) (text [digits]byte) {
	const eight = 1e8
	high := n / eight
	low := uint32(n - high*eight)
	copy(text[:2], pairs[2*high:])
	for i := digits - 2; i > 0; i -= 2 {
		pair := 2 * (low % 100)
		text[i], text[i+1] = pairs[pair], pairs[pair+1]
		low /= 100
	}
	return text
}

// appendDigits writes digits with the decimal point behind so many of them.
func appendDigits(to, digits []byte, point int) []byte {
	switch {
	case point <= 0:
		to = append(to, "0."...)
		for range -point {
			to = append(to, '0')
		}
		return append(to, digits...)
	case point >= len(digits):
		to = append(to, digits...)
		for range point - len(digits) {
			to = append(to, '0')
		}
		return to
	}
	return append(append(append(to, digits[:point]...), '.'), digits[point:]...)
}
