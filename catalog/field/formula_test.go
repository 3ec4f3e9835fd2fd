package field

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestHarmless(t *testing.T) {
	tests := []struct{ why, text, cell string }{
		{"plain", "Motor", "Motor"},
		{"formula", "=1+1", "'=1+1"},
		{"plus", "+1", "'+1"},
		{"minus", "-1", "'-1"},
		{"call", "@SUM(A1)", "'@SUM(A1)"},
		{"tab", "\t=1", "'\t=1"},
		{"carriage return", "\r=1", "'\r=1"},
		{"mark inside", "a=b", "a=b"},
		{"after a semicolon", "a;=1+1", "a;'=1+1"},
		{"after a semicolon and a blank", "a; =1", "a; =1"},
		{"apostrophe before a mark", "'=1", "''=1"},
		{"two of them", "''=1", "'''=1"},
		{"apostrophe before a letter", "'tis", "'tis"},
		{"apostrophe alone", "'", "'"},
		{"empty", "", ""},
		{"mark alone", "=", "'="},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			if got := harmless(test.text); got != test.cell {
				t.Errorf("%q is written %q, want %q", test.text, got, test.cell)
			}
			if got := original(test.cell); got != test.text {
				t.Errorf("%q is read as %q, want %q", test.cell, got, test.text)
			}
		})
	}
}

// Every text reads back as it was, begins no formula, and one without
// apostrophes is read as it stands. The marks are those of the OWASP page on
// CSV injection.
func TestHarmlessRoundTrip(t *testing.T) {
	text := rapid.StringMatching(`[-=+@'; a\t\r1|]{0,8}`)
	rapid.Check(t, func(t *rapid.T) {
		s := text.Draw(t, "text")
		cell := harmless(s)
		if got := original(cell); got != s {
			t.Fatalf("%q is written %q and read as %q", s, cell, got)
		}
		for _, part := range strings.Split(cell, ";") {
			if part != "" && strings.ContainsRune("=+-@\t\r", rune(part[0])) {
				t.Fatalf("%q is written %q, which begins a formula", s, cell)
			}
		}
		if !strings.Contains(s, "'") && original(s) != s {
			t.Fatalf("%q is read as %q", s, original(s))
		}
	})
}

// The same through a file, for texts and for the items of a list.
func TestFormulasInFile(t *testing.T) {
	text := rapid.StringMatching(`[-=+@';a1]{1,6}`)
	rapid.Check(t, func(t *rapid.T) {
		colour := text.Draw(t, "colour")
		tags := rapid.SliceOfNDistinct(rapid.StringMatching(`[-=+@'a1]{1,6}`), 1, 3, rapid.ID).Draw(t, "tags")
		var b strings.Builder
		if err := csv.NewWriter(&b).WriteAll([][]string{{"id", "size_mm", "colour", "tags"}, {"a", "97", Cell(colour), Cell(tags)}}); err != nil {
			t.Fatal(err)
		}
		got, err := readThings(b.String())
		if err != nil {
			t.Fatal(err)
		}
		if got[0].Colour != colour || !slices.Equal(got[0].Tags, tags) {
			t.Fatalf("%q and %q are read as %q and %q from\n%s", colour, tags, got[0].Colour, got[0].Tags, b.String())
		}
	})
}

// On the command line an apostrophe is an apostrophe.
func TestAssignKeepsApostrophes(t *testing.T) {
	var x thing
	if err := thingTable().Assign(&x, "colour", "'=1"); err != nil || x.Colour != "'=1" {
		t.Errorf("colour is %q, %v", x.Colour, err)
	}
}
