package main

import (
	"encoding/json"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

// swapAll is what the tests read of swap --all.
type swapAll struct {
	Change       []string
	InTurn       bool `json:"in_turn"`
	Combinations int
	Feasible     int
	Rejected     []struct{ Count int }
	Base         json.RawMessage
	NeverFit     []struct {
		Change []string
		Check  string
		Count  int
	} `json:"never_fit"`
	Swaps, Broken []swapAllRow
}

type swapAllRow struct {
	Parts      map[string]any
	Figures    map[string]any
	Checks     []map[string]any
	Cautions   []string
	Breaks     []map[string]any
	Adds       []string
	Cures      []string
	NeverFits  *string `json:"never_fits"`
	Changed    []string
	PriceToPay *float64 `json:"price_to_pay"`
}

// TestSwapAllIsTheSheet: each row of swap --all is the sheet of the build with that
// part, and what it cures and adds is the difference of two sheets.
func TestSwapAllIsTheSheet(t *testing.T) {
	asked := inShop(t)
	for _, c := range []struct {
		why, line string
		motors    bool // a row has another number of motors
	}{
		{"each slot in turn", "build.toml --all" + asked, true},
		{"a base that fails, and what cures it", "build.toml --all --erpm-ceiling 40000" + asked, true},
		{"two at once", "build.toml --change motors,wheel --all" + asked, true},
		{"the number of motors alone", "build.toml --change motors --all" + asked, true},
		{"numbers of motors that the brief has", "build.toml --change motors --all --motors 1,2" + asked, true},
		{"one slot", "build.toml --change wheel --all" + asked, false},
		{"gears, of the demo", "geared.toml --all --catalog demo --brief demo:harbour", true},
	} {
		answered(t, "rank --catalog demo --brief demo:harbour --top 1 --save 1=geared.toml --keep gear_drive=uw-street")
		var f swapAll
		r := answerTo(t.Context(), "swap "+c.line+" --format json --quiet")
		if err := json.Unmarshal([]byte(r.stdout), &f); err != nil {
			t.Fatalf("%s: %v, %s", c.why, err, r.stderr)
		}
		sum := f.Feasible
		for _, x := range f.Rejected {
			sum += x.Count
		}
		if sum != f.Combinations || len(f.Swaps)+len(f.Broken)+1 != f.Combinations {
			t.Errorf("%s: %d combinations, %d feasible and rejected, %d rows", c.why, f.Combinations, sum, len(f.Swaps)+len(f.Broken))
		}
		_, flags, _ := strings.Cut(c.line, ".toml")
		flags = regexp.MustCompile(` --(all|change \S+)`).ReplaceAllString(flags, "")
		var base swapAllRow
		if err := json.Unmarshal(f.Base, &base); err != nil {
			t.Fatal(err)
		}
		before := fails(base.Checks)
		counts, never := map[any]bool{base.Parts["motors"]: true}, 0
		for _, x := range append(f.Swaps, f.Broken...) {
			counts[x.Parts["motors"]] = true
			writeBuild(t, "row.toml", x.Parts)
			var sheet struct{ Build swapAllRow }
			r := answerTo(t.Context(), "sheet row.toml --format json --quiet"+flags)
			if err := json.Unmarshal([]byte(r.stdout), &sheet); err != nil {
				t.Fatalf("%s: %v, %s", c.why, err, r.stderr)
			}
			if got := sheet.Build; !reflect.DeepEqual(got.Figures, x.Figures) || !reflect.DeepEqual(got.Checks, x.Checks) || !reflect.DeepEqual(got.Cautions, x.Cautions) {
				t.Errorf("%s: %v is not as on its sheet", c.why, x.Parts)
			}
			after := fails(sheet.Build.Checks)
			if got, want := fmt.Sprint(x.Adds, x.Cures), fmt.Sprint(lacking(after, before), lacking(before, after)); got != want {
				t.Errorf("%s: %v adds and cures %s, want %s", c.why, x.Parts, got, want)
			}
			if x.NeverFits != nil {
				never++
			}
		}
		if (len(counts) > 1) != c.motors {
			t.Errorf("%s: numbers of motors %v", c.why, counts)
		}
		for _, x := range f.NeverFit {
			never -= x.Count
		}
		if never != 0 {
			t.Errorf("%s: never_fit %v and the rows differ by %d", c.why, f.NeverFit, never)
		}
	}
}

// fails names the checks that fail.
func fails(checks []map[string]any) []string {
	out := []string{}
	for _, c := range checks {
		if c["verdict"] == "fail" {
			out = append(out, c["name"].(string))
		}
	}
	return out
}

// lacking are the names that others does not have.
func lacking(list, others []string) []string {
	out := []string{}
	for _, x := range list {
		if !strings.Contains(" "+strings.Join(others, " ")+" ", " "+x+" ") {
			out = append(out, x)
		}
	}
	return out
}

// writeBuild writes a build file of parts as data has them.
func writeBuild(t *testing.T, name string, parts map[string]any) {
	t.Helper()
	text := fmt.Sprintf("schema = 1\n[build]\nmotors = %v\n", parts["motors"])
	for key, id := range parts {
		if id, ok := id.(string); ok {
			text += fmt.Sprintf("%s = %q\n", key, id)
		}
	}
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// TestSwapAllOnOneScreen: a row a change at 80 columns, as many as --top says, the
// answer before all else, and what never fits in one line.
func TestSwapAllOnOneScreen(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("COLUMNS", "80")
	answered(t, "rank --top 1 --save 1=b.toml")
	row := regexp.MustCompile(`(?m)^(now|[0-9]+) +\S.*$`) // of the table, below its rule
	for _, c := range []struct {
		line string
		rows int // the build in hand too; 0: as many as data has
	}{
		{"--all", 21},
		{"--all --top 4", 5},
		{"--change wheel --all", 0},
		{"--change motor --all --top 0", 0},
		{"--change motors --all", 3},
		{"--change battery --all --top 1", 2},
		{"--change controller --all --save 3=third.toml", 0},
	} {
		r := answerTo(t.Context(), "swap b.toml --quiet "+c.line)
		var f swapAll
		if err := json.Unmarshal([]byte(answerTo(t.Context(), "swap b.toml --quiet --format json "+regexp.MustCompile(` --(top|save) \S+`).ReplaceAllString(c.line, "")).stdout), &f); err != nil {
			t.Fatal(err)
		}
		fitting, never := len(f.Swaps), 0
		for _, x := range f.Broken {
			if x.NeverFits == nil {
				fitting++
			} else {
				never++
			}
		}
		want := c.rows
		if want == 0 {
			want = fitting + 1
		}
		_, table, _ := strings.Cut(r.stdout, "─\n")
		table, _, _ = strings.Cut(table, "\n\n")
		if rows := row.FindAllString(table, -1); len(rows) != want {
			t.Errorf("swap %s: %d rows, want %d:\n%s", c.line, len(rows), want, r.stdout)
		}
		for _, line := range strings.Split(r.stdout, "\n") {
			if n := len([]rune(line)); n > 80 && !strings.HasPrefix(line, "  gearsearch") {
				t.Errorf("swap %s: %d columns: %s", c.line, n, line)
			}
		}
		folded := strings.Count(r.stdout, " left out: ")
		if (never > 0) != (folded == 1) || never > 0 && !strings.Contains(r.stdout, fmt.Sprintf("%d changes never fit and are left out: ", never)) {
			t.Errorf("swap %s: %d never fit, in\n%s", c.line, never, r.stdout)
		}
		first, _, _ := strings.Cut(r.stdout, "\n")
		if !strings.Contains(first, "best: ") && !strings.Contains(first, "nearest: ") && !strings.Contains(first, "best change: ") {
			t.Errorf("swap %s begins with %q", c.line, first)
		}
	}
	if _, err := os.Stat("third.toml"); err != nil {
		t.Errorf("a change that fails is not saved: %v", err)
	}
	if r := answerTo(t.Context(), "swap b.toml --all --top 5 --format json --quiet"); r.code != outcome.ExitAnswered || strings.Count(r.stdout, `"changed":`) != 5 {
		t.Errorf("--top 5 limits data to %d rows", strings.Count(r.stdout, `"changed":`))
	}
	if r := answerTo(t.Context(), "swap b.toml --change controller --all --save 9=x.toml"); r.code != outcome.ExitUsage || !strings.Contains(r.stderr, "only 6 changes are listed") {
		t.Errorf("a number beyond the list: %d, %s", r.code, r.stderr)
	}
}
