package catalog

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const filtered = `
[[motor]]
id = "slow"
name = "Haldrune SLOW, 6\" long"
kv = 150
shaft_mm = 8
shaft_key = "keyway"
sensored = true
resistance_mohm = 60
[[motor]]
id = "fast"
kv = 200
shaft_mm = 10
sensored = false
owned = true
[[motor]]
id = "old"
kv = 170
note = "and so on"
[[wheel]]
id = "knob"
diameter_mm = 203.2
tyre = "pneumatic"
hub = ["five", "Eight"]
[[wheel]]
id = "quay"
diameter_mm = 97
[[cell]]
id = "cell"
nominal_v = 3.6
full_v = 4.2
cutoff_v = 2.8
capacity_ah = 2.5
`

// pick lists the ids that a filter picks.
func pick(t rapid.TB, c *Catalog, text string, kinds ...string) []string {
	t.Helper()
	f, err := ParseFilter(text, kinds...)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	var out []string
	for e := range c.Entries(kinds...) {
		if f.Match(e) {
			out = append(out, e.Part.ID)
		}
	}
	return out
}

func TestFilter(t *testing.T) {
	c := read(t, filtered)
	tests := []struct{ why, text, want string }{
		{"above", "kv>150", "fast old"},
		{"at least", "kv >= 150", "fast old slow"},
		{"below", "kv < 170", "slow"},
		{"at most", "kv<=170", "old slow"},
		{"equal", "kv = 170", "old"},
		{"unequal", "kv != 170", "fast slow"},
		{"equal within the tolerance", "kv = 170.0000001", "old"},
		{"not below within the tolerance", "kv < 170.0000001", "slow"},
		{"in the key's unit", "diameter_mm = 203.2", "knob"},
		{"in inches", "diameter_mm = 8in", "knob"},
		{"plus and exponent", "kv > +1.6e2", "fast old"},
		{"negative", "kv > -1", "fast old slow"},
		{"a number in quotes", "kv > '160'", "fast old"},
		{"whole numbers, by default of the kind", "sold_in = 4", "knob quay"},
		{"word", "tyre = pneumatic", "knob"},
		{"id", "id = quay", "quay"},
		{"kind", "kind = wheel", "knob quay"},
		{"any but a kind", "kind != wheel", "fast old slow cell"},
		{"contains, whatever the case", "name ~ slow", "slow"},
		{"contains, in quotes", `name ~ "6"" l"`, "slow"},
		{"contains, in single quotes", `name ~ '6" l'`, "slow"},
		{"equal heeds the case", "note = 'And so on'", ""},
		{"a value that is a keyword", `note ~ "and"`, "old"},
		{"flag", "sensored", "slow"},
		{"flag denied", "not sensored", "fast"},
		{"flag compared", "sensored = false", "fast"},
		{"flag unequal", "sensored != false", "slow"},
		{"an absent flag is not known", "sensored or not sensored", "fast slow"},
		{"absence of owned is false", "not owned and kv > 0", "old slow"},
		{"owned is always known", "unknown(owned)", ""},
		{"an item of a list", "hub = five", "knob"},
		{"no item of a list", "hub != six", "knob"},
		{"some item of a list", "hub != five", ""},
		{"an item contains", "hub ~ eig", "knob"},
		{"an absent list is not known", "hub != five or hub = five", "knob"},
		{"unknown", "unknown(resistance_mohm)", "fast old cell"},
		{"unknown, with blanks", "unknown ( resistance_mohm ) and kv>0", "fast old"},
		{"known", "not unknown(shaft_mm)", "fast slow cell knob quay"},
		{"and before or", "kv = 150 or kv = 200 and owned", "fast slow"},
		{"parentheses", "(kv = 150 or kv = 200) and owned", "fast"},
		{"not before and", "not kv = 150 and kv > 0", "fast old"},
		{"not of parentheses", "not (kv = 150 or kv = 170)", "fast"},
		{"twice not", "not not kv = 150", "slow"},
		{"what is not known decides nothing", "resistance_mohm > 50", "slow"},
		{"nor does its opposite", "not resistance_mohm > 50", ""},
		{"a known side decides or", "resistance_mohm > 50 or kv > 0", "fast old slow"},
		{"a known side decides and", "not (resistance_mohm > 50 and kv > 180)", "old slow"},
		{"no blanks", "(kv>150)and(shaft_mm=10)", "fast"},
		{"lines and tabs", "kv\t>\n150", "fast old"},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			if got := strings.Join(pick(t, c, test.text), " "); got != test.want {
				t.Errorf("%s picks %q, want %q", test.text, got, test.want)
			}
		})
	}
	if got := pick(t, c, "diameter_mm > 100", "wheel"); !slices.Equal(got, []string{"knob"}) {
		t.Errorf("among wheels: %v", got)
	}
}

