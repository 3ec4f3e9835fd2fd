package catalog

import (
	"os"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
)

// The reference page, as it is read.
func TestReference(t *testing.T) {
	const golden = "testdata/reference.md"
	got := Reference()
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("reference page (-want +got):\n%s", diff)
	}
}

// Every key of every kind stands in the section of its kind with its unit and
// meaning, and each row has as many cells as the table.
func TestReferenceIsWhole(t *testing.T) {
	page := Reference()
	common := page[strings.Index(page, "## Keys of every kind"):strings.Index(page, "## motor")]
	for _, k := range Kinds() {
		_, section, found := strings.Cut(page, "\n## "+k.Name+"\n")
		if !found {
			t.Errorf("no section of %s", k.Name)
			continue
		}
		section, _, _ = strings.Cut(section, "\n#")
		for _, in := range k.Fields {
			line := ""
			for l := range strings.Lines(common + section) {
				if strings.HasPrefix(l, "| `"+in.Key+"`") {
					line = l
				}
			}
			switch {
			case !strings.Contains(line, in.Meaning) || !strings.Contains(line, in.Unit):
				t.Errorf("%s.%s stands as %q", k.Name, in.Key, line)
			case in.Required != strings.Contains(line, "`* |"):
				t.Errorf("%s.%s: required %v, stands as %q", k.Name, in.Key, in.Required, line)
			case classOf(&in) == classNumber && !strings.Contains(line, field.FormatNumber(in.Max)):
				t.Errorf("%s.%s: no range in %q", k.Name, in.Key, line)
			}
		}
	}
	for l := range strings.Lines(page) {
		if bars := strings.Count(l, "|") - strings.Count(l, `\|`); strings.HasPrefix(l, "|") && bars != 5 {
			t.Errorf("%d bars in %q", bars, l)
		}
	}
}

// The ids that families grow are those that the page says.
func TestGrows(t *testing.T) {
	for _, test := range []struct{ kind, body, want string }{
		{"motor", "kv = [170]", "-170"},
		{"battery", "series = [10]\nnominal_v = 36\nfull_v = 42", "-10s1p"},
		{"wire", "awg = [10]", "-10awg"},
		{"wire", "area_mm2 = [2.5]", "-2.5mm2"},
		{"fuse", "rated_a = [80]", "-80a"},
		{"bms", "series = [12]", "-12s"},
		{"charger", "full_v = [50.4]\ncurrent_a = 5", "-50.4v"},
	} {
		c := read(t, "[["+test.kind+"]]\nid = 'x'\n"+test.body)
		if got := ids(c)[0]; got != "x"+test.want {
			t.Errorf("%s grows %s, want %s", test.kind, got, test.want)
		}
		for _, k := range Kinds() {
			if k.Name != test.kind {
				continue
			}
			shape := k.Grows
			for _, in := range k.Fields {
				shape = strings.ReplaceAll(shape, "<"+in.Key+">", "#")
			}
			if strings.ContainsAny(shape, "<>") || !strings.Contains(shape, "#") {
				t.Errorf("%s is said to grow %s", k.Name, k.Grows)
			}
		}
	}
}
