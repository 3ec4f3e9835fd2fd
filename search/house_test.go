package search

import (
	"encoding/json"
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
		seen[room] = true
		for _, path := range pkg.Imports {
			if inside, ok := strings.CutPrefix(path, module); ok {
				to, _, _ := strings.Cut(inside, "/")
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
	for room := range allowed {
		if !seen[room] {
			t.Errorf("the house has no %s", room)
		}
	}
}
