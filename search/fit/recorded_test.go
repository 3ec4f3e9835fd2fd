package fit_test

import (
	"context"
	"math"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/optimize"

	"gearsearch/constraints/kittest"
	"gearsearch/drive"
	"gearsearch/search/fit"
)

// A light electric car of 78 kg and a drag area of 0.4294 m² × 0.1495 that coasts out
// and back: km/h every 4 s of the first 100 s. Public repository
// Abaiquni/Finding-Rolling-Resistance-for-Electric-Car, Data/Michelin60A.csv and
// Michelin60B.csv (one speed a second), mass, area and density as in its program.
var recorded = [2][]float64{
	{29.196, 28.224, 27.612, 26.82, 26.244, 25.596, 25.38, 23.688, 22.068, 23.652, 20.772, 21.456, 19.224, 17.352, 18.72, 16.632, 16.632, 15.624, 14.472, 11.844, 13.752, 13.14, 12.492, 11.772, 10.764, 10.044},
	{27.504, 27.612, 24.444, 23.436, 23.976, 14.616, 23.112, 18.252, 21.78, 20.916, 21.204, 18.432, 16.092, 19.26, 18.324, 15.228, 18.324, 17.496, 16.812, 15.948, 15.516, 14.904, 15.3, 11.664, 11.088, 12.492},
}

// TestFitOfARecordedCoastDown holds the fit of real, rough speeds to another program's
// way: the equation of motion by steps, and a simplex search for the least squares.
func TestFitOfARecordedCoastDown(t *testing.T) {
	rider := 70.0
	changes := func() []string {
		return []string{"rider.drag_area_m2 = 0.0641953", "ground.air_density_kg_m3 = 1.225", "rider.mass_kg = " + strconv.FormatFloat(rider, 'g', -1, 64)}
	}
	rider -= kittest.Build(t, kittest.Belts, changes()...).TotalMass() - 78
	b := kittest.Build(t, kittest.Belts, changes()...)
	rec := fit.Records{Freewheel: true, Only: one(fit.Rolling)}
	for i, list := range recorded {
		run := fit.Run{Name: "run", Direction: [2]fit.Direction{fit.Out, fit.Back}[i]}
		for j, v := range list {
			run.Times, run.Speeds = append(run.Times, 4*float64(j)), append(run.Speeds, v/3.6)
		}
		rec.Runs = append(rec.Runs, run)
	}
	r, err := fit.Fit(context.Background(), b, rec)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("rolling %.5f [%.5f, %.5f], slope %.5f, scatter %.2f km/h, memory %.2f", r.Rolling.Value, r.Rolling.Low, r.Rolling.High, r.Slope, r.RunScatter*3.6, r.Memory)
	// By steps of a tenth of a second: x holds Crr, the slope, and where each run begins.
	squares := func(x []float64) float64 {
		sum := 0.0
		for i, run := range rec.Runs {
			v := x[2+i] * 10
			f := func(v float64) float64 {
				return -drive.Gravity*(x[0]/100+float64(run.Direction)*x[1]/100) - 0.5*1.225*0.0641953/78*v*v
			}
			for _, want := range run.Speeds {
				sum += (v - want) * (v - want)
				for range 40 {
					const h = 0.1
					k1 := f(v)
					k2 := f(v + h/2*k1)
					k3 := f(v + h/2*k2)
					v += h / 6 * (k1 + 2*k2 + 2*k3 + f(v+h*k3))
				}
			}
		}
		return sum
	}
	m, err := optimize.Minimize(optimize.Problem{Func: squares}, []float64{0.5, 0, 0.8, 0.8}, &optimize.Settings{
		Converger: &optimize.FunctionConverge{Absolute: 1e-14, Iterations: 200}, FuncEvaluations: 20000,
	}, &optimize.NelderMead{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(m.X[0]/100-r.Rolling.Value) > 1e-5*r.Rolling.Value || math.Abs(m.X[1]/100-r.Slope) > 1e-5*math.Abs(r.Slope) {
		t.Errorf("rolling %.8f and slope %.8f, by steps %.8f and %.8f", r.Rolling.Value, r.Slope, m.X[0]/100, m.X[1]/100)
	}
	// What such a car's tyres take, by the same source's search between 0.001 and 0.02.
	if r.Rolling.Verdict != fit.Told || r.Rolling.Value < 0.001 || r.Rolling.Value > 0.02 {
		t.Errorf("%+v", r.Rolling)
	}
}
