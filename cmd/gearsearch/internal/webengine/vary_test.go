package webengine

import (
	"context"
	"testing"

	"gearsearch/constraints/kittest"
	"gearsearch/search"
)

// best is the best demo build of a brief as the search has it, and as the page.
func best(t *testing.T, e *Engine, brief M) (search.Scored, string) {
	t.Helper()
	p := kittest.Demo(t, "harbour")
	found, err := search.Rank(context.Background(), p, search.Options{Top: 1})
	if err != nil {
		t.Fatal(err)
	}
	return found.At(0), answer[ranking](t, e, M{"ask": "rank", "brief": brief, "top": 1}).Builds[0].File
}

func TestVary(t *testing.T) {
	e := newEngine(t)
	brief := harbour(t, e)
	s, file := best(t, e, brief)
	got := answer[varied](t, e, M{"ask": "vary", "brief": brief, "build": file})
	want := search.Robust(t.Context(), s.Build, draws, seed, false)
	if got.Share != percent(want.Share) || got.Draws != want.Draws || len(got.Checks) != len(want.Checks) {
		t.Errorf("%s of %d, %d checks; want %g of %d, %d", got.Share, got.Draws, len(got.Checks), want.Share, want.Draws, len(want.Checks))
	}
	if len(got.Figures) == 0 || len(got.Figures) >= len(want.Figures) {
		t.Errorf("%d figures vary of %d", len(got.Figures), len(want.Figures))
	}
	still := with(brief, "tolerance.kv_pct", "0")
	for _, key := range []string{"mass_kg", "rolling_pct", "drag_pct", "pack_resistance_pct", "efficiency_points", "wheel_pct", "stance_points", "grip_pct", "wind_kmh"} {
		still["tolerance."+key] = "0"
	}
	if got := answer[varied](t, e, M{"ask": "vary", "brief": still, "build": file}); got.Share != "100 %" || len(got.Figures) != 0 {
		t.Errorf("where nothing varies it passes in %s, and %v vary", got.Share, got.Figures)
	}
}

func TestPercent(t *testing.T) {
	for share, want := range map[float64]string{0: "0 %", 0.004: "below 1 %", 0.5: "50 %", 0.99: "99 %", 0.998: "above 99 %", 1: "100 %"} {
		if got := percent(share); got != want {
			t.Errorf("%g is %s, want %s", share, got, want)
		}
	}
}
