package route

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"gearsearch/catalog/field"
)

// BenchmarkLongestCSV reads a file of as many rows as one may have.
func BenchmarkLongestCSV(b *testing.B) {
	var text strings.Builder
	text.WriteString("distance_m,height_m\n")
	for i := range MaxLegs + 1 {
		fmt.Fprintf(&text, "%.1f,%.1f\n", float64(i)*9.4, float64(i%97))
	}
	src := field.Source{Name: "way.csv", Data: []byte(text.String())}
	for b.Loop() {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		way, err := ReadCSV(src, grounds)
		if err != nil {
			b.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/(1<<20), "MB-allocated")
		b.ReportMetric(float64(len(way.Legs)), "legs")
	}
}
