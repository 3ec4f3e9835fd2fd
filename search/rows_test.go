package search

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"gearsearch/constraints"
)

// TestRowsAreWhole names the empty field of any row: a check, a figure, a
// criterion of the score, a limit. A field that is added to a row is asked for
// too; what may stay empty is said here, and when.
func TestRowsAreWhole(t *testing.T) {
	for _, c := range constraints.Registry() {
		yesOrNo := c.Unit == ""
		whole(t, "check "+c.Name, *c, map[string]bool{
			"Unit": yesOrNo, "PerSI": yesOrNo,
			"Figure": true, // constraints.TestChecksHoldTheirFigures
			"Joins":  c.Unit != "" || c.Name == "sensor",
			"Needs":  true, // audit.TestGapsAreWhatChecksNeed
			"Tuned":  true, // constraints.TestTunedTellsWhatChanges
			"Eased":  c.Alone || c.Name == "sensor",
			"Decide": c.Corner != nil, "Corner": c.Decide != nil, // constraints.TestRegistry
			"Sure": true, "Least": true, "Window": true, "Core": true, "Adds": true, "Doubts": true, // TestWindowsAgreeWithChecks, TestLanesEqualPlain
		})
		for _, e := range c.Eased {
			k := keyNamed(e.Key)
			switch {
			case k == nil:
				t.Errorf("check %s: a brief has no key %s that is a number", c.Name, e.Key)
			case k.Eases == 0 || k.Eased == "":
				t.Errorf("limit %s: Eases or Eased is empty, and %s gives way to it", e.Key, c.Name)
			case e.At == nil && e.Try == constraints.ByFormula:
				t.Errorf("check %s: neither At nor Try finds %s", c.Name, e.Key)
			case k.ShownIn() == "" && e.Key != "limit.heat_factor": // the only bare number
				t.Errorf("limit %s: Unit is empty, and %s gives way to it", e.Key, c.Name)
			}
		}
	}
	for _, f := range constraints.Figures() {
		whole(t, "figure "+f.Name, f, map[string]bool{
			"Unit":   true, // of bare numbers and words
			"Easier": true, // of stops alone
			"Better": true,
			"Value":  f.Word != nil, "Word": f.Value != nil,
		})
	}
	for _, c := range Criteria() {
		whole(t, "criterion "+c.Name, c, nil)
	}
}

// TestLimitsAsk: a target or limit that nobody sets unless something is wanted,
// and that a check holds builds to, says so in its row. A brief that has it
// alone asks for something.
func TestLimitsAsk(t *testing.T) {
	plain := &constraints.Problem{Brief: constraints.DefaultBrief(), AirDensity: math.NaN(), Grip: math.NaN()}
	for _, s := range plain.Resolved() {
		for _, k := range s.Keys {
			key := s.Name + "." + k.Key
			held := slices.ContainsFunc(constraints.Registry(), func(c *constraints.Check) bool {
				return slices.ContainsFunc(c.Eased, func(e constraints.Easing) bool { return e.Key == key && e.Try == constraints.ByFormula })
			})
			if want := held && k.Value == nil && s.Name != "board"; k.Asks != want {
				t.Errorf("limit %s: Asks is %v", key, k.Asks)
			}
			if k.Eases != 0 && !slices.Contains(easedKeys(), key) {
				t.Errorf("limit %s: Eases is set, and no check gives way to it", key)
			}
		}
	}
}

// easedKeys are the keys that some check gives way to.
func easedKeys() []string {
	var keys []string
	for _, c := range constraints.Registry() {
		for _, e := range c.Eased {
			keys = append(keys, e.Key)
		}
	}
	return keys
}

// keyNamed is the key of a brief of that name.
func keyNamed(key string) *constraints.BriefKey {
	for _, k := range constraints.BriefKeys() {
		if k.Section+"."+k.Key == key {
			return &k
		}
	}
	return nil
}

// whole reports the fields of a row that are empty and may not be. A flag is
// never empty.
func whole(t *testing.T, name string, row any, may map[string]bool) {
	t.Helper()
	v := reflect.ValueOf(row)
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.IsExported() && f.Type.Kind() != reflect.Bool && v.Field(i).IsZero() && !may[f.Name] {
			t.Errorf("%s: %s is empty", name, f.Name)
		}
	}
	for field := range may {
		if _, ok := v.Type().FieldByName(field); !ok {
			t.Errorf("%s: a row has no field %s", name, field)
		}
	}
}
