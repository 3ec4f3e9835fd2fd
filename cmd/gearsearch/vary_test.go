package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

// variedBuild is a build of the answer of vary, as far as the tests read it.
type variedBuild struct {
	Figures map[string]any `json:"figures"`
	Best    map[string]any `json:"figures_best"`
	Nominal float64        `json:"erpm_nominal"`
	PerAmp  float64        `json:"thrust_n_per_a"`
}

// variation is an answer of vary.
type variation struct {
	TellsMore []string    `json:"tells_more"`
	Base      variedBuild `json:"base"`
	Rows      []struct {
		Change map[string]any `json:"change"`
		Build  variedBuild    `json:"build"`
	} `json:"rows"`
}

// variationOf is what a command line varies.
func variationOf(t *testing.T, line string) (v variation) {
	t.Helper()
	if err := json.Unmarshal([]byte(answered(t, "vary "+line+" --format json")), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// figure is a figure of a build.
func (b *variedBuild) figure(t *testing.T, name string) float64 {
	t.Helper()
	x, ok := b.Figures[name].(float64)
	if !ok {
		t.Fatalf("%s is %v", name, b.Figures[name])
	}
	return x
}

// TestBareNumbersByHand: what four numbers tell, by the formulas of any textbook:
// kv V rpm and as many electrical for each pair of poles; the road speed kv V / 60 ×
// π D / N at a duty of 0.95, and 0.85 of kv V at the low end; a thrust of n η N / r ×
// 60/(2π kv) for a direct ampere, √3/2 of that for an ampere of phase amplitude.
func TestBareNumbersByHand(t *testing.T) {
	for _, tt := range []struct {
		kv, series, ratio, mm float64
		turns                 string
		motors                float64
	}{
		{150, 11, 48.0 / 14, 120, "--teeth 14:48", 2},
		{190, 10, 2.5, 97, "--ratio 2.5", 1},
		{75, 14, 60.0 / 12, 200, "--teeth 12:60", 4},
	} {
		b := variationOf(t, fmt.Sprintf("--kv %v --series %v %s --wheel-size %vmm --count %v", tt.kv, tt.series, tt.turns, tt.mm, tt.motors)).Base
		kmh := tt.kv / 60 * math.Pi * tt.mm / 1000 / tt.ratio * 3.6
		for _, x := range []struct {
			what      string
			got, want float64
		}{
			{"nominal rpm", b.Nominal, tt.kv * tt.series * 3.6 * 7},
			{"full rpm", b.figure(t, "erpm_full"), tt.kv * tt.series * 4.2 * 7},
			{"free speed", b.figure(t, "free_speed_kmh"), kmh * tt.series * 3.6 * 0.95},
			{"low top speed", b.figure(t, "top_speed_kmh"), kmh * tt.series * 3.6 * 0.85},
			{"high top speed", b.Best["top_speed_kmh"].(float64), kmh * tt.series * 3.6 * 0.95},
			{"thrust", b.PerAmp, tt.motors * 0.96 * tt.ratio / (tt.mm / 2000) * 60 / (2 * math.Pi * tt.kv) * math.Sqrt(3) / 2},
		} {
			if !(math.Abs(x.got-x.want) <= 1e-6*x.want) {
				t.Errorf("kv %v: %s %v, want %v", tt.kv, x.what, x.got, x.want)
			}
		}
	}
}

// bareLine is a bare build, and moreKnown what makes one number of its range.
const (
	bareLine  = "--kv 150 --series 11 --teeth 14:48 --wheel-size 120mm"
	moreKnown = " --part motor.resistance_mohm=60 --part controller.motor_current_a=60 --part controller.battery_current_a=40"
)

// TestTellsMoreTellsMore: what is told to tell more does, and is told no more once
// it is given.
func TestTellsMoreTellsMore(t *testing.T) {
	before := variationOf(t, bareLine)
	for _, flag := range before.TellsMore {
		given := map[string]string{
			"--part motor.resistance_mohm": "=60", "--part controller.motor_current_a": "=60", "--part controller.battery_current_a": "=40",
			"--part motor.pole_pairs": "=10", "--erpm-ceiling": " 60000", "--part battery.capacity_ah": "=10",
		}[flag]
		after := variationOf(t, bareLine+" "+flag+given)
		for _, left := range after.TellsMore {
			if given == "" || left == flag {
				t.Errorf("%s is told to tell more, when %s%s is given", left, flag, given)
			}
		}
		if len(after.TellsMore) != len(before.TellsMore)-1 {
			t.Errorf("%s%s leaves %q", flag, given, after.TellsMore)
		}
	}
	if one := variationOf(t, bareLine+moreKnown).Base; one.Best["top_speed_kmh"] != nil || one.Figures["top_speed_limited_by"] == "estimate" {
		t.Errorf("still two ends, or an estimate: %v, %v", one.Figures["top_speed_kmh"], one.Best["top_speed_kmh"])
	}
	hill := variationOf(t, bareLine+moreKnown+" --part battery.capacity_ah=10 --climb-grade 15%").Base
	if hill.figure(t, "range_km") <= 0 || hill.figure(t, "climb_margin_pct") == 0 {
		t.Errorf("neither range nor climb: %v", hill.Figures)
	}
}

// TestBareNumbersAreACatalog: they give what a catalog of the same numbers gives.
func TestBareNumbersAreACatalog(t *testing.T) {
	bare := variationOf(t, "--kv 150 --series 11 --ratio 3.2 --wheel-size 120mm --climb-grade 15%"+moreKnown)
	t.Chdir(t.TempDir())
	write(t, "parts.toml", `schema = 1
motor = [{ id = "m", kv = 150, resistance_mohm = 60 }]
controller = [{ id = "c", motor_current_a = 60, battery_current_a = 40 }]
battery = [{ id = "b", series = 11, nominal_v = 39.6, full_v = 46.2 }]
gear_drive = [{ id = "g", ratio = 3.2, efficiency = 0.96 }]
wheel = [{ id = "w", diameter_mm = 120 }]
`)
	write(t, "build.toml", "[build]\nmotor = \"m\"\nmotors = 2\ncontroller = \"c\"\nbattery = \"b\"\ngear_drive = \"g\"\nwheel = \"w\"\n")
	var sheet variedBuild
	if err := json.Unmarshal([]byte(answered(t, "sheet build.toml --catalog parts.toml --climb-grade 15% --format jsonl")), &sheet); err != nil {
		t.Fatal(err)
	}
	if got, want := fmt.Sprint(bare.Base.Figures), fmt.Sprint(sheet.Figures); got != want {
		t.Errorf("bare numbers give\n%s\nand a catalog\n%s", got, want)
	}
}

// TestVaryBeginsWithTheSheet: the first build is what sheet says of it, whatever is
// varied and whatever it fails; so is a row with another part.
func TestVaryBeginsWithTheSheet(t *testing.T) {
	const build = "testdata/shop/build.toml"
	pick := func(line, at string) string {
		d := json.RawMessage(answerTo(t.Context(), line+shop+" --format json").stdout)
		if at == "row" {
			return string(member(t, items(t, member(t, d, "rows"))[0], "build"))
		}
		return string(member(t, d, at))
	}
	for _, asked := range []string{"", " --top-speed 50km/h", " --strict --range 90km", " --motors 1,2,4 --avoid wheel=disc-97"} {
		sheet := answerTo(t.Context(), "sheet "+build+shop+asked+" --format jsonl").stdout
		base := pick("vary "+build+" --kv 170 --count 4 --charge full"+asked, "base")
		for _, key := range []string{"score", "parts", "figures", "figures_best", "scores", "checks", "cautions"} {
			if a, b := string(member(t, json.RawMessage(base), key)), string(member(t, json.RawMessage(sheet), key)); a != b {
				t.Errorf("%s%s is\n%s\nand on the sheet\n%s", key, asked, a, b)
			}
		}
	}
	other := strings.Replace(readText(t, build), "disc-97", "disc-110", 1)
	file := t.TempDir() + "/other.toml"
	write(t, file, other)
	row, sheet := pick("vary "+build+" --use wheel=disc-110", "row"), answerTo(t.Context(), "sheet "+file+shop+" --format jsonl").stdout
	for _, key := range []string{"score", "parts", "figures", "checks"} {
		if a, b := string(member(t, json.RawMessage(row), key)), string(member(t, json.RawMessage(sheet), key)); a != b {
			t.Errorf("%s with another wheel is\n%s\nand on its own sheet\n%s", key, a, b)
		}
	}
}

// TestVaryCountsRows: one a value, or all their combinations, up to a limit.
func TestVaryCountsRows(t *testing.T) {
	const build = "testdata/shop/build.toml"
	for _, tt := range []struct {
		line string
		rows int
	}{
		{build + " --kv 150,180 --series 9,11,12" + shop, 5},
		{build + " --kv 150,180 --series 9,11,12 --all" + shop, 6},
		{build + " --kv 150,150,150" + shop, 1},
		{build + " --kv 150 --kv 160" + shop, 2},
		{bareLine, 0},
		{"--kv 150,180 --series 11,13 --teeth 14:48,16:54,15:36 --wheel-size 120mm", 4},
		{"--kv 150,180 --series 11,13 --teeth 14:48,16:54,15:36 --wheel-size 120mm --all", 11},
	} {
		if got := len(variationOf(t, tt.line).Rows); got != tt.rows {
			t.Errorf("vary %s has %d rows, want %d", tt.line, got, tt.rows)
		}
	}
	var kvs []string
	for i := range 100 {
		kvs = append(kvs, strconv.Itoa(100+i))
	}
	line := "vary " + build + " --kv " + strings.Join(kvs, ",") + " --series 1,2,3,4,5,6,7,8,9,10"
	if r := answerTo(t.Context(), line+" --all --format csv"+shop); r.code != outcome.ExitAnswered || strings.Count(r.stdout, "\n") != 1002 {
		t.Errorf("1000 rows: exit code %d, %d lines, %s", r.code, strings.Count(r.stdout, "\n"), r.stderr)
	}
	if r := answerTo(t.Context(), line+",11 --all"+shop); r.code != outcome.ExitUsage || !strings.Contains(r.stderr, " rows, more than 1000") {
		t.Errorf("1100 rows: exit code %d, %s", r.code, r.stderr)
	}
}

// TestBareNumbersNeedNoCatalog: nothing is said of one.
func TestBareNumbersNeedNoCatalog(t *testing.T) {
	t.Chdir(t.TempDir())
	r := answerTo(t.Context(), "vary "+bareLine)
	if r.code != outcome.ExitAnswered || r.stderr != "" || strings.Contains(strings.ToLower(r.stdout), "demo") {
		t.Errorf("exit code %d\n%s\n%s", r.code, r.stdout, r.stderr)
	}
}

func readText(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
