package constraints

import (
	"math"

	"gearsearch/drive"
)

// heatCheck: can motors and controllers bear the climb for long?
var heatCheck = Check{
	Name:    heatName,
	Subject: "current on the climb",
	Figure:  "climb_current_a",
	Meaning: "the motor current on the climb is within what motor and controller bear for long",
	Unit:    "A",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: (*Problem).Climbs,
	Lists:   anyDrive,
	Needs:   needs("motor", "continuous_current_a"),
	Corners: true,
	Corner: func(b *Build) Outcome {
		if b.Problem.HasLength() {
			return b.heatOnHill()
		}
		limit, sure := b.HeatLimit()
		o := atMost(b.ClimbCurrent(), limit)
		return o.onlyIf(sure || o.Verdict == Fail)
	},
	Window: heatWindow,
	Tuned:  TunesAll,
	Eased: []Easing{
		{Key: "target.climb_grade_pct", At: (*Build).gradeOfHeat},
		{Key: "target.climb_speed_kmh", Try: Downward, When: noLength},
		// On a slower climb the air takes less, but the hill lasts longer, past a minute the
		// controller's current counts, and the wind cools less. Either may tell.
		{Key: "target.climb_speed_kmh", Try: Untried, When: hasLength},
		{Key: "target.climb_length_m", Try: Downward, When: hasLength},
		{Key: "limit.winding_max_c", At: (*Build).WindingEnd, When: hasLength, Floor: &bearingCheck},
		{Key: "limit.heat_factor", At: (*Build).factorBorne, When: noLength},
		{Key: "limit.heat_factor", At: (*Build).factorBorne, When: hasLength, Floor: &windingCheck},
	},
}

// chainSafety is how many times the pull that a chain is to bear it bears before it
// breaks: common practice, no published source.
const chainSafety = 8

// beltLoadCheck: does the belt or chain bear the climb?
var beltLoadCheck = Check{
	Name:    "belt-load",
	Subject: "belt or chain pull",
	Figure:  "belt_pull_n",
	Meaning: "the belt's pull on the climb is within the handbook's for its width and the teeth in mesh; a chain's within an eighth of its breaking load",
	Unit:    "N",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return p.Climbs() && p.Belted() },
	Lists:   belted,
	Needs:   append(needs("belt", "width_mm"), needs("profile", "pull_n_per_mm")...), // a chain's breaking load is at least ISO 606's
	Corner: func(b *Build) Outcome {
		d := b.Drive
		o := atMost(b.BeltPull(), b.beltLimit())
		if o.Verdict == Fail && d.idlerBears() {
			o.Verdict = Undecided // the idler adds wrap that is not counted
		}
		return o
	},
	Adds:  beltLoadAdds(),
	Tuned: TunesReduction | TunesWheel,
	Eased: []Easing{{Key: "target.climb_grade_pct", At: (*Build).gradeOfBelt}, slowerClimb},
}

// idlerBears reports whether more may be borne than is counted, as an idler adds wrap.
// What a chain bears does not go by the teeth in mesh.
func (d *Drive) idlerBears() bool { return d.idler() && !d.Chained() }

// beltLimit is the pull in N that the handbook allows the belt with the teeth
// in mesh, an idler's wrap left out, or that is safely below a chain's breaking load;
// NaN when it is not known.
func (b *Build) beltLimit() float64 {
	d := b.Drive
	if d.Belt == nil || d.Mesh < 0 {
		return math.NaN()
	}
	if d.Chained() {
		return d.Belt.BreakingLoad() / chainSafety
	}
	return d.Belt.Profile.Pull * d.Belt.Width * drive.MeshFactor(d.Mesh)
}

// gearTorqueCheck: does the gear drive bear the climb?
var gearTorqueCheck = Check{
	Name:    "gear-torque",
	Subject: "gear torque on the climb",
	Meaning: "the torque of each gear drive on the climb is within what it bears",
	Unit:    "N.m",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return p.Climbs() && p.Geared() },
	Lists:   geared,
	Needs:   needs("gear_drive", "max_torque_nm"),
	Corner:  func(b *Build) Outcome { return atMost(b.WheelTorque(), b.Drive.Gear.MaxTorque) },
	Adds:    gearTorqueAdds(),
	Tuned:   TunesWheel,
	Eased:   []Easing{{Key: "target.climb_grade_pct", At: (*Build).gradeOfGear}, slowerClimb},
}
