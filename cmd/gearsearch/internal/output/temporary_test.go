package output

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// TestErrorsNameWhatWasAskedFor: nobody knows the temporary file, nor where a
// link leads.
func TestErrorsNameWhatWasAskedFor(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out")
	f, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(path, "x"), 0o700); err != nil {
		t.Fatal(err)
	}
	names(t, f.Commit(), path)

	f, err = Create(filepath.Join(dir, "other"))
	if err != nil {
		t.Fatal(err)
	}
	f.file.Close() // so that writing fails
	_, err = f.Write(make([]byte, 1<<20))
	names(t, err, filepath.Join(dir, "other"))
	f.Abort()

	if _, err := os.Stat("/dev/full"); err == nil {
		link := filepath.Join(dir, "link")
		if err := os.Symlink("/dev/full", link); err != nil {
			t.Fatal(err)
		}
		err := writeFile(link, []byte("x"))
		names(t, err, link)
		if !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("%v, want the reason", err)
		}
	}

	folder, err := CreateFolder(filepath.Join(dir, "out")) // which is there
	if err != nil {
		t.Fatal(err)
	}
	if err := folder.Write(Entry{"a.csv", nil}); err != nil {
		t.Fatal(err)
	}
	names(t, folder.Write(Entry{"a.csv", nil}), filepath.Join(dir, "out", "a.csv"))
	names(t, folder.Commit(), filepath.Join(dir, "out"))
	only(t, dir, slices.DeleteFunc([]string{"link", "out"}, func(n string) bool { _, err := os.Lstat(filepath.Join(dir, n)); return err != nil })...)
}

func names(t *testing.T, err error, path string) {
	t.Helper()
	var p *fs.PathError
	if !errors.As(err, &p) || p.Path != path || p.Op != "write" {
		t.Errorf("%v, want a path error of writing %s", err, path)
	}
	if err != nil && strings.Contains(err.Error(), mark) {
		t.Errorf("%v names the temporary file", err)
	}
}

func TestReadOnlyFileIsNotReplaced(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out")
	if err := os.WriteFile(path, []byte("kept"), 0o444); err != nil {
		t.Fatal(err)
	}
	err := writeFile(path, []byte("lost"))
	names(t, err, path)
	if !errors.Is(err, errReadOnly) {
		t.Errorf("%v", err)
	}
	content(t, path, "kept")
	only(t, dir, "out")
}

func TestLinkToNothingIsFollowed(t *testing.T) {
	dir := t.TempDir()
	if err := os.Symlink("real", filepath.Join(dir, "link")); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	if err := writeFile(filepath.Join(dir, "link"), []byte("after")); err != nil {
		t.Fatal(err)
	}
	content(t, filepath.Join(dir, "real"), "after")
	only(t, dir, "link", "real")
}

func TestLongName(t *testing.T) {
	dir := t.TempDir()
	name := strings.Repeat("\u00e4", 125) + ".json" // 255 bytes, the most that file systems take
	if err := writeFile(filepath.Join(dir, name), []byte("x")); err != nil {
		t.Fatal(err)
	}
	only(t, dir, name)
}

// killed is set in a run that is to be killed with a file and a folder in work.
const killed = "GEARSEARCH_TEST_KILLED"

// TestLeftBehind: what a killed run leaves is removed by the next that writes
// the same, what a living one works on is not, nor what only looks alike.
func TestLeftBehind(t *testing.T) {
	if dir := os.Getenv(killed); dir != "" {
		if _, err := Create(filepath.Join(dir, "out")); err != nil {
			t.Fatal(err)
		}
		if _, err := CreateFolder(filepath.Join(dir, "folder")); err != nil {
			t.Fatal(err)
		}
		_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
	}
	dir := t.TempDir()
	run := exec.Command(os.Args[0], "-test.run=^TestLeftBehind$")
	run.Env = append(os.Environ(), killed+"="+dir)
	if err := run.Run(); err == nil {
		t.Fatal("the run was not killed")
	}
	left := func() (n int) {
		entries, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if strings.Contains(e.Name(), mark) {
				n++
			}
		}
		return n
	}
	if left() != 2 {
		t.Fatalf("the killed run left %d", left())
	}
	for _, name := range []string{".out.tmp", ".out.gearsearch-NOT.tmp", "out.gearsearch-1.tmp"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	alive, err := Create(filepath.Join(dir, "out"))
	if err != nil {
		t.Fatal(err)
	}
	living, err := CreateFolder(filepath.Join(dir, "folder"))
	if err != nil {
		t.Fatal(err)
	}
	if err := writeFile(filepath.Join(dir, "out"), []byte("second")); err != nil {
		t.Fatal(err)
	}
	second, err := CreateFolder(filepath.Join(dir, "folder"))
	if err != nil {
		t.Fatal(err)
	}
	second.Abort()
	if err := living.Write(Entry{"a.csv", []byte("a")}); err != nil {
		t.Errorf("the folder of a living run is gone: %v", err)
	}
	if err := living.Commit(); err != nil {
		t.Errorf("the folder of a living run is gone: %v", err)
	}
	if err := alive.Commit(); err != nil {
		t.Errorf("the file of a living run is gone: %v", err)
	}
	only(t, dir, ".out.gearsearch-NOT.tmp", ".out.tmp", "folder", "out", "out.gearsearch-1.tmp")
}
