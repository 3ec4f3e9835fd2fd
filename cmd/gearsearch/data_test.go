package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

// The keys of the documents, in order: what scripts of users hold on to.
const (
	rankKeys    = "schema complete brief catalog combinations feasible unknown rejected assumptions measure apart builds"
	buildKeys   = "rank score parts figures figures_best scores checks cautions"
	designKeys  = "rank score stands_for parts figures figures_best scores checks cautions"
	partKeys    = "battery controller controllers motor motors motor_pulley wheel_pulley belt mount gear_drive wheel"
	checkKeys   = "name verdict value limit unit margin_pct"
	catalogKeys = "files currency parts"
	kindKeys    = "motor controller cell battery pulley belt mount gear_drive wheel profile"
	figureKeys  = "reduction rolling_radius_mm mass_total_kg free_speed_kmh free_speed_full_kmh top_speed_kmh top_speed_limited_by top_speed_full_kmh " +
		"erpm_full erpm_at_target erpm_speed_limit_kmh climb_thrust_n climb_need_n climb_margin_pct climb_limited_by climb_limit_pct " +
		"climb_current_a winding_end_c hill_torque_nm launch_s battery_wh consumption_wh_per_km range_km stop_m stop_half_m stop_full_m mesh_teeth centre_mm belt_pull_n price mass_kg"
	bestKeys = "top_speed_kmh_best top_speed_limited_by_best top_speed_full_kmh_best climb_thrust_n_best climb_margin_pct_best climb_limited_by_best climb_limit_pct_best " +
		"climb_current_a_best winding_end_c_best hill_torque_nm_best launch_s_best consumption_wh_per_km_best range_km_best stop_m_best stop_half_m_best"
	csvKeys = "rank score battery controller controllers motor motors gear_drive motor_pulley wheel_pulley mount belt wheel " + figureKeys + " " + bestKeys + " unknown_checks"
)

// keys lists the keys of a JSON object in the order in which they stand.
func keys(t *testing.T, object json.RawMessage) string {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(object))
	if token, err := d.Token(); err != nil || token != json.Delim('{') {
		t.Fatalf("not an object: %.60s", object)
	}
	var out []string
	for d.More() {
		token, err := d.Token()
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, token.(string))
		var value json.RawMessage
		if err := d.Decode(&value); err != nil {
			t.Fatal(err)
		}
	}
	return strings.Join(out, " ")
}

// member is one key of a JSON object.
func member(t *testing.T, object json.RawMessage, key string) json.RawMessage {
	t.Helper()
	var all map[string]json.RawMessage
	if err := json.Unmarshal(object, &all); err != nil {
		t.Fatalf("%v in %.60s", err, object)
	}
	return all[key]
}

func items(t *testing.T, list json.RawMessage) []json.RawMessage {
	t.Helper()
	var out []json.RawMessage
	if err := json.Unmarshal(list, &out); err != nil {
		t.Fatalf("%v in %.60s", err, list)
	}
	return out
}

func want(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %s", what, cmp.Diff(want, got))
	}
}

// answered runs the program and wants exit code 0.
func answered(t *testing.T, line string) string {
	t.Helper()
	r := answerTo(context.Background(), line)
	if r.code != outcome.ExitAnswered {
		t.Fatalf("gearsearch %s: exit code %d: %s", line, r.code, r.stderr)
	}
	return r.stdout
}

func TestJSONShape(t *testing.T) {
	document := json.RawMessage(answered(t, "rank --top 0 --format json"+shop))
	want(t, "document", keys(t, document), rankKeys)
	want(t, "catalog", keys(t, member(t, document, "catalog")), catalogKeys)
	if kinds := keys(t, member(t, member(t, document, "catalog"), "parts")); !strings.HasPrefix(kinds+" ", kindKeys+" ") {
		t.Errorf("catalog.parts: %s, want %s first", kinds, kindKeys) // kinds that no build is made of may follow
	}
	want(t, "rejected", keys(t, items(t, member(t, document, "rejected"))[0]), "check count")
	for _, b := range items(t, member(t, document, "builds")) {
		want(t, "build", keys(t, b), buildKeys)
		want(t, "parts", keys(t, member(t, b, "parts")), partKeys)
		want(t, "figures", keys(t, member(t, b, "figures")), figureKeys)
		want(t, "scores", keys(t, member(t, b, "scores")), "speed climb headroom range cool price mass mesh")
		for _, c := range items(t, member(t, b, "checks")) {
			want(t, "check", keys(t, c), checkKeys)
		}
		if t.Failed() {
			return
		}
	}
}

