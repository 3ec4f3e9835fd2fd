package search

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// starterProblem is the starter catalog under a brief.
func starterProblem(t *testing.T, parts, brief field.Source) *constraints.Problem {
	t.Helper()
	c, err := catalog.Read(parts)
	if err != nil {
		t.Fatal(err)
	}
	b, err := constraints.ReadBrief(brief)
	if err != nil {
		t.Fatal(err)
	}
	p, err := constraints.NewProblem(c, b)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestStarterRanks: who begins with the starter gets an answer at once: some
// builds do what its brief asks, some do not, and none is undecided.
func TestStarterRanks(t *testing.T) {
	parts, brief := catalog.Starter()
	p := starterProblem(t, parts, brief)
	got, err := Rank(t.Context(), p, Options{Top: 5})
	if err != nil {
		t.Fatal(err)
	}
	if !got.Complete || got.Feasible < 5 || got.Feasible == got.Combinations || got.Unknown != 0 || got.Len() != 5 {
		t.Errorf("%d of %d builds are feasible, %d undecided, %d shown", got.Feasible, got.Combinations, got.Unknown, got.Len())
	}
	kinds := map[bool]int{}
	all, err := Rank(t.Context(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for b := range all.Builds() {
		kinds[b.Build.Drive.Gear != nil]++
	}
	if kinds[true] == 0 || kinds[false] == 0 {
		t.Errorf("%d builds on gears and %d on belts: the starter is to show both", kinds[true], kinds[false])
	}
}

// TestStarterBriefTeaches: what stands behind a "#" in the starter's brief is
// right too, and every key of a brief is there, but for tolerances and the slots of
// keep and avoid.
func TestStarterBriefTeaches(t *testing.T) {
	parts, brief := catalog.Starter()
	behind := regexp.MustCompile(`(?m)^#(\[[a-z]+\]|[a-z_0-9]+ = )`)
	brief.Data = behind.ReplaceAll(brief.Data, []byte("$1"))
	p := starterProblem(t, parts, brief)
	if len(p.Wheels) != 2 || len(p.GearDrives) != 0 {
		t.Errorf("%d wheels and %d gear drives: keep and avoid behind a # are to leave 2 and 0", len(p.Wheels), len(p.GearDrives))
	}
	text := string(brief.Data)
	alike := []string{"tolerance", "keep", "avoid"}
	for _, k := range constraints.BriefKeys() {
		_, section, _ := strings.Cut(text, "\n["+k.Section+"]\n")
		section, _, _ = strings.Cut(section, "\n[")
		if !slices.Contains(alike, k.Section) && !strings.Contains(section, "\n"+k.Key+" = ") && !strings.HasPrefix(section, k.Key+" = ") {
			t.Errorf("%s.%s is not taught", k.Section, k.Key)
		}
	}
}
