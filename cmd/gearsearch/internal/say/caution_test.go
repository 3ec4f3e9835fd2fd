package say

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
)

// TestCautionsReadAloud: what a builder should know of a build, in words.
func TestCautionsReadAloud(t *testing.T) {
	var tr record
	for _, c := range []struct {
		name, kit string
		change    []string
	}{
		{"nothing to say", kittest.Gears, []string{"motor.kv = 100"}},
		{"fast", kittest.Gears, nil},
		{"few teeth in mesh", kittest.Belts, []string{"motor.kv = 100", "small.teeth = 12"}},
		{"few teeth in mesh, an idler", kittest.Belts, []string{"motor.kv = 100", "small.teeth = 12", "mount.idler = true"}},
		{"a chain", kittest.Chains, []string{"motor.kv = 100", "large.teeth = 18", "chain.links = 34"}},
		{"a chain on few teeth", kittest.Chains, []string{"motor.kv = 100", "small.teeth = 9"}},
		{"a chain on few teeth, an idler", kittest.Chains, []string{"motor.kv = 100", "small.teeth = 9", "mount.idler = true"}},
		{"no chain", kittest.Chains, []string{"motor.kv = 100", "chain.links = 24"}},
		{"no belt", kittest.Belts, []string{"motor.kv = 100", "belt.teeth = 20"}},
		{"charged above full", kittest.Gears, []string{"motor.kv = 100", "target.charge = 4.3"}},
		{"slipping on the flat", kittest.Gears, []string{"motor.kv = 100", "ground.grip = 0.1"}},
		{"slipping on a grade", kittest.Gears, []string{"motor.kv = 100", "ground.grip = 0.1", "target.climb_grade_pct = 5"}},
		{"demoted", kittest.Belts, []string{"motor.kv = 100", `limit.demote = ["bore", "hub", "profile"]`, "motor.shaft_mm = 10", "-wheel.hub"}},
		{"60 V, a controller of 60 V and braking in the wet", kittest.Gears, []string{"motor.kv = 60", "battery.series = 15", "cell.full_v = 4", "ground.wet = true"}},
		{"small hard wheels on grass", kittest.Gears, []string{"motor.kv = 100", `ground.surface = "grass"`}},
		{"all at once", kittest.Belts, []string{"small.teeth = 12", "mount.idler = true", "target.charge = 4.3", "ground.grip = 0.2", "target.climb_grade_pct = 20", `limit.demote = ["mesh"]`}},
	} {
		tr.add(c.name, c.kit+"\n"+strings.Join(c.change, "\n"), strings.Join(CautionsOf(kittest.Build(t, c.kit, c.change...), quantity.Metric), "\n"))
	}
	tr.add("an answer", "", strings.Join(GeneralCautions(kittest.Problem(t, kittest.Gears).GeneralCautions(), quantity.Metric), "\n"))
	tr.check(t, "cautions.txt")
}

// TestEveryCautionHasWords: no code is without, and there are no words without
// a code.
func TestEveryCautionHasWords(t *testing.T) {
	codes := constraints.CautionCodes()
	for _, code := range codes {
		if cautionWords[code].text == "" {
			t.Errorf("caution %s has no words", code)
		}
		if short := cautionWords[code].short; short == "" || len(short) > 70 {
			t.Errorf("caution %s: say it in a few words, not %q", code, short)
		}
	}
	for code := range cautionWords {
		if !slices.Contains(codes, code) {
			t.Errorf("there is no caution %s", code)
		}
	}
}

// TestGravestCaution: what burns comes before what does not stop, that before what
// throws the rider, and all before wear and money; of equals a build's own is named.
func TestGravestCaution(t *testing.T) {
	every := constraints.EveryBoard()
	lifts, touch := constraints.Caution{Code: constraints.LiftsOnGrade}, constraints.Caution{Code: constraints.NotSafeToTouch}
	weak := constraints.Caution{Code: constraints.PackBrakesLittle}
	for _, tt := range []struct {
		why     string
		builds  [][]constraints.Caution
		general []constraints.Caution
		want    string
	}{
		{"nothing but what every board has", nil, every, "5, all with --full; gravest: lithium packs burn"},
		{"one that is less grave is named beside it", [][]constraints.Caution{{inMesh(5), lifts}}, every, "7, all with --full; gravest: lithium packs burn; full thrust on the hill lifts the front wheels"},
		{"brakes before a fall", [][]constraints.Caution{{lifts, weak}}, every[:1], "3, all with --full; gravest: the pack takes too little current to brake hard"},
		{"of equals the build's own", [][]constraints.Caution{{touch}}, every, "6, all with --full; gravest: the full pack has 0, not safe to touch"},
		{"the builds that have it", [][]constraints.Caution{{lifts}, {}, {lifts}}, nil, "1, all with --full; gravest: full thrust on the hill lifts the front wheels (1, 3)"},
		{"those that differ in numbers are one", [][]constraints.Caution{{brisk(31)}, {brisk(33)}}, nil, "1, all with --full; gravest: wear pads too"},
	} {
		var own Cautions
		for i, list := range tt.builds {
			own.Add(i+1, list)
		}
		if got := FirstCautions(&own, tt.general, quantity.Metric); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.why, got, tt.want)
		}
	}
}

