package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestReadme runs the commands of the README and of the tour and holds what they
// print to what these show. With -update it writes what they print into them.
//
// A block that begins with ```console holds commands, each on a line that
// begins with "$ ", and what each prints on standard output. A TOML block right
// below a line <!-- file NAME --> is the file of that name. All run in one
// folder, in which catalog is the folder of that name. A picture in the text is the
// file of its name that they write.
func TestReadme(t *testing.T) {
	if testing.Short() {
		t.Skip("answers leave out what takes seconds, as more does under the race detector")
	}
	for _, page := range []struct {
		file     string
		commands int // at least
	}{{"../../README.md", 3}, {"TOUR.md", 15}} {
		t.Run(filepath.Base(page.file), func(t *testing.T) { readPage(t, page.file, page.commands) })
	}
}

// readPage holds one page to what its commands print.
func readPage(t *testing.T, file string, least int) {
	readme, err := filepath.Abs(file)
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

	shown, commands := replay(t, string(text))
	if commands < least {
		t.Errorf("only %d commands in %s", commands, file)
	}
	pictures(t, filepath.Dir(readme), shown)
	if *update {
		if err := os.WriteFile(readme, []byte(shown), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(string(text), shown); d != "" {
		t.Errorf("%s shows other output than the program (-page +program); -update writes it anew:\n%s", file, d)
	}
}

// replay is a page with what its commands print now, and how many there are.
func replay(t *testing.T, text string) (shown string, commands int) {
	var out strings.Builder
	lines := strings.SplitAfter(text, "\n")
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
	return out.String(), commands
}

// picture is a picture in a page.
var picture = regexp.MustCompile(`!\[[^]]*\]\(([^)]*)\)`)

// pictures holds the pictures of a page to the files that its commands wrote.
func pictures(t *testing.T, folder, text string) {
	for _, m := range picture.FindAllStringSubmatch(text, -1) {
		file := filepath.Join(folder, filepath.FromSlash(m[1]))
		drawn, err := os.ReadFile(filepath.Base(file))
		if err != nil {
			t.Errorf("no command of the page writes the picture: %v", err)
			continue
		}
		if *update {
			if err := os.WriteFile(file, drawn, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if there, err := os.ReadFile(file); err != nil || !bytes.Equal(there, drawn) {
			t.Errorf("%s is not what the commands draw (%v); -update writes it anew", file, err)
		}
	}
}

// TestReadmeIsShort: the README is read at a sitting.
func TestReadmeIsShort(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(text, []byte("\n")); n > 180 {
		t.Errorf("README.md has %d lines, 180 at most", n)
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
