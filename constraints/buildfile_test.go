package constraints

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"gearsearch/drive"
)

// beltFile and gearFile name the builds of the kits.
const (
	beltFile = `schema = 1

[build]
battery = "battery"
controller = "controller"
motor = "motor"
motors = 2
motor_pulley = "small"
wheel_pulley = "large"
mount = "mount"
belt = "belt"
wheel = "wheel"
`
	gearFile = `schema = 1

[build]
battery = "battery"
controller = "controller"
motor = "motor"
motors = 2
gear_drive = "gear"
wheel = "wheel"
`
)

// TestBuildFileRoundTrip: a build's file, written and read, names the build.
func TestBuildFileRoundTrip(t *testing.T) {
	for kit, want := range map[string]string{onBelts: beltFile, onGears: gearFile} {
		b := build(t, kit)
		text := string(b.File().TOML())
		if d := cmp.Diff(want, text); d != "" {
			t.Errorf("%s: the file differs (-want +got):\n%s", kit, d)
		}
		f := readBuild(t, text)
		found, err := b.Problem.Find(f)
		if err != nil {
			t.Fatal(err)
		}
		sameFigures(t, b, found)
		if d := cmp.Diff(b.File(), found.File(), cmpopts.IgnoreUnexported(BuildFile{})); d != "" {
			t.Errorf("%s: another build was found (-want +got):\n%s", kit, d)
		}
	}
	// Every build of a catalog, belts chosen or not.
	p := problemOf(t, mixed())
	n := 0
	eachBuild(p, func(b *Build) {
		if n++; n%5 != 0 {
			return
		}
		found, err := p.Find(readBuild(t, string(b.File().TOML())))
		if err != nil {
			t.Fatal(err)
		}
		sameFigures(t, b, found)
	})
}

