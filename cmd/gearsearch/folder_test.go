package main

import (
	"os"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

// TestFoundAnswersAsNamed: what the working folder has, or a build file names, is
// answered by to the byte as what flags name.
func TestFoundAnswersAsNamed(t *testing.T) {
	named := inShop(t)
	for _, line := range []string{
		"rank", "rank --strict --top 3", "rank --top 0 --format json", "rank --format jsonl", "rank --front price,range_km", "rank --stability --tolerance --draws 40",
		"rank --chart teeth", "rank --top-speed 62km/h --price-limit 850", "relax --top-speed 62km/h", "shortlist motor", "shortlist drive --format csv", "ideal",
		"sheet build.toml", "sheet build.toml --why --price-limit 700", "parts build.toml --format json", "swap build.toml --change wheel --all",
		"swap build.toml --change wheel --erpm-ceiling 30000", "plot build.toml thrust", "plot build.toml front", "report --date 2025-11-25",
	} {
		want, got := answerTo(t.Context(), line+named), answerTo(t.Context(), line)
		if got.stdout != want.stdout || got.code != want.code || want.stdout == "" {
			t.Errorf("gearsearch %s: exit code %d, with flags %d:\n%s\nwith flags:\n%s", line, got.code, want.code, got.stdout, want.stdout)
		}
		if line := "parts.toml and brief.toml of this folder\n"; strings.Count(got.stderr, line) != 1 || strings.Contains(want.stderr, line) {
			t.Errorf("found files are told by %q, and with flags by %q", got.stderr, want.stderr)
		}
	}
	answerTo(t.Context(), "rank --save 1=kept.toml")
	for _, name := range []string{"parts.toml", "brief.toml"} { // so that the folder has none
		if err := os.Rename(name, "my-"+name); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile("kept.toml")
	if err != nil {
		t.Fatal(err)
	}
	kept = []byte(strings.NewReplacer(`"parts.toml"`, `"my-parts.toml"`, `"brief.toml"`, `"my-brief.toml"`).Replace(string(kept)))
	if err := os.WriteFile("kept.toml", kept, 0o600); err != nil {
		t.Fatal(err)
	}
	named = " --catalog my-parts.toml --brief my-brief.toml"
	for _, line := range []string{"sheet kept.toml", "sheet kept.toml --price-limit 700", "parts kept.toml", "swap kept.toml --change wheel", "swap kept.toml --change wheel --erpm-ceiling 30000", "plot kept.toml front"} {
		want, got := answerTo(t.Context(), line+named), answerTo(t.Context(), line)
		if got.stdout != want.stdout || got.code != want.code || want.stdout == "" {
			t.Errorf("gearsearch %s: exit code %d, with flags %d:\n%s\nwith flags:\n%s", line, got.code, want.code, got.stdout, want.stdout)
		}
	}
}

// TestAdviceWithoutFlags runs what is advised where the working folder and build
// files name catalog and brief: each command is answered, and names neither.
func TestAdviceWithoutFlags(t *testing.T) {
	inShop(t)
	told := 0
	for _, line := range []string{
		"rank", "rank --save 1=own.toml", "rank --price-limit 500", "rank --chart teeth", "relax --price-limit 500", "shortlist motor", "ideal", "sheet build.toml", "sheet own.toml",
		"parts own.toml", "swap own.toml --change wheel", "swap own.toml --change wheel --erpm-ceiling 30000", "catalog check", "catalog check parts.toml",
	} {
		for _, command := range advised(t, line) {
			told++
			if strings.Contains(command, "--catalog") || strings.Contains(command, "--brief") {
				t.Errorf("gearsearch %s advises %s", line, command)
			}
			if r := answerTo(t.Context(), command); r.code != outcome.ExitAnswered && r.code != outcome.ExitInfeasible {
				t.Errorf("gearsearch %s advises %s: exit code %d, %s", line, command, r.code, r.stderr)
			}
		}
	}
	if told < 15 {
		t.Errorf("%d commands are advised: the test does not test", told)
	}
}

// TestUnreadableFolder: a catalog that the working folder has and that may not be
// read is an error that says why it is read.
func TestUnreadableFolder(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root reads everything")
	}
	inShop(t)
	if err := os.Chmod("parts.toml", 0); err != nil {
		t.Fatal(err)
	}
	r := answerTo(t.Context(), "rank")
	if want := "gearsearch: read parts.toml: permission denied; it is the catalog where no --catalog names another\n"; r.code != outcome.ExitIO || r.stderr != want {
		t.Errorf("exit code %d, %s, want %s", r.code, r.stderr, want)
	}
}