func TestFilterProblems(t *testing.T) {
	tests := []struct {
		why, text string
		kinds     []string
		want      string // column, message, hint
	}{
		{"empty", "", nil, "1 the filter is empty | such as kv > 150"},
		{"blank", "  ", nil, "3 a condition is missing at the end"},
		{"unknown key", "kvv > 150", nil, `1 no key "kvv" in any kind | did you mean kv?`},
		{"upper-case key", "kv > 1 and KV > 150", nil, `12 no key "KV" in any kind | did you mean kv?`},
		{"key of another kind", "tyre = rubber", []string{"motor"}, `1 no key "tyre" in motor | another kind has it: wheel`},
		{"nothing like it", "zzzzzz = 1", []string{"motor", "wheel"}, `1 no key "zzzzzz" in motor, wheel`},
		{"the value first", "150 < kv", nil, `1 no key "150" in any kind | a comparison begins with a key: kv > 150`},
		{"number alone", "kv", nil, "1 kv is compared to nothing | such as kv > 5"},
		{"word alone", "kv > 1 and tyre", nil, "12 tyre is compared to nothing | such as tyre = urethane"},
		{"text alone", "(name)", nil, `2 name is compared to nothing | such as name ~ "text"`},
		{"no value", "kv >", nil, "4 a value is missing after >"},
		{"a keyword for a value", "note ~ and", nil, "6 a value is missing after ~"},
		{"parenthesis for a value", "kv > (150)", nil, "4 a value is missing after >"},
		{"text for a number", "kv > fast", nil, `6 kv is compared to "fast", must be a number of rpm/V`},
		{"decimal comma", "resistance_mohm < 48,5", nil, `19 resistance_mohm is compared to "48,5", must be a number of mΩ | write 48.5, with a decimal point`},
		{"unit of something else", "diameter_mm > 97kg", nil, `15 diameter_mm is compared to "97kg": "kg" is no unit of length | known: mm cm in m ft`},
		{"amount of money", "price > 97EUR", nil, `9 price is compared to "97EUR": prices are compared as numbers, in the catalog's currency`},
		{"unit apart", "diameter_mm > 97 mm", nil, `18 "mm" follows a condition | join conditions with and or or; put a value of several words in quotes`},
		{"word that is never one", "tyre = pneumatc", nil, `8 tyre is never "pneumatc" | did you mean pneumatic?`},
		{"no such kind", "kind = tyre", nil, `8 kind is never "tyre" | did you mean wire?`},
		{"flag as a number", "sensored = 1", nil, `12 sensored is compared to "1", must be true or false`},
		{"order of texts", "name > a", nil, "6 > compares numbers, and name is text"},
		{"order of flags", "owned < true", nil, "7 < compares numbers, and owned is true or false"},
		{"look into a number", "kv ~ 1", nil, "4 ~ looks into texts, and kv is number"},
		{"two equals signs", "kv == 150", nil, "4 == is no operator | write ="},
		{"at least the wrong way", "kv => 150", nil, "4 => is no operator | write >="},
		{"ampersands", "kv > 150 && owned", nil, "10 && is no operator | write and"},
		{"bars", "kv > 150||owned", nil, "9 || is no operator | write or"},
		{"exclamation mark", "!owned", nil, "1 ! is no operator | write not"},
		{"another operator", "kv <=> 1", nil, "4 <=> is no operator | operators: = != < <= > >= ~"},
		{"upper-case joint", "kv > 150 AND owned", nil, `10 "AND" joins nothing | write and`},
		{"several words", "name = two words", nil, `12 "words" follows a condition | join conditions with and or or; put a value of several words in quotes`},
		{"chain", "kv > 100 < 200", nil, "10 a comparison has one operator and one value | write two comparisons and join them with and"},
		{"two conditions", "owned (sensored)", nil, "7 a condition is followed by another | join conditions with and or or"},
		{"two in parentheses", "(owned sensored)", nil, `8 "sensored" follows a condition | join conditions with and or or; put a value of several words in quotes`},
		{"not closed", "kv > 1 and (owned or sensored", nil, "12 ( is not closed"},
		{"closes nothing", "owned)", nil, "6 ) closes nothing"},
		{"empty parentheses", "()", nil, "2 a condition is missing before )"},
		{"no left side", "or owned", nil, "1 a condition is missing before or"},
		{"no right side", "owned and", nil, "10 a condition is missing at the end"},
		{"nothing denied", "not", nil, "4 a condition is missing at the end"},
		{"value first", "'a' = name", nil, "1 a value stands where a condition should | a comparison begins with a key, without quotes"},
		{"quote not closed", `name = "a`, nil, "8 the value is not closed by a quote | a quote in a value in quotes is doubled"},
		{"unknown of nothing", "unknown", nil, "1 unknown takes a key in parentheses | such as unknown(resistance_mohm)"},
		{"unknown of a value", "unknown('kv')", nil, "1 unknown takes a key in parentheses | such as unknown(resistance_mohm)"},
		{"unknown of two", "unknown(kv price)", nil, "1 unknown takes one key in parentheses | such as unknown(resistance_mohm)"},
		{"unknown of no key", "unknown(prise)", nil, `9 no key "prise" in any kind | did you mean price?`},
		{"unknown kind", "unknown(kind)", nil, "9 the kind of a part is always known"},
		{"escape sequence", "\x1b[2J = 1", nil, `1 no key "\x1b[2J" in any kind`},
		{"too long", strings.Repeat("(", MaxFilter+1), nil, "1 the filter is 4097 bytes long, at most 4096"},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			f, err := ParseFilter(test.text, test.kinds...)
			var p *field.Problem
			if f != nil || !errors.As(err, &p) {
				t.Fatalf("read as %v, %v", f, err)
			}
			got := strings.TrimSuffix(strings.Join([]string{field.FormatNumber(float64(p.Column)), p.Message}, " ")+" | "+p.Hint, " | ")
			if got != test.want {
				t.Errorf("says %s\nwant %s", got, test.want)
			}
			checkFilterProblem(t, p)
		})
	}
}

