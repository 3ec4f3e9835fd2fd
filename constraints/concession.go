package constraints

import (
	"math"
	"slices"

	"gearsearch/drive"
)

// Concession is a target or limit that a brief can give way on.
type Concession struct {
	Key     string // section.key
	Unit    string
	PerSI   float64
	Meaning string
	Eases   int      // +1: a greater value asks for less, −1: a lower one
	Checks  []string // that may pass for it; no other check may fail for it
	Value   func(b *Brief) *float64
	// Reach is the value nearest to the brief's at which the build passes
	// Checks; ok is false where there is none. It may assume that the build
	// passes every other check.
	Reach func(b *Build) (value float64, ok bool)
}

// Concessions lists what a brief can give way on, in the order of its keys.
// Those that the brief does not set are left out.
func (p *Problem) Concessions() []Concession {
	all := append(targetConcessions(), limitConcessions()...)
	var out []Concession
	for _, c := range all {
		if !math.IsNaN(*c.Value(p.Brief)) && p.concerns(c) {
			out = append(out, c)
		}
	}
	return out
}

// concerns reports whether some check of a concession applies.
func (p *Problem) concerns(c Concession) bool {
	for _, check := range p.checks {
		for _, name := range c.Checks {
			if check.Name == name {
				return true
			}
		}
	}
	return false
}

// climbChecks are the checks that a slower climb eases.
var climbChecks = []string{"climb", "hill-torque", "heat", "belt-load", "gear-torque"}

func targetConcessions() []Concession {
	return []Concession{
		{
			Key: "target.top_speed_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a lower top speed", Eases: -1,
			Checks: []string{"top-speed", "erpm"},
			Value:  func(b *Brief) *float64 { return &b.Target.TopSpeed },
			Reach: func(b *Build) (float64, bool) {
				v, _ := b.TopSpeed()
				if b.Problem.Brief.Limit.ERPMRule == AtSpeed && !math.IsNaN(b.Controller.Ceiling) {
					v = math.Min(v, b.board.ERPMSpeed(b.Controller.Ceiling*(1-b.Problem.Brief.Limit.ERPMHeadroom)))
				}
				return v, v > 0
			},
		},
		{
			Key: "target.top_speed_max_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a higher greatest speed", Eases: +1,
			Checks: []string{"top-speed-max"},
			Value:  func(b *Brief) *float64 { return &b.Target.TopSpeedMax },
			Reach:  func(b *Build) (float64, bool) { v, _ := b.TopSpeed(); return v, true },
		},
		{
			Key: "target.climb_grade_pct", Unit: "%", PerSI: percent, Meaning: "a less steep hill", Eases: -1,
			Checks: []string{"climb", "heat", "belt-load", "gear-torque"},
			Value:  func(b *Brief) *float64 { return &b.Target.ClimbGrade },
			Reach:  (*Build).gradeReached,
		},
		{
			Key: "target.climb_speed_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a slower climb", Eases: -1,
			Checks: climbChecks,
			Value:  func(b *Brief) *float64 { return &b.Target.ClimbSpeed },
			Reach: func(b *Build) (float64, bool) {
				return b.bisect(climbChecks, func(br *Brief) *float64 { return &br.Target.ClimbSpeed }, slowest)
			},
		},
		{
			Key: "target.hill_torque_nm", Unit: "N.m", PerSI: 1, Meaning: "less torque on the hill", Eases: -1,
			Checks: []string{"hill-torque"},
			Value:  func(b *Brief) *float64 { return &b.Target.HillTorque },
			Reach:  func(b *Build) (float64, bool) { t := b.HillTorque(); return t, t > 0 },
		},
		{
			Key: "target.launch_speed_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a lower speed to launch to", Eases: -1,
			Checks: []string{"launch"},
			Value:  func(b *Brief) *float64 { return &b.Target.LaunchSpeed },
			Reach: func(b *Build) (float64, bool) {
				return b.bisect([]string{"launch"}, func(br *Brief) *float64 { return &br.Target.LaunchSpeed }, slowest)
			},
		},
		{
			Key: "target.launch_s", Unit: "s", PerSI: 1, Meaning: "a slower launch", Eases: +1,
			Checks: []string{"launch"},
			Value:  func(b *Brief) *float64 { return &b.Target.LaunchTime },
			Reach:  func(b *Build) (float64, bool) { s := b.Launch(); return s, !math.IsNaN(s) },
		},
		{
			Key: "target.range_km", Unit: "km", PerSI: km, Meaning: "a shorter range", Eases: -1,
			Checks: []string{"range"},
			Value:  func(b *Brief) *float64 { return &b.Target.Range },
			Reach:  func(b *Build) (float64, bool) { r := b.Range(); return r, r > 0 },
		},
		{
			Key: "target.cruise_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a slower cruise", Eases: -1,
			Checks: []string{"range"},
			Value:  func(b *Brief) *float64 { return &b.Target.Cruise },
			Reach:  (*Build).cruiseReached,
		},
	}
}

