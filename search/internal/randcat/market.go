package randcat

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Market is how many parts a synthetic market has. Drives are MotorPulleys ×
// WheelPulleys × Mounts + Gears.
type Market struct {
	Motors, Controllers, Batteries, MotorPulleys, WheelPulleys, Belts, Mounts, Gears, Wheels int

	Blank int // every so-manieth motor gives no resistance; 0: all do
}

// Combinations is the product with one number of motors.
func (m Market) Combinations() float64 {
	drives := m.MotorPulleys*m.WheelPulleys*m.Mounts + m.Gears
	return float64(m.Motors) * float64(m.Controllers) * float64(m.Batteries) * float64(drives) * float64(m.Wheels)
}

// PlainStreetBrief is a street board's brief with the targets and limits that
// windows and sums settle: speed, climb, headroom, range and price.
const PlainStreetBrief = `schema = 1
[rider]
mass_kg = 80
[board]
motors = [2]
hanger_mm = 180
[target]
top_speed_kmh = 38
climb_grade_pct = 15
range_km = 18
[limit]
price = 1400
`

// StreetBrief is a brief with all of a street board's targets set, including those
// for which builds must be tested one by one.
const StreetBrief = `schema = 1
[rider]
mass_kg = 80
[board]
motors = [2]
hanger_mm = 180
[target]
top_speed_kmh = 38
top_speed_max_kmh = 55
climb_grade_pct = 15
launch_speed_kmh = 25
launch_s = 4
range_km = 18
[limit]
price = 1400
mass_kg = 13
`

// RideBrief is a brief with all that a ride asks for besides: a hill with a length
// and a stop.
const RideBrief = `schema = 1
[rider]
mass_kg = 80
[board]
motors = [2]
hanger_mm = 180
[target]
top_speed_kmh = 38
top_speed_max_kmh = 55
climb_grade_pct = 15
climb_length_m = 500
stop_m = 30
launch_speed_kmh = 25
launch_s = 4
range_km = 18
[limit]
price = 1400
mass_kg = 13
`

// EasyBrief is a brief that most builds do that fit together.
const EasyBrief = `schema = 1
[board]
motors = [2]
[target]
top_speed_kmh = 10
climb_grade_pct = 3
range_km = 2
`

