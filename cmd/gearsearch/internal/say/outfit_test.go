package say

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
	"gearsearch/constraints/outfit/outfittest"
	"gearsearch/drive"
	"gearsearch/drive/pack"

	"pgregory.net/rapid"
)

// plain writes a number with three significant digits.
func plain(x float64) string {
	return Quantity(constraints.Quantity{SI: x, PerSI: 1, Digits: constraints.ThreeDigits}, quantity.Metric)
}

// script writes all that an outfit says, for reading aloud.
func script(o *outfit.Outfit, system quantity.System) string {
	var s strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&s, format+"\n", args...) }
	fact := func(name string, value any) {
		if text := fmt.Sprint(value); text != "" && text != "unknown" {
			p("%s: %s", name, text)
		}
	}
	p("# Shopping list")
	all := o.Lines
	for _, n := range o.Needs {
		l := n.Line()
		if n.Part == nil {
			l.Name = Statement(n.Buy, system)
		}
		all = append(all, l)
	}
	for _, l := range all {
		p("\n## %s: %s", l.Slot, strings.TrimSpace(l.ID+" "+l.Name))
		fact("pieces", l.Pieces)
		fact("packs", fmt.Sprintf("%d of %d", l.Packs, l.SoldIn))
		fact("price of one", plain(l.Unit))
		fact("price", plain(l.Total))
		fact("owned", l.Owned)
		fact("note", Statement(l.Note, system))
	}
	p("")
	fact("total", plain(o.Total.Known))
	fact("prices missing", o.Total.Missing)
	p("\n# Needs")
	for _, n := range o.Needs {
		p("\n## %s: %v", n.Line().Slot, n.State)
		p("%s", Statement(n.Buy, system))
		p("→ %s", NeedWords(n, system))
		for _, d := range n.Demands {
			p("- %s: %s", d.Key, Demand(d))
			if !d.YesNo {
				fact("  at least, "+d.Unit, plain(d.Least*d.PerSI))
				fact("  at most, "+d.Unit, plain(d.Most*d.PerSI))
			}
			fact("  how", Statements(d.How, system))
			fact("  open", Statements(d.Open, system))
			fact("  source", d.Source)
		}
		for _, note := range Notes(n.Notes, system) {
			p("* %s", note)
		}
	}
	p("\n# Checks")
	for _, r := range o.Results() {
		p("\n## %s: %v", r.Name, r.Verdict)
		fact("value, "+r.Unit, plain(r.Value*r.PerSI))
		fact("limit, "+r.Unit, plain(r.Limit*r.PerSI))
		fact("margin, %", plain(r.MarginPct()))
		p("%s", FindingWords(r.Finding, system))
		fact("source", r.Source)
	}
	p("\n# Settings")
	for _, x := range outfit.Settings(o.Build) {
		label, value, unit := setting(x, system)
		p("%s %s %s by %s, %s: %s [%s]", label, value, unit, x.By, SettingWords(x, system), Statements(x.How, system), x.Source)
	}
	p("\n# Facts")
	for _, f := range o.Facts() {
		p("\n## %s: %s", f.Name, FactWords(f, system))
		fact("value, "+f.Unit, plain(f.Value))
		fact("how", Statements(f.How, system))
		fact("source", f.Source)
	}
	p("\n# Tools")
	for _, t := range o.Tools() {
		p("\n## %s: %s", t.Name, Statement(t.Use, system))
		fact("for", strings.Join(t.For, ", "))
		fact("notes", strings.Join(Notes(t.Notes, system), "; "))
		fact("source", t.Source)
	}
	p("\n# Cautions")
	for _, c := range OutfitCautions(o, system) {
		p("! %s", c)
	}
	p("\n# Assumptions")
	for _, a := range Notes(o.Assumptions(), system) {
		p("%s", a)
	}
	return s.String()
}

