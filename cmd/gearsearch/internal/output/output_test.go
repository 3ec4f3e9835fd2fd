package output

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// writeFile writes data to a file.
func writeFile(path string, data []byte) error {
	f, err := Create(path)
	if err != nil {
		return err
	}
	defer f.Abort()
	if _, err := f.Write(data); err != nil {
		return err
	}
	return f.Commit()
}

// only asserts that the folder holds these files and nothing else, so that no
// temporary file is left.
func only(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if len(got) != len(names) {
		t.Fatalf("folder holds %q, want %q", got, names)
	}
	for i := range names {
		if got[i] != names[i] {
			t.Fatalf("folder holds %q, want %q", got, names)
		}
	}
}

func content(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Fatalf("%s holds %q, want %q", filepath.Base(path), got, want)
	}
}

func TestCommit(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out.json")
	if err := writeFile(path, []byte("first")); err != nil {
		t.Fatal(err)
	}
	content(t, path, "first")
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := writeFile(path, []byte("second")); err != nil {
		t.Fatal(err)
	}
	content(t, path, "second")
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Fatalf("rights are %v, %v, want those of the file replaced, 0640", info.Mode().Perm(), err)
	}
	only(t, dir, "out.json")
}

func TestNewFileGetsTheRightsOfTheMask(t *testing.T) {
	old := syscall.Umask(0o027)
	defer syscall.Umask(old)
	path := filepath.Join(t.TempDir(), "out")
	if err := writeFile(path, nil); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Fatalf("rights are %v, %v, want 0666 less the mask 0027", info.Mode().Perm(), err)
	}
}

func TestAbortKeepsWhatWasThere(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out")
	if err := os.WriteFile(path, []byte("before"), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Write(make([]byte, 1<<20)); err != nil { // beyond the buffer
		t.Fatal(err)
	}
	content(t, path, "before")
	f.Abort()
	content(t, path, "before")
	only(t, dir, "out")
}

func TestAbortAfterCommit(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out")
	f, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Commit(); err != nil {
		t.Fatal(err)
	}
	f.Abort()
	only(t, dir, "out")
}

func TestCommitFails(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out")
	f, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	// A folder that appears in the file's place cannot be replaced.
	if err := os.MkdirAll(filepath.Join(path, "x"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := f.Commit(); err == nil {
		t.Fatal("committed over a folder")
	}
	only(t, dir, "out")
}

func TestLinkIsFollowed(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real"), filepath.Join(dir, "link")
	if err := os.WriteFile(real, []byte("before"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real", link); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	if err := writeFile(link, []byte("after")); err != nil {
		t.Fatal(err)
	}
	content(t, real, "after")
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Fatal("the link was replaced")
	}
	only(t, dir, "link", "real")
}

func TestDeviceIsWrittenInPlace(t *testing.T) {
	if err := writeFile(os.DevNull, []byte("gone")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode().IsRegular() {
		t.Fatalf("%s is %v, %v: replaced", os.DevNull, info.Mode(), err)
	}
}

func TestCreateRefuses(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{dir, filepath.Join(dir, "no", "such", "folder")} {
		_, err := Create(path)
		var p *fs.PathError
		if !errors.As(err, &p) || p.Path != path {
			t.Errorf("%s: %v, want a path error that names it", path, err)
		}
	}
	only(t, dir)
}
