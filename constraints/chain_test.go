package constraints

import (
	"math"
	"testing"

	"gearsearch/drive"
)

const onHill = "target.climb_grade_pct = 15"

// resultOf is what a check finds, which must be listed.
func resultOf(t *testing.T, b *Build, name string) Result {
	t.Helper()
	r, listed := result(b, name)
	if !listed {
		t.Fatalf("%s is not listed", name)
	}
	return r
}

func TestChainDrive(t *testing.T) {
	b := build(t, onChains, onHill, "wheel.diameter_mm = 150")
	d := b.Drive
	if !d.Chained() || d.Belt == nil || d.Belt.ID != "chain" || d.belt != Pass {
		t.Fatalf("%+v", d)
	}
	// C from 40 = 2C/p + 21 + (18/2π)² p/C, by hand: (19 + √(19² − 8·8.2069))/4 pitches.
	k2 := math.Pow(18/(2*math.Pi), 2)
	centre := (19 + math.Sqrt(19*19-8*k2)) / 4 * 9.525
	if got := d.Centre * mm; !near(got, centre, 1e-12) {
		t.Errorf("centre distance %v mm, want %v", got, centre)
	}
	if got := 2*centre/9.525 + 21 + k2*9.525/centre; !near(got, 40, 1e-12) {
		t.Errorf("that takes %v links", got)
	}
	// The wrap on the small pitch circle, p/sin(π/z), in its teeth.
	da, db := 9.525/math.Sin(math.Pi/12), 9.525/math.Sin(math.Pi/30)
	wrap := math.Pi - 2*math.Asin((db-da)/(2*centre))
	if want := int(12 * wrap / (2 * math.Pi)); d.Mesh != want {
		t.Errorf("%d teeth in mesh, want %d", d.Mesh, want)
	}
	if d.Efficiency != 0.97 || d.Reduction != 2.5 {
		t.Errorf("efficiency %v, reduction %v", d.Efficiency, d.Reduction)
	}
	// The plates of 06C are 9.05 mm high and stand on the pitch circle.
	if got, want := d.Outside*mm, (db+9.05)/2; !near(got, want, 1e-12) {
		t.Errorf("outside radius %v mm, want %v", got, want)
	}
	if got, want := b.BeltPull(), b.WheelTorque()/(2.5*0.97)/(da/2000); !near(got, want, 1e-12) {
		t.Errorf("pull %v N, want %v", got, want)
	}
	if got := resultOf(t, b, "belt-load"); got.Limit != 1000 || got.Verdict != Pass {
		t.Errorf("belt-load %+v, want an eighth of 8000 N", got)
	}
}

// The chain is the one that bears most, then the one nearest the middle; an odd one
// never.
func TestChainChoice(t *testing.T) {
	chain := func(id, keys string) string {
		return "[[chain]]\nid = \"" + id + "\"\nprofile = \"chain-06c\"\n" + keys
	}
	tests := []struct {
		why   string
		shelf []string
		want  string
	}{
		{"the nearest to the middle of the mount's range, 90 mm", []string{chain("a", "links = 38"), chain("b", "links = 40"), chain("c", "links = 44")}, "b"},
		{"the stronger before the nearer", []string{chain("a", "links = 38\nbreaking_n = 9000"), chain("b", "links = 40")}, "a"},
		{"what ISO 606 asks of it where it does not say, 7900 N", []string{chain("a", "links = 38\nbreaking_n = 7800"), chain("b", "links = 44")}, "b"},
		{"no chain of odd links, though it is nearest and strongest", []string{chain("a", "links = 39\nbreaking_n = 9000"), chain("b", "links = 44")}, "b"},
		{"a chain of another pitch", []string{"[[chain]]\nid = \"a\"\nprofile = \"chain-05b\"\nlinks = 40"}, ""},
		{"too short", []string{chain("a", "links = 22")}, ""},
		{"a belt", []string{"[[belt]]\nid = \"a\"\nprofile = \"htd-5m\"\nteeth = 75"}, ""},
		{"of equals the lower id", []string{chain("b", "links = 40"), chain("a", "links = 40")}, "a"},
	}
	for _, test := range tests {
		k := newKit(onChains, append([]string{"-chain"}, test.shelf...)...)
		d := problemOf(t, k).Drives[0]
		got := ""
		if d.Belt != nil {
			got = d.Belt.ID
		}
		if got != test.want || (d.belt == Pass) != (test.want != "") {
			t.Errorf("%s: %q (%v), want %q", test.why, got, d.belt, test.want)
		}
	}
}

