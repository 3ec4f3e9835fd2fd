package catalog

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
)

// read reads one TOML file with schema = 1 put before it.
func read(t *testing.T, body string) *Catalog {
	t.Helper()
	c, err := Read(Source{Name: "parts.toml", Data: []byte("schema = 1\n" + body)})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// ids lists all ids of a catalog: kinds in the order of the format, ids as
// bytes.
func ids(c *Catalog) []string {
	var out []string
	for _, p := range c.Parts() {
		out = append(out, p.ID)
	}
	return out
}

func TestFamilies(t *testing.T) {
	const pulley = "[[pulley]]\nside = 'wheel'\nprofile = 'htd-5m'\n"
	const cell = "[[cell]]\nid = 'cell'\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 2.5\n"
	tests := []struct {
		why, body string
		want      []string
	}{
		{"no lists", pulley + "id = 'p'\nteeth = 40", []string{"p"}},
		{"pulleys grow their teeth", pulley + "id = 'p'\nteeth = [40, 44]", []string{"p-40", "p-44"}},
		{"one of one grows its suffix too", pulley + "id = 'p'\nteeth = [40]", []string{"p-40"}},
		{"other lists go along", pulley + "id = 'p'\nteeth = [40, 44]\nprice = [1, 2]", []string{"p-40", "p-44"}},
		{"a running number where the teeth are no list", pulley + "id = 'p'\nteeth = 40\nprice = [1, 2]", []string{"p-1", "p-2"}},
		{"ids may be a list", pulley + "id = ['b', 'a']\nteeth = [40, 44]", []string{"a", "b"}},
		{"ids alone may be a list", pulley + "id = ['b', 'a']\nteeth = 40", []string{"a", "b"}},
		{"motors grow their kv", "[[motor]]\nid = 'm'\nkv = [170, 82.50]", []string{"m-170", "m-82.5"}},
		{"whole kv has no decimals", "[[motor]]\nid = 'm'\nkv = [190.0]", []string{"m-190"}},
		{"belts grow their teeth", "[[belt]]\nid = 'b'\nprofile = 't5'\nteeth = [50, 55]", []string{"b-50", "b-55"}},
		{"sprockets grow their teeth", "[[sprocket]]\nid = 's'\nside = 'motor'\nprofile = 'chain-05b'\nteeth = [9, 11]", []string{"s-11", "s-9"}},
		{"chains grow their links", "[[chain]]\nid = 'c'\nprofile = 'chain-05b'\nlinks = [62, 64]", []string{"c-62", "c-64"}},
		{"wheels grow their diameter", "[[wheel]]\nid = 'w'\ndiameter_mm = [97, 107.0, 82.5]", []string{"w-107", "w-82.5", "w-97"}},
		{"packs grow series and parallel", cell + "[[battery]]\nid = 'b'\nseries = [10, 12]\nparallel = [4, 3]\ncell = 'cell'", []string{"cell", "b-10s4p", "b-12s3p"}},
		{"packs of series alone", cell + "[[battery]]\nid = 'b'\nseries = [10, 12]\ncell = 'cell'", []string{"cell", "b-10s1p", "b-12s1p"}},
		{"packs of parallel alone", cell + "[[battery]]\nid = 'b'\nseries = 10\nparallel = [2, 3]\ncell = 'cell'", []string{"cell", "b-10s2p", "b-10s3p"}},
		{"packs of neither", cell + "[[battery]]\nid = 'b'\nseries = 10\ncell = 'cell'\nprice = [1, 2]", []string{"cell", "b-1", "b-2"}},
		{"other kinds count", "[[mount]]\nid = 'm'\ncentre_min_mm = [50, 60, 70]\ncentre_max_mm = 90", []string{"m-1", "m-2", "m-3"}},
		{"gear drives count", "[[gear_drive]]\nid = 'g'\nratio = [2.5, 3]", []string{"g-1", "g-2"}},
		{"protection boards grow their series", "[[bms]]\nid = 'g'\nseries = [10, 12]", []string{"g-10s", "g-12s"}},
		{"fuses grow their rating", "[[fuse]]\nid = 'f'\nrated_a = [7.5, 80]", []string{"f-7.5a", "f-80a"}},
		{"wires grow their gauge", "[[wire]]\nid = 'w'\nawg = [12, 0, -1]", []string{"w--1awg", "w-0awg", "w-12awg"}},
		{"wires grow their area", "[[wire]]\nid = 'w'\narea_mm2 = [4, 2.50]", []string{"w-2.5mm2", "w-4mm2"}},
		{"wires of one gauge count", "[[wire]]\nid = 'w'\nawg = 12\nprice = [1, 2]", []string{"w-1", "w-2"}},
		{"chargers grow their volts", "[[charger]]\nid = 'c'\nfull_v = [42, 50.4]\ncurrent_a = 4", []string{"c-42v", "c-50.4v"}},
		{"connectors count", "[[connector]]\nid = 'c'\ncontinuous_a = [30, 60]", []string{"c-1", "c-2"}},
		{"a family of one by another key grows its number too", pulley + "id = 'p'\nteeth = 40\nprice = [1]", []string{"p-40"}},
		{"a pack of one too", cell + "[[battery]]\nid = 'b'\nseries = 10\ncell = 'cell'\nprice = [1]", []string{"cell", "b-10s1p"}},
		{"a wire of one too", "[[wire]]\nid = 'w'\narea_mm2 = 4\nprice = [1]", []string{"w-4mm2"}},
		{"boxes count", "[[box]]\nid = 'b'\nlength_mm = [200, 300]\nwidth_mm = 100\nheight_mm = 40", []string{"b-1", "b-2"}},
		{"hubs are no family", pulley + "id = 'p'\nteeth = 40\nhub = ['five', 'eight']", []string{"p"}},
		{"an inline table is a part", "motor = [{id = 'm', kv = [170, 190]}]", []string{"m-170", "m-190"}},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			got := ids(read(t, test.body))
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("ids (-want +got):\n%s", diff)
			}
		})
	}
}

