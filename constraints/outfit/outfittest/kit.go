// Package outfittest has a small catalog, with a build of it, for tests of what a
// build needs around it and of what is said about that.
package outfittest

import (
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/internal/kit"
)

// Hill is a brief with a climb.
const Hill = "[target]\nclimb_grade_pct = 15\nclimb_speed_kmh = 12\n"

// Bare are the changes that take all accessories out of the kit.
func Bare() []string {
	return []string{"-guard", "-main", "-melt", "-plug", "-lead", "-thin", "-loader", "-hand", "-tray"}
}

// changed are the changes of the kit that make its build ask for more around it,
// and have no masses, so that what follows is easy to work out by hand.
func changed() []string {
	out := []string{
		"motor.sensored = true", "cell.discharge_a = 35", "cell.charge_a = 4", "cell.diameter_mm = 21", "cell.length_mm = 70",
		"cell.sold_in = 10", "mount.sold_in = 2",
		"-motor.can_diameter_mm", "-motor.can_length_mm", "-controller.continuous_current_a",
	}
	for _, part := range []string{"motor", "controller", "cell", "wheel", "small", "large", "belt", "mount"} {
		out = append(out, "-"+part+".mass_g")
	}
	return out
}

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

// Build makes the kit's build: with its accessories, under a brief, with
// changes. Where the changes take out the pulleys it is the gear drive "gear".
func Build(t testing.TB, brief string, changes ...string) *constraints.Build {
	t.Helper()
	src := func(name, text string) field.Source { return field.Source{Name: name, Data: []byte(text)} }
	k := kit.New(kit.Belts, changed()...)
	k.Add(around)
	k.Change(changes...)
	c, err := catalog.Read(k.Catalog())
	if err != nil {
		t.Fatalf("catalog: %v", err)
	}
	br, err := constraints.ReadBrief(src("brief.toml", "schema = 1\n[rider]\ndrag_area_m2 = 0.55\n[ride]\nstops_per_km = 0\n[limit]\nwinding_c = 20\nride_factor = 1.2\n"+brief))
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
