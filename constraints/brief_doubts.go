package constraints

import (
	"math"

	"gearsearch/drive"
)

// DoubtCode is what a doubt about a brief says.
type DoubtCode string

// The doubts. The keys and the quantities of each are in its order.
const (
	SpeedAboveMost DoubtCode = "speed-above-most" // the key of a speed, that of the greatest top speed
	NarrowBand     DoubtCode = "narrow-band"      // the keys of the least and the greatest top speed; times of the volts
	ColdStop       DoubtCode = "cold-stop"        // the keys of the temperature and of the stop
	HardLaunch     DoubtCode = "hard-launch"      // the keys of the launch's speed and time; mean acceleration, that at which people step
	CountsTwice    DoubtCode = "counts-twice"     // the key of the factor
)

// DoubtCodes lists every code, in the order in which doubts are given.
func DoubtCodes() []DoubtCode {
	return []DoubtCode{SpeedAboveMost, ColdStop, HardLaunch, CountsTwice, NarrowBand}
}

// KeyValue is a key of a brief with its value.
type KeyValue struct {
	Path string // such as target.climb_speed_kmh; "" for none
	SI   float64
}

// Doubt is what to doubt of a brief, without its words. It is no error: the brief
// may be meant so, and the one who asks is to see what it costs.
type Doubt struct {
	Code       DoubtCode
	Keys       [2]KeyValue // as many as the code has, the others zero
	Quantities [2]Quantity // likewise
}

// Stepping is the mean acceleration in m/s² above which standing people begin to
// step: Krašna et al. 2021.
const Stepping = 2.5

// Doubts are what to doubt of a brief, whatever the catalog.
func (b *Brief) Doubts() []Doubt {
	t := &b.Target
	out := b.tooFast()
	temperature := KeyValue{"ground.temperature_c", b.Ground.Temperature}
	if drive.AtMost(temperature.SI, 0) && !math.IsNaN(t.Stop) {
		out = append(out, Doubt{Code: ColdStop, Keys: [2]KeyValue{temperature, {"target.stop_m", t.Stop}}})
	}
	if mean := t.LaunchSpeed / t.LaunchTime; mean > Stepping && !drive.AtMost(mean, Stepping) {
		out = append(out, Doubt{
			HardLaunch,
			[2]KeyValue{{"target.launch_speed_kmh", t.LaunchSpeed}, {"target.launch_s", t.LaunchTime}},
			[2]Quantity{acceleration(mean), acceleration(Stepping)},
		})
	}
	if factor := b.Limit.RideFactor; factor > 1 && b.Ride.Stops+b.Ride.Ascent > 0 {
		out = append(out, Doubt{Code: CountsTwice, Keys: [2]KeyValue{{"limit.ride_factor", factor}}})
	}
	return out
}

// tooFast are the doubts about speeds that something is asked at, above the
// greatest top speed: no build keeps to both.
func (b *Brief) tooFast() []Doubt {
	t := &b.Target
	var out []Doubt
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
			out = append(out, Doubt{Code: SpeedAboveMost, Keys: [2]KeyValue{{s.key, s.speed}, {"target.top_speed_max_kmh", t.TopSpeedMax}}})
		}
	}
	return out
}

// Doubts are what to doubt of a brief put to its catalog: the least top speed is
// held to at the brief's charge and the greatest with a full pack, so that a band
// between them that is narrower than the volts go up leaves few builds.
func (p *Problem) Doubts() []Doubt {
	t := &p.Brief.Target
	rise := math.Inf(1)
	for _, b := range p.Batteries {
		rise = math.Min(rise, orElse(b.Pack.Full/b.Pack.Volts, 1))
	}
	band := t.TopSpeedMax / t.TopSpeed
	if !(rise > 1) || math.IsInf(rise, 1) || math.IsNaN(band) || drive.AtLeast(band, rise) {
		return nil
	}
	return []Doubt{{
		NarrowBand,
		[2]KeyValue{{"target.top_speed_kmh", t.TopSpeed}, {"target.top_speed_max_kmh", t.TopSpeedMax}},
		[2]Quantity{{SI: rise, PerSI: 1, Digits: ThreeDigits}},
	}}
}
