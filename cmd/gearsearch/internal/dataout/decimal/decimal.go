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

// Text is a number with ten significant digits at most, or none where it is not
// finite.
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

// appendQuickly writes a number of common size in a fraction of the time: its ten
// digits come from one product or quotient, whose rounding error changes the last
// digit only where the rest is near a half.
func appendQuickly(to []byte, x float64) ([]byte, bool) {
	const half, sure = 0.5, 1e-4
	size := math.Abs(x)
	if !(size >= 1e-6 && size < 1e14) {
		return to, false
	}
	binary := int(math.Float64bits(size)>>52) - 1023
	power := binary * 1233 >> 12 // of ten, or one more: 1233/4096 is lg 2
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
	n := uint64(scaled)
	rest := scaled - float64(n)
	if scaled < 1e9 || math.Abs(rest-half) < sure {
		return to, false
	}
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
	return appendTen(to, n, power+1), true
}

// pairs are the numbers of two digits.
const pairs = "00010203040506070809101112131415161718192021222324252627282930313233343536373839404142434445464748495051525354555657585960616263646566676869707172737475767778798081828384858687888990919293949596979899"

// appendTen writes a number of ten digits, two at a time, with the decimal point
// behind so many of them, and no zeros at its end.
func appendTen(to []byte, n uint64, point int) []byte {
	const eight = 1e8
	const room = 2 // before the digits
	var text [room + digits]byte
	high := 2 * (n / eight)
	low := uint32(n % eight)
	for i := room + digits - 2; i > room; i -= 2 {
		pair := 2 * (low % 100)
		text[i], text[i+1] = pairs[pair], pairs[pair+1]
		low /= 100
	}
	text[room], text[room+1] = pairs[high], pairs[high+1]
	end := len(text)
	for text[end-1] == '0' { // the first digit is not
		end--
	}
	switch {
	case point == 0:
		text[0], text[1] = '0', '.'
		return append(to, text[:end]...)
	case point < 0 || point > digits:
		return appendDigits(to, text[room:end], point)
	case end <= room+point:
		return append(to, text[room:room+point]...)
	}
	for i := 1; i <= point; i++ { // the digits before the point make room for it
		text[i] = text[i+1]
	}
	text[1+point] = '.'
	return append(to, text[1:end]...)
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
