package layout

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func textOf(t *testing.T, text *Text, s Style) string {
	t.Helper()
	var b strings.Builder
	if err := text.Write(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func markdownOf(t *testing.T, text *Text) string {
	t.Helper()
	var b strings.Builder
	if err := text.WriteMarkdown(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// sample is a table with all that a table can have.
func sample() *Table {
	t := &Table{Columns: []Column{
		{Right: true},
		{Title: "mΩ", Right: true, Stack: "n"},
		{Title: "by", Right: true, Stack: "n"},
		{Title: "motor", Stack: "p"},
		{Title: "pack", Stack: "p"},
		{Title: "name", Extra: true},
	}}
	t.Add("1", "84.2", "volts", "long-motor-id-150", "pack-12s4p", "Übermotor 日本")
	t.Add("12", "7", "erpm", "m-2", "p", "x")
	return t
}

func TestTable(t *testing.T) {
	for _, tt := range []struct {
		width int
		why   string
		want  string
	}{
		{80, "all fits", `
      mΩ     by  motor              pack        name
──────────────────────────────────────────────────────────────
 1  84.2  volts  long-motor-id-150  pack-12s4p  Übermotor 日本
12     7   erpm  m-2                p           x
`},
		{61, "one column short: the extra column goes", `
      mΩ     by  motor              pack
──────────────────────────────────────────────
 1  84.2  volts  long-motor-id-150  pack-12s4p
12     7   erpm  m-2                p
`},
		{45, "then columns are stacked, and there is room for the extra one", `
       mΩ  motor              name
       by  pack
────────────────────────────────────────────
 1   84.2  long-motor-id-150  Übermotor 日本
    volts  pack-12s4p
12      7  m-2                x
     erpm  p
`},
	} {
		text := &Text{}
		text.Table(sample())
		if diff := cmp.Diff(tt.want, "\n"+textOf(t, text, Style{Width: tt.width})); diff != "" {
			t.Errorf("%d columns, %s: %s", tt.width, tt.why, diff)
		}
	}
}

func TestTableAsList(t *testing.T) {
	table := &Table{Columns: []Column{{Title: "id"}, {Title: "name"}, {}}}
	table.Add(strings.Repeat("a", 30), strings.Repeat("b ", 30), "")
	table.Add("c", "", strings.Repeat("d", 50))
	text := &Text{}
	text.Table(table)
	want := `
id: aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa
  name: b b b b b b b b b b b b b b b b
  b b b b b b b b b b b b b b

id: c
  dddddddddddddddddddddddddddddddddddddddddddddddddd
`
	if diff := cmp.Diff(want, "\n"+textOf(t, text, Style{Width: 40})); diff != "" {
		t.Error(diff)
	}
}

// TestDearColumn: the gaps of a bare table close before a dear column goes, but not
// where numbers have spaces in them.
func TestDearColumn(t *testing.T) {
	table := &Table{Bare: true, Columns: []Column{
		{Title: "a score of a hundred in points", Right: true},
		{Title: "km", Right: true},
		{Title: "EUR", Right: true},
		{Title: "mass", Right: true, Extra: true},
		{Title: "battery", Extra: true, Turn: 1, Dear: true},
		{Title: "alike", Right: true},
	}}
	table.Add("82.0", "31", Count(1610), "19.0", "power-14s4p", "+17")
	for _, tt := range []struct {
		width int
		why   string
		want  string
	}{
		{66, "all fits", "\na score of a hundred in points km    EUR  mass  battery      alike\n                          82.0 31  1 610  19.0  power-14s4p    +17\n"},
		{65, "the cheap column goes first", "\na score of a hundred in points km    EUR  battery      alike\n                          82.0 31  1 610  power-14s4p    +17\n"},
		{58, "then the gaps close, except before 1 610", "\na score of a hundred in points km    EUR battery     alike\n                          82.0 31  1 610 power-14s4p   +17\n"},
		{57, "then the dear column goes", "\na score of a hundred in points km    EUR  alike\n                          82.0 31  1 610    +17\n"},
		{46, "then the gaps close again", "\na score of a hundred in points km    EUR alike\n                          82.0 31  1 610   +17\n"},
	} {
		text := &Text{}
		text.Table(table)
		if diff := cmp.Diff(tt.want, "\n"+textOf(t, text, Style{Width: tt.width})); diff != "" {
			t.Errorf("%d columns, %s: %s", tt.width, tt.why, diff)
		}
	}
}

func TestWrappedColumn(t *testing.T) {
	table := &Table{Columns: []Column{{Title: "check"}, {Title: "passes when", Wrap: true, Least: 16}}}
	table.Add("bore", "the motor pulley fits the shaft of the motor")
	table.Add("hub", "it fits")
	text := &Text{}
	text.Table(table)
	want := `
check  passes when
────────────────────────────────────────
bore   the motor pulley fits the shaft
       of the motor
hub    it fits
`
	if diff := cmp.Diff(want, "\n"+textOf(t, text, Style{Width: 40})); diff != "" {
		t.Error(diff)
	}
}

func TestPage(t *testing.T) {
	text := &Text{}
	text.Heading("Builds")
	text.Table(sample().leaner()[0].Table)
	text.Paragraph("A paragraph that is longer than the forty columns of the page.")
	text.List(nil)
	text.List([]string{"short", "an item that is longer than the page is wide"})
	text.Heading("Why")
	text.Entry("speed: 30 km/h", Note{Label: "formula", Text: "v = a t"}, Note{Label: "by", Text: "a source with a name that is long"})
	text.Entry("mass: 12 kg")
	text.Verbatim("a command --that is=longer than --the page, and is not broken")
	want := `
Builds
       mΩ  motor
       by  pack
────────────────────────────
 1   84.2  long-motor-id-150
    volts  pack-12s4p
12      7  m-2
     erpm  p

A paragraph that is longer than the
forty columns of the page.

  - short
  - an item that is longer than the page
    is wide

Why
speed: 30 km/h
    formula  v = a t
    by       a source with a name that
             is long

mass: 12 kg

  a command --that is=longer than --the page, and is not broken
`
	if diff := cmp.Diff(want, "\n"+textOf(t, text, Style{Width: 40})); diff != "" {
		t.Error(diff)
	}
	want = `
## Builds

|  | mΩ | by | motor | pack |
| ---:| ---:| ---:| --- | --- |
| 1 | 84.2 | volts | long-motor-id-150 | pack-12s4p |
| 12 | 7 | erpm | m-2 | p |

A paragraph that is longer than the forty columns of the page.

- short
- an item that is longer than the page is wide

## Why

- speed: 30 km/h
  - formula: v = a t
  - by: a source with a name that is long

- mass: 12 kg

` + "```" + `
a command --that is=longer than --the page, and is not broken
` + "```\n"
	if diff := cmp.Diff(want, "\n"+markdownOf(t, text)); diff != "" {
		t.Error(diff)
	}
}

func TestColourAddsOnly(t *testing.T) {
	table := &Table{Columns: []Column{{Title: "n", Right: true}, {Title: "word"}}}
	table.Rows = [][]Cell{{{Text: "3%!", Tone: Warn}, {Text: "fail", Tone: Bad}}, {{Text: "20%"}, {Text: "pass"}}}
	text := &Text{}
	text.Heading("Head")
	text.Table(table)
	coloured := textOf(t, text, Style{Width: 80, Colour: true})
	for _, want := range []string{"\x1b[1mHead\x1b[0m", "\x1b[33m3%!\x1b[0m", "\x1b[31mfail\x1b[0m"} {
		if !strings.Contains(coloured, want) {
			t.Errorf("no %q in %q", want, coloured)
		}
	}
	bare := strings.NewReplacer("\x1b[0m", "", "\x1b[1m", "", "\x1b[2m", "", "\x1b[31m", "", "\x1b[33m", "").Replace(coloured)
	if diff := cmp.Diff(textOf(t, text, Style{Width: 80}), bare); diff != "" {
		t.Error(diff)
	}
}

func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-zé日×]{1,12}`), 1, 30).Draw(t, "words")
		width := rapid.IntRange(1, 60).Draw(t, "width")
		lines := Wrap(strings.Join(words, " "), width)
		if got := strings.Join(lines, " "); got != strings.Join(words, " ") {
			t.Fatalf("%q, want the same words", got)
		}
		for i, line := range lines {
			if Width(line) > width && strings.Contains(line, " ") {
				t.Fatalf("line %q is wider than %d", line, width)
			}
			if i > 0 {
				first, _, _ := strings.Cut(line, " ")
				if Width(lines[i-1])+1+Width(first) <= width {
					t.Fatalf("%q could stand on the line before", first)
				}
			}
		}
	})
}

// TestNoTableIsWider: a table fits the page whatever its cells, unless a word
// is wider than the page; and no cell is cut.
func TestNoTableIsWider(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := &Table{}
		n := rapid.IntRange(1, 10).Draw(t, "columns")
		for range n {
			table.Columns = append(table.Columns, Column{
				Title: rapid.StringMatching(`[a-z]{0,8}`).Draw(t, "title"),
				Right: rapid.Bool().Draw(t, "right"),
				Wrap:  rapid.Bool().Draw(t, "wrap"),
				Stack: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "stack"),
			})
		}
		var all []string
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			var row []string
			for range n {
				word := rapid.StringMatching(`[a-z0-9日-]{0,20}`).Draw(t, "cell")
				row, all = append(row, word), append(all, word)
			}
			table.Add(row...)
		}
		s := Style{Width: rapid.IntRange(40, 130).Draw(t, "width")}
		text := table.text(s)
		for line := range strings.SplitSeq(text, "\n") {
			if Width(line) > s.Width {
				t.Fatalf("line is %d wide: %q", Width(line), line)
			}
		}
		for _, word := range all {
			if !strings.Contains(text, word) {
				t.Fatalf("%q is not in\n%s", word, text)
			}
		}
	})
}

func TestEscape(t *testing.T) {
	for _, tt := range []struct{ text, want, why string }{
		{"plain text, with 2.5 and (this).", "plain text, with 2.5 and (this).", "nothing to escape"},
		{"top_speed_kmh", "top_speed_kmh", "an underscore inside a word"},
		{"_top_", `\_top\_`, "underscores around one"},
		{"a*b [x](y) <z> `c` \\", "a\\*b \\[x\\](y) \\<z\\> \\`c\\` \\\\", "the rest"},
		{"# 1", `\# 1`, "a heading"},
		{"- 1", `\- 1`, "a list"},
		{"1. first", `1\. first`, "a numbered list"},
		{"12.5 first", "12.5 first", "a number"},
		{"3 - 2", "3 - 2", "a dash that is not at the beginning"},
	} {
		if got := Escape(tt.text); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.why, got, tt.want)
		}
	}
}

