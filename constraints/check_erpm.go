package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// erpmCheck: does the controller keep up with the motor's electrical rpm?
var erpmCheck = Check{
	Name:    "erpm",
	Subject: "electrical rpm",
	Meaning: "the electrical rpm stays below the ceiling, headroom taken off",
	Unit:    "rpm",
	PerSI:   1,
	Scope:   (*Problem).scopeOfERPM,
	Applies: (*Problem).HasCeiling,
	Lists:   anyDrive,
	Needs: []Need{{Kind: "controller", Key: "erpm_ceiling", Unless: func(s *Stock) bool {
		return !slices.ContainsFunc(s.Controllers, func(c *catalog.Controller) bool { return !math.IsNaN(c.ERPMCeiling) })
	}}},
	Speeds:  true,
	Corners: true,
	Corner: func(b *Build) Outcome {
		rpm, sure := b.ERPM()
		return atMost(rpm, b.Controller.Ceiling*(1-b.Problem.Brief.Limit.ERPMHeadroom)).onlyIf(sure)
	},
	Window: erpmWindow,
	Tuned:  TunesAll,
	Eased: []Easing{
		{Key: "limit.erpm_headroom_pct", At: (*Build).headroom, Floor: &underCeilingCheck},
		{Key: "limit.erpm_ceiling", At: func(b *Build) float64 { return b.SureERPM() / (1 - b.Problem.Brief.Limit.ERPMHeadroom) }},
		{
			Key: "target.top_speed_kmh", When: func(b *Brief) bool { return b.Limit.ERPMRule == AtSpeed },
			At: func(b *Build) float64 {
				return b.board.ERPMSpeed(b.Controller.Ceiling * (1 - b.Problem.Brief.Limit.ERPMHeadroom))
			},
		},
	},
}

// HasCeiling reports whether the brief, any controller in play or that of the
// build that Find made has an electrical-rpm ceiling.
func (p *Problem) HasCeiling() bool {
	if p.built != nil && !math.IsNaN(lower(p.built.ERPMCeiling, p.Brief.Limit.ERPMCeiling)) {
		return true
	}
	for _, c := range p.Controllers {
		if !math.IsNaN(c.Ceiling) {
			return true
		}
	}
	return false
}

// scopeOfERPM is what the brief's rule reads of a build.
func (p *Problem) scopeOfERPM() Scope {
	switch p.Brief.Limit.ERPMRule {
	case AtSpeed:
		return OnController | OnMotor | OnDrive | OnWheel
	case AtTop:
		return OnAll
	}
	return OnBattery | OnController | OnMotor
}

// underCeiling is what is left of the check where the brief asks for no
// headroom.
var underCeilingCheck = Check{
	Name: "erpm-ceiling", Meaning: "the electrical rpm stays below the ceiling", Unit: "rpm", PerSI: 1,
	Scope:   (*Problem).scopeOfERPM,
	Applies: (*Problem).HasCeiling,
	Lists:   anyDrive,
	Speeds:  true,
	Corners: true,
	Corner: func(b *Build) Outcome {
		rpm, sure := b.ERPM()
		return atMost(rpm, b.Controller.Ceiling).onlyIf(sure)
	},
	Window: func(b *Build, lane Lane, demand float64) Gearings { return ceilingWindow(b, 0, demand, lane) },
}

// headroom is how far below the ceiling the electrical rpm stays, as a share of
// it; NaN where it exceeds the ceiling.
func (b *Build) headroom() float64 {
	rpm := b.SureERPM()
	return unless(math.Max(0, 1-rpm/b.Controller.Ceiling), !drive.AtMost(rpm, b.Controller.Ceiling))
}
