package main

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/cmd/gearsearch/internal/shell"
	"gearsearch/constraints"
)

// A default that is promised, on a reference page, in help, in a file to begin
// with, is what the program takes: to give it changes no answer, and to give
// another value does.

// unpromised are words that stand where no value is promised: nothing is asked,
// or it comes from elsewhere.
var unpromised = []string{
	"", "none", "not asked for", "not checked", "not fitted", "the controllers' own", "the wheel's, else by tyre and surface",
	"the standard atmosphere's for the air, 20 for the pack, 25 around the motors", // no one temperature is all three
}

// promise is a value that is promised where some settings are given.
type promise struct{ under, value, other string }

// worded are the promises of keys of a brief whose default is more than a value.
var worded = map[string][]promise{
	"limit.derate":         {{"keep.motor=barn-find", "0.85", "0.765"}},
	"board.motors":         {{"", "2", "4"}},
	"rider.drag_area_m2":   {{"rider.posture=sideways", "0.5", "0.3"}, {"rider.posture=forward", "0.65", "0.3"}, {"rider.posture=tuck", "0.35", "0.3"}},
	"limit.winding_max_c":  {{"target.climb_length_m=300", "120", "100"}},
	"limit.reserve_pct":    {{"ride.route=demo:harbour", "10", "80"}},
	"ride.start_pct":       {{"ride.route=demo:harbour", "95", "60"}},
	"ride.ascent_m_per_km": {{"", "0", "20"}},
	"ride.wind_kmh":        {{"", "0", "15"}},
	"ground.wet":           {{"", "false", "true"}},
	"ground.grip": {
		{"ground.surface=asphalt", "0.8", "0.2"},
		{"ground.surface=rough", "0.6", "0.2"},
		{"ground.surface=gravel", "0.5", "0.2"},
		{"ground.surface=grass", "0.4", "0.2"},
	},
	"ground.air_density_kg_m3": {{"", "1.225", "1.1"}},
	"ground.altitude_m":        {{"ground.temperature_c=2", "0", "900"}},
	"target.charge":            {{"", "nominal", "full"}},
	"tolerance.grip_pct":       {{"ground.grip=0.25", "15", "10"}},
	"limit.demote":             {{"limit.price=700", "", "price"}},
}

// asksAll is a brief that asks for all that some default bears on, and sets no
// key that has one.
const asksAll = `schema = 1
[target]
top_speed_kmh = 30
climb_grade_pct = 12
stop_m = 40
hill_torque_nm = 12
launch_speed_kmh = 15
launch_s = 4
range_km = 10
[limit]
price = 1200
mass_kg = 20
`

// bearings is what the program answers beyond what it was told: settings name what
// sets them, an assumption too.
func bearings(t *testing.T, line string) string {
	t.Helper()
	answer := answerTo(t.Context(), line)
	if answer.code != outcome.ExitAnswered && answer.code != outcome.ExitInfeasible {
		t.Fatalf("gearsearch %s: exit code %d, %s", line, answer.code, answer.stderr)
	}
	out := regexp.MustCompile(`(?m)^  "(?:brief|assumptions|settings)": .*$`).ReplaceAllString(answer.stdout, "")
	return out
}

