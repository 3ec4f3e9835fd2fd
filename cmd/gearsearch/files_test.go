package main

import (
	"context"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// TestRegister: what is read is not written, whatever it is called, and nothing
// is written twice; whichever of the two is named first.
func TestRegister(t *testing.T) {
	t.Chdir(t.TempDir())
	write := func(name string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(name), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	link := func(err error) {
		t.Helper()
		if err != nil {
			t.Skipf("no links here: %v", err)
		}
	}
	for _, dir := range []string{"tables", "elsewhere", "deep"} {
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	write("parts.toml")
	write("other.toml")
	write("tables/motor.csv")
	write("elsewhere/wheel.csv")
	link(os.Symlink("parts.toml", "soft.toml"))
	link(os.Link("parts.toml", "hard.toml"))
	link(os.Symlink("../elsewhere/wheel.csv", "tables/wheel.csv"))
	link(os.Symlink("tables", "shelf"))
	link(os.Symlink("deep", "shaft"))
	link(os.Symlink("deep/new.toml", "pointer.toml"))
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	const refused = true
	for _, tt := range []struct {
		reads   []string
		writes  []string
		refused bool
		why     string
	}{
		{[]string{"parts.toml"}, []string{"other.toml"}, !refused, "two files"},
		{[]string{"parts.toml"}, []string{"new.toml"}, !refused, "a new file"},
		{[]string{"parts.toml"}, []string{"parts.toml"}, refused, "the same name"},
		{[]string{"parts.toml"}, []string{"./deep/../parts.toml"}, refused, "another way to it"},
		{[]string{"parts.toml"}, []string{filepath.Join(here, "parts.toml")}, refused, "from the root"},
		{[]string{"parts.toml"}, []string{"soft.toml"}, refused, "a symbolic link to it"},
		{[]string{"soft.toml"}, []string{"parts.toml"}, refused, "read by a symbolic link"},
		{[]string{"parts.toml"}, []string{"hard.toml"}, refused, "a hard link"},
		{[]string{"other.toml", "parts.toml"}, []string{"parts.toml"}, refused, "the second of two"},
		{[]string{"tables"}, []string{"tables/motor.csv"}, refused, "a table of a folder"},
		{[]string{"tables"}, []string{"tables/cell.csv"}, refused, "a new table of a folder, which it would have next time"},
		{[]string{"tables"}, []string{"shelf/cell.CSV"}, refused, "the folder by a link"},
		{[]string{"tables"}, []string{"elsewhere/wheel.csv"}, refused, "a table that is a link"},
		{[]string{"tables"}, []string{"elsewhere/motor.csv"}, !refused, "a table of another folder"},
		{[]string{"tables"}, []string{"tables/sheet.md"}, !refused, "no table"},
		{nil, []string{"a.csv", "b.csv"}, !refused, "two new files"},
		{nil, []string{"a.csv", "./a.csv"}, refused, "one new file"},
		{nil, []string{"deep/a.csv", "shaft/a.csv"}, refused, "one new file in a folder with a link"},
		{nil, []string{"deep/new.toml", "pointer.toml"}, refused, "a link to what is not there yet"},
		{nil, []string{"parts.toml", "hard.toml"}, refused, "one file by two names"},
		{nil, []string{os.DevNull, os.DevNull}, !refused, "a device, which loses nothing"},
	} {
		for _, readFirst := range []bool{true, false} {
			f, problem := new(files.Register), error(nil)
			reads := func() {
				for _, name := range tt.reads {
					info, err := os.Stat(name)
					if err != nil {
						t.Fatal(err)
					}
					if !info.IsDir() {
						_, err = f.Read(t.Context(), name, nil)
					} else if _, err = f.Load(t.Context(), []string{name}); err != nil && strings.Contains(err.Error(), ".csv:1:1: ") {
						err = nil // the tables are none
					}
					if problem == nil {
						problem = err
					}
				}
			}
			writes := func() {
				for i, name := range tt.writes {
					if _, err := f.Target("flag "+string(rune('1'+i)), name); problem == nil {
						problem = err
					}
				}
			}
			if readFirst {
				reads()
				writes()
			} else {
				writes()
				reads()
			}
			if _, wrong := problem.(*outcome.UsageError); wrong != tt.refused || !wrong && problem != nil {
				t.Errorf("%s, read first %t: %v", tt.why, readFirst, problem)
			}
		}
	}
	for _, name := range []string{"parts.toml", "tables/motor.csv", "elsewhere/wheel.csv"} {
		if data, err := os.ReadFile(name); err != nil || string(data) != name {
			t.Errorf("%s holds %q, %v", name, data, err)
		}
	}
}

// TestStandardInputIsRegistered: the shell has opened a file for it.
func TestStandardInputIsRegistered(t *testing.T) {
	name := filepath.Join(t.TempDir(), "brief.toml")
	if err := os.WriteFile(name, []byte("schema = 1"), 0o600); err != nil {
		t.Fatal(err)
	}
	in, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	f := new(files.Register)
	if _, err := f.Target("-o "+name, name); err != nil {
		t.Fatal(err)
	}
	if _, err := f.Read(t.Context(), "", in); err == nil || !strings.Contains(err.Error(), "standard input") {
		t.Errorf("%v, want a refusal", err)
	}
}

// TestStream: what reads a file goes on until the file or the context ends, and its errors
// are told as what they are.
func TestStream(t *testing.T) {
	name := filepath.Join(t.TempDir(), "way.gpx")
	if err := os.WriteFile(name, []byte("a way"), 0o600); err != nil {
		t.Fatal(err)
	}
	all := func(r io.Reader) error {
		_, err := io.ReadAll(r)
		return err
	}
	ended, end := context.WithCancel(t.Context())
	end()
	silent, speaker := io.Pipe()
	defer speaker.Close()
	for _, tt := range []struct {
		why   string
		ctx   context.Context
		name  string
		stdin io.Reader
		read  func(r io.Reader) error
		want  error
	}{
		{"a file", t.Context(), name, nil, all, nil},
		{"standard input", t.Context(), "", strings.NewReader("a way"), all, nil},
		{"a file that is not there", t.Context(), name + "x", nil, all, fs.ErrNotExist},
		{"a reader that breaks", t.Context(), "", iotest.ErrReader(io.ErrUnexpectedEOF), all, io.ErrUnexpectedEOF},
		{"a file, interrupted", ended, name, nil, all, outcome.ErrInterrupted},
		{"standard input that says nothing, interrupted", ended, "", silent, all, outcome.ErrInterrupted},
	} {
		err := new(files.Register).Stream(tt.ctx, tt.name, tt.stdin, tt.read)
		if !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.why, err, tt.want)
		}
	}
	err := new(files.Register).Stream(t.Context(), name, nil, func(io.Reader) error { return field.Problems{{Message: "wrong"}} })
	if _, ok := err.(field.Problems); !ok {
		t.Errorf("what is wrong with the content is told as %v", err)
	}
}

// TestTargetIsLookedAtAgain: what two names stand for may be known only when
// the first is written, as on a file system that takes capitals for small
// letters.
func TestTargetIsLookedAtAgain(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a.csv"), filepath.Join(dir, "b.csv")
	f := new(files.Register)
	first, err := f.Target("-o "+a, a)
	if err != nil {
		t.Fatal(err)
	}
	second, err := f.Target("--save 1="+b, b)
	if err != nil {
		t.Fatal(err)
	}
	if err := first.WriteData([]byte("first")); err != nil {
		t.Fatal(err)
	}
	if err := os.Link(a, b); err != nil {
		t.Skipf("no links here: %v", err)
	}
	if err := second.WriteData([]byte("second")); err == nil {
		t.Error("the first answer is written over")
	}
	if data, err := os.ReadFile(a); err != nil || string(data) != "first" {
		t.Errorf("the first answer is %q, %v", data, err)
	}
}

// TestFilesAreOpenedInOnePlace keeps new commands to the register.
func TestFilesAreOpenedInOnePlace(t *testing.T) {
	opens := []string{
		"os.Open", "os.OpenFile", "os.Create", "os.ReadFile", "os.WriteFile", "os.CreateTemp", "os.Rename",
		"output.Create", "output.CreateFolder", "catalog.Load", "catalog.LoadWith",
	}
	// What is no user's file, or is looked at before it may be replaced.
	exempt := map[string]string{"site/engine.go": "of the go command", "site/site.go": "of a page that is there"}
	// What opens files for the register, and what helps tests.
	apart := []string{"internal/output", "internal/browsertest"}
	var names []string
	err := filepath.WalkDir(".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && entry.IsDir() && slices.Contains(apart, filepath.ToSlash(name)) {
			return fs.SkipDir
		}
		if strings.HasSuffix(name, ".go") {
			names = append(names, filepath.ToSlash(name))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") || exempt[name] != "" {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			s, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			x, ok := s.X.(*ast.Ident)
			if !ok || !slices.Contains(opens, x.Name+"."+s.Sel.Name) {
				return true
			}
			seen++
			if name != "internal/files/files.go" {
				t.Errorf("%s: %s.%s: files are opened by the register in internal/files", set.Position(s.Pos()), x.Name, s.Sel.Name)
			}
			return true
		})
	}
	if seen == 0 {
		t.Error("the register opens no file")
	}
}
