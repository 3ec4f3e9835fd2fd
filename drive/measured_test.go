package drive_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the tables of MEASURED.md anew")

// measurement is one case that somebody measured, beside what the program computes
// of it. A case is lost where a number measured is outside the band.
type measurement struct {
	name, unit string
	decimals   int
	source     string
	rows       []row
	// outside are the rows that the program is known to miss: they are shown, and
	// held to lie outside the band, so that nobody says so of a model that is better.
	outside []int
	// scatter is how far the measurement itself may be off, as a share of it, and
	// why: it is part of the band.
	scatter float64
	why     string
	assumed []assumption
	// band is how far from what is computed a number measured may be, in percent of
	// that, below and above: the widest of the bands of the rows that are not missed, in whole percent. It is
	// what scatter and assumptions come to, and no more (TestMeasured).
	below, above float64
	compute      func(given, assumed []float64) float64
}

// row is one number measured, and what is known of how.
type row struct {
	name     string
	measured float64
	given    []float64
}

// assumption is a number that the source does not give: what is taken, the range
// that it may lie in, and why.
type assumption struct {
	name, unit       string
	value, low, high float64
	why              string
}

// taken are the values of the assumptions.
func (m *measurement) taken() []float64 {
	values := make([]float64, len(m.assumed))
	for i, a := range m.assumed {
		values[i] = a.value
	}
	return values
}

// missed reports whether a row is one that the program is known to miss.
func (m *measurement) missed(i int) bool { return slices.Contains(m.outside, i) }

// outcome is a row beside what is computed: the value, and how far a number
// measured may be from it, as shares of it.
type outcome struct{ computed, below, above float64 }

// outcome computes a row with the assumptions as taken, and again with each of them
// at either end of its range. What they do is independent of one another, and so is
// the scatter: the root of the sum of squares (JCGM 100:2008), of what lowers the
// value and of what raises it.
func (m *measurement) outcome(r row) outcome {
	values := m.taken()
	base := m.compute(r.given, values)
	below, above := m.scatter*m.scatter, m.scatter*m.scatter
	for i, a := range m.assumed {
		least, most := 0.0, 0.0
		for _, end := range []float64{a.low, a.high} {
			values[i] = end
			moved := m.compute(r.given, values)/base - 1
			least, most = min(least, moved), max(most, moved)
		}
		values[i] = a.value
		below, above = below+least*least, above+most*most
	}
	return outcome{base, math.Sqrt(below), math.Sqrt(above)}
}

// holds reports whether a number measured is within the band of what is computed.
func (o outcome) holds(measured float64) bool {
	share := measured/o.computed - 1
	return -o.below <= share && share <= o.above
}

// TestMeasured holds what the program computes to what was measured.
func TestMeasured(t *testing.T) {
	for _, m := range measurements {
		t.Run(m.name, func(t *testing.T) {
			below, above := 0.0, 0.0
			for i, r := range m.rows {
				o := m.outcome(r)
				if !m.missed(i) {
					below, above = max(below, o.below), max(above, o.above)
				}
				t.Logf("%s: measured %.4g, computed %.4g %s, %+.1f %%; the measured may be %.1f %% below to %.1f %% above the computed",
					r.name, r.measured, o.computed, m.unit, 100*(o.computed/r.measured-1), 100*o.below, 100*o.above)
				switch holds := o.holds(r.measured); {
				case !holds && !m.missed(i):
					t.Errorf("%s: %.4g %s computed, %.4g measured: outside the band", r.name, o.computed, m.unit, r.measured)
				case holds && m.missed(i):
					t.Errorf("%s: %.4g %s computed, %.4g measured: no longer outside the band", r.name, o.computed, m.unit, r.measured)
				}
			}
			if math.Ceil(100*below) != m.below || math.Ceil(100*above) != m.above {
				t.Errorf("scatter and assumptions come to a band of −%.2f … +%.2f %%, stated is −%g … +%g", 100*below, 100*above, m.below, m.above)
			}
		})
	}
}

// TestMeasuredAssumptions: every number that is taken lies in its range, which is a
// range, and says why.
func TestMeasuredAssumptions(t *testing.T) {
	for _, m := range measurements {
		if m.source == "" || m.why == "" || m.scatter <= 0 {
			t.Errorf("%s: no source, or no scatter with its reason", m.name)
		}
		for _, a := range m.assumed {
			if !(a.low <= a.value && a.value <= a.high && a.low < a.high) || a.why == "" {
				t.Errorf("%s: %s is %g of %g to %g, because %q", m.name, a.name, a.value, a.low, a.high, a.why)
			}
		}
	}
}

// TestMeasuredBandsTell: a model that lacks a piece of the physics leaves the band of
// at least one row of a case.
func TestMeasuredBandsTell(t *testing.T) {
	for _, tt := range []struct {
		lacks, of string
		change    func(assumed map[string]*float64)
	}{
		{"the factor √3/2 of phase amperes", "torque for each ampere", func(a map[string]*float64) { *a["kv"] *= math.Sqrt(3) / 2 }},
		{"the copper", "electrical watts", func(a map[string]*float64) { *a["resistance"] = 1e-9 }},
		{"rolling resistance", "longboard", func(a map[string]*float64) { *a["Crr"] = 0 }},
		{"drag", "longboard", func(a map[string]*float64) { *a["drag area"] = 0 }},
		{"rolling resistance", "mountain board", func(a map[string]*float64) { *a["Crr"] = 0 }},
		{"drag", "mountain board", func(a map[string]*float64) { *a["drag area"] = 0 }},
		{"rolling resistance and stops", "kick scooters", func(a map[string]*float64) { *a["Crr"], *a["stops"] = 0, 0 }},
	} {
		m := measured(t, tt.of)
		changed, byName := m, map[string]*float64{}
		changed.assumed = append([]assumption(nil), m.assumed...)
		for i := range changed.assumed {
			byName[changed.assumed[i].name] = &changed.assumed[i].value
		}
		tt.change(byName)
		kept := true
		for i, r := range m.rows {
			if m.missed(i) {
				continue
			}
			o := m.outcome(r)
			o.computed = m.compute(r.given, changed.taken())
			kept = kept && o.holds(r.measured)
		}
		if kept {
			t.Errorf("without %s the case of the %s is within its band", tt.lacks, tt.of)
		}
	}
}

