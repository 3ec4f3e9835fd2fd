package constraints

import (
	"math"

	"gearsearch/drive"
)

// slowest is the lowest speed, m/s, that a concession goes down to: a stroll.
const slowest = 1 / kmh

func boardConcessions() []Concession {
	return []Concession{{
		Key: "board.hanger_mm", Unit: "mm", PerSI: mm, Meaning: "a wider hanger", Eases: +1,
		Checks: []string{"hanger"},
		Value:  func(b *Brief) *float64 { return &b.Board.Hanger },
		reach:  whereEach(map[*Check]valueOf{&hanger: func(b *Build) float64 { return hanger.Test(b).Value }}),
	}}
}

func targetConcessions(p *Problem) []Concession {
	return append([]Concession{
		topSpeedConcession(p.Brief.Limit.ERPMRule),
		{
			Key: "target.top_speed_max_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a higher greatest speed", Eases: +1,
			Checks: []string{"top-speed-max"},
			Value:  func(b *Brief) *float64 { return &b.Target.TopSpeedMax },
			reach:  whereEach(map[*Check]valueOf{&topSpeedMax: topSpeedOf}),
		},
		{
			Key: "target.climb_grade_pct", Unit: "%", PerSI: percent, Meaning: "a less steep hill", Eases: -1,
			Checks: []string{"climb", "heat", "belt-load", "gear-torque"},
			Value:  func(b *Brief) *float64 { return &b.Target.ClimbGrade },
			reach: whereEach(map[*Check]valueOf{
				&climb: (*Build).gradeClimbed, &heat: (*Build).gradeOfHeat,
				&beltLoad: (*Build).gradeOfBelt, &gearTorque: (*Build).gradeOfGear,
			}),
		},
		{
			// On a slower climb the thrust is not less and the load is, so
			// that everything it touches gets easier all the way down.
			Key: "target.climb_speed_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a slower climb", Eases: -1,
			Checks: []string{"climb", "hill-torque", "heat", "belt-load", "gear-torque"},
			Value:  func(b *Brief) *float64 { return &b.Target.ClimbSpeed },
			least:  slowest,
			reach:  bisected,
		},
		{
			Key: "target.hill_torque_nm", Unit: "N.m", PerSI: 1, Meaning: "less torque on the hill", Eases: -1,
			Checks: []string{"hill-torque"},
			Value:  func(b *Brief) *float64 { return &b.Target.HillTorque },
			reach:  whereEach(map[*Check]valueOf{&hillTorque: (*Build).HillTorque}),
		},
	}, rideConcessions()...)
}

// rideConcessions are those of launch and range.
func rideConcessions() []Concession {
	return []Concession{
		{
			Key: "target.launch_speed_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a lower speed to launch to", Eases: -1,
			Checks: []string{"launch"},
			Value:  func(b *Brief) *float64 { return &b.Target.LaunchSpeed },
			least:  slowest,
			reach:  bisected,
		},
		{
			Key: "target.launch_s", Unit: "s", PerSI: 1, Meaning: "a slower launch", Eases: +1,
			Checks: []string{"launch"},
			Value:  func(b *Brief) *float64 { return &b.Target.LaunchTime },
			reach:  whereEach(map[*Check]valueOf{&launch: (*Build).Launch}),
		},
		{
			Key: "target.range_km", Unit: "km", PerSI: km, Meaning: "a shorter range", Eases: -1,
			Checks: []string{"range"},
			Value:  func(b *Brief) *float64 { return &b.Target.Range },
			reach:  whereEach(map[*Check]valueOf{&rangeCheck: (*Build).Range}),
		},
		{
			Key: "target.cruise_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a slower cruise", Eases: -1,
			Checks: []string{"range"},
			Value:  func(b *Brief) *float64 { return &b.Target.Cruise },
			least:  slowest,
			reach:  cruiseReached,
		},
	}
}

