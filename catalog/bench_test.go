package catalog

import (
	"fmt"
	"strings"
	"testing"
)

// parts writes n parts as a catalog file: packs, motors, pulleys, wheels and
// gear drives with all the keys that real ones have.
func parts(n int) []byte {
	var b strings.Builder
	b.WriteString("schema = 1\ncurrency = \"EUR\"\n\n[[cell]]\nid = \"cell\"\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 2.5\n")
	for i := 1; i < n; i++ {
		switch i % 5 {
		case 0:
			fmt.Fprintf(&b, "\n[[battery]]\nid = \"pack-%d\"\nname = \"Pack number %d\"\nseries = 12\nparallel = 4\ncell = \"cell\"\nwiring_mohm = 8.5\nprice = 312.50\nmass_g = 2950\ndischarge_a = 80\n", i, i)
		case 1:
			fmt.Fprintf(&b, "\n[[motor]]\nid = \"motor-%d\"\nname = \"Motor number %d\"\nkv = 190\npole_pairs = 7\nresistance_mohm = 48.5\nno_load_current_a = 1.25\npeak_current_a = 90\ncontinuous_current_a = 55\nmax_power_w = 2600\nmax_volts = 52\nshaft_mm = 8\nshaft_key = \"keyway\"\ncan_diameter_mm = 63\ncan_length_mm = 74\nsensored = true\nprice = 99.90\nmass_g = 820\n", i, i)
		case 2:
			fmt.Fprintf(&b, "\n[[pulley]]\nid = \"pulley-%d\"\nname = \"Pulley number %d\"\nside = \"wheel\"\nprofile = \"htd-5m\"\nteeth = 40\nwidth_mm = 16\nhub = [\"five\", \"eight\"]\nprice = 24\nmass_g = 80\n", i, i)
		case 3:
			fmt.Fprintf(&b, "\n[[wheel]]\nid = \"wheel-%d\"\nname = \"Wheel number %d\"\ndiameter_mm = 97\nwidth_mm = 52\nhub = \"five\"\ntyre = \"urethane\"\nprice = 60\nmass_g = 250\n", i, i)
		case 4:
			fmt.Fprintf(&b, "\n[[gear_drive]]\nid = \"gear-%d\"\nname = \"Gear drive number %d\"\ndriver_teeth = 13\ndriven_teeth = 36\nbore_mm = 8\nshaft_key = \"keyway\"\nhub = [\"five\", \"eight\"]\nmax_torque_nm = 24\noutside_mm = 62\nprice = 180\nmass_g = 410\n", i, i)
		}
	}
	return []byte(b.String())
}

// BenchmarkRead reads a catalog of 10 000 parts; the aim is 100 ms on one
// core.
func BenchmarkRead(b *testing.B) {
	const n = 10_000
	src := Source{Name: "parts.toml", Data: parts(n)}
	b.SetBytes(int64(len(src.Data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(src); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/part")
}

// BenchmarkReadCSV reads 10 000 pulleys of a CSV file.
func BenchmarkReadCSV(b *testing.B) {
	const n = 10_000
	var text strings.Builder
	text.WriteString("id,name,side,profile,teeth,width_mm,hub,price,mass_g\n")
	for i := range n {
		fmt.Fprintf(&text, "pulley-%d,Pulley number %d,wheel,htd-5m,40,16,five|eight,24,80\n", i, i)
	}
	src := Source{Name: "pulley.csv", Data: []byte(text.String())}
	b.SetBytes(int64(len(src.Data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(src); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/part")
}
