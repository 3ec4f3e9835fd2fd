package say

import (
	"math"
	"testing"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

func TestQuantity(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, tt := range []struct {
		why    string
		q      constraints.Quantity
		system quantity.System
		want   string
	}{
		{"all digits", constraints.Quantity{SI: 0.0125, PerSI: 1000, Unit: "mm"}, quantity.Metric, "12.5 mm"},
		{"all digits that were written, not those of a double", constraints.Quantity{SI: 0.1 + 0.2, PerSI: 1}, quantity.Metric, "0.3"},
		{"a unit that the words have", constraints.Quantity{SI: 0.07, PerSI: 1000}, quantity.Imperial, "70"},
		{"another system", constraints.Quantity{SI: 10, PerSI: 3.6, Unit: "km/h", Digits: constraints.OneDecimal}, quantity.Imperial, "22.4 mph"},
		{"a unit of all systems", constraints.Quantity{SI: 42, PerSI: 1, Unit: "V", Digits: constraints.FourDigits}, quantity.Imperial, "42 V"},
		{"one decimal, even of a whole number", constraints.Quantity{SI: 0.045, PerSI: 1000, Unit: "mm", Digits: constraints.OneDecimal}, quantity.Metric, "45.0 mm"},
		{"two digits", constraints.Quantity{SI: 0.06789, PerSI: 1000, Digits: constraints.TwoDigits}, quantity.Metric, "68"},
		{"two digits before the point", constraints.Quantity{SI: 1234, PerSI: 1, Digits: constraints.TwoDigits}, quantity.Metric, "1200"},
		{"two decimals", constraints.Quantity{SI: 1.2345, PerSI: 1, Digits: constraints.TwoDecimals}, quantity.Metric, "1.23"},
		{"two decimals at most", constraints.Quantity{SI: 3, PerSI: 1, Digits: constraints.TwoDecimals}, quantity.Metric, "3"},
		{"three digits", constraints.Quantity{SI: 1.2345, PerSI: 1, Digits: constraints.ThreeDigits}, quantity.Metric, "1.23"},
		{"three digits, all before the point", constraints.Quantity{SI: 1234.5, PerSI: 1, Digits: constraints.ThreeDigits}, quantity.Metric, "1234"},
		{"never less", constraints.Quantity{SI: 50.41, PerSI: 1, Digits: constraints.ThreeUp}, quantity.Metric, "50.5"},
		{"never more", constraints.Quantity{SI: 50.49, PerSI: 1, Digits: constraints.ThreeDown}, quantity.Metric, "50.4"},
		{"never more, and the number itself however it is stored", constraints.Quantity{SI: 50.4, PerSI: 1, Digits: constraints.ThreeDown}, quantity.Metric, "50.4"},
		{"never less, above a hundred", constraints.Quantity{SI: 150.1, PerSI: 1, Digits: constraints.ThreeUp}, quantity.Metric, "151"},
		{"none", constraints.Quantity{SI: 0, PerSI: 1, Digits: constraints.ThreeDown}, quantity.Metric, "0"},
		{"four digits", constraints.Quantity{SI: 97.048596, PerSI: 1, Digits: constraints.FourDigits}, quantity.Metric, "97.05"},
		{"four digits, all before the point", constraints.Quantity{SI: 33422.538, PerSI: 1, Digits: constraints.FourDigits}, quantity.Metric, "33423"},
		{"not known", constraints.Quantity{SI: nan, PerSI: 1, Unit: "A", Digits: constraints.FourDigits}, quantity.Metric, "unknown A"},
		{"no limit", constraints.Quantity{SI: inf, PerSI: 1, Unit: "A", Digits: constraints.ThreeUp}, quantity.Metric, "unlimited A"},
	} {
		if got := Quantity(tt.q, tt.system); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.why, got, tt.want)
		}
	}
}
