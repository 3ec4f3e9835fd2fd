package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"
)

// What a search calls for every combination, or nearly.
var hot = []struct {
	name string
	call func(b *drive.Board) float64
}{
	{"Couple", func(b *drive.Board) float64 {
		e := drive.Couple(b.Motor, b.Motors, b.Controller, b.Pack, 60)
		return e.K
	}},
	{"Load", func(b *drive.Board) float64 { return b.Load(3, 0.15) }},
	{"Thrust", func(b *drive.Board) float64 { return b.Thrust(1) }},
	{"ThrustWhilePowerBinds", func(b *drive.Board) float64 { return b.Thrust(6) }},
	{"ThrustLimit", func(b *drive.Board) float64 { return float64(b.ThrustLimit(3, 0.15)) }},
	{"TopSpeed", func(b *drive.Board) float64 { v, _ := b.TopSpeed(math.Inf(1)); return v }},
	{"ClimbLimit", func(b *drive.Board) float64 { return b.ClimbLimit(3) }},
	{"Cruise", func(b *drive.Board) float64 { c, _ := b.Cruise(7, 36.8); return c.PackCurrent }},
	{"LaunchTime", func(b *drive.Board) float64 { s, _ := b.LaunchTime(8, 12); return s }},
	{"LaunchTimeNearTheBalance", func(b *drive.Board) float64 { s, _ := b.LaunchTime(10.85, 12); return s }},
	{"CentreDistance", func(*drive.Board) float64 {
		c, _ := drive.CentreDistance(0.300, 44*0.005/math.Pi, 16*0.005/math.Pi)
		return c
	}},
}

func BenchmarkDrive(b *testing.B) {
	for _, h := range hot {
		b.Run(h.name, func(b *testing.B) {
			board := street()
			b.ReportAllocs()
			sum := 0.0
			for b.Loop() {
				sum += h.call(&board)
			}
			if math.IsNaN(sum) {
				b.Fatal("not a number")
			}
		})
	}
}

func TestNothingAllocates(t *testing.T) {
	board := street()
	if by, power := board.ThrustLimit(1, 0), board.ThrustLimit(6, 0); by != drive.MotorCurrent || power != drive.BatteryCurrent {
		t.Errorf("the benchmarks of thrust run where %v and %v bind, not what they say", by, power)
	}
	for _, h := range hot {
		if x := h.call(&board); !(x > 0) {
			t.Errorf("%s = %g: the benchmark measures nothing", h.name, x)
		}
		if n := testing.AllocsPerRun(20, func() { h.call(&board) }); n != 0 {
			t.Errorf("%s allocates %g times", h.name, n)
		}
	}
}
