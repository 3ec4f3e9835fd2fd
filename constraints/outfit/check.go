package outfit

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// Check is one rule that a completed build passes, fails, or that cannot be
// decided. It judges what is around the drivetrain, and takes no part in the
// ranking of builds.
type Check struct {
	Name    string
	Meaning string  // one line: passes when …
	Unit    string  // of value and limit as shown; "" for a yes-or-no check
	PerSI   float64 // shown units per SI unit
	Lower   bool    // the limit is a lower one
	Caution bool    // a failure is worth a word and no more
	Source  string

	// Needs are the keys of parts without which the check is undecided.
	Needs []constraints.Need

	// Applies reports whether the check concerns the outfit.
	Applies func(o *Outfit) bool
	// Test decides.
	Test func(o *Outfit) Finding
}

// Finding is what a check finds: its outcome, and what there is to do or to know.
type Finding struct {
	constraints.Outcome
	Need   *Need     // that the check is about; nil where it is about something else
	Inside bool      // the pack may have inside what the catalog does not have
	Says   Statement // of what is not a need; the zero value says nothing
}

// Result is what one check found of one outfit.
type Result struct {
	*Check
	Finding
}

// Fails reports whether the check is not passed.
func (r Result) Fails() bool { return r.Verdict == constraints.Fail }

// MarginPct is how far the outcome is on the right side of its limit, in
// percent of the limit, as constraints.Check has it.
func (r Result) MarginPct() float64 {
	return (&constraints.Check{Lower: r.Lower}).MarginPct(r.Outcome)
}

// registry is every check, in order.
var registry = []*Check{
	&bms, &mainSwitch, &fuse, &charger, &box, &packCurrent, &key, &smallPulley, &huntingTooth,
}

// Registry lists every check there is, in order.
func Registry() []*Check { return append([]*Check(nil), registry...) }

// Results tests every check that concerns the outfit, in order.
func (o *Outfit) Results() []Result {
	var out []Result
	for _, c := range registry {
		if c.Applies(o) {
			out = append(out, Result{c, c.Test(o)})
		}
	}
	return out
}

// found is a check's finding without a number.
func found(v constraints.Verdict, says Statement) Finding {
	return Finding{Outcome: yesNo(v), Says: says}
}

func always(*Outfit) bool { return true }

func belted(o *Outfit) bool { return o.Build.Drive.Gear == nil }

// atMost holds a value to an upper limit. Either may be NaN: then it is
// undecided.
func atMost(value, limit float64) constraints.Outcome {
	out := constraints.Outcome{Verdict: constraints.Fail, Value: value, Limit: limit}
	switch {
	case math.IsNaN(value) || math.IsNaN(limit):
		out.Verdict = constraints.Undecided
	case drive.AtMost(value, limit):
		out.Verdict = constraints.Pass
	}
	return out
}

// atLeast holds a value to a lower limit, likewise.
func atLeast(value, limit float64) constraints.Outcome {
	out := constraints.Outcome{Verdict: constraints.Fail, Value: value, Limit: limit}
	switch {
	case math.IsNaN(value) || math.IsNaN(limit):
		out.Verdict = constraints.Undecided
	case drive.AtLeast(value, limit):
		out.Verdict = constraints.Pass
	}
	return out
}

// yesNo is the outcome of a check without a value.
func yesNo(v constraints.Verdict) constraints.Outcome {
	return constraints.Outcome{Verdict: v, Value: math.NaN(), Limit: math.NaN()}
}

// ofNeed is a check that passes when the catalog has what a need demands.
func ofNeed(kind string) func(o *Outfit) Finding {
	return func(o *Outfit) Finding { return o.finding(o.Need(kind, "")) }
}

// finding is what a need comes to. A pack that is bought as a whole may have a
// protection board and a fuse inside: then that the catalog has none decides
// nothing.
func (o *Outfit) finding(n *Need) Finding {
	f := Finding{Outcome: yesNo(n.State.Verdict()), Need: n}
	if f.Verdict == constraints.Fail && ready(o.Build) && (n.Kind == "bms" || n.Kind == "fuse") {
		f.Verdict, f.Inside = constraints.Undecided, true
	}
	return f
}
