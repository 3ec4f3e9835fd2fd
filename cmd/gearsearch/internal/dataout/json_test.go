package dataout

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"slices"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/search"
)

// TestLinesAreBuilds: a line is the object of its build, whatever line stood
// before it.
func TestLinesAreBuilds(t *testing.T) {
	demo, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	lines := 0
	for _, src := range catalog.DemoBriefs() {
		brief, err := constraints.ReadBrief(src)
		if err != nil {
			t.Fatal(err)
		}
		brief.Limit.Demote = []string{"belt-load", "mesh"}
		p, err := constraints.NewProblem(demo, brief)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		l := NewLines(&out)
		_, err = search.Stream(t.Context(), p, search.Options{}, func(s search.Scored) error {
			if lines++; lines > 5000 {
				return io.EOF
			}
			out.Reset()
			if err := l.Build(s); err != nil {
				return err
			}
			if want := string(Build(s).Append(nil)) + "\n"; out.String() != want {
				t.Fatalf("written\n%swant\n%s", out.String(), want)
			}
			return nil
		})
		if err != nil && err != io.EOF {
			t.Fatal(err)
		}
	}
	if lines < 1000 {
		t.Errorf("only %d lines", lines)
	}
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

// TestPartsHaveEverySlot: no slot is left out of data out.
func TestPartsHaveEverySlot(t *testing.T) {
	slots := slices.Sorted(slices.Values(partOrder[:]))
	if want := constraints.Slots(); !slices.Equal(slots, want) {
		t.Errorf("partOrder has %v, want %v", slots, want)
	}
}