// Catalog is the text of a market: every key that the street brief's checks
// read is given, sizes and prices are spread as on sale, and about one pulley
// in two fits a motor.
func (m Market) Catalog(r *rand.Rand) string {
	t := &text{r: r}
	t.line("schema", 1)
	price := func(low, high float64) { t.line("price", math.Round(100*(low+r.Float64()*(high-low)))/100) }
	grams := func(low, high float64) { t.line("mass_g", math.Round(low+r.Float64()*(high-low))) }
	part := func(kind string, i int) { fmt.Fprintf(t, "\n[[%s]]\nid = \"%s-%05d\"\n", kind, kind, i) }
	for i := range m.Motors {
		part("motor", i)
		kv := 60 + 5*float64(r.IntN(40))
		length := one(r, 54.0, 65, 74, 84)
		size := length / 74
		t.line("kv", kv)
		t.line("pole_pairs", one(r, 7, 7, 7, 10))
		if m.Blank == 0 || i%m.Blank > 0 {
			t.line("resistance_mohm", math.Round(1e4*1.2e6/(kv*kv)/size)/1e4)
		}
		t.line("no_load_current_a", math.Round(100*kv/150)/100)
		t.line("peak_current_a", math.Round(0.45*kv*size))
		t.line("continuous_current_a", math.Round(0.25*kv*size))
		t.line("max_power_w", math.Round(2200*size))
		t.line("max_volts", one(r, 42, 50.4, 60))
		t.line("shaft_mm", one(r, 8, 10))
		t.line("shaft_key", one(r, "flat", "keyway"))
		t.line("can_length_mm", length)
		t.line("can_diameter_mm", map[float64]int{54: 54, 65: 63, 74: 63, 84: 70}[length])
		t.line("sensored", true)
		price(60, 200)
		grams(450, 950)
	}
	for i := range m.Controllers {
		part("controller", i)
		t.line("erpm_ceiling", one(r, 60000, 100000, 120000, 150000))
		t.line("max_volts", one(r, 42, 50.4, 60))
		t.line("motor_current_a", float64(40+5*r.IntN(13)))
		t.line("battery_current_a", float64(20+5*r.IntN(9)))
		t.line("continuous_current_a", float64(30+5*r.IntN(9)))
		t.line("channels", one(r, 1, 2, 2))
		price(50, 320)
		grams(80, 350)
	}
	for i := range 8 {
		part("cell", i)
		fmt.Fprintf(t, "nominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 3\ncapacity_ah = %v\nresistance_mohm = %d\ndischarge_a = %d\ncharge_a = 4\n",
			2.5+0.25*float64(i), 14+2*i, 25-2*i)
		price(3, 8)
		grams(45, 72)
	}
	for i := range m.Batteries {
		part("battery", i)
		fmt.Fprintf(t, "series = %d\nparallel = %d\ncell = \"cell-%05d\"\nwiring_mohm = 5\n", 8+r.IntN(7), 2+r.IntN(5), r.IntN(8))
		price(150, 700)
	}
	hubs := []string{"five-bolt", "spline", "block", "six-bolt"}
	m.drives(t, part, price, grams, hubs)
	for i := range m.Wheels {
		part("wheel", i)
		t.line("diameter_mm", float64(80+5*r.IntN(30)))
		t.line("hub", one(r, hubs...))
		t.line("tyre", one(r, "urethane", "urethane", "rubber", "pneumatic"))
		price(30, 160)
		grams(180, 900)
	}
	return t.String()
}

// drives writes the pulleys, belts, mounts and gear drives.
func (m Market) drives(t *text, part func(string, int), price, grams func(low, high float64), hubs []string) {
	r := t.r
	profiles := []string{"htd-5m", "gt-3"}
	for i := range m.MotorPulleys + m.WheelPulleys {
		part("pulley", i)
		t.line("profile", profiles[i%2])
		t.line("width_mm", one(r, 12, 15))
		if i < m.MotorPulleys {
			t.line("side", "motor")
			t.line("teeth", 12+r.IntN(9))
			t.line("bore_mm", one(r, 8, 10))
			t.line("shaft_key", one(r, "flat", "keyway", "plain"))
		} else {
			t.line("side", "wheel")
			t.line("teeth", 32+2*r.IntN(21))
			t.line("hub", one(r, hubs...))
		}
		price(8, 40)
		grams(20, 160)
	}
	for i := range m.Belts {
		part("belt", i)
		t.line("profile", profiles[i%2])
		t.line("teeth", one(r, 48, 54, 60, 65, 70, 75, 80, 90, 100, 110, 120))
		t.line("width_mm", one(r, 9, 12, 15))
		price(6, 20)
		grams(10, 40)
	}
	for i := range m.Mounts {
		part("mount", i)
		low := float64(50 + 5*r.IntN(6))
		t.line("centre_min_mm", low)
		t.line("centre_max_mm", low+15+5*float64(r.IntN(5)))
		t.line("angle_deg", 5*(i%7))
		price(20, 80)
		grams(80, 200)
	}
	for i := range m.Gears {
		part("gear_drive", i)
		t.line("ratio", math.Round(100*(2+4*r.Float64()))/100)
		t.line("bore_mm", one(r, 8, 10))
		t.line("hub", one(r, hubs...))
		t.line("max_torque_nm", one(r, 25, 40, 60))
		t.line("outside_mm", one(r, 60, 75, 90))
		t.line("centre_mm", 50+5*(i%8))
		t.line("angle_deg", 5*(i%7))
		price(80, 220)
		grams(250, 700)
	}
}
