package catalog

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// slips are what is wrong with a draft, "key: message" sorted.
func slips(c Checked) []string {
	var out []string
	for _, s := range c.Wrong {
		text := s.Key + ": " + s.Problem.Message
		if s.Problem.Hint != "" {
			text += " (" + s.Problem.Hint + ")"
		}
		out = append(out, text)
	}
	slices.Sort(out)
	return out
}

func TestCheckDrafts(t *testing.T) {
	for _, tt := range []struct {
		why   string
		kind  string
		cells string // key=text separated by ;
		said  string
		wrong []string
	}{
		{"numbers in the key's unit, a name that gives the id", "motor", "name=Big Bertha 170;kv=170;shaft_mm=8", "id=big-bertha-170", nil},
		{"another unit is converted and told", "wheel", "id=w;diameter_mm=8in", "diameter_mm=203.2 mm", nil},
		{"a decimal comma is understood and told", "motor", "id=m;kv=170;resistance_mohm=34,5", "resistance_mohm=34.5 mΩ", nil},
		{"so it is beside a unit", "wheel", "id=w;diameter_mm=9,7 cm", "diameter_mm=97 mm", nil},
		{"thousands or a decimal comma", "motor", "id=m;kv=1,500", "", []string{`kv: "1,500" can be read in two ways (write 1500 or 1.5)`}},
		{"what must be there is missing at its key", "motor", "id=m", "", []string{`kv: motor "m" has no kv (speed constant, from the line-to-line peak EMF, in rpm/V)`}},
		{"out of range", "motor", "id=m;kv=170000", "", []string{"kv: kv is 170000, must be 5 to 10000 rpm/V (170 would fit: is the unit rpm/V?)"}},
		{"a unit of something else", "wheel", "id=w;diameter_mm=97 V", "", []string{`diameter_mm: diameter_mm is "97 V": "V" is no unit of length (known: mm cm in m ft)`}},
		{"a word that is near one", "pulley", "id=p;side=moter;profile=htd-5m;teeth=16", "", []string{`side: side is "moter", must be "motor" or "wheel" (did you mean "motor"?)`}},
		{"a reference to no part", "pulley", "id=p;side=motor;profile=htd-5n;teeth=16", "", []string{`profile: no profile "htd-5n" in the catalog (did you mean htd-5m?)`}},
		{"keys that go together", "battery", "id=b;series=10", "", []string{`: battery "b" has neither cell nor nominal_v (name its cell, or give nominal_v and full_v of the whole pack)`}},
		{"an id of the files beside", "wheel", "id=there;diameter_mm=97", "", []string{`id: id "there" is given twice, first at shop.toml:3:6`}},
		{"yes and lists as people write them", "wheel", "id=w;diameter_mm=97;owned=yes;hub=a, b", "", nil},
		{"a range of whole numbers", "pulley", "id=p;side=motor;profile=htd-5m;teeth=12..16", "", nil},
		{"a range with decimal commas", "wheel", "id=w;diameter_mm=80..100/2,5", `diameter_mm="80..100/2.5" mm`, nil},
		{"a range without its step", "wheel", "id=w;diameter_mm=80..100", "", []string{`diameter_mm: diameter_mm is the range "80..100" without a step, which a key that is not whole needs (put the step behind it, as in "80..100/0.5")`}},
		{"no kind", "seat", "id=s", "", []string{`: there is no kind "seat"`}},
	} {
		d := Draft{tt.kind, map[string]string{}}
		for pair := range strings.SplitSeq(tt.cells, ";") {
			key, text, _ := strings.Cut(pair, "=")
			d.Cells[key] = text
		}
		beside := Source{Name: "shop.toml", Data: []byte("schema = 1\n[[wheel]]\nid = \"there\"\ndiameter_mm = 90\n")}
		list, file := CheckDrafts("own.toml", []Draft{d}, beside)
		if diff := cmp.Diff(tt.wrong, slips(list[0])); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, diff)
		}
		var said []string
		for _, key := range slices.Sorted(maps.Keys(list[0].Said)) {
			said = append(said, key+"="+list[0].Said[key])
		}
		if got := strings.Join(said, ";"); got != tt.said && (tt.said != "" || len(tt.wrong) == 0) {
			t.Errorf("%s: said %q, want %q", tt.why, got, tt.said)
		}
		if (file.Data == nil) != (len(tt.wrong) > 0) {
			t.Errorf("%s: the file is\n%s", tt.why, file.Data)
		}
		if file.Data != nil {
			if _, err := Read(beside, file); err != nil {
				t.Errorf("%s: the file does not read: %v\n%s", tt.why, err, file.Data)
			}
		}
	}
}

// TestDraftsThatLeanOnOthers: a part that refers to one that is wrong is wrong
// itself, and those that are right are in the file.
func TestDraftsThatLeanOnOthers(t *testing.T) {
	cell := Draft{"cell", map[string]string{"id": "c", "nominal_v": "3.6", "full_v": "4.2", "cutoff_v": "2.5", "capacity_ah": "4"}}
	pack := Draft{"battery", map[string]string{"id": "b", "series": "10", "cell": "c"}}
	wheel := Draft{"wheel", map[string]string{"id": "w", "diameter_mm": "97"}}
	twin := Draft{"wheel", map[string]string{"id": "w", "diameter_mm": "107"}}
	list, file := CheckDrafts("own.toml", []Draft{pack, cell, wheel, twin})
	if len(list[0].Wrong)+len(list[1].Wrong)+len(list[2].Wrong) > 0 || len(list[3].Wrong) != 1 || list[3].Wrong[0].Key != "id" {
		t.Errorf("%q %q %q %q", slips(list[0]), slips(list[1]), slips(list[2]), slips(list[3]))
	}
	c, err := Read(file)
	if err != nil || len(c.Wheels) != 1 || len(c.Batteries) != 1 {
		t.Fatalf("%v\n%s", err, file.Data)
	}
	cell.Cells["full_v"] = "2"
	list, file = CheckDrafts("own.toml", []Draft{pack, cell, wheel})
	if len(list[0].Wrong) != 1 || list[0].Wrong[0].Key != "cell" || len(list[1].Wrong) == 0 {
		t.Errorf("%q %q", slips(list[0]), slips(list[1]))
	}
	if c, err := Read(file); err != nil || len(c.Wheels) != 1 || len(c.Cells)+len(c.Batteries) != 0 {
		t.Errorf("%v\n%s", err, file.Data)
	}
}

// TestDraftsOfTheDemo: every part of the demo goes through drafts and back as it
// was.
func TestDraftsOfTheDemo(t *testing.T) {
	var drafts []Draft
	for _, src := range DemoSources() {
		some, err := Drafts(src)
		if err != nil {
			t.Fatal(err)
		}
		drafts = append(drafts, some...)
	}
	list, file := CheckDrafts("own.toml", drafts)
	for i, c := range list {
		if len(c.Wrong) > 0 {
			t.Errorf("%v: %q", drafts[i], slips(c))
		}
	}
	got, err := Read(file)
	if err != nil {
		t.Fatal(err)
	}
	want, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	var a, b strings.Builder
	got.Title = want.Title
	for c, out := range map[*Catalog]*strings.Builder{want: &a, got: &b} {
		if err := c.WriteTOML(out); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(a.String(), b.String()); diff != "" {
		t.Errorf("(-demo +drafts):\n%s", diff)
	}
}