func TestFamilyMembers(t *testing.T) {
	c := read(t, "[[motor]]\nid = 'm'\nname = 'Motor'\nkv = [190, 170]\nresistance_mohm = [48, 60]\nshaft_mm = 8\nsensored = true\n")
	if len(c.Motors) != 2 {
		t.Fatalf("%d motors", len(c.Motors))
	}
	for i, want := range []struct {
		id   string
		kv   float64
		r    float64
		line int
	}{{"m-170", 170, 0.060, 3}, {"m-190", 190, 0.048, 3}} {
		m := c.Motors[i]
		if m.ID != want.id || m.KV != want.kv || m.Resistance != want.r || m.Shaft != 0.008 || m.Name != "Motor" || m.Sensored == nil || !*m.Sensored {
			t.Errorf("motor %d: %+v", i, m)
		}
		if m.Pos != (Position{"parts.toml", want.line, 6}) {
			t.Errorf("%s is defined at %v", m.ID, m.Pos)
		}
	}
	c = read(t, "[[motor]]\nid = ['a', 'b']\nkv = 190\n")
	if got := c.Motors[1].Pos; got != (Position{"parts.toml", 3, 12}) {
		t.Errorf("the second id of a list is at %v", got)
	}
}

// What a part does not give is NaN, empty or nil, never a number that could be
// taken for one.
func TestAbsent(t *testing.T) {
	c := read(t, `
[[motor]]
id = "m"
kv = 190
[[wheel]]
id = "w"
diameter_mm = 97
[[gear_drive]]
id = "g"
driver_teeth = 12
driven_teeth = 36
`)
	m, w, g := c.Motors[0], c.Wheels[0], c.GearDrives[0]
	for name, x := range map[string]float64{
		"price": m.Price, "mass": m.Mass, "pole pairs": m.PolePairs, "resistance": m.Resistance, "no-load current": m.NoLoadCurrent,
		"shaft": m.Shaft, "wheel width": w.Width, "rolling ratio": w.RollingRatio, "rolling resistance": w.RollingResistance,
		"efficiency": g.Efficiency, "bore": g.Bore, "torque": g.MaxTorque, "outside": g.Outside,
	} {
		if !math.IsNaN(x) {
			t.Errorf("%s is %v", name, x)
		}
	}
	if m.ShaftKey != KeyUnknown || m.Sensored != nil || m.SoldIn != 1 || w.SoldIn != 4 || w.Tyre != TyreUnknown || w.Hubs != nil || m.Owned {
		t.Errorf("motor %+v, wheel %+v", m, w)
	}
	if g.Ratio != 3 || g.Driver != 12 || g.Driven != 36 || g.FitsMotors != nil {
		t.Errorf("gear drive %+v", g)
	}
	if c.Currency != "EUR" {
		t.Errorf("currency %q", c.Currency)
	}
}

