package constraints

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// TestBriefKeyAt: every key is found by its path, and by no other.
func TestBriefKeyAt(t *testing.T) {
	for _, k := range BriefKeys() {
		if got, ok := BriefKeyAt(k.Path()); !ok || got.Section != k.Section || got.Key != k.Key || got.Meaning != k.Meaning {
			t.Errorf("%s: %v, %v", k.Path(), got, ok)
		}
	}
	for _, path := range []string{"", "target", "target.", "target.mass_kg", "nothing.mass_kg", "mass_kg"} {
		if k, ok := BriefKeyAt(path); ok {
			t.Errorf("%q finds %s", path, k.Path())
		}
	}
}

// TestEveryKeyHasADefault: a key holds a value unless it is given, or its row
// tells what stands in for it. Targets and limits may be left out, and parts.
func TestEveryKeyHasADefault(t *testing.T) {
	for _, k := range BriefKeys() {
		optional := slices.Contains([]string{"target", "limit", "keep", "avoid"}, k.Section)
		if k.Default == "" && !optional {
			t.Errorf("%s says nothing of what holds unless it is given", k.Path())
		}
	}
	for _, s := range DefaultBrief().Values() {
		for _, k := range s.Keys {
			if k.Differs() || k.Fallback != nil && k.Value == nil {
				t.Errorf("%s.%s is %v in a brief that asks for nothing, and its row says %v", s.Name, k.Key, k.Value, k.Fallback)
			}
		}
	}
}

// TestStarterShowsDefaults: a key behind a "#" in the brief to begin with has
// the default of its row, but for examples of keys that have none.
func TestStarterShowsDefaults(t *testing.T) {
	_, starter := catalog.Starter()
	shown, section := 0, ""
	for line := range strings.Lines(string(starter.Data)) {
		if m := regexp.MustCompile(`^#?\[(\w+)\]`).FindStringSubmatch(line); m != nil {
			section = m[1]
		}
		m := regexp.MustCompile(`^#(\w+) = (\S+)`).FindStringSubmatch(line)
		if m == nil || section == "keep" || section == "avoid" {
			continue
		}
		k, ok := BriefKeyAt(section + "." + m[1])
		if !ok {
			t.Errorf("a brief has no %s.%s", section, m[1])
		}
		if k.Fallback == nil || k.Key == "demote" {
			continue
		}
		shown++
		b := DefaultBrief()
		if err := b.Set(k.Path(), strings.Trim(m[2], `"`), "starter"); err != nil {
			t.Error(err)
		}
		for _, s := range b.Values() {
			for _, v := range s.Keys {
				if v.Differs() {
					t.Errorf("%s = %s, and its default is %s", k.Path(), m[2], field.TOML(k.Fallback))
				}
			}
		}
	}
	if shown < 15 {
		t.Errorf("only %d defaults are shown", shown)
	}
}
