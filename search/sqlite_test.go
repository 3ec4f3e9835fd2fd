package search

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// sqlRow is what SQLite says of one combination.
type sqlRow struct {
	build   string // the ids
	first   string // the first check that rejects it, "" for none
	unknown bool
}

// sqlite runs a script and returns the cells of its rows.
func sqlite(t *testing.T, script string) [][]string {
	t.Helper()
	cmd := exec.Command("sqlite3", "-bail", "-batch", "-list", ":memory:")
	cmd.Stdin = strings.NewReader(script)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("sqlite3: %v\n%s", err, stderr.String())
	}
	var rows [][]string
	for line := range strings.Lines(string(out)) {
		rows = append(rows, strings.Split(strings.TrimSuffix(line, "\n"), "|"))
	}
	return rows
}

// sqlRows runs a script that ends with sqlReport.
func sqlRows(t *testing.T, script string) []sqlRow {
	t.Helper()
	var rows []sqlRow
	for _, cells := range sqlite(t, script) {
		last := len(cells) - 2
		rows = append(rows, sqlRow{strings.Join(cells[:last], " "), cells[last], cells[last+1] == "1"})
	}
	return rows
}

// needSQLite leaves a test out where there is no sqlite3, or one without functions.
func needSQLite(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("sqlite3"); err != nil {
		t.Skip("no sqlite3 program on the PATH: SQLite was not asked")
	}
	if err := exec.Command("sqlite3", ":memory:", "select sqrt(pow(2, 2))").Run(); err != nil {
		t.Skip("this sqlite3 has no sqrt() and pow(): SQLite was not asked")
	}
}

// sqlName is a build's ids as sqlReport writes them.
func sqlName(b *constraints.Build) string {
	ids := b.File().IDs
	return strings.Join([]string{
		ids[constraints.SlotBattery], ids[constraints.SlotController], ids[constraints.SlotMotor], strconv.Itoa(b.Motors()),
		ids[constraints.SlotGearDrive], ids[constraints.SlotMotorPulley], ids[constraints.SlotWheelPulley], ids[constraints.SlotMount], ids[constraints.SlotBelt], ids[constraints.SlotWheel],
	}, " ")
}

// TestSQLiteAgrees: SQLite finds the same feasible builds, rejects the others
// under the same checks, and finds the same of them undecided.
func TestSQLiteAgrees(t *testing.T) {
	needSQLite(t)
	small := randcat.Sizes{Motors: 3, Controllers: 2, Batteries: 3, Pulleys: 3, Belts: 4, Mounts: 2, Gears: 3, Wheels: 3}
	shop := randcat.Market{Motors: 3, Controllers: 2, Batteries: 3, MotorPulleys: 2, WheelPulleys: 3, Gears: 3, Wheels: 3}

	n := max(*catalogs/80, 125)
	if testing.Short() {
		n /= 4
	}
	feasible, flat, belts, chains, rejected := uint64(0), 0, 0, 0, map[string]uint64{}
	for seed, asked := uint64(0), 0; asked < n; seed++ {
		r := rand.New(rand.NewPCG(seed, 3))
		text := []func() string{
			func() string { return randcat.Catalog(r, small) },
			func() string { return shop.Catalog(r) },
			func() string { return randcat.Fitting(r, small, "htd-5m") },
			func() string { return randcat.Fitting(r, small, "chain-06c") },
		}[seed%4]()
		brief, tables, demoted := sqlBrief(r)
		p, err := sqlProblem(text, brief)
		if err != nil {
			continue // a charge below every cut-off
		}
		asked++
		flat += len(p.Flat)
		undecided, strict := 1, seed%5 == 4
		if strict {
			undecided = 0
		}
		rows := sqlRows(t, sqlTables(p.Catalog)+sqlWorld+tables+sqlPacks+sqlBelts+sqlModel+sqlVerdicts+sqlJudged()+sqlReport(demoted, undecided))
		want := Tally{Rejected: make([]uint64, len(p.Checks()))}
		var wantBuilds []string
		for _, row := range rows {
			want.Combinations++
			if row.first != "" {
				want.Rejected[slices.IndexFunc(p.Checks(), func(c *constraints.Check) bool { return c.Name == row.first })]++
				rejected[row.first]++
				continue
			}
			want.Feasible++
			if row.unknown {
				want.Unknown++
			}
			wantBuilds = append(wantBuilds, row.build)
		}
		feasible += want.Feasible

		got, err := Rank(t.Context(), p, Options{Strict: strict})
		if err != nil {
			t.Fatal(err)
		}
		var builds []string
		for b := range got.Builds() {
			builds = append(builds, sqlName(b.Build))
			switch d := b.Build.Drive; {
			case d.Belt == nil:
			case d.Chained():
				chains++
			default:
				belts++
			}
		}
		slices.Sort(builds)
		slices.Sort(wantBuilds)
		if d := cmp.Diff(wantBuilds, builds); d != "" {
			t.Errorf("seed %d: feasible builds differ (-SQLite +search):\n%s\n%s", seed, d, brief)
		}
		if d := cmp.Diff(want, got.Tally); d != "" {
			t.Errorf("seed %d: counts differ (-SQLite +search):\n%s\n%s", seed, d, brief)
		}
	}
	t.Logf("%d feasible builds, %d with belts and %d with chains, %d flat packs, rejected: %v", feasible, belts, chains, flat, rejected)
	if testing.Short() {
		return
	}
	if flat == 0 {
		t.Error("no pack is flat: the test does not test it")
	}
	if feasible < 400 || belts < 20 || chains < 20 {
		t.Errorf("%d feasible builds in all, %d with belts, %d with chains: the test does not test", feasible, belts, chains)
	}
	for _, c := range sqlChecks {
		if rejected[c] == 0 {
			t.Errorf("%s rejects nothing in all: the test does not test it", c)
		}
	}
}

