package audit_test

import (
	"fmt"
	"strings"
	"testing"

	"gearsearch/constraints/audit"
)

// manyParts writes n parts as a catalog file: packs, motors, pulleys, wheels and
// gear drives with all the keys that real ones have.
func manyParts(n int) string {
	var b strings.Builder
	b.WriteString("schema = 1\n[[cell]]\nid = \"cell\"\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 2.5\n")
	for i := range n {
		switch i % 5 {
		case 0:
			fmt.Fprintf(&b, "[[battery]]\nid = \"pack-%d\"\nseries = 12\nparallel = 4\ncell = \"cell\"\nwiring_mohm = 8.5\nprice = 312.50\nmass_g = 2950\ndischarge_a = 80\n", i)
		case 1:
			fmt.Fprintf(&b, "[[motor]]\nid = \"motor-%d\"\nkv = 190\npole_pairs = 7\nresistance_mohm = 48.5\nno_load_current_a = 1.25\npeak_current_a = 90\ncontinuous_current_a = 55\nmax_power_w = 2600\nmax_volts = 52\nshaft_mm = 8\nshaft_key = \"keyway\"\ncan_diameter_mm = 63\ncan_length_mm = 74\nsensored = true\nprice = 99.90\nmass_g = 820\n", i)
		case 2:
			fmt.Fprintf(&b, "[[pulley]]\nid = \"pulley-%d\"\nside = \"wheel\"\nprofile = \"htd-5m\"\nteeth = 40\nwidth_mm = 16\nhub = [\"five\", \"eight\"]\nprice = 24\nmass_g = 80\n", i)
		case 3:
			fmt.Fprintf(&b, "[[wheel]]\nid = \"wheel-%d\"\ndiameter_mm = 97\nwidth_mm = 52\nhub = \"five\"\ntyre = \"urethane\"\nprice = 60\nmass_g = 250\n", i)
		case 4:
			fmt.Fprintf(&b, "[[gear_drive]]\nid = \"gear-%d\"\ndriver_teeth = 13\ndriven_teeth = 36\nbore_mm = 8\nshaft_key = \"keyway\"\nhub = [\"five\", \"eight\"]\nmax_torque_nm = 24\noutside_mm = 62\nprice = 180\nmass_g = 410\n", i)
		}
	}
	return b.String()
}

// BenchmarkAudit says all there is to say of a catalog of 10 000 parts: of good
// ones, and of ones of which none fits another, so that each is tried with
// each.
func BenchmarkAudit(b *testing.B) {
	good := manyParts(10_000)
	misfits := strings.NewReplacer("bore_mm = 8", "bore_mm = 9", `hub = "five"`, `hub = "six"`, "max_volts = 52", "max_volts = 20").Replace(good)
	for _, bench := range []struct{ name, text string }{{"good", good}, {"misfits", misfits}} {
		b.Run(bench.name, func(b *testing.B) {
			c := readParts(b, strings.TrimPrefix(bench.text, "schema = 1\n"))
			for b.Loop() {
				audit.Doubts(c)
				audit.Idle(c)
				audit.Gaps(c)
			}
		})
	}
}
