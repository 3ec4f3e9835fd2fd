package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/constraints"
)

// No wish is echoed and ignored: to give every key of a brief another value
// changes an answer. The answer is named, so that what only repeats the wish does
// not count.

// wish is a value of a key in place of another, and what it must change.
type wish struct {
	under    string // settings that stand beside both, with blanks between
	from, to string // from "": the key is not given
	changes  string // the path of the answer, without numbers of list items
}

// briefWishes has a line for every key of a brief.
var briefWishes = map[string]wish{
	"rider.mass_kg":      {"", "80", "60", "builds.figures.climb_need_n"},
	"rider.posture":      {"", "sideways", "forward", "builds.figures.top_speed_kmh"},
	"rider.drag_area_m2": {"", "0.5", "0.4", "builds.figures.top_speed_kmh"},

	"board.mass_kg":          {"", "5", "7", "builds.figures.mass_kg"},
	"board.motors":           {"", "2", "1,2", "combinations"},
	"board.rear_share":       {"", "0.6", "0.85", "builds.figures.climb_limit_pct"},
	"board.lean":             {"", "0.2", "0", "builds.figures.climb_limit_pct"},
	"board.axle_min":         {"", "0.1", "0.3", "builds.figures.climb_limit_pct"},
	"board.wheelbase_mm":     {"", "850", "500", "builds.figures.climb_limit_pct"},
	"board.centre_height_mm": {"", "950", "1400", "builds.figures.climb_limit_pct"},
	"board.hanger_mm":        {"", "", "142", "rejected.hanger.count"},
	"board.sensored":         {"", "", "true", "builds.checks.sensor.verdict"},

	"ground.surface":            {"", "asphalt", "gravel", "builds.figures.consumption_wh_per_km"},
	"ground.rolling_resistance": {"", "", "0.03", "builds.figures.consumption_wh_per_km"},
	"ground.rolling_fitted":     {"ground.rolling_resistance=0.02", "", "true", "assumptions"},
	"rider.drag_fitted":         {"rider.drag_area_m2=0.5", "", "true", "assumptions"},
	"ground.air_density_kg_m3":  {"", "1.225", "1.1", "builds.figures.top_speed_kmh"},
	"ground.altitude_m":         {"", "", "900", "builds.figures.top_speed_kmh"},
	"ground.temperature_c":      {"", "", "30", "builds.figures.top_speed_kmh"},
	"ground.grip":               {"", "0.8", "0.3", "builds.figures.climb_limit_pct"},
	"ground.wet":                {"", "", "true", "builds.figures.climb_limit_pct"},

	"target.top_speed_kmh":     {"", "30", "33", "rejected.top-speed.count"},
	"target.top_speed_max_kmh": {"", "", "36", "rejected.top-speed-max.count"},
	"target.climb_grade_pct":   {"", "12", "25", "builds.figures.climb_margin_pct"},
	"target.climb_speed_kmh":   {"", "12", "24", "builds.figures.climb_margin_pct"},
	"target.climb_length_m":    {"", "", "300", "builds.figures.winding_end_c"},
	"target.stop_m":            {"", "40", "8", "rejected.stop.count"},
	"target.stop_from_kmh":     {"", "25", "30", "builds.figures.stop_full_m"},
	"target.hill_torque_nm":    {"", "12", "20", "rejected.hill-torque.count"},
	"target.launch_speed_kmh":  {"", "15", "20", "builds.figures.launch_s"},
	"target.launch_s":          {"", "4", "1", "rejected.launch.count"},
	"target.range_km":          {"", "10", "60", "rejected.range.count"},
	"target.cruise_kmh":        {"", "25", "20", "builds.figures.range_km"},
	"target.charge":            {"", "nominal", "full", "builds.figures.free_speed_kmh"},

	"limit.erpm_ceiling":        {"", "", "60000", "rejected.erpm.count"},
	"limit.erpm_headroom_pct":   {"", "5", "40", "rejected.erpm.count"},
	"limit.erpm_rule":           {"", "free-spin", "at-top", "builds.checks.erpm.value"},
	"limit.price":               {"", "1200", "950", "rejected.price.count"},
	"limit.mass_kg":             {"", "20", "11", "rejected.mass.count"},
	"limit.mesh_teeth":          {"", "5", "7", "rejected.mesh.count"},
	"limit.ground_clearance_mm": {"", "12", "15", "rejected.clearance.count"},
	"limit.heat_factor":         {"", "1", "0.4", "rejected.heat.count"},
	"limit.winding_c":           {"", "60", "150", "builds.figures.top_speed_kmh"},
	"limit.winding_max_c":       {"target.climb_length_m=300", "120", "40", "rejected.heat.count"},
	"limit.usable_pct":          {"", "90", "60", "builds.figures.range_km"},
	"limit.reserve_pct":         {"ride.route=demo:harbour", "10", "80", "rejected.route.count"},
	"limit.ride_factor":         {"", "1", "1.5", "builds.figures.range_km"},
	"limit.derate":              {"keep.motor=barn-find", "0.85", "0.8", "builds.figures.top_speed_kmh"},
	"limit.demote":              {"limit.price=950", "", "price", "feasible"},

	"ride.stops_per_km":    {"", "2", "8", "builds.figures.range_km"},
	"ride.ascent_m_per_km": {"", "0", "20", "builds.figures.range_km"},
	"ride.wind_kmh":        {"", "0", "15", "builds.figures.range_km"},
	"ride.regen_pct":       {"", "40", "0", "builds.figures.range_km"},

	"ride.start_pct": {"ride.route=demo:harbour", "95", "60", "builds.figures.route_left_pct"},
	"ride.route":     {"", "", "demo:harbour", "builds.figures.route_km"},

	"weights.speed":    {"", "3", "5", "builds.score"},
	"weights.climb":    {"", "3", "5", "builds.score"},
	"weights.headroom": {"", "2", "5", "builds.score"},
	"weights.range":    {"", "2", "5", "builds.score"},
	"weights.launch":   {"", "1", "5", "builds.score"},
	"weights.cool":     {"", "2", "5", "builds.score"},
	"weights.price":    {"", "2", "5", "builds.score"},
	"weights.mass":     {"", "1", "5", "builds.score"},
	"weights.mesh":     {"", "1", "5", "builds.score"},

	"tolerance.kv_pct":              {"", "5", "9", "builds.tolerance.figures.top_speed_kmh.p95"},
	"tolerance.mass_kg":             {"", "5", "9", "builds.tolerance.figures.climb_margin_pct.p95"},
	"tolerance.rolling_pct":         {"", "30", "60", "builds.tolerance.figures.range_km.p95"},
	"tolerance.drag_pct":            {"", "15", "30", "builds.tolerance.figures.range_km.p95"},
	"tolerance.pack_resistance_pct": {"", "20", "40", "builds.tolerance.figures.top_speed_kmh.p95"},
	"tolerance.efficiency_points":   {"", "2", "6", "builds.tolerance.figures.climb_margin_pct.p5"},
	"tolerance.wheel_pct":           {"", "1.5", "3", "builds.tolerance.figures.top_speed_kmh.p95"},
	"tolerance.stance_points":       {"ground.grip=0.25", "5", "20", "builds.tolerance.figures.climb_margin_pct.p5"},
	"tolerance.grip_pct":            {"ground.grip=0.25", "15", "40", "builds.tolerance.figures.climb_margin_pct.p95"},
	"tolerance.wind_kmh":            {"", "5", "20", "builds.tolerance.figures.range_km.p5"},

	"keep.battery":       {"", "", "brick-10s3p", "combinations"},
	"keep.controller":    {"", "", "duet-60", "combinations"},
	"keep.motor":         {"", "", "pond-150", "combinations"},
	"keep.gear_drive":    {"", "", "spur-2.9", "combinations"},
	"keep.motor_pulley":  {"", "", "cog-15", "combinations"},
	"keep.wheel_pulley":  {"", "", "ring-36", "combinations"},
	"keep.mount":         {"", "", "arm", "combinations"},
	"keep.belt":          {"", "", "loop-65", "rejected.belt.count"},
	"keep.wheel":         {"", "", "disc-97", "combinations"},
	"avoid.battery":      {"", "", "brick-10s3p", "combinations"},
	"avoid.controller":   {"", "", "duet-60", "combinations"},
	"avoid.motor":        {"", "", "pond-150", "combinations"},
	"avoid.gear_drive":   {"", "", "spur-2.9", "combinations"},
	"avoid.motor_pulley": {"", "", "cog-15", "combinations"},
	"avoid.wheel_pulley": {"", "", "ring-36", "combinations"},
	"avoid.mount":        {"", "", "arm", "combinations"},
	"avoid.belt":         {"", "", "loop-65", "builds.parts.belt"},
	"avoid.wheel":        {"", "", "disc-97", "combinations"},
}