func readBuild(t testing.TB, text string) *BuildFile {
	t.Helper()
	f, err := ReadBuild(source("build.toml", text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return f
}

// sameFigures holds two builds to the same figures and verdicts, bit by bit.
func sameFigures(t *testing.T, want, got *Build) {
	t.Helper()
	for _, f := range Figures() {
		if f.Word != nil {
			if f.Word(want) != f.Word(got) {
				t.Errorf("%s is %q, want %q", f.Name, f.Word(got), f.Word(want))
			}
		} else if x, y := f.Value(want), f.Value(got); x != y && (x == x || y == y) {
			t.Errorf("%s is %v, want %v", f.Name, y, x)
		}
	}
	a, b := want.Results(), got.Results()
	if len(a) != len(b) {
		t.Fatalf("%d checks, want %d", len(b), len(a))
	}
	for i := range a {
		if a[i].Name != b[i].Name || !alike(a[i].Outcome, b[i].Outcome) {
			t.Errorf("%s: %+v, want %+v", a[i].Name, b[i].Outcome, a[i].Outcome)
		}
	}
}

// wrongBuilds are the ways to write a build file wrong that the text alone
// shows.
func wrongBuilds() []mistake {
	change := func(text, old, with string) string { return strings.Replace(text, old, with, 1) }
	return []mistake{
		{"empty", ""},
		{"no build", "schema = 1"},
		{"a brief", "schema = 1\n[target]\ntop_speed_kmh = 30"},
		{"build as a list", "schema = 1\n[[build]]\nmotor = \"motor\""},
		{"build as a text", "schema = 1\nbuild = \"motor\""},
		{"nothing in it", "schema = 1\n[build]"},
		{"another version", change(gearFile, "schema = 1", "schema = 3")},
		{"key mistyped", change(gearFile, "gear_drive", "geardrive")},
		{"no motors", change(gearFile, "motors = 2\n", "")},
		{"three motors", change(gearFile, "motors = 2", "motors = 3")},
		{"a list of motors", change(gearFile, "motors = 2", "motors = [1, 2]")},
		{"a number for an id", change(gearFile, `wheel = "wheel"`, "wheel = 100")},
		{"no id", change(gearFile, `wheel = "wheel"`, `wheel = "My Wheel"`)},
		{"an empty id", change(gearFile, `wheel = "wheel"`, `wheel = ""`)},
		{"an empty pulley", change(beltFile, `"small"`, `""`)},
		{"no battery", change(gearFile, "battery = \"battery\"\n", "")},
		{"no drive", change(gearFile, "gear_drive = \"gear\"\n", "")},
		{"one pulley", change(beltFile, "wheel_pulley = \"large\"\n", "")},
		{"the other pulley", change(beltFile, "motor_pulley = \"small\"\n", "")},
		{"gears and belts", beltFile + "gear_drive = \"gear\"\n"},
		{"a drive misread", change(gearFile, `gear_drive = "gear"`, "gear_drive = 3")},
		{"a syntax error", change(gearFile, `gear_drive = "gear"`, "gear_drive gear")},
	}
}

// TestBuildFileMistakes: each mistake in a build file and the whole message.
func TestBuildFileMistakes(t *testing.T) {
	var tr record
	for _, m := range wrongBuilds() {
		_, err := ReadBuild(source("build.toml", m.text))
		tr.add(m.name, m.text, said(t, m, err))
	}
	tr.check(t, "build_mistakes.txt")
}

// TestFindMistakes: build files that go with no catalog, or not with the
// kit's.
func TestFindMistakes(t *testing.T) {
	var tr record
	for _, c := range []struct {
		name, kit, text, old, with string
		change                     []string
	}{
		{name: "id mistyped", kit: onGears, text: gearFile, old: `"gear"`, with: `"gaer"`},
		{name: "id of nothing like it", kit: onGears, text: gearFile, old: `"gear"`, with: `"turbine-9000"`},
		{name: "part of another slot", kit: onGears, text: gearFile, old: `motor = "motor"`, with: `motor = "wheel"`},
		{name: "pulleys turned round", kit: onBelts, text: beltFile, old: "motor_pulley = \"small\"\nwheel_pulley = \"large\"", with: "motor_pulley = \"large\"\nwheel_pulley = \"small\""},
		{name: "a cell for a pack", kit: onGears, text: gearFile, old: `battery = "battery"`, with: `battery = "cell"`},
		{name: "several at once", kit: onGears, text: gearFile, old: "wheel = \"wheel\"", with: "wheel = \"weel\"", change: []string{"-motor", `[[motor]]
id = "other"
kv = 100
`}},
		{name: "a count that is not tried", kit: onGears, text: gearFile, old: "motors = 2", with: "motors = 4"},
		{name: "charge below the cut-off", kit: onGears, text: gearFile, change: []string{"target.charge = 2", `avoid.battery = ["battery"]`, `[[battery]]
id = "other"
series = 10
nominal_v = 37
full_v = 42
`}},
	} {
		text := strings.Replace(c.text, c.old, c.with, 1)
		k := newKit(c.kit, c.change...)
		_, err := problemOf(t, k).Find(readBuild(t, text))
		at := text
		if err != nil && strings.HasPrefix(err.Error(), "brief.toml") {
			at = string(k.Brief().Data)
		}
		tr.add(c.name, text, said(t, mistake{c.name, at}, err))
	}
	tr.check(t, "find_mistakes.txt")
}

// verdicts are the verdicts of a build by check.
func verdicts(b *Build) map[string]string {
	out := map[string]string{}
	for _, r := range b.Results() {
		out[r.Name] = r.Verdict.String()
	}
	return out
}

// TestFind: what a build file names is looked at, in play or not.
func TestFind(t *testing.T) {
	climbing := []string{"target.climb_grade_pct = 15"}
	for _, c := range []struct {
		name, why, kit, old, with string
		change                    []string
		want                      map[string]string // verdicts; "": not listed
		belt                      string
		centre                    float64 // mm
		mesh                      int
	}{
		{
			name: "named as it stands", why: "all fits", kit: onBelts,
			want: map[string]string{"belt": "pass", "mesh": "pass", "belt-load": "pass", "gear-torque": ""}, belt: "belt", centre: centre70, mesh: 6,
		},
		{
			name: "no belt named", why: "one is chosen", kit: onBelts, old: "belt = \"belt\"\n",
			want: map[string]string{"belt": "pass", "mesh": "pass"}, belt: "belt", centre: centre70, mesh: 6,
		},
		{
			name: "no belt named, none fits", why: "none can be chosen", kit: onBelts, old: "belt = \"belt\"\n",
			change: []string{"mount.centre_max_mm = 80"},
			want:   map[string]string{"belt": "fail", "mesh": "unknown", "belt-load": "unknown"}, centre: nan, mesh: -1,
		},
		{
			name: "a named belt outside the mount's range", why: "taken as named, and fails", kit: onBelts, change: []string{"mount.centre_max_mm = 80"},
			want: map[string]string{"belt": "fail", "mesh": "pass", "belt-load": "pass"}, belt: "belt", centre: centre70, mesh: 6,
		},
		{
			name: "a named belt too wide", why: "taken as named, and fails", kit: onBelts, change: []string{"small.width_mm = 9"},
			want: map[string]string{"belt": "fail", "mesh": "pass"}, belt: "belt", centre: centre70, mesh: 6,
		},
		{
			name: "a named belt too short to go around", why: "has no centre distance, and so no count of teeth in mesh", kit: onBelts, change: []string{"belt.teeth = 20"},
			want: map[string]string{"belt": "fail", "mesh": "unknown", "belt-load": "unknown"}, belt: "belt", centre: nan, mesh: -1,
		},
		{
			name: "a named belt of another profile", why: "has no centre distance, and so no count of teeth in mesh", kit: onBelts, change: []string{`belt.profile = "gt-5"`},
			want: map[string]string{"belt": "fail", "profile": "pass", "mesh": "unknown"}, belt: "belt", centre: nan, mesh: -1,
		},
		{
			name: "no mount named", why: "the range is not known, the belt's numbers are", kit: onBelts, old: "mount = \"mount\"\n",
			want: map[string]string{"belt": "unknown", "mesh": "pass", "belt-load": "pass"}, belt: "belt", centre: centre70, mesh: 6,
		},
		{
			name: "neither belt nor mount named", why: "nothing to choose by", kit: onBelts, old: "mount = \"mount\"\nbelt = \"belt\"\n",
			want: map[string]string{"belt": "unknown", "mesh": "unknown"}, centre: nan, mesh: -1,
		},
		{
			name: "a mount that is avoided", why: "named, so it decides", kit: onBelts, old: "belt = \"belt\"\n", change: []string{`avoid.mount = ["mount"]`},
			want: map[string]string{"belt": "pass"}, belt: "belt", centre: centre70, mesh: 6,
		},
		{
			name: "belts that are avoided", why: "none to choose from", kit: onBelts, old: "belt = \"belt\"\n", change: []string{`avoid.belt = ["belt"]`},
			want: map[string]string{"belt": "unknown"}, centre: nan, mesh: -1,
		},
		{
			name: "a belt build where only gears are in play", why: "the checks of belts apply to it", kit: onBelts,
			change: []string{`avoid.motor_pulley = ["small"]`, "[[gear_drive]]\nid = \"gear\"\nratio = 3\n", "small.bore_mm = 10"},
			want:   map[string]string{"profile": "pass", "belt": "pass", "mesh": "pass", "belt-load": "pass", "bore": "fail", "gear-torque": ""},
			belt:   "belt", centre: centre70, mesh: 6,
		},
		{
			name: "a gear build where only belts are in play", why: "the check of gears applies to it", kit: onGears,
			change: []string{
				`avoid.gear_drive = ["gear"]`, "[[pulley]]\nid = \"a\"\nside = \"motor\"\nprofile = \"t5\"\nteeth = 20\n",
				"[[pulley]]\nid = \"b\"\nside = \"wheel\"\nprofile = \"t5\"\nteeth = 40\n",
			},
			want:   map[string]string{"gear-torque": "pass", "profile": "", "belt": "", "mesh": "", "belt-load": ""},
			centre: nan, mesh: -1,
		},
		{
			name: "a controller that is avoided", why: "its ceiling makes the rpm check apply", kit: onGears,
			change: []string{`avoid.controller = ["controller"]`, "controller.erpm_ceiling = 40000", "[[controller]]\nid = \"bare\"\n"},
			want:   map[string]string{"erpm": "fail"}, centre: nan, mesh: -1,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := beltFile
			if c.kit == onGears {
				text = gearFile
			}
			p := problem(t, c.kit, append(climbing, c.change...)...)
			before := len(p.Checks())
			b, err := p.Find(readBuild(t, strings.Replace(text, c.old, c.with, 1)))
			if err != nil {
				t.Fatal(err)
			}
			got := verdicts(b)
			for check, want := range c.want {
				if got[check] != want {
					t.Errorf("%s is %q, want %q: %s", check, got[check], want, c.why)
				}
			}
			if len(p.Checks()) != before {
				t.Error("finding a build changed the problem")
			}
			belt := ""
			if b.Drive.Belt != nil {
				belt = b.Drive.Belt.ID
			}
			if belt != c.belt || !near(b.Drive.Centre*mm, c.centre, 1e-9) || b.Drive.Mesh != c.mesh {
				t.Errorf("belt %q at %v mm with %d teeth, want %q at %v mm with %d: %s", belt, b.Drive.Centre*mm, b.Drive.Mesh, c.belt, c.centre, c.mesh, c.why)
			}
			wantPrice := b.Battery.Price.Known + 160 + 180 + 60
			switch {
			case c.kit == onGears:
				wantPrice += 300
			case belt != "":
				wantPrice += 2 * (12 + 20 + 9)
			default:
				wantPrice += 2 * (12 + 20)
			}
			if b.Drive.Mount != nil {
				wantPrice += 60
			}
			if b.Controller.ID != "bare" && !near(b.Price().Known, wantPrice, 1e-12) {
				t.Errorf("price %v, want %v", b.Price().Known, wantPrice)
			}
			testWhy(t, c.name, b)
		})
	}
}

// TestWith: the brief under which a build can be looked at tries its number of
// motors; the one it came from stays as it is.
func TestWith(t *testing.T) {
	f := readBuild(t, strings.Replace(gearFile, "motors = 2", "motors = 4", 1))
	c, b := read(t, newKit(onGears))
	p, err := NewProblem(c, f.With(b))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]int{2, 4}, p.Counts); d != "" {
		t.Errorf("counts:\n%s", d)
	}
	if d := cmp.Diff([]float64{2}, b.Board.Motors); d != "" {
		t.Errorf("the brief changed:\n%s", d)
	}
	found, err := p.Find(f)
	if err != nil || found.Motors() != 4 || found.Controllers() != 4 {
		t.Errorf("%v, %v", found, err)
	}
	again := readBuild(t, gearFile).With(b)
	if d := cmp.Diff([]float64{2}, again.Board.Motors); d != "" {
		t.Errorf("a count that is tried was added:\n%s", d)
	}
}