func TestReferences(t *testing.T) {
	c, err := Read(
		Source{Name: "a.toml", Data: []byte(`
schema = 1
currency = "GBP"
[[battery]]
id = "b"
series = 10
parallel = 4
cell = "cell"
[[pulley]]
id = "p"
side = "motor"
profile = "own"
teeth = 15
[[belt]]
id = "belt"
profile = "htd-5m"
teeth = 90
[[gear_drive]]
id = "g"
ratio = 1
fits_motors = "m"
fits_wheels = ["w"]
`)},
		Source{Name: "dir/cell.csv", Data: []byte("id,nominal_v,full_v,cutoff_v,capacity_ah\ncell,3.6,4.2,2.8,2.5\n")},
		Source{Name: "b.toml", Data: []byte(`
schema = 1
title = "Second"
[[profile]]
id = "own"
pitch_mm = 4
pull_n_per_mm = 11.22
[[motor]]
id = "m"
kv = 75
[[wheel]]
id = "w"
diameter_mm = 90
`)})
	if err != nil {
		t.Fatal(err)
	}
	if c.Batteries[0].Cell != c.Cells[0] || c.Pulleys[0].Profile != c.Profiles[0] {
		t.Error("references do not lead to the catalog's own parts")
	}
	built, ok := c.Profile("htd-5m")
	if !ok || c.Belts[0].Profile != built || !built.BuiltIn || built.Pitch != 0.005 {
		t.Errorf("built-in profile: %+v", built)
	}
	own, ok := c.Profile("own")
	if !ok || own.BuiltIn || own.Profile.Name != "own" || own.Pitch != 0.004 || own.Pull != 11220 || !math.IsNaN(own.PitchLine) {
		t.Errorf("own profile: %+v", own)
	}
	if _, ok := c.Profile("none"); ok {
		t.Error("a profile is found that nobody has")
	}
	if c.Title != "Second" || c.Currency != "GBP" || !slices.Equal(c.Files, []string{"a.toml", "dir/cell.csv", "b.toml"}) {
		t.Errorf("title %q, currency %q, files %v", c.Title, c.Currency, c.Files)
	}
}

