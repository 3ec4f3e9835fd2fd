package leaf

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// conceded is what to give way on for a demo brief with a change, of which nothing is
// feasible.
func conceded(t *testing.T, name string, change func(*constraints.Brief)) *Conceded {
	t.Helper()
	c, brief := demo(t, name)
	change(brief)
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	o := search.Options{Strict: true}
	near, _ := search.Nearest(context.Background(), p, o)
	relaxed := search.Relax(context.Background(), p, search.RelaxOptions{Options: o, Digits: say.ConcededDigits, Motors: true})
	if near == nil || relaxed.Feasible > 0 {
		t.Fatal("something is feasible")
	}
	return &Conceded{Near: near.Build, Relaxed: relaxed, Problem: p}
}

// numbersOf are the numbers in a text.
func numbersOf(t *testing.T, text string) (out []float64) {
	t.Helper()
	for _, s := range regexp.MustCompile(`-?[0-9.]+`).FindAllString(text, -1) {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, x)
	}
	return out
}

// TestConcessionsAreArrows: each concession stands in the list with the build that it
// opens, and an arrow leads from the nearest build to that one; what is asked for of an
// axis's figure is a line, and no name lies on another, a dot or a line.
func TestConcessionsAreArrows(t *testing.T) {
	drawn, worded := 0, 0
	for _, x := range []struct {
		why    string
		change func(*constraints.Brief)
	}{
		{"far", func(b *constraints.Brief) { b.Target.Range = 120_000 }},
		{"cheap", func(b *constraints.Brief) { b.Limit.Price = 700 }},
		{"far and cheap", func(b *constraints.Brief) { b.Target.Range, b.Limit.Price = 70_000, 1000 }},
	} {
		c := conceded(t, "harbour", x.change)
		text := c.Node(Dead).String()
		openings := c.Relaxed.Openings
		if n := strings.Count(text, "<li data-opening="); n != len(openings) || n == 0 {
			t.Errorf("%s: %d of %d openings are listed", x.why, n, len(openings))
		}
		near := regexp.MustCompile(`<rect class="near" x="([^"]*)" y="([^"]*)"`).FindStringSubmatch(text)
		if near == nil {
			t.Errorf("%s: no nearest build in\n%s", x.why, text)
			continue
		}
		at := numbersOf(t, near[1]+" "+near[2])
		lines := regexp.MustCompile(`<path class="(?:arrow|wish)" d="([^"]*)"`).FindAllStringSubmatch(text, -1)
		dots := regexp.MustCompile(`data-openings="([^"]*)"><circle cx="([^"]*)" cy="([^"]*)"`).FindAllStringSubmatch(text, -1)
		told := map[string]bool{}
		for _, d := range dots {
			for _, n := range strings.Split(d[1], ", ") {
				told[n] = true
			}
			to := numbersOf(t, d[2]+" "+d[3])
			leads := false
			for _, l := range lines {
				p := numbersOf(t, l[1])
				ahead := (p[2]-p[0])*(to[0]-p[2])+(p[3]-p[1])*(to[1]-p[3]) > 0
				aside := ((p[2]-p[0])*(to[1]-p[1]) - (p[3]-p[1])*(to[0]-p[0])) / math.Hypot(p[2]-p[0], p[3]-p[1])
				begins := math.Hypot(p[0]-at[0]-8, p[1]-at[1]-8) < 9
				for _, w := range lines {
					q := numbersOf(t, w[1])
					begins = begins || strings.Contains(w[0], "wish") && math.Min(math.Abs(p[0]-q[0]), math.Abs(p[1]-q[1])) < 9
				}
				leads = leads || ahead && math.Abs(aside) < 1 && begins
			}
			if short := math.Hypot(to[0]-at[0]-8, to[1]-at[1]-8) < arrowLeast; short && !leads {
				continue // it is the nearest build, or right beside it
			}
			if !leads {
				t.Errorf("%s: no arrow leads from %v to %s", x.why, at, d[0])
			}
			drawn++
		}
		for i := range openings {
			if !told[fmt.Sprint(i+1)] {
				t.Errorf("%s: %d is not drawn", x.why, i+1)
			}
		}
		if !strings.Contains(text, `class="wish"`) {
			t.Errorf("%s: what is asked for is no line", x.why)
		}
		for _, m := range regexp.MustCompile(`<text class="named" x="([^"]*)" y="([^"]*)">([^<]*)<`).FindAllStringSubmatch(text, -1) {
			p := numbersOf(t, m[1]+" "+m[2])
			box := room{p[0], p[1] - 11, p[0] + 6.5*float64(len([]rune(m[3]))), p[1] + 2}
			if strings.ContainsAny(m[3], "abcdefghijklmnopqrstuvwxyz") {
				worded++
			}
			for _, l := range lines {
				if q := numbersOf(t, l[1]); box.crossedBy(vector{q[0], q[1]}, vector{q[2], q[3]}) {
					t.Errorf("%s: a line runs through %q", x.why, m[3])
				}
			}
		}
	}
	if drawn < 3 || worded < 2 {
		t.Errorf("only %d arrows, %d of them with words", drawn, worded)
	}
}

// TestConcessionsLive: where an engine stands behind it, each concession has places for
// what can be done with it; in a file it has none.
func TestConcessionsLive(t *testing.T) {
	c := conceded(t, "harbour", func(b *constraints.Brief) { b.Target.Range = 120_000 })
	for m, want := range map[Manner]int{Live: len(c.Relaxed.Openings), Dead: 0} {
		if n := strings.Count(c.Node(m).String(), `data-live="take"`); n != want {
			t.Errorf("live %v: %d places, want %d", m, n, want)
		}
	}
	none := &Conceded{Near: c.Near, Relaxed: &search.Relaxed{Complete: true}, Problem: c.Problem}
	if text := none.Node(Live).String(); !strings.Contains(text, "is not enough") {
		t.Errorf("without a concession it says %s", text)
	}
}
