package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/cmd/gearsearch/internal/shell"
	"gearsearch/constraints"
	"gearsearch/search"
)

var allNumbers = flag.Bool("numbers", false, "give every flag every number at its ends, which takes five minutes")

// ends are numbers at the ends of what a number can be, on either side of them,
// and no numbers at all.
var ends = []string{
	"9223372036854775807", "9223372036854775808", "-9223372036854775808", "18446744073709551616",
	"4294967296", "500001", "500000", "10001", "0", "-1", "1", "1e308", "-1e308", "1e309", "5e-324", "1e-300", "NaN", "Inf", "0x7fffffffffffffff",
}

// commandLines are a command line of each command, without flags that take a
// number.
var commandLines = map[string]string{
	"rank": "rank" + shop, "sheet": "sheet build.toml" + shop, "parts": "parts build.toml" + shop,
	"swap": "swap build.toml --change wheel" + shop, "vary": "vary build.toml --kv 160" + shop, "shortlist": "shortlist wheel" + shop, "relax": "relax" + shop,
	"ideal": "ideal" + shop, "plot": "plot build.toml thrust" + shop, "route": "route way.gpx", "fit": "fit build.toml out.csv back.csv" + shop, "report": "report --date 2025-01-01" + shop,
	"catalog new": "catalog new folder", "catalog add": "catalog add motor --kv 130 --catalog parts.toml", "catalog check": "catalog check parts.toml", "catalog show": "catalog show motor --catalog parts.toml",
	"catalog merge": "catalog merge parts.toml parts.toml -o all.toml", "catalog diff": "catalog diff parts.toml parts.toml",
	"catalog convert": "catalog convert parts.toml csv", "catalog import": "catalog import shed.csv --map Colour=-", "catalog schema": "catalog schema", "page": "page", "completion": "completion", "man": "man", "reference": "reference brief",
}

// companions are flags without which another has no use.
var companions = map[string]string{"draws": " --tolerance --top 2", "share": " --brief brief.toml"}

// numbered are the values of a flag that have a number in them.
func numbered(f cli.Flag, n string) []string {
	d, ok := f.(cli.DocGenerationFlag)
	if !ok || !d.TakesValue() {
		return nil
	}
	kind, _ := shell.Placeholder(d.GetUsage())
	switch kind {
	case "N=FILE":
		return []string{n + "=saved.toml"}
	case "SLOT=ID[,ID]":
		return []string{"wheel=" + n}
	case "A:B[,A:B]":
		return []string{n, n + ":" + n, "15:" + n, n + ":36"}
	case "LENGTH[,LENGTH]":
		return []string{n, n + "mm", "100mm," + n + "m"}
	case "KV[,KV]", "CHARGE[,CHARGE]":
		return []string{n, "nominal," + n, "3.5," + n + "V"}
	case "KIND.KEY=VALUE":
		return []string{"motor.pole_pairs=" + n}
	case "LOW..HIGH":
		return []string{n, n + ".." + n, "1.." + n, n + "..1", n + "mm.." + n + "mm"}
	case "NAME=VALUE":
		var out []string
		for _, c := range search.Criteria() {
			out = append(out, c.Name+"="+n)
		}
		return out
	case "KEY=VALUE":
		var out []string
		for _, k := range constraints.BriefKeys() {
			if k.Section != "keep" && k.Section != "avoid" {
				out = append(out, k.Section+"."+k.Key+"="+n)
			}
		}
		return out
	case "SPEED":
		return []string{n, n + "km/h", n + "m/s"}
	case "GRADE":
		return []string{n, n + "%", n + "deg"}
	case "TORQUE":
		return []string{n + "N.m"}
	case "MASS":
		return []string{n + "kg", n + "lb"}
	case "DISTANCE", "LENGTH":
		return []string{n + "km", n + "mm"}
	case "N[,N]":
		return []string{n, "1," + n}
	}
	return []string{n, n + "h", n + "cm"}
}

