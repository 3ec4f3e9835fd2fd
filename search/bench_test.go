package search

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// markets are synthetic markets by their number of combinations.
var markets = []randcat.Market{
	{Motors: 12, Controllers: 5, Batteries: 8, MotorPulleys: 10, WheelPulleys: 10, Belts: 12, Mounts: 2, Gears: 8, Wheels: 10},
	{Motors: 40, Controllers: 10, Batteries: 20, MotorPulleys: 18, WheelPulleys: 16, Belts: 30, Mounts: 1, Gears: 12, Wheels: 17},
	{Motors: 100, Controllers: 16, Batteries: 30, MotorPulleys: 24, WheelPulleys: 24, Belts: 40, Mounts: 2, Gears: 40, Wheels: 17},
	{Motors: 200, Controllers: 30, Batteries: 50, MotorPulleys: 36, WheelPulleys: 36, Belts: 60, Mounts: 2, Gears: 60, Wheels: 13},
	{Motors: 400, Controllers: 40, Batteries: 80, MotorPulleys: 60, WheelPulleys: 60, Belts: 80, Mounts: 2, Gears: 100, Wheels: 11},
}

// marketProblem makes a market's problem with a brief.
func marketProblem(tb testing.TB, m randcat.Market, briefText string) *constraints.Problem {
	tb.Helper()
	text := m.Catalog(rand.New(rand.NewPCG(1, 2)))
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

// BenchmarkRank ranks the best 20 of synthetic markets and counts the rest,
// for a brief that windows and sums settle, and for one with a launch time, a
// mass and a greatest speed besides.
func BenchmarkRank(b *testing.B) {
	for _, brief := range []struct{ name, text string }{
		{"plain", randcat.PlainStreetBrief},
		{"full", randcat.StreetBrief},
	} {
		for _, m := range markets {
			b.Run(fmt.Sprintf("brief=%s/combinations=%.1e", brief.name, m.Combinations()), func(b *testing.B) {
				p := marketProblem(b, m, brief.text)
				b.ReportAllocs()
				var r *Result
				for b.Loop() {
					var err error
					if r, err = Rank(b.Context(), p, Options{Top: 20}); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/p.Combinations(), "ns/combination")
				b.ReportMetric(float64(r.Feasible), "feasible")
			})
		}
	}
}

// BenchmarkRankOnly ranks the best 20 without counting.
func BenchmarkRankOnly(b *testing.B) {
	for _, m := range markets {
		b.Run(fmt.Sprintf("combinations=%.1e", m.Combinations()), func(b *testing.B) {
			p := marketProblem(b, m, randcat.PlainStreetBrief)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := RankOnly(b.Context(), p, Options{Top: 20}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkShortlist says of each motor of a market what it opens.
func BenchmarkShortlist(b *testing.B) {
	for _, m := range markets[:3] {
		b.Run(fmt.Sprintf("combinations=%.1e", m.Combinations()), func(b *testing.B) {
			p := marketProblem(b, m, randcat.PlainStreetBrief)
			for b.Loop() {
				if list, complete, _ := Shortlist(b.Context(), p, constraints.SlotMotor, Options{}); !complete || len(list) != m.Motors {
					b.Fatalf("%d motors, complete %t", len(list), complete)
				}
			}
		})
	}
}

// BenchmarkShare finds the best 20 pairs of builds of a market that share
// battery, controller and motor.
func BenchmarkShare(b *testing.B) {
	slots := []constraints.Slot{constraints.SlotBattery, constraints.SlotController, constraints.SlotMotor}
	for _, m := range markets[:3] {
		b.Run(fmt.Sprintf("combinations=2x%.1e", m.Combinations()), func(b *testing.B) {
			problems := []*constraints.Problem{marketProblem(b, m, randcat.PlainStreetBrief), marketProblem(b, m, randcat.StreetBrief)}
			for b.Loop() {
				if r, err := Share(b.Context(), problems, slots, ShareOptions{Options: Options{Top: 20}}); err != nil || len(r.Sets) != 20 {
					b.Fatal(err)
				}
			}
		})
	}
}
