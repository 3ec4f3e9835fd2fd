package constraints

import "testing"

// TestTunedTellsWhatChanges: another kv, reduction or wheel changes what a check
// says of some build where the check's row says so, and of none where not.
func TestTunedTellsWhatChanges(t *testing.T) {
	changed := map[string]Tuning{}
	for _, rule := range rules {
		eachBuild(problemOf(t, mixed(rule)), func(b *Build) {
			kv, reduction, wheel := b.Motor.KV, b.Drive.Reduction, b.Wheel.Diameter
			as := b.Tuned(kv, reduction, wheel)
			for what, tuned := range map[Tuning]*Build{
				TunesKV:        b.Tuned(kv*1.2, reduction, wheel),
				TunesReduction: b.Tuned(kv, reduction*1.2, wheel),
				TunesWheel:     b.Tuned(kv, reduction, wheel*1.2),
			} {
				for _, c := range b.Problem.Checks() {
					if c.Lists(b.Drive) && !alike(c.Test(as), c.Test(tuned)) {
						changed[c.Name] |= what
					}
				}
			}
		})
	}
	for _, c := range Registry() {
		if c.Tuned != changed[c.Name] {
			t.Errorf("check %s: Tuned is %03b, and %03b changes it", c.Name, c.Tuned, changed[c.Name])
		}
	}
}