func TestLookups(t *testing.T) {
	c := read(t, "[[motor]]\nid = 'b'\nkv = 190\n[[motor]]\nid = 'a'\nkv = 170\nprice = 99.5\n[[wheel]]\nid = 'w'\ndiameter_mm = 97\n")
	if m, ok := ByID(c.Motors, "b"); !ok || m.KV != 190 {
		t.Errorf("motor b: %+v", m)
	}
	if _, ok := ByID(c.Motors, "w"); ok {
		t.Error("a wheel is found among the motors")
	}
	if got := slices.Collect(IDs(c.Motors)); !slices.Equal(got, []string{"a", "b"}) {
		t.Errorf("motors %v", got)
	}
	if kind, p, ok := c.Find("w"); !ok || kind != "wheel" || p.ID != "w" {
		t.Errorf("w is %s %+v", kind, p)
	}
	if _, _, ok := c.Find("x"); ok {
		t.Error("x is found")
	}
	var counts []string
	for _, k := range c.Count() {
		if k.N > 0 {
			counts = append(counts, k.Kind)
		}
	}
	if !slices.Equal(counts, []string{"motor", "wheel"}) {
		t.Errorf("kinds with parts: %v", counts)
	}
	if counts := c.Count(); len(counts) != 10 || counts[9].Kind != "profile" {
		t.Errorf("kinds counted: %v; want those that builds are made of", counts)
	}
	if counts := read(t, "[[remote]]\nid = 'r'\n").Count(); len(counts) != 11 || counts[10] != (KindCount{"remote", 1}) {
		t.Errorf("kinds counted: %v; want those that builds are made of, and the remote", counts)
	}
	values := map[string]any{}
	for in, v := range c.Values("motor", "a") {
		if v != nil {
			values[in.Key] = v
		}
	}
	if diff := cmp.Diff(map[string]any{"id": "a", "kv": 170.0, "price": 99.5, "sold_in": 1}, values); diff != "" {
		t.Errorf("values (-want +got):\n%s", diff)
	}
	for range c.Values("motor", "w") {
		t.Error("values of no part")
	}
	for range c.Values("bolt", "a") {
		t.Error("values of no kind")
	}
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	file := write("one.toml", "schema = 1\n[[motor]]\nid = 'a'\nkv = 190\n")
	write("csv/motor.csv", "id,kv\nb,170\n")
	write("csv/wheel.CSV", "id,diameter_mm\nw,97\n")
	write("csv/notes.txt", "anything")
	write("csv/._motor.csv", "\x00\x05\x16\x07\x00\x02\x00\x00Mac OS X")
	write("csv/.more.csv", "id\n")
	write("csv/sub/motor.csv", "id,kv\nc,170\n")
	c, err := Load([]string{file, filepath.Join(dir, "csv")})
	if err != nil {
		t.Fatal(err)
	}
	if got := ids(c); !slices.Equal(got, []string{"a", "b", "w"}) {
		t.Errorf("parts %v", got)
	}
	if c, err := Load([]string{filepath.Join(dir, "csv", "motor.csv")}); err != nil || len(c.Motors) != 1 {
		t.Errorf("a CSV file by its name: %v", err)
	}

	var path *fs.PathError
	if _, err := Load([]string{filepath.Join(dir, "none.toml")}); !errors.As(err, &path) || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
	write("empty/parts.toml", "schema = 1\n")
	write("strange/motors.csv", "id,kv\n")
	var problems field.Problems
	if _, err := Load([]string{filepath.Join(dir, "empty")}); !errors.As(err, &problems) || !strings.Contains(err.Error(), "no CSV file") || !strings.Contains(err.Error(), "parts.toml") {
		t.Errorf("a directory without CSV files: %v", err)
	}
	if _, err := Load([]string{filepath.Join(dir, "strange")}); !errors.As(err, &problems) || !strings.Contains(err.Error(), "did you mean motor.csv?") {
		t.Errorf("a CSV file of no kind: %v", err)
	}
	if c, err := Load(nil); err != nil || len(ids(c)) != 0 {
		t.Errorf("no files are an empty catalog: %v", err)
	}
}

func TestDemo(t *testing.T) {
	c, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	checkCatalog(t, c)
	for _, want := range []struct {
		kind string
		n    int
	}{{"motor", 14}, {"controller", 6}, {"cell", 4}, {"battery", 10}, {"gear_drive", 6}, {"wheel", 14}} {
		counts := c.Count()
		i := slices.IndexFunc(counts, func(k KindCount) bool { return k.Kind == want.kind })
		if got := counts[i].N; got < want.n {
			t.Errorf("%d of kind %s, want at least %d", got, want.kind, want.n)
		}
	}
	briefs := DemoBriefs()
	if len(briefs) != 4 {
		t.Errorf("%d briefs, want 4", len(briefs))
	}
	for _, b := range briefs {
		if got, ok := DemoBrief(DemoBriefName(b)); !ok || got.Name != b.Name || len(got.Data) == 0 {
			t.Errorf("brief %s is not found by its name", b.Name)
		}
	}
	if _, ok := DemoBrief("none"); ok {
		t.Error("a brief is found that is not there")
	}
}

// TestDemoRoutes: the embedded ways are found by their names.
func TestDemoRoutes(t *testing.T) {
	var names []string
	for _, r := range DemoRoutes() {
		name := DemoRouteName(r)
		names = append(names, name)
		if got, ok := DemoRoute(name); !ok || got.Name != r.Name || len(got.Data) == 0 {
			t.Errorf("%s: %v, %d bytes", name, ok, len(got.Data))
		}
	}
	if !slices.Equal(names, []string{"forest", "harbour"}) {
		t.Errorf("the ways are %v", names)
	}
	if _, ok := DemoRoute("none"); ok {
		t.Error("there is a way of no name")
	}
}
