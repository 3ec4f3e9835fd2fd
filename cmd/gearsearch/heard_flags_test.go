package main

import (
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/shell"
)

// heardIn are command lines of all commands, to which each flag makes a
// difference.
var heardIn = map[string]string{
	"rank":            "rank --catalog own.toml --brief brief.toml",
	"sheet":           "sheet build.toml --catalog own.toml --brief brief.toml",
	"parts":           "parts build.toml --catalog own.toml --brief brief.toml",
	"swap":            "swap build.toml --change wheel,motor --catalog own.toml --brief brief.toml",
	"vary":            "vary build.toml --kv 160 --series 10 --catalog own.toml --brief brief.toml",
	"shortlist":       "shortlist motor --catalog own.toml --brief brief.toml",
	"relax":           "relax --catalog own.toml --brief brief.toml --range 80km",
	"ideal":           "ideal --catalog own.toml --brief brief.toml --keep motor=pond-150",
	"route":           "route wall.csv",
	"fit":             "fit build.toml out.csv back.csv monday.csv tuesday.csv --catalog own.toml --brief brief.toml",
	"plot":            "plot build.toml front --catalog own.toml --brief brief.toml",
	"report":          "report --catalog own.toml --brief brief.toml --top 1",
	"catalog check":   "catalog check --catalog own.toml",
	"catalog show":    "catalog show motor --catalog own.toml",
	"catalog new":     "catalog new begun",
	"catalog convert": "catalog convert own.toml csv",
	"catalog merge":   "catalog merge own.toml other.toml -o all.toml --overwrite",
	"catalog diff":    "catalog diff own.toml other.toml",
	"catalog import":  "catalog import sheet.csv --kind remote --map Colour=-",
	"catalog schema":  "catalog schema",
	"completion":      "completion bash",
	"reference":       "reference brief",
	"man":             "man",
}

// flagWish is a flag given in place of another value, or of nothing where from is
// "", beside other flags.
type flagWish struct{ beside, from, to string }

