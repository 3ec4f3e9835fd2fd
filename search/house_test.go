package search

import (
	"encoding/json"
	"maps"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// TestArrowsRunOneWay: each part of the house imports only the parts before
// it, and only the program knows the command line and the tables.
func TestArrowsRunOneWay(t *testing.T) {
	const module = "gearsearch/"
	allowed := map[string][]string{
		"drive":       {},
		"catalog":     {"drive"},
		"constraints": {"drive", "catalog"},
		"search":      {"drive", "catalog", "constraints"},
		"cmd":         {"drive", "catalog", "constraints", "search"},
	}
	// Rooms of one part of the house, likewise: the lowest first.
	within := [][]string{
		{"constraints", "constraints/outfit", "constraints/audit"},
		{"search/internal/walk", "search"},
	}
	// The engine knows problems and their checks, and nothing else of the house;
	// random catalogs are for tests.
	engine, testsOnly := "search/internal/walk", "search/internal/randcat"
	cmdOnly := []string{"github.com/urfave/cli", "github.com/jedib0t/go-pretty"}
	driveOnly := "gonum.org/v1/gonum"

	list := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	list.Dir = ".."
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	decoder := json.NewDecoder(strings.NewReader(string(out)))
	seen := map[string]bool{}
	for decoder.More() {
		var pkg struct {
			ImportPath string
			Imports    []string
		}
		if err := decoder.Decode(&pkg); err != nil {
			t.Fatal(err)
		}
		room, _, _ := strings.Cut(strings.TrimPrefix(pkg.ImportPath, module), "/")
		rooms, ok := allowed[room]
		if !ok {
			t.Errorf("%s stands outside the house", pkg.ImportPath)
			continue
		}
		seen[room], seen[strings.TrimPrefix(pkg.ImportPath, module)] = true, true
		for _, path := range pkg.Imports {
			if inside, ok := strings.CutPrefix(path, module); ok {
				to, _, _ := strings.Cut(inside, "/")
				if inside == testsOnly || pkg.ImportPath == module+engine && inside != "constraints" {
					t.Errorf("%s imports %s, which it must do without", pkg.ImportPath, path)
				}
				if !below(within, inside, strings.TrimPrefix(pkg.ImportPath, module)) {
					t.Errorf("%s imports %s: the arrow runs the wrong way", pkg.ImportPath, path)
				}
				if to != room && !slices.Contains(rooms, to) {
					t.Errorf("%s imports %s: the arrow runs the wrong way", pkg.ImportPath, path)
				}
				continue
			}
			for _, only := range cmdOnly {
				if room != "cmd" && strings.HasPrefix(path, only) {
					t.Errorf("%s imports %s, which only the program may", pkg.ImportPath, path)
				}
			}
			if room == "drive" && strings.Contains(path, ".") && !strings.HasPrefix(path, driveOnly) {
				t.Errorf("%s imports %s: drive knows the standard library and gonum only", pkg.ImportPath, path)
			}
		}
	}
	for _, room := range slices.AppendSeq(slices.Concat(within...), maps.Keys(allowed)) {
		if !seen[room] {
			t.Errorf("the house has no %s", room)
		}
	}
}

// below reports whether one room stands before another, where both are in one
// of the lists.
func below(within [][]string, to, from string) bool {
	for _, rooms := range within {
		at, by := slices.Index(rooms, to), slices.Index(rooms, from)
		if at >= 0 && by >= 0 && at >= by {
			return false
		}
	}
	return true
}
