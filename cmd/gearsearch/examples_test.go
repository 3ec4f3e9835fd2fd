package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/shell"
)

// TestExamplesAnswer types every example of every command's help, as it stands,
// into a shell: those of catalog new in an empty folder, all others in one in
// which catalog new my-board was typed. The commands come in the order of the
// manual page, but for two that write files which an earlier one reads.
func TestExamplesAnswer(t *testing.T) {
	if _, err := exec.LookPath("sh"); err != nil {
		t.Skip("no sh to type into")
	}
	source, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	// page builds its engine in a clone of the source.
	workspace := filepath.Join(dir, "go.work")
	module, err := os.ReadFile(filepath.Join(source, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	version := regexp.MustCompile(`(?m)^go .*`).Find(module)
	if err := os.WriteFile(workspace, fmt.Appendf(nil, "%s\nuse %q\n", version, source), 0o600); err != nil {
		t.Fatal(err)
	}
	typeInto := func(t *testing.T, folder, line string) {
		t.Helper()
		ctx, stop := context.WithTimeout(t.Context(), 10*time.Minute)
		defer stop()
		line, _, _ = strings.Cut(line, " | ") // into another program
		cmd := exec.CommandContext(ctx, "sh", "-c", line)
		cmd.Dir = filepath.Join(dir, folder)
		cmd.Env = append(os.Environ(), "COLUMNS=", "GOWORK="+workspace)
		out, err := cmd.CombinedOutput()
		if cmd.ProcessState.ExitCode() == outcome.ExitInfeasible && strings.HasPrefix(line, "gearsearch catalog diff ") {
			return // the catalogs differ: parts were added to one
		}
		if err != nil {
			t.Errorf("%s\n%v\n%s", line, err, out)
		}
	}
	for _, folder := range []string{"empty", "own"} {
		if err := os.Mkdir(filepath.Join(dir, folder), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	typeInto(t, "own", "gearsearch catalog new my-board")
	for _, name := range []string{"out.csv", "back.csv", "monday.csv", "tuesday.csv"} {
		data, err := os.ReadFile(filepath.Join("testdata", "shop", name))
		if err != nil {
			t.Fatal(err)
		}
		if name == "monday.csv" {
			week := strings.Replace(strings.Replace(string(data), "speed_kmh", "GPS v", 1), "current_a", "I batt", 1)
			write(t, filepath.Join(dir, "own", "week.csv"), week)
		}
		write(t, filepath.Join(dir, "own", name), string(data))
	}

	var names []string
	lines := map[string][]string{}
	shell.Leaves((&program{}).commands(), "", func(name string, c *cli.Command) {
		names = append(names, name)
		lines[name] = shell.Examples(c)
	})
	for _, name := range append([]string{"catalog show", "catalog convert"}, names...) {
		for _, line := range lines[name] {
			t.Run(line, func(t *testing.T) {
				if name == "page" && testing.Short() {
					t.Skip("-short: building the engine of the page takes long")
				}
				if name == "catalog import" {
					t.Skip("its sheets are the reader's own: the script of import has such ones")
				}
				folder := "own"
				if name == "catalog new" {
					folder = "empty"
				}
				typeInto(t, folder, line)
			})
		}
		delete(lines, name) // once
	}
}

// TestManualHasTheExamplesOfHelp compares the two.
func TestManualHasTheExamplesOfHelp(t *testing.T) {
	commands := (&program{}).commands()
	page := shell.Manual(commands)
	shell.Leaves(commands, "", func(name string, c *cli.Command) {
		help := answerTo(t.Context(), name+" --help").stdout
		_, help, _ = strings.Cut(help, "\n\nExamples\n  ")
		help, _, _ = strings.Cut(help, "\n\nUsage\n")
		want := ".nf\n" + shell.Roff(strings.ReplaceAll(help, "\n  ", "\n")) + "\n.fi\n"
		if help == "" || !strings.Contains(page, want) {
			t.Errorf("%s: the manual page has not the examples of its help:\n%s", name, help)
		}
	})
}