// What an outfit says, word for word: complete, without a catalog of
// accessories, and with little known.
func TestOutfitReadAloud(t *testing.T) {
	for _, tt := range []struct {
		name    string
		changes []string
	}{
		{"complete", nil},
		{"bare", outfittest.Bare()},
		{"unknown", []string{
			"-motor.resistance_mohm", "-motor.peak_current_a", "-motor.shaft_mm", "-controller.motor_current_a", "-controller.battery_current_a",
			"-cell.discharge_a", "-cell.charge_a", "-cell.diameter_mm", "-cell.resistance_mohm", "-belt", "-mount",
		}},
		{"misfits", []string{
			"guard.series = 12", "main.max_volts = 40", "-main.precharge", "melt.rated_a = 80", "plug.continuous_a = 10", "plug.peak_a = 12",
			"lead.awg = 20", "loader.full_v = 50.4", "hand.failsafe = false", "tray.height_mm = 20", "controller.battery_current_a = 40",
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := script(outfit.Complete(outfittest.Build(t, outfittest.Hill, tt.changes...), outfit.DefaultWishes()), quantity.Metric)
			file := filepath.Join("testdata", "outfit", tt.name+".txt")
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

// Sentences follow the units, but for the sizes by which metric parts are sold.
func TestOutfitFollowsUnits(t *testing.T) {
	metric := regexp.MustCompile(`(?m).{0,40}[0-9] (km/h|m|N|mm)([ ,;:)].{0,40}|$)`)
	sold := regexp.MustCompile(`(cells? of|keys? of|shaft of|at most) [0-9.,× ]+ mm`)
	for _, tt := range []struct {
		why     string
		changes []string
		says    []string
	}{
		{"all there is", nil, []string{
			"holding 7.46 mph up 15 % takes 32 lbf and", "hold 7.46 mph with the pack", "1.97 ft of wire",
			"wires run 0.984 ft", "0.118 in to the walls",
		}},
		{"nothing around", outfittest.Bare(), []string{"inside 8.76 × 1.93 × 3.08 in for upright cells", "20 cells of 21 × 70 mm"}},
		{"no belt", []string{"-belt"}, []string{"shafts 2.36 to 4.72 in apart", "at most 15 mm wide"}},
	} {
		got := script(outfit.Complete(outfittest.Build(t, outfittest.Hill, tt.changes...), outfit.DefaultWishes()), quantity.Imperial)
		for _, says := range tt.says {
			if !strings.Contains(got, says) {
				t.Errorf("%s: nowhere %q", tt.why, says)
			}
		}
		// Facts and demands are numbers with their own units, which the reader
		// of them converts.
		got = regexp.MustCompile(`(?m)^(stop_|ceiling_|back_emf|key: |- shaft_mm).*$`).ReplaceAllString(sold.ReplaceAllString(got, ""), "")
		if left := metric.FindString(got); left != "" {
			t.Errorf("%s: metric words left: %q", tt.why, left)
		}
	}
}

func TestSlopeWords(t *testing.T) {
	slope := func(charge, grade float64, by drive.Limit, in drive.Intake, open outfit.Code) outfit.Slope {
		return outfit.Slope{Charge: charge, Intake: in, Descent: drive.Descent{Grade: grade, Braking: drive.Braking{By: by}}, Open: open}
	}
	for _, tt := range []struct {
		slope outfit.Slope
		want  string
	}{
		{slope(1, 0.0329, drive.BatteryCurrent, drive.Intake{Full: true}, ""), "3.29 % with a full pack (the pack takes no current)"},
		{slope(1, 0.0002, drive.BatteryCurrent, drive.Intake{Full: true}, ""), "none with a full pack (the pack takes no current)"},
		{slope(0.9, 0.1239, drive.BatteryCurrent, drive.Intake{Current: 6, Full: true}, ""), "12.3 % at 90 % charge (at 6 A its volts are those of the full pack)"},
		{slope(0.5, 0.1239, drive.BatteryCurrent, drive.Intake{Current: 6}, ""), "12.3 % at 50 % charge (the cells may be charged with 6 A)"},
		{slope(0.5, 0.3, drive.Grip, drive.Intake{Current: 60}, ""), "30 % at 50 % charge (the driven wheels grip no more)"},
		{slope(0.5, 0.3, drive.MotorCurrent, drive.Intake{Current: 60}, ""), "30 % at 50 % charge (the motors give no more)"},
		{slope(0.5, math.Inf(1), drive.MotorCurrent, drive.Intake{Current: 60}, ""), "any at 50 % charge (the motors give no more)"},
		{slope(0.5, math.NaN(), drive.NoLimit, drive.Intake{}, outfit.NoCharge), "unknown at 50 % charge (the pack's charge_a is not known)"},
	} {
		if got := SlopeWords(tt.slope, quantity.Metric); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

// Of all builds of the demo under all its briefs nothing is said that is not
// English.
func TestDemoOutfitsAreEnglish(t *testing.T) {
	problems := outfittest.Demo(t)
	rapid.Check(t, func(t *rapid.T) {
		text := script(outfit.Complete(outfittest.Draw(t, problems), outfit.DefaultWishes()), quantity.Metric)
		for _, bad := range []string{"NaN", "Inf", "%!", "e+", "(MISSING)", "unlimited A", "  A", " s "} {
			if strings.Contains(text, bad) {
				t.Fatalf("%q is said:\n%s", bad, text)
			}
		}
	})
}

// Of the parts that are turned away a few are named.
func TestFewAreNamed(t *testing.T) {
	other := func(id string, rated float64) string {
		return fmt.Sprintf("[[fuse]]\nid = %q\nrated_a = %g\nmax_volts_dc = 58\nbreaking_a = 1000", id, rated)
	}
	changes := []string{"melt.rated_a = 30", other("a", 10), other("b", 40), other("c", 90), other("d", 150)}
	n := outfit.Complete(outfittest.Build(t, outfittest.Hill, changes...), outfit.DefaultWishes()).Need("fuse", "")
	want := "the catalog has none that will do (b: rating 40 A, less than 44.5 A; c: rating 90 A, more than 69.2 A; melt: rating 30 A, less than 44.5 A; and 2 more): look for a fuse of 50 to 60 A, for at least 42 V of direct current, that breaks 840 A"
	if got := NeedWords(n, quantity.Metric); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

func TestLayoutWords(t *testing.T) {
	for _, tt := range []struct {
		layout pack.Layout
		want   string
	}{
		{pack.Layout{Layers: 1}, "upright, square rows, one layer"},
		{pack.Layout{Axis: pack.AlongLength, Layers: 2}, "lying along the length, square rows, 2 layers"},
		{pack.Layout{Axis: pack.AlongWidth, Rows: pack.Rows{Staggered: true}, Layers: 1}, "lying along the width, staggered rows, one layer"},
	} {
		if got := LayoutWords(tt.layout); got != tt.want {
			t.Errorf("%+v: %s, want %s", tt.layout, got, tt.want)
		}
	}
}

func TestGauge(t *testing.T) {
	for awg, want := range map[int]string{12: "12", 0: "1/0", -3: "4/0"} {
		if got := gauge(awg); got != want {
			t.Errorf("gauge %d is written %s, want %s", awg, got, want)
		}
	}
}

// Every code of an outfit has words, and there are words for nothing else.
func TestEveryCodeOfAnOutfitHasWords(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), filepath.FromSlash("../../../../constraints/outfit/code.go"), nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	codes := map[outfit.Code]bool{}
	ast.Inspect(file, func(n ast.Node) bool {
		if value, ok := n.(*ast.ValueSpec); ok {
			text, err := strconv.Unquote(value.Values[0].(*ast.BasicLit).Value)
			if err != nil || codes[outfit.Code(text)] {
				t.Errorf("%s: %q is there twice, or no code: %v", value.Names[0].Name, text, err)
			}
			codes[outfit.Code(text)] = true
		}
		return true
	})
	if len(codes) < 100 {
		t.Fatalf("%d codes found", len(codes))
	}
	for code := range codes {
		if row := outfitWords[code]; (row.text == "") == (row.make == nil) {
			t.Errorf("%s has no words, or two kinds of them", code)
		}
	}
	for code := range outfitWords {
		if !codes[code] {
			t.Errorf("there are words for %s, which is no code", code)
		}
	}
}

// Every fact has words, and there are words for nothing else.
func TestEveryFactHasWords(t *testing.T) {
	facts := outfit.Complete(outfittest.Build(t, outfittest.Hill), outfit.DefaultWishes()).Facts()
	for _, f := range facts {
		if text := FactWords(f, quantity.Metric); text == "" || strings.Contains(text, "%!") {
			t.Errorf("%s: %q", f.Name, text)
		}
	}
	if len(factWords) != len(facts) {
		t.Errorf("words for %d facts of %d", len(factWords), len(facts))
	}
}
