package field

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/pelletier/go-toml/v2"
	"pgregory.net/rapid"
)

// plain turns a section into what a general TOML decoder makes of it, numbers
// as float64 and dates as their kind.
func plain(s Section) map[string]any {
	m := map[string]any{}
	for e := range s.Entries() {
		m[e.Key()] = plainValue(e.Value)
	}
	return m
}

func plainValue(v Value) any {
	switch v.Kind() {
	case KindSection:
		s, _ := v.Section()
		return plain(s)
	case KindList:
		list := []any{}
		for item := range v.Items() {
			list = append(list, plainValue(item))
		}
		return list
	case KindInteger, KindFloat:
		x, _ := parseNumber([]byte(v.String()), v.Kind())
		return x
	case KindFlag:
		return v.String() == "true"
	case KindDate:
		return KindDate
	}
	return v.String()
}

// library turns what the TOML library decoded into the same form.
func library(v any) any {
	switch v := v.(type) {
	case map[string]any:
		m := map[string]any{}
		for k, x := range v {
			m[k] = library(x)
		}
		return m
	case []any:
		list := []any{}
		for _, x := range v {
			list = append(list, library(x))
		}
		return list
	case int64:
		return float64(v)
	case string, bool, float64:
		return v
	}
	return KindDate
}

// sameAsLibrary holds Parse to the TOML library: the same documents are
// refused, and the others hold the same values.
func sameAsLibrary(t interface {
	Helper()
	Fatalf(string, ...any)
}, doc string,
) {
	t.Helper()
	var want map[string]any
	refused := toml.Unmarshal([]byte(doc), &want)
	var r Report
	got := Parse(Source{Name: "doc.toml", Data: []byte(doc)}, &r)
	switch err := r.Err(); {
	case refused != nil && err == nil:
		t.Fatalf("the library refuses this and we do not: %v\n%s", refused, doc)
	case refused == nil && err != nil:
		t.Fatalf("the library accepts this and we do not: %v\n%s", err, doc)
	case refused == nil:
		if diff := cmp.Diff(library(want), any(plain(got.Root())), cmpopts.EquateNaNs(), cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("values differ from the library's (-library +ours):\n%s\n%s", diff, doc)
		}
	}
}

// genDocument draws documents of few names, so that keys and headers collide
// in every way.
func genDocument(t *rapid.T) string {
	name := rapid.SampledFrom([]string{"a", "b", "c", `"a"`, "'b'", `"d e"`, `"\u0061"`})
	key := rapid.Custom(func(t *rapid.T) string {
		return strings.Join(rapid.SliceOfN(name, 1, 3).Draw(t, "key"), rapid.SampledFrom([]string{".", " . "}).Draw(t, "dot"))
	})
	var value func(depth int) *rapid.Generator[string]
	value = func(depth int) *rapid.Generator[string] {
		scalars := rapid.SampledFrom([]string{
			"1", "-2", "+3", "0.5", "1e3", "1_000", "0x1F", "0b101", "0o17", "inf", "-nan", "true", "false",
			`"text"`, `'literal'`, `"esc\t\u00e9"`, "\"\"\"\nmore\nlines\"\"\"", "'''\nmore'''", `""`, `"""a""b"""`,
			"1979-05-27", "07:32:00", "1979-05-27T07:32:00Z", "1979-02-30", "9223372036854775808", "1e999", "00", "1__0", ".5", "5.",
		})
		if depth == 0 {
			return scalars
		}
		return rapid.OneOf(scalars, scalars, rapid.Custom(func(t *rapid.T) string {
			items := rapid.SliceOfN(value(depth-1), 0, 3).Draw(t, "items")
			return "[" + strings.Join(items, rapid.SampledFrom([]string{",", " , ", ",\n# c\n"}).Draw(t, "comma")) + "]"
		}), rapid.Custom(func(t *rapid.T) string {
			var pairs []string
			for range rapid.IntRange(0, 3).Draw(t, "pairs") {
				pairs = append(pairs, key.Draw(t, "key")+" = "+value(depth-1).Draw(t, "value"))
			}
			return "{" + strings.Join(pairs, ", ") + "}"
		}))
	}
	var b strings.Builder
	for range rapid.IntRange(0, 8).Draw(t, "expressions") {
		switch rapid.IntRange(0, 5).Draw(t, "form") {
		case 0:
			fmt.Fprintf(&b, "[%s]", key.Draw(t, "table"))
		case 1:
			fmt.Fprintf(&b, "[[%s]]", key.Draw(t, "array"))
		default:
			fmt.Fprintf(&b, "%s = %s", key.Draw(t, "key"), value(2).Draw(t, "value"))
		}
		b.WriteString(rapid.SampledFrom([]string{"\n", "\r\n", " # comment\n", "\n\n"}).Draw(t, "end"))
	}
	return b.String()
}

func TestParseAgreesWithLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			sameAsLibrary(t, genDocument(t))
		}
	})
}

// The cases below are examples of the TOML 1.0 specification and what follows
// from it.
func TestParseRules(t *testing.T) {
	tests := []struct{ why, doc string }{
		{"empty", ""},
		{"comment only", "# c"},
		{"implied table gets its header later", "[a.b]\nx=1\n[a]\ny=2\n"},
		{"table twice", "[a]\n[b]\n[a]\n"},
		{"dotted table gets no header", "a.b.c=1\n[a.b]\n"},
		{"dotted table may be gone through", "[fruit]\napple.color=1\n[fruit.apple.taste]\nsweet=true\n"},
		{"dotted key does not open a table with a header", "[a.b]\n[a]\nb.c=1\n"},
		{"table where an array of tables is", "[[a]]\n[a]\n"},
		{"array of tables where a table is", "[a]\n[[a]]\n"},
		{"array of tables where a value is", "a=[]\n[[a]]\n"},
		{"nested arrays of tables", "[[a]]\n[[a.b]]\nx=1\n[[a.b]]\nx=2\n[[a]]\n[[a.b]]\nx=3\n"},
		{"sub-table of the last item", "[[a]]\nx=1\n[[a]]\n[a.b]\ny=2\n"},
		{"inline table is closed", "a={b=1}\n[a.c]\n"},
		{"inline table is closed to dotted keys", "a={b=1}\na.c=2\n"},
		{"dotted keys in an inline table", "a={b.c=1, b.d=2}"},
		{"duplicate in an inline table", "a={b=1, b=2}"},
		{"duplicate in an inline table in a list", "a=[{b=1}, {b=1, b=2}]"},
		{"quoted and bare names are one", "a=1\n\"a\"=2\n"},
		{"empty key", "\"\"=1"},
		{"value after a table of the same name", "[a]\n[b]\na=1\n"},
		{"newline in a basic string", "a=\"x\ny\""},
		{"text after a value", "a=1 b=2"},
		{"carriage return alone", "a=1\rb=2"},
		{"control character in a comment", "# \x01\na=1"},
		{"invalid UTF-8", "a=\"\xff\""},
		{"surrogate escape", `a="\ud800"`},
		{"line continuation", "a=\"\"\"x \\\n   y\"\"\""},
		{"quotes at the end of a multi-line text", `a=""""x"""""`},
		{"date that is none", "a=2021-02-29"},
		{"leap day", "a=2020-02-29"},
		{"hour of one digit", "a=2020-01-01 0:00"},
		{"hour of one digit without a date", "a=7:30"},
		{"offset of a day", "a=2020-01-01T00:00:00+24:00"},
		{"offset of sixty minutes", "a=2020-01-01T00:00:00-01:60"},
		{"greatest offset", "a=2020-01-01T00:00:00+23:59"},
		{"offset of one digit", "a=2020-01-01T00:00:00+1:00"},
		{"leap second", "a=2016-12-31T23:59:60Z"},
		{"comma in a second", "a=[07:32:00,5]"},
		{"no digits behind the second", "a=07:32:00."},
		{"many digits behind the second", "a=07:32:00.1234567891234567891"},
		{"small letters", "a=2020-01-01t00:00:00z"},
		{"twenty-four o'clock", "a=24:00:00"},
		{"largest integer", "a=9223372036854775807"},
		{"integer too large", "a=9223372036854775808"},
		{"float too large", "a=1e400"},
		{"float too small", "a=1e-400"},
		{"hexadecimal too large", "a=0x8000000000000000"},
		{"nested lists", "a=[[1,[2]],[]]"},
		{"header then the same dotted", "[a.b.c]\nz=9\n[a]\nb.c.t=1\n"},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) { sameAsLibrary(t, test.doc) })
	}
}

