package search

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/search/internal/randcat"
)

// markets are synthetic markets by their number of combinations.
var markets, marketProblem = randcat.Markets(), randcat.MarketProblem

// BenchmarkRank ranks the best 20 of synthetic markets and counts the rest,
// for a brief that windows and sums settle, for one with a launch time, a mass and a
// greatest speed besides, and for one with a hill of some length and a stop too.
func BenchmarkRank(b *testing.B) {
	for _, brief := range []struct{ name, text string }{
		{"plain", randcat.PlainStreetBrief},
		{"full", randcat.StreetBrief},
		{"ride", randcat.RideBrief},
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

// BenchmarkRankRanges is BenchmarkRank of markets with the packs and pulleys of tables
// with ranges besides: of 10⁹ combinations these make 10¹¹. Beside each stands the
// market without them.
func BenchmarkRankRanges(b *testing.B) {
	for _, brief := range []struct{ name, text string }{
		{"plain", randcat.PlainStreetBrief},
		{"full", randcat.StreetBrief},
	} {
		for _, m := range markets[1:3] {
			for _, p := range []*constraints.Problem{marketProblem(b, m, brief.text), randcat.PrintedProblem(b, m, brief.text)} {
				b.Run(fmt.Sprintf("brief=%s/combinations=%.1e", brief.name, p.Combinations()), func(b *testing.B) {
					var r *Result
					for b.Loop() {
						var err error
						if r, err = Rank(b.Context(), p, Options{Top: 20}); err != nil {
							b.Fatal(err)
						}
					}
					b.ReportMetric(float64(r.Feasible), "feasible")
					b.ReportMetric(float64(len(p.Batteries)*len(p.Controllers)*len(p.Motors)), "groups")
				})
				b.Run(fmt.Sprintf("brief=%s/combinations=%.1e/uncounted", brief.name, p.Combinations()), func(b *testing.B) {
					for b.Loop() {
						if _, err := RankOnly(b.Context(), p, Options{Top: 20}); err != nil {
							b.Fatal(err)
						}
					}
				})
			}
		}
	}
}

// BenchmarkRankRoute ranks the best 20 of a market of 10⁷ combinations that come home
// over 20 km of hills, and counts the rest.
func BenchmarkRankRoute(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 5))
	legs := map[string]*route.Route{"rows": {}, "recorded": {}}
	slope := 0.0
	for i := range 800 {
		if i%20 == 0 {
			slope = 0.04 * r.NormFloat64()
		}
		legs["rows"].Legs = append(legs["rows"].Legs, route.Leg{Length: 25, Rise: 25 * slope, Speed: math.NaN()})
		legs["recorded"].Legs = append(legs["recorded"].Legs, route.Leg{Length: 25, Rise: 25 * (slope + 0.005*r.NormFloat64()), Speed: math.NaN()})
	}
	market := randcat.Market{Motors: 25, Controllers: 8, Batteries: 14, MotorPulleys: 14, WheelPulleys: 14, Belts: 20, Mounts: 1, Gears: 10, Wheels: 17}
	for name, way := range legs {
		for _, brief := range []struct{ name, text string }{{"plain", randcat.PlainStreetBrief}, {"full", randcat.StreetBrief}} {
			b.Run(fmt.Sprintf("way=%s/brief=%s", name, brief.name), func(b *testing.B) {
				p := marketProblem(b, market, brief.text)
				easy := p.Brief.Clone()
				easy.Way = way
				p, err := constraints.NewProblem(p.Catalog, easy)
				if err != nil {
					b.Fatal(err)
				}
				var r *Result
				for b.Loop() {
					if r, err = Rank(b.Context(), p, Options{Top: 20}); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(r.Feasible), "feasible")
				b.ReportMetric(p.Combinations(), "combinations")
				for i, c := range p.Checks() {
					if strings.HasPrefix(c.Name, "route") {
						b.ReportMetric(float64(r.Tally.Rejected[i]), c.Name)
					}
				}
			})
		}
	}
}

// BenchmarkDesigns ranks the best 20 builds, and the best 20 designs by what may
// tell them apart, of a market of 10⁹ combinations and counts the rest, for the
// briefs of BenchmarkRank and for one that lets nearly every build pass.
func BenchmarkDesigns(b *testing.B) {
	for _, brief := range []struct{ name, text string }{
		{"plain", randcat.PlainStreetBrief},
		{"full", randcat.StreetBrief},
		{"easy", randcat.EasyBrief},
	} {
		for _, a := range []Apart{
			{},
			ApartByMotor(), ApartIn(true), ApartIn(false, constraints.SlotWheel), ApartIn(false, constraints.DriveSlots()...),
			ApartIn(false, constraints.SlotMotor, constraints.SlotMotorPulley, constraints.SlotWheelPulley),
		} {
			b.Run(fmt.Sprintf("brief=%s/apart=%s", brief.name, cmp.Or(strings.Join(a.Names(), "+"), "none")), func(b *testing.B) {
				p := marketProblem(b, markets[2], brief.text)
				for b.Loop() {
					if _, err := Rank(b.Context(), p, Options{Top: 20, Apart: a}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkRankBlank is BenchmarkRank of a market of 10⁹ combinations, a third of
// whose motors give no resistance.
func BenchmarkRankBlank(b *testing.B) {
	for _, brief := range []struct{ name, text string }{
		{"plain", randcat.PlainStreetBrief},
		{"full", randcat.StreetBrief},
	} {
		b.Run("brief="+brief.name, func(b *testing.B) {
			m := markets[2]
			m.Blank = 3
			p := marketProblem(b, m, brief.text)
			for b.Loop() {
				if _, err := Rank(b.Context(), p, Options{Top: 20}); err != nil {
					b.Fatal(err)
				}
			}
		})
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
