package constraints

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// varied is the build of a kit with a variant.
func varied(t testing.TB, p *Problem, v Variant) *Build {
	t.Helper()
	b, err := p.Vary(kitFile(p), v)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// kitFile is the build file of a kit's first build.
func kitFile(p *Problem) *BuildFile { return first(p).File() }

// figuresOf are all figures of a build, words and unknown numbers included.
func figuresOf(b *Build) map[string]any {
	out := map[string]any{}
	for _, f := range Figures() {
		switch x := f.Value; {
		case f.Word != nil:
			out[f.Name] = f.Word(b)
		case !math.IsNaN(x(b)):
			out[f.Name] = x(b)
		}
	}
	return out
}

// resultsOf are the verdicts of a build by check.
func resultsOf(b *Build) map[string]string {
	out := map[string]string{}
	for _, r := range b.Results() {
		out[r.Name] = r.Verdict.String()
	}
	return out
}

// TestRewoundAlike: with another winding of the same copper the torque for an
// ampere goes with 1/kv, and the heat in the copper for the same thrust stays; so
// does the greatest thrust that the motor's own current allows (any textbook of
// electrical machines).
func TestRewoundAlike(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		kv := rapid.Float64Range(20, 900).Draw(r, "kv")
		p := problem(t, onBelts, "target.climb_grade_pct = 12", "controller.motor_current_a = 2000")
		was, is := varied(t, p, Variant{}), varied(t, p, Variant{KV: kv})
		near := func(what string, a, b float64) {
			t.Helper()
			if !(math.Abs(a-b) <= 1e-9*math.Abs(b)) {
				r.Errorf("kv %v: %s is %v, was %v", kv, what, a, b)
			}
		}
		near("kv × torque constant", kv*is.electrical.K, 150*was.electrical.K)
		near("kv × thrust for an ampere", kv*is.ThrustPerAmpere(), 150*was.ThrustPerAmpere())
		copper := func(b *Build) float64 {
			amps := b.board.MotorCurrentFor(b.ClimbNeed())
			return amps * amps * b.electrical.R
		}
		near("copper loss on the climb", copper(is), copper(was))
		near("thrust of the motor's current", is.ThrustPerAmpere()*is.Motor.PeakCurrent, was.ThrustPerAmpere()*was.Motor.PeakCurrent)
		near("idling torque", is.electrical.NoLoad*is.electrical.K, was.electrical.NoLoad*was.electrical.K)
		near("free speed", is.board.FreeSpeed(36)/kv, was.board.FreeSpeed(36)/150)
		if is.Price().Total() != was.Price().Total() || is.Mass().Total() != was.Mass().Total() || is.Motor.MaxVolts != was.Motor.MaxVolts {
			r.Errorf("kv %v: price, mass or volts changed", kv)
		}
	})
}

// TestStrungIsBought: a pack with another number in series is the pack of as many
// of its cells, of its own numbers and of those of its cells.
func TestStrungIsBought(t *testing.T) {
	for _, tt := range []struct{ why, base, bought string }{
		{"of cells", `cell = "cell"`, `cell = "cell"`},
		{
			"of cells, with numbers of its own", "cell = \"cell\"\nresistance_mohm = 80\nprice = 200\nmass_g = 1500\nwiring_mohm = 7\ndischarge_a = 33\ncapacity_ah = 9",
			"cell = \"cell\"\nresistance_mohm = 104\nprice = 260\nmass_g = 1950\nwiring_mohm = 7\ndischarge_a = 33\ncapacity_ah = 9",
		},
		{
			"without a cell", "nominal_v = 36\nfull_v = 42\ncutoff_v = 30\nprice = 200\ncapacity_ah = 9",
			"nominal_v = 46.8\nfull_v = 54.6\ncutoff_v = 39\nprice = 260\ncapacity_ah = 9",
		},
		{"nothing known of it", "nominal_v = 36\nfull_v = 42", "nominal_v = 46.8\nfull_v = 54.6"},
		{"owned, so that another is bought", "cell = \"cell\"\nowned = true", `cell = "cell"`},
	} {
		t.Run(tt.why, func(t *testing.T) {
			p := problem(t, onBelts, "target.climb_grade_pct = 12", "target.range_km = 20", "target.top_speed_kmh = 30",
				"[[battery]]\nid = \"base\"\nseries = 10\nparallel = 2\n"+tt.base, "[[battery]]\nid = \"bought\"\nseries = 13\nparallel = 2\n"+tt.bought)
			got := varied(t, p, Variant{IDs: map[Slot]string{SlotBattery: "base"}, Series: 13})
			want := varied(t, p, Variant{IDs: map[Slot]string{SlotBattery: "bought"}})
			same := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) })
			if d := cmp.Diff(figuresOf(want), figuresOf(got), same); d != "" {
				t.Errorf("figures (-bought +varied):\n%s", d)
			}
			if d := cmp.Diff(resultsOf(want), resultsOf(got)); d != "" {
				t.Errorf("checks (-bought +varied):\n%s", d)
			}
		})
	}
}