func FuzzParse(f *testing.F) {
	for _, doc := range []string{
		"", "a=1\n[b]\nc.d='x'\n[[e]]\nf=[1,{g=2}]\n", "\xef\xbb\xbfa=1", "a=\"\"\"\n\\u0041\"\"\"", "[a.b]\n[a]\n", "a={b.c=1}\n[a]", "a=[\n1,\n#x\n2]",
		"[[motor]\nid=\"x\nkv=0,5\n[motor]\nkv=yes\nx=“1”", "a=1979-05-27 07:32:00", "a=07:32", "b=1979-05-27T00:32:00.5-07:00", "\x00", "a=\"\x1b[2J\"",
	} {
		f.Add(doc)
	}
	f.Fuzz(func(t *testing.T, doc string) {
		var r Report
		Parse(Source{Name: "fuzz.toml", Data: []byte(doc)}, &r, "motor")
		checkProblems(t, r.Err())
		if withinLimits(doc) {
			sameAsLibrary(t, doc)
		}
	})
}

// withinLimits reports whether a document keeps within our own limits and does
// not begin with a byte order mark, which we allow and the library does not.
func withinLimits(doc string) bool {
	return !strings.HasPrefix(doc, "\xef\xbb\xbf") && !strings.HasPrefix(doc, "\xff\xfe") && !strings.HasPrefix(doc, "\xfe\xff") &&
		strings.Count(doc, "=") < MaxKeys && strings.Count(doc, ",") < MaxItems &&
		strings.Count(doc, ".")+strings.Count(doc, "[")+strings.Count(doc, "{") < MaxDepth-1
}

// checkProblems holds problems to what every reader of them relies on: they
// have a place, and print without control characters.
func checkProblems(t *testing.T, err error) {
	t.Helper()
	if err == nil {
		return
	}
	for _, p := range err.(Problems) {
		if p.Message == "" || p.Code == "" || p.dropped == 0 && (p.Line < 1 || p.Column < 1 || p.File == "") {
			t.Errorf("problem without a place, code or message: %+v", p)
		}
		if p.Caret < 0 || p.Width < 0 || p.Caret+p.Width > 400 {
			t.Errorf("caret out of bounds: %+v", p)
		}
		for _, s := range []string{p.File, p.Message, p.Source, p.Hint} {
			if wrong := CheckText(s); wrong != "" {
				t.Errorf("a printed text %s: %q", wrong, s)
			}
		}
	}
}

// TestMoments holds what counts as a date or time to the decoder of the TOML
// library.
func TestMoments(t *testing.T) {
	digits := func(t *rapid.T, n int, most int) string {
		return fmt.Sprintf("%0*d", n, rapid.IntRange(0, most).Draw(t, "number"))
	}
	rapid.Check(t, func(t *rapid.T) {
		date := digits(t, 4, 9999) + "-" + digits(t, 2, 13) + "-" + digits(t, 2, 32)
		clock := digits(t, 2, 24) + ":" + digits(t, 2, 60) + rapid.SampledFrom([]string{"", ":" + digits(t, 2, 61), ":" + digits(t, 2, 61) + ".5", ":00.123456789"}).Draw(t, "seconds")
		offset := rapid.SampledFrom([]string{"", "Z", "z", "+01:00", "-23:59"}).Draw(t, "offset")
		text := rapid.SampledFrom([]string{date, clock, date + "T" + clock, date + " " + clock, date + "t" + clock + offset, date + "T" + clock + offset}).Draw(t, "text")
		var into map[string]any
		if want := toml.Unmarshal([]byte("x="+text), &into) == nil; isMoment(text) != want {
			t.Fatalf("%s is a moment: %v, the library says %v", text, isMoment(text), want)
		}
	})
}
