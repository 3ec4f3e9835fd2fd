package search

import (
	"encoding/json"
	"maps"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// What only the program may know: the command line, and the tables.
const (
	commandLine = "github.com/urfave/cli"
	tables      = "github.com/jedib0t/go-pretty"
)

// program is the part of the house that is spoken to.
const program = "cmd/gearsearch"

// storey are the rooms of the program, the lowest first; each answer has a room
// of its own in answers.
var storey = []string{
	program + "/internal/output",
	program + "/internal/quantity",
	program + "/internal/layout",
	program + "/internal/layout/progress",
	program + "/internal/outcome",
	program + "/internal/ridelog",
	program + "/internal/dataout/decimal",
	program + "/internal/say",
	program + "/internal/dataout",
	program + "/internal/workbook",
	program + "/internal/files",
	program + "/site",
	program + "/internal/ask",
	program + "/internal/shell",
	program,
}

// silent are the rooms that make no sentences: what they have to say is codes,
// names and quantities, whose words are in the program's room of words.
var silent = []string{"drive", "drive/pack", "constraints/ease", "constraints/outfit", "constraints/audit", engine}

// engine is the room of the search that walks the combinations.
const engine = "search/internal/walk"

// engineKnows is what the engine knows of the house: problems, their checks, and the
// wishes that a walk counts without.
var engineKnows = []string{"constraints", "constraints/ease"}

const answers = program + "/internal/answer/"

// knows are the rooms of the program that may know the command line, and those
// that may know the tables.
var knows = map[string][]string{
	commandLine: {program, program + "/internal/ask", program + "/internal/shell"},
	tables:      {program + "/internal/layout", program + "/internal/layout/progress"},
}

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
		{"drive", "drive/pack"},
		{"catalog/unit", "catalog/field", "catalog"},
		{"constraints/route", "constraints", "constraints/ease", "constraints/outfit", "constraints/audit", "constraints/route/gpx"},
		{"search/internal/walk", "search", "search/fit"},
		storey,
	}
	// Random catalogs and the kits are for tests.
	testsOnly := []string{"search/internal/randcat", "constraints/kittest", "constraints/outfit/outfittest"}
	cmdOnly := []string{commandLine, tables}
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
				if slices.Contains(testsOnly, inside) || pkg.ImportPath == module+engine && !slices.Contains(engineKnows, inside) {
					t.Errorf("%s imports %s, which it must do without", pkg.ImportPath, path)
				}
				if !below(within, inside, strings.TrimPrefix(pkg.ImportPath, module)) {
					t.Errorf("%s imports %s: the arrow runs the wrong way", pkg.ImportPath, path)
				}
				if to != room && !slices.Contains(rooms, to) {
					t.Errorf("%s imports %s: the arrow runs the wrong way", pkg.ImportPath, path)
				}
				if why := walled(strings.TrimPrefix(pkg.ImportPath, module), inside); why != "" {
					t.Errorf("%s imports %s: %s", pkg.ImportPath, path, why)
				}
				continue
			}
			if path == "fmt" && slices.Contains(silent, strings.TrimPrefix(pkg.ImportPath, module)) {
				t.Errorf("%s imports fmt: what is said is said above", pkg.ImportPath)
			}
			for _, only := range cmdOnly {
				if strings.HasPrefix(path, only) && !slices.Contains(knows[only], strings.TrimPrefix(pkg.ImportPath, module)) {
					t.Errorf("%s imports %s, which only %s may", pkg.ImportPath, path, strings.Join(knows[only], ", "))
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

// walled says why one room of the program may not import another, "" where it
// may: answers stand side by side, and nothing but the commands leads to them.
func walled(from, to string) string {
	switch {
	case !strings.HasPrefix(to, answers):
	case strings.HasPrefix(from, answers):
		return "answers do not import one another"
	case from != program:
		return "only the commands lead to answers"
	}
	if strings.HasPrefix(from, answers) && (to == program+"/internal/shell" || to == program) {
		return "the arrow runs the wrong way"
	}
	return ""
}