// bareBarn is the shop with a motor of which neither resistance nor mass and can
// are known: its top speed is estimated.
func bareBarn(t *testing.T) string {
	t.Helper()
	shop, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	_, found, _ := strings.Cut(string(shop), "barn-find")
	barn := found[:strings.Index(found, "[[")]
	bare := regexp.MustCompile(`(?m)^(mass_g|can_diameter_mm) = .*\n`).ReplaceAllString(barn, "")
	return strings.Replace(string(shop), barn, bare, 1)
}

// second is a mount and a gear drive besides the shop's, to choose from.
const second = `
[[mount]]
id = "short"
centre_min_mm = 60
centre_max_mm = 90
[[gear_drive]]
id = "spur-3.5"
ratio = 3.5
bore_mm = 8
hub = "spoke"
outside_mm = 60
`

func TestEveryKeyOfABriefIsHeard(t *testing.T) {
	parts := bareBarn(t) + second
	t.Chdir(t.TempDir())
	write(t, "parts.toml", parts)
	write(t, "all.toml", asksAll)
	asked := map[string]map[string][]string{}
	ask := func(section, settings string) map[string][]string {
		line := "rank --catalog parts.toml --brief all.toml --apart none --format json"
		if section == "tolerance" {
			line += " --tolerance --draws 20"
		}
		for _, s := range strings.Fields(settings) {
			line += " --set " + s
		}
		if asked[line] == nil {
			asked[line] = answersOf(t, line)
		}
		return asked[line]
	}
	known := map[string]bool{}
	for _, k := range constraints.BriefKeys() {
		name := k.Path()
		known[name] = true
		w, ok := briefWishes[name]
		if !ok {
			t.Errorf("%s has no line in briefWishes that says which answer it changes", name)
			continue
		}
		before := w.under
		if w.from != "" {
			before += " " + name + "=" + w.from
		}
		holdHeard(t, name, w, ask(k.Section, before), ask(k.Section, w.under+" "+name+"="+w.to))
	}
	for name := range briefWishes {
		if !known[name] {
			t.Errorf("briefWishes has %s, which is no key of a brief", name)
		}
	}
}

