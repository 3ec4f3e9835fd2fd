package field

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// ranged is what a family table with three numbers reads.
type ranged struct {
	ID          string
	Size, Turns float64
	Teeth       int
}

func rangedTable() *Table[ranged] {
	return NewTable("thing", []Field[ranged]{
		{Key: "id", ID: true, Spread: true, Text: func(t *ranged) *string { return &t.ID }},
		{Key: "size_mm", Unit: "mm", Per: 1000, Min: 0, Max: 500, Number: func(t *ranged) *float64 { return &t.Size }},
		{Key: "turns", Min: -100, Max: 100, Number: func(t *ranged) *float64 { return &t.Turns }},
		{Key: "teeth", Min: 0, Max: 3000, Count: func(t *ranged) *int { return &t.Teeth }},
	})
}

// readRanged reads one section of TOML as a family.
func readRanged(text string) (Family[ranged], *Report) {
	r := &Report{}
	doc := Parse(Source{Name: "x.toml", Data: []byte(text)}, r)
	t := rangedTable()
	return t.DecodeFamily(doc.Root(), t.Blank(), r), r
}

func TestRangeNumbers(t *testing.T) {
	for _, tt := range []struct {
		why, key, text string
		want           []float64
	}{
		{"whole numbers need no step", "teeth", "12..15", []float64{12, 13, 14, 15}},
		{"both ends may be one", "teeth", "12..12", []float64{12}},
		{"a step that does not meet the end stays below it", "teeth", "12..20/3", []float64{12, 15, 18}},
		{"a step above the whole range", "teeth", "12..20/50", []float64{12}},
		{"halves", "turns", "10..20/2.5", []float64{10, 12.5, 15, 17.5, 20}},
		{"tenths are the decimals that people write", "turns", "0.1..0.7/0.1", []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7}},
		{"up to 0, which a sum of tenths misses", "turns", "-0.3..0/0.1", []float64{-0.3, -0.2, -0.1, 0}},
		{"below 0, where the end times 1 + 1e-9 lies lower", "turns", "-30..-10/10", []float64{-30, -20, -10}},
		{"blanks and a sign", "turns", " -1 .. +1 / 1 ", []float64{-1, 0, 1}},
		{"an end that a hair is missing of", "turns", "0..0.999999999999/0.333333333333", []float64{0, 0.333333333333, 0.666666666666, 0.999999999999}},
		{"a hair below the last number, which is taken", "turns", "1..1.9999999999/0.5", []float64{1, 1.5, 2}},
		{"more than a hair below it", "turns", "1..1.99999/0.5", []float64{1, 1.5}},
	} {
		f, r := readRanged(tt.key + ` = "` + tt.text + `"`)
		if r.Len() > 0 {
			t.Errorf("%s: %v", tt.why, r.Err())
			continue
		}
		var got []float64
		for _, m := range f.Members {
			got = append(got, map[string]float64{"teeth": float64(m.Teeth), "turns": m.Turns}[tt.key])
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
	}
}

// TestRangesMultiply: several ranges multiply, the lists together are one more, and
// the first key of the section is the slowest.
func TestRangesMultiply(t *testing.T) {
	f, r := readRanged("turns = \"1..2/1\"\nsize_mm = [10, 20, 30]\nteeth = \"7..8\"\n")
	if r.Len() > 0 {
		t.Fatal(r.Err())
	}
	var want []ranged
	for _, turns := range []float64{1, 2} {
		for _, size := range []float64{10, 20, 30} {
			for _, teeth := range []int{7, 8} {
				want = append(want, ranged{Size: size / 1000, Turns: turns, Teeth: teeth})
			}
		}
	}
	if d := cmp.Diff(want, f.Members); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	f, r = readRanged("size_mm = [10, 20]\nteeth = \"7..9\"\nturns = [3, 4]\n")
	if r.Len() > 0 || len(f.Members) != 6 {
		t.Fatal(len(f.Members), r.Err())
	}
	for i, m := range f.Members {
		if j := i / 3; m.Size != []float64{0.01, 0.02}[j] || m.Turns != []float64{3, 4}[j] || m.Teeth != 7+i%3 {
			t.Errorf("member %d is %v: lists go together where the first stands", i, m)
		}
	}
}

