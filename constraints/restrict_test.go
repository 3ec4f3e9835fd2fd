package constraints

import (
	"slices"
	"testing"

	"gearsearch/catalog"
)

// TestKeeping: one slot at a time, by id; "" is a drive without such a part.
func TestKeeping(t *testing.T) {
	p := problem(t, onBelts, seconds, `avoid.motor_pulley = ["small"]`, `avoid.wheel_pulley = ["large"]`, `avoid.belt = ["belt"]`)
	const all = "battery battery-2 controller controller-2 gear motor motor-2 small-2/large-2/mount-2/- small-2/large-2/mount/- wheel wheel-2"
	if got := tried(p); got != all {
		t.Fatalf("in play are %s, want %s", got, all)
	}
	for _, c := range []struct {
		slot Slot
		id   string
		want string
	}{
		{SlotBattery, "battery-2", "battery-2 controller controller-2 gear motor motor-2 small-2/large-2/mount-2/- small-2/large-2/mount/- wheel wheel-2"},
		{SlotController, "controller", "battery battery-2 controller gear motor motor-2 small-2/large-2/mount-2/- small-2/large-2/mount/- wheel wheel-2"},
		{SlotMotor, "motor", "battery battery-2 controller controller-2 gear motor small-2/large-2/mount-2/- small-2/large-2/mount/- wheel wheel-2"},
		{SlotWheel, "wheel-2", "battery battery-2 controller controller-2 gear motor motor-2 small-2/large-2/mount-2/- small-2/large-2/mount/- wheel-2"},
		{SlotMount, "mount-2", "battery battery-2 controller controller-2 motor motor-2 small-2/large-2/mount-2/- wheel wheel-2"},
		{SlotGearDrive, "gear", "battery battery-2 controller controller-2 gear motor motor-2 wheel wheel-2"},
		{SlotMotorPulley, "", "battery battery-2 controller controller-2 gear motor motor-2 wheel wheel-2"},
		{SlotMotor, "none", "battery battery-2 controller controller-2 gear small-2/large-2/mount-2/- small-2/large-2/mount/- wheel wheel-2"},
	} {
		q := p.With(Keeping(c.slot, func(id string) bool { return id == c.id }))
		if got := tried(q); got != c.want {
			t.Errorf("%v %q: in play are %s, want %s", c.slot, c.id, got, c.want)
		}
		if q.PriceReference != p.PriceReference || len(q.Checks()) != len(p.Checks()) {
			t.Errorf("%v %q: scored against %v, %d checks", c.slot, c.id, q.PriceReference, len(q.Checks()))
		}
	}
	if got := tried(p); got != all {
		t.Errorf("the problem changed: in play are %s", got)
	}
}

// TestOneCount: one number of motors has the prices, masses and shares of
// that number.
func TestOneCount(t *testing.T) {
	p := problem(t, onBelts, "board.motors = [1, 2, 4]", "controller.channels = 2")
	for _, n := range []int{1, 2, 4} {
		q := p.With(OneCount(n))
		if !slices.Equal(q.Counts, []int{n}) {
			t.Errorf("%d motors: counts %v", n, q.Counts)
		}
		// 80 a controller for two, 90 a motor, 71 a drive; 0.1, 0.7 and 0.255 kg.
		controllers := float64((n + 1) / 2)
		b := first(q)
		if b.Motors() != n || b.Price().Total() != 100+80*controllers+float64(161*n)+60 || !near(b.Mass().Total(), 5+1.12+0.1*controllers+0.955*float64(n)+1, 1e-12) || b.Controllers() != int(controllers) {
			t.Errorf("%d motors: %d of them, %d controllers, %v, %v kg", n, b.Motors(), b.Controllers(), b.Price(), b.Mass())
		}
	}
	if !slices.Equal(p.Counts, []int{1, 2, 4}) || len(p.Motors[0].Price) != 3 {
		t.Error("the problem changed")
	}
}

// TestLeavingChecksOut: demoted checks apply and never reject, those left out
// do not apply.
func TestLeavingChecksOut(t *testing.T) {
	p := problem(t, onBelts, "limit.price = 600", "limit.mass_kg = 9", `limit.demote = ["mass"]`)
	for _, c := range []struct {
		why      string
		p        *Problem
		rejected bool
		listed   bool
	}{
		{"the price rejects", p, true, true},
		{"demoted", p.With(Demoting("price")), false, true},
		{"another demoted", p.With(Demoting("mesh")), true, true},
		{"left out", p.With(Without("price")), false, false},
		{"another left out", p.With(Without("mesh", "mass")), true, true},
	} {
		b := first(c.p)
		if _, listed := result(b, "price"); b.Rejected(false) != c.rejected || listed != c.listed {
			t.Errorf("%s: rejected %v, listed %v", c.why, b.Rejected(false), listed)
		}
	}
	if p.Demoted(&priceCheck) || !p.Demoted(&massCheck) {
		t.Error("the problem changed")
	}
}

