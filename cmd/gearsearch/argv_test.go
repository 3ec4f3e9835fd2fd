package main

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/urfave/cli/v2"
	"pgregory.net/rapid"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/shell"
)

// testTree is a small tree of commands.
func testTree() []*cli.Command {
	flags := func(more ...cli.Flag) []cli.Flag {
		return append(more, &cli.StringFlag{Name: "file", Usage: "`FILE` to read"}, &cli.StringSliceFlag{Name: "many"}, &cli.BoolFlag{Name: "on"}, &cli.StringFlag{Name: "o"})
	}
	return []*cli.Command{
		{Name: "leaf", Flags: flags(&cli.BoolFlag{Name: "own"})},
		{Name: "group", Subcommands: []*cli.Command{{Name: "inner", Flags: flags()}}},
	}
}

func TestUnderstand(t *testing.T) {
	for _, tt := range []struct {
		line string
		want string // the library's order; "help …" for help
		why  string
	}{
		{"", "help gearsearch", "nothing named"},
		{"leaf", "gearsearch leaf --", "a command"},
		{"leaf a b", "gearsearch leaf -- a b", "arguments"},
		{"leaf a --file f b --on", "gearsearch leaf --file=f --on -- a b", "flags after arguments"},
		{"--file f leaf --on a", "gearsearch leaf --file=f --on -- a", "flags before the command"},
		{"leaf -file=f", "gearsearch leaf --file=f --", "one dash"},
		{"leaf --file= a", "gearsearch leaf --file= -- a", "an empty value"},
		{"leaf --file=-x", "gearsearch leaf --file=-x --", "a value with a dash, tied on"},
		{"leaf --file -5", "gearsearch leaf --file=-5 --", "a negative number"},
		{"leaf --file -.5", "gearsearch leaf --file=-.5 --", "another"},
		{"leaf -5 a", "gearsearch leaf -- -5 a", "as an argument"},
		{"leaf -o - a", "gearsearch leaf --o=- -- a", "a dash is a standard stream"},
		{"leaf - --on", "gearsearch leaf --on -- -", "as an argument"},
		{"leaf a -- --on -x", "gearsearch leaf -- a --on -x", "after two dashes all are arguments"},
		{"-- leaf --on", "gearsearch leaf -- --on", "the command too"},
		{"leaf --many a,b --many c", "gearsearch leaf --many=a,b --many=c --", "a flag given twice"},
		{"leaf --on=false", "gearsearch leaf --on=false --", "a switch turned off"},
		{"group inner x", "gearsearch group inner -- x", "a command of a group"},
		{"group", "gearsearch group --", "a group alone"},
		{"leaf leaf", "gearsearch leaf -- leaf", "a command's name as an argument"},
		{"leaf help", "gearsearch leaf -- help", "no hidden command"},
		{"help", "help gearsearch", "the word help"},
		{"help leaf", "help gearsearch leaf", "before a command"},
		{"help group inner", "help gearsearch group inner", "before an inner one"},
		{"leaf --nonsense -h", "help gearsearch leaf", "who asks for help gets it"},
		{"--version leaf", "version gearsearch leaf", "the version"},
	} {
		v, err := shell.Understand(testTree(), append([]string{"gearsearch"}, strings.Fields(tt.line)...))
		if err != nil {
			t.Errorf("%q: %v (%s)", tt.line, err, tt.why)
			continue
		}
		got := strings.Join(v.Argv(), " ")
		switch {
		case v.Version:
			got = "version " + v.Name()
		case v.Help || v.Command() == nil:
			got = "help " + v.Name()
		}
		if got != tt.want {
			t.Errorf("%q: %q, want %q: %s", tt.line, got, tt.want, tt.why)
		}
	}
}

func TestUnderstandRefuses(t *testing.T) {
	for _, tt := range []struct{ line, want string }{
		{"laef", "gearsearch: gearsearch has no command laef\n    hint: did you mean gearsearch leaf?\n"},
		{"group iner", "gearsearch: gearsearch group has no command iner\n    hint: did you mean gearsearch group inner?\n"},
		{"zzz", "gearsearch: gearsearch has no command zzz\n    hint: the commands are leaf, group\n"},
		{"leaf --fiel f", "gearsearch: gearsearch leaf has no flag --fiel\n    hint: did you mean --file?\n"},
		{"leaf -x", "gearsearch: gearsearch leaf has no flag -x\n    hint: did you mean -o?\n"},
		{"leaf --hlep", "gearsearch: gearsearch leaf has no flag --hlep\n    hint: did you mean --help?\n"},
		{"group inner --own", "gearsearch: gearsearch group inner has no flag --own; leaf has\n"},
		{"--on", "gearsearch: a flag but no command\n    hint: gearsearch --help lists the commands\n"},
		{"group --on", "gearsearch: a flag but no command\n    hint: gearsearch group --help lists the commands\n"},
		{"--zzz", "gearsearch: gearsearch has no flag --zzz\n    hint: gearsearch --help lists the flags\n"},
		{"leaf --file", "gearsearch: --file needs a value\n    hint: write --file FILE: to read\n"},
		{"leaf --file --on", "gearsearch: --file needs a value before --on\n    hint: write --file FILE: to read\n"},
		{"leaf --file -- a", "gearsearch: --file needs a value before --\n    hint: write --file FILE: to read\n"},
		{"leaf --on=often", "gearsearch: --on is a switch and takes no value \"often\"\n    hint: write --on alone\n"},
	} {
		_, err := shell.Understand(testTree(), append([]string{"gearsearch"}, strings.Fields(tt.line)...))
		var stderr strings.Builder
		if code := (&program{Desk: &ask.Desk{Stderr: &stderr}}).explain(err); code != outcome.ExitUsage {
			t.Errorf("%q: exit code %d", tt.line, code)
		}
		if diff := cmp.Diff(tt.want, stderr.String()); diff != "" {
			t.Errorf("%q: %s", tt.line, diff)
		}
	}
}

