package plot

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/constraints"
)

// TestSensitivityNamesWhatMatters holds the sentence under the drawing to the
// effects: each of its halves names first what moves its own figure most.
func TestSensitivityNamesWhatMatters(t *testing.T) {
	asking := constraints.DefaultBrief()
	asking.Target.TopSpeed, asking.Target.ClimbGrade, asking.Target.Range = 9, 0.2, 20_000
	asking.Ride.Wind = 5
	p := problemOf(t, asking)
	drawn := 0
	for i := range 12 {
		s := Subject{Build: build(t, p, i, i*5, i*7, i*131, i*3)}
		f, err := Sensitivity(s)
		if err != nil {
			continue
		}
		drawn++
		for name, asked := range map[string]bool{"wind": s.ranges(), "stops": s.ranges(), "ascent": false} { // there is no ascent
			if found := slices.ContainsFunc(Effects(s), func(e Effect) bool { return e.Input == name }); found != asked {
				t.Errorf("%s: an effect of %s is %v, want %v", s.Name(), name, found, asked)
			}
		}
		for of, size := range map[string]func(Effect) float64{
			"The top speed":    func(e Effect) float64 { return max(math.Abs(e.Speed[0]), math.Abs(e.Speed[1])) },
			"The climb margin": func(e Effect) float64 { return max(math.Abs(e.Climb[0]), math.Abs(e.Climb[1])) },
			"The range":        func(e Effect) float64 { return max(math.Abs(e.Range[0]), math.Abs(e.Range[1])) },
		} {
			most, named := 0.0, math.NaN()
			for _, e := range Effects(s) {
				most = max(most, size(e))
				if strings.Contains(f.Summary, of+" changes most with "+e.Input+" (") {
					named = size(e)
				}
			}
			if stays := strings.Contains(f.Summary, of+" stays"); most < 0.0001 && !stays || most > 0.5 && !(named > 0.999*most) {
				t.Errorf("%s: the most that moves %s is %g, what is named %g:\n%s", s.Name(), of, most, named, f.Summary)
			}
		}
		if strings.Contains(f.Summary, "(−5 %: 0, +5 %: 0") {
			t.Errorf("%s: the sentence names what does nothing:\n%s", s.Name(), f.Summary)
		}
	}
	if drawn < 6 {
		t.Errorf("%d of 12 builds are drawn", drawn)
	}
}