func limitConcessions() []Concession {
	return []Concession{
		ceilingConcession(),
		{
			Key: "limit.erpm_headroom_pct", Unit: "%", PerSI: percent, Meaning: "less headroom below the rpm ceiling", Eases: -1,
			Checks: []string{"erpm"},
			Value:  func(b *Brief) *float64 { return &b.Limit.ERPMHeadroom },
			reach: whereEach(map[*Check]valueOf{&erpm: func(b *Build) float64 {
				rpm := b.ERPM()
				return unless(math.Max(0, 1-rpm/b.Controller.Ceiling), !drive.AtMost(rpm, b.Controller.Ceiling))
			}}),
		},
		{
			Key: "limit.price", Unit: "price", PerSI: 1, Meaning: "a higher price", Eases: +1,
			Checks: []string{"price"},
			Value:  func(b *Brief) *float64 { return &b.Limit.Price },
			reach:  whereEach(map[*Check]valueOf{&price: func(b *Build) float64 { return b.price.Known }}),
		},
		{
			Key: "limit.mass_kg", Unit: "kg", PerSI: 1, Meaning: "a heavier board", Eases: +1,
			Checks: []string{"mass"},
			Value:  func(b *Brief) *float64 { return &b.Limit.Mass },
			reach:  whereEach(map[*Check]valueOf{&mass: func(b *Build) float64 { return b.mass.Known }}),
		},
		{
			Key: "limit.mesh_teeth", Unit: "teeth", PerSI: 1, Meaning: "fewer teeth in mesh", Eases: -1,
			Checks: []string{"mesh"},
			Value:  func(b *Brief) *float64 { return &b.Limit.MeshTeeth },
			reach:  whereEach(map[*Check]valueOf{&mesh: func(b *Build) float64 { return float64(b.Drive.Mesh) }}),
		},
		{
			Key: "limit.ground_clearance_mm", Unit: "mm", PerSI: mm, Meaning: "less ground clearance", Eases: -1,
			Checks: []string{"clearance"},
			Value:  func(b *Brief) *float64 { return &b.Limit.GroundClearance },
			reach:  whereEach(map[*Check]valueOf{&clearance: func(b *Build) float64 { return clearance.Test(b).Value }}),
		},
		{
			Key: "limit.heat_factor", PerSI: 1, Meaning: "more current on the climb than motor and controller bear for long", Eases: +1,
			Checks: []string{"heat"},
			Value:  func(b *Brief) *float64 { return &b.Limit.HeatFactor },
			reach: whereEach(map[*Check]valueOf{&heat: func(b *Build) float64 {
				return b.ClimbCurrent() / b.HeatLimit() * b.Problem.Brief.Limit.HeatFactor
			}}),
		},
	}
}

// topSpeedConcession also eases the electrical rpm where that is held at the
// target.
func topSpeedConcession(rule string) Concession {
	values := map[*Check]valueOf{&topSpeed: topSpeedOf}
	checks := []string{"top-speed"}
	if rule == AtSpeed {
		checks = append(checks, "erpm")
		values[&erpm] = func(b *Build) float64 {
			return b.board.ERPMSpeed(b.Controller.Ceiling * (1 - b.Problem.Brief.Limit.ERPMHeadroom))
		}
	}
	return Concession{
		Key: "target.top_speed_kmh", Unit: "km/h", PerSI: kmh, Meaning: "a lower top speed", Eases: -1,
		Checks: checks,
		Value:  func(b *Brief) *float64 { return &b.Target.TopSpeed },
		reach:  whereEach(values),
	}
}

// ceilingConcession eases more than the check of the ceiling: the ceiling
// holds the top speed down, and with it what launch and range may ask for. For
// the same reason top-speed-max may fail for it.
func ceilingConcession() Concession {
	atSpeed := func(speed func(b *Brief) float64) valueOf {
		return func(b *Build) float64 { return b.board.ERPMAt(speed(b.Problem.Brief)) }
	}
	values := map[*Check]valueOf{
		&erpm:       func(b *Build) float64 { return b.ERPM() / (1 - b.Problem.Brief.Limit.ERPMHeadroom) },
		&topSpeed:   atSpeed(func(br *Brief) float64 { return br.Target.TopSpeed }),
		&launch:     atSpeed(func(br *Brief) float64 { return br.Target.LaunchSpeed }),
		&rangeCheck: atSpeed(func(br *Brief) float64 { return br.Target.Cruise }),
	}
	return Concession{
		Key: "limit.erpm_ceiling", Unit: "rpm", PerSI: 1, Meaning: "a higher rpm ceiling", Eases: +1,
		Checks: []string{"erpm", "top-speed", "launch", "range"},
		Value:  func(b *Brief) *float64 { return &b.Limit.ERPMCeiling },
		reach:  whereEach(values),
	}
}

// topSpeedOf is the top speed, m/s.
func topSpeedOf(b *Build) float64 {
	v, _ := b.TopSpeed()
	return v
}