// TestMostMembers: a section stands for MaxItems members, and not for one more.
func TestMostMembers(t *testing.T) {
	for text, want := range map[string]int{
		"turns = \"1..100/1\"\nteeth = \"1..100\"": MaxItems,
		"turns = \"1..100/1\"\nteeth = \"1..101\"": 0,
		"turns = \"0..100/0.01\"":                  0,
		"turns = \"0.01..100/0.01\"":               MaxItems,
		"turns = \"-100..100/0.000000000001\"":     0,
	} {
		f, r := readRanged(text)
		if ok := r.Len() == 0; ok != (want > 0) || f.Broken == ok || ok && len(f.Members) != want {
			t.Errorf("%s: %d members, %v", text, len(f.Members), r.Err())
		}
	}
}

// A range stands for the numbers that somebody would write one by one, and is written
// as it was read.
func TestRangeIsItsNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low, step := rapid.IntRange(-99_999, 99_999).Draw(t, "low"), rapid.IntRange(1, 9_999).Draw(t, "step")
		n := rapid.IntRange(1, 40).Draw(t, "n")
		thousandths := func(x int) string { // the decimal, made without floating point
			sign := ""
			if x < 0 {
				sign, x = "-", -x
			}
			return fmt.Sprintf("%s%d.%03d", sign, x/1000, x%1000)
		}
		in := &Info{Key: "x", Type: TypeNumber, Family: true, Min: math.Inf(-1), Max: math.Inf(1)}
		v, err := in.ReadCell(thousandths(low) + ".." + thousandths(low+(n-1)*step) + "/" + thousandths(step))
		if err != nil {
			t.Fatal(err)
		}
		g := v.(Range)
		if g.Len != n {
			t.Fatalf("%v has %d numbers, want %d", g, g.Len, n)
		}
		for i := range n {
			if want, err := in.ReadCell(thousandths(low + i*step)); err != nil || g.At(i) != want {
				t.Fatalf("number %d of %v is %v, want %v", i, g, g.At(i), want)
			}
		}
		again, err := in.ReadCell(g.String())
		if err != nil || again.(Range).Len != n || again.(Range).At(n-1) != g.At(n-1) {
			t.Fatalf("%v reads as %v, %v", g, again, err)
		}
	})
}

// FuzzRange reads any text as a number, range or list of them: it must never panic;
// what is a range ascends from its lower end to its upper one, and reads back as
// itself.
func FuzzRange(f *testing.F) {
	for _, s := range []string{
		"12..80", "10..30/2.5", "-90..90/15", "..", "1..", "..1", "1..2/", "1..2/0", "2..1", "1...5", "1e3..2e3", "1,5..2,5/0,5",
		"8|10|12", "0.000000000001..1/0.000000000001", "9999999999999999999..99999999999999999999/1", "1..2..3", "+1..+2/+1", "12mm..80mm",
	} {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, whole bool) {
		in := &Info{Key: "x", Type: TypeNumber, Family: true, Min: -1e6, Max: 1e6, Whole: whole}
		v, err := in.ReadCell(s)
		if err != nil {
			p := err.(*Problem)
			if p.Message == "" || strings.ContainsFunc(p.Message+p.Hint, func(r rune) bool { return r < ' ' }) {
				t.Fatalf("%q: %q, %q", s, p.Message, p.Hint)
			}
			return
		}
		g, ok := v.(Range)
		if !ok {
			return
		}
		var list []float64
		for i := range g.Len {
			list = append(list, g.At(i))
			if x := g.At(i); whole && x != math.Trunc(x) {
				t.Fatalf("%q has %v", s, x)
			}
		}
		top := g.High + 1e-9*math.Abs(g.High)
		if g.Len < 1 || g.Len > MaxItems || list[0] != g.Low || !slices.IsSorted(list) || list[g.Len-1] > top || g.At(g.Len) <= top && g.Len < MaxItems {
			t.Fatalf("%q is %d numbers from %v to %v", s, g.Len, list[0], list[g.Len-1])
		}
		again, err := in.ReadCell(g.String())
		if h, ok := again.(Range); err != nil || !ok || h.Len != g.Len || h.At(h.Len-1) != list[g.Len-1] {
			t.Fatalf("%q is written %q, which reads as %v, %v", s, g, again, err)
		}
	})
}
