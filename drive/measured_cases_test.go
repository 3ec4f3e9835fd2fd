package drive_test

import (
	"math"

	"gearsearch/drive"
)

// What was measured, with its source beside it, and what is assumed because the
// source does not give it. No constant of the program was chosen to fit a case but
// where the case says so. Steady cases are ridden without stops, wind and ascent,
// which a brief has by default or may ask for.

const (
	dynamometer = "public repository Capo01/dynamometer, 2019 (Creative Commons): an outrunner of 50 × 65 mm and 270 rpm/V behind a field-oriented controller"
	archive     = "a public forum archive, 2017"
)

var measurements = []measurement{
	{
		name: "torque for each ampere of phase amplitude", unit: "N·m/A", decimals: 5,
		source:  dynamometer,
		rows:    []row{{"from 20 to 40 A", 0.02888, nil}},
		scatter: 0.03, why: "the controller's own phase current and a load cell, of which nothing is told: assumed",
		assumed: []assumption{
			{"kv", "rpm/V", 270, 245, 300, "told by the maker; data sheets keep the constant to ± 10 % (common practice, no published source)"},
		},
		below: 11, above: 11,
		compute: func(_, a []float64) float64 {
			// The slope: what the motor gives at 40 A more than at 20 A, so that no load
			// does not count.
			return (bench(a[0], 0.078, 0, 1, 20, 40).Thrust(0) - bench(a[0], 0.078, 0, 1, 20, 20).Thrust(0)) / 20
		},
	},
	{
		name: "electrical watts", unit: "W", decimals: 1,
		source: dynamometer,
		rows: []row{
			{"999 rpm, 0.55 N·m", 83.7, []float64{999, 0.55}},
			{"1998 rpm, 0.38 N·m", 96.5, []float64{1998, 0.38}},
			{"1997 rpm, 0.73 N·m", 195.4, []float64{1997, 0.73}},
			{"1996 rpm, 1.27 N·m", 371.4, []float64{1996, 1.27}},
			{"2997 rpm, 0.37 N·m", 137.7, []float64{2997, 0.37}},
			{"3001 rpm, 0.73 N·m", 275.5, []float64{3001, 0.73}},
			{"3598 rpm, 0.54 N·m", 242.8, []float64{3598, 0.54}},
			{"3599 rpm, 0.89 N·m", 409.2, []float64{3599, 0.89}},
			{"3598 rpm, 1.25 N·m", 598.4, []float64{3598, 1.25}},
		},
		scatter: 0.02, why: "torques are told to 0.01 N·m, at 0.37 N·m ± 1.4 %, and the watts are the product of two readings",
		assumed: []assumption{
			{"kv", "rpm/V", 270, 245, 300, "told by the maker, as above"},
			{"resistance", "Ω", 0.078, 0.066, 0.090, "phase to phase at 20 °C; recalled, not told beside the readings: ± 15 %"},
			{"no-load current", "A", 0.6, 0.4, 0.9, "direct current; as the resistance, and it rises with the speed"},
			{"winding", "°C", 25, 20, 60, "not told; a short run in a room"},
			{"controller efficiency", "", 1, 0.96, 1, "not told whether the watts are before or behind the controller: taken as the motor's own"},
		},
		below: 7, above: 10,
		compute: func(g, a []float64) float64 {
			omega := g[0] * 2 * math.Pi / 60
			b := bench(a[0], a[1], a[2], a[4], a[3], 200)
			b.Crr = g[1] / drive.Gravity // of 1 kg on a wheel of 1 m: the torque
			c, ok := b.Cruise(omega, 100)
			if !ok {
				return math.NaN()
			}
			return c.Power
		},
	},
	{
		name: "longboard on urethane, one motor and belt, 6s4p, steady out and back", unit: "Wh/km", decimals: 1,
		source: "a builder's log of 9 recharges, " + archive,
		rows: []row{
			{"17.5 km/h", 8.4, []float64{17.5}}, {"20.5 km/h", 9.6, []float64{20.5}}, {"23.1 km/h", 11.4, []float64{23.1}},
		},
		scatter: 0.06, why: "energy from what was charged, 3 % to 5 % of which cells turn to heat, and distance from a phone: assumed",
		assumed: []assumption{
			{"mass", "kg", 82, 75, 90, "rider and board, not told"},
			{"Crr", "", 0.018, 0.012, 0.025, "the program's value for urethane on asphalt, itself an assumption"},
			{"drag area", "m²", 0.50, 0.35, 0.65, "the program's value sideways; measured 0.35 to 0.55, and 0.65 facing forward (Spring et al. 1988)"},
			{"wind", "km/h", 0, 0, 10, "not told; out and back it adds"},
			{"drive efficiency", "", 0.96, 0.90, 0.98, "the program's value for a belt (0.94 to 0.98), less where it is tight or dirty"},
			{"controller efficiency", "", 0.97, 0.93, 0.99, "common practice, no published source"},
			{"resistance", "Ω", 0.10, 0.042, 0.25, "middle and ends of what the program takes for a motor of 0.5 kg and 190 rpm/V of which nothing is told"},
			{"no-load current", "A", 0.5, 0.2, 1.2, "as the resistance"},
			{"cell", "Ω", 0.023, 0.008, 0.064, "middle and ends of what the program takes for a cell of 2.5 Ah of which nothing is told"},
		},
		below: 27, above: 36,
		compute: func(g, a []float64) float64 {
			b := boardOf(rig{
				motors: 1, kv: 190, resistance: a[6], noLoad: a[7], volts: 6 * 3.6, pack: a[8] * 6 / 4,
				controller: a[5], reduction: 2.5, efficiency: a[4], diameter: 0.083, mass: a[0], crr: a[1], dragArea: a[2],
			})
			return ridden(&b, drive.Ride{Speed: g[0] / 3.6, Wind: a[3] / 3.6})
		},
	},
	{
		name: "mountain board on 200 mm pneumatic tyres, warm, steady", unit: "Wh/km", decimals: 1,
		source:  "a builder's log, " + archive + "; the program's range of Crr for such tyres was chosen with this log at hand (0.015 fits it), its value 0.020 was not",
		rows:    []row{{"30 km/h", 14, []float64{30}}},
		scatter: 0.08, why: "told to the watt-hour, and the speed as about 30 km/h: 2 km/h are 7 %, half a watt-hour 4 %",
		assumed: []assumption{
			{"mass", "kg", 101, 92, 110, "rider and board, not told"},
			{"Crr", "", 0.020, 0.014, 0.030, "the program's value for pneumatic tyres on asphalt; the range of small scooter tyres, Stilwell et al. 2023"},
			{"drag area", "m²", 0.50, 0.35, 0.65, "as the longboard's"},
			{"wind", "km/h", 0, 0, 10, "not told"},
			{"drive efficiency", "", 0.96, 0.90, 0.98, "as the longboard's"},
			{"controller efficiency", "", 0.97, 0.93, 0.99, "as the longboard's"},
			{"resistance", "Ω", 0.086, 0.035, 0.21, "middle and ends of what the program takes for a motor of 0.6 kg and 190 rpm/V of which nothing is told"},
			{"no-load current", "A", 0.6, 0.24, 1.4, "as the resistance"},
			{"cell", "Ω", 0.023, 0.008, 0.064, "as the longboard's"},
		},
		below: 24, above: 34,
		compute: func(g, a []float64) float64 {
			b := boardOf(rig{
				motors: 2, kv: 190, resistance: a[6], noLoad: a[7], volts: 10 * 3.6, pack: a[8] * 10 / 4,
				controller: a[5], reduction: 5, efficiency: a[4], diameter: 0.2, mass: a[0], crr: a[1], dragArea: a[2],
			})
			return ridden(&b, drive.Ride{Speed: g[0] / 3.6, Wind: a[3] / 3.6})
		},
	},
	{
		name: "kick scooters in town, 87 kg, mean of 10 over 8 945 km, at the pack", unit: "Wh/km", decimals: 1,
		source: "two-wheeler life-cycle inventory, Sacchi et al.: 0.086 MJ/km at the wall, of which 82.5 % reach the pack (assumed)",
		rows: []row{
			{"as a town has it", 19.7, nil},
			// What a brief has by default in place of a town's stops, hills and wind.
			{"as a brief has it by default: 2 stops a km, 40 % regen, level and calm", 19.7, []float64{2, 0, 0, 0.4}},
		},
		outside: []int{1},
		scatter: 0.15, why: "75 % to 90 % of the wall's energy reaches the pack, ± 9 %, and of the spread of the ten nothing is told",
		assumed: []assumption{
			{"cruise speed", "km/h", 20, 15, 25, "not told; where they are limited it is to 20 or 25 km/h"},
			{"stops", "a km", 3, 1, 6, "the urban cycle of UN Regulation 83 has 3 a km"},
			{"ascent", "m/km", 5, 0, 10, "not told; the middle between a level and a hilly town"},
			{"wind", "km/h", 7, 0, 14, "not told; the middle between calm and a breeze between houses"},
			{"regen", "", 0.2, 0, 0.4, "the middle between none and the program's value; small scooters give back little"},
			{"Crr", "", 0.020, 0.014, 0.040, "the program's value for pneumatic tyres; small scooter tyres to 0.030 (Stilwell et al. 2023), soft or solid ones more"},
			{"drag area", "m²", 0.65, 0.55, 0.75, "the program's value facing forward, 0.65 ± 0.05 (Spring et al. 1988), and clothes"},
			{"controller efficiency", "", 0.97, 0.90, 0.98, "common practice, no published source; lights and display are in it"},
			{"resistance", "Ω", 0.25, 0.15, 0.45, "motor in a wheel of 350 W: common practice, no published source"},
			{"no-load current", "A", 0.4, 0.2, 1, "as the resistance"},
			{"pack", "Ω", 0.15, 0.08, 0.30, "10s3p: common practice, no published source"},
		},
		below: 32, above: 62,
		compute: func(g, a []float64) float64 {
			ride := a[1:5]
			if g != nil {
				ride = g
			}
			b := boardOf(rig{
				motors: 1, kv: 20, resistance: a[8], noLoad: a[9], volts: 36, pack: a[10],
				controller: a[7], reduction: 1, efficiency: 1, diameter: 0.216, mass: 87, crr: a[5], dragArea: a[6],
			})
			return ridden(&b, drive.Ride{Speed: a[0] / 3.6, Stops: ride[0] / 1e3, Ascent: ride[1] / 1e3, Wind: ride[2] / 3.6, Regen: ride[3]})
		},
	},
}

