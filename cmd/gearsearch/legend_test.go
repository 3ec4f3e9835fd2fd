package main

import (
	"regexp"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

// tableParts are the titles, the lines and the legend of an answer's first table.
var tableParts = regexp.MustCompile(`(?s)([^\n]*\n(?:[^\n]+\n)*?)─+\n(.*?)\n\n(.*?)\n\n`)

// TestNoMarkIsLost: a mark stands in the table or above it, whatever the width,
// and is explained; a column that is not there is not explained.
func TestNoMarkIsLost(t *testing.T) {
	for _, line := range []string{
		// builds near the limit of current on the climb, or with one that is not known
		"rank --full --apart none --set limit.heat_factor=0.45 --set limit.derate=1" + shop,
		"rank --full --apart none --top 3 --set limit.heat_factor=0.55 --climb-grade 14%" + shop,
	} {
		for _, columns := range []string{"60", "80", "100", "120", "160", "200"} {
			t.Setenv("COLUMNS", columns)
			said := answerTo(t.Context(), line).stdout
			parts := tableParts.FindStringSubmatch(said)
			if parts == nil {
				t.Fatalf("%s at %s has no table:\n%s", line, columns, said)
			}
			titles, legend := parts[1]+parts[2], strings.Join(strings.Fields(parts[3]), " ")
			above, _, _ := strings.Cut(said, "─")
			explained := strings.Contains(legend, "; !: less than 5") // the sign, if anywhere
			if marked := regexp.MustCompile(`\d%?!|\w!`).MatchString(parts[2] + above); marked != explained {
				t.Errorf("%s at %s: there is a mark: %v, it is explained: %v\n%s", line, columns, marked, explained, said[:2000])
			}
			words := strings.Fields(titles)
			for _, title := range []string{"climb", "erpm", "heat", "ratio"} {
				has := false
				for _, w := range words {
					has = has || w == title
				}
				named := regexp.MustCompile(`(^|[ ,;])` + title + `[,:]`).MatchString(legend)
				if has != named {
					t.Errorf("%s at %s: column %s is there: %v, it is explained: %v\n%s", line, columns, title, has, named, said[:2000])
				}
			}
			if !strings.Contains(titles, "heat") && !regexp.MustCompile(`heat[!?]`).MatchString(above+parts[2]) {
				t.Errorf("%s at %s: nothing is said of the mark at heat\n%s", line, columns, said[:2000])
			}
		}
	}
}

// TestCautionsHaveTheDigitsOfTheTable holds the speed that a caution names to
// the one that the table of the same answer shows, and counts the helmets.
func TestCautionsHaveTheDigitsOfTheTable(t *testing.T) {
	t.Chdir(t.TempDir())
	if answer := answerTo(t.Context(), "rank --top 1 --save 1=build.toml"); answer.code != outcome.ExitAnswered {
		t.Fatal(answer.stderr)
	}
	for _, line := range []string{
		"rank --full --top 1", "rank --full --top 1 --units imperial", "sheet build.toml --full", "sheet build.toml --full --units imperial",
		"rank --brief demo:harbour --brief demo:sunday --share battery --top 1", "parts build.toml", "rank --full --top 5",
		"rank --full --top 5 --brief demo:sunday",
	} {
		said := strings.Join(strings.Fields(answerTo(t.Context(), line).stdout), " ")
		if n := strings.Count(said, "helmet"); n != 1 {
			t.Errorf("%s speaks of a helmet %d times:\n%s", line, n, said)
		}
		caution := regexp.MustCompile(`top speed ([0-9.]+)(?:–([0-9.]+))? (?:km/h|mph): wear`).FindStringSubmatch(said)
		before, _, _ := strings.Cut(said, " Cautions ")
		switch {
		case caution == nil:
			if !strings.HasPrefix(line, "parts") && !strings.Contains(line, "sunday") {
				t.Errorf("%s does not warn of the speed", line)
			}
		case !regexp.MustCompile(`[ │]` + regexp.QuoteMeta(caution[1]) + `!*[ │]`).MatchString(before):
			t.Errorf("%s warns of %s, which its table does not show:\n%s", line, caution[1], before)
		}
	}
}
