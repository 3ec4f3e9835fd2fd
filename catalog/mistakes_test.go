package catalog

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Each archive holds the files of a catalog with mistakes of one class, and
// below them what is said of it.
func TestMistakes(t *testing.T) {
	paths, err := filepath.Glob("testdata/mistakes/*.txtar")
	if err != nil || len(paths) == 0 {
		t.Fatal("no archives of mistakes", err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(path)
			if err != nil {
				t.Fatal(err)
			}
			last := len(archive.Files) - 1
			var files []Source
			for _, f := range archive.Files[:last] {
				files = append(files, Source{Name: f.Name, Data: f.Data})
			}
			c, err := Read(files...)
			var problems field.Problems
			if c != nil || !errors.As(err, &problems) {
				t.Fatalf("a catalog with mistakes is read: %v", err)
			}
			got := err.Error() + "\n"
			if *update {
				archive.Files[last].Data = []byte(got)
				if err := os.WriteFile(path, txtar.Format(archive), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(string(archive.Files[last].Data), got); diff != "" {
				t.Errorf("what is said (-want +got):\n%s", diff)
			}
		})
	}
}
