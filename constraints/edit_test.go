package constraints

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// TestEditsRenewEnough: an edit makes all anew that it makes stale: the
// conditions and the drives, and the checks where it changes the brief, are the
// same when they are derived once more. The problem that was edited is as it was.
func TestEditsRenewEnough(t *testing.T) {
	changes := []string{
		seconds, "board.motors = [1, 2]", "target.climb_grade_pct = 15", "target.top_speed_kmh = 20", "limit.price = 900",
		"limit.erpm_ceiling = 70000", "-controller.erpm_ceiling", `avoid.controller = ["controller-2"]`,
	}
	p := problem(t, onBelts, changes...)
	brief := p.Brief.Clone()
	for key, text := range map[string]string{
		"target.climb_grade_pct": "9", "ground.grip": "0.3", "ground.altitude_m": "2000", "board.rear_share": "0.5", "limit.price": "800",
	} {
		if err := brief.Set(key, text, "test"); err != nil {
			t.Fatal(err)
		}
	}
	small, mount := *p.MotorPulleys[0], *p.Mounts[0]
	small.ID, mount.ID = "other", "other"
	batteries := func(list []*Battery) (out []*catalog.Battery) {
		for _, b := range list {
			out = append(out, b.Battery)
		}
		return out
	}
	before := derivedOf(p)
	for _, c := range []struct {
		why   string
		edits []Edit
		other bool // something that is derived differs from the original's
	}{
		{"no edit", nil, false},
		{"demoted", []Edit{Demoting("price")}, false},
		{"left out", []Edit{Without("price")}, true},
		{"the ceiling dropped, and with it the check", []Edit{Unceiled()}, true},
		{"another rider", []Edit{riding(func(b *Brief) { b.Rider = Rider{Mass: 60, Posture: "tuck", DragArea: 0.4} })}, true},
		{"another brief", []Edit{Briefed(brief)}, true},
		{"another brief for one number of motors", []Edit{OneCount(2), Briefed(brief)}, true},
		{"another number of motors", []Edit{counting(4)}, false},
		{"a belt besides", []Edit{wearable(p.Catalog, "belt")}, false},
		{"other gear drives", []Edit{OtherGearDrives(p.GearDrives)}, true},
		{"other motor pulleys", []Edit{OtherMotorPulleys([]*catalog.Pulley{&small})}, true},
		{"other wheel pulleys", []Edit{OtherWheelPulleys(p.WheelPulleys[:1])}, true},
		{"other mounts", []Edit{OtherMounts([]*catalog.Mount{&mount})}, true},
		{"other parts in the electrical slots", []Edit{
			OtherBatteries(batteries(p.Batteries)), OtherControllers(p.Catalog.Controllers), OtherMotors(p.Catalog.Motors), OtherWheels(p.Catalog.Wheels),
		}, false},
		{"fewer motors", []Edit{Only(p.Motors[0])}, false},
		{"fewer wheels", []Edit{Keeping(SlotWheel, func(id string) bool { return id == p.Wheels[0].ID })}, false},
		{"the pulleys of one drive", []Edit{freePulleys(p.Drives[0], func(Slot) bool { return false })}, true},
		{"other checks", []Edit{checkedBy(p.checks[:1])}, true},
	} {
		q := p.With(c.edits...)
		got := derivedOf(q)
		all := conditionsDerived | drivesDerived
		if q.Brief != p.Brief {
			all |= checksDerived
		}
		again := derivedOf(q.With(Edit{set: func(*Problem) {}, renews: all}))
		if d := cmp.Diff(again, got); d != "" {
			t.Errorf("%s: left stale (-derived anew +left):\n%s", c.why, d)
		}
		if cmp.Equal(before, got) == c.other {
			t.Errorf("%s: differs from the original: %v, want %v", c.why, !c.other, c.other)
		}
		if d := cmp.Diff(before, derivedOf(p)); d != "" {
			t.Fatalf("%s: the problem itself changed (-before +after):\n%s", c.why, d)
		}
	}
}

// TestEveryEditIsTried: TestEditsRenewEnough has a line for every edit, but for
// those that hold only until something is derived anew.
func TestEveryEditIsTried(t *testing.T) {
	until := map[string]bool{"Unslipping": true, "OtherBelts": true}
	text, err := os.ReadFile("edit_test.go")
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	makes := regexp.MustCompile(`(?m)^func (\w+)(?:\[.*\])?\(.*\) Edit {$`)
	edits := 0
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range makes.FindAllSubmatch(source, -1) {
			edits++
			if name := string(m[1]); !until[name] && !bytes.Contains(text, []byte(name+"(")) {
				t.Errorf("no line tries the edit %s, of %s", name, file)
			}
		}
	}
	if edits < 15 {
		t.Errorf("only %d edits were found: the test does not test", edits)
	}
}

// known is what a problem derives, to be compared.
type known struct {
	Drives, Checks                            []string
	Stance                                    drive.Stance
	DragArea, Air, Grip, Theta, Price, Sloped float64
}

func derivedOf(p *Problem) known {
	k := known{Stance: p.Stance, DragArea: p.DragArea, Air: p.AirDensity, Grip: p.Grip, Theta: p.Theta, Price: p.PriceReference, Sloped: p.Slope.Sin}
	for _, d := range p.Drives {
		k.Drives = append(k.Drives, d.Name())
	}
	for _, c := range p.checks {
		k.Checks = append(k.Checks, c.Name)
	}
	return k
}
