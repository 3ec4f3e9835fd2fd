package dataout

import (
	"encoding/json"
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

func TestNumber(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		want string
		why  string
	}{
		{0, "0", "nothing"},
		{math.Copysign(0, -1), "0", "no minus zero"},
		{50274, "50274", "a whole number without a point"},
		{0.1 + 0.2, "0.3", "rounding of the last bits does not show"},
		{1.0 / 3, "0.3333333333", "ten digits"},
		{-2.0 / 3, "-0.6666666667", "rounded, not cut"},
		{123456789012345, "123456789000000", "ten digits of a large number"},
		{1e-9, "1e-09", "a small one"},
		{1e22, "1e+22", "a large one"},
		{math.MaxFloat64, "1.797693135e+308", "the largest"},
		{-1234.5, "-1234.5", "a negative one"},
		{100, "100", "zeros before the point stay"},
		{99999999999, "100000000000", "rounded up to one digit more"},
		{0.000123456, "0.000123456", "zeros after the point"},
		{math.NaN(), "null", "not known"},
		{math.Inf(1), "null", "no end"},
	} {
		if got := Number(tt.x, "null"); got != tt.want {
			t.Errorf("Number(%v) = %s, want %s: %s", tt.x, got, tt.want, tt.why)
		}
	}
}

func TestNumberIsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64().Draw(t, "x")
		text := Number(x, "null")
		var back float64
		if err := json.Unmarshal([]byte(text), &back); err != nil && x < 1.79e308 && x > -1.79e308 {
			t.Fatalf("%v is written %s: %v", x, text, err)
		}
		// The number that strconv rounds to ten digits.
		if want, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64); back != want && !math.IsInf(want, 0) {
			t.Fatalf("%v is written %s, want %v", x, text, want)
		}
	})
}

func TestObject(t *testing.T) {
	o := Object{
		{"z", nil},
		{"a", []string{"<b>", "\"q\"", "é\u2028"}},
		{"empty", []Object{}},
		{"in", Object{{"yes", true}, {"n", 3}, {"u", uint64(1) << 63}, {"x", 0.5}, {"nan", math.NaN()}}},
		{"list", []float64{1, 2}},
	}
	want := `{"z": null, "a": ["<b>", "\"q\"", "é\u2028"], "empty": [], "in": {"yes": true, "n": 3, "u": 9223372036854775808, "x": 0.5, "nan": null}, "list": [1, 2]}`
	if got := string(o.Append(nil)); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if !json.Valid(o.Append(nil)) {
		t.Error("not JSON")
	}
	if o.Get("list") == nil || o.Get("none") != nil {
		t.Error("Get")
	}
}

// TestCell: a spreadsheet must not run what stands in a cell.
func TestCell(t *testing.T) {
	for _, tt := range []struct {
		value any
		want  string
	}{
		{nil, ""},
		{math.NaN(), ""},
		{-1.5, "-1.5"},
		{3, "3"},
		{"town-12s4p", "town-12s4p"},
		{"=SUM(A1)", "'=SUM(A1)"},
		{"+1", "'+1"},
		{"-1", "'-1"},
		{"@x", "'@x"},
		{"\tx", "'\tx"},
		{"", ""},
	} {
		if got := Cell(tt.value); got != tt.want {
			t.Errorf("Cell(%v) = %q, want %q", tt.value, got, tt.want)
		}
	}
}