func limitConcessions() []Concession {
	return []Concession{
		{
			Key: "limit.erpm_headroom_pct", Unit: "%", PerSI: percent, Meaning: "less headroom below the rpm ceiling", Eases: -1,
			Checks: []string{"erpm"},
			Value:  func(b *Brief) *float64 { return &b.Limit.ERPMHeadroom },
			Reach: func(b *Build) (float64, bool) {
				h := 1 - b.ERPM()/b.Controller.Ceiling
				return math.Max(h, 0), drive.AtLeast(h+1, 1)
			},
		},
		{
			Key: "limit.erpm_ceiling", Unit: "rpm", PerSI: 1, Meaning: "a higher rpm ceiling", Eases: +1,
			Checks: []string{"erpm"},
			Value:  func(b *Brief) *float64 { return &b.Limit.ERPMCeiling },
			Reach: func(b *Build) (float64, bool) {
				c := b.ERPM() / (1 - b.Problem.Brief.Limit.ERPMHeadroom)
				own := b.Controller.ERPMCeiling
				return c, math.IsNaN(own) || drive.AtMost(c, own)
			},
		},
		{
			Key: "limit.price", Unit: "price", PerSI: 1, Meaning: "a higher price", Eases: +1,
			Checks: []string{"price"},
			Value:  func(b *Brief) *float64 { return &b.Limit.Price },
			Reach:  func(b *Build) (float64, bool) { return b.price.Known, true },
		},
		{
			Key: "limit.mass_kg", Unit: "kg", PerSI: 1, Meaning: "a heavier board", Eases: +1,
			Checks: []string{"mass"},
			Value:  func(b *Brief) *float64 { return &b.Limit.Mass },
			Reach:  func(b *Build) (float64, bool) { return b.mass.Known, true },
		},
		{
			Key: "board.hanger_mm", Unit: "mm", PerSI: mm, Meaning: "a wider hanger", Eases: +1,
			Checks: []string{"hanger"},
			Value:  func(b *Brief) *float64 { return &b.Board.Hanger },
			Reach:  func(b *Build) (float64, bool) { return hanger.Test(b).Value, true },
		},
		{
			Key: "limit.mesh_teeth", Unit: "teeth", PerSI: 1, Meaning: "fewer teeth in mesh", Eases: -1,
			Checks: []string{"mesh"},
			Value:  func(b *Brief) *float64 { return &b.Limit.MeshTeeth },
			Reach:  func(b *Build) (float64, bool) { return float64(b.Drive.Mesh), b.Drive.Mesh >= 0 },
		},
		{
			Key: "limit.ground_clearance_mm", Unit: "mm", PerSI: mm, Meaning: "less ground clearance", Eases: -1,
			Checks: []string{"clearance"},
			Value:  func(b *Brief) *float64 { return &b.Limit.GroundClearance },
			Reach:  func(b *Build) (float64, bool) { c := clearance.Test(b).Value; return c, c >= 0 },
		},
		{
			Key: "limit.heat_factor", PerSI: 1, Meaning: "more current on the climb than motor and controller bear for long", Eases: +1,
			Checks: []string{"heat"},
			Value:  func(b *Brief) *float64 { return &b.Limit.HeatFactor },
			Reach: func(b *Build) (float64, bool) {
				x := b.ClimbCurrent() / b.HeatLimit() * b.Problem.Brief.Limit.HeatFactor
				return x, !math.IsNaN(x)
			},
		},
	}
}

// slowest is the lowest speed, m/s, that a concession goes down to: walking
// slowly.
const slowest = 1 / kmh