func checkFilterProblem(t *testing.T, p *field.Problem) {
	t.Helper()
	if p.File != "" || p.Line < 1 || p.Column < 1 || p.Message == "" || p.Code == "" {
		t.Errorf("no place, message or code: %+v", p)
	}
	for _, s := range []string{p.Message, p.Source, p.Hint} {
		if wrong := field.CheckText(s); wrong != "" {
			t.Errorf("printed text %s: %q", wrong, s)
		}
	}
}

func TestFilterProblemIsShown(t *testing.T) {
	_, err := ParseFilter("kv > 150 and tyre = pneumatc")
	want := `tyre is never "pneumatc"
    kv > 150 and tyre = pneumatc
                        ^^^^^^^^
    hint: did you mean pneumatic?`
	if diff := cmp.Diff(want, err.Error()); diff != "" {
		t.Errorf("says (-want +got):\n%s", diff)
	}
}

// A key that several kinds have is of one type and unit in all of them, so
// that one comparison is meant for all.
func TestKeysAgree(t *testing.T) {
	first := map[string]field.Info{}
	for _, k := range Kinds() {
		for _, in := range k.Fields {
			if old, ok := first[in.Key]; ok && (classOf(&old) != classOf(&in) || old.Unit != in.Unit || !slices.Equal(old.Words, in.Words)) {
				t.Errorf("%s of %s: %s %s, elsewhere %s %s", in.Key, k.Name, in.Type, in.Unit, old.Type, old.Unit)
			}
			first[in.Key] = in
			if isKeyword(in.Key) || in.Key == kindKey {
				t.Errorf("%s of %s is a word of filters", in.Key, k.Name)
			}
		}
	}
}

// genCondition draws a condition over the keys of all kinds.
func genCondition(depth int) *rapid.Generator[*condition] {
	return rapid.Custom(func(t *rapid.T) *condition {
		if depth > 0 {
			switch op := rapid.SampledFrom([]operator{opOr, opAnd, opNot, opEqual}).Draw(t, "op"); op {
			case opNot:
				return &condition{op: op, left: genCondition(depth-1).Draw(t, "left")}
			case opOr, opAnd:
				return &condition{op: op, left: genCondition(depth-1).Draw(t, "left"), right: genCondition(depth-1).Draw(t, "right")}
			}
		}
		key := rapid.SampledFrom([]string{"id", "name", "note", "kv", "shaft_mm", "sensored", "owned", "hub", "tyre", "price", "width_mm", "kind", "bore_mm", "teeth"}).Draw(t, "key")
		in := keysOf(nil)[key]
		c := &condition{key: key, op: opUnknown, value: operand{class: classOf(in)}}
		switch c.value.class {
		case classNumber:
			c.op = operator(rapid.IntRange(int(opUnknown), int(opAtLeast)).Draw(t, "op"))
			c.value.number = rapid.SampledFrom([]float64{0, 8, 10, 40, 150, 170, 97.5, -1}).Draw(t, "number")
		case classFlag:
			c.op = rapid.SampledFrom([]operator{opUnknown, opEqual, opUnequal}).Draw(t, "op")
			c.value.flag = rapid.Bool().Draw(t, "flag")
		default:
			c.op = rapid.SampledFrom([]operator{opUnknown, opEqual, opUnequal, opContains}).Draw(t, "op")
			c.value.text = rapid.SampledFrom(append([]string{"a", "motor-1", `it's "so"`, "and", "ä", ""}, in.Words...)).Draw(t, "text")
			if in.Words != nil && c.op != opContains {
				c.value.text = rapid.SampledFrom(in.Words).Draw(t, "word")
			}
		}
		if c.op == opUnknown {
			c.value = operand{}
			if key == kindKey {
				c.key = "price"
			}
		}
		return c
	})
}

// A filter is written so that it reads back as the same.
func TestFilterString(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := &Filter{genCondition(4).Draw(t, "filter")}
		got, err := ParseFilter(want.String())
		if err != nil {
			t.Fatalf("%s: %v", want, err)
		}
		if got.String() != want.String() {
			t.Fatalf("%s reads back as %s", want, got)
		}
		c, err := Read(toTOML(genCatalog(t)))
		if err != nil {
			t.Fatal(err)
		}
		for e := range c.Entries() {
			if a, b := want.root.test(e), got.root.test(e); a != b {
				t.Fatalf("%s decides %v on %s, read back %v", want, a, e.Part.ID, b)
			}
		}
	})
}