// TestIsBuild: a build file is told from a brief and a catalog.
func TestIsBuild(t *testing.T) {
	k := newKit(onBelts)
	for text, want := range map[string]bool{
		beltFile: true, gearFile: true, "[build]": true, "build = 1": true,
		string(k.Catalog().Data): false, string(k.Brief().Data): false, "": false, "[builds]": false,
	} {
		if got := IsBuild(source("x.toml", text)); got != want {
			t.Errorf("%v, want %v:\n%s", got, want, text)
		}
	}
}

// TestRandomBuildFiles: any file that can be written reads as the same.
func TestRandomBuildFiles(t *testing.T) {
	id := rapid.StringMatching(`[a-z0-9][a-z0-9._-]{0,20}`)
	rapid.Check(t, func(r *rapid.T) {
		f := &BuildFile{Motors: rapid.SampledFrom([]int{1, 2, 4}).Draw(r, "motors")}
		slots := []Slot{SlotBattery, SlotController, SlotMotor, SlotWheel, SlotGearDrive}
		if rapid.Bool().Draw(r, "belts") {
			slots = []Slot{SlotBattery, SlotController, SlotMotor, SlotWheel, SlotMotorPulley, SlotWheelPulley}
			for _, s := range []Slot{SlotBelt, SlotMount} {
				if rapid.Bool().Draw(r, s.String()) {
					slots = append(slots, s)
				}
			}
		}
		for _, s := range slots {
			f.IDs[s] = id.Draw(r, s.String())
		}
		got, err := ReadBuild(source("build.toml", string(f.TOML())))
		if err != nil {
			r.Fatal(err)
		}
		if d := cmp.Diff(f, got, cmpopts.IgnoreUnexported(BuildFile{})); d != "" {
			r.Fatalf("written and read (-want +got):\n%s", d)
		}
	})
}

