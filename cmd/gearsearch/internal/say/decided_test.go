package say

import (
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// ruled is the demo under a rule for the electrical rpm.
func ruled(t *testing.T, rule string) *constraints.Problem {
	t.Helper()
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	b := constraints.DefaultBrief()
	b.Limit.ERPMRule, b.Target.TopSpeed = rule, 8
	p, err := constraints.NewProblem(c, b)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestDecided: what the check of the electrical rpm goes by follows from its rule.
func TestDecided(t *testing.T) {
	for _, test := range []struct{ check, rule, want string }{
		{"erpm", constraints.FreeSpin, "No change of wheel or teeth mends erpm: it depends on the kv and pole pairs of the motor, the volts of the battery and the ceiling of the controller"},
		{"erpm", constraints.AtSpeed, "No change of battery mends erpm: it depends on the pole pairs of the motor, the ceiling of the controller, the reduction of the drive and the size of the wheel"},
		{"erpm", constraints.AtTop, ""},
		{"climb", constraints.FreeSpin, ""},
		{"bore", constraints.FreeSpin, "No change of wheel or battery mends bore: it depends on the shaft of the motor and the bore of the drive"},
		{"hanger", constraints.FreeSpin, "No change of wheel or battery mends hanger: it depends on the can length of the motor, the number of motors and the kind of the drive"},
		{"clearance", constraints.FreeSpin, "No change of motor or battery mends clearance: it depends on the size of the drive and the size of the wheel"},
	} {
		p := ruled(t, test.rule)
		for _, c := range constraints.Registry() {
			if got := Decided(c, p); c.Name == test.check && got != test.want {
				t.Errorf("%s, %s: %q, want %q", test.check, test.rule, got, test.want)
			}
		}
	}
}

// TestReadingsFollowScopes: each choice that a check reads, where it does not read
// all of them, has a word, whatever the rule.
func TestReadingsFollowScopes(t *testing.T) {
	for _, rule := range []string{constraints.FreeSpin, constraints.AtSpeed, constraints.AtTop} {
		p := ruled(t, rule)
		for _, c := range constraints.Registry() {
			scope, of := c.Scope(p), readings(c.Name)
			for _, x := range choices {
				if scope != constraints.OnAll && scope&x.scope != 0 && of[x.scope] == "" {
					t.Errorf("%s reads the %s, and readings has no word for it", c.Name, x.word)
				}
			}
		}
	}
}

// TestUntouched: what is freed mends no check that does not read it.
func TestUntouched(t *testing.T) {
	for _, test := range []struct {
		rule  string
		freed constraints.Scope
		want  int
	}{
		{constraints.FreeSpin, constraints.OnWheel | constraints.OnDrive, 1},
		{constraints.FreeSpin, constraints.OnWheel | constraints.OnBattery, 0},
		{constraints.AtSpeed, constraints.OnWheel, 0},
		{constraints.AtSpeed, constraints.OnBattery, 1},
		{constraints.AtTop, constraints.OnBattery, 0},
	} {
		p := ruled(t, test.rule)
		var misses []constraints.Result
		for _, c := range p.Checks() {
			if c.Name == "erpm" {
				misses = append(misses, constraints.Result{Check: c, Outcome: constraints.Outcome{Verdict: constraints.Fail}})
			}
		}
		if got := Untouched(misses, test.freed, p); len(misses) != 1 || len(got) != test.want {
			t.Errorf("%s, %v freed: %d of %d misses are left, want %d", test.rule, test.freed, len(got), len(misses), test.want)
		}
	}
}