func TestDefaultsOfTheBrief(t *testing.T) {
	if testing.Short() {
		t.Skip("asks hundreds of times")
	}
	shop, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	// Of a motor without resistance, mass and can the top speed is estimated.
	_, found, _ := strings.Cut(string(shop), "barn-find")
	bare := regexp.MustCompile(`(?m)^(mass_g|can_diameter_mm) = .*\n`).ReplaceAllString(found[:strings.Index(found, "[[")], "")
	write(t, "parts.toml", strings.Replace(string(shop), found[:strings.Index(found, "[[")], bare, 1))
	write(t, "all.toml", asksAll)
	const base = "rank --catalog parts.toml --brief all.toml --apart none --tolerance --draws 40 --format json"
	answers := map[string]string{}
	ask := func(settings ...string) string {
		line := base
		for _, s := range strings.Fields(strings.Join(settings, " ")) {
			line += " --set " + s
		}
		if _, ok := answers[line]; !ok {
			answers[line] = bearings(t, line)
		}
		return answers[line]
	}
	reference := map[string]bool{}
	for _, k := range constraints.BriefKeys() {
		name := k.Section + "." + k.Key
		reference[name] = true
		promises, ok := worded[name]
		switch {
		case ok:
			for _, p := range promises {
				if name != "ground.temperature_c" && !strings.Contains(k.Default, p.value) {
					t.Errorf("%s: %q says nothing of %s", name, k.Default, p.value)
				}
			}
		case slices.Contains(unpromised, k.Default):
			continue
		case len(k.Words) > 0:
			others := slices.DeleteFunc(slices.Clone(k.Words), func(w string) bool { return w == k.Default })
			promises = []promise{{"", k.Default, others[len(others)-1]}}
		default:
			x, err := strconv.ParseFloat(k.Default, 64)
			if err != nil {
				t.Errorf("%s: the default %q is no value; say in this test what it promises", name, k.Default)
				continue
			}
			other := 0.9 * x
			if k.Whole {
				other = x - 1
			}
			promises = []promise{{"", k.Default, strconv.FormatFloat(other, 'g', -1, 64)}}
		}
		for _, p := range promises {
			without := ask(p.under)
			if p.value != "" && ask(p.under, name+"="+p.value) != without {
				t.Errorf("%s: %q promises %s, and with it given the answer is another", name, k.Default, p.value)
			}
			if ask(p.under, name+"="+p.other) == without {
				t.Errorf("%s: %s in place of %s changes nothing: this test would not notice a wrong default", name, p.other, p.value)
			}
		}
	}
	for name := range worded {
		if !reference[name] {
			t.Errorf("%s is no key of a brief", name)
		}
	}
	t.Run("starter", func(t *testing.T) { starterBriefDefaults(t) })
}

// starterExamples are keys of the brief to begin with that are shown with an
// example, there being no default to show.
var starterExamples = []string{
	"board.sensored", "ground.rolling_resistance", "ground.temperature_c", "target.climb_length_m", "target.stop_m", "target.hill_torque_nm", "limit.mass_kg", "limit.erpm_ceiling", "limit.demote", "ride.route",
}

// starterBriefDefaults takes the # away from each key of the starter's brief
// that is shown with its default.
func starterBriefDefaults(t *testing.T) {
	parts, brief := catalog.Starter()
	write(t, "own.toml", string(parts.Data))
	answer := func(text string) string {
		write(t, "brief.toml", text)
		return bearings(t, "rank --catalog own.toml --brief brief.toml --apart none --tolerance --draws 40 --format json")
	}
	text := string(brief.Data)
	want := answer(text)
	section, shown := "", 0
	for line := range strings.Lines(text) {
		if m := regexp.MustCompile(`^#?\[(\w+)\]`).FindStringSubmatch(line); m != nil {
			section = m[1]
		}
		m := regexp.MustCompile(`^#((\w+) = .*)`).FindStringSubmatch(line)
		if m == nil || section == "keep" || section == "avoid" {
			continue
		}
		shown++
		got := answer(strings.Replace(text, line, m[1]+"\n", 1))
		if name := section + "." + m[2]; !alike(got, want) && !slices.Contains(starterExamples, name) {
			t.Errorf("the starter's brief shows %s, which is not the default of %s", m[1], name)
		}
	}
	if shown < 20 {
		t.Errorf("only %d keys are shown", shown)
	}
}

