package catalog

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog/field"
)

// keyLine is a key of the starter with its value, behind a "#" or not.
var keyLine = regexp.MustCompile(`^(#?)([a-z_0-9]+) = ([^#]*[^# ])\s*(#.*)?$`)

// The starter reads without a problem and has parts of every kind.
func TestStarter(t *testing.T) {
	parts, brief := Starter()
	c, err := Read(parts)
	if err != nil {
		t.Fatal(err)
	}
	checkCatalog(t, c)
	for _, k := range c.Count() {
		if k.N == 0 && k.Kind != "profile" {
			t.Errorf("no %s", k.Kind)
		}
	}
	v, ok := instance(t, parts)
	if !ok {
		t.Fatal("not TOML")
	}
	if err := compiledSchema(t).Validate(v); err != nil {
		t.Error(err)
	}
	parts.Data[0], brief.Data[0] = 'x', 'x'
	if again, more := Starter(); again.Data[0] == 'x' || more.Data[0] == 'x' {
		t.Error("changing the text changes the next")
	}
}

// What stands behind a "#" is right too: with all of it taken in the starter
// still reads, and each key is in it.
func TestStarterTeachesEveryKey(t *testing.T) {
	parts, _ := Starter()
	lines := strings.Split(string(parts.Data), "\n")
	var all []string
	taught := map[string][]string{} // kind.key: the comments beside it
	kind := ""
	for i, line := range lines {
		if header := strings.TrimPrefix(line, "#"); strings.HasPrefix(header, "[[") {
			kind = strings.Trim(header, "[]")
			line = header
		}
		if m := keyLine.FindStringSubmatch(line); m != nil {
			taught[kind+"."+m[2]] = append(taught[kind+"."+m[2]], m[4])
			line = strings.TrimPrefix(line, "#")
		}
		if len(lines[i]) > 120 {
			t.Errorf("line %d is %d bytes long", i+1, len(lines[i]))
		}
		all = append(all, line)
	}
	c, err := Read(Source{Name: "all.toml", Data: []byte(strings.Join(all, "\n"))})
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Profiles) != 1 || len(c.GearDrives) != 2 {
		t.Errorf("%d profiles and %d gear drives behind a #", len(c.Profiles), len(c.GearDrives))
	}
	common := partFields(func(p *Part) *Part { return p }, "")
	for _, k := range Kinds() {
		for _, in := range k.Fields {
			comments, ok := taught[k.Name+"."+in.Key]
			everywhere := slices.ContainsFunc(common, func(f field.Field[Part]) bool { return f.Key == in.Key })
			if !ok && (!everywhere || k.Name == "motor") {
				t.Errorf("%s.%s is not taught", k.Name, in.Key)
			}
			for _, comment := range comments {
				if in.Required && !everywhere && !strings.HasPrefix(comment, "# required") {
					t.Errorf("%s.%s is not said to be required", k.Name, in.Key)
				}
				needed := in.Required || slices.ContainsFunc(k.Choice, func(g Group) bool { return slices.Contains(g.Keys, in.Key) })
				if !needed && strings.HasPrefix(comment, "# required") {
					t.Errorf("%s.%s is said to be required", k.Name, in.Key)
				}
			}
			if len(in.Words) > 0 && !in.ID {
				for _, word := range in.Words {
					if !strings.Contains(string(parts.Data), `"`+word+`"`) {
						t.Errorf("the word %s of %s.%s is not taught", word, k.Name, in.Key)
					}
				}
			}
		}
	}
	for _, word := range []string{"qualified", "burn", "local law", "armour", "invented"} {
		if !strings.Contains(string(parts.Data), word) {
			t.Errorf("the starter does not say %s", word)
		}
	}
}

// The smallest catalog is at most fifteen lines of data, and has a part in each
// slot.
func TestLeast(t *testing.T) {
	src := Least()
	c, err := Read(src)
	if err != nil {
		t.Fatal(err)
	}
	lines := 0
	for line := range strings.Lines(string(src.Data)) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			lines++
		}
	}
	if lines > 15 {
		t.Errorf("%d lines", lines)
	}
	if len(c.Motors) != 1 || len(c.Controllers) != 1 || len(c.Batteries) != 1 || len(c.GearDrives) != 1 || len(c.Wheels) != 1 {
		t.Errorf("%+v", c.Count())
	}
}

// A part behind others leaves every byte before it as it is, whatever ends the
// lines; of a list it is the last item.
func TestWith(t *testing.T) {
	k, _ := KindNamed("mount")
	keys := []Entered{{"centre_max_mm", "90"}, {"id", `"m"`}, {"centre_min_mm", "60"}}
	for before, want := range map[string]string{
		"schema = 1":                                      "schema = 1\n\n[[mount]]\nid = \"m\"\ncentre_min_mm = 60\ncentre_max_mm = 90\n",
		"schema = 1 # x\r\n":                              "schema = 1 # x\r\n\r\n[[mount]]\r\nid = \"m\"\r\ncentre_min_mm = 60\r\ncentre_max_mm = 90\r\n",
		"schema = 1\nmount = [] # none\n":                 "schema = 1\nmount = [{ id = \"m\", centre_min_mm = 60, centre_max_mm = 90 }] # none\n",
		"schema = 1\nmount = [{ id = \"a, b\" },\n# ]\n]": "schema = 1\nmount = [{ id = \"a, b\" },\n# ]\n{ id = \"m\", centre_min_mm = 60, centre_max_mm = 90 }]",
	} {
		if got := string(k.With(Source{Name: "x.toml", Data: []byte(before)}, keys)); got != want {
			t.Errorf("%q became %q, want %q", before, got, want)
		}
	}
}
