package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestTooManyToNumber: 9900³ packs, controllers and motors in three numbers, with
// 2000² wheels and gear drives, are 1.16·10¹⁹ combinations, more than 2⁶³. That
// is the catalog's fault, and no interruption.
func TestTooManyToNumber(t *testing.T) {
	list := func(n int, from, step float64) string {
		var items []string
		for i := range n {
			items = append(items, fmt.Sprintf("%.3f", from+step*float64(i)))
		}
		return "[" + strings.Join(items, ", ") + "]"
	}
	parts := strings.Join([]string{
		"schema = 1",
		"[[motor]]", `id = "m"`, "kv = " + list(9900, 100, 0.01), "shaft_mm = 8",
		"[[controller]]", `id = "c"`, "motor_current_a = " + list(9900, 20, 0.001),
		"[[battery]]", `id = "b"`, "series = 10", "nominal_v = " + list(9900, 30, 0.001), "full_v = 42",
		"[[wheel]]", `id = "w"`, "diameter_mm = " + list(2000, 80, 0.001), `hub = "k"`,
		"[[gear_drive]]", `id = "g"`, "ratio = " + list(2000, 2, 0.001), "bore_mm = 8", `hub = "k"`,
	}, "\n")
	path := filepath.Join(t.TempDir(), "parts.toml")
	if err := os.WriteFile(path, []byte(parts), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, command := range []string{"rank", "rank --no-count", "shortlist motor", "relax", "ideal"} {
		r := answerTo(context.Background(), command+" --motors 1,2,4 --top-speed 30km/h --catalog "+path)
		if r.code != 3 || r.stdout != "" ||
			!strings.Contains(r.stderr, "1.16e+19 combinations are more than can be numbered, 9.22e+18") || !strings.Contains(r.stderr, "--keep motor=m-100") {
			t.Errorf("%s: exit code %d, %q, %q", command, r.code, r.stdout, r.stderr)
		}
	}
}
