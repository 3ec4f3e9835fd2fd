package report

import (
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/constraints"
	"gearsearch/search"
)

// lastmile is the ranking of a brief of the demo.
func lastmile(t *testing.T) *search.Result {
	t.Helper()
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	src, _ := catalog.DemoBrief("lastmile")
	brief, err := constraints.ReadBrief(src)
	if err != nil {
		t.Fatal(err)
	}
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	r, err := search.Rank(t.Context(), p, search.Options{Top: 5})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func written(t *testing.T, in Input) string {
	t.Helper()
	var b strings.Builder
	if err := Write(&b, New(in)); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestPlane: all feasible builds are drawn where they are given.
func TestPlane(t *testing.T) {
	r := lastmile(t)
	x, y := leaf.FieldFigures(r.Problem)
	field := leaf.NewField(r, x, y, 0)
	for s := range r.Builds() {
		field.Cloud.Add(s.Build)
	}
	text := written(t, Input{Input: leaf.Input{Result: r}, Field: field})
	if !strings.Contains(text, "Where they stand among all") || !strings.Contains(text, "<title>No. 1</title>") {
		t.Error("no drawing of all")
	}
}

// TestDrawings: each card has its drawings, none of an interrupted search.
func TestDrawings(t *testing.T) {
	r := lastmile(t)
	d := New(Input{Input: leaf.Input{Result: r}})
	for _, c := range d.Cards {
		scale := slices.ContainsFunc(c.More, func(x leaf.Drawing) bool { return strings.Contains(x.Title, "to scale") })
		if len(c.Drawings) != 2 || len(c.More) < 6 || !scale {
			t.Errorf("No. %d has %d drawings and %d more, one to scale: %v", c.Number, len(c.Drawings), len(c.More), scale)
		}
	}
	r.Complete = false
	if strings.Contains(written(t, Input{Input: leaf.Input{Result: r}}), "<figure") {
		t.Error("drawings of an interrupted search take longer than an interrupt may")
	}
}