// TestOtherDrives: what becomes of a drive with other teeth or another ratio.
func TestOtherDrives(t *testing.T) {
	const toothed = "[[gear_drive]]\nid = \"toothed\"\ndriver_teeth = 14\ndriven_teeth = 42\nefficiency = 0.95\nprice = 90"
	for _, tt := range []struct {
		why, drive string
		v          Variant
		reduction  float64
		bare       bool
		listed     map[string]string
	}{
		{"pulleys of other teeth", onBelts, Variant{Small: 18, Large: 45}, 2.5, false, map[string]string{"belt": "pass", "mesh": "pass", "profile": "pass", "hub": "pass"}},
		{"pulleys that no belt goes round", onBelts, Variant{Small: 18, Large: 90}, 5, false, map[string]string{"belt": "fail"}},
		{"a ratio in place of pulleys", onBelts, Variant{Ratio: 4.4}, 4.4, true, map[string]string{"belt": "unknown", "mesh": "unknown", "profile": "", "hub": "unknown"}},
		{"a ratio in place of a ratio", onGears, Variant{Ratio: 4.4}, 4.4, false, map[string]string{"belt": "", "mesh": "", "hub": "pass"}},
		{"teeth in place of a ratio", onGears, Variant{Small: 10, Large: 33}, 3.3, true, map[string]string{"belt": "unknown", "mesh": "unknown", "gear-torque": ""}},
		{"teeth in place of teeth", onGears, Variant{IDs: map[Slot]string{SlotGearDrive: "toothed"}, Small: 10, Large: 33}, 3.3, false, map[string]string{"belt": ""}},
	} {
		changes := []string{"target.climb_grade_pct = 12"}
		if tt.drive == onGears {
			changes = append(changes, toothed)
		}
		p := problem(t, tt.drive, changes...)
		was, is := varied(t, p, Variant{IDs: tt.v.IDs}), varied(t, p, tt.v)
		if is.Drive.Reduction != tt.reduction || is.Drive.Bare != tt.bare || is.Drive.Efficiency != was.Drive.Efficiency {
			t.Errorf("%s: reduction %v, bare %v, efficiency %v", tt.why, is.Drive.Reduction, is.Drive.Bare, is.Drive.Efficiency)
		}
		if (tt.bare || tt.listed["belt"] == "pass") && (is.Price().Total() != was.Price().Total() || is.Mass().Total() != was.Mass().Total()) {
			t.Errorf("%s: price %v and mass %v, were %v and %v", tt.why, is.Price(), is.Mass(), was.Price(), was.Mass())
		}
		if got := is.board.Reduction; got != tt.reduction {
			t.Errorf("%s: the board turns %v", tt.why, got)
		}
		verdicts := resultsOf(is)
		for check, want := range tt.listed {
			if verdicts[check] != want {
				t.Errorf("%s: %s is %q, want %q", tt.why, check, verdicts[check], want)
			}
		}
		if tt.bare && (is.ID(SlotGearDrive) != "" || is.ID(SlotMotorPulley) != "") {
			t.Errorf("%s: a bare ratio has the parts %v", tt.why, is.File().IDs)
		}
	}
}

