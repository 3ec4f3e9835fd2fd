package say

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files of testdata anew")

// record is a golden file of texts and what was said to them.
type record struct{ strings.Builder }

// add notes one text and what was said to it.
func (tr *record) add(name, text, said string) {
	if said == "" {
		said = "(nothing)"
	}
	tr.WriteString("# " + name + "\n\n")
	for line := range strings.Lines(strings.TrimSpace(text)) {
		tr.WriteString(strings.TrimRight("    "+strings.TrimSuffix(line, "\n"), " ") + "\n")
	}
	tr.WriteString("\n" + said + "\n\n")
}

// check compares the record to its file in testdata.
func (tr *record) check(t *testing.T, file string) {
	t.Helper()
	path := filepath.Join("testdata", file)
	if *update {
		if err := os.WriteFile(path, []byte(tr.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; go test -update writes it", err)
	}
	if d := cmp.Diff(string(want), tr.String()); d != "" {
		t.Errorf("%s differs (-want +got); go test -update writes it anew:\n%s", path, d)
	}
}