func TestMarkdownCellCannotLeaveItsCell(t *testing.T) {
	table := &Table{Columns: []Column{{Title: "name"}}}
	table.Add("a|b <script>")
	text := &Text{}
	text.Table(table)
	if got := markdownOf(t, text); !strings.Contains(got, `| a\|b \<script\> |`) {
		t.Error(got)
	}
}

func TestFenceIsLongerThanWhatItHolds(t *testing.T) {
	text := &Text{}
	text.Verbatim("echo '```'")
	if got := markdownOf(t, text); got != "````\necho '```'\n````\n" {
		t.Error(got)
	}
}

// A legend explains what is laid out: extra columns only where there is room for
// them, what stands in their place only where there is not, signs only where a
// word ends with them.
func TestLegend(t *testing.T) {
	table := &Table{
		Columns: []Column{{Title: "build"}, {Title: "heat", Extra: true}, {Title: "watch", Spare: true}},
		Legend: []Gloss{
			{Titles: []string{"build", "heat", "noise"}, Text: ": what it is"},
			{Titles: []string{"noise"}, Text: ": nowhere"},
			{Titles: []string{"heat"}, Text: " in °C"},
			{Sign: "!", Text: ": thin"},
			{Sign: "!!", Text: ": beyond"},
			{Sign: "?", Text: ": open"},
			{Text: "the end"},
		},
	}
	table.Add("a-long-name-of-a-build-to-fill-a-line", "3% of what it may be", "heat! hub?")
	for _, tt := range []struct {
		why   string
		width int
		want  string
	}{
		{"room for all: the signs are in the spare column", 80, "build, heat: what it is; heat in °C; the end."},
		{"the extra column goes, the spare one comes", 55, "build: what it is; !: thin; ?: open; the end."},
	} {
		var out Text
		out.Table(table)
		text := textOf(t, &out, Style{Width: tt.width})
		_, got, _ := strings.Cut(text, "\n\n")
		if got = strings.Join(strings.Fields(got), " "); got != tt.want {
			t.Errorf("%s: %q, want %q\n%s", tt.why, got, tt.want, text)
		}
	}
	var text Text
	text.Table(table)
	if got := markdownOf(t, &text); !strings.Contains(got, "\n\nbuild, heat: what it is; heat in °C; the end.\n") || strings.Contains(got, "watch") {
		t.Errorf("Markdown is a wide page:\n%s", got)
	}
	table.Legend = []Gloss{{Sign: "!!", Text: ": beyond"}}
	if got := textOf(t, &text, Style{Width: 80}); strings.Contains(got, "beyond") {
		t.Errorf("an empty legend is none:\n%s", got)
	}
}

// TestWithin: gaps are left out where there is no room for them, and only there.
func TestWithin(t *testing.T) {
	for _, tt := range []struct {
		lines int
		want  string
	}{
		{0, "Builds\none\n\na  b\nc  d e f\n"},
		{5, "Builds\none\n\na  b\nc  d e f\n"},
		{4, "Builds\none\na  b\nc  d e f\n"},
	} {
		text := &Text{}
		text.Heading("Builds")
		text.Paragraph("one")
		text.Notes(Note{Label: "a", Text: "b"}, Note{Label: "n"}, Note{Label: "c", Text: "d e f", Typed: true})
		text.Within(tt.lines)
		if got := textOf(t, text, Style{Width: 40}); got != tt.want {
			t.Errorf("within %d lines: %q, want %q", tt.lines, got, tt.want)
		}
	}
}
