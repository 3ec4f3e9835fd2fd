package catalog

import (
	"math"
	"slices"
	"testing"
)

const chainParts = `
[[sprocket]]
id = "small"
side = "motor"
profile = "chain-06c"
teeth = [11, 12]
bore_mm = 8
shaft_key = "keyway"
[[pulley]]
id = "round"
side = "wheel"
profile = "htd-5m"
teeth = 40
width_mm = 16
[[belt]]
id = "belt"
profile = "htd-5m"
teeth = 60
width_mm = 15
[[chain]]
id = "given"
profile = "chain-06c"
links = "40 links"
breaking_n = "9kN"
[[chain]]
id = "bare"
profile = "chain-05b"
links = 41
`

func TestChains(t *testing.T) {
	c := read(t, chainParts)
	var kinds []string
	for _, p := range c.AllPulleys() {
		kinds = append(kinds, p.ID+" "+p.Kind())
	}
	for _, b := range c.AllBelts() {
		kinds = append(kinds, b.ID+" "+b.Kind())
	}
	want := []string{"round pulley", "small-11 sprocket", "small-12 sprocket", "bare chain", "belt belt", "given chain"}
	if !slices.Equal(kinds, want) {
		t.Errorf("%v, want %v", kinds, want)
	}
	small, ok := c.PulleyByID("small-12")
	if !ok || small.Teeth != 12 || small.Bore != 0.008 || small.ShaftKey != KeyKeyway || !math.IsNaN(small.Width) {
		t.Errorf("sprocket %+v", small)
	}
	bare, given := c.Chains[0], c.Chains[1]
	if given.Teeth != 40 || given.BreakingLoad() != 9000 || !given.Closes() || !math.IsNaN(given.Width) {
		t.Errorf("chain %+v", given)
	}
	// ISO 606, from memory: 05B bears at least 4 400 N.
	if bare.BreakingLoad() != 4400 || bare.Closes() || !math.IsNaN(bare.Breaking) {
		t.Errorf("chain %+v", bare)
	}
	belt := c.Belts[0]
	if !math.IsNaN(belt.BreakingLoad()) || !belt.Closes() || belt.Breaking == 0 {
		t.Errorf("belt %+v", belt)
	}
}

// What stands in the slots of other kinds is counted where there is any.
func TestChainsAreCounted(t *testing.T) {
	count := func(c *Catalog) map[string]int {
		out := map[string]int{}
		for _, k := range c.Count() {
			out[k.Kind] = k.N
		}
		return out
	}
	if n := count(read(t, chainParts)); n["sprocket"] != 2 || n["chain"] != 2 || n["pulley"] != 1 {
		t.Errorf("%v", n)
	}
	if n := count(read(t, "[[motor]]\nid = 'm'\nkv = 190\n")); len(n) != 10 {
		t.Errorf("%v, want the ten kinds of every drivetrain", n)
	}
}