// flagWishes has a line for every flag, or for a flag of one command that needs
// another: "command flag".
var flagWishes = map[string]flagWish{
	"catalog": {"", "own.toml", "other.toml"},
	"brief":   {"", "brief.toml", "other-brief.toml"},
	"set":     {"", "rider.mass_kg=80", "rider.mass_kg=60"},

	"top-speed":     {"", "30km/h", "35km/h"},
	"top-speed-max": {"", "", "31km/h"},
	"climb-grade":   {"", "12%", "40%"},
	"climb-speed":   {"", "12km/h", "28km/h"},
	"hill-torque":   {"", "12N.m", "40N.m"},
	"range":         {"", "10km", "40km"},
	"cruise":        {"", "25km/h", "20km/h"},
	"rider":         {"", "80kg", "60kg"},
	"motors":        {"", "2", "4"},
	"surface":       {"", "asphalt", "gravel"},
	"route":         {"", "", "wall.csv"},
	"erpm-ceiling":  {"", "", "45000"},
	"headroom":      {"", "5%", "57%"},
	"erpm-rule":     {"--erpm-ceiling 45000", "free-spin", "at-top"},
	"price-limit":   {"", "", "900"},

	"keep":   {"", "", "controller=solo-70"},
	"avoid":  {"", "", "wheel=disc-110"},
	"weight": {"", "speed=3", "speed=9"},
	"strict": {"", "", " "},

	"format":        {"", "table", "csv"},
	"plot format":   {"", "svg", "png"},
	"report format": {"", "html", "json"},
	"o":             {"", "", "out"},
	"units":         {"", "metric", "imperial"},
	// A climb speed above the top-speed limit is doubted, and so is a demo.
	"quiet":                 {"--top-speed-max 31km/h --climb-speed 32km/h", "", " "},
	"catalog check quiet":   {"", "", " "},
	"catalog check units":   {"--brief brief.toml", "metric", "imperial"},
	"catalog check brief":   {"", "", "brief.toml"},
	"catalog show quiet":    {"", "", " "},
	"standard":              {"", "", " "},
	"route quiet":           {"", "", " "},
	"catalog new quiet":     {"", "", " "},
	"least":                 {"", "", " "},
	"catalog convert quiet": {"", "", " "},
	"catalog merge quiet":   {"", "", " "},
	"catalog merge o":       {"", "all.toml", "more.toml"},
	"map":                   {"", "Colour=-", "Colour=note"},
	"kind":                  {"", "remote", "controller"},
	"remember":              {"", "", " "},
	"catalog import o":      {"", "", "made.csv"},
	"catalog import quiet":  {"", "", " "},
	"ideal top":             {"--keep motor=barn-find", "1", "2"},
	"plot weight":           {"", "", "speed=9"}, // which says that a drawing has no scores
	"top":                   {"", "1", "2"},
	"save":                  {"", "", "1=out"},
	"with-parts":            {"--save 1=out", "", " "},
	"front":                 {"", "price", "price,range_km"},
	"stability":             {"", "", " "},
	"tolerance":             {"", "", " "},
	"draws":                 {"--tolerance", "20", "30"},
	"coast":                 {"", "", "out.csv"},
	"ride":                  {"", "", "monday.csv"},
	"direction":             {"", "out.csv=out", "out.csv=back"},
	"column":                {"", "", "speed=gps:km/h"},
	"freewheel":             {"", "", " "},
	"only":                  {"", "rolling", "drag"},
	"write":                 {"", "", "out"},
	"fit quiet":             {"--set target.top_speed_max_kmh=31 --set target.climb_speed_kmh=32", "", " "},
	"by":                    {"--tolerance --draws 20", "score", "robust"},
	"chart":                 {"--keep motor=pond-150 --keep battery=brick-10s3p --keep controller=duet-60 --keep wheel=disc-97", "", "teeth"},
	"apart":                 {"", "", "none"},
	"no-count":              {"", "", " "},
	"share":                 {"--brief other-brief.toml", "motor", "battery"},
	"worst":                 {"--brief other-brief.toml --share motor", "", " "},
	"why":                   {"", "", " "},
	"battery-wire":          {"", "300mm", "600mm"},
	"phase-wire":            {"", "400mm", "700mm"},
	"ambient":               {"", "30C", "45C"},
	"charge-time":           {"", "", "1h"},
	"peak-time":             {"", "10s", "40s"},
	"change":                {"", "wheel", "motor"},
	"all":                   {"--top-speed 35km/h", "", " "},
	"builds":                {"", "1", "500"},
	"kv":                    {"", "100..200", "150..160"},
	"vary kv":               {"", "180", "190"},
	"series":                {"", "11", "12"},
	"teeth":                 {"", "", "15:36"},
	"ratio":                 {"", "", "2.5"},
	"wheel-size":            {"", "", "110mm"},
	"count":                 {"", "", "1"},
	"charge":                {"", "nominal", "full"},
	"use":                   {"", "", "wheel=disc-110"},
	"vary all":              {"", "", " "},
	"reduction":             {"", "2..4", "2.5..2.6"},
	"wheel":                 {"", "90mm..120mm", "100mm..102mm"},
	"axes":                  {"", "price,range_km", "price,top_speed_kmh"},
	"width":                 {"", "300", "350"},
	"date":                  {"", "2026-01-01", "2026-01-02"},
	"where":                 {"", "kv>0", "kv>160"},
	"reference":             {"", "", " "},
	"full":                  {"", "", " "},
}

// elsewhere are flags that other tests hold: a page takes minutes to build, what is
// known of bare numbers does not go with a build file, and a part is added once.
var elsewhere = []string{"fit plot", "page quiet", "page one-file", "page small", "vary part", "catalog add catalog", "catalog add quiet", "catalog merge overwrite", "catalog diff quiet"}

// raw are the flags that say how an answer is given, which is looked at whole.
var raw = []string{"format", "o", "full", "units", "quiet", "save", "with-parts", "plot weight", "why", "date", "reference", "least"}

// briefOfFlags asks for all that some flag bears on. Without limits of price and
// mass their references are those of the parts that are left.
const briefOfFlags = `schema = 1
[board]
sensored = true
[target]
top_speed_kmh = 30
climb_grade_pct = 12
hill_torque_nm = 12
launch_speed_kmh = 15
launch_s = 4
range_km = 10
`