// TestVaryLeavesTheRest: what is varied and nothing else; the problem stays.
func TestVaryLeavesTheRest(t *testing.T) {
	p := problem(t, onBelts, seconds, "target.climb_grade_pct = 12", "target.top_speed_kmh = 30")
	before := derivedOf(p)
	base := varied(t, p, Variant{})
	full := p.Brief.Clone()
	if err := full.Set("target.charge", "full", "test"); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		why  string
		v    Variant
		says func(b *Build) bool
	}{
		{"one motor", Variant{Motors: 1}, func(b *Build) bool { return b.Motors() == 1 && b.Pieces(SlotMotorPulley) == 1 && b.Controllers() == 1 }},
		{"four motors", Variant{Motors: 4}, func(b *Build) bool { return b.Motors() == 4 && b.Price().Total() > base.Price().Total() }},
		{"a full pack", Variant{Brief: full}, func(b *Build) bool { return b.Battery.Pack.Volts == 42 }},
		{"wheels of another size", Variant{Diameter: 0.12}, func(b *Build) bool { return b.Wheel.Radius == 0.06 && b.Wheel.Crr == base.Wheel.Crr }},
		{"another wheel", Variant{IDs: map[Slot]string{SlotWheel: "wheel-2"}}, func(b *Build) bool { return b.Wheel.ID == "wheel-2" }},
	} {
		b := varied(t, p, tt.v)
		if !tt.says(b) {
			t.Errorf("%s: not so", tt.why)
		}
		if b.Problem.PriceReference != p.PriceReference || b.Problem.MassReference != p.MassReference {
			t.Errorf("%s: scored against other prices or masses", tt.why)
		}
		if d := cmp.Diff(before, derivedOf(p)); d != "" {
			t.Fatalf("%s: the problem itself changed (-before +after):\n%s", tt.why, d)
		}
	}
	if d := cmp.Diff(figuresOf(base), figuresOf(varied(t, p, Variant{}))); d != "" {
		t.Errorf("the build itself changed:\n%s", d)
	}
}

// TestSameValueChangesNothing: a value that the build has is no change: it keeps a
// belt that would not be chosen, the gears of a drive and an owned pack.
func TestSameValueChangesNothing(t *testing.T) {
	const narrow = "[[belt]]\nid = \"narrow\"\nprofile = \"t5\"\nteeth = 70\nwidth_mm = 9\nprice = 11"
	owned := []string{"battery.owned = true", "target.climb_grade_pct = 12"}
	belts := problem(t, onBelts, append(owned, narrow)...)
	gears := problem(t, onGears, append(owned, "[[gear_drive]]\nid = \"toothed\"\ndriver_teeth = 14\ndriven_teeth = 42\nprice = 90")...)
	belted, geared := kitFile(belts), kitFile(gears)
	belted.IDs[SlotBelt], geared.IDs[SlotGearDrive] = "narrow", "toothed"
	ids := func(f *BuildFile, slots ...Slot) Variant {
		v := Variant{IDs: map[Slot]string{}}
		for _, s := range slots {
			v.IDs[s] = f.IDs[s]
		}
		return v
	}
	all := ids(belted, SlotMount, SlotMotorPulley, SlotWheelPulley)
	all.KV, all.Series, all.Small, all.Large, all.Diameter, all.Motors = 150, 10, 15, 45, 0.1, belted.Motors
	for _, tt := range []struct {
		why string
		p   *Problem
		f   *BuildFile
		v   Variant
	}{
		{"teeth of the pulleys", belts, belted, Variant{Small: 15, Large: 45}},
		{"the mount", belts, belted, ids(belted, SlotMount)},
		{"a pulley", belts, belted, ids(belted, SlotMotorPulley)},
		{"the belt", belts, belted, ids(belted, SlotBelt)},
		{"the cells in series of an owned pack", belts, belted, Variant{Series: 10}},
		{"the winding", belts, belted, Variant{KV: 150}},
		{"the wheel's size", belts, belted, Variant{Diameter: 0.1}},
		{"all together", belts, belted, all},
		{"teeth of the gears", gears, geared, Variant{Small: 14, Large: 42}},
		{"the ratio of the gears", gears, geared, Variant{Ratio: 3}},
		{"the gear drive", gears, geared, ids(geared, SlotGearDrive)},
	} {
		was, err := tt.p.Vary(tt.f, Variant{})
		if err != nil {
			t.Fatal(err)
		}
		is, err := tt.p.Vary(tt.f, tt.v)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(was.File().IDs, is.File().IDs) + cmp.Diff(figuresOf(was), figuresOf(is)) + cmp.Diff(resultsOf(was), resultsOf(is)); d != "" {
			t.Errorf("%s (-was +is):\n%s", tt.why, d)
		}
		if was, is := was.Drive.Teeth(), is.Drive.Teeth(); was != is {
			t.Errorf("%s: the teeth are %v, were %v", tt.why, is, was)
		}
	}
	another := varied(t, belts, Variant{IDs: map[Slot]string{SlotBelt: "narrow"}, Small: 15, Large: 40})
	if got := another.ID(SlotBelt); got != "narrow" {
		t.Errorf("other teeth on a belt that is named have the belt %q", got)
	}
}