// gradeReached is the steepest grade on which the build climbs and bears the
// climb, as rise over run.
func (b *Build) gradeReached() (float64, bool) {
	p := b.Problem
	grade := math.Inf(1)
	if b.ThrustKnown() && p.rejects("climb") {
		grade = b.board.ClimbLimit(p.Brief.Target.ClimbSpeed)
	}
	// The forces that the other checks allow, N.
	n, wheel := float64(b.Motors()), b.board.Reduction*b.board.Efficiency/b.board.Radius
	if limit := b.HeatLimit(); !math.IsNaN(limit) && p.rejects("heat") {
		grade = math.Min(grade, b.gradeOf((limit*b.electrical.PhaseFactor-b.electrical.NoLoad)*b.electrical.K*n*wheel))
	}
	if d := b.Drive; d.Gear != nil {
		if limit := d.Gear.MaxTorque; !math.IsNaN(limit) && p.rejects("gear-torque") {
			grade = math.Min(grade, b.gradeOf(limit*n/b.board.Radius))
		}
	} else if !d.idler() && p.rejects("belt-load") {
		if o := beltLoad.Test(b); !math.IsNaN(o.Limit) {
			pulley := d.MotorPulley
			grade = math.Min(grade, b.gradeOf(o.Limit*pulley.Profile.PitchDiameter(pulley.Teeth)/2*n*wheel))
		}
	}
	return grade, grade >= 0 && !math.IsInf(grade, 1)
}

// gradeOf is the grade on which the climb speed takes a force (N): the
// solution of m g (sin θ + Crr cos θ) + ½ ρ A v² = force; negative where the
// flat takes more.
func (b *Build) gradeOf(force float64) float64 {
	v := b.Problem.Brief.Target.ClimbSpeed
	flat := b.board.Load(v, 0)
	k := (force - (flat - b.board.Mass*drive.Gravity*b.board.Crr)) / (b.board.Mass * drive.Gravity)
	return math.Tan(math.Asin(max(-1, min(1, k/math.Hypot(1, b.board.Crr)))) - math.Atan(b.board.Crr))
}

// rejects reports whether a check applies and is not demoted.
func (p *Problem) rejects(name string) bool {
	for _, c := range p.checks {
		if c.Name == name {
			return !p.Demoted(c)
		}
	}
	return false
}

// bisect is the greatest value of a key between least and the brief's at which
// none of the named checks rejects the build, to a relative 1e-12. What asks
// for less as the value falls must do so throughout.
func (b *Build) bisect(checks []string, key func(*Brief) *float64, least float64) (float64, bool) {
	brief := b.Problem.Brief.Clone()
	passes := func(x float64) bool {
		*key(brief) = x
		return !b.Under(brief).rejectedBy(checks)
	}
	low, high := least, *key(b.Problem.Brief)
	switch {
	case passes(high):
		return high, true
	case low >= high || !passes(low):
		return 0, false
	}
	for high-low > 1e-12*high {
		if middle := low + (high-low)/2; passes(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low, true
}

// rejectedBy reports whether one of the named checks rejects the build.
func (b *Build) rejectedBy(names []string) bool {
	for _, c := range b.Problem.checks {
		if slices.Contains(names, c.Name) && c.Lists(b.Drive) && (Result{c, c.Test(b), b.Problem.Demoted(c)}).Rejects(false) {
			return true
		}
	}
	return false
}

// cruiseSteps is into how many steps cruiseReached divides the way down.
const cruiseSteps = 48

// cruiseReached is the greatest cruise speed below the brief's at which the
// range is reached. Consumption may rise again at a crawl, so it goes down
// step by step and bisects the first step that reaches it.
func (b *Build) cruiseReached() (float64, bool) {
	checks := []string{"range"}
	key := func(br *Brief) *float64 { return &br.Target.Cruise }
	brief := b.Problem.Brief.Clone()
	step := (brief.Target.Cruise - slowest) / cruiseSteps
	for brief.Target.Cruise-step >= slowest {
		above := b.Under(brief.Clone())
		brief.Target.Cruise -= step
		if !b.Under(brief).rejectedBy(checks) {
			return above.bisect(checks, key, brief.Target.Cruise)
		}
	}
	return 0, false
}
