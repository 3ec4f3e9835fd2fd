package main

import (
	"os/exec"
	"path/filepath"
	"testing"
)

// BenchmarkStart is from the start of the program to the end of its table on
// the demo: 16 million combinations.
func BenchmarkStart(b *testing.B) {
	program := filepath.Join(b.TempDir(), "gearsearch")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	for b.Loop() {
		if out, err := exec.Command(program, "rank").Output(); err != nil || len(out) == 0 {
			b.Fatalf("%v\n%s", err, out)
		}
	}
}
