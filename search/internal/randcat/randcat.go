// Package randcat makes random catalogs and briefs for tests: small, with ties,
// equal prices, missing data, single parts and limits on a boundary drawn on
// purpose. The same random source gives the same text.
package randcat

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
)

// Sizes bound the number of parts of each kind.
type Sizes struct {
	Motors, Controllers, Batteries, Pulleys, Belts, Mounts, Gears, Wheels int
}

// Small is a product of some thousand combinations.
func Small() Sizes {
	return Sizes{Motors: 4, Controllers: 3, Batteries: 3, Pulleys: 4, Belts: 4, Mounts: 2, Gears: 3, Wheels: 4}
}

// text writes tables of TOML.
type text struct {
	strings.Builder
	r       *rand.Rand
	chained bool   // there may be sprockets and chains
	profile string // of all that turns, and of all belts or chains; "": drawn for each
}

// one picks one of its arguments.
func one[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

// maybe writes "key = value" two times in three.
func (t *text) maybe(key string, value any) {
	if t.r.IntN(3) > 0 {
		t.line(key, value)
	}
}

// half writes it every second time.
func (t *text) half(key string, value any) {
	if t.r.IntN(2) == 0 {
		t.line(key, value)
	}
}

func (t *text) line(key string, value any) {
	switch v := value.(type) {
	case string:
		fmt.Fprintf(t, "%s = %q\n", key, v)
	default:
		fmt.Fprintf(t, "%s = %v\n", key, v)
	}
}

func (t *text) part(kind, id string) {
	fmt.Fprintf(t, "\n[[%s]]\nid = %q\n", kind, id)
	t.maybe("price", one(t.r, 0, 10, 10, 20, 25.5, 99.99, 250))
	t.maybe("mass_g", one(t.r, 0, 50, 120, 250, 600, 1500))
	if t.r.IntN(8) == 0 {
		t.line("sold_in", one(t.r, 1, 2, 4, 10))
	}
	if t.r.IntN(10) == 0 {
		t.line("owned", true)
	}
}

// shafts (mm), hubs and profiles of random parts.
func shafts() []float64  { return []float64{8, 10} }
func hubs() []string     { return []string{"five-bolt", "spline", "block"} }
func profiles() []string { return []string{"htd-5m", "htd-5m", "htd-5m", "gt-5", "t5"} }

// chains are the profiles of random sprockets and chains.
func chains() []string { return []string{"chain-06c", "chain-06c", "chain-05b"} }

// turning writes the head of a pulley or, in one of three catalogs now and then, of a
// sprocket: with few profiles, so that pairs come about.
func (t *text) turning(id, side string) (sprocket bool) {
	if sprocket = t.ofChain(); sprocket {
		t.part("sprocket", id)
		t.profiled(chains())
	} else {
		t.part("pulley", id)
		t.profiled(profiles())
	}
	t.line("side", side)
	return sprocket
}

// ofChain draws whether the next part is of a chain drive.
func (t *text) ofChain() bool {
	if t.profile != "" {
		return slices.Contains(chains(), t.profile)
	}
	return t.chained && t.r.IntN(2) == 0
}

// profiled writes the catalog's profile, else one of some.
func (t *text) profiled(of []string) { t.line("profile", cmp.Or(t.profile, one(t.r, of...))) }

// shaft draws the diameter of a shaft.
func (t *text) shaft() float64 {
	if t.profile != "" {
		return shafts()[0]
	}
	return one(t.r, shafts()...)
}

// Catalog is the text of a random catalog.
func Catalog(r *rand.Rand, s Sizes) string { return Fitting(r, s, "") }

// Fitting is the text of one in which all pulleys and belts, or all sprockets and
// chains, are of one profile, shafts and hubs alike, and of all drives are made of as many
// as there may be, so that many builds come about.
func Fitting(r *rand.Rand, s Sizes, profile string) string {
	t := &text{r: r, profile: profile}
	t.line("schema", 1)
	t.chained = r.IntN(3) == 0
	n := func(most int) int { return 1 + r.IntN(most) }
	t.motors(n(s.Motors))
	t.controllers(n(s.Controllers))
	t.cell()
	t.batteries(n(s.Batteries))
	some := func(most int) int {
		if profile != "" {
			return most
		}
		return r.IntN(most + 1)
	}
	t.motorPulleys(some(s.Pulleys))
	t.wheelPulleys(some(s.Pulleys))
	t.belts(some(s.Belts))
	t.mounts(some(s.Mounts))
	t.gears(1 + r.IntN(s.Gears))
	t.wheels(n(s.Wheels))
	return t.String()
}

func (t *text) cell() {
	t.part("cell", "cell-a")
	fmt.Fprint(t, "nominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 3\ncapacity_ah = 3\n")
	t.maybe("resistance_mohm", one(t.r, 12.0, 25))
	t.maybe("discharge_a", one(t.r, 10, 20))
	t.maybe("chemistry", one(t.r, "li-ion", "li-po", "lfp"))
}

func (t *text) motors(n int) {
	for i := range n {
		t.part("motor", fmt.Sprintf("m%d", i))
		t.line("kv", one(t.r, 75, 90, 120, 149.5, 190, 230))
		t.maybe("pole_pairs", one(t.r, 7, 7, 10, 14))
		t.maybe("resistance_mohm", one(t.r, 18.0, 35, 60, 110.5))
		t.maybe("no_load_current_a", one(t.r, 0, 0.6, 1.4))
		t.maybe("peak_current_a", one(t.r, 40, 60, 80))
		t.maybe("continuous_current_a", one(t.r, 20, 30, 50))
		if t.r.IntN(3) == 0 {
			t.line("max_power_w", one(t.r, 600, 1500, 3000))
		}
		t.maybe("max_volts", one(t.r, 37.8, 42, 50.4, 60))
		t.maybe("shaft_mm", t.shaft())
		t.maybe("shaft_key", one(t.r, "plain", "flat", "keyway"))
		t.maybe("can_length_mm", one(t.r, 55, 74, 84))
		t.maybe("can_diameter_mm", one(t.r, 50, 63, 80))
		t.maybe("sensored", one(t.r, true, true, false))
	}
}

func (t *text) controllers(n int) {
	for i := range n {
		t.part("controller", fmt.Sprintf("c%d", i))
		t.maybe("erpm_ceiling", one(t.r, 60000, 100000, 150000))
		t.maybe("max_volts", one(t.r, 42, 50.4, 60))
		t.maybe("motor_current_a", one(t.r, 40, 60, 100))
		t.maybe("battery_current_a", one(t.r, 15, 30, 50))
		t.maybe("continuous_current_a", one(t.r, 25, 40, 60))
		t.maybe("channels", one(t.r, 1, 2))
		t.maybe("max_duty", one(t.r, 0.9, 0.95, 1))
		t.maybe("efficiency", one(t.r, 0.95, 0.98))
		t.maybe("commutation", one(t.r, "foc", "six-step"))
	}
}

func (t *text) batteries(n int) {
	for i := range n {
		t.part("battery", fmt.Sprintf("b%d", i))
		t.line("series", one(t.r, 9, 10, 12))
		if t.r.IntN(4) > 0 {
			t.line("cell", "cell-a")
			t.maybe("parallel", one(t.r, 1, 2, 4))
		} else {
			series := 10.0
			fmt.Fprintf(t, "nominal_v = %v\nfull_v = %v\ncutoff_v = %v\n", 3.7*series, 4.2*series, 3.1*series)
			t.maybe("capacity_ah", one(t.r, 4.0, 7.5))
			t.maybe("resistance_mohm", one(t.r, 0, 60, 150))
			t.maybe("discharge_a", one(t.r, 20, 60))
			t.maybe("chemistry", one(t.r, "li-ion", "li-po", "lfp"))
		}
		if t.r.IntN(3) == 0 {
			t.line("wiring_mohm", one(t.r, 5, 12))
		}
	}
}

func (t *text) motorPulleys(n int) {
	for i := range n {
		if t.turning(fmt.Sprintf("p%d", i), "motor") {
			t.line("teeth", one(t.r, 9, 11, 12, 13))
		} else {
			t.line("teeth", one(t.r, 14, 15, 16, 18))
			t.maybe("width_mm", one(t.r, 12, 15, 20))
		}
		t.maybe("bore_mm", t.shaft())
		if t.r.IntN(2) == 0 {
			t.line("shaft_key", one(t.r, "plain", "flat", "keyway"))
		}
	}
}

func (t *text) wheelPulleys(n int) {
	for i := range n {
		if t.turning(fmt.Sprintf("w%d", i), "wheel") {
			t.line("teeth", one(t.r, 24, 28, 33, 40))
		} else {
			t.line("teeth", one(t.r, 36, 40, 48, 60))
			t.maybe("width_mm", one(t.r, 12, 15, 20))
		}
		t.hubs()
	}
}

func (t *text) belts(n int) {
	for i := range n {
		if t.ofChain() {
			t.part("chain", fmt.Sprintf("belt%d", i))
			t.profiled(chains())
			t.line("links", one(t.r, 34, 36, 38, 38, 40, 41, 44))
			t.maybe("breaking_n", one(t.r, 1200, 7900, 9000))
			continue
		}
		t.part("belt", fmt.Sprintf("belt%d", i))
		t.profiled(profiles())
		t.line("teeth", one(t.r, 60, 65, 70, 75, 80))
		t.maybe("width_mm", one(t.r, 12, 15, 15, 25))
	}
}

func (t *text) mounts(n int) {
	for i := range n {
		t.part("mount", fmt.Sprintf("mount%d", i))
		t.line("centre_min_mm", one(t.r, 60, 65, 70))
		t.line("centre_max_mm", one(t.r, 75, 85, 110))
		t.maybe("idler", one(t.r, true, false, false))
		t.half("angle_deg", one(t.r, -30, -5, 0, 12, 40))
	}
}

func (t *text) gears(n int) {
	for i := range n {
		t.part("gear_drive", fmt.Sprintf("g%d", i))
		if t.r.IntN(3) == 0 {
			fmt.Fprintf(t, "driver_teeth = %d\ndriven_teeth = %d\n", one(t.r, 13, 15), one(t.r, 39, 60))
		} else {
			t.line("ratio", one(t.r, 1, 2.5, 3, 3, 4.4))
		}
		t.maybe("efficiency", one(t.r, 0.94, 0.97))
		t.maybe("in_wheel", one(t.r, true, false))
		t.maybe("bore_mm", t.shaft())
		t.maybe("shaft_key", one(t.r, "plain", "keyway"))
		t.hubs()
		t.maybe("max_torque_nm", one(t.r, 3, 12, 25, 60))
		t.maybe("outside_mm", one(t.r, 50, 70, 90))
		t.half("centre_mm", one(t.r, 8, 40, 70))
		t.half("angle_deg", one(t.r, -40, 0, 5, 12, 90))
		if t.r.IntN(3) == 0 {
			t.WriteString("fits_motors = [\"m0\"]\n")
		}
		if t.r.IntN(3) == 0 {
			t.WriteString("fits_wheels = [\"t0\"]\n")
		}
	}
}

func (t *text) wheels(n int) {
	for i := range n {
		t.part("wheel", fmt.Sprintf("t%d", i))
		t.line("diameter_mm", one(t.r, 90, 97, 110, 150, 175))
		t.maybe("tyre", one(t.r, "urethane", "rubber", "pneumatic"))
		t.hubs()
		if t.r.IntN(5) == 0 {
			t.line("rolling_resistance", one(t.r, 0, 0.02))
		}
		if t.r.IntN(5) == 0 {
			t.line("rolling_radius_ratio", one(t.r, 0.95, 1))
		}
	}
}

func (t *text) hubs() {
	names := hubs()
	if t.profile != "" {
		t.line("hub", names[0])
		return
	}
	switch t.r.IntN(4) {
	case 0:
	case 1:
		fmt.Fprintf(t, "hub = [%q, %q]\n", names[0], one(t.r, names[1:]...))
	default:
		t.line("hub", one(t.r, names...))
	}
}

// Brief is the text of a random brief for such a catalog.
func Brief(r *rand.Rand) string {
	t := &text{r: r}
	t.line("schema", 1)
	fmt.Fprintf(t, "[rider]\nmass_kg = %d\n", one(r, 60, 80, 95))
	if r.IntN(4) == 0 {
		fmt.Fprintf(t, "posture = %q\n", one(r, "forward", "tuck"))
	}
	fmt.Fprintf(t, "[board]\nmotors = %s\n", one(r, "[1]", "[2]", "[1, 2]", "[2, 4]", "[4, 1, 2]"))
	rarely := func(key string, value any) {
		if r.IntN(4) == 0 {
			t.line(key, value)
		}
	}
	rarely("hanger_mm", one(r, 110, 148, 168))
	rarely("rear_share", one(r, 0.4, 0.7))
	rarely("lean", one(r, 0, 0.1, 0.35))
	rarely("axle_min", one(r, 0, 0.2))
	rarely("wheelbase_mm", one(r, 650, 1000))
	rarely("centre_height_mm", one(r, 600, 1200))
	rarely("sensored", one(r, true, false, false))
	t.WriteString("[ground]\n")
	t.line("surface", one(r, "asphalt", "rough", "gravel", "grass"))
	rarely("altitude_m", 1200)
	rarely("temperature_c", one(r, -5, 3, 30))
	if r.IntN(4) == 0 {
		t.line("grip", one(r, 0.3, 0.15))
	} else {
		rarely("wet", true)
	}
	t.WriteString("[target]\n")
	t.maybe("top_speed_kmh", one(r, 15, 25, 32, 40))
	rarely("top_speed_max_kmh", one(r, 45, 60))
	if r.IntN(3) > 0 {
		t.line("climb_grade_pct", one(r, 0, 5, 12, 20))
		rarely("climb_length_m", one(r, 60, 300, 2000))
	}
	rarely("stop_m", one(r, 8, 20, 40))
	rarely("stop_from_kmh", one(r, 15, 35))
	rarely("climb_speed_kmh", one(r, 8, 20))
	rarely("hill_torque_nm", one(r, 10, 25))
	if r.IntN(2) == 0 {
		t.line("launch_speed_kmh", one(r, 10, 20))
		t.maybe("launch_s", one(r, 2, 4, 8))
	}
	t.maybe("range_km", one(r, 3, 6, 12))
	rarely("cruise_kmh", one(r, 18, 30))
	switch r.IntN(4) {
	case 0:
		t.line("charge", "full")
	case 1:
		t.line("charge", 3.5)
	}
	t.WriteString("[limit]\n")
	rarely("erpm_ceiling", one(r, 60000, 90000))
	if rule := one(r, "at-speed", "at-top"); rule == "at-top" || strings.Contains(t.String(), "\ntop_speed_kmh") {
		rarely("erpm_rule", rule)
	}
	rarely("erpm_headroom_pct", one(r, 0, 10))
	rarely("price", one(r, 400, 700, 1000))
	rarely("mass_kg", one(r, 8, 10, 14))
	rarely("mesh_teeth", one(r, 4, 6))
	rarely("ground_clearance_mm", one(r, 0, 8.5, 12, 20))
	rarely("heat_factor", 1.5)
	rarely("winding_max_c", one(r, 60, 150))
	if r.IntN(3) == 0 {
		fmt.Fprintf(t, "demote = [%q, %q]\n", one(r, "bore", "hub", "belt", "erpm", "can"), one(r, "heat", "climb", "price", "range", "mesh"))
	}
	t.WriteString("[ride]\n")
	rarely("stops_per_km", one(r, 0, 6))
	rarely("ascent_m_per_km", one(r, 10, 40))
	rarely("wind_kmh", one(r, 8, 30))
	rarely("regen_pct", one(r, 0, 70))
	if r.IntN(3) == 0 {
		fmt.Fprintf(t, "[weights]\nspeed = %v\nmass = %v\nmesh = 0\n", one(r, 0, 1, 5), one(r, 0, 0.5))
	}
	return t.String()
}
