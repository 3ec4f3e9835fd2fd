package plot

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/drive"
	"gearsearch/search/fit"
)

// fittedRecords fits synthetic records of a build of the demo: so many runs and rides.
func fittedRecords(t testing.TB, s Subject, runs, rides int) *fit.Result {
	t.Helper()
	random := rand.New(rand.NewPCG(5, uint64(runs*10+rides)))
	var rec fit.Records
	c := drive.Coast{Mass: s.Build.TotalMass(), Steady: s.Build.TotalMass()*drive.Gravity*0.018 + s.Build.Board().IdleDrag(), Drag: 0.27}
	for i := range runs {
		run := fit.Run{Name: "run", Direction: fit.Direction(1 - i%2*2)}
		for t := 0.0; c.Speed(9, t) > 1; t += 0.5 {
			run.Times, run.Speeds = append(run.Times, t), append(run.Speeds, c.Speed(9, t)+0.1*random.NormFloat64())
		}
		rec.Runs = append(rec.Runs, run)
	}
	for i := range rides {
		v := 4 + float64(i)
		rec.Rides = append(rec.Rides, fit.Ride{Name: "ride", Speed: v, Energy: 22 + 0.35*v*v*(1+0.05*random.NormFloat64()), Stops: 0, Ascent: math.NaN()})
	}
	r, err := fit.Fit(context.Background(), s.Build, rec)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestFitIsDrawn: every name of a drawing of a fit stands clear and within the frame,
// and it says in words what it shows.
func TestFitIsDrawn(t *testing.T) {
	s := subject(t, 0)
	for _, system := range []quantity.System{quantity.Metric, quantity.Imperial} {
		s.System = system
		for _, n := range [][2]int{{1, 0}, {4, 0}, {9, 0}, {0, 5}, {2, 4}} {
			r := fittedRecords(t, s, n[0], n[1])
			for _, f := range []*Figure{Fit(s, r), Fit(s, r).Within(narrowest)} {
				what := fmt.Sprintf("%d runs and %d rides in units %d, %.0f wide", n[0], n[1], system, f.width.Points())
				d := read(t, f.Inline())
				for _, name := range crossed(t, d) {
					t.Errorf("%s: something runs through %q", what, name)
				}
				width, height := f.Size()
				for _, e := range d.texts {
					if left, top, right, bottom := e.box(); left < 0 || top < 0 || right > width || bottom > height {
						t.Errorf("%s: %q leaves the frame", what, e.text)
					}
				}
				if !strings.Contains(f.Summary, digits(r.Rolling.Value, 4)) {
					t.Errorf("%s: %s", what, f.Summary)
				}
			}
		}
	}
}
