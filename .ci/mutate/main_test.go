package main

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// small is a module of two packages. The tests of low look at Sign alone, those
// of high, which imports it, at Twice; nothing looks at Lost.
var small = map[string]string{
	"go.mod": "module small\n\ngo 1.24\n",
	"low/low.go": `package low

func Sign(x int) int {
	if x < 0 {
		return -1
	}
	return 1
}

func Twice(x int) int { return 2 * x }

func Lost(x int) int { return x + x }

func Loops() (n int) {
	for i := 0; i < 3; i++ {
		n++
	}
	return n
}
`,
	"low/low_test.go": `package low

import "testing"

func TestSign(t *testing.T) {
	if Sign(-2) != -1 || Sign(2) != 1 {
		t.Error(Sign(-2), Sign(2))
	}
}
`,
	"high/high.go": "package high\n\nimport \"small/low\"\n\nfunc Four() int { return low.Twice(2) }\n",
	"high/high_test.go": `package high

import "testing"

func TestFour(t *testing.T) {
	if Four() != 4 {
		t.Error(Four())
	}
}
`,
}

// module writes the small module and goes there.
func module(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range small {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	return dir
}

func TestMutantsOf(t *testing.T) {
	list, err := mutantsOf(filepath.Join(module(t), "low", "low.go"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range list {
		before, after, _ := strings.Cut(m.String(), "\n+ ")
		_, what, _ := strings.Cut(before, ": ")
		what, _, _ = strings.Cut(what, "\n")
		got = append(got, what+": "+after)
	}
	want := []string{
		"condition negated: if !(x < 0) {",
		"statement dropped: {}",
		"comparison flipped, < is >: if x > 0 {",
		"constant one too great: if x < (0 + 1) {",
		"sign dropped: return 1",
		"constant one too great: return -(1 + 1)",
		"constant one too great: return (1 + 1)",
		"operator swapped, * is /: func Twice(x int) int { return 2 / x }",
		"constant one too great: func Twice(x int) int { return (2 + 1) * x }",
		"sign swapped, + is -: func Lost(x int) int { return x - x }",
		"constant one too great: for i := (0 + 1); i < 3; i++ {",
		"comparison flipped, < is >: for i := 0; i > 3; i++ {",
		"constant one too great: for i := 0; i < (3 + 1); i++ {",
		"sign swapped, ++ is --: for i := 0; i < 3; i-- {",
		"statement dropped: {}",
		"sign swapped, ++ is --: n--",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestMutate asks about all changes of two functions that a test looks at, in
// the package or in one that imports it, and of one that none looks at.
func TestMutate(t *testing.T) {
	if testing.Short() {
		t.Skip("-short: builds half a dozen small programs")
	}
	dir := module(t)
	for _, tt := range []struct {
		match            string
		own              bool
		killed, survived int
		why              string
	}{
		{`low.go:5$`, true, 2, 0, "its own test looks"},
		{`low.go:10$`, false, 2, 0, "a test of an importing package looks"},
		{`low.go:10$`, true, 0, 2, "its own does not"},
		{`low.go:12$`, false, 0, 1, "nothing looks"},
	} {
		killed, survived, err := mutate(context.Background(), []string{"./low"}, regexp.MustCompile(tt.match), 0, 1, tt.own)
		if err != nil || killed != tt.killed || len(survived) != tt.survived {
			t.Errorf("%s: %d killed, %v survived, %v", tt.why, killed, survived, err)
		}
	}
	if now, err := os.ReadFile(filepath.Join(dir, "low", "low.go")); err != nil || string(now) != small["low/low.go"] {
		t.Errorf("the file is changed: %s, %v", now, err)
	}
}

func TestAsked(t *testing.T) {
	module(t)
	h, err := newHouse(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	defer h.close()
	if got, want := h.asked("small/low", false), []string{"small/low", "small/high"}; !slices.Equal(got, want) {
		t.Errorf("asked are %v, want %v", got, want)
	}
	if _, err := h.mutants(context.Background(), []string{"./nowhere"}, regexp.MustCompile("")); err == nil {
		t.Error("a folder that is no package is taken")
	}
}
