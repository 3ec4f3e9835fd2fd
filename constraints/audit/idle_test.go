package audit_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/audit"

	"github.com/google/go-cmp/cmp"
)

func readParts(t testing.TB, body string) *catalog.Catalog {
	t.Helper()
	c, err := catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte("schema = 1\n" + body)})
	if err != nil {
		t.Fatalf("%v\n%s", err, body)
	}
	return c
}

func TestIdle(t *testing.T) {
	const (
		motor   = "[[motor]]\nid = 'm8'\nkv = 190\nshaft_mm = 8\nshaft_key = 'plain'\nmax_volts = 52\n"
		motor2  = "[[motor]]\nid = 'm10'\nkv = 190\nshaft_mm = 10\nshaft_key = 'keyway'\n"
		small   = "[[pulley]]\nid = 's'\nside = 'motor'\nprofile = 'htd-5m'\nteeth = 15\nbore_mm = 8\nwidth_mm = 16\n"
		large   = "[[pulley]]\nid = 'l'\nside = 'wheel'\nprofile = 'htd-5m'\nteeth = 40\nhub = 'five'\nwidth_mm = 16\n"
		wheel   = "[[wheel]]\nid = 'w'\ndiameter_mm = 97\nhub = 'five'\n"
		belt    = "[[belt]]\nid = 'b'\nprofile = 'htd-5m'\nteeth = 65\nwidth_mm = 15\n" // 15 and 40 teeth 91.7 mm apart
		mount   = "[[mount]]\nid = 'mt'\ncentre_min_mm = 80\ncentre_max_mm = 100\n"
		cell    = "[[cell]]\nid = 'c'\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 3\ncapacity_ah = 5\ndiameter_mm = 21\nlength_mm = 70\n"
		battery = "[[battery]]\nid = 'p10'\nseries = 10\ncell = 'c'\n"
		ctrl    = "[[controller]]\nid = 'e'\nmax_volts = 50.4\n"
		pin     = "[[sprocket]]\nid = 'pin'\nside = 'motor'\nprofile = 'chain-06c'\nteeth = 12\nbore_mm = 8\n"
		star    = "[[sprocket]]\nid = 'star'\nside = 'wheel'\nprofile = 'chain-06c'\nteeth = 30\nhub = 'five'\n"
		chain   = "[[chain]]\nid = 'c'\nprofile = 'chain-06c'\nlinks = 40\n" // 12 and 30 teeth 86.3 mm apart
		chains  = motor + pin + star + wheel + chain + mount
		belts   = motor + small + large + wheel + belt + mount
	)
	tests := []struct {
		why, body string
		want      []string
	}{
		{"all go together", belts + cell + battery + ctrl, nil},
		{"one kind alone says nothing", small + large, nil},
		{"nothing at all", "", nil},
		{"bore", belts + strings.NewReplacer("'s'", "'s9'", "bore_mm = 8", "bore_mm = 9").Replace(small), []string{"s9 bore_mm: no-such-shaft 9"}},
		{"key", belts + motor2 + strings.NewReplacer("'s'", "'k'", "bore_mm = 8", "bore_mm = 8\nshaft_key = 'keyway'").Replace(small), []string{
			"m10 shaft_mm: nothing-on-shaft 10",
			"k shaft_key: no-such-key keyway",
		}},
		{"hub of a pulley", belts + strings.NewReplacer("'l'", "'l2'", "five", "six").Replace(large), []string{"l2 hub: no-such-hub six"}},
		{"hub of a wheel", belts + strings.NewReplacer("'w'", "'w2'", "five", "six").Replace(wheel), []string{"w2 hub: nothing-on-hub six"}},
		{"profile", belts + strings.NewReplacer("'s'", "'s3'", "htd-5m", "gt-3").Replace(small), []string{"s3 profile: no-such-pulley wheel_pulley gt-3"}},
		{"profile of a belt", belts + strings.NewReplacer("'b'", "'b3'", "htd-5m", "gt-3").Replace(belt), []string{"b3 profile: no-such-pair gt-3"}},
		{"width of a belt", belts + strings.NewReplacer("'b'", "'b25'", "= 15", "= 25").Replace(belt), []string{"b25 width_mm: no-such-face 16"}},
		{"length of a belt", belts + strings.NewReplacer("'b'", "'long'", "= 65", "= 90").Replace(belt), []string{"long teeth: no-pair-for-it"}},
		{"chains", chains, nil},
		{"a chain of odd links", chains + strings.NewReplacer("'c'", "'c41'", "= 40", "= 41").Replace(chain), []string{"c41 links: odd-links 41"}},
		{"length of a chain", chains + strings.NewReplacer("'c'", "'long'", "= 40", "= 90").Replace(chain), []string{"long links: no-pair-for-it"}},
		{"a chain of no sprockets", chains + strings.NewReplacer("'c'", "'c4'", "06c", "04c").Replace(chain), []string{"c4 profile: no-such-pair chain-04c"}},
		{"a sprocket beside pulleys", belts + pin, []string{"pin profile: no-such-pulley wheel_pulley chain-06c"}},
		{"mount", belts + strings.NewReplacer("'mt'", "'mt2'", "80", "93").Replace(mount), []string{"mt2 centre_min_mm: no-belt-so-far 93 100"}},
		{"teeth of a pulley", belts + strings.NewReplacer("'l'", "'l72'", "= 40", "= 72").Replace(large), []string{"l72 teeth: no-belt-for-it motor_pulley"}},
		{"no mounts leave belts open", motor + small + large + wheel + belt, nil},
		{"full volts", belts + cell + battery + ctrl + strings.NewReplacer("p10", "p13", "= 10", "= 13").Replace(battery), []string{"p13 series: above-controllers 54.6"}},
		{"volts of motors", cell + battery + motor + strings.NewReplacer("p10", "p13", "= 10", "= 13").Replace(battery), []string{"p13 series: above-motors 54.6"}},
		{"volts of a controller", belts + cell + battery + ctrl + strings.NewReplacer("'e'", "'e24'", "50.4", "25").Replace(ctrl), []string{"e24 max_volts: below-batteries 25"}},
		{"gear drive by bore", motor + wheel + "[[gear_drive]]\nid = 'g'\nratio = 3\nbore_mm = 10\n", []string{
			"m8 shaft_mm: nothing-on-shaft 8",
			"w hub: partners-idle g",
			"g bore_mm: no-such-shaft 10",
		}},
		{"gear drive that names its motors", belts + motor2 + "[[gear_drive]]\nid = 'g'\nratio = 3\nbore_mm = 99\nfits_motors = 'm10'\n", nil},
		{"gear drive that names wheels", belts + "[[wheel]]\nid = 'w2'\ndiameter_mm = 150\nhub = 'six'\n[[gear_drive]]\nid = 'g'\nratio = 3\nfits_wheels = 'w2'\n", nil},
		{"one after another", motor + motor2 + small + large + belt + mount + strings.NewReplacer("'l'", "'l6'", "five", "six", "htd-5m", "gt-5").Replace(large) + strings.Replace(wheel, "five", "six", 1), []string{
			"m8 shaft_mm: partners-idle s",
			"m10 shaft_mm: nothing-on-shaft 10",
			"s profile: no-such-pulley wheel_pulley htd-5m",
			"l hub: no-such-hub five",
			"b profile: no-such-pair htd-5m",
			"mt centre_min_mm: no-belt-so-far 80 100",
			"l6 profile: no-such-pulley motor_pulley gt-5",
			"w hub: partners-idle l6",
		}},
		{"cell", cell + strings.Replace(cell, "'c'", "'c2'", 1) + battery, []string{"c2 : cell-unused"}},
		{"cell of an idle battery", cell + strings.Replace(cell, "'c'", "'c2'", 1) + battery + ctrl + "[[battery]]\nid = 'p14'\nseries = 14\ncell = 'c2'\n", []string{
			"c2 : cell-in-idle",
			"p14 series: above-controllers 58.8",
		}},
		{"profile of nothing", "[[profile]]\nid = 'own'\npitch_mm = 4\n" + belt, []string{"own : profile-unused"}},
		{"accessories", cell + battery + `
[[bms]]
id = "b10"
series = 10
[[bms]]
id = "b12"
series = 12
[[charger]]
id = "c42"
full_v = 42
current_a = 4
[[charger]]
id = "c41"
full_v = 41.2
current_a = 4
[[charger]]
id = "c50"
full_v = 50.4
current_a = 4
[[switch]]
id = "s"
max_volts = 36
[[switch]]
id = "t"
[[fuse]]
id = "f"
rated_a = 40
max_volts_dc = 32
[[connector]]
id = "x"
max_volts = 30
[[wire]]
id = "v"
awg = 10
max_volts = 30
[[box]]
id = "tin"
length_mm = 60
width_mm = 60
height_mm = 60
[[box]]
id = "case"
length_mm = 300
width_mm = 100
height_mm = 50
`, []string{
			"b12 series: no-such-series 12",
			"c50 full_v: no-such-full 50.4",
			"s max_volts: below-batteries 36",
			"f max_volts_dc: below-batteries 32",
			"x max_volts: below-batteries 30",
			"v max_volts: below-batteries 30",
			"tin : box-too-small 0.22",
		}},
		{"accessories without packs say nothing", "[[bms]]\nid = 'b'\nseries = 12\n", nil},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			var got []string
			for _, r := range audit.Idle(readParts(t, test.body)) {
				got = append(got, strings.Join(r.IDs, "+")+" "+r.Key+": "+found(r))
				if file, line, _ := r.At.Position(); file != "parts.toml" || line < 2 || r.Basis == "" {
					t.Errorf("no place or basis: %+v", r)
				}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("idle (-want +got):\n%s", diff)
			}
		})
	}
}