// bench is a motor alone, on a wheel of 1 m and 1 kg: newtons are newton metres, and
// metres per second radians.
func bench(kv, ohms, noLoad, controller, celsius, phaseAmps float64) *drive.Board {
	e := drive.Couple(
		drive.Motor{KV: kv, PolePairs: 7, Resistance: ohms, NoLoadCurrent: noLoad}, 1,
		drive.Controller{MotorCurrent: phaseAmps, BatteryCurrent: 1e6, MaxDuty: 1, Efficiency: controller, Commutation: drive.FOC},
		drive.Pack{Volts: 100}, celsius)
	return &drive.Board{Electrical: &e, Reduction: 1, Efficiency: 1, Radius: 1, Mass: 1, Hold: holding(tooMuch)}
}

// rig is a board as a measurement needs it, in SI units and rpm/V.
type rig struct {
	motors                        int
	kv, resistance, noLoad        float64
	volts, pack, controller       float64
	reduction, efficiency         float64
	diameter, mass, crr, dragArea float64
}

// boardOf builds it, with windings at the 60 °C that a brief has by default.
func boardOf(r rig) drive.Board {
	e := drive.Couple(
		drive.Motor{KV: r.kv, PolePairs: 7, Resistance: r.resistance, NoLoadCurrent: r.noLoad}, r.motors,
		drive.Controller{MaxDuty: 0.95, Efficiency: r.controller, Commutation: drive.FOC},
		drive.Pack{Volts: r.volts, Nominal: r.volts, Resistance: r.pack}, 60)
	return drive.Board{
		Electrical: &e, Reduction: r.reduction, Efficiency: r.efficiency, Radius: r.diameter / 2, Mass: r.mass,
		Crr: r.crr, DragArea: r.dragArea, AirDensity: drive.AirDensity(0), Hold: holding(tooMuch),
	}
}

// ridden returns what a ride takes in Wh/km, NaN where the pack cannot give it.
func ridden(b *drive.Board, r drive.Ride) float64 {
	got, ok := b.Ride(r, b.Pack.Volts)
	if !ok {
		return math.NaN()
	}
	return got.EnergyPerMetre / 3.6
}
