package main

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/say"
)

// onePart is a catalog that has one part in each slot.
const onePart = `schema = 1
[[battery]]
id = "pack"
series = 10
nominal_v = 36
full_v = 42
cutoff_v = 30
capacity_ah = 10
resistance_mohm = 60
discharge_a = 60
price = 200
mass_g = 3000
[[controller]]
id = "driver"
erpm_ceiling = 100000
max_volts = 60
motor_current_a = 60
battery_current_a = 40
continuous_current_a = 50
price = 90
[[motor]]
id = "motor"
kv = 170
resistance_mohm = 50
no_load_current_a = 1
peak_current_a = 60
continuous_current_a = 40
shaft_mm = 8
price = 80
[[gear_drive]]
id = "gear"
ratio = 3
bore_mm = 8
hub = "spokes"
price = 60
[[wheel]]
id = "wheel"
diameter_mm = 97
hub = "spokes"
tyre = "urethane"
price = 40
`

// miscounted are words that do not go with their number.
var miscounted = regexp.MustCompile(`(?:^|[\s>("])(?:1 (?:[a-z]+ ){0,2}?(?:argument|battery|batterie|build|change|check|combination|controller|draw|drive|file|frame|item|motor|pack|pair|part|piece|remark|set|slot|time|wheel|weighting)s|(?:0|[2-9]|\d+\d) (?:feasible )?(?:argument|build|change|combination|file|frame|motor|pair|part|set|slot|time|weighting))\b`)

// TestEveryCountGoesWithItsNoun asks all commands about a catalog in which all
// is there once, so that every count is 1.
func TestEveryCountGoesWithItsNoun(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{
		"parts.toml": onePart,
		"one.toml":   "schema = 1\n[board]\nmotors = [1]\n[target]\ntop_speed_kmh = 25\n",
		"two.toml":   "schema = 1\n[board]\nmotors = [1]\n[target]\ntop_speed_kmh = 20\nclimb_grade_pct = 2\n",
		"never.toml": "schema = 1\n[board]\nmotors = [1]\n[target]\ntop_speed_kmh = 90\n[limit]\nprice = 100\n",
	} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	asked := " --catalog parts.toml --brief one.toml"
	for _, tt := range []struct {
		line string
		has  string // which tells that the count in question is there
	}{
		{"rank --save 1=build.toml" + asked, "1 combination; 1 build lacks data"},
		{"rank --full" + asked, "1 combination, 1 feasible"},
		{"rank --full --no-count" + asked, "1 combination, not counted"},
		{"rank --front price,range_km" + asked, "1 of 1 feasible build is on the front"},
		{"rank --stability --tolerance --draws 1" + asked, "share of 1 draw in"},
		{"rank --full --stability --tolerance --draws 1" + asked, "Drawn 1 time,"},
		{"rank --chart teeth" + asked, ""},
		{"rank --share motor --brief two.toml" + asked, "1 set:"},
		{"rank --share motor --save 2=x.toml --brief two.toml" + asked, "there is only 1 set"},
		{"rank --save 2=x.toml" + asked, "only 1 design is listed"},
		{"rank --apart none --save 2=x.toml" + asked, "only 1 build is feasible"},
		{"rank --apart none --top 1 --save 2=x.toml" + asked, "only 1 build is ranked"},
		{"rank --catalog parts.toml --brief never.toml", "1 combination: most fail on price"},
		{"rank --full --catalog parts.toml --brief never.toml", "Nothing feasible in 1 combination"},
		{"rank --format csv --catalog parts.toml --brief never.toml", "nothing is feasible in 1 combination\n"},
		{"sheet build.toml" + asked, ""},
		{"parts build.toml" + asked, ""},
		{"swap build.toml --change wheel" + asked, "nothing to change"},
		{"shortlist motor" + asked, "1 of 1 motor does it, in 1 feasible build"},
		{"shortlist battery --catalog parts.toml --brief never.toml", "None of 1 battery does it"},
		{"relax" + asked, "1 build is feasible"},
		{"relax --catalog parts.toml --brief never.toml", ""},
		{"ideal" + asked, "1 of 1 motor frame can do it"},
		{"plot build.toml" + asked, "not 1 argument\n"},
		{"plot build.toml front" + asked, "1 feasible build, 1 of them"},
		{"report -o -" + asked, ""},
		{"report -o - --catalog parts.toml --brief never.toml", ""},
		{"catalog check parts.toml", "5 parts"},
		{"catalog show motor --catalog parts.toml", "motor: 1 part"},
		{"catalog convert parts.toml csv", "5 parts in 6 files"},
		{"catalog convert parts.toml one.csv", "5 parts"},
		{"report x", ""},
	} {
		answer := answerTo(t.Context(), tt.line)
		said := strings.NewReplacer(say.NBSP, " ", "\u202f", " ").Replace(answer.stdout + answer.stderr)
		for _, line := range strings.Split(said, "\n") {
			if wrong := miscounted.FindString(line); wrong != "" {
				t.Errorf("%s says %q in %.200q", tt.line, wrong, line)
			}
		}
		if !strings.Contains(strings.Join(strings.Fields(said), " ")+"\n", strings.TrimSuffix(tt.has, "\n")) {
			t.Errorf("%s does not say %q:\n%.1500s", tt.line, tt.has, said)
		}
	}
}

func TestMiscounted(t *testing.T) {
	for _, right := range []string{"1 build", "2 builds", "21 builds", "1 motor frame", "10 combinations", "1 feasible build", "2 × motor", "1.1 builds"} {
		if miscounted.MatchString(right) {
			t.Errorf("%q is right", right)
		}
	}
	for _, wrong := range []string{"1 builds", "2 build", "11 part", "1 combinations", "(1 motor frames", "1 feasible builds", "0 set"} {
		if !miscounted.MatchString(wrong) {
			t.Errorf("%q is wrong", wrong)
		}
	}
}
