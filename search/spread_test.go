package search

import (
	"testing"

	"gearsearch/constraints/ease"
	"gearsearch/search/internal/randcat"
)

// TestSpreadTellsWhatPasses: of all builds that pass but for a wish, those whose
// value the wish allows are the ones that pass with it; only builds of which the
// value is not known may be more.
func TestSpreadTellsWhatPasses(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.StreetBrief)
	for _, strict := range []bool{false, true} {
		o := Options{Strict: strict}
		counted := WithoutEach(t.Context(), p, o)
		told := 0
		for _, w := range ease.Wishes(p) {
			s, err := SpreadOf(t.Context(), p, w, 1<<40, o)
			if err != nil || !s.Complete {
				t.Fatal(w.Key, err)
			}
			if len(s.Values) == 0 {
				continue
			}
			told++
			passing := uint64(0)
			const near = 1e-7 // of a value that was found by a formula turned around
			least, most := w.Value*(1-near), w.Value*(1+near)
			edge := uint64(0)
			for _, v := range s.Values {
				if v >= least && v <= most {
					edge++
				}
				if w.Eases > 0 && v <= w.Value || w.Eases <= 0 && v >= w.Value {
					passing++
				}
			}
			unknown := s.Looked - uint64(len(s.Values))
			if passing > counted.Feasible+edge || counted.Feasible > passing+unknown+edge {
				t.Errorf("%s, strict %v: %d of %d values pass, %d are not known, %d at the edge; %d builds are feasible", w.Key, strict, passing, len(s.Values), unknown, edge, counted.Feasible)
			}
			for _, x := range counted.Each {
				if x.Key == w.Key && x.More != int64(s.Looked)-int64(counted.Feasible) {
					t.Errorf("%s, strict %v: %d builds without it, counted %d more than %d", w.Key, strict, s.Looked, x.More, counted.Feasible)
				}
			}
		}
		if told < 4 {
			t.Errorf("strict %v: only %d wishes have a spread", strict, told)
		}
	}
}
