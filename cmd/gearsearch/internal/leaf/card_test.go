package leaf

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
	"gearsearch/search"
)

// bestCard is the card of the best build under a brief, and that build.
func bestCard(t *testing.T, change func(*constraints.Brief)) (*Card, search.Scored) {
	t.Helper()
	c, brief := demo(t, "harbour")
	change(brief)
	s := rank(t, c, brief, 1).At(0)
	return CardOf(s, "No. 1", quantity.Metric), s
}

// TestCardExplainsEveryFigure: each figure stands in the card once, with its
// formula, its numbers, its meaning and its source.
func TestCardExplainsEveryFigure(t *testing.T) {
	card, s := bestCard(t, func(*constraints.Brief) {})
	var names []string
	for _, g := range card.Groups {
		for _, f := range g.Figures {
			info, ok := constraints.FigureNamed(f.Key)
			if !ok || f.Formula != info.Formula || f.Source != info.Source || f.Note != info.Of(s.Build).Meaning || f.Numbers == "" || f.Value == "" {
				t.Errorf("%s is explained by %+v", f.Key, f)
			}
			names = append(names, f.Key)
		}
	}
	slices.Sort(names)
	if n := len(slices.Compact(names)); n != len(constraints.Figures()) {
		t.Errorf("%d figures of %d", n, len(constraints.Figures()))
	}
}

// TestFrostIsNoStop: what a frozen pack does not brake the card calls rolling out.
func TestFrostIsNoStop(t *testing.T) {
	card, _ := bestCard(t, func(b *constraints.Brief) {
		*b = *constraints.DefaultBrief()
		b.Target.TopSpeed = 25 / 3.6
		if err := b.Set("ground.temperature_c", "-5", "test"); err != nil {
			t.Fatal(err)
		}
	})
	told := 0
	for _, g := range card.Groups {
		for _, f := range g.Figures {
			if !strings.HasPrefix(f.Key, "stop_") {
				continue
			}
			told++
			if !strings.HasPrefix(f.Name, "roll-out") || !strings.HasPrefix(f.Note, "rolling out") || !strings.Contains(f.Note, "electric braking") {
				t.Errorf("%s is told as %q, %q", f.Key, f.Name, f.Note)
			}
		}
	}
	if told != 3 {
		t.Errorf("%d stops, want 3", told)
	}
}

// TestAroundIsTheOutfit holds what a card adds to a build to what package outfit
// makes of it.
func TestAroundIsTheOutfit(t *testing.T) {
	card, s := bestCard(t, func(*constraints.Brief) {})
	o := outfit.Complete(s.Build, outfit.DefaultWishes())
	var ids, want []string
	for _, n := range card.Around {
		ids = append(ids, n.ID)
	}
	for _, n := range o.Needs {
		want = append(want, n.Line().ID)
	}
	if d := cmp.Diff(want, ids); d != "" || len(ids) == 0 {
		t.Errorf("needs (-want +got):\n%s", d)
	}
	if d := cmp.Diff(say.OutfitCare(o, quantity.Metric), card.Care); d != "" {
		t.Errorf("care (-want +got):\n%s", d)
	}
	if card.TotalAtLeast != o.Total.Missing || card.Total == "" {
		t.Errorf("in all %q, at least %v", card.Total, card.TotalAtLeast)
	}
}

// TestTreeIsTheMarkup: the tree that a page makes elements of and the HTML of a
// file are the same.
func TestTreeIsTheMarkup(t *testing.T) {
	card, _ := bestCard(t, func(*constraints.Brief) {})
	node := card.Sheet(Live)
	text, err := node.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	var again Node
	if err := again.UnmarshalJSON(text); err != nil {
		t.Fatal(err)
	}
	ordered := func(html string) string { // attributes have no order
		words := strings.FieldsFunc(html, func(r rune) bool { return r == ' ' || r == '<' || r == '>' })
		slices.Sort(words)
		return strings.Join(words, " ")
	}
	if a, b := ordered(node.String()), ordered(again.String()); a != b {
		t.Error("the tree is other than the markup")
	}
	for _, wrong := range []string{`[]`, `["p"]`, `["p",{},3]`, `{}`, `[1,{}]`} {
		if err := new(Node).UnmarshalJSON([]byte(wrong)); err == nil {
			t.Errorf("%s is taken for a tree", wrong)
		}
	}
}
