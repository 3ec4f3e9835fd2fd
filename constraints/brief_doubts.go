package constraints

import (
	"math"

	"gearsearch/drive"
)

// SpeedDoubt is a speed that a brief asks for above the top speed that it allows
// at most: no build keeps to both. It is no error, since either may be told to
// caution only, and since the one who asks is to see what each of them costs.
type SpeedDoubt struct {
	Key         string  // such as target.climb_speed_kmh
	Speed, Most float64 // m/s
}

// Doubts are the speeds of a brief that are above its greatest top speed, of
// those that something is asked at.
func (b *Brief) Doubts() []SpeedDoubt {
	t := &b.Target
	var out []SpeedDoubt
	for _, s := range []struct {
		key   string
		speed float64
		asked bool
	}{
		{"target.climb_speed_kmh", t.ClimbSpeed, !math.IsNaN(t.ClimbGrade) || !math.IsNaN(t.HillTorque)},
		{"target.cruise_kmh", t.Cruise, !math.IsNaN(t.Range)},
		{"target.launch_speed_kmh", t.LaunchSpeed, !math.IsNaN(t.LaunchTime)},
	} {
		if s.asked && s.speed > t.TopSpeedMax && !drive.AtMost(s.speed, t.TopSpeedMax) {
			out = append(out, SpeedDoubt{s.key, s.speed, t.TopSpeedMax})
		}
	}
	return out
}
