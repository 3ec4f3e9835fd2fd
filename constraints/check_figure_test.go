package constraints

import (
	"math"
	"testing"
)

// TestChecksHoldTheirFigures: what a check compares is the figure that its row
// names, and of a check whose value is a figure the row names it.
func TestChecksHoldTheirFigures(t *testing.T) {
	same := map[string]map[string]bool{} // by check and figure: whether they agree so far
	for _, rule := range rules {
		eachBuild(problemOf(t, mixed(rule)), func(b *Build) {
			for _, c := range b.Problem.Checks() {
				if !c.Lists(b.Drive) {
					continue
				}
				o := c.Test(b)
				if math.IsNaN(o.Value) {
					continue
				}
				for _, f := range Figures() {
					if f.Word != nil || f.Unit != c.Unit {
						continue
					}
					if same[c.Name] == nil {
						same[c.Name] = map[string]bool{}
					}
					before, known := same[c.Name][f.Name]
					x := f.Value(b)
					same[c.Name][f.Name] = (before || !known) && (math.IsNaN(x) || near(x, o.Value*c.PerSI, 1e-9))
				}
			}
		})
	}
	for _, c := range Registry() {
		figure := ""
		for _, f := range Figures() {
			if same[c.Name][f.Name] {
				figure = f.Name
			}
		}
		if c.Figure != figure {
			t.Errorf("check %s: Figure is %q, and its value is %q", c.Name, c.Figure, figure)
		}
	}
}