// measured returns the case whose name holds a text.
func measured(t *testing.T, name string) measurement {
	t.Helper()
	for _, m := range measurements {
		if strings.Contains(m.name, name) {
			return m
		}
	}
	t.Fatalf("no case of %q", name)
	return measurement{}
}

// TestMeasuredPage holds the tables of MEASURED.md to what the tests compute.
func TestMeasuredPage(t *testing.T) {
	const page, begin, end = "MEASURED.md", "<!-- tables: go test ./drive -run Measured -update -->\n", "<!-- end of tables -->\n"
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, opened := strings.Cut(string(text), begin)
	old, tail, closed := strings.Cut(rest, end)
	if !opened || !closed {
		t.Fatalf("%s has no place for the tables", page)
	}
	tables := pageTables()
	if *update {
		if err := os.WriteFile(page, []byte(head+begin+tables+end+tail), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(old, tables); d != "" {
		t.Errorf("%s differs (-want +got); go test ./drive -run Measured -update writes its tables anew:\n%s", page, d)
	}
	for _, claim := range pageClaims(t) {
		if !strings.Contains(strings.Join(strings.Fields(head), " "), claim) {
			t.Errorf("%s does not say %q", page, claim)
		}
	}
}

// pageClaims are the numbers of the page's first sentences, as the tests compute
// them.
func pageClaims(t *testing.T) []string {
	shares := func(name string) (all []float64) { // of the computed, what was measured
		m := measured(t, name)
		for _, r := range m.rows {
			all = append(all, r.measured/m.outcome(r).computed)
		}
		return all
	}
	furthest := func(names ...string) (most float64) {
		for _, name := range names {
			for _, share := range shares(name) {
				most = max(most, math.Abs(1/share-1))
			}
		}
		return math.Ceil(100 * most)
	}
	town := shares("kick scooters")
	return []string{
		fmt.Sprintf("right within %.0f %% in watts", furthest("electrical watts")),
		fmt.Sprintf("gives %.0f %% less torque", 100*(1-shares("torque for each ampere")[0])),
		fmt.Sprintf("Steady rides are right within %.0f %%", furthest("longboard", "mountain board")),
		fmt.Sprintf("take %.1f times what is computed", town[0]),
		fmt.Sprintf("%.1f times what a brief", town[1]),
	}
}

// pageTables are the tables of MEASURED.md: all rows, and what each case takes.
func pageTables() string {
	var s strings.Builder
	s.WriteString("\n| case | at | measured | computed | difference | band |\n| --- | --- | --- | --- | --- | --- |\n")
	for _, m := range measurements {
		for i, r := range m.rows {
			o := m.outcome(r)
			missed := ""
			if m.missed(i) {
				missed = ": outside"
			}
			fmt.Fprintf(&s, "| %s | %s | %.*f %s | %.*f | %s %% | %.*f … %.*f%s |\n", m.name, r.name, m.decimals, r.measured, m.unit,
				m.decimals, o.computed, signed("%.1f", 100*(o.computed/r.measured-1)),
				m.decimals, o.computed*(1-o.below), m.decimals, o.computed*(1+o.above), missed)
		}
	}
	for _, m := range measurements {
		fmt.Fprintf(&s, "\n### %s\n\nSource: %s.\n\nScatter of the measurement: ± %.3g %%, %s. With all below: −%g … +%g %%.\n",
			sentence(m.name), m.source, 100*m.scatter, m.why, m.below, m.above)
		s.WriteString("\n| assumed | value | range | computed moves by | why |\n| --- | --- | --- | --- | --- |\n")
		for i, a := range m.assumed {
			fmt.Fprintf(&s, "| %s | %g%s | %g … %g | %s … %s %% | %s |\n", a.name, a.value, unitOf(a.unit), a.low, a.high,
				signed("%.1f", m.moves(i, a.low)), signed("%.1f", m.moves(i, a.high)), a.why)
		}
	}
	s.WriteString("\n")
	return s.String()
}

// moves is how much the first row computed moves, in percent, with one assumption at
// another value.
func (m *measurement) moves(i int, to float64) float64 {
	values := m.taken()
	base := m.compute(m.rows[0].given, values)
	values[i] = to
	return 100 * (m.compute(m.rows[0].given, values)/base - 1)
}

// signed writes a number with its sign, and 0 without.
func signed(format string, x float64) string {
	text := fmt.Sprintf(format, math.Abs(x))
	if text == fmt.Sprintf(format, 0.0) {
		return text
	}
	return map[bool]string{true: "−", false: "+"}[x < 0] + text
}

func unitOf(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// sentence is a text that begins with a capital.
func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