// TestJSONLinesShape: the builds are those of the document, unranked; the last
// line is the document without them.
func TestJSONLinesShape(t *testing.T) {
	document := json.RawMessage(answered(t, "rank --top 0 --format json"+shop))
	lines := strings.Split(strings.TrimSpace(answered(t, "rank --format jsonl"+shop)), "\n")
	last := json.RawMessage(lines[len(lines)-1])
	want(t, "summary", keys(t, last), strings.TrimSuffix(rankKeys, " builds"))
	for key := range strings.FieldsSeq(keys(t, last)) {
		want(t, key, string(member(t, last, key)), string(member(t, document, key)))
	}
	var ranked, streamed []string
	for _, b := range items(t, member(t, document, "builds")) {
		_, rest, _ := bytes.Cut(b, []byte(","))
		ranked = append(ranked, string(rest))
	}
	for _, line := range lines[:len(lines)-1] {
		rank, rest, _ := strings.Cut(line, ",")
		want(t, "rank", rank, `{"rank": null`)
		streamed = append(streamed, rest)
	}
	slices.Sort(ranked)
	slices.Sort(streamed)
	want(t, "builds", strings.Join(streamed, "\n"), strings.Join(ranked, "\n"))
}

// TestCSVShape: the cells are the values of the document.
func TestCSVShape(t *testing.T) {
	document := json.RawMessage(answered(t, "rank --top 0 --format json"+shop))
	rows, err := csv.NewReader(strings.NewReader(answered(t, "rank --top 0 --format csv"+shop))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want(t, "header", strings.Join(rows[0], " "), csvKeys)
	builds := items(t, member(t, document, "builds"))
	if len(builds) != len(rows)-1 {
		t.Fatalf("%d rows for %d builds", len(rows)-1, len(builds))
	}
	for i, b := range builds {
		for j, key := range rows[0] {
			value := member(t, b, key)
			name, best := strings.CutSuffix(key, "_best")
			if best {
				value = member(t, member(t, b, "figures_best"), name)
			}
			for _, part := range []string{"parts", "figures"} {
				if value == nil {
					value = member(t, member(t, b, part), name)
				}
			}
			if key == "unknown_checks" {
				value = undecided(t, b)
			}
			cell := strings.Trim(strings.ReplaceAll(string(value), "null", ""), `"`)
			if cell != rows[i+1][j] {
				t.Fatalf("row %d: %s is %q, in JSON %s", i+1, key, rows[i+1][j], value)
			}
		}
	}
}

// undecided are the names of the checks of a build that are unknown.
func undecided(t *testing.T, build json.RawMessage) json.RawMessage {
	var names []string
	for _, c := range items(t, member(t, build, "checks")) {
		if string(member(t, c, "verdict")) == `"unknown"` {
			names = append(names, strings.Trim(string(member(t, c, "name")), `"`))
		}
	}
	return json.RawMessage(strings.Join(names, "|"))
}

// TestCSVLists: the items of a list stand in a cell with | between them, in every
// column that has lists.
func TestCSVLists(t *testing.T) {
	for _, tt := range []struct{ line, columns string }{
		{"rank --top 0" + shop, "unknown_checks"},
		{"swap testdata/shop/build.toml --change drive,wheel --all --top-speed 36km/h --climb-grade 30%" + shop, "buys leaves breaks adds changed"},
		{"swap testdata/shop/build.toml --change battery --top-speed 34km/h --range 36km --price-limit 2000" + shop, "cures"},
		{"vary testdata/shop/build.toml --kv 100,190 --series 6,12 --wheel-size 80mm,140mm --all --top-speed 34km/h --range 36km --erpm-ceiling 70000" + shop, "change fails cured added"},
		{"ideal" + shop, "motors"},
		{"rank --chart teeth --strict --range 200km --top-speed 60km/h" + shop, "fails"},
		{"catalog check testdata/shop/parts.toml", "ids"},
	} {
		r := answerTo(t.Context(), tt.line+" --format csv")
		rows, err := csv.NewReader(strings.NewReader(r.stdout)).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%s: %v, %d rows, %s", tt.line, err, len(rows), r.stderr)
		}
		for name := range strings.FieldsSeq(tt.columns) {
			column, lists := slices.Index(rows[0], name), 0
			for _, row := range rows[1:] {
				if strings.ContainsAny(row[column], " ,;") {
					t.Errorf("%s: %s is %q", tt.line, name, row[column])
				}
				if strings.Contains(row[column], "|") {
					lists++
				}
			}
			if lists == 0 {
				t.Errorf("%s: no row has a list as %s", tt.line, name)
			}
		}
	}
}

