package leaf

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// speaker writes quantities of one system of units.
type speaker struct {
	system   quantity.System
	currency string
}

// of is a quantity, given in SI, in the unit that stands for a metric one.
func (s speaker) of(si, perSI float64, metric string) string {
	x, unit := s.system.Value(si*perSI, metric)
	return say.Short(x) + "\u00a0" + unit
}

func (s speaker) speed(x float64) string { return s.of(x, 3.6, "km/h") }

func (s speaker) price(x float64) string { return say.Money(x) + "\u00a0" + s.currency }

// sentences is the brief in words: who rides where, what the board must do, and
// what it may not pass.
func sentences(p *constraints.Problem, system quantity.System) []string {
	s := speaker{system, p.Catalog.Currency}
	out := []string{s.rider(p)}
	if text := s.targets(p); text != "" {
		out = append(out, text)
	}
	if text := s.limits(p); text != "" {
		out = append(out, text)
	}
	return append(out, s.choice(p)...)
}

// rider says who rides what where.
func (s speaker) rider(p *constraints.Problem) string {
	b := p.Brief
	var counts []string
	for _, n := range p.Counts {
		counts = append(counts, strconv.Itoa(n))
	}
	motors := " motors"
	if slices.Equal(counts, []string{"1"}) {
		motors = " motor"
	}
	ground := map[string]string{"asphalt": "on asphalt", "rough": "on rough ground", "gravel": "on gravel", "grass": "on grass"}[b.Ground.Surface]
	return "A rider of " + s.of(b.Rider.Mass, 1, "kg") + " " + ground + ", on a deck with trucks and box of " +
		s.of(b.Board.Mass, 1, "kg") + " and " + strings.Join(counts, " or ") + motors + "."
}

// targets says what the board must do; "" where nothing is asked.
func (s speaker) targets(p *constraints.Problem) string {
	t := p.Brief.Target
	var list []string
	add := func(value float64, text string) {
		if !math.IsNaN(value) {
			list = append(list, text)
		}
	}
	switch {
	case !math.IsNaN(t.TopSpeed) && !math.IsNaN(t.TopSpeedMax):
		list = append(list, "reach "+s.speed(t.TopSpeed)+" on the flat and no more than "+s.speed(t.TopSpeedMax))
	default:
		add(t.TopSpeed, "reach "+s.speed(t.TopSpeed)+" on the flat")
		add(t.TopSpeedMax, "reach no more than "+s.speed(t.TopSpeedMax)+" on the flat")
	}
	far := ""
	if p.HasLength() {
		far = " for " + s.of(t.ClimbLength, 1, "m")
	}
	add(t.ClimbGrade, "climb "+say.Short(t.ClimbGrade*100)+"\u00a0%"+far+" at "+s.speed(t.ClimbSpeed))
	add(t.Stop, "stop from "+s.speed(t.StopFrom)+" within "+s.of(t.Stop, 1, "m")+" by its motors alone")
	add(t.HillTorque, "turn its wheels with "+s.of(t.HillTorque, 1, "N.m")+" at "+s.speed(t.ClimbSpeed))
	add(t.LaunchTime, "be at "+s.speed(t.LaunchSpeed)+" "+say.Short(t.LaunchTime)+"\u00a0s after standing still")
	add(t.Range, "go "+s.of(t.Range, 0.001, "km")+" on a charge at "+s.speed(t.Cruise)+s.ride(p.Brief.Ride))
	if p.HasRoute() {
		list = append(list, "come over "+say.RouteName(p.Brief.Way)+", "+s.of(p.Brief.Way.Length(), 0.001, "km")+", with "+say.Percent(p.Brief.Limit.Reserve)+" left")
	}
	if len(list) == 0 {
		return ""
	}
	text := "It must " + and(list)
	if t.Charge.Word == "full" {
		text += ", speed and climb with a full pack"
	} else if t.Charge.Word == "" {
		text += ", speed and climb at " + say.Short(t.Charge.Volts) + "\u00a0V a cell"
	}
	return text + "."
}

// ride says what the ride takes beside cruising; "" where that is nothing.
func (s speaker) ride(r constraints.Journey) string {
	var list []string
	for _, x := range []struct {
		value float64
		text  string
	}{
		{r.Stops, s.each(r.Stops, "/km", "stop", "stops")},
		{r.Ascent, s.of(r.Ascent, 1000, "m/km") + " of ascent"},
		{r.Wind, s.speed(r.Wind) + " of wind"},
	} {
		if x.value > 0 {
			list = append(list, x.text)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return " with " + and(list)
}

// each is a number of things for each distance.
func (s speaker) each(si float64, metric, one, many string) string {
	unit, factor := s.system.Show(metric)
	n := say.Short(si * 1000 * factor)
	if n == "1" {
		many = one
	}
	return n + "\u00a0" + many + " a " + strings.TrimPrefix(unit, "/")
}

// limits says what a build may not pass; "" where nothing limits it.
func (s speaker) limits(p *constraints.Problem) string {
	l := p.Brief.Limit
	var list []string
	add := func(value float64, text string) {
		if !math.IsNaN(value) {
			list = append(list, text)
		}
	}
	add(l.Price, "cost at most "+s.price(l.Price))
	add(l.Mass, "weigh at most "+s.of(l.Mass, 1, "kg"))
	if p.HasCeiling() {
		list = append(list, "stay "+say.Short(l.ERPMHeadroom*100)+"\u00a0% below the ceiling of electrical rpm, "+say.ERPMRule(p.Brief, "the target speed"))
	}
	add(p.Brief.Board.Hanger, "have its motors side by side within "+s.of(p.Brief.Board.Hanger, 1000, "mm"))
	if p.Belted() {
		list = append(list, "have at least "+say.Short(l.MeshTeeth)+" teeth in mesh")
	}
	list = append(list, "keep "+s.of(l.GroundClearance, 1000, "mm")+" under its pulleys or gears")
	text := "It must " + and(list) + "."
	if len(l.Demote) > 0 {
		text += " Only a caution and no reason to turn a build down: " + and(l.Demote) + "."
	}
	return text
}

// choice says which parts are kept and avoided.
func (s speaker) choice(p *constraints.Problem) []string {
	var out []string
	for _, c := range []struct {
		lists [][]string
		text  string
	}{{p.Brief.Keep[:], "Only these are looked at: "}, {p.Brief.Avoid[:], "Left out: "}} {
		var list []string
		for slot, ids := range c.lists {
			if len(ids) > 0 {
				list = append(list, SlotName(constraints.Slot(slot).String())+" "+strings.Join(ids, ", "))
			}
		}
		if len(list) > 0 {
			out = append(out, c.text+strings.Join(list, "; ")+".")
		}
	}
	return out
}

// and joins a list as a sentence does.
func and(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// SlotName is a slot as people read it.
func SlotName(slot string) string { return strings.ReplaceAll(slot, "_", " ") }