// TestSQLiteDrives: each pair in each mount wears the same belt or chain in SQL, at the
// same centre distance, with the same teeth in mesh, and bears the same pull.
func TestSQLiteDrives(t *testing.T) {
	needSQLite(t)
	size := randcat.Sizes{Motors: 1, Controllers: 1, Batteries: 1, Pulleys: 6, Belts: 6, Mounts: 3, Gears: 1, Wheels: 1}
	const columns = "belt centre mesh reduction efficiency outside pull bears"
	worn := map[bool]int{}
	for seed := range uint64(max(*catalogs/250, 40)) {
		r := rand.New(rand.NewPCG(seed, 17))
		text := randcat.Catalog(r, size)
		if profile := []string{"", "htd-5m", "chain-05b", "chain-06c"}[seed%4]; profile != "" {
			text = randcat.Fitting(r, size, profile)
		}
		p, err := sqlProblem(text, "schema = 1\n[target]\nclimb_grade_pct = 10\n")
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		b := &constraints.Build{Problem: p}
		b.Electrify(p.Batteries[0], p.Controllers[0], p.Motors[0], 0)
		load := slices.IndexFunc(p.Checks(), func(c *constraints.Check) bool { return c.Name == "belt-load" })
		want := map[string][]string{}
		for _, row := range sqlite(t, sqlTables(p.Catalog)+sqlWorld+sqlBelts+"create table counts (count);\n"+sqlModel[:strings.Index(sqlModel, "create view rolling")]+
			"select small, large, ifnull(mount, ''), ifnull(belt, ''), iif(belt is null, null, centre), mesh, ratio, eta, outside, 1 / (ratio * eta * arm), bears from drives where gear is null;\n") {
			want[strings.Join(row[:3], " ")] = row[3:]
		}
		for _, d := range p.Drives {
			if d.Gear != nil {
				continue
			}
			b.Roll(d, p.Wheels[0])
			ids := b.File().IDs
			key := strings.Join([]string{ids[constraints.SlotMotorPulley], ids[constraints.SlotWheelPulley], ids[constraints.SlotMount]}, " ")
			row := want[key]
			if row == nil {
				t.Fatalf("seed %d: %s is no drive in SQL", seed, key)
			}
			if d.Belt != nil {
				worn[d.Chained()]++
			}
			mesh := float64(d.Mesh)
			if d.Mesh < 0 {
				mesh = math.NaN()
			}
			got := []float64{math.NaN(), d.Centre, mesh, d.Reduction, d.Efficiency, d.Outside, b.BeltPull() / b.WheelTorque(), p.Checks()[load].Test(b).Limit}
			for i, column := range strings.Fields(columns) {
				x, err := strconv.ParseFloat(row[i], 64)
				switch {
				case i == 0:
					if row[i] != ids[constraints.SlotBelt] {
						t.Errorf("seed %d: %s wears %q in SQL, %q in the search", seed, key, row[i], ids[constraints.SlotBelt])
					}
				case math.IsNaN(got[i]) != (row[i] == ""), row[i] != "" && (err != nil || math.Abs(x-got[i]) > 1e-9*math.Abs(x)):
					t.Errorf("seed %d: %s of %s is %q in SQL, %v in the search", seed, column, key, row[i], got[i])
				}
			}
			delete(want, key)
		}
		if len(want) > 0 {
			t.Errorf("seed %d: drives in SQL alone: %v", seed, want)
		}
	}
	if worn[false] < 50 || worn[true] < 50 {
		t.Errorf("%d belts and %d chains are worn: the test does not test", worn[false], worn[true])
	}
}