// numbers visits every number of a JSON document as it is written.
func numbers(t *testing.T, document string, visit func(number string)) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(document))
	d.UseNumber()
	for {
		token, err := d.Token()
		if err != nil {
			return
		}
		if n, ok := token.(json.Number); ok {
			visit(n.String())
		}
	}
}

func TestNumbersHaveTenDigitsAtMost(t *testing.T) {
	count := 0
	numbers(t, answered(t, "rank --top 0 --format json"+shop), func(n string) {
		count++
		digits := strings.Trim(strings.ReplaceAll(strings.TrimPrefix(n, "-"), ".", ""), "0")
		if len(digits) > 10 || strings.ContainsAny(n, "eE") {
			t.Errorf("number %s", n)
		}
	})
	if count < 1000 {
		t.Errorf("only %d numbers looked at", count)
	}
}

// ranking is what the tests below read of a document.
type ranking struct {
	Combinations, Feasible, Unknown uint64
	Brief                           struct{ Weights map[string]float64 }
	Rejected                        []struct{ Count uint64 }
	Builds                          []struct {
		Score  float64
		Scores map[string]float64
		Parts  map[string]any
		Checks []struct {
			Name, Verdict string
			Value, Limit  *float64
			MarginPct     *float64 `json:"margin_pct"`
		}
		Figures map[string]any
	}
}

func ranked(t *testing.T, line string) *ranking {
	t.Helper()
	var r ranking
	if err := json.Unmarshal([]byte(answered(t, line)), &r); err != nil {
		t.Fatal(err)
	}
	return &r
}

// TestRankingAddsUp recomputes from the document what it says of itself.
func TestRankingAddsUp(t *testing.T) {
	r := ranked(t, "rank --top 0 --format json"+shop)
	sum := r.Feasible
	for _, x := range r.Rejected {
		sum += x.Count
	}
	if sum != r.Combinations || r.Feasible != uint64(len(r.Builds)) {
		t.Errorf("%d feasible and rejected of %d combinations, %d builds", sum, r.Combinations, len(r.Builds))
	}
	lowerLimits := []string{"mesh", "clearance", "can", "top-speed", "climb", "range", "hill-torque"}
	open := uint64(0)
	for i, b := range r.Builds {
		if i > 0 && b.Score > r.Builds[i-1].Score+1e-6 {
			t.Errorf("build %d scores more than the one before", i+1)
		}
		// 100 Σ w s / Σ w, over the criteria that apply.
		total, weights := 0.0, 0.0
		for name, s := range b.Scores {
			total += r.Brief.Weights[name] * s
			weights += r.Brief.Weights[name]
		}
		if score := 100 * total / weights; math.Abs(score-b.Score) > 1e-6 {
			t.Errorf("build %d: the scores give %v, the score is %v", i+1, score, b.Score)
		}
		unknown := false
		for _, c := range b.Checks {
			unknown = unknown || c.Verdict == "unknown"
			if c.Value == nil || c.Limit == nil || c.MarginPct == nil {
				continue
			}
			margin := 100 * (1 - *c.Value / *c.Limit)
			if slices.Contains(lowerLimits, c.Name) {
				margin = 100 * (*c.Value / *c.Limit - 1)
			}
			if math.Abs(margin-*c.MarginPct) > 1e-6 || c.Verdict != "unknown" && (c.Verdict == "pass") != (margin >= -1e-7) {
				t.Errorf("build %d: %s is %s, %v of %v, margin %v", i+1, c.Name, c.Verdict, *c.Value, *c.Limit, *c.MarginPct)
			}
		}
		if unknown {
			open++
		}
	}
	if open != r.Unknown {
		t.Errorf("%d builds with something unknown, the document counts %d", open, r.Unknown)
	}
}

