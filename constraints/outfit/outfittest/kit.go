// Package outfittest has a small catalog, with a build of it, for tests of what a
// build needs around it and of what is said about that.
package outfittest

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// Hill is a brief with a climb.
const Hill = "[target]\nclimb_grade_pct = 15\nclimb_speed_kmh = 12\n"

// Bare are the changes that take all accessories out of the kit.
func Bare() []string {
	return []string{"-guard", "-main", "-melt", "-plug", "-lead", "-thin", "-loader", "-hand", "-tray"}
}

// kit is the text of a catalog and a build of it. Its round numbers make what
// follows easy to work out by hand: six-step controllers and windings at 20 °C,
// so that amperes and ohms are those written here.
const kit = `
motor: [[motor]] kv=150 pole_pairs=7 resistance_mohm=50 no_load_current_a=1 peak_current_a=80 continuous_current_a=40 shaft_mm=8 shaft_key="keyway" sensored=true price=90
controller: [[controller]] erpm_ceiling=150000 motor_current_a=70 battery_current_a=30 channels=1 max_duty=0.95 efficiency=0.97 commutation="six-step" price=80
cell: [[cell]] nominal_v=3.6 full_v=4.2 cutoff_v=3 capacity_ah=5 resistance_mohm=20 discharge_a=35 charge_a=4 diameter_mm=21 length_mm=70 price=5 sold_in=10
battery: [[battery]] series=10 parallel=2 cell="cell"
wheel: [[wheel]] diameter_mm=100 hub="spoke" tyre="urethane" price=60
small: [[pulley]] side="motor" profile="htd-5m" teeth=15 width_mm=15 bore_mm=8 shaft_key="keyway" price=12
large: [[pulley]] side="wheel" profile="htd-5m" teeth=45 width_mm=15 hub="spoke" price=20
belt: [[belt]] profile="htd-5m" teeth=70 width_mm=15 price=9
mount: [[mount]] centre_min_mm=60 centre_max_mm=120 price=30 sold_in=2
`

// around are the kit's accessories, each meeting what the build needs.
const around = `
guard: [[bms]] series=10 charge_a=8 cell_full_v=4.25 discharge_a=60 price=25
main: [[switch]] max_volts=60 continuous_a=80 precharge=true price=40
melt: [[fuse]] rated_a=65 max_volts_dc=58 breaking_a=1000 price=4
plug: [[connector]] poles=2 max_volts=60 continuous_a=60 peak_a=120 wire_max_awg=8 price=3
lead: [[wire]] awg=10 insulation_c=200 max_volts=600 price=2
thin: [[wire]] awg=14 insulation_c=200 max_volts=600 price=1
loader: [[charger]] full_v=42 current_a=4 price=45
hand: [[remote]] failsafe=true price=50
tray: [[box]] length_mm=300 width_mm=120 height_mm=90 price=30
`

// change is "part.key = value" to set a key, "-part.key" to take it out, "-part"
// to take out a part, "[[kind]] …" for more of the catalog.
func tables(text string, changes []string) string {
	type table struct {
		name, header string
		keys         []string
	}
	var parts []table
	for line := range strings.Lines(strings.TrimSpace(text)) {
		name, rest, ok := strings.Cut(strings.TrimSpace(line), ": ")
		if !ok {
			continue
		}
		words := strings.Fields(rest)
		parts = append(parts, table{name, words[0], append([]string{fmt.Sprintf("id=%q", name)}, words[1:]...)})
	}
	out := "schema = 1\n"
	for _, c := range changes {
		if strings.HasPrefix(c, "[[") {
			continue
		}
		what, value, set := strings.Cut(c, " = ")
		what, gone := strings.CutPrefix(what, "-")
		name, key, _ := strings.Cut(what, ".")
		i := slices.IndexFunc(parts, func(t table) bool { return t.name == name })
		if i < 0 || set == gone {
			panic("no such change of a kit: " + c)
		}
		if key == "" {
			parts = slices.Delete(parts, i, i+1)
			continue
		}
		before := len(parts[i].keys)
		parts[i].keys = slices.DeleteFunc(parts[i].keys, func(s string) bool { return strings.HasPrefix(s, key+"=") })
		if gone && len(parts[i].keys) == before {
			panic("no such key of a kit: " + c)
		}
		if set {
			parts[i].keys = append(parts[i].keys, key+"="+value)
		}
	}
	for _, t := range parts {
		out += "\n" + t.header + "\n" + strings.Join(t.keys, "\n") + "\n"
	}
	for _, c := range changes {
		if strings.HasPrefix(c, "[[") {
			out += "\n" + c + "\n"
		}
	}
	return out
}

// Build makes the kit's build: with its accessories, under a brief, with
// changes. Where the changes take out the pulleys it is the gear drive "gear".
func Build(t testing.TB, brief string, changes ...string) *constraints.Build {
	t.Helper()
	src := func(name, text string) field.Source { return field.Source{Name: name, Data: []byte(text)} }
	c, err := catalog.Read(src("catalog.toml", tables(kit+around, changes)))
	if err != nil {
		t.Fatalf("catalog: %v", err)
	}
	br, err := constraints.ReadBrief(src("brief.toml", "schema = 1\n[limit]\nwinding_c = 20\n"+brief))
	if err != nil {
		t.Fatalf("brief: %v", err)
	}
	text := "schema = 1\n[build]\nmotor = \"motor\"\nmotors = 2\ncontroller = \"controller\"\nbattery = \"battery\"\nwheel = \"wheel\"\n"
	if _, ok := catalog.ByID(c.GearDrives, "gear"); ok {
		text += "gear_drive = \"gear\"\n"
	} else {
		text += "motor_pulley = \"small\"\nwheel_pulley = \"large\"\n"
		for _, id := range []string{"mount", "belt"} {
			if _, _, ok := c.Find(id); ok {
				text += id + " = \"" + id + "\"\n"
			}
		}
	}
	f, err := constraints.ReadBuild(src("build.toml", text))
	if err != nil {
		t.Fatalf("build: %v", err)
	}
	p, err := constraints.NewProblem(c, f.With(br))
	if err != nil {
		t.Fatalf("problem: %v", err)
	}
	b, err := p.Find(f)
	if err != nil {
		t.Fatalf("find: %v", err)
	}
	return b
}
