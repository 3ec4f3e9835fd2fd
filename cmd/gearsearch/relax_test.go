package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// measured are the keys of parts whose numbers shaken changes.
var measured = regexp.MustCompile(`(?m)^(kv|resistance_mohm|no_load_current_a|peak_current_a|continuous_current_a|capacity_ah|price|mass_g|motor_current_a|battery_current_a) = ([0-9.]+)$`)

// shaken is the catalog of the tests with other measurements, in a file.
func shaken(t *testing.T, r *rand.Rand, name string) string {
	t.Helper()
	text, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	text = measured.ReplaceAllFunc(text, func(line []byte) []byte {
		m := measured.FindSubmatch(line)
		x, err := strconv.ParseFloat(string(m[2]), 64)
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Appendf(nil, "%s = %.4g", m[1], x*(0.8+0.4*r.Float64()))
	})
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// writtenOpenings are the openings of an answer with their numbers as they
// stand there.
type writtenOpenings struct {
	Feasible uint64
	Openings []struct {
		Concessions []struct {
			Key      string
			From, To json.Number
		}
	}
}

// TestConcessionsAsWritten: on random catalogs and briefs the text of each "to",
// in JSON and CSV alike, given back to the program by a flag and in a brief's
// file, leads to as many builds as asked for; a little less of it does not.
func TestConcessionsAsWritten(t *testing.T) {
	t.Parallel()
	const little = 1e-7 // relative; comparisons hold a billionth for equal
	n := 80
	if testing.Short() {
		n = 8
	}
	tried := map[string]int{}
	for seed := range n {
		r := rand.New(rand.NewPCG(uint64(seed), 7))
		parts, brief := shaken(t, r, "parts.toml"), randomBrief(r)
		file := func(text string) string {
			path := filepath.Join(t.TempDir(), "brief.toml")
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			return path
		}
		feasible := func(line string) int {
			answer := answerTo(t.Context(), line+" --top 1 --format json --quiet")
			var f found
			if err := json.Unmarshal([]byte(answer.stdout), &f); err != nil {
				t.Fatalf("%s: %v %s", line, err, answer.stderr)
			}
			return int(*f.Feasible)
		}
		asked := " --catalog " + parts + " --brief " + file(brief)
		builds := feasible("rank"+asked) + 1 + r.IntN(4)
		line := fmt.Sprintf("relax --builds %d --quiet%s", builds, asked)
		answer := answerTo(t.Context(), line+" --format json")
		var f writtenOpenings
		if err := json.Unmarshal([]byte(answer.stdout), &f); err != nil {
			t.Fatalf("%s: %v %s", line, err, answer.stderr)
		}
		rows, err := csv.NewReader(strings.NewReader(answerTo(t.Context(), line+" --format csv").stdout)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		row := 1
		for _, o := range f.Openings {
			flags, inFile := "", brief
			for _, g := range o.Concessions {
				if rows[row][2] != g.Key || rows[row][4] != g.To.String() {
					t.Errorf("seed %d: %s is %s in JSON, and in CSV %v", seed, g.Key, g.To, rows[row])
				}
				row++
				tried[g.Key]++
				flags += " --set " + g.Key + "=" + g.To.String()
				inFile = withKey(inFile, g.Key, g.To.String())
			}
			for _, line := range []string{"rank" + asked + flags, "rank --catalog " + parts + " --brief " + file(inFile)} {
				if got := feasible(line); got < builds {
					t.Errorf("seed %d: %s leads to %d builds of %d", seed, flags, got, builds)
				}
			}
			if len(o.Concessions) > 1 || o.Concessions[0].Key == "board.motors" { // one motor less is another board
				continue
			}
			g := o.Concessions[0]
			from, to := float64Of(t, g.From), float64Of(t, g.To)
			less := to - math.Copysign(little*math.Max(math.Abs(from), math.Abs(to)), to-from)
			if g.Key == "limit.mesh_teeth" {
				less = to + 1
			}
			if got := feasible(fmt.Sprintf("rank%s --set %s=%s", asked, g.Key, strconv.FormatFloat(less, 'g', 12, 64))); got >= builds {
				t.Errorf("seed %d: %s of %v leads to %d builds of %d already, before %v", seed, g.Key, less, got, builds, to)
			}
		}
	}
	t.Log(tried)
	for _, key := range []string{"target.launch_speed_kmh", "target.cruise_kmh", "target.climb_speed_kmh", "target.climb_grade_pct", "limit.price"} {
		if tried[key] == 0 && !testing.Short() {
			t.Errorf("%s opened nothing: the test does not test it", key)
		}
	}
}

// randomBrief is a brief that asks little of everything, and much of one thing
// or two.
func randomBrief(r *rand.Rand) string {
	keys := []struct {
		section, name  string
		easy, low, far float64 // much is between low and far
	}{
		{"board", "hanger_mm", 200, 130, 150},
		{"target", "top_speed_kmh", 20, 40, 70},
		{"target", "top_speed_max_kmh", 100, 25, 35},
		{"target", "climb_grade_pct", 5, 25, 45},
		{"target", "climb_speed_kmh", 12, 20, 40},
		{"target", "launch_speed_kmh", 12, 20, 32},
		{"target", "launch_s", 9, 1.5, 3},
		{"target", "range_km", 8, 22, 34},
		{"target", "cruise_kmh", 20, 30, 42},
		{"target", "hill_torque_nm", 10, 40, 80},
		{"limit", "price", 1500, 600, 800},
		{"limit", "mass_kg", 14, 7, 9},
		{"limit", "erpm_headroom_pct", 3, 20, 60},
		{"limit", "ground_clearance_mm", 5, 20, 40},
	}
	hard, also := r.IntN(len(keys)), r.IntN(2*len(keys))
	text, section := "schema = 1\n", ""
	for i, k := range keys {
		if k.section != section {
			section = k.section
			text += "[" + section + "]\n"
		}
		x := k.easy * (0.9 + 0.2*r.Float64())
		if i == hard || i == also {
			x = k.low + (k.far-k.low)*r.Float64()
		}
		text += fmt.Sprintf("%s = %.4g\n", k.name, x)
	}
	return text
}

func float64Of(t *testing.T, n json.Number) float64 {
	t.Helper()
	x, err := n.Float64()
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// withKey is the text of a brief with another value of a key.
func withKey(brief, key, value string) string {
	section, name, _ := strings.Cut(key, ".")
	was := regexp.MustCompile(`(?m)^` + name + ` = .*$`)
	head, tail, found := strings.Cut(brief, "["+section+"]\n")
	if !found {
		return brief + "[" + section + "]\n" + name + " = " + value + "\n"
	}
	body, rest, more := strings.Cut(tail, "\n[")
	if was.MatchString(body) {
		body = was.ReplaceAllString(body, name+" = "+value)
	} else {
		body = name + " = " + value + "\n" + body
	}
	if more {
		rest = "\n[" + rest
	}
	return head + "[" + section + "]\n" + body + rest
}
