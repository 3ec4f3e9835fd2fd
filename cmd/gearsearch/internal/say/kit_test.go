package say

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// The kits of a test: a catalog with one part in each slot, on belts and on
// gears, and a brief. Six-step controllers and windings at 20 °C make amperes and
// ohms those written here.
const (
	onBelts = "belts"
	onGears = "gears"

	commonKit = `
motor: [[motor]] kv=150 pole_pairs=7 resistance_mohm=50 no_load_current_a=1 peak_current_a=80 continuous_current_a=40 max_volts=60 shaft_mm=8 shaft_key="keyway" can_length_mm=70 price=90 mass_g=700
controller: [[controller]] erpm_ceiling=150000 max_volts=60 motor_current_a=70 battery_current_a=30 continuous_current_a=50 channels=1 max_duty=0.95 efficiency=0.97 commutation="six-step" price=80 mass_g=100
cell: [[cell]] nominal_v=3.6 full_v=4.2 cutoff_v=3 capacity_ah=5 resistance_mohm=20 discharge_a=20 price=5 mass_g=50
battery: [[battery]] series=10 parallel=2 cell="cell"
wheel: [[wheel]] diameter_mm=100 hub="spoke" tyre="urethane" price=60 mass_g=250
`
	beltKit = `
small: [[pulley]] side="motor" profile="htd-5m" teeth=15 width_mm=15 bore_mm=8 shaft_key="keyway" price=12 mass_g=30
large: [[pulley]] side="wheel" profile="htd-5m" teeth=45 width_mm=15 hub="spoke" price=20 mass_g=90
belt: [[belt]] profile="htd-5m" teeth=70 width_mm=15 price=9 mass_g=15
mount: [[mount]] centre_min_mm=60 centre_max_mm=120 price=30 mass_g=120
`
	gearKit = `
gear: [[gear_drive]] ratio=3 efficiency=0.97 bore_mm=8 shaft_key="keyway" hub="spoke" max_torque_nm=40 outside_mm=76 price=150 mass_g=500
`
	briefKit = `
target: [target]
board: [board]
ground: [ground]
limit: [limit] winding_c=20
`
)

// kitTable is a table of a kit.
type kitTable struct {
	name, header string
	keys         []string // with their values
}

// kitTables reads the tables of a kit: "name: header key=value …" each.
func kitTables(text string) []kitTable {
	var out []kitTable
	for line := range strings.Lines(strings.TrimSpace(text)) {
		if name, rest, ok := strings.Cut(strings.TrimSpace(line), ": "); ok {
			words := strings.Fields(rest)
			out = append(out, kitTable{name, words[0], words[1:]})
		}
	}
	return out
}

// kitProblem is the problem of a changed kit. A change is "table.key = value" to
// set a key, "-table.key" to take it out, "-table" to take out a part, and
// "[[kind]] …" for more of the catalog.
func kitProblem(t testing.TB, kit string, changes ...string) *constraints.Problem {
	t.Helper()
	parts, brief := kitTables(commonKit+beltKit), kitTables(briefKit)
	if kit == onGears {
		parts = kitTables(commonKit + gearKit)
	}
	extra := ""
	for _, c := range changes {
		if strings.HasPrefix(c, "[[") {
			extra += "\n" + c + "\n"
			continue
		}
		what, value, set := strings.Cut(strings.TrimPrefix(c, "-"), " = ")
		name, key, _ := strings.Cut(what, ".")
		named := func(t kitTable) bool { return t.name == name }
		list := &parts
		if !slices.ContainsFunc(parts, named) {
			list = &brief
		}
		i := slices.IndexFunc(*list, named)
		if key == "" {
			*list = slices.Delete(*list, i, i+1)
			continue
		}
		x := &(*list)[i]
		x.keys = slices.DeleteFunc(x.keys, func(s string) bool { return strings.HasPrefix(s, key+"=") })
		if set {
			x.keys = append(x.keys, key+"="+value)
		}
	}
	c, err := catalog.Read(kitSource("catalog.toml", parts, extra))
	if err != nil {
		t.Fatalf("catalog: %v", err)
	}
	b, err := constraints.ReadBrief(kitSource("brief.toml", brief, ""))
	if err != nil {
		t.Fatalf("brief: %v", err)
	}
	p, err := constraints.NewProblem(c, b)
	if err != nil {
		t.Fatalf("problem: %v", err)
	}
	return p
}

// kitSource writes tables as a file; a part's id is its table's name.
func kitSource(name string, tables []kitTable, extra string) field.Source {
	text := "schema = 1\n"
	for _, x := range tables {
		text += "\n" + x.header + "\n"
		if strings.HasPrefix(x.header, "[[") {
			text += fmt.Sprintf("id = %q\n", x.name)
		}
		text += strings.Join(x.keys, "\n") + "\n"
	}
	return field.Source{Name: name, Data: []byte(text + extra)}
}

// firstBuild is a problem's first build.
func firstBuild(p *constraints.Problem) *constraints.Build {
	b := &constraints.Build{Problem: p}
	b.Electrify(p.Batteries[0], p.Controllers[0], p.Motors[0], 0)
	b.Roll(p.Drives[0], p.Wheels[0])
	return b
}

var update = flag.Bool("update", false, "write the golden files of testdata anew")

// record is a golden file of texts and what was said to them.
type record struct{ strings.Builder }

// add notes one text and what was said to it.
func (tr *record) add(name, text, said string) {
	if said == "" {
		said = "(nothing)"
	}
	tr.WriteString("# " + name + "\n\n")
	for line := range strings.Lines(strings.TrimSpace(text)) {
		tr.WriteString(strings.TrimRight("    "+strings.TrimSuffix(line, "\n"), " ") + "\n")
	}
	tr.WriteString("\n" + said + "\n\n")
}

// check compares the record to its file in testdata.
func (tr *record) check(t *testing.T, file string) {
	t.Helper()
	path := filepath.Join("testdata", file)
	if *update {
		if err := os.WriteFile(path, []byte(tr.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; go test -update writes it", err)
	}
	if d := cmp.Diff(string(want), tr.String()); d != "" {
		t.Errorf("%s differs (-want +got); go test -update writes it anew:\n%s", path, d)
	}
}
