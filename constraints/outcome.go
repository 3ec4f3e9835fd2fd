package constraints

import "slices"

// Result is the outcome of one check on one build.
type Result struct {
	*Check
	Outcome
	Demoted bool // the brief lets it caution only
}

// Shown is the row by which the outcome is shown.
func (r Result) Shown() *Check { return r.ShownBy(r.Outcome) }

// Demoted reports whether the brief lets a check caution only.
func (p *Problem) Demoted(c *Check) bool { return p.demoted[c.Name] }

// Results tests every check that concerns the build, in order.
func (b *Build) Results() []Result {
	out := make([]Result, 0, len(b.Problem.checks))
	for _, c := range b.Problem.checks {
		if c.Lists(b.Drive) {
			out = append(out, Result{Check: c, Outcome: c.Test(b), Demoted: b.Problem.Demoted(c)})
		}
	}
	return out
}

// demotedResults are the outcomes of the checks that only caution.
func (b *Build) demotedResults() []Result {
	if len(b.Problem.demoted) == 0 {
		return nil
	}
	return slices.DeleteFunc(b.Results(), func(r Result) bool { return !r.Demoted })
}

// Rejects reports whether the result makes its build infeasible; strict
// counts what is undecided as a failure.
func (r Result) Rejects(strict bool) bool {
	return !r.Demoted && (r.Verdict == Fail || strict && r.Verdict == Undecided)
}

// Rejections are the results that make the build infeasible, in order.
func (b *Build) Rejections(strict bool) []Result {
	return slices.DeleteFunc(b.Results(), func(r Result) bool { return !r.Rejects(strict) })
}
