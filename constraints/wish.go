package constraints

import (
	"math"
	"slices"
)

// Wish is a target or limit of a brief that can be dropped: asked for no more,
// all else held.
//
// A key that a brief may leave out is dropped as if the brief left it out: with
// a climb grade go all the checks of the climb, and with a top speed the check
// of the electrical rpm where the rule holds that at the target. A key with a
// default that the checks cannot do without is dropped to what nature leaves:
// the headroom to 0, since the ceiling of a controller is no wish, and the
// ground clearance to 0, since nothing runs below the ground. Without the teeth
// in mesh and the heat factor their checks reject nothing more.
type Wish struct {
	Key    string // section.key
	Unit   string // of the key; "price" stands for the currency
	PerSI  float64
	Value  float64  // as the brief has it, SI
	Checks []string // that reject no more when it is dropped
	// Floor is what a build must pass all the same; nil: nothing.
	Floor *Check
	// Moves tells that builds behave otherwise without the wish, so that checks
	// beside Checks may have another verdict, either way: those of Dropping.
	Moves bool
}

// everyWish lists all wishes, in the order of their keys; the value of one that
// the brief does not set is NaN.
func everyWish(b *Brief) []Wish {
	fast := []string{"top-speed"}
	if b.Limit.ERPMRule == AtSpeed {
		fast = append(fast, "erpm")
	}
	return []Wish{
		{Key: "board.hanger_mm", Unit: "mm", PerSI: mm, Checks: []string{"hanger"}, Value: b.Board.Hanger},
		{Key: "target.top_speed_kmh", Unit: "km/h", PerSI: kmh, Checks: fast, Value: b.Target.TopSpeed},
		{Key: "target.top_speed_max_kmh", Unit: "km/h", PerSI: kmh, Checks: []string{"top-speed-max"}, Value: b.Target.TopSpeedMax},
		{Key: "target.climb_grade_pct", Unit: "%", PerSI: percent, Checks: []string{"climb", "heat", "belt-load", "gear-torque"}, Value: b.Target.ClimbGrade},
		{Key: "target.hill_torque_nm", Unit: "N.m", PerSI: 1, Checks: []string{"hill-torque"}, Value: b.Target.HillTorque},
		{Key: "target.launch_s", Unit: "s", PerSI: 1, Checks: []string{"launch"}, Value: b.Target.LaunchTime},
		{Key: "target.range_km", Unit: "km", PerSI: km, Checks: []string{"range"}, Value: b.Target.Range},
		{Key: "limit.erpm_ceiling", Unit: "rpm", PerSI: 1, Checks: []string{"erpm"}, Value: b.Limit.ERPMCeiling, Moves: true},
		{Key: "limit.erpm_headroom_pct", Unit: "%", PerSI: percent, Checks: []string{"erpm"}, Value: b.Limit.ERPMHeadroom, Floor: &underCeiling},
		{Key: "limit.price", Unit: "price", PerSI: 1, Checks: []string{"price"}, Value: b.Limit.Price},
		{Key: "limit.mass_kg", Unit: "kg", PerSI: 1, Checks: []string{"mass"}, Value: b.Limit.Mass},
		{Key: "limit.mesh_teeth", Unit: "teeth", PerSI: 1, Checks: []string{"mesh"}, Value: b.Limit.MeshTeeth},
		{Key: "limit.ground_clearance_mm", Unit: "mm", PerSI: mm, Checks: []string{"clearance"}, Value: b.Limit.GroundClearance, Floor: &offGround},
		{Key: "limit.heat_factor", Unit: "", PerSI: 1, Checks: []string{"heat"}, Value: b.Limit.HeatFactor},
	}
}

// Wishes lists the targets and limits of the brief, defaults among them, in the
// order of its keys. Left out are those that concern no check that rejects, and
// limits of 0, which ask for nothing.
func (p *Problem) Wishes() []Wish {
	return slices.DeleteFunc(everyWish(p.Brief), func(w Wish) bool {
		nothing := w.Value == 0 && w.Key != "target.climb_grade_pct"
		return math.IsNaN(w.Value) || nothing || !w.Moves && !p.rejectsBy(w.Checks)
	})
}

// rejectsBy reports whether one of the checks applies and rejects.
func (p *Problem) rejectsBy(names []string) bool {
	return slices.ContainsFunc(p.checks, func(c *Check) bool { return slices.Contains(names, c.Name) && !p.Demoted(c) })
}

// Dropping is the problem without a wish that moves builds: without the brief's
// rpm ceiling, so that the controllers' own hold.
func (p *Problem) Dropping(w Wish) *Problem {
	if !w.Moves {
		return p.Without(w.Checks...)
	}
	q, brief := *p, *p.Brief
	brief.Limit.ERPMCeiling = math.NaN()
	q.Brief = &brief
	q.Controllers = mapped(p.Controllers, func(c Controller) *Controller {
		c.Ceiling = c.ERPMCeiling
		return &c
	})
	q.checks = only(p.checks, func(c *Check) bool { return c.Applies(&q) })
	return &q
}

// underCeiling and offGround are what is left of the checks of the electrical
// rpm and the ground clearance where the brief asks for nothing.
var (
	underCeiling = Check{
		Name: "erpm-ceiling", Meaning: "the electrical rpm stays below the ceiling", Unit: "rpm", PerSI: 1,
		Scope:   func(p *Problem) Scope { return erpm.Scope(p) },
		Applies: (*Problem).HasCeiling,
		Lists:   anyDrive,
		Test:    func(b *Build) Outcome { return atMost(b.ERPM(), b.Controller.Ceiling) },
		Window:  func(b *Build, _ Lane, demand float64) Gearings { return ceilingWindow(b, 0, demand) },
	}
	offGround = Check{
		Name: "ground", Meaning: "wheel pulley and gear drive stay off the ground", Unit: "mm", PerSI: mm, Lower: true,
		Scope:   on(OnDrive | OnWheel),
		Applies: always,
		Lists:   anyDrive,
		Test:    func(b *Build) Outcome { return atLeast(b.Wheel.Radius-b.Drive.Outside, 0) },
	}
)