// Members of a family for which the same is said are named together, at the
// key or at the item of the list that it is about.
func TestIdleFamilies(t *testing.T) {
	c := readParts(t, `[[motor]]
id = "m"
kv = [170, 190]
shaft_mm = 8
[[motor]]
id = "n"
kv = [170, 190]
shaft_mm = [8, 10]
[[pulley]]
id = "s"
side = "motor"
profile = "htd-5m"
teeth = 15
bore_mm = 12
`)
	var got []string
	for _, r := range audit.Idle(c) {
		got = append(got, place(r)+": "+r.Kind+" "+strings.Join(r.IDs, " ")+": "+found(r))
	}
	want := []string{
		"parts.toml:5:12: motor m-170 m-190: nothing-on-shaft 8",
		"parts.toml:9:13: motor n-170: nothing-on-shaft 8",
		"parts.toml:9:16: motor n-190: nothing-on-shaft 10",
		"parts.toml:15:11: pulley s: no-such-shaft 12",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("idle (-want +got):\n%s", diff)
	}
}

// randomDrives draws a small catalog in which parts go together by chance.
func randomDrives(r *rand.Rand) string {
	var b strings.Builder
	pick := func(list ...string) string { return list[r.IntN(len(list))] }
	key := func(name string, values ...string) {
		if v := pick(values...); v != "" {
			fmt.Fprintf(&b, "%s = %s\n", name, v)
		}
	}
	several := func(kind string, low, high int, keys func()) {
		for i := range low + r.IntN(high-low+1) {
			fmt.Fprintf(&b, "[[%s]]\nid = \"%s-%d\"\n", kind, strings.ReplaceAll(kind, "_", "."), i)
			keys()
		}
	}
	several("battery", 1, 2, func() {
		s := 8 + r.IntN(6)
		fmt.Fprintf(&b, "series = %d\nnominal_v = %d\nfull_v = %d\n", s, 3*s, 4*s)
	})
	several("controller", 1, 2, func() { key("max_volts", "", "36", "44", "52") })
	several("motor", 1, 3, func() {
		b.WriteString("kv = 190\n")
		key("max_volts", "", "40", "60")
		key("shaft_mm", "", "8", "8", "10")
		key("shaft_key", "", `"plain"`, `"keyway"`, `"flat"`)
	})
	several("pulley", 2, 5, func() {
		key("profile", `"htd-5m"`, `"htd-5m"`, `"gt-5"`)
		if r.IntN(2) == 0 {
			b.WriteString("side = \"motor\"\n")
			key("teeth", "12", "15", "18")
			key("bore_mm", "", "8", "10")
			key("shaft_key", "", "", `"plain"`, `"keyway"`)
		} else {
			b.WriteString("side = \"wheel\"\n")
			key("teeth", "36", "44", "60")
			key("hub", "", `"a"`, `"b"`, `["a", "c"]`)
		}
		key("width_mm", "", "10", "16")
	})
	several("belt", 0, 3, func() {
		key("profile", `"htd-5m"`, `"htd-5m"`, `"gt-5"`)
		key("teeth", "60", "70", "80", "100")
		key("width_mm", "", "9", "15", "25")
	})
	several("mount", 0, 2, func() {
		low := 50 + r.IntN(60)
		fmt.Fprintf(&b, "centre_min_mm = %d\ncentre_max_mm = %d\n", low, low+r.IntN(30))
	})
	several("gear_drive", 0, 2, func() {
		b.WriteString("ratio = 3\n")
		key("bore_mm", "", "8", "10", "12")
		key("shaft_key", "", "", `"flat"`)
		key("hub", "", `"a"`, `"b"`, `"d"`)
		key("fits_motors", "", "", `"motor-0"`)
		key("fits_wheels", "", "", `"wheel-0"`)
	})
	several("wheel", 1, 3, func() {
		b.WriteString("diameter_mm = 150\n")
		key("hub", "", `"a"`, `"b"`, `"c"`, `"d"`)
	})
	return b.String()
}

