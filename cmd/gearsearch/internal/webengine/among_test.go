package webengine

import (
	"regexp"
	"strings"
	"testing"

	"gearsearch/constraints"
)

// TestField: the field of a small catalog has a dot for each feasible build, the
// builds of the list, and the axes that are asked for; what is not asked for has
// no axis.
func TestField(t *testing.T) {
	e := newEngine(t)
	answer[contents](t, e, M{"ask": "catalog", "files": files("shop.toml", little)})
	brief := M{"target.top_speed_kmh": "20"}
	got := answer[among](t, e, M{"ask": "field", "brief": brief, "x": "price", "y": "top_speed_kmh"})
	if got.Field == nil || got.X != "price" || got.Y != "top_speed_kmh" {
		t.Fatalf("%+v", got)
	}
	text := got.Field.String()
	if n := strings.Count(text, `r="1.8"`); n != 1 {
		t.Errorf("%d dots of one build", n)
	}
	if n := strings.Count(text, `class="pick"`); n != 1 {
		t.Errorf("%d builds of the list, which has one", n)
	}
	for _, a := range got.Axes {
		if f, ok := constraints.FigureNamed(a.Name); !ok || f.Better == constraints.Neither || a.Name == "launch_s" {
			t.Errorf("an axis %s", a.Name)
		}
	}
	if none := answer[among](t, e, M{"ask": "field", "brief": M{"target.top_speed_kmh": "90"}}); none.Field != nil || none.Missing == "" {
		t.Errorf("of nothing feasible %+v", none)
	}
}

// TestFieldOfTheDemo: each dot lies in the frame, and the words count all builds.
func TestFieldOfTheDemo(t *testing.T) {
	e := newEngine(t)
	brief := harbour(t, e)
	counts := answer[tally](t, e, M{"ask": "count", "brief": brief})
	for _, axes := range [][2]string{{"", ""}, {"mass_kg", "climb_limit_pct"}, {"range_km", "price"}} {
		got := answer[among](t, e, M{"ask": "field", "brief": brief, "x": axes[0], "y": axes[1], "units": "imperial"})
		text := got.Field.String()
		if !strings.Contains(text, counts.Feasible+" feasible builds") {
			t.Errorf("%v: the field does not count %s builds", axes, counts.Feasible)
		}
		dots := regexp.MustCompile(`cx="([^"]*)" cy="([^"]*)"`).FindAllStringSubmatch(text, -1)
		if len(dots) < 500 {
			t.Errorf("%v: %d dots", axes, len(dots))
		}
		for _, d := range dots {
			if d[1][0] == '-' || d[2][0] == '-' || len(d[1]) > len("640.0") || len(d[2]) > len("400.0") {
				t.Fatalf("%v: a dot at %s, %s", axes, d[1], d[2])
			}
		}
	}
}