// TestSQLitePacks: the resistance of packs in the model is that of the formula, in either
// corner, and the search's. A number of cells in series that the number in parallel does
// not divide is not rounded.
func TestSQLitePacks(t *testing.T) {
	needSQLite(t)
	for _, c := range []struct {
		why, cell, battery string
		worst, best        float64 // ohm
	}{
		{
			"nothing known of the cells, and 9 in series by 4", "", "series = 9\nparallel = 4\ncell = \"c\"\nwiring_mohm = 12",
			9*0.16/3/4 + 0.012, 9*0.02/3/4 + 0.012,
		},
		{
			"cells of iron phosphate", "chemistry = \"lfp\"", "series = 10\nparallel = 3\ncell = \"c\"",
			10 * 0.12 / 3 / 3, 10 * 0.015 / 3 / 3,
		},
		{
			"the cells' resistance known", "resistance_mohm = 25", "series = 9\nparallel = 4\ncell = \"c\"",
			0.05625, 0.05625,
		},
		{
			"a pack without cells", "", "series = 7\nnominal_v = 25.9\nfull_v = 29.4\ncapacity_ah = 5",
			7 * 0.10 / 5, 7 * 0.008 / 5,
		},
	} {
		text := "schema = 1\n[[motor]]\nid = \"m\"\nkv = 150\n[[controller]]\nid = \"e\"\n[[gear_drive]]\nid = \"g\"\nratio = 3\n[[wheel]]\nid = \"w\"\ndiameter_mm = 97\n" +
			"[[cell]]\nid = \"c\"\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 3\ncapacity_ah = 3\n" + c.cell + "\n[[battery]]\nid = \"b\"\n" + c.battery + "\n"
		p, err := sqlProblem(text, "schema = 1\n[target]\ntop_speed_kmh = 25\n")
		if err != nil {
			t.Fatalf("%s: %v", c.why, err)
		}
		pack := p.Batteries[0]
		got := []float64{pack.Pack.Resistance, pack.Best.Resistance}
		script := sqlTables(p.Catalog) + "create table counts (count); create table brief as select 'nominal' as charge, 1 as icy;\n" + sqlPacks + "select ohms from packs order by corner desc;\n"
		for i, row := range sqlite(t, script) {
			ohms, err := strconv.ParseFloat(row[0], 64)
			if want := []float64{c.worst, c.best}[i]; err != nil || math.Abs(ohms-want) > 1e-12 || math.Abs(got[i]-want) > 1e-12 {
				t.Errorf("%s: %s ohm in SQL, %v in the search, want %v", c.why, row[0], got[i], want)
			}
		}
	}
}

func sqlProblem(catalogText, briefText string) (*constraints.Problem, error) {
	c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(catalogText)})
	if err != nil {
		return nil, err
	}
	b, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(briefText)})
	if err != nil {
		return nil, err
	}
	return constraints.NewProblem(c, b)
}
