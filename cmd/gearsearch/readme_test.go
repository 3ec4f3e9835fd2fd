package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestReadme runs the commands of the README's tour and holds what they print
// to what it shows. With -update it writes what they print into it.
//
// A block that begins with ```console holds commands, each on a line that
// begins with "$ ", and what each prints on standard output. A TOML block right
// below a line <!-- file NAME --> is the file of that name. All run in one
// folder, in which catalog is the folder of that name.
func TestReadme(t *testing.T) {
	if testing.Short() {
		t.Skip("answers leave out what takes seconds, as more does under the race detector")
	}
	readme, err := filepath.Abs("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	demo, err := filepath.Abs("../../catalog")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.Symlink(demo, "catalog"); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	t.Setenv("COLUMNS", "80")

	var out strings.Builder
	lines := strings.SplitAfter(string(text), "\n")
	commands := 0
	for i := 0; i < len(lines); i++ {
		line := lines[i]
		out.WriteString(line)
		if name, ok := strings.CutPrefix(line, "<!-- file "); ok {
			name, _, _ = strings.Cut(name, " ")
			end := i + 2 + index(lines[i+2:], "```\n")
			if err := os.WriteFile(name, []byte(strings.Join(lines[i+2:end], "")), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if line != "```console\n" {
			continue
		}
		end := i + 1 + index(lines[i+1:], "```\n")
		for _, line := range lines[i+1 : end] {
			command, ok := strings.CutPrefix(line, "$ gearsearch")
			if !ok {
				continue
			}
			commands++
			out.WriteString(line)
			var stdout, stderr bytes.Buffer
			run(context.Background(), append([]string{"gearsearch"}, strings.Fields(command)...), strings.NewReader(""), &stdout, &stderr)
			out.Write(stdout.Bytes())
		}
		i = end - 1
	}
	if commands < 5 {
		t.Errorf("only %d commands in the README", commands)
	}
	if *update {
		if err := os.WriteFile(readme, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(string(text), out.String()); d != "" {
		t.Errorf("README.md shows other output than the program (-readme +program); -update writes it anew:\n%s", d)
	}
}

// index is the index of a line, the number of lines if it is not there.
func index(lines []string, want string) int {
	for i, line := range lines {
		if line == want {
			return i
		}
	}
	return len(lines)
}
