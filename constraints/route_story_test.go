package constraints

import (
	"math"
	"testing"

	"gearsearch/constraints/route"
	"gearsearch/drive"
)

// wayOf is a way of stretches, each of a length in m, a grade and a speed in m/s.
func wayOf(stretches ...[3]float64) *route.Route {
	way := &route.Route{Name: "way.csv"}
	for _, s := range stretches {
		for range int(s[0] / route.Grid) {
			way.Legs = append(way.Legs, route.Leg{Length: route.Grid, Rise: route.Grid * s[1], Speed: s[2]})
		}
	}
	return way
}

// onWay is the kit's build on a way.
func onWay(t *testing.T, way *route.Route, changes ...string) *Build {
	t.Helper()
	c, brief := read(t, newKit(onBelts, changes...))
	brief.Way = way
	p, err := NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	return first(p)
}

// TestStory: what happens on a way is told where it happens, with its reason.
func TestStory(t *testing.T) {
	for _, tt := range []struct {
		why     string
		way     *route.Route
		changes []string
		want    []Event
	}{
		{"a flat way at a stroll", wayOf([3]float64{500, 0, 3}), nil, nil},
		{
			"too fast for the volts", wayOf([3]float64{200, 0, 3}, [3]float64{500, 0, 30}), nil,
			[]Event{{Code: RidesSlowly, From: 200, To: 700, By: drive.Voltage}},
		},
		{
			"down on a full pack", wayOf([3]float64{300, -0.08, 4}, [3]float64{300, 0, 4}),
			[]string{"ride.start_pct = 100"},
			[]Event{{Code: RunsLoose, From: 0, To: 300, By: drive.BatteryCurrent, Full: true}},
		},
		{
			"steeper than the tyres hold", wayOf([3]float64{200, 0, 4}, [3]float64{100, -0.6, 1}), nil,
			[]Event{{Code: RunsLoose, From: 200, To: 300, By: drive.Grip}},
		},
		{
			"a wall", wayOf([3]float64{200, 0, 4}, [3]float64{100, 0.9, 4}), nil,
			[]Event{{Code: Stalls, From: 200, To: 200}},
		},
	} {
		s, ok := onWay(t, tt.way, tt.changes...).Story()
		if !ok || !s.Known {
			t.Errorf("%s: cannot be told", tt.why)
			continue
		}
		if len(s.Events) != len(tt.want) {
			t.Errorf("%s: %+v", tt.why, s.Events)
			continue
		}
		for i, e := range s.Events {
			if w := tt.want[i]; e.Code != w.Code || e.From != w.From || e.To != w.To || e.By != w.By || e.Full != w.Full {
				t.Errorf("%s: %+v, want %+v", tt.why, e, w)
			}
		}
		var metres, energy float64
		for _, p := range s.Pieces {
			if p.From != metres {
				t.Errorf("%s: a piece from %v follows one to %v", tt.why, p.From, metres)
			}
			metres, energy = p.To, energy+p.Energy
		}
		if !near(metres, s.Metres, 1e-12) || math.Abs(energy-s.Energy) > 1e-6*math.Abs(s.Energy) || len(s.Pieces) > mostPieces {
			t.Errorf("%s: %d pieces of %v m and %v J, of %v m and %v J", tt.why, len(s.Pieces), metres, energy, s.Metres, s.Energy)
		}
	}
	if _, ok := onWay(t, nil, "target.range_km = 1").Story(); ok {
		t.Error("a story without a way")
	}
	if s, ok := onWay(t, wayOf([3]float64{500, 0, 3}), "-motor.resistance_mohm", "-motor.mass_g", "-motor.can_diameter_mm", "board.mass_kg = 6.4").Story(); !ok || s.Known {
		t.Error("without a resistance the best corner can be told, and the worst cannot")
	}
}

// TestRouteChecksByHand: a way of 25 m legs on which the motors do not hold the board is
// let pass for one leg, and not for two.
func TestRouteChecksByHand(t *testing.T) {
	for _, tt := range []struct {
		metres float64
		want   Verdict
	}{{25, Pass}, {50, Fail}} {
		b := onWay(t, wayOf([3]float64{tt.metres, -0.08, 4}, [3]float64{300, 0, 4}), "ride.start_pct = 100")
		if o := routeBrakesCheck.Test(b); o.Verdict != tt.want || o.Value != tt.metres {
			t.Errorf("%v m down with a full pack: %+v", tt.metres, o)
		}
		if v := routeBrakesCheck.Judge(b); v != tt.want {
			t.Errorf("%v m down with a full pack is judged %v", tt.metres, v)
		}
	}
	// A wall fails the route; what was ridden before it is judged.
	b := onWay(t, wayOf([3]float64{200, 0, 4}, [3]float64{100, 0.9, 4}))
	for check, want := range map[*Check]Verdict{&routeCheck: Fail, &routeHeatCheck: Pass, &routeBrakesCheck: Pass} {
		if o := check.Test(b); o.Verdict != want {
			t.Errorf("%s before a wall: %+v", check.Name, o)
		}
	}
	if f, _ := FigureNamed("route_left_pct"); !math.IsNaN(f.Value(b)) || f.Absence(b) != NotReached {
		t.Error("a ride that stalls has charge left at its end")
	}
	// Nobody knows what the pack takes: nothing flows back, and the best corner holds.
	b = onWay(t, wayOf([3]float64{200, 0.05, 4}, [3]float64{200, -0.05, 4}), "-cell.charge_a")
	if o := routeBrakesCheck.Test(b); o.Verdict != Undecided || o.Value != 0 {
		t.Errorf("without a charge limit: %+v", o)
	}
	left, _ := FigureNamed("route_left_pct")
	if best, _, differs := left.Best(b); !differs || !(best > left.Value(b)) {
		t.Errorf("%v %% left in the best corner, %v in the worst", best, left.Value(b))
	}
	// Without a cut-off nothing is told.
	if o := routeCheck.Test(onWayOfPack(t)); o.Verdict != Undecided || !math.IsNaN(o.Value) {
		t.Errorf("without a cut-off: %+v", o)
	}
}

// onWayOfPack is a build whose pack tells no cut-off.
func onWayOfPack(t *testing.T) *Build {
	t.Helper()
	b := onWay(t, wayOf([3]float64{200, 0.05, 4}))
	pack := *b.Battery
	pack.Pack.Cutoff = 0
	out := &Build{Problem: b.Problem}
	out.Electrify(&pack, b.Controller, b.Motor, b.Count)
	out.Roll(b.Drive, b.Wheel)
	return out
}
