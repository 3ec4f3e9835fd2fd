package plot

import (
	"cmp"
	"slices"
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/trace"
	"gearsearch/drive"
)

// TestKeyOfHeatStandsAsTheCurvesEnd: the names of the curves of heat stand below each
// other in one column, that of the curve that ends highest first.
func TestKeyOfHeatStandsAsTheCurvesEnd(t *testing.T) {
	keys := 0
	for _, src := range catalog.DemoBriefs() {
		brief := catalog.DemoBriefName(src)
		_, subjects := firstBuilds(t, brief)
		for _, s := range subjects {
			along, ok := trace.Hill(s.Build)
			if !ok {
				continue
			}
			w, length := warmth{along}, s.Build.Problem.Brief.Target.ClimbLength
			if s.Build.WindingEnd() >= drive.HottestKnown {
				length = w.reaches(drive.HottestKnown, length) * (1 - 1e-9)
			}
			want := []string{"winding", "rest of the motor", "rise 40 % more", "rise 40 % less"}
			ends := map[string]float64{"winding": w.Winding(length), "rest of the motor": w.Rest(length), "rise 40 % more": w.doubted(heatDoubt)(length), "rise 40 % less": w.doubted(-heatDoubt)(length)}
			slices.SortFunc(want, func(a, b string) int { return cmp.Compare(ends[b], ends[a]) })
			f, err := Heat(s)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range []*Figure{f, f.Within(narrowest)} {
				var named []textElement
				for _, e := range read(t, f.Inline()).texts {
					if slices.Contains(want, e.text) {
						named = append(named, e)
					}
				}
				slices.SortFunc(named, func(a, b textElement) int { return cmp.Compare(a.y, b.y) })
				var got []string
				for _, e := range named {
					got = append(got, e.text)
					if e.x != named[0].x {
						t.Errorf("%s: %q does not stand in the column of %q", brief, e.text, named[0].text)
					}
				}
				if !slices.Equal(got, want) {
					t.Errorf("%s: the names are %q from the top, the curves end as %q", brief, got, want)
				}
				keys++
			}
		}
	}
	if keys == 0 {
		t.Error("no demo brief has a hill with a length")
	}
}
