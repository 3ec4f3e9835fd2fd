package constraints

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// seconds is a second part for each slot of the kit on belts, and a gear drive.
// The second belt is too short for the pulleys.
const seconds = `[[battery]]
id = "battery-2"
series = 8
parallel = 2
cell = "cell"
[[controller]]
id = "controller-2"
channels = 2
price = 150
[[motor]]
id = "motor-2"
kv = 120
price = 100
sold_in = 3
[[wheel]]
id = "wheel-2"
diameter_mm = 110
hub = "spoke"
price = 25
[[pulley]]
id = "small-2"
side = "motor"
profile = "htd-5m"
teeth = 14
width_mm = 15
bore_mm = 8
[[pulley]]
id = "large-2"
side = "wheel"
profile = "htd-5m"
teeth = 50
width_mm = 15
hub = "spoke"
[[belt]]
id = "belt-2"
profile = "htd-5m"
teeth = 20
width_mm = 15
[[mount]]
id = "mount-2"
centre_min_mm = 50
centre_max_mm = 130
[[gear_drive]]
id = "gear"
ratio = 3
`

// tried tells which parts and drives a problem has, one word each.
func tried(p *Problem) string {
	var out []string
	for _, b := range p.Batteries {
		out = append(out, b.ID)
	}
	for _, c := range p.Controllers {
		out = append(out, c.ID)
	}
	for _, m := range p.Motors {
		out = append(out, m.ID)
	}
	for _, w := range p.Wheels {
		out = append(out, w.ID)
	}
	for _, d := range p.Drives {
		switch {
		case d.Gear != nil:
			out = append(out, d.Gear.ID)
		case d.Belt == nil:
			out = append(out, fmt.Sprintf("%s/%s/%s/-", d.MotorPulley.ID, d.WheelPulley.ID, d.Mount.ID))
		default:
			out = append(out, fmt.Sprintf("%s/%s/%s/%s", d.MotorPulley.ID, d.WheelPulley.ID, d.Mount.ID, d.Belt.ID))
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}

// TestFree: what is freed is what keep and avoid leave, the rest is the
// build's whatever they say.
func TestFree(t *testing.T) {
	held := []string{"battery", "controller", "motor", "wheel", "small/large/mount/belt"}
	for _, c := range []struct {
		why     string
		freed   []Slot
		brief   []string
		instead map[string][]string // of what is held
	}{
		{"nothing freed", nil, nil, nil},
		{"the battery", []Slot{SlotBattery}, nil, map[string][]string{"battery": {"battery", "battery-2"}}},
		{"the controller", []Slot{SlotController}, nil, map[string][]string{"controller": {"controller", "controller-2"}}},
		{"the motor", []Slot{SlotMotor}, nil, map[string][]string{"motor": {"motor", "motor-2"}}},
		{"the wheel", []Slot{SlotWheel}, nil, map[string][]string{"wheel": {"wheel", "wheel-2"}}},
		{"two at once", []Slot{SlotWheel, SlotMotor}, nil, map[string][]string{"wheel": {"wheel", "wheel-2"}, "motor": {"motor", "motor-2"}}},
		{"an avoided motor is not tried", []Slot{SlotMotor}, []string{`avoid.motor = ["motor-2"]`}, nil},
		{"what is held is held though the brief avoids it", []Slot{SlotWheel}, []string{`avoid.motor = ["motor"]`}, map[string][]string{"wheel": {"wheel", "wheel-2"}}},
		{"what is freed is not the base's where the brief keeps another", []Slot{SlotMotor}, []string{`keep.motor = ["motor-2"]`}, map[string][]string{"motor": {"motor-2"}}},
		{"the belt: each, whether it fits or not", []Slot{SlotBelt}, nil, map[string][]string{"small/large/mount/belt": {"small/large/mount/belt", "small/large/mount/belt-2"}}},
		{"the motor pulley with its belt", []Slot{SlotMotorPulley}, nil, map[string][]string{"small/large/mount/belt": {"small/large/mount/belt", "small-2/large/mount/belt"}}},
		{"the wheel pulley", []Slot{SlotWheelPulley}, nil, map[string][]string{"small/large/mount/belt": {"small/large/mount/belt", "small/large-2/mount/belt"}}},
		{"the mount", []Slot{SlotMount}, nil, map[string][]string{"small/large/mount/belt": {"small/large/mount/belt", "small/large/mount-2/belt"}}},
		{"the mount, the build's belt avoided", []Slot{SlotMount}, []string{`avoid.belt = ["belt"]`}, map[string][]string{"small/large/mount/belt": {"small/large/mount/belt", "small/large/mount-2/belt"}}},
		{
			"the whole drive: gears, too", DriveSlots(),
			[]string{`avoid.motor_pulley = ["small-2"]`, `avoid.wheel_pulley = ["large-2"]`},
			map[string][]string{"small/large/mount/belt": {"small/large/mount/belt", "small/large/mount-2/belt", "gear"}},
		},
	} {
		var want []string
		for _, part := range held {
			if other, ok := c.instead[part]; ok {
				want = append(want, other...)
			} else {
				want = append(want, part)
			}
		}
		slices.Sort(want)
		k := newKit(onBelts, append(slices.Clone(c.brief), seconds)...)
		cat, brief := read(t, k)
		p, base, err := Free(cat, brief, readBuild(t, beltFile), Freed{Slots: c.freed})
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		if got := tried(p); got != strings.Join(want, " ") {
			t.Errorf("%s: in play are\n%s, want\n%s", c.why, got, strings.Join(want, " "))
		}
		if !slices.Equal(p.Counts, []int{2}) || base.Motor.ID != "motor" || base.Drive.Belt.ID != "belt" {
			t.Errorf("%s: %v motors, base of %s on %s", c.why, p.Counts, base.Motor.ID, base.Drive.Belt.ID)
		}
		if p.PriceReference != base.Problem.PriceReference || p.MassReference != base.Problem.MassReference {
			t.Errorf("%s: scored against %v and %v, the base against %v and %v", c.why, p.PriceReference, p.MassReference, base.Problem.PriceReference, base.Problem.MassReference)
		}
	}
}

// TestFreeMotors: a number of motors that is freed is each that the brief tries, or
// where that is the build's alone each that there is; the base stays what it is, and
// is scored as alone.
func TestFreeMotors(t *testing.T) {
	for _, c := range []struct {
		why    string
		brief  string
		motors int // of the build
		want   []int
	}{
		{"the brief tries the build's alone", "board.motors = [2]", 2, []int{1, 2, 4}},
		{"the brief tries two", "board.motors = [1, 2]", 2, []int{1, 2}},
		{"the build's is none of the brief's", "board.motors = [1, 2]", 4, []int{1, 2, 4}},
		{"one of the brief and another of the build", "board.motors = [1]", 4, []int{1, 4}},
	} {
		cat, brief := read(t, newKit(onBelts, c.brief))
		file := readBuild(t, strings.Replace(beltFile, "motors = 2", fmt.Sprintf("motors = %d", c.motors), 1))
		held, alone, err := Free(cat, brief, file, Freed{Slots: []Slot{SlotWheel}})
		if err != nil {
			t.Fatal(err)
		}
		p, base, err := Free(cat, brief, file, Freed{Motors: true})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(p.Counts, c.want) || !slices.Equal(held.Counts, []int{c.motors}) {
			t.Errorf("%s: %v are tried, and %v where they are held, want %v", c.why, p.Counts, held.Counts, c.want)
		}
		if base.Motors() != c.motors || p.PriceReference != alone.Problem.PriceReference || p.MassReference != alone.Problem.MassReference || base.Price().Total() != alone.Price().Total() {
			t.Errorf("%s: the base has %d motors and is scored against %v", c.why, base.Motors(), p.PriceReference)
		}
		if tried(p) != "battery controller motor small/large/mount/belt wheel" {
			t.Errorf("%s: in play are %s", c.why, tried(p))
		}
	}
}

// TestFreeWithoutABelt: a build that no belt fits changes its pulleys all the
// same, and the belts in play stay each one.
func TestFreeWithoutABelt(t *testing.T) {
	cat, brief := read(t, newKit(onBelts, seconds, "mount.centre_max_mm = 70"))
	p, base, err := Free(cat, brief, readBuild(t, strings.Replace(beltFile, "belt = \"belt\"\n", "", 1)), Freed{Slots: []Slot{SlotMotorPulley}})
	if err != nil {
		t.Fatal(err)
	}
	if want := "battery controller motor small-2/large/mount/- small/large/mount/- wheel"; base.Drive.Belt != nil || tried(p) != want {
		t.Errorf("in play are %s, want %s", tried(p), want)
	}
	cat, brief = read(t, newKit(onBelts, seconds))
	if p, _, err = Free(cat, brief, readBuild(t, beltFile), Freed{Slots: []Slot{SlotMotorPulley}}); err != nil || len(p.Belts) != 2 {
		t.Errorf("%d belts to choose from, %v, want both of the catalog", len(p.Belts), err)
	}
}

// TestFreeOnGears: a gear drive is changed for gear drives, and for belts only
// with the whole drive.
func TestFreeOnGears(t *testing.T) {
	second := "[[gear_drive]]\nid = \"gear-2\"\nratio = 4\n"
	belts := `[[pulley]]
id = "small"
side = "motor"
profile = "htd-5m"
teeth = 15
[[pulley]]
id = "large"
side = "wheel"
profile = "htd-5m"
teeth = 45
[[belt]]
id = "belt"
profile = "htd-5m"
teeth = 70
[[mount]]
id = "mount"
centre_min_mm = 60
centre_max_mm = 120
`
	cat, brief := read(t, newKit(onGears, second, belts))
	for _, c := range []struct {
		freed []Slot
		want  string // in play; or in the error
	}{
		{nil, "battery controller gear motor wheel"},
		{[]Slot{SlotGearDrive}, "battery controller gear gear-2 motor wheel"},
		{DriveSlots(), "battery controller gear gear-2 motor small/large/mount/belt wheel"},
		{[]Slot{SlotBelt}, "no belt to change"},
		{[]Slot{SlotGearDrive, SlotMount}, "no mount to change"},
	} {
		p, _, err := Free(cat, brief, readBuild(t, gearFile), Freed{Slots: c.freed})
		switch {
		case err != nil && !strings.Contains(err.Error(), c.want):
			t.Errorf("%v freed: %v, want %q", c.freed, err, c.want)
		case err == nil && tried(p) != c.want:
			t.Errorf("%v freed: in play are %s, want %s", c.freed, tried(p), c.want)
		}
	}
}

// TestChangeTo: what to buy and what is left over, added up by hand. In the kit
// two motors are 180, a second one 100 apiece in lots of three.
func TestChangeTo(t *testing.T) {
	p := problem(t, onBelts, seconds, "board.motors = [2, 4]", "motor.sold_in = 3", `avoid.belt = ["belt-2"]`)
	find := func(file string) *Build {
		t.Helper()
		b, err := p.Find(readBuild(t, file))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	replaced := func(pairs ...string) *Build { return find(strings.NewReplacer(pairs...).Replace(beltFile)) }
	base := find(beltFile)
	lines := func(list []Line) (out []string) {
		for _, l := range list {
			out = append(out, fmt.Sprintf("%d %s %g", l.Pieces, l.Part.ID, l.Price))
		}
		return out
	}
	for _, c := range []struct {
		why        string
		to         *Build
		buy, leave []string
		price      float64
	}{
		{"nothing changes", base, nil, nil, 0},
		{"two motors of another kind, sold in threes; two of a lot of three are left", replaced(`"motor"`, `"motor-2"`), []string{"2 motor-2 100"}, []string{"2 motor 90"}, 100},
		{"one controller for both motors", replaced(`"controller"`, `"controller-2"`), []string{"1 controller-2 150"}, []string{"2 controller 160"}, 150},
		{"a wheel is four pieces", replaced(`"wheel"`, `"wheel-2"`), []string{"4 wheel-2 25"}, []string{"4 wheel 60"}, 25},
		{
			"twice the motors: the third of the lot is there, the fourth is another lot", replaced("motors = 2", "motors = 4"),
			[]string{"2 controller 160", "2 motor 90", "2 small 24", "2 large 40", "2 mount 60", "2 belt 18"},
			nil, 160 + 90 + 24 + 40 + 60 + 18,
		},
	} {
		got := base.ChangeTo(c.to)
		if diff := cmp.Diff([][]string{c.buy, c.leave}, [][]string{lines(got.Buy), lines(got.Leave)}); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, diff)
		}
		if got.Price != c.price {
			t.Errorf("%s: for %v, want %v", c.why, got.Price, c.price)
		}
	}
	back := replaced("motors = 2", "motors = 4").ChangeTo(base)
	if want := []string{"2 controller 160", "2 motor 90", "2 small 24", "2 large 40", "2 mount 60", "2 belt 18"}; back.Buy != nil || back.Price != 0 || !slices.Equal(lines(back.Leave), want) {
		t.Errorf("half the motors: buy %v for %v, leave %v", lines(back.Buy), back.Price, lines(back.Leave))
	}
}
