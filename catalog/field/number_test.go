package field

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Any number that a person writes must come to the same float64 as
// strconv.ParseFloat, which is the reference.
func TestParseNumberIsStrconv(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`(0|[1-9][0-9]{0,18})(\.[0-9]{1,18})?`).Draw(t, "number")
		want, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Skip()
		}
		if got, err := parseNumber([]byte(s), KindFloat); err != nil || got != want {
			t.Fatalf("%s reads as %v (%v), strconv says %v", s, got, err, want)
		}
	})
}

func TestParseNumber(t *testing.T) {
	tests := []struct {
		raw  string
		kind Kind
		want float64
		err  bool
	}{
		{raw: "190", kind: KindInteger, want: 190},
		{raw: "+190", kind: KindInteger, want: 190},
		{raw: "-0", kind: KindInteger, want: 0},
		{raw: "1_000_000", kind: KindInteger, want: 1e6},
		{raw: "0xff", kind: KindInteger, want: 255},
		{raw: "0o17", kind: KindInteger, want: 15},
		{raw: "0b101", kind: KindInteger, want: 5},
		{raw: "9223372036854775807", kind: KindInteger, want: 1 << 63},
		{raw: "9223372036854775808", kind: KindInteger, err: true},
		{raw: "6.02e23", kind: KindFloat, want: 6.02e23},
		{raw: "1_0.5", kind: KindFloat, want: 10.5},
		{raw: "1e400", kind: KindFloat, err: true},
		{raw: "inf", kind: KindFloat, want: math.Inf(1)},
	}
	for _, test := range tests {
		got, err := parseNumber([]byte(test.raw), test.kind)
		if (err != nil) != test.err || err == nil && got != test.want {
			t.Errorf("parseNumber(%s) = %v, %v; want %v, error %v", test.raw, got, err, test.want, test.err)
		}
	}
}

func TestFormatNumber(t *testing.T) {
	tests := []struct {
		x    float64
		want string
	}{
		{0, "0"},
		{190, "190"},
		{107.0, "107"},
		{82.5, "82.5"},
		{1e6, "1000000"},
		{0.097 * 1000, "97"},
		{0.1 + 0.2, "0.3"},
		{1e-7, "0.0000001"},
		{-2.50, "-2.5"},
	}
	for _, test := range tests {
		if got := FormatNumber(test.x); got != test.want {
			t.Errorf("FormatNumber(%v) = %s, want %s", test.x, got, test.want)
		}
	}
}

// A number goes to SI units and comes back as it was written, and reading what
// was written gives the same SI value, to the bit.
func TestUnitsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		per := rapid.SampledFrom([]float64{1, 1000, 100, 3.6, 0.001, 10}).Draw(t, "per")
		written := rapid.StringMatching(`(0|[1-9][0-9]{0,6})(\.[0-9]{0,6}[1-9])?`).Draw(t, "written")
		f := Field[float64]{Per: per, Number: func(x *float64) *float64 { return x }}
		x, err := strconv.ParseFloat(written, 64)
		if err != nil {
			t.Fatal(err)
		}
		si := f.toSI(x)
		back := f.value(&si).(float64)
		if got := FormatNumber(back); got != written {
			t.Fatalf("%s comes back as %s", written, got)
		}
		if again := f.toSI(back); again != si {
			t.Fatalf("%s is %v in SI units, and %v when written and read again", written, si, again)
		}
	})
}

func TestUnitsAreExact(t *testing.T) {
	mm := Field[float64]{Per: 1000}
	if got := mm.toSI(97); got != 0.097 {
		t.Errorf("97 mm is %v m", got)
	}
	pull := Field[float64]{Per: 0.001}
	if got := pull.toSI(11.22); got != 11.22*1000 {
		t.Errorf("11.22 N/mm is %v N/m", got)
	}
}

// A value in SI units is given back as it was written, whatever its digits and
// the unit: reading it again gives the same bits.
func TestValuesReadBack(t *testing.T) {
	type quantity struct{ x float64 }
	at := func(q *quantity) *float64 { return &q.x }
	rapid.Check(t, func(t *rapid.T) {
		per := rapid.SampledFrom([]float64{0, 1000, 100, 0.001, 1e6, 3.6}).Draw(t, "per")
		table := NewTable("quantity", []Field[quantity]{{Key: "x", Per: per, Number: at}})
		written := rapid.StringMatching(`[1-9][0-9]{0,3}(\.[0-9]{1,18})?`).Draw(t, "number")
		q := quantity{}
		if err := table.Assign(&q, "x", written); err != nil {
			t.Fatal(err)
		}
		value, _ := table.Lookup(&q, "x")
		again := quantity{}
		if err := table.Assign(&again, "x", Cell(value)); err != nil {
			t.Fatal(err)
		}
		if again.x != q.x {
			t.Fatalf("%s is %v, is given back as %v, and reads as %v", written, q.x, Cell(value), again.x)
		}
		if digits := strings.TrimLeft(strings.ReplaceAll(written, ".", ""), "0"); len(digits) <= 15 {
			if want := strings.TrimRight(strings.TrimRight(written, "0"), "."); strings.Contains(written, ".") && Cell(value) != want {
				t.Fatalf("%s is given back as %s", written, Cell(value))
			}
		}
	})
}