// TestPutParts: what goes out of a build file when another part is put in, and
// whether a drive is left.
func TestPutParts(t *testing.T) {
	belt := map[Slot]string{SlotMotorPulley: "small", SlotWheelPulley: "large", SlotMount: "mount", SlotBelt: "belt", SlotWheel: "wheel"}
	gear := map[Slot]string{SlotGearDrive: "gear", SlotWheel: "wheel"}
	for _, tt := range []struct {
		why       string
		base, put map[Slot]string
		want      []string
		whole     bool
	}{
		{"a wheel", belt, map[Slot]string{SlotWheel: "x"}, []string{"small", "large", "mount", "belt", "x"}, true},
		{"a pulley, and the belt is chosen anew", belt, map[Slot]string{SlotMotorPulley: "x"}, []string{"x", "large", "mount", "wheel"}, true},
		{"a mount with its belt", belt, map[Slot]string{SlotMount: "x", SlotBelt: "y"}, []string{"small", "large", "x", "y", "wheel"}, true},
		{"the mount itself", belt, map[Slot]string{SlotMount: "mount"}, []string{"small", "large", "mount", "belt", "wheel"}, true},
		{"another pulley with the belt itself", belt, map[Slot]string{SlotMotorPulley: "x", SlotBelt: "belt"}, []string{"x", "large", "mount", "belt", "wheel"}, true},
		{"a gear drive", belt, map[Slot]string{SlotGearDrive: "x"}, []string{"x", "wheel"}, true},
		{"one pulley in place of a gear drive", gear, map[Slot]string{SlotMotorPulley: "x"}, []string{"x", "wheel"}, false},
		{"two", gear, map[Slot]string{SlotMotorPulley: "x", SlotWheelPulley: "y"}, []string{"x", "y", "wheel"}, true},
	} {
		f := &BuildFile{Motors: 2}
		for slot, id := range tt.base {
			f.IDs[slot] = id
		}
		if got := f.WholeDrive(tt.put); got != tt.whole {
			t.Errorf("%s: a whole drive: %v", tt.why, got)
		}
		f.put(tt.put)
		got := slices.DeleteFunc(slices.Clone(f.IDs[:]), func(id string) bool { return id == "" })
		slices.Sort(got)
		slices.Sort(tt.want)
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.why, got, tt.want)
		}
	}
}

// TestBeltOutOfPlayMayBeKept: a build's own belt is chosen from when a pulley
// changes, whatever the brief avoids.
func TestBeltOutOfPlayMayBeKept(t *testing.T) {
	p := problem(t, onBelts, seconds, `keep.belt = ["belt-2"]`)
	f := kitFile(p)
	f.IDs[SlotBelt] = "belt"
	for _, v := range []Variant{{IDs: map[Slot]string{SlotMotorPulley: "small-2"}}, {Small: 15, Large: 45}} {
		b, err := p.Vary(f, v)
		if err != nil {
			t.Fatal(err)
		}
		all := b.Problem.Belts
		if b.ID(SlotBelt) == "" {
			t.Errorf("%+v: no belt of %d", v, len(all))
		}
	}
}

// TestStranger: an id that a slot has no part of, with what was meant.
func TestStranger(t *testing.T) {
	p := problem(t, onBelts)
	if _, unknown := SlotWheel.Stranger(p.Catalog, "wheel"); unknown {
		t.Error("wheel is no wheel")
	}
	for id, want := range map[string]string{"wheele": "did you mean wheel?", "motor": "motor is a motor", "cell": "cell is a cell"} {
		if hint, unknown := SlotWheel.Stranger(p.Catalog, id); !unknown || hint != want {
			t.Errorf("%s: %q, %v, want %q", id, hint, unknown, want)
		}
	}
}
