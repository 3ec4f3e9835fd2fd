package constraints

import (
	"math"
	"strconv"
)

// Quantity is a number of what there is to say of parts and builds, with what it
// is shown in. The words around it are made elsewhere.
type Quantity struct {
	SI     float64 // NaN: not known
	PerSI  float64 // shown units per SI unit
	Unit   string  // it is shown in, metric; "" for a bare number and where the words have the unit
	Digits Digits
}

// Digits says how many of a number's digits are worth showing.
type Digits uint8

// The digits. AllDigits is the zero value: all that somebody wrote.
const (
	AllDigits   Digits = iota
	TwoDigits          // of what is known roughly
	ThreeDigits        // and all before the point
	ThreeUp            // ThreeDigits, never less than the number: for what a part must bear
	ThreeDown          // ThreeDigits, never more than it: for what a part must not exceed
	FourDigits         // and all before the point
	OneDecimal         // as tables show speeds, lengths and volts
	TwoDecimals        // at most: of what was worked out
)

// Round leaves a number in its shown unit the digits that are worth showing:
// TwoDigits or TwoDecimals. The others are a matter of how it is written, and
// leave it as it is.
func (d Digits) Round(x float64) float64 {
	switch d {
	case TwoDigits:
		x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 2, 64), 64)
	case TwoDecimals:
		x = math.Round(x*100) / 100
	}
	return x
}

// bare is a number without a unit, as it was written.
func bare(x float64) Quantity { return Quantity{SI: x, PerSI: 1} }

// count is a number of things.
func count(n int) Quantity { return bare(float64(n)) }

// volts is a voltage in a sentence.
func volts(x float64) Quantity { return Quantity{SI: x, PerSI: 1, Unit: "V", Digits: FourDigits} }

// acceleration is an acceleration in a sentence.
func acceleration(x float64) Quantity {
	return Quantity{SI: x, PerSI: 1, Unit: "m/s²", Digits: TwoDigits}
}