// TestFirstBuildByHand: price and mass of a build are the sums over the test
// catalog, added up by hand.
func TestFirstBuildByHand(t *testing.T) {
	b := ranked(t, "rank --top 1 --format json"+shop).Builds[0]
	price := 2*110.0 + 210 + 230 + 2*16 + 2*28 + 2*12 + 2*35 + 55
	pack := 30 * 0.070 * 1.15
	mass := 5 + 2*0.820 + 0.240 + pack + 2*0.045 + 2*0.090 + 2*0.020 + 2*0.130 + 4*0.200
	for name, want := range map[string]float64{
		"price": price, "mass_kg": mass, "mass_total_kg": mass + 75,
		"reduction": 44.0 / 15, "rolling_radius_mm": 48.5,
		"erpm_full":      150 * 42 * 7,                                   // kv × full volts × pole pairs
		"battery_wh":     3 * 4.5 * 36,                                   // A·h × nominal volts
		"mesh_teeth":     6,                                              // 15 β / 2π = 6.2, β = π − 2 asin((70.03 − 23.87) / (2 × 85.62)) = 2.596
		"hill_torque_nm": b.Figures["climb_thrust_n"].(float64) * 0.0485, // thrust × radius, grip not binding
	} {
		if got := b.Figures[name].(float64); math.Abs(got-want) > 1e-6*want {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
	}
}

// TestNoOrderOfPartsMatters: the same catalog with its tables in reverse has
// the same answer.
func TestNoOrderOfPartsMatters(t *testing.T) {
	data, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	head, body, _ := strings.Cut(string(data), "[[")
	tables := strings.Split("[["+body, "\n[[")
	for i := 1; i < len(tables); i++ {
		tables[i] = "[[" + tables[i]
	}
	slices.Reverse(tables)
	path := t.TempDir() + "/parts.toml"
	if err := os.WriteFile(path, []byte(head+strings.Join(tables, "\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	plain := answered(t, "rank --top 0 --format json"+shop)
	turned := answered(t, "rank --top 0 --format json --brief testdata/shop/brief.toml --catalog "+path)
	turned = strings.ReplaceAll(turned, path, "testdata/shop/parts.toml")
	if diff := cmp.Diff(plain, turned); diff != "" {
		t.Error(diff)
	}
}

// TestSheetIsTheRankedBuild: a saved build looks the same in rank and sheet.
func TestSheetIsTheRankedBuild(t *testing.T) {
	dir := t.TempDir()
	saves := ""
	for i := 1; i <= 5; i++ {
		saves += fmt.Sprintf(" --save %d=%s/%d.toml", i, dir, i)
	}
	builds := items(t, member(t, json.RawMessage(answered(t, "rank --top 5 --format json"+shop+saves)), "builds"))
	for i, ranked := range builds {
		sheet := json.RawMessage(answered(t, fmt.Sprintf("sheet %s/%d.toml --format json", dir, i+1)+shop))
		build := member(t, sheet, "build")
		for key := range strings.FieldsSeq(strings.TrimPrefix(buildKeys, "rank ")) {
			want(t, fmt.Sprintf("build %d: %s", i+1, key), string(member(t, build, key)), string(member(t, ranked, key)))
		}
	}
}

// TestTopCutsOnly: fewer builds are the first of more.
func TestTopCutsOnly(t *testing.T) {
	all := ranked(t, "rank --top 0 --format json"+shop)
	for _, n := range []int{1, 7, 105, 106, 1000} {
		some := ranked(t, "rank --apart none --format json --top "+strconv.Itoa(n)+shop)
		if len(some.Builds) != min(n, len(all.Builds)) {
			t.Errorf("--top %d gives %d builds", n, len(some.Builds))
		}
		for i := range some.Builds {
			if !maps.Equal(some.Builds[i].Parts, all.Builds[i].Parts) {
				t.Errorf("--top %d: build %d differs", n, i+1)
			}
		}
	}
}
