// Package kittest makes problems and builds of the kit, and problems of the demo, for
// tests.
package kittest

import (
	"math"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/constraints/internal/kit"
	"gearsearch/constraints/route"
)

// The kits: one part in each slot, on belts, on chains and on gears.
const (
	Belts  = kit.Belts
	Chains = kit.Chains
	Gears  = kit.Gears
)

// Problem is the problem of a changed kit. A change is "part.key = value" or
// "section.key = value" to set a key, "-part.key" to take it out, "-part" to take
// out a part, and "[[kind]] …" for more of the catalog.
func Problem(t testing.TB, drive string, changes ...string) *constraints.Problem {
	t.Helper()
	k := kit.New(drive, changes...)
	c, err := catalog.Read(k.Catalog())
	if err != nil {
		t.Fatalf("catalog: %v", err)
	}
	b, err := constraints.ReadBrief(k.Brief())
	if err != nil {
		t.Fatalf("brief: %v", err)
	}
	if b.Ride.Route != "" {
		b.Way = Hill()
	}
	p, err := constraints.NewProblem(c, b)
	if err != nil {
		t.Fatalf("problem: %v", err)
	}
	return p
}

// Hill is the way of every brief that names one: up a hill, a stop, and down again on
// gravel, steeper and steeper.
func Hill() *route.Route {
	way := &route.Route{Name: "hill.csv"}
	for i := range 24 {
		leg := route.Leg{Length: route.Grid, Rise: 2, Speed: math.NaN(), Stop: i == 11}
		if i > 11 {
			leg.Rise, leg.Surface = -0.5*float64(i-11), "gravel"
		}
		way.Legs = append(way.Legs, leg)
	}
	return way
}

// Build is the first build of a changed kit, its only one unless the changes add
// parts.
func Build(t testing.TB, drive string, changes ...string) *constraints.Build {
	t.Helper()
	return First(Problem(t, drive, changes...))
}

// First is a problem's first build.
func First(p *constraints.Problem) *constraints.Build {
	b := &constraints.Build{Problem: p}
	b.Electrify(p.Batteries[0], p.Controllers[0], p.Motors[0], 0)
	b.Roll(p.Drives[0], p.Wheels[0])
	return b
}

// Demo is the problem of the demo's catalog and one of its briefs, with changes of
// the form "section.key=value".
func Demo(t testing.TB, name string, changes ...string) *constraints.Problem {
	t.Helper()
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	src, ok := catalog.DemoBrief(name)
	if !ok {
		t.Fatalf("there is no demo brief %s", name)
	}
	brief, err := constraints.ReadBrief(src)
	if err != nil {
		t.Fatal(err)
	}
	for _, change := range changes {
		key, value, _ := strings.Cut(change, "=")
		if err := brief.Set(key, value, "test"); err != nil {
			t.Fatal(err)
		}
	}
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
