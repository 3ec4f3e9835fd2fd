package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// The keys of the documents, in order: what scripts of users hold on to.
const (
	headKeys      = "schema complete brief catalog"
	swapKeys      = headKeys + " change in_turn combinations feasible rejected base never_fit swaps broken"
	swapItemKeys  = buildKeys + " changes price_to_pay buys leaves breaks adds cures never_fits changed"
	changeKeys    = "score top_speed_kmh climb_margin_pct erpm_margin_pct range_km heat_margin_pct mass_kg"
	varyDocKeys   = headKeys + " assumptions tells_more base rows"
	varyItemKeys  = "change build cured added"
	varyBuildKeys = buildKeys + " erpm_nominal thrust_n_per_a"
	lineKeys      = "slot id pieces price"
	routeKeys     = "schema route legs length_m climb_m descent_m start_m end_m lowest highest steepest_up steepest_down stops slowest_kmh fastest_kmh cruise_m surfaces"
	shortlistKeys = headKeys + " slot combinations feasible parts"
	candidateKeys = "id name combinations feasible unknown rejected stopped_by unchosen score reaches spans build"
	spanKeys      = "reduction_min reduction_max wheel_mm_min wheel_mm_max pack_v_min pack_v_max"
	relaxKeys     = headKeys + " builds_wanted feasible pairs helpless hopeless grip openings missing wishes"
	openingKeys   = "cost concessions feasible build"
	missingKeys   = "slot part like difference facts price mass_g assumed build"
	givenKeys     = "key from to unit"
	idealKeys     = headKeys + " bounds frames"
	frameKeys     = "motors feasible kv reduction wheel_mm score gap bases bases_left catalog_feasible catalog moves nearest build"
	moveKeys      = "quantity from to gain feasible"
	chartKeys     = headKeys + " chart held chosen cells"
	cellKeys      = "profile motor_teeth wheel_teeth reduction top_speed_kmh verdict fails score parts"
	varyKeys      = "draws share checks figures"
)

func document(t *testing.T, line string) json.RawMessage {
	t.Helper()
	return json.RawMessage(answered(t, line+" --format json"+shop))
}

