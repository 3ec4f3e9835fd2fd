package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// files are what is packed, and wanted what is found in the archive, in order.
var (
	files  = map[string]string{"z/README.md": "read me", "gearsearch": "\x7fELF", "LICENSE": "free"}
	wanted = []string{"house/ 755", "house/LICENSE 644 free", "house/gearsearch 755 \x7fELF", "house/z/ 755", "house/z/README.md 644 read me"}
	commit = time.Date(2026, 7, 14, 9, 30, 26, 0, time.UTC)
)

// folder writes the files in some order, with permissions for others or
// without, at some time.
func folder(t *testing.T, order []string, others os.FileMode, at time.Time) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "house")
	for _, name := range order {
		file := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(file), 0o700|others); err != nil {
			t.Fatal(err)
		}
		mode := 0o600 | others&0o044
		if name == "gearsearch" {
			mode = 0o700 | others
		}
		if err := os.WriteFile(file, []byte(files[name]), mode); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(file, at, at); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestArchivesAreTheSameBytes(t *testing.T) {
	for _, kind := range []string{".tar.gz", ".zip"} {
		var archives [2][]byte
		for i, dir := range []string{
			folder(t, []string{"z/README.md", "gearsearch", "LICENSE"}, 0o055, commit.Add(time.Hour)),
			folder(t, []string{"LICENSE", "gearsearch", "z/README.md"}, 0, time.Unix(1, 0)),
		} {
			name := filepath.Join(t.TempDir(), "archive"+string(rune('a'+i))+kind)
			if err := pack(dir, name, commit.In(time.FixedZone("", 3600*i))); err != nil {
				t.Fatal(err)
			}
			var err error
			if archives[i], err = os.ReadFile(name); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(archives[0], archives[1]) {
			t.Errorf("%s: made twice, and not the same", kind)
		}
		read := readTar
		if kind == ".zip" {
			read = readZip
		}
		if got := read(t, archives[0]); !slices.Equal(got, wanted) {
			t.Errorf("%s has %q", kind, got)
		}
	}
}

// readTar returns what is in an archive, and looks at times and owners.
func readTar(t *testing.T, data []byte) (entries []string) {
	t.Helper()
	packed, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if packed.Name != "" || !packed.ModTime.IsZero() {
		t.Errorf("gzip says %q of %v", packed.Name, packed.ModTime)
	}
	for r := tar.NewReader(packed); ; {
		h, err := r.Next()
		if errors.Is(err, io.EOF) {
			return entries
		} else if err != nil {
			t.Fatal(err)
		}
		if !h.ModTime.Equal(commit) || h.Uid != 0 || h.Gid != 0 || h.Uname != "" || h.Gname != "" {
			t.Errorf("%s is of %v and of %d %d %q %q", h.Name, h.ModTime, h.Uid, h.Gid, h.Uname, h.Gname)
		}
		entries = append(entries, entry(t, h.Name, os.FileMode(h.Mode), r))
	}
}

func readZip(t *testing.T, data []byte) (entries []string) {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.File {
		if !f.Modified.Equal(commit) {
			t.Errorf("%s is of %v", f.Name, f.Modified)
		}
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		entries = append(entries, entry(t, f.Name, f.Mode().Perm(), in))
	}
	return entries
}

func entry(t *testing.T, name string, mode os.FileMode, in io.Reader) string {
	t.Helper()
	data, err := io.ReadAll(in)
	if err != nil {
		t.Fatal(err)
	}
	permissions := "644"
	if mode == 0o755 {
		permissions = "755"
	} else if mode != 0o644 {
		t.Errorf("%s has the permissions %o", name, mode)
	}
	return strings.TrimSpace(name + " " + permissions + " " + string(data))
}

func TestPackRefuses(t *testing.T) {
	dir := folder(t, []string{"LICENSE"}, 0, commit)
	if err := pack(dir, filepath.Join(t.TempDir(), "archive.rar"), commit); err == nil || !strings.Contains(err.Error(), ".tar.gz or .zip") {
		t.Errorf("another kind: %v", err)
	}
	if err := os.Symlink("LICENSE", filepath.Join(dir, "link")); err != nil {
		t.Skip(err)
	}
	if err := pack(dir, filepath.Join(t.TempDir(), "archive.zip"), commit); err == nil || !strings.Contains(err.Error(), "neither a file nor a folder") {
		t.Errorf("a link: %v", err)
	}
}
