package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// firstLine is a command line whose answer has a first page.
type firstLine struct {
	line string
	code int
	rows int // of builds; 0 where no build is listed
}

// firstLines are rankings of every demo brief, one without a feasible build, and
// sheets of a build that passes and of one that fails. They change to a folder of
// their own.
func firstLines(t *testing.T) []firstLine {
	t.Helper()
	t.Chdir(t.TempDir())
	out := []firstLine{
		{"rank --range 70km --price-limit 800", outcome.ExitInfeasible, 0},
		{"rank --surface grass --climb-grade 60%", outcome.ExitInfeasible, 0},
	}
	for _, src := range catalog.DemoBriefs() {
		name := catalog.DemoBriefName(src)
		out = append(out,
			firstLine{"rank --brief demo:" + name, outcome.ExitAnswered, 10},
			firstLine{"rank --top 3 --brief demo:" + name, outcome.ExitAnswered, 3},
			firstLine{"sheet build.toml --brief demo:" + name, outcome.ExitInfeasible, 0})
	}
	if r := answerTo(t.Context(), "rank --quiet --save 1=build.toml"); r.code != outcome.ExitAnswered {
		t.Fatal(r.stderr)
	}
	for i := range out {
		if out[i].line == "sheet build.toml --brief demo:harbour" {
			out[i].code = outcome.ExitAnswered
		}
	}
	return out
}

// buildRow is the start of a row of the table of builds.
var buildRow = regexp.MustCompile(`(?m)^ ?\d+ +\d+\.\d `)

// alikeHead is the head of the column of builds like those listed.
var alikeHead = regexp.MustCompile(`(?m)^ ?# .* alike( |$)`)

// firstNote is the first line with a label behind the table.
var firstNote = regexp.MustCompile(`(?m)^(all|watch|asked|for) `)

// TestFirstPageFits: at 80 columns and wider a first page leaves a line of 24 for
// the prompt, with one row for each build, and on no terminal is a line too wide, nor
// the number of like builds left out.
func TestFirstPageFits(t *testing.T) {
	lines := firstLines(t)
	for _, columns := range []int{60, 80, 120} {
		t.Setenv("COLUMNS", strconv.Itoa(columns))
		for _, l := range lines {
			r := answerTo(t.Context(), l.line)
			if r.code != l.code {
				t.Fatalf("%s: exit code %d, not %d: %s", l.line, r.code, l.code, r.stderr)
			}
			for line := range strings.Lines(untilNext(r.stdout)) {
				if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > columns {
					t.Errorf("%s: on %d columns a line has %d: %s", l.line, columns, n, line)
				}
			}
			if rows := len(buildRow.FindAllString(r.stdout, -1)); rows != l.rows {
				t.Errorf("%s: %d builds are listed at %d columns, not %d:\n%s", l.line, rows, columns, l.rows, r.stdout)
			}
			if n := strings.Count(r.stdout, "\n"); columns >= 80 && n > say.FirstLines {
				t.Errorf("%s: %d lines at %d columns:\n%s", l.line, n, columns, r.stdout)
			}
			if l.rows > 1 && !alikeHead.MatchString(r.stdout) {
				t.Errorf("%s: at %d columns no column says how many builds are like those listed:\n%s", l.line, columns, r.stdout)
			}
			table := strings.TrimSpace(r.stdout[:firstNote.FindStringIndex(r.stdout)[0]])
			if columns >= 80 && l.rows > 0 && strings.Count(table, "\n") != l.rows+1 {
				t.Errorf("%s: more than a line for a build at %d columns:\n%s", l.line, columns, table)
			}
		}
	}
}

// cautionLine is the line of a first page that counts the cautions.
var cautionLine = regexp.MustCompile(`(?m)^caution +(\d+), all with --full; gravest: `)

// TestFirstPageCountsEveryCaution: as many as the whole answer lists.
func TestFirstPageCountsEveryCaution(t *testing.T) {
	for _, l := range firstLines(t) {
		first := answerTo(t.Context(), l.line).stdout
		m := cautionLine.FindStringSubmatch(first)
		if m == nil {
			t.Errorf("%s has no line on cautions:\n%s", l.line, first)
			continue
		}
		line := l.line + " --full"
		if l.rows > 0 && !strings.Contains(line, "--top") {
			line += " --top " + fmt.Sprint(l.rows)
		}
		_, list, ok := strings.Cut(answerTo(t.Context(), line).stdout, "\nCautions\n")
		list, _, _ = strings.Cut(list, "\nNext\n")
		if n := strings.Count("\n"+list, "\n  - "); !ok || strconv.Itoa(n) != m[1] {
			t.Errorf("%s counts %s cautions, %s lists %d", l.line, m[1], line, n)
		}
	}
}

// TestFirstPageIsForPeopleAlone: data and Markdown have everything in any case, and a
// text in a file is the page of a terminal.
func TestFirstPageIsForPeopleAlone(t *testing.T) {
	for _, l := range firstLines(t) {
		if !strings.Contains(l.line, "demo:harbour") {
			continue
		}
		for _, format := range []string{"json", "csv", "markdown", "html"} {
			short, full := answerTo(t.Context(), l.line+" --format "+format), answerTo(t.Context(), l.line+" --full --format "+format)
			want(t, l.line+" as "+format, short.stdout, full.stdout)
		}
		if md := answerTo(t.Context(), l.line+" --format markdown").stdout; !strings.Contains(md, "## Cautions\n") {
			t.Errorf("%s in Markdown is not whole", l.line)
		}
		onScreen := answerTo(t.Context(), l.line).stdout
		answerTo(t.Context(), l.line+" -o answer.txt")
		written, err := os.ReadFile(filepath.Join(".", "answer.txt"))
		if err != nil {
			t.Fatal(err)
		}
		want(t, l.line+" in a file", string(written), onScreen)
	}
	why := answerTo(t.Context(), "sheet build.toml --why").stdout
	want(t, "--why", answerTo(t.Context(), "sheet build.toml --why --full").stdout, why)
}

// TestFirstPageSaysOnceThatPartsAreInvented: on the page, not beside it.
func TestFirstPageSaysOnceThatPartsAreInvented(t *testing.T) {
	for _, l := range firstLines(t) {
		r := answerTo(t.Context(), l.line)
		if n := strings.Count(r.stdout+r.stderr, "invented"); n != 1 {
			t.Errorf("%s says %d times that parts are invented:\n%s%s", l.line, n, r.stderr, r.stdout)
		}
	}
}
