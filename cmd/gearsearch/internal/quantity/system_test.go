package quantity

import (
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// TestUnitsHaveRows: every unit that the program reads or computes in has a
// row, and what has a figure's unit in its name ends as the row says.
func TestUnitsHaveRows(t *testing.T) {
	known := func(what, unit string) {
		if !slices.ContainsFunc(unitRows, func(r unitRow) bool { return r.unit == unit }) {
			t.Errorf("unit %s: there is no row, and %s is in it", unit, what)
		}
	}
	for _, f := range constraints.Figures() {
		known("figure "+f.Name, f.Unit)
		if ending := rowOf(f.Unit).ending; !strings.HasSuffix(f.Name, ending) {
			t.Errorf("figure %s: the name does not end in %s", f.Name, ending)
		}
	}
	for _, c := range constraints.Registry() {
		known("check "+c.Name, c.Unit)
	}
	for _, k := range constraints.BriefKeys() {
		known(k.Section+"."+k.Key, k.Unit)
	}
	for _, k := range catalog.Kinds() {
		for _, info := range k.Fields {
			known(k.Name+" "+info.Key, info.Unit)
		}
	}
}

// TestUnitRowsAreWhole: an imperial twin comes with its factor, and each unit
// has one row.
func TestUnitRowsAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range unitRows {
		if seen[r.unit] || (r.imperial == "") != (r.factor == 0) {
			t.Errorf("unit %q: twice, or imperial or factor is empty", r.unit)
		}
		seen[r.unit] = true
	}
}
