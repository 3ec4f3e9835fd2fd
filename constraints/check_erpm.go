package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
)

// erpm: does the controller keep up with the motor's electrical rpm?
var erpm = Check{
	Name:    "erpm",
	Meaning: "the electrical rpm stays below the ceiling, headroom taken off",
	Unit:    "rpm",
	PerSI:   1,
	Scope: func(p *Problem) Scope {
		if p.Brief.Limit.ERPMRule == AtSpeed {
			return OnController | OnMotor | OnDrive | OnWheel
		}
		return OnBattery | OnController | OnMotor
	},
	Applies: (*Problem).HasCeiling,
	Lists:   anyDrive,
	Needs: []Need{{Kind: "controller", Key: "erpm_ceiling", Unless: func(s *Stock) bool {
		return !slices.ContainsFunc(s.Controllers, func(c *catalog.Controller) bool { return !math.IsNaN(c.ERPMCeiling) })
	}}},
	Test: func(b *Build) Outcome {
		return atMost(b.ERPM(), b.Controller.Ceiling*(1-b.Problem.Brief.Limit.ERPMHeadroom))
	},
	Window: erpmWindow,
}

// HasCeiling reports whether the brief or any controller in play has an
// electrical-rpm ceiling.
func (p *Problem) HasCeiling() bool {
	for _, c := range p.Controllers {
		if !math.IsNaN(c.Ceiling) {
			return true
		}
	}
	return false
}
