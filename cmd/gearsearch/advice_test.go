package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// setting is a line of a build file that names a part.
var setting = regexp.MustCompile(`(?m)^([a-z_]+) = "(.*)"$`)

// partsIn are the parts that a build file names.
func partsIn(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]any{}
	for _, m := range setting.FindAllStringSubmatch(string(text), -1) {
		named[m[1]] = m[2]
	}
	return partWords(named)
}

// partWords are the ids of a build in the order of the slots.
func partWords(parts map[string]any) string {
	var out []string
	for _, slot := range []string{"battery", "controller", "motor", "gear_drive", "motor_pulley", "wheel_pulley", "mount", "belt", "wheel"} {
		if id, ok := parts[slot].(string); ok {
			out = append(out, id)
		}
	}
	return strings.Join(out, " ")
}

// advised are the commands that an answer tells to type.
func advised(t *testing.T, line string) []string {
	t.Helper()
	var out []string
	for _, m := range toldCommand.FindAllStringSubmatch(answerTo(t.Context(), line).stdout, -1) {
		out = append(out, m[1])
	}
	if len(out) == 0 {
		t.Fatalf("gearsearch %s advises nothing", line)
	}
	return out
}

// foundIn is the answer to a line as data.
func foundIn(t *testing.T, line string) (f found) {
	t.Helper()
	r := answerTo(t.Context(), line+" --format json --quiet")
	if err := json.Unmarshal([]byte(r.stdout), &f); err != nil {
		t.Fatalf("gearsearch %s: %v, %s", line, err, r.stderr)
	}
	return f
}

// inShop goes to a folder with the files of the tests.
func inShop(t *testing.T) (asked string) {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(filepath.Join("testdata", "shop"))); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	return " --catalog parts.toml --brief brief.toml"
}

// TestAdviceSavesTheFirst: the file that a ranking and a swap advise to save is
// the first build that they show, whatever orders them.
func TestAdviceSavesTheFirst(t *testing.T) {
	asked := inShop(t)
	build, err := os.ReadFile("build.toml")
	if err != nil {
		t.Fatal(err)
	}
	firsts := map[string]bool{}
	for _, line := range []string{
		"rank", "rank --strict", "rank --top 3", "rank --top 0", "rank --keep motor=pond-190", "rank --weight price=9", "rank --no-count", "rank --full",
		"rank --front top_speed_kmh,price", "rank --front hill_torque_nm --front range_km --strict", "rank --units imperial --avoid wheel=disc-97",
		"rank --tolerance --draws 40", "rank --tolerance --by robust --draws 40", "rank --tolerance --by robust --draws 40 --top 4 --full", "rank --stability --draws 40",
		"swap build.toml --change wheel", "swap build.toml --change drive,motor --top 2 --strict", "swap build.toml --change battery,wheel --all",
	} {
		f := foundIn(t, line+asked)
		builds := append(f.Builds, f.Swaps...)
		if len(builds) == 0 {
			t.Fatalf("%s finds nothing", line)
		}
		want := partWords(builds[0].Parts)
		commands := advised(t, line+asked)
		told := 2 // to save the build, and to look at it
		if strings.HasPrefix(line, "rank") && !strings.Contains(line, "--full") {
			told = 1
		}
		if len(commands) != told || !strings.Contains(commands[0], " --save ") {
			t.Errorf("%s advises %q", line, commands)
			continue
		}
		for _, command := range commands {
			if r := answerTo(t.Context(), command); r.code != outcome.ExitAnswered {
				t.Errorf("%s advises %s: exit code %d, %s", line, command, r.code, r.stderr)
			}
		}
		_, file, _ := strings.Cut(commands[0], " --save ")
		_, file, _ = strings.Cut(file, "=")
		if got := partsIn(t, file); got != want {
			t.Errorf("%s shows %s first, and %s saves %s", line, want, commands[0], got)
		}
		if err := os.Remove(file); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile("build.toml", build, 0o600); err != nil {
			t.Fatal(err)
		}
		firsts[want] = true
	}
	if len(firsts) < 4 {
		t.Errorf("%d builds are first: the test does not test", len(firsts))
	}
}