// TestOtherParts: parts of no catalog take the place of those in play, and of
// the drives only those that can be made of them are left.
func TestOtherParts(t *testing.T) {
	p := problem(t, onBelts, seconds)
	motor, wheel, controller, pack := *p.Motors[0].Motor, *p.Wheels[0].Wheel, *p.Controllers[0].Controller, *p.Batteries[0].Battery
	small, large, mount, belt, gear := *p.MotorPulleys[0], *p.WheelPulleys[0], *p.Mounts[0], *p.Belts[0], *p.GearDrives[0]
	for _, part := range []*catalog.Part{&motor.Part, &wheel.Part, &controller.Part, &pack.Part, &small.Part, &large.Part, &mount.Part, &belt.Part, &gear.Part} {
		part.ID = "other"
	}
	gone := pack
	gone.ID, gone.Cell = "flat", nil
	gone.Nominal, gone.Full, gone.Cutoff = 20, 20, 20
	drives := func(q *Problem) (names []string) {
		for _, d := range q.Drives {
			names = append(names, d.Name())
		}
		slices.Sort(names)
		return names
	}
	for _, c := range []struct {
		slot Slot
		q    *Problem
		want []string // ids in the slot; or names of drives
		have []string
	}{
		{SlotMotor, p.With(OtherMotors([]*catalog.Motor{&motor})), []string{"other"}, nil},
		{SlotWheel, p.With(OtherWheels([]*catalog.Wheel{&wheel})), []string{"other"}, nil},
		{SlotController, p.With(OtherControllers([]*catalog.Controller{&controller})), []string{"other"}, nil},
		{SlotBattery, p.With(OtherBatteries([]*catalog.Battery{&pack, &gone})), []string{"other"}, nil},
		{SlotGearDrive, p.With(OtherGearDrives([]*catalog.GearDrive{&gear})), []string{"other"}, []string{"other"}},
		{SlotMotorPulley, p.With(OtherMotorPulleys([]*catalog.Pulley{&small})), nil, []string{
			"other + large + mount + belt", "other + large + mount-2 + belt", "other + large-2 + mount + belt", "other + large-2 + mount-2 + belt",
		}},
		{SlotWheelPulley, p.With(OtherWheelPulleys([]*catalog.Pulley{&large})), nil, []string{
			"small + other + mount + belt", "small + other + mount-2 + belt", "small-2 + other + mount + belt", "small-2 + other + mount-2 + belt",
		}},
		{SlotMount, p.With(OtherMounts([]*catalog.Mount{&mount})), nil, []string{
			"small + large + other + belt", "small + large-2 + other + belt", "small-2 + large + other + belt", "small-2 + large-2 + other + belt",
		}},
		{SlotMount, p.With(OtherMounts(nil)), nil, nil},
		{SlotBelt, p.With(OtherBelts([]*catalog.Belt{&belt})), nil, []string{
			"small + large + mount + other", "small + large + mount-2 + other", "small + large-2 + mount + other", "small + large-2 + mount-2 + other",
			"small-2 + large + mount + other", "small-2 + large + mount-2 + other", "small-2 + large-2 + mount + other", "small-2 + large-2 + mount-2 + other",
		}},
	} {
		var ids []string
		switch c.slot {
		case SlotMotor:
			for _, x := range c.q.Motors {
				ids = append(ids, x.ID)
			}
		case SlotWheel:
			for _, x := range c.q.Wheels {
				ids = append(ids, x.ID)
			}
		case SlotController:
			for _, x := range c.q.Controllers {
				ids = append(ids, x.ID)
			}
		case SlotBattery:
			for _, x := range c.q.Batteries {
				ids = append(ids, x.ID)
			}
		default:
			if got := drives(c.q); !slices.Equal(got, c.have) {
				t.Errorf("%v: drives %q, want %q", c.slot, got, c.have)
			}
			continue
		}
		if !slices.Equal(ids, c.want) || !slices.Equal(drives(c.q), drives(p)) {
			t.Errorf("%v: %v in play with %d drives, want %v with %d", c.slot, ids, len(c.q.Drives), c.want, len(p.Drives))
		}
	}
}