func TestSpans(t *testing.T) {
	for _, tt := range []struct {
		in   []int
		want string
	}{
		{[]int{1}, "1"},
		{[]int{1, 2}, "1, 2"},
		{[]int{1, 2, 3}, "1–3"},
		{[]int{1, 3, 4, 5, 6, 9, 10}, "1, 3–6, 9, 10"},
	} {
		if got := Spans(tt.in); got != tt.want {
			t.Errorf("%v: %q, want %q", tt.in, got, tt.want)
		}
	}
}

// brisk is a caution about a top speed in km/h, and inMesh about whole teeth.
func brisk(kmh float64) constraints.Caution {
	q := constraints.Quantity{SI: kmh / 3.6, PerSI: 3.6, Unit: "km/h", Digits: constraints.OneDecimal}
	return constraints.Caution{Code: constraints.Brisk, Quantities: [2]constraints.Quantity{q}}
}

func inMesh(teeth float64) constraints.Caution {
	return constraints.Caution{Code: constraints.FewInMesh, Quantities: [2]constraints.Quantity{{SI: teeth, PerSI: 1}, {SI: 6, PerSI: 1}}}
}

// TestCautions: cautions of one code are one sentence, from the least number to
// the most as shown, with the ranks that it is for; those about another check
// are another.
func TestCautions(t *testing.T) {
	const law = ": wear pads too, and check that local law allows it"
	const pull = " in mesh on the small pulley: below 6 a belt carries less than its handbook pull and skips sooner"
	for _, tt := range []struct {
		why    string
		system quantity.System
		builds [][]constraints.Caution
		want   []Caution
	}{
		{"three builds with two cautions", quantity.Metric, [][]constraints.Caution{
			{brisk(35.2), inMesh(5)}, {brisk(36)}, {brisk(33.9), inMesh(4)},
		}, []Caution{{"", "top speed 33.9–36.0 km/h" + law}, {"1, 3", "4–5 whole teeth" + pull}}},
		{"in other units", quantity.Imperial, [][]constraints.Caution{{brisk(35.2)}, {brisk(36)}}, []Caution{{"", "top speed 21.9–22.4 mph" + law}}},
		{"the same as shown", quantity.Metric, [][]constraints.Caution{{brisk(35.21)}, {brisk(35.22)}}, []Caution{{"", "top speed 35.2 km/h" + law}}},
		{"one tooth and more", quantity.Metric, [][]constraints.Caution{{inMesh(1)}, {inMesh(2)}}, []Caution{{"", "1–2 whole teeth" + pull}}},
		{"one tooth", quantity.Metric, [][]constraints.Caution{{inMesh(1)}}, []Caution{{"", "1 whole tooth" + pull}}},
		{"two checks", quantity.Metric, [][]constraints.Caution{
			{{Code: constraints.DemotedFails, Check: "hub"}}, {{Code: constraints.DemotedFails, Check: "bore"}},
		}, []Caution{
			{"1", "hub fails, but the brief demotes it: it rejects nothing"},
			{"2", "bore fails, but the brief demotes it: it rejects nothing"},
		}},
	} {
		var c Cautions
		for i, build := range tt.builds {
			c.Add(i+1, build)
		}
		if d := cmp.Diff(tt.want, c.List(tt.system)); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
	}
}

// TestAppendCaution: a caution about a speed is written without allocating.
func TestAppendCaution(t *testing.T) {
	c, space := brisk(35.2), make([]byte, 0, 200)
	if n := testing.AllocsPerRun(10, func() { space = AppendCaution(space[:0], c, quantity.Metric) }); n != 0 {
		t.Errorf("%v allocations for %q", n, space)
	}
}
