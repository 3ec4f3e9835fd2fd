package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/answer/reference"
)

// TestReferencePages holds the pages in docs to what the command prints. With
// -update it writes them anew.
func TestReferencePages(t *testing.T) {
	for _, name := range reference.Names() {
		file := filepath.Join("docs", name+".md")
		page := answered(t, "reference "+name)
		if *update {
			if err := os.WriteFile(file, []byte(page), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(page, string(got)); d != "" {
			t.Errorf("%s differs from gearsearch reference %s (-program +file); -update writes it anew:\n%s", file, name, d)
		}
	}
}

// TestReferenceTables: every row of a table has as many cells as its head, so that
// no text of a row breaks it.
func TestReferenceTables(t *testing.T) {
	rows := 0
	for _, name := range reference.Names() {
		cells := 0
		for line := range strings.Lines(answered(t, "reference "+name)) {
			n := strings.Count(strings.ReplaceAll(line, `\|`, ""), "|")
			switch {
			case n == 0:
				cells = 0
			case cells == 0:
				cells = n
			case n != cells:
				t.Errorf("%s: %d cells, not %d: %s", name, n-1, cells-1, line)
			default:
				rows++
			}
		}
	}
	if rows < 200 {
		t.Errorf("only %d rows looked at", rows)
	}
}