func TestEveryFlagIsHeard(t *testing.T) {
	if testing.Short() {
		t.Skip("asks hundreds of times")
	}
	files := map[string]string{"brief.toml": briefOfFlags}
	for _, name := range []string{"parts.toml", "build.toml", "out.csv", "back.csv", "monday.csv", "tuesday.csv"} {
		data, err := os.ReadFile("testdata/shop/" + name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = string(data)
	}
	files["own.toml"] = strings.Replace(files["parts.toml"], "discharge_a = 25", "discharge_a = 25\ncharge_a = 2", 1) + accessories
	files["other.toml"] = strings.NewReplacer("mass_g = 820", "mass_g = 920", "price = 110", "price = 120", "max_volts = 52\n", "").Replace(files["own.toml"])
	files["sheet.csv"] = "id,Weight g,Colour\na,50,red\n"
	files["wall.csv"] = "distance_m,height_m\n0,0\n200,100\n"
	files["other-brief.toml"] = strings.Replace(briefOfFlags, "[board]", "[rider]\nmass_kg = 60\n[board]", 1)
	t.Chdir(t.TempDir())
	for name, text := range files {
		write(t, name, text)
	}
	asked := map[string]string{}
	ask := func(line string, whole bool) string {
		key := fmt.Sprint(whole, line)
		if asked[key] == "" {
			asked[key] = heardAnswer(t, line, whole)
		}
		return asked[key]
	}
	seen := map[string]bool{}
	shell.Leaves((&program{}).commands(), "", func(command string, c *cli.Command) {
		for _, f := range c.Flags {
			name := f.Names()[0]
			own := command + " " + name
			w, ok := flagWishes[own]
			if ok {
				seen[own] = true
			} else {
				w, ok = flagWishes[name]
				seen[name] = true
			}
			if slices.Contains(elsewhere, own) {
				continue
			}
			if !ok {
				t.Errorf("%s has no line in flagWishes", own)
				continue
			}
			line, ok := heardIn[command]
			if !ok {
				t.Errorf("%s has no line in heardIn", command)
				return
			}
			dashed := "--" + name
			if name == "o" {
				dashed = "-o"
			}
			if name != "share" && name != "worst" {
				line = regexp.MustCompile(` `+dashed+` \S+`).ReplaceAllString(line, "")
			}
			if name == "standard" {
				line = "catalog show"
			}
			if own == "catalog check quiet" || own == "catalog show quiet" {
				line = strings.Replace(line, " --catalog own.toml", "", 1)
			}
			line += " " + w.beside
			with := func(value string) string {
				if value == "" {
					return line
				}
				return strings.TrimSpace(line + " " + dashed + " " + strings.TrimSpace(value))
			}
			whole := slices.Contains(raw, name) || slices.Contains(raw, own)
			if a, b := ask(with(w.from), whole), ask(with(w.to), whole); a == b {
				t.Errorf("gearsearch %s: as with %q, by which the flag is ignored", with(w.to), w.from)
			}
		}
	})
	for name := range flagWishes {
		if !seen[name] {
			t.Errorf("flagWishes has %s, which is no flag", name)
		}
	}
}

// repeated are what documents say of the question itself.
var repeated = regexp.MustCompile(`^(brief|assumptions|catalog\.files|apart|change|where|slot|builds_wanted|share|wishes\.value|rows\.change)\b|\.(limit|from)$`)

// heardAnswer is what a command line gives: whole, or without what only repeats
// the question.
func heardAnswer(t *testing.T, line string, whole bool) string {
	t.Helper()
	command := strings.Fields(line)[0]
	documents := !whole && slices.Contains([]string{"rank", "sheet", "parts", "swap", "vary", "shortlist", "relax", "ideal"}, command) ||
		!whole && regexp.MustCompile(`^catalog (check|show)`).MatchString(line)
	if documents {
		line += " --format json"
	}
	r := answerTo(t.Context(), line)
	if r.code != outcome.ExitAnswered && r.code != outcome.ExitInfeasible && !whole {
		t.Errorf("gearsearch %s: exit code %d, %s", line, r.code, r.stderr)
		return line
	}
	out := fmt.Sprintln(r.code)
	switch {
	case whole:
		written, _ := os.ReadFile("out")
		os.RemoveAll("out")
		os.RemoveAll("begun")
		os.RemoveAll("csv")
		out += r.stdout + "\n---\n" + r.stderr + "\n---\n" + string(written)
	case documents:
		answers := flat(t, line, r.stdout)
		for _, path := range slices.Sorted(maps.Keys(answers)) {
			if !repeated.MatchString(path) {
				out += path + fmt.Sprintln(answers[path])
			}
		}
	case command == "report":
		_, list, _ := strings.Cut(r.stdout, `id="list-title"`)
		list, _, _ = strings.Cut(list, `id="pins-title"`)
		out += list
	default:
		out += r.stdout
	}
	return out
}
