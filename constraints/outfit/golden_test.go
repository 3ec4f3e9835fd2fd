package outfit

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// script writes all that an outfit says, for reading aloud.
func script(o *Outfit) string {
	var s strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&s, format+"\n", args...) }
	p("# Shopping list")
	all := o.Lines
	for _, n := range o.Needs {
		all = append(all, n.Line())
	}
	for _, l := range all {
		p("%s | %s | %d | %d of %d | %s | %s | %v | %s", l.Slot, l.ID+" "+l.Name, l.Pieces, l.Packs, l.SoldIn, num(l.Unit), num(l.Total), l.Owned, l.Note)
	}
	p("total %s, missing %v", num(o.Total.Known), o.Total.Missing)
	p("\n# Needs")
	for _, n := range o.Needs {
		p("\n## %s: %v", n.Line().Slot, n.State)
		p("%s", n.Words)
		p("→ %s", n.Says())
		for _, d := range n.Demands {
			bounds := ""
			if d.Yes != "" {
				bounds = d.Yes
			} else {
				bounds = fmt.Sprintf("%s %s to %s %s", d.What, num(d.Least*d.PerSI), num(d.Most*d.PerSI), d.Unit)
			}
			p("- %s (%s): %s%s [%s]", d.Key, bounds, d.How, d.Open, d.Source)
		}
		for _, note := range n.Notes {
			p("* %s", note)
		}
	}
	p("\n# Checks")
	for _, r := range o.Results() {
		p("%s %v, value %s, limit %s %s, margin %s %%: %s [%s]", r.Name, r.Verdict, num(r.Value*r.PerSI), num(r.Limit*r.PerSI), r.Unit, num(r.MarginPct()), r.Words, r.Source)
	}
	p("\n# Facts")
	for _, f := range o.Facts() {
		p("%s %s %s, %s: %s [%s]", f.Name, num(f.Value), f.Unit, f.Meaning, f.Words, f.Source)
	}
	p("\n# Cautions")
	for _, c := range o.Cautions() {
		p("! %s", c)
	}
	p("\n# Assumptions")
	for _, a := range o.Assumptions() {
		p("%s", a)
	}
	return s.String()
}

// bare takes all accessories out of the kit.
func bare() []string {
	return []string{"-guard", "-main", "-melt", "-plug", "-lead", "-thin", "-loader", "-hand", "-tray"}
}

// What an outfit says, word for word: complete, without a catalog of
// accessories, and with little known.
func TestGoldenWords(t *testing.T) {
	for _, tt := range []struct {
		name    string
		changes []string
	}{
		{"complete", nil},
		{"bare", bare()},
		{"unknown", []string{
			"-motor.resistance_mohm", "-motor.peak_current_a", "-motor.shaft_mm", "-motor.sensored", "-controller.motor_current_a", "-controller.battery_current_a",
			"-cell.discharge_a", "-cell.charge_a", "-cell.diameter_mm", "-cell.resistance_mohm", "-belt", "-mount",
		}},
		{"misfits", []string{
			"guard.series = 12", "main.max_volts = 40", "-main.precharge", "melt.rated_a = 80", "plug.continuous_a = 10", "plug.peak_a = 12",
			"lead.awg = 20", "loader.full_v = 50.4", "hand.failsafe = false", "tray.height_mm = 20", "controller.battery_current_a = 40", "motor.sensored = false",
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := DefaultWishes()
			w.Sensored = true
			got := script(Complete(build(t, hill, tt.changes...), w))
			file := filepath.Join("testdata", tt.name+".txt")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s differs; go test -update writes it anew. Got:\n%s", file, got)
			}
		})
	}
}