// TestAdviceOfSets: the files that a ranking of sets advises to save are the
// builds of the first set.
func TestAdviceOfSets(t *testing.T) {
	asked := inShop(t) + " --brief sunday.toml"
	if err := os.WriteFile("sunday.toml", []byte("schema = 1\n[target]\ntop_speed_kmh = 40\nclimb_grade_pct = 6\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"rank --share motor", "rank --share motor,battery --worst --top 2"} {
		var f struct {
			Sets []struct {
				Builds []struct {
					For   string
					Parts map[string]any
				}
			}
		}
		r := answerTo(t.Context(), line+asked+" --format json --quiet")
		if err := json.Unmarshal([]byte(r.stdout), &f); err != nil || len(f.Sets) == 0 {
			t.Fatalf("%s: %v, %d sets, %s", line, err, len(f.Sets), r.stderr)
		}
		for _, command := range advised(t, line+asked) {
			if r := answerTo(t.Context(), command); r.code != outcome.ExitAnswered {
				t.Errorf("%s advises %s: exit code %d, %s", line, command, r.code, r.stderr)
			}
		}
		for _, b := range f.Sets[0].Builds {
			if got, want := partsIn(t, "set-"+b.For+".toml"), partWords(b.Parts); got != want {
				t.Errorf("%s shows %s for %s, and saves %s", line, want, b.For, got)
			}
		}
	}
}

// TestAdviceOfLists: what shortlist advises leads to the builds of its best
// part, as many as it says, and of a belt to its best build; what ideal advises
// to builds of the frame; and what a chart does to its parts.
func TestAdviceOfLists(t *testing.T) {
	asked := inShop(t)
	lines := ask.SlotWords()
	for _, slot := range []string{"gear_drive", "motor_pulley", "belt", "drive"} {
		lines = append(lines, slot+" --keep motor_pulley=cog-15 --keep gear_drive=spur-2.9")
	}
	for _, slot := range lines {
		f := foundIn(t, "shortlist "+slot+asked)
		commands := advised(t, "shortlist "+slot+asked)
		if len(commands) != 1 || len(f.Parts) == 0 {
			t.Errorf("shortlist %s advises %q of %d parts", slot, commands, len(f.Parts))
			continue
		}
		best, got := f.Parts[0], foundIn(t, commands[0])
		if len(got.Builds) == 0 || partWords(got.Builds[0].Parts) != partWords(best.Build.Parts) {
			t.Errorf("shortlist %s has as its best %v, and %s another", slot, best.Build.Parts, commands[0])
		}
		if !strings.HasPrefix(slot, "belt") && *got.Feasible != best.Feasible {
			t.Errorf("shortlist %s says %d builds, %s finds %d", slot, best.Feasible, commands[0], *got.Feasible)
		}
	}
	var frames struct {
		Frames []struct {
			Motors []string
			Fits   bool `json:"catalog_feasible"`
		}
	}
	for _, more := range []string{"", " --top-speed 50km/h", " --top-speed 61km/h --kv 100..250"} {
		r := answerTo(t.Context(), "ideal"+asked+more+" --format json --quiet")
		if err := json.Unmarshal([]byte(r.stdout), &frames); err != nil {
			t.Fatal(err)
		}
		commands := advised(t, "ideal"+asked+more)
		if len(commands) != 1 {
			t.Errorf("ideal%s advises %q", more, commands)
			continue
		}
		if strings.HasPrefix(commands[0], "relax") {
			for _, x := range frames.Frames {
				if x.Fits {
					t.Errorf("ideal%s advises to relax, and parts of %v do it", more, x.Motors)
				}
			}
			continue
		}
		for _, b := range foundIn(t, commands[0]).Builds {
			id, _ := b.Parts["motor"].(string)
			fits := false
			for _, x := range frames.Frames {
				fits = fits || x.Fits && strings.Contains(" "+strings.Join(x.Motors, " ")+" ", " "+id+" ")
			}
			if !fits {
				t.Errorf("ideal%s: %s finds builds with %s", more, commands[0], id)
			}
		}
	}
}

// TestAdviceOpens: where nothing is feasible, each ranking that is advised has
// a build, the one that was named.
func TestAdviceOpens(t *testing.T) {
	asked := inShop(t)
	tried := 0
	for _, line := range []string{
		"rank --top-speed 62km/h --price-limit 850", "rank --full --top-speed 62km/h --price-limit 850", "rank --range 45km", "rank --top-speed 62km/h --price-limit 850 --strict", "rank --hill-torque 200N.m --front price",
		"relax --top-speed 62km/h --price-limit 850", "relax --top-speed 90km/h --price-limit 850 --strict", "relax --builds 107", "relax --builds 120 --range 20km",
		"relax --set target.launch_speed_kmh=30 --set target.launch_s=2", "relax --climb-grade 45% --climb-speed 40km/h",
	} {
		wanted := uint64(1)
		if _, text, ok := strings.Cut(line, "--builds "); ok {
			if _, err := fmt.Sscan(text, &wanted); err != nil {
				t.Fatal(err)
			}
		}
		for _, command := range advised(t, line+asked) {
			r := answerTo(t.Context(), command)
			if !strings.HasPrefix(command, "rank ") {
				if r.code == outcome.ExitUsage || r.code == outcome.ExitContent {
					t.Errorf("%s advises %s: exit code %d, %s", line, command, r.code, r.stderr)
				}
				continue
			}
			tried++
			if f := foundIn(t, command); *f.Feasible < wanted {
				t.Errorf("%s advises %s: %d builds of %d", line, command, *f.Feasible, wanted)
			}
		}
	}
	if tried < 10 {
		t.Errorf("%d rankings are advised: the test does not test", tried)
	}
}

// TestAdviceOfSwaps: where no change passes, each command that is advised opens
// something: a swap has a change that passes, a ranking a build, and a search for
// concessions one.
func TestAdviceOfSwaps(t *testing.T) {
	asked := inShop(t)
	kinds := map[string]int{}
	for _, line := range []string{
		"swap build.toml --change mount,wheel --top-speed 70km/h", "swap build.toml --change wheel --top-speed 40km/h", "swap build.toml --change wheel --erpm-ceiling 30000",
		"swap build.toml --change wheel_pulley --price-limit 700", "swap build.toml --change battery --top-speed 45km/h --strict", "swap build.toml --change wheel --range 60km",
		"swap build.toml --change wheel,battery --erpm-ceiling 45000 --top-speed 38km/h", "swap build.toml --change motor --climb-grade 35%", "swap build.toml --change wheel --avoid motor=pond-150 --price-limit 690",
	} {
		told := toldCommand.FindAllStringSubmatch(answerTo(t.Context(), line+asked).stdout, -1)
		for _, m := range told {
			command := m[1]
			kind, _, _ := strings.Cut(command, " ")
			kinds[kind]++
			f := foundIn(t, command)
			opens := len(f.Builds) > 0 || len(f.Swaps) > 0
			if kind == "relax" {
				var o writtenOpenings
				if err := json.Unmarshal([]byte(answerTo(t.Context(), command+" --format json --quiet").stdout), &o); err != nil {
					t.Fatal(err)
				}
				opens = len(o.Openings) > 0
			}
			if !opens {
				t.Errorf("%s advises %s, which opens nothing", line, command)
			}
		}
	}
	if kinds["swap"] < 6 || kinds["relax"] < 2 {
		t.Errorf("%v are advised: the test does not test", kinds)
	}
}

// TestAdviceOfTheRest: the commands that the other answers advise are answered.
func TestAdviceOfTheRest(t *testing.T) {
	asked := inShop(t)
	for _, line := range []string{
		"sheet build.toml" + asked, "sheet build.toml --strict --price-limit 700" + asked, "parts build.toml" + asked, "rank --chart teeth" + asked,
		"rank --save 1=own.toml" + asked, "catalog check parts.toml", "catalog convert parts.toml csv", "catalog new fresh", "rank --chart teeth --strict --keep motor=pond-190" + asked,
	} {
		for _, command := range advised(t, line) {
			if r := answerTo(t.Context(), command); r.code != outcome.ExitAnswered && r.code != outcome.ExitInfeasible {
				t.Errorf("%s advises %s: exit code %d, %s", line, command, r.code, r.stderr)
			}
		}
	}
}
