package leaf

import (
	"testing"

	"gearsearch/search"
)

// TestWishesOfADocument: each target and limit with what it costs, and none
// where that was not counted to the end.
func TestWishesOfADocument(t *testing.T) {
	c, brief := demo(t, "harbour")
	r := rank(t, c, brief, 1)
	wishes := search.WithoutEach(t.Context(), r.Problem, search.Options{})
	d := New(Input{Result: r, Wishes: wishes})
	if len(d.Wishes) != len(wishes.Each) || len(d.Wishes) == 0 {
		t.Fatalf("%d wishes, want %d", len(d.Wishes), len(wishes.Each))
	}
	for i, w := range wishes.Each {
		if got := d.Wishes[i]; got.Key != w.Key || got.None != (w.More == 0) || got.Name == "" || got.Asked == "" || got.Without == "" {
			t.Errorf("%s, %d more, is %+v", w.Key, w.More, got)
		}
	}
	for _, w := range []*search.Wishes{nil, {Each: wishes.Each}} {
		if d := New(Input{Result: r, Wishes: w}); len(d.Wishes) > 0 {
			t.Errorf("wishes that were not counted: %+v", d.Wishes)
		}
	}
}