// holdHeard insists that what a wish must change is there and changes.
func holdHeard(t *testing.T, name string, w wish, before, after map[string][]string) {
	t.Helper()
	a, b := at(before, w.changes), at(after, w.changes)
	for _, answer := range []map[string][]string{before, after} {
		if answer["stderr"] != nil && !strings.HasPrefix(w.changes, "code") {
			t.Errorf("%s: %s", name, answer["stderr"])
			return
		}
	}
	if len(a)+len(b) == 0 {
		t.Errorf("%s: no answer has %s", name, w.changes)
	} else if slices.Equal(a, b) {
		t.Errorf("%s is ignored: %s in place of %q leaves %s at %.200v", name, w.to, w.from, w.changes, a)
	}
}

// at is what answers have at paths: several have blanks between, and * stands for
// any names.
func at(answers map[string][]string, paths string) []string {
	var out []string
	for _, pattern := range strings.Fields(paths) {
		for _, p := range slices.Sorted(maps.Keys(answers)) {
			if ok, err := path.Match(pattern, strings.ReplaceAll(p, " ", "-")); ok && err == nil {
				out = append(out, answers[p]...)
			}
		}
	}
	return out
}

// answersOf is the document that a command line gives: of every path the values
// in order. A path has no numbers of list items; where these have a name, it has
// that.
func answersOf(t *testing.T, line string) map[string][]string {
	t.Helper()
	r := answerTo(t.Context(), line)
	out := map[string][]string{"code": {fmt.Sprint(r.code)}}
	if r.code == outcome.ExitContent {
		out["stderr"] = []string{r.stderr}
		return out
	}
	if r.code != outcome.ExitAnswered && r.code != outcome.ExitInfeasible {
		t.Fatalf("gearsearch %s: exit code %d, %s", line, r.code, r.stderr)
	}
	maps.Copy(out, flat(t, line, r.stdout))
	return out
}

// flat is a JSON document as answersOf has it.
func flat(t *testing.T, line, text string) map[string][]string {
	t.Helper()
	var value any
	if err := json.Unmarshal([]byte(text), &value); err != nil {
		t.Fatalf("gearsearch %s: %v", line, err)
	}
	out := map[string][]string{}
	spread(out, "", value)
	return out
}

// spread puts the values below a path where answersOf has them.
func spread(out map[string][]string, to string, value any) {
	below := func(name string) string { return strings.TrimPrefix(to+"."+name, ".") }
	switch v := value.(type) {
	case map[string]any:
		for key, x := range v {
			spread(out, below(key), x)
		}
	case []any:
		for _, x := range v {
			name := to
			if item, ok := x.(map[string]any); ok {
				for _, key := range []string{"slot", "check", "figure", "need", "name"} {
					word, ok := item[key].(string)
					if ok && (key != "name" || item["verdict"] != nil) {
						name = below(word)
						break
					}
				}
			}
			spread(out, name, x)
		}
	default:
		out[to] = append(out[to], fmt.Sprint(v))
	}
}