// Idle parts are those that no build has which passes the checks of the parts
// alone, tried one by one; and no other part is idle.
func TestIdleIsExact(t *testing.T) {
	brief, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte("schema = 1\n[board]\nmotors = [2]\n[target]\ntop_speed_max_kmh = 200\n")})
	if err != nil {
		t.Fatal(err)
	}
	catalogs, idle, late := 0, 0, 0
	for seed := range uint64(600) {
		c := readParts(t, randomDrives(rand.New(rand.NewPCG(seed, 3))))
		p, err := constraints.NewProblem(c, brief)
		sides := map[catalog.Side]bool{}
		for _, x := range c.Pulleys {
			sides[x.Side] = true
		}
		if err != nil || len(sides) < 2 {
			continue // a kind is missing: nothing to try
		}
		catalogs++
		used := map[string]bool{}
		try := func(p *constraints.Problem) {
			eachCombination(p, func(b *constraints.Build) {
				for _, r := range b.Results() {
					if r.Alone && r.Verdict == constraints.Fail {
						return
					}
				}
				for _, slot := range constraints.Slots() {
					used[b.ID(slot)] = true
				}
			})
		}
		try(p)
		decidable := len(c.Belts) > 0 && len(c.Mounts) > 0
		for id := range catalog.IDs(c.Belts) { // of the belts that fit, a build has the best only
			only := brief.Clone()
			if err := only.AddParts("keep", "belt", []string{id}, "test"); err != nil {
				t.Fatal(err)
			}
			p, err := constraints.NewProblem(c, only)
			if err != nil {
				t.Fatal(err)
			}
			try(p)
		}
		said := map[string]bool{}
		for _, r := range audit.Idle(c) {
			for _, id := range r.IDs {
				if said[id] {
					t.Errorf("seed %d: %s is said to be idle twice", seed, id)
				}
				said[id] = true
			}
			if r.Code == audit.PartnersIdle {
				late++
			}
		}
		for kind, part := range c.Parts() {
			if !decidable && (kind == "belt" || kind == "mount") {
				continue
			}
			if used[part.ID] == said[part.ID] {
				t.Errorf("seed %d: %s is in a build: %v, said to be idle: %v", seed, part.ID, used[part.ID], said[part.ID])
			}
			if said[part.ID] {
				idle++
			}
		}
	}
	if catalogs < 300 || idle < 300 || late < 50 {
		t.Errorf("only %d catalogs, %d idle parts, %d by others", catalogs, idle, late)
	}
}

// eachCombination visits every build of a problem.
func eachCombination(p *constraints.Problem, visit func(*constraints.Build)) {
	for _, battery := range p.Batteries {
		for _, controller := range p.Controllers {
			for _, motor := range p.Motors {
				for _, d := range p.Drives {
					for _, w := range p.Wheels {
						b := &constraints.Build{Problem: p}
						b.Electrify(battery, controller, motor, 0)
						b.Roll(d, w)
						visit(b)
					}
				}
			}
		}
	}
}

// What follows from another remark is told apart from what it follows from.
func TestIdleTellsWhatFollows(t *testing.T) {
	c := readParts(t, `[[motor]]
id = "m"
kv = 150
shaft_mm = 8
[[gear_drive]]
id = "g"
ratio = 3
bore_mm = 8
hub = "six"
[[wheel]]
id = "w"
diameter_mm = 97
hub = "five"
`)
	follows := map[string]bool{}
	for _, r := range audit.Idle(c) {
		follows[r.IDs[0]] = r.Follows
	}
	want := map[string]bool{"m": true, "g": false, "w": false}
	if diff := cmp.Diff(want, follows); diff != "" {
		t.Errorf("what follows (-want +got):\n%s", diff)
	}
}