func TestShapesOfAnswers(t *testing.T) {
	d := document(t, "swap testdata/shop/build.toml --change wheel,motor --all --price-limit 900")
	want(t, "swap", keys(t, d), swapKeys)
	want(t, "base", keys(t, member(t, d, "base")), buildKeys)
	for _, list := range []string{"swaps", "broken"} {
		for _, x := range items(t, member(t, d, list)) {
			want(t, list, keys(t, x), swapItemKeys)
			want(t, "changes", keys(t, member(t, x, "changes")), changeKeys)
			want(t, "buys", keys(t, items(t, member(t, x, "buys"))[0]), lineKeys)
		}
	}
	want(t, "broken unasked", string(member(t, document(t, "swap testdata/shop/build.toml --change wheel"), "broken")), "null")

	d = document(t, "vary testdata/shop/build.toml --kv 180 --series 12 --teeth 16:36 --wheel-size 110mm --count 1 --charge full,3.4 --use wheel=disc-110 --top-speed 34km/h --erpm-ceiling 47000")
	want(t, "vary", keys(t, d), varyDocKeys)
	want(t, "base", keys(t, member(t, d, "base")), varyBuildKeys)
	changes := []string{`{"kv": 180}`, `{"series": 12}`, `{"teeth": "16:36"}`, `{"wheel_mm": 110}`, `{"motors": 1}`, `{"charge": "full"}`, `{"charge": 3.4}`, `{"wheel": "disc-110"}`}
	for i, x := range items(t, member(t, d, "rows")) {
		want(t, "row", keys(t, x), varyItemKeys)
		want(t, "change", string(member(t, x, "change")), changes[i])
		want(t, "build", keys(t, member(t, x, "build")), varyBuildKeys)
	}
	ratio := items(t, member(t, document(t, "vary testdata/shop/build.toml --ratio 2.5"), "rows"))[0]
	want(t, "change of a ratio", string(member(t, ratio, "change")), `{"ratio": 2.5}`)
	first := items(t, member(t, d, "rows"))[0]
	want(t, "cured", keys(t, items(t, member(t, first, "cured"))[0]), "name verdict value limit unit margin_pct")
	want(t, "added", keys(t, items(t, member(t, first, "added"))[0]), "name verdict value limit unit margin_pct")

	way := json.RawMessage(answered(t, "route demo:harbour --format json"))
	want(t, "route", keys(t, way), routeKeys)
	want(t, "lowest", keys(t, member(t, way, "lowest")), "at_m height_m")
	want(t, "steepest_up", keys(t, member(t, way, "steepest_up")), "from_m length_m grade_pct")
	want(t, "surface", keys(t, items(t, member(t, way, "surfaces"))[0]), "surface length_m")

	d = document(t, "shortlist motor")
	want(t, "shortlist", keys(t, d), shortlistKeys)
	for _, x := range items(t, member(t, d, "parts")) {
		want(t, "part", keys(t, x), candidateKeys)
		want(t, "reaches", keys(t, member(t, x, "reaches")), "top_speed_kmh climb_margin_pct range_km price")
		want(t, "spans", keys(t, member(t, x, "spans")), spanKeys)
		want(t, "build", keys(t, member(t, x, "build")), buildKeys)
	}

	d = document(t, "relax --top-speed 90km/h --price-limit 850 --strict")
	want(t, "relax", keys(t, d), relaxKeys)
	opening := items(t, member(t, d, "openings"))[0]
	want(t, "opening", keys(t, opening), openingKeys)
	for _, g := range items(t, member(t, opening, "concessions")) {
		want(t, "concession", keys(t, g), givenKeys)
	}

	want(t, "nothing is missing", string(member(t, document(t, "relax"), "missing")), "null")
	for _, m := range items(t, member(t, document(t, "relax --top-speed 63km/h"), "missing")) {
		want(t, "missing", keys(t, m), missingKeys)
		want(t, "fact", keys(t, items(t, member(t, m, "facts"))[0]), "key value changed")
		want(t, "build", keys(t, member(t, m, "build")), buildKeys)
	}

	d = document(t, "ideal")
	want(t, "ideal", keys(t, d), idealKeys)
	for _, f := range items(t, member(t, d, "frames")) {
		want(t, "frame", keys(t, f), frameKeys)
		want(t, "nearest", keys(t, member(t, f, "nearest")), "motor drives wheel")
		for _, m := range items(t, member(t, f, "moves")) {
			want(t, "move", keys(t, m), moveKeys)
		}
	}

	d = document(t, "rank --chart teeth")
	want(t, "chart", keys(t, d), chartKeys)
	for _, c := range items(t, member(t, d, "cells")) {
		want(t, "cell", keys(t, c), cellKeys)
	}
}

func TestShapesOfRankings(t *testing.T) {
	summary := strings.TrimSuffix(rankKeys, " builds")
	d := document(t, "rank --top 2 --front price,top_speed_kmh --stability --tolerance --draws 20")
	want(t, "rank", keys(t, d), summary+" front front_size stability tolerance builds")
	want(t, "stability", keys(t, member(t, d, "stability")), "draws ranges wins")
	want(t, "range", keys(t, items(t, member(t, member(t, d, "stability"), "ranges"))[0]), "criterion weight low high below above")
	want(t, "tolerance", keys(t, member(t, d, "tolerance")), "draws by")
	for _, b := range items(t, member(t, d, "builds")) {
		want(t, "build", keys(t, b), designKeys+" tolerance")
		varied := member(t, b, "tolerance")
		want(t, "varied", keys(t, varied), varyKeys)
		want(t, "spread", keys(t, member(t, member(t, varied, "figures"), "range_km")), "p5 p50 p95 known")
	}
	sheet := document(t, "sheet testdata/shop/build.toml --tolerance --draws 20")
	want(t, "sheet", keys(t, member(t, sheet, "tolerance")), varyKeys)

	header, _, _ := strings.Cut(answered(t, "rank --top 1 --stability --tolerance --draws 20 --format csv"+shop), "\n")
	more := " stands_for win_share share"
	for _, name := range []string{"top_speed_kmh", "climb_margin_pct", "range_km"} {
		more += fmt.Sprintf(" %[1]s_p5 %[1]s_p50 %[1]s_p95", name)
	}
	want(t, "CSV", strings.ReplaceAll(header, ",", " "), csvKeys+more)
}
