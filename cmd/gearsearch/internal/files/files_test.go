package files

import (
	"os"
	"path/filepath"
	"testing"
)

// Of several files, all are written or none, nor a temporary one.
func TestAllOrNone(t *testing.T) {
	dir := t.TempDir()
	var f Register
	var targets []*Target
	for _, name := range []string{"first", "second"} {
		target, err := f.Vacant(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		targets = append(targets, target)
	}
	data := [][]byte{[]byte("one"), []byte("two")}
	if err := os.WriteFile(targets[1].Name, []byte("of another"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteAll(targets, data); err == nil {
		t.Error("a file that has come to be there is overwritten")
	}
	if names, _ := filepath.Glob(filepath.Join(dir, "*")); len(names) != 1 {
		t.Errorf("files %q are there, want the second alone", names)
	}
	if err := os.Remove(targets[1].Name); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteAll(targets, data); err != nil {
		t.Fatal(err)
	}
	for i, target := range targets {
		if got, err := os.ReadFile(target.Name); string(got) != string(data[i]) {
			t.Errorf("%s holds %q, %v", target.Name, got, err)
		}
	}
}
