package search

import (
	"math/rand/v2"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
)

// TestVariedIsTheBuild: with another part a variant is, to the bit, what its own
// build file gives, and the build itself is what its file gives; cured and added
// are what the two fail, the one without the other.
func TestVariedIsTheBuild(t *testing.T) {
	t.Parallel()
	n := uint64(600)
	if testing.Short() {
		n = 80
	}
	tested, cured, added := 0, 0, 0
	for seed := range n {
		c, ok := newSwapCase(t, seed)
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 5))
		file := fileOf(t, c.ids, c.motors)
		p, err := constraints.NewBuildProblem(c.catalog, file.With(c.brief))
		if err != nil {
			continue
		}
		var variants []constraints.Variant
		var files []*constraints.BuildFile
		for _, slot := range constraints.Slots() {
			ids := c.parts[slot]
			belted := c.ids[constraints.SlotMotorPulley] != ""
			if len(ids) == 0 || !slot.Always() && (slot != constraints.SlotGearDrive) != belted {
				continue
			}
			put := map[constraints.Slot]string{slot: ids[r.IntN(len(ids))]}
			other := map[constraints.Slot]string{}
			for s, id := range c.ids {
				other[s] = id
			}
			other[slot] = put[slot]
			if belted && !slot.Always() && slot != constraints.SlotBelt {
				if c.ids[constraints.SlotBelt] != "" {
					continue // chosen anew, and from that belt too
				}
			}
			variants = append(variants, constraints.Variant{IDs: put})
			files = append(files, fileOf(t, other, c.motors))
		}
		strict := seed%3 == 0
		base, rows, err := Vary(p, file, variants, strict)
		if err != nil {
			continue // a pack that is flat at the brief's charge
		}
		alone, err := p.Find(file)
		if err != nil {
			t.Fatal(err)
		}
		equalScored(t, base, ScoreBuild(alone))
		for i, row := range rows {
			b, err := p.Find(files[i])
			if err != nil {
				t.Fatal(err)
			}
			equalScored(t, row.Scored, ScoreBuild(b))
			was, is := names(alone.Rejections(strict)), names(b.Rejections(strict))
			without := func(a, b []string) []string {
				return slices.DeleteFunc(slices.Clone(a), func(x string) bool { return slices.Contains(b, x) })
			}
			if d := gocmp.Diff(without(was, is), names(row.Cured), cmpopts.EquateEmpty()); d != "" {
				t.Errorf("seed %d: cured (-want +got):\n%s", seed, d)
			}
			if d := gocmp.Diff(without(is, was), names(row.Added), cmpopts.EquateEmpty()); d != "" {
				t.Errorf("seed %d: added (-want +got):\n%s", seed, d)
			}
			tested, cured, added = tested+1, cured+len(row.Cured), added+len(row.Added)
		}
	}
	if tested < int(n) || cured < 20 || added < 20 {
		t.Errorf("%d variants, %d checks cured and %d added: the cases test nothing", tested, cured, added)
	}
}

// equalScored compares two builds in score, ids, figures and outcomes.
func equalScored(t *testing.T, got, want Scored) {
	t.Helper()
	if got.Score != want.Score || !same(got.Build, want.Build) {
		t.Errorf("a score of %v for %s, want %v for %s", got.Score, nameOf(got.Build), want.Score, nameOf(want.Build))
	}
	for _, f := range constraints.Figures() {
		if f.Word != nil {
			if a, b := f.Word(got.Build), f.Word(want.Build); a != b {
				t.Errorf("%s is %v, want %v", f.Name, a, b)
			}
		} else if a, b := f.Value(got.Build), f.Value(want.Build); a != b && (a == a || b == b) {
			t.Errorf("%s is %v, want %v", f.Name, a, b)
		}
	}
	a, b := got.Build.Results(), want.Build.Results()
	if !slices.Equal(names(a), names(b)) {
		t.Errorf("the checks are %v, want %v", names(a), names(b))
		return
	}
	for i := range a {
		if a[i].Verdict != b[i].Verdict {
			t.Errorf("%s is %v, want %v", a[i].Name, a[i].Verdict, b[i].Verdict)
		}
	}
}

// names are the checks of results.
func names(results []constraints.Result) []string {
	var out []string
	for _, r := range results {
		out = append(out, r.Name)
	}
	return out
}

// TestHeadroomAppliesAsTheCheck: the ceiling of a controller that keep and avoid
// leave out counts for a build that has it, in the check and in the score.
func TestHeadroomAppliesAsTheCheck(t *testing.T) {
	for _, tt := range []struct {
		why, ceiling string
		want         bool
	}{
		{"the build's own controller has a ceiling", "controller.erpm_ceiling = 60000", true},
		{"none has", "-controller.erpm_ceiling", false},
	} {
		p := kittest.Problem(t, kittest.Belts, tt.ceiling, `avoid.controller = ["controller"]`, "[[controller]]\nid = \"bare\"")
		f := kittest.First(p).File()
		f.IDs[constraints.SlotController] = "controller"
		base, rows, err := Vary(p, f, []constraints.Variant{{KV: 180}}, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []Scored{base, rows[0].Scored} {
			checked := slices.ContainsFunc(s.Build.Results(), func(r constraints.Result) bool { return r.Name == "erpm" })
			scored := false
			for _, c := range Criteria() {
				scored = scored || c.Name == "headroom" && c.Applies(s.Build.Problem)
			}
			if checked != tt.want || scored != tt.want {
				t.Errorf("%s: listed %v, scored %v, want %v", tt.why, checked, scored, tt.want)
			}
		}
	}
}

// TestVaryTellsWhatChanges: a kv that is too slow, one that does, and one that is
// beyond the ceiling. At 36 V a 3:1 on 100 mm turns 150 rpm/V into 32.2 km/h without
// losses, and 42 V into 6300 rpm and 44 100 electrical.
func TestVaryTellsWhatChanges(t *testing.T) {
	p := kittest.Problem(t, kittest.Belts, "target.top_speed_kmh = 32", "limit.erpm_ceiling = 60000")
	f := kittest.First(p).File()
	base, rows, err := Vary(p, f, []constraints.Variant{{}, {KV: 180}, {KV: 230}, {KV: 230, Series: 8}}, false)
	if err != nil {
		t.Fatal(err)
	}
	if got := names(base.Build.Rejections(false)); !slices.Equal(got, []string{"top-speed"}) {
		t.Fatalf("the build itself fails %v", got)
	}
	for i, want := range []struct{ cured, added []string }{
		{nil, nil}, {[]string{"top-speed"}, nil}, {[]string{"top-speed"}, []string{"erpm"}}, {[]string{"top-speed"}, nil},
	} {
		if got := rows[i]; !slices.Equal(names(got.Cured), want.cured) || !slices.Equal(names(got.Added), want.added) {
			t.Errorf("row %d cures %v and adds %v, want %v and %v", i, names(got.Cured), names(got.Added), want.cured, want.added)
		}
	}
}
