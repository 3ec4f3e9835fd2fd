package randcat

import (
	"math"
	"math/rand/v2"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
)

// Problem makes the problem of a random catalog and brief; ok is false where the
// two do not go together.
func Problem(tb testing.TB, seed uint64, sizes Sizes) (p *constraints.Problem, ok bool) {
	tb.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	catalogText, briefText := Catalog(r, sizes), Brief(r)
	c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(catalogText)})
	if err != nil {
		tb.Fatalf("seed %d: catalog: %v", seed, err)
	}
	b, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(briefText)})
	if err != nil {
		return nil, false
	}
	if seed%3 == 1 { // of its own, so that the catalog and the brief do not depend on it
		b.Way = Way(rand.New(rand.NewPCG(seed, 2)))
		b.Ride.Start = 0.3 + 0.7*r.Float64()
	}
	p, err = constraints.NewProblem(c, b)
	return p, err == nil
}

// Way is a random way to ride: hills that some boards do not climb or hold, stops, and
// grounds that change.
func Way(r *rand.Rand) *route.Route {
	w := &route.Route{Name: "way.csv"}
	grounds := constraints.Surfaces()
	for range 1 + r.IntN(4) {
		leg := route.Leg{Length: 5 + 20*r.Float64(), Speed: math.NaN()}
		if r.IntN(3) > 0 {
			leg.Speed = 1 + 7*r.Float64()
		}
		if r.IntN(2) > 0 {
			leg.Surface = grounds[r.IntN(len(grounds))]
		}
		if r.IntN(3) > 0 {
			leg.Rise = leg.Length * (r.Float64() - 0.5) * 0.6 * r.Float64()
		}
		for range 1 + r.IntN(60) {
			w.Legs = append(w.Legs, leg)
		}
		w.Legs[len(w.Legs)-1].Stop = r.IntN(2) > 0
	}
	return w
}

// Markets are synthetic markets by their number of combinations.
func Markets() []Market {
	return []Market{
		{Motors: 12, Controllers: 5, Batteries: 8, MotorPulleys: 10, WheelPulleys: 10, Belts: 12, Mounts: 2, Gears: 8, Wheels: 10},
		{Motors: 40, Controllers: 10, Batteries: 20, MotorPulleys: 18, WheelPulleys: 16, Belts: 30, Mounts: 1, Gears: 12, Wheels: 17},
		{Motors: 100, Controllers: 16, Batteries: 30, MotorPulleys: 24, WheelPulleys: 24, Belts: 40, Mounts: 2, Gears: 40, Wheels: 17},
		{Motors: 200, Controllers: 30, Batteries: 50, MotorPulleys: 36, WheelPulleys: 36, Belts: 60, Mounts: 2, Gears: 60, Wheels: 13},
		{Motors: 400, Controllers: 40, Batteries: 80, MotorPulleys: 60, WheelPulleys: 60, Belts: 80, Mounts: 2, Gears: 100, Wheels: 11},
	}
}

// MarketProblem makes a market's problem with a brief.
func MarketProblem(tb testing.TB, m Market, briefText string) *constraints.Problem {
	tb.Helper()
	return textProblem(tb, m.Catalog(rand.New(rand.NewPCG(1, 2))), briefText)
}

// PrintedProblem is MarketProblem with the parts of Printed besides.
func PrintedProblem(tb testing.TB, m Market, briefText string) *constraints.Problem {
	tb.Helper()
	return textProblem(tb, m.Catalog(rand.New(rand.NewPCG(1, 2)))+Printed, briefText)
}

func textProblem(tb testing.TB, text, briefText string) *constraints.Problem {
	tb.Helper()
	c, err := catalog.Read(field.Source{Name: "market.toml", Data: []byte(text)})
	if err != nil {
		tb.Fatal(err)
	}
	brief, err := constraints.ReadBrief(field.Source{Name: "street.toml", Data: []byte(briefText)})
	if err != nil {
		tb.Fatal(err)
	}
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}