// TestNumbersAtTheirEnds: every flag of every command answers, or says what is
// wrong, whatever number it is given: none panics, hangs or asks for memory. The
// flags that all questions have are given fewer numbers elsewhere than at rank, and
// each key of a brief a few of them; without -numbers each flag has one in five.
func TestNumbersAtTheirEnds(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("testdata/shop")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	common := map[string]bool{}
	for _, f := range ask.QuestionFlags() {
		common[f.Names()[0]] = true
	}
	tried, answered, stride := 0, 0, 5
	switch {
	case testing.Short():
		stride = 12
	case *allNumbers:
		stride = 1
	}
	shell.Leaves((&program{}).commands(), "", func(name string, c *cli.Command) {
		line, ok := commandLines[name]
		if !ok {
			t.Errorf("no command line for %s: add it to commandLines", name)
			return
		}
		line = strings.ReplaceAll(line, "testdata/shop/", "")
		for _, f := range c.Flags {
			flag := f.Names()[0]
			for i, n := range ends {
				if common[flag] && name != "rank" && i%6 != len(name)%6 || (i+len(flag)+len(name))%stride != 0 && i > 0 {
					continue
				}
				values := numbered(f, n)
				if len(values) > 20 && (name != "rank" || testing.Short()) {
					values = values[i%7 : i%7+3]
				}
				for j, value := range values {
					if len(values) > 20 && (i+j)%4 != 0 {
						continue // each key has one number in four
					}
					tried++
					if endsWell(t, line+companions[flag], say.Dashed(flag)+"="+value) {
						answered++
					}
				}
			}
		}
	})
	t.Logf("%d command lines, %d answered", tried, answered)
	const some = 50 // one in so many, at the least
	if answered*some < tried || answered == tried {
		t.Errorf("%d of %d command lines are answered: the numbers do not meet what flags take", answered, tried)
	}
}

// endsWell runs a command line with one more word, and reports whether it was
// answered.
func endsWell(t *testing.T, line, word string) (answered bool) {
	t.Helper()
	defer func() {
		if r := recover(); r != nil {
			t.Errorf("gearsearch %s %s: %v", line, word, r)
		}
	}()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	var stdout, stderr bytes.Buffer
	args := slices.Concat([]string{"gearsearch"}, strings.Fields(line), []string{word})
	code := run(ctx, args, strings.NewReader(""), &stdout, &stderr)
	runtime.ReadMemStats(&after)
	const most = 4 << 30 // all that is ever asked for: a test waits for every concession, as long as it takes
	switch allocated := after.TotalAlloc - before.TotalAlloc; {
	case code > outcome.ExitIO:
		t.Errorf("gearsearch %s %s: exit code %d: it hangs", line, word, code)
	case code >= outcome.ExitUsage && !strings.Contains(stderr.String(), ": "):
		t.Errorf("gearsearch %s %s: exit code %d, says %q", line, word, code, stderr.String())
	case allocated > most:
		t.Errorf("gearsearch %s %s: %d MB are asked for", line, word, allocated>>20)
	}
	return code <= outcome.ExitInfeasible
}

// TestTopAtItsEnd: the largest number of builds is told from one that can be
// ranked, and what to do is said.
func TestTopAtItsEnd(t *testing.T) {
	for _, tt := range []struct {
		line string
		code int
		says string
	}{
		{"rank --top 9223372036854775807" + shop, outcome.ExitUsage, "at most 500000 are ranked"},
		{"rank --top 500001 --format csv" + shop, outcome.ExitUsage, "--format jsonl gives any number"},
		{"rank --top 500000 --format csv" + shop, outcome.ExitAnswered, ""},
		{"rank --top 10001" + shop, outcome.ExitUsage, "more than a table lists"},
		{"rank --top 10001 --tolerance --format csv" + shop, outcome.ExitUsage, "more than are varied"},
		{"rank --top 10000" + shop, outcome.ExitAnswered, ""},
		{"rank --no-count --top 500000 --format json" + shop, outcome.ExitAnswered, ""},
		{"swap testdata/shop/build.toml --change wheel --top 10001" + shop, outcome.ExitContent, "more than are listed"},
		{fmt.Sprintf("relax --builds %d%s", search.MostOpened+1, shop), outcome.ExitUsage, "more builds than are looked for"},
		{fmt.Sprintf("sheet testdata/shop/build.toml --tolerance --draws %d%s", search.MostDraws+1, shop), outcome.ExitUsage, "from 1 to 100000"},
	} {
		r := answerTo(t.Context(), tt.line+" --quiet")
		if r.code != tt.code || !strings.Contains(r.stderr, tt.says) {
			t.Errorf("gearsearch %s: exit code %d, says %q; want %d, %q", tt.line, r.code, r.stderr, tt.code, tt.says)
		}
	}
}
