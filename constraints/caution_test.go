package constraints

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// spelled writes cautions by code, check and quantities as shown.
func spelled(cautions []Caution) []string {
	var out []string
	for _, c := range cautions {
		text := string(c.Code)
		if c.Check != "" {
			text += " " + c.Check
		}
		out = append(out, text+spelledQuantities(c.Quantities))
	}
	return out
}

// spelledQuantities writes each after a space, as far as there are any.
func spelledQuantities(list [2]Quantity) string {
	text := ""
	for _, q := range list {
		if q != (Quantity{}) {
			text += strings.TrimRight(fmt.Sprintf(" %.4g %s", q.SI*q.PerSI, q.Unit), " ")
		}
	}
	return text
}

func TestCautions(t *testing.T) {
	for _, tt := range []struct {
		why, kit string
		change   []string
		want     []string
	}{
		{"28 km/h on gears, with grip to spare", onGears, []string{"motor.kv = 100"}, nil},
		{"above 30 km/h", onGears, nil, []string{"brisk 30.79 km/h"}},
		{"a third of the wrap of 12 teeth", onBelts, []string{"motor.kv = 100", "small.teeth = 12"}, []string{"few-in-mesh 4 6"}},
		{"an idler adds wrap that is not counted", onBelts, []string{"motor.kv = 100", "small.teeth = 12", "mount.idler = true"}, []string{"few-in-mesh-idler 4 6"}},
		{"no belt of 20 teeth goes around 15 and 45", onBelts, []string{"motor.kv = 100", "belt.teeth = 20"}, []string{"no-belt-chosen"}},
		{"4.3 V in a cell that is full at 4.2 V", onGears, []string{"motor.kv = 100", "target.charge = 4.3"}, []string{"charged-above-full 43 V 42 V"}},
		{"ice", onGears, []string{"motor.kv = 100", "ground.grip = 0.1"}, []string{"slips-on-flat"}},
		{"ice on a grade", onGears, []string{"motor.kv = 100", "ground.grip = 0.1", "target.climb_grade_pct = 5"}, []string{"slips-on-grade"}},
		{"8 A of 42 V in the way of what the wheels hold from 25 km/h", onGears, []string{"motor.kv = 100", "target.stop_from_kmh = 25"}, []string{"pack-brakes-little 0.9463 m/s² 3.407 m/s²"}},
		{"a pack in the frost takes nothing", onGears, []string{"motor.kv = 100", "target.stop_from_kmh = 25", "ground.temperature_c = -5"}, []string{"pack-brakes-little 0.2619 m/s² 3.407 m/s²"}},
		{"motors that give less than the pack takes", onGears, []string{"motor.kv = 100", "target.stop_from_kmh = 25", "motor.peak_current_a = 3"}, nil},
		{"hard wheels of 100 mm on grass", onGears, []string{"motor.kv = 100", `ground.surface = "grass"`}, []string{"slips-on-flat", "small-hard-wheels 100 mm"}},
		{"of 120 mm", onGears, []string{"motor.kv = 80", `ground.surface = "gravel"`, "wheel.diameter_mm = 120"}, nil},
		{"of rubber", onGears, []string{"motor.kv = 100", `ground.surface = "gravel"`, `wheel.tyre = "rubber"`}, []string{"small-hard-wheels 100 mm"}},
		{"with air", onGears, []string{"motor.kv = 100", `ground.surface = "gravel"`, `wheel.tyre = "pneumatic"`}, nil},
		{"on a rough road", onGears, []string{"motor.kv = 100", `ground.surface = "rough"`}, nil},
		{"wet", onGears, []string{"motor.kv = 100", "ground.wet = true"}, []string{"slips-on-flat", "wet-ground"}},
		{"42 V at a controller of 42 V", onGears, []string{"motor.kv = 100", "controller.max_volts = 42"}, []string{"no-room-for-braking 42 V 42 V"}},
		{"at one of 42.5 V", onGears, []string{"motor.kv = 100", "controller.max_volts = 42.5"}, []string{"no-room-for-braking 42 V 42.5 V"}},
		{"at one of 43 V", onGears, []string{"motor.kv = 100", "controller.max_volts = 43"}, nil},
		{"60 V", onGears, []string{"motor.kv = 60", "battery.series = 15", "cell.full_v = 4", "controller.max_volts = 70"}, []string{"lifts-on-flat", "not-safe-to-touch 60 V"}},
		{"one check fails, another lacks a key", onBelts, []string{"motor.kv = 100", `limit.demote = ["bore", "hub", "profile"]`, "motor.shaft_mm = 10", "-wheel.hub"}, []string{"demoted-fails bore", "demoted-undecided hub"}},
	} {
		got := build(t, tt.kit, append([]string{"target.stop_from_kmh = 5"}, tt.change...)...).Cautions()
		if d := cmp.Diff(tt.want, spelled(got)); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
		for _, c := range got {
			if !slices.Contains(CautionCodes(), c.Code) {
				t.Errorf("%s: %s is not among the codes", tt.why, c.Code)
			}
		}
	}
}