// TestOrderOfWordsDoesNotMatter: wherever flags stand among the arguments, the
// library gets the same line.
func TestOrderOfWordsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := [][]string{{"--file", "f"}, {"--many", "x"}, {"--on"}, {"-o=p"}}
		args := [][]string{{"leaf"}, {"a"}, {"b"}}
		var line []string
		for len(words)+len(args) > 0 {
			from := &words
			if len(words) == 0 || len(args) > 0 && rapid.Bool().Draw(t, "argument") {
				from = &args
			}
			line = append(line, (*from)[0]...)
			*from = (*from)[1:]
		}
		v, err := shell.Understand(testTree(), append([]string{"gearsearch"}, line...))
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(v.Argv(), " "); got != "gearsearch leaf --file=f --many=x --on --o=p -- a b" {
			t.Fatalf("%q: %q", line, got)
		}
	})
}

// TestUnderstandTakesAnything: whatever is typed is understood or refused as
// wrong usage, and what is understood keeps every argument.
func TestUnderstandTakesAnything(t *testing.T) {
	word := rapid.OneOf(
		rapid.SampledFrom([]string{"leaf", "group", "inner", "help", "--file", "--file=x", "--on", "-o", "-", "--", "-h", "--version", "-5", "---", "-=", "--=x"}),
		rapid.String(),
	)
	rapid.Check(t, func(t *rapid.T) {
		line := append([]string{"gearsearch"}, rapid.SliceOf(word).Draw(t, "line")...)
		v, err := shell.Understand(testTree(), line)
		var wrong *outcome.UsageError
		switch {
		case err != nil && !errors.As(err, &wrong):
			t.Fatalf("%q: %v", line, err)
		case err == nil:
			for _, arg := range v.Args {
				if !slices.Contains(line, arg) {
					t.Fatalf("%q: argument %q is not on the line", line, arg)
				}
			}
		}
	})
}

// TestEveryFlagMeansTheSame: a name is one flag, whatever the command, as
// flags are read before the command is known.
func TestEveryFlagMeansTheSame(t *testing.T) {
	commands := (&program{}).commands()
	all := shell.EveryFlag(commands)
	shell.Leaves(commands, "", func(name string, c *cli.Command) {
		for _, f := range c.Flags {
			for _, n := range f.Names() {
				own := n == "o" && slices.Contains([]string{"catalog merge", "catalog import"}, name) || slices.Contains([]string{"format", "units", "top", "all", "kv"}, n) // a drawing or a page has its own, and so have swap, vary and ideal
				if shell.TakesValue(f) != shell.TakesValue(all[n]) || shell.Example(f) != shell.Example(all[n]) && !own {
					t.Errorf("%s: --%s means something else than elsewhere", name, n)
				}
			}
			if r, ok := f.(cli.RequiredFlag); ok && r.IsRequired() {
				t.Errorf("%s: %v is required, which the library reports in its own way", name, f.Names())
			}
			if shell.Category(f) == "" {
				t.Errorf("%s: %v stands under no theme", name, f.Names())
			}
		}
		if c.Usage == "" || !strings.HasPrefix(c.UsageText, "gearsearch "+name) || c.Action == nil {
			t.Errorf("%s: needs a line on what it does, examples and an action", name)
		}
	})
}

// A word of thousands of characters, wherever it stands, does not fill the
// screen.
func TestLongWordsAreCut(t *testing.T) {
	long := strings.Repeat("x", 5000)
	brief := filepath.Join(t.TempDir(), "brief.toml")
	text := "schema = 1\n[target]\n" + long + " = 1\ntop_speed_kmh = \"" + long + "\"\n[" + long + "]\n"
	if err := os.WriteFile(brief, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{
		long, "rank " + long, "rank --" + long, "rank --top " + long, "rank --top-speed " + long, "rank --set " + long, "rank --set " + long + "=3",
		"rank --set target.top_speed_kmh=" + long, "rank --keep " + long, "rank --keep motor=" + long, "rank --keep " + long + "=x", "rank --format " + long,
		"rank --front " + long, "rank --by " + long, "rank --weight " + long, "rank --chart " + long, "rank --save " + long, "rank --save 1=" + long,
		"rank --units " + long, "rank --catalog " + long, "rank --share " + long, "rank -o " + long, "rank --brief " + brief, "rank --brief " + long,
		"swap x.toml --change " + long, "shortlist " + long, "plot x.toml " + long, "catalog show " + long, "catalog new " + long, "completion " + long, "help " + long,
	} {
		r := answerTo(t.Context(), line)
		if short := strings.ReplaceAll(line, long, "…"); r.code < outcome.ExitUsage || len(r.stderr) > 1000 {
			t.Errorf("gearsearch %s: exit code %d, and %d characters are said", short, r.code, len(r.stderr))
		}
	}
}