// FuzzBuild: no text makes reading a build file panic; what is accepted reads
// the same when written out, and is found in a catalog or explained.
func FuzzBuild(f *testing.F) {
	for _, m := range wrongBuilds() {
		f.Add(m.text)
	}
	f.Add(beltFile)
	f.Add(gearFile)
	p := problemOf(f, mixed("board.motors = [1, 2, 4]"))
	f.Fuzz(func(t *testing.T, text string) {
		file, err := ReadBuild(source("build.toml", text))
		if err != nil {
			fuzzProblems(t, text, err)
			return
		}
		if file.Motors != 1 && file.Motors != 2 && file.Motors != 4 {
			t.Fatalf("accepted: %d motors", file.Motors)
		}
		again, err := ReadBuild(source("again.toml", string(file.TOML())))
		if err != nil {
			t.Fatalf("written out, it does not read again: %v", err)
		}
		if d := cmp.Diff(file, again, cmpopts.IgnoreUnexported(BuildFile{})); d != "" {
			t.Fatalf("written out and read again (-want +got):\n%s", d)
		}
		b, err := p.Find(file)
		if err != nil {
			fuzzProblems(t, text, err)
			return
		}
		b.Results()
		testWhy(t, "found", b)
		if v, by := b.TopSpeed(); v < 0 || by > drive.Estimate {
			t.Fatalf("%v m/s by %v", v, by)
		}
	})
}