// TestCautionsOfANamedBelt: a build file's belt that cannot go around the pulleys is
// warned of, with a mount and without, where the check of the belt is not decided.
func TestCautionsOfANamedBelt(t *testing.T) {
	bare := strings.Replace(beltFile, "mount = \"mount\"\n", "", 1)
	for _, tt := range []struct {
		why, file string
		change    []string
		want      []string
	}{
		{"a belt that fits", beltFile, nil, nil},
		{"the same without a mount", bare, nil, nil},
		{"20 teeth round 15 and 45", beltFile, []string{"belt.teeth = 20"}, []string{"belt-not-around"}},
		{"the same without a mount", bare, []string{"belt.teeth = 20"}, []string{"belt-not-around"}},
		{"so short that the pulleys would touch", bare, []string{"belt.teeth = 49"}, []string{"belt-not-around"}},
		{"a belt of another profile", bare, []string{`belt.profile = "gt-5"`}, []string{"belt-off-profile"}},
		{"pulleys of two profiles", bare, []string{`small.profile = "gt-5"`}, []string{"belt-off-profile"}},
	} {
		p := problem(t, onBelts, append([]string{"motor.kv = 100", "target.stop_from_kmh = 5"}, tt.change...)...)
		b, err := p.Find(readBuild(t, tt.file))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(tt.want, spelled(b.Cautions())); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
	}
}

// TestEveryCautionHasAHarm: the rows are whole, and no code has two.
func TestEveryCautionHasAHarm(t *testing.T) {
	seen := map[CautionCode]bool{}
	for _, code := range CautionCodes() {
		if h := code.Harm(); h < Burns || h > Costs {
			t.Errorf("what may come of caution %s is not told", code)
		}
		if seen[code] {
			t.Errorf("caution %s has two rows", code)
		}
		seen[code] = true
	}
}

// TestEveryAssumptionHasASway: likewise.
func TestEveryAssumptionHasASway(t *testing.T) {
	seen := map[AssumptionCode]bool{}
	for _, code := range AssumptionCodes() {
		if s := code.Sway(); s < SwaysVerdicts || s > SwaysLittle {
			t.Errorf("how far assumption %s sways an answer is not told", code)
		}
		if seen[code] {
			t.Errorf("assumption %s has two rows", code)
		}
		seen[code] = true
	}
}

// TestAppendCautions: what was there stays, and once there is room nothing is
// allocated.
func TestAppendCautions(t *testing.T) {
	b := build(t, onBelts, "small.teeth = 12", "target.charge = 4.3")
	list := b.AppendCautions(EveryBoard())
	if n := len(EveryBoard()); !slices.Equal(list[:n], EveryBoard()) || !slices.Equal(list[n:], b.Cautions()) {
		t.Errorf("appended: %v", spelled(list))
	}
	if n := testing.AllocsPerRun(10, func() { list = b.AppendCautions(list[:0]) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// TestGeneralCautions: what rear motors brake with at most is the most over the
// counts and wheels in play, (κ_b + Crr) g: 0.32939 + 0.018 of g on asphalt with
// two, 0.21558 + 0.018 with one, and four brake all wheels.
func TestGeneralCautions(t *testing.T) {
	const rubber = "[[wheel]]\nid = \"rubber\"\ndiameter_mm = 100\nhub = \"spoke\"\ntyre = \"rubber\""
	for _, tt := range []struct {
		why    string
		change []string
		most   string // in m/s²; "": not said
	}{
		{"two", nil, "3.407"},
		{"one or two", []string{"board.motors = [1, 2]"}, "3.407"},
		{"one", []string{"board.motors = [1]"}, "2.291"},
		{"four beside two", []string{"board.motors = [2, 4]"}, "3.407"},
		{"four", []string{"board.motors = [4]"}, ""},
		{"another wheel that rolls harder", []string{rubber}, "3.427"},
	} {
		p := problem(t, onGears, tt.change...)
		want := spelled(EveryBoard())
		if tt.most != "" {
			want = append([]string{"rear-brakes " + tt.most + " m/s² 3.5 m/s²"}, want...)
		}
		if d := cmp.Diff(want, spelled(p.GeneralCautions())); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
	}
	if d := cmp.Diff("rear-brakes 3.407 m/s² 3.5 m/s²", spelled(build(t, onGears, rubber, `keep.wheel = ["wheel"]`).GeneralCautions())[0]); d != "" {
		t.Errorf("of a build (-want +got):\n%s", d)
	}
}
