package drive_test

import (
	"fmt"
	"math"

	"gearsearch/drive"
)

// Two motors on belts of 16 to 44 teeth: how fast, how steep, how soon.
func Example() {
	motor := drive.Motor{KV: 175, PolePairs: 7, Resistance: 0.052, NoLoadCurrent: 0.9, PeakCurrent: 75}
	controller := drive.Controller{MotorCurrent: 70, BatteryCurrent: 22, MaxDuty: 0.95, Efficiency: 0.97}
	pack := drive.Pack{Volts: 36.8, Nominal: 36.8, Full: 42, Cutoff: 30, Resistance: 0.085}

	electrical := drive.Couple(motor, 2, controller, pack, 60)
	board := drive.Board{
		Electrical: &electrical,
		Reduction:  44.0 / 16,
		Efficiency: 0.96,
		Radius:     0.05,
		Mass:       92,
		Crr:        0.02,
		DragArea:   0.55,
		AirDensity: drive.AirDensity(400),
		Hold:       drive.Stance{RearShare: 0.6, Lean: 0.2, AxleMin: 0.1, Height: 950. / 850}.Hold(2, 0.8, 0.02),
	}
	top, by := board.TopSpeed(math.Inf(1))
	launch, _ := board.LaunchTime(25/3.6, top)
	cruise, _ := board.Cruise(20/3.6, pack.Nominal)
	fmt.Printf("top speed %.1f km/h, limited by %v\n", 3.6*top, by)
	fmt.Printf("climbs %.0f %% at 12 km/h\n", 100*board.ClimbLimit(12/3.6))
	fmt.Printf("25 km/h in %.1f s\n", launch)
	fmt.Printf("%.1f Wh/km at 20 km/h\n", cruise.EnergyPerMetre/3.6)
	// Output:
	// top speed 39.1 km/h, limited by voltage
	// climbs 33 % at 12 km/h
	// 25 km/h in 2.7 s
	// 10.3 Wh/km at 20 km/h
}