func TestChainsUnchosen(t *testing.T) {
	k := newKit(onChains,
		"[[chain]]\nid = \"odd\"\nprofile = \"chain-06c\"\nlinks = 41",
		"[[chain]]\nid = \"short\"\nprofile = \"chain-06c\"\nlinks = 22",
		"[[chain]]\nid = \"fine\"\nprofile = \"chain-04c\"\nlinks = 60",
		"[[chain]]\nid = \"weak\"\nprofile = \"chain-06c\"\nlinks = 38\nbreaking_n = 3000")
	got := map[string]Unchosen{}
	for _, u := range problemOf(t, k).UnchosenBelts() {
		got[u.Belt.ID] = u.Why
	}
	want := map[string]Unchosen{"odd": ChainOdd, "short": BeltTooShort, "fine": BeltNoPulleys, "weak": BeltOutdone}
	if len(got) != len(want) {
		t.Errorf("%v, want %v", got, want)
	}
	for id, why := range want {
		if got[id] != why {
			t.Errorf("%s: %v, want %v", id, got[id], why)
		}
	}
}

// A sprocket and a pulley never go together, nor sprockets of two chains.
func TestSprocketsOfOneChain(t *testing.T) {
	for why, large := range map[string]string{
		"a pulley on the wheel":       "[[pulley]]\nid = \"l\"\nside = \"wheel\"\nprofile = \"htd-5m\"\nteeth = 45",
		"a sprocket of another chain": "[[sprocket]]\nid = \"l\"\nside = \"wheel\"\nprofile = \"chain-05b\"\nteeth = 30",
	} {
		b := build(t, onChains, "-large", large)
		if r := resultOf(t, b, "profile"); r.Verdict != Fail {
			t.Errorf("%s: %v", why, r.Verdict)
		}
		if r := resultOf(t, b, "belt"); r.Verdict != Fail {
			t.Errorf("%s: belt %v", why, r.Verdict)
		}
	}
}

// What bears the climb, an idler or not: what a chain bears does not go by the teeth in
// mesh.
func TestChainLoad(t *testing.T) {
	for _, idler := range []string{"false", "true"} {
		b := build(t, onChains, "chain.breaking_n = 500", onHill, "mount.idler = "+idler)
		if r := resultOf(t, b, "belt-load"); r.Verdict != Fail || r.Limit != 500.0/8 {
			t.Errorf("idler %s: %v of %v", idler, r.Value, r.Limit)
		}
	}
	b := build(t, onChains, "-chain.breaking_n", onHill)
	if r := resultOf(t, b, "belt-load"); r.Limit != 7900.0/8 {
		t.Errorf("without a breaking load %v, want an eighth of ISO 606's", r.Limit)
	}
	found := false
	for _, a := range b.Assumptions() {
		found = found || a.Code == NumberAssumed && a.Key == "breaking_n" && a.IDs[0] == "chain" && a.Quantities[0].SI == 7900
	}
	if !found {
		t.Errorf("it is assumed, and not said: %+v", b.Assumptions())
	}
}

func TestChainCautions(t *testing.T) {
	codes := func(changes ...string) map[CautionCode]Caution {
		out := map[CautionCode]Caution{}
		for _, c := range build(t, onChains, changes...).Cautions() {
			out[c.Code] = c
		}
		return out
	}
	for _, teeth := range []string{"12", "11"} {
		if got := codes("small.teeth = " + teeth); got[ChainAsks].Code == "" || got[ChainUneven].Code != "" || got[NoBeltChosen].Code != "" {
			t.Errorf("%s teeth: %v", teeth, got)
		}
	}
	// 1 − cos(π/10) = 4.9 %.
	got := codes("small.teeth = 10")
	if c := got[ChainUneven]; c.Quantities[0].SI != 10 || !near(c.Quantities[1].SI, drive.Unevenness(10), 1e-12) || math.Abs(c.Quantities[1].SI-0.0489) > 0.0001 {
		t.Errorf("10 teeth: %v", c)
	}
	if got := codes("chain.links = 24"); got[NoChainChosen].Code == "" {
		t.Errorf("24 links: %v", got)
	}
	if got := codes("small.teeth = 9"); got[FewOnSprocket].Code == "" || got[FewInMesh].Code != "" {
		t.Errorf("9 teeth: %v", got)
	}
}