// alike compares answers, their numbers to a hundred-thousandth: 1.225 kg/m³ is
// the air at the sea at 15 °C rounded.
func alike(a, b string) bool {
	number := regexp.MustCompile(`-?\d+(\.\d+)?`)
	x, y := number.FindAllString(a, -1), number.FindAllString(b, -1)
	return number.ReplaceAllString(a, "") == number.ReplaceAllString(b, "") && slices.EqualFunc(x, y, func(a, b string) bool {
		p, _ := strconv.ParseFloat(a, 64)
		q, _ := strconv.ParseFloat(b, 64)
		return math.Abs(p-q) <= 1e-5*math.Abs(q)
	})
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// inUse are command lines of all commands that have flags with a default, by
// command; each answers alike with each default given.
var inUse = map[string]string{
	"rank":           "rank --full --catalog parts.toml --brief brief.toml",
	"sheet":          "sheet build.toml --full --catalog parts.toml --brief brief.toml",
	"parts":          "parts build.toml --catalog own.toml --brief brief.toml",
	"swap":           "swap build.toml --change wheel --catalog parts.toml --brief brief.toml",
	"vary":           "vary build.toml --kv 160 --catalog parts.toml --brief brief.toml",
	"shortlist":      "shortlist motor --catalog parts.toml --brief brief.toml",
	"relax":          "relax --catalog parts.toml --brief never.toml",
	"ideal":          "ideal --catalog parts.toml --brief brief.toml",
	"route":          "route demo:forest",
	"fit":            "fit build.toml out.csv back.csv monday.csv --catalog parts.toml --brief brief.toml",
	"plot":           "plot build.toml front --catalog parts.toml --brief brief.toml",
	"report":         "report --catalog parts.toml --brief brief.toml",
	"catalog show":   "catalog show motor --catalog parts.toml",
	"catalog add":    "catalog add motor --kv 150 --catalog parts.toml",
	"catalog import": "catalog import testdata/shop/shed.csv",
	// Nothing but where it goes.
	"catalog merge": "catalog merge parts.toml parts.toml -o all.toml --overwrite", "catalog diff": "catalog diff parts.toml parts.toml",
	"catalog check": "catalog check parts.toml", "catalog schema": "catalog schema", "man": "man", "reference": "reference brief",
}

// told are the values that defaults of flags promise in words; "" where none is.
func told(text string) string {
	switch text {
	case "the embedded demo catalog", "the catalog's", "any charger that suits the pack", "all":
		return "" // looked at by TestDefaultsInWords
	case "parts.toml or the folder parts of this folder, else the demo",
		"brief.toml of this folder; without one demo:harbour with the demo catalog, else nothing is asked for":
		return "" // looked at by TestFoundAnswersAsNamed and TestDefaultsInWords
	case "by its words", "the column kind, else the file's name, else by the headings", "they are not written":
		return "" // looked at by the script of import
	case "motor,motors,battery, and none with --top 0, jsonl and --share":
		return "motor,motors,battery"
	case "by the ending of -o, else table":
		return "table"
	case "by the ending of -o, else svg":
		return "svg"
	case "as wide as it is drawn":
		return "" // looked at by the script of plots
	case "today":
		return time.Now().UTC().Format(time.DateOnly)
	}
	if slices.Contains(unpromised, text) {
		return ""
	}
	return text
}

// TestDefaultsOfFlags gives every flag the value that help promises.
func TestDefaultsOfFlags(t *testing.T) {
	if testing.Short() {
		t.Skip("asks hundreds of times")
	}
	files := map[string]string{}
	for _, name := range []string{"parts.toml", "build.toml"} {
		data, err := os.ReadFile("testdata/shop/" + name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = string(data)
	}
	t.Setenv("SOURCE_DATE_EPOCH", "")
	os.Unsetenv("SOURCE_DATE_EPOCH")
	t.Chdir(t.TempDir())
	for name, text := range files {
		write(t, name, text)
	}
	write(t, "brief.toml", asksAll)
	write(t, "own.toml", files["parts.toml"]+accessories)
	write(t, "never.toml", strings.Replace(asksAll, "price = 1200", "price = 400", 1))
	promised, plain := 0, map[string]result{}
	shell.Leaves((&program{}).commands(), "", func(name string, c *cli.Command) {
		var line string
		for _, f := range c.Flags {
			d, ok := f.(cli.DocGenerationFlag)
			if !ok || d.GetDefaultText() == "" || !d.TakesValue() {
				continue
			}
			if line = inUse[name]; line == "" {
				t.Errorf("%s has a flag with a default, and no command line in this test", name)
				return
			}
			value := told(d.GetDefaultText())
			if value == "" {
				continue
			}
			promised++
			line := line + companions[f.Names()[0]]
			flag := " " + say.Dashed(f.Names()[0]) + " " + value
			if _, ok := plain[line]; !ok {
				plain[line] = unsaid(answerTo(t.Context(), line))
			}
			without, with := plain[line], unsaid(answerTo(t.Context(), line+flag))
			if with.code != without.code || with.stdout != without.stdout {
				t.Errorf("gearsearch %s: with%s, which help promises, the answer is another: exit code %d, %s\n%.300s", line, flag, with.code, with.stderr, with.stdout)
			}
		}
	})
	if promised < 30 {
		t.Errorf("only %d defaults", promised)
	}
}

// unsaid is an answer without what it repeats of the command line, and without
// what it says that nobody gave.
func unsaid(r result) result {
	var out []string
	said := regexp.MustCompile(`(?ms)^Assumed\n.*?\n\n|by default \[[^<]*`).ReplaceAllString(r.stdout, "")
	for line := range strings.Lines(said) {
		if !strings.Contains(line, "gearsearch ") {
			out = append(out, line)
		}
	}
	r.stdout = strings.Join(out, "")
	return r
}

// TestDefaultsOfTheChecks holds the time for fuzzing that DEVELOPERS.md names to
// the one that is taken.
func TestDefaultsOfTheChecks(t *testing.T) {
	told, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	script, err := os.ReadFile("../../.ci/run")
	if err != nil {
		t.Fatal(err)
	}
	taken := regexp.MustCompile(`\$\{FUZZTIME:=(\d+)s\}`).FindSubmatch(script)
	if taken == nil || !regexp.MustCompile("`FUZZTIME`\\s+\\("+string(taken[1])+" s unless set\\)").Match(told) {
		t.Errorf("DEVELOPERS.md names another time for fuzzing than %s", taken)
	}
}

// TestDefaultsInWords looks at those that name no value.
func TestDefaultsInWords(t *testing.T) {
	t.Chdir(t.TempDir())
	same := func(why, a, b string) {
		t.Helper()
		x, y := unsaid(answerTo(t.Context(), a)), unsaid(answerTo(t.Context(), b))
		if x.stdout != y.stdout || x.code != y.code || x.code != outcome.ExitAnswered {
			t.Errorf("%s: %s and %s answer differently: %s%s", why, a, b, x.stderr, y.stderr)
		}
	}
	same("demo:harbour with the demo catalog", "rank", "rank --brief demo:harbour")
	write(t, "demo.toml", string(catalog.DemoSources()[0].Data))
	same("the embedded demo catalog", "catalog show motor", "catalog show motor --catalog demo.toml")
	same("all", "catalog show motor --format csv", "catalog show motor --where kv>0 --format csv")
	if got := answerTo(t.Context(), "rank --catalog demo.toml"); got.code != outcome.ExitContent && got.code != outcome.ExitUsage {
		t.Errorf("else nothing is asked for: exit code %d, %s", got.code, got.stdout)
	}
	// The catalog's own bounds are those that it names.
	line := "ideal --top-speed 30km/h --keep motor=hd-63-160"
	said := strings.Join(strings.Fields(answerTo(t.Context(), line).stdout), " ")
	m := regexp.MustCompile(`Tried: kv (\S+) to (\S+) rpm/V, reduction (\S+) to (\S+), wheel (\S+) to (\S+) mm`).FindStringSubmatch(said)
	if m == nil {
		t.Fatalf("no bounds in %s", said)
	}
	same("the catalog's", line, fmt.Sprintf("%s --kv %s..%s --reduction %s..%s --wheel %smm..%smm", line, m[1], m[2], m[3], m[4], m[5], m[6]))
}
