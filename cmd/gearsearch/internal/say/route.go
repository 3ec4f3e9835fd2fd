package say

import (
	"fmt"
	"math"
	"path"
	"path/filepath"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/drive"
)

// RouteName is a way to ride by the name of its file.
func RouteName(r *route.Route) string { return Shown(path.Base(filepath.ToSlash(r.Name))) }

// wholeIn is a quantity given in a metric unit, in whole numbers, with its unit.
func wholeIn(x float64, unit string, system quantity.System) string {
	x, unit = system.Value(x, unit)
	return layout.Fixed(x, 0) + NBSP + unit
}

// kilometres is a place or a length of a way.
func kilometres(m float64, system quantity.System) string {
	x, unit := system.Value(m/1000, "km")
	return layout.Fixed(x, 1) + NBSP + unit
}

// RouteEnd says how the ride ends.
func RouteEnd(s *constraints.Story, system quantity.System) string {
	text := fmt.Sprintf("%s in %s"+NBSP+"min, %s"+NBSP+"Wh", kilometres(s.Metres, system), layout.Fixed(s.Seconds/60, 0), layout.Fixed(s.Energy/3600, 0))
	if s.Stalled {
		return text + ", and there it stalls."
	}
	return text + "; " + Percent(s.Left) + " of the usable charge is left."
}

// RouteEvents say what happens on the ride, a sentence each.
func RouteEvents(s *constraints.Story, system quantity.System) []string {
	var out []string
	for _, e := range s.Events {
		out = append(out, routeEvent(e, system))
	}
	if !math.IsNaN(s.Hottest) {
		out = append(out, fmt.Sprintf("The windings are hottest at %s: %s, good to ± 40"+NBSP+"%% of the rise.",
			kilometres(s.Hottest, system), wholeIn(s.Winding, "°C", system)))
	}
	if !math.IsNaN(s.Lowest) {
		out = append(out, fmt.Sprintf("The volts are lowest at %s: %s"+NBSP+"V.", kilometres(s.Lowest, system), layout.Fixed(s.LowVolts, 1)))
	}
	if !s.Known {
		out = append(out, "What the parts do not say is taken at its best here: the true ride is no better.")
	}
	return out
}

// routeEvent is a sentence on what happens.
func routeEvent(e constraints.Event, system quantity.System) string {
	slope := layout.Fixed(math.Abs(e.Steepest)*100, 0) + "%"
	where := "From " + kilometres(e.From, system) + " to " + kilometres(e.To, system)
	speed := func(v float64) string { return wholeIn(v*3.6, "km/h", system) }
	switch e.Code {
	case constraints.RidesSlowly:
		return fmt.Sprintf("%s, up to %s, it rides at %s of %s: %s.", where, slope, speed(e.Speed), speed(e.Wanted), LimitMeaning(Limit(e.By.String())))
	case constraints.RunsLoose:
		why := brakesLimited[e.By]
		if e.Full {
			why = "the pack is too full to take the current"
		}
		return fmt.Sprintf("%s, down to %s, the motors do not hold %s: %s.", where, slope, speed(e.Wanted), why)
	case constraints.Stalls:
		return fmt.Sprintf("At %s it stalls on %s.", kilometres(e.From, system), slope)
	}
	return ""
}

// brakesLimited say why the motors brake no harder.
var brakesLimited = map[drive.Limit]string{
	drive.BatteryCurrent: "the pack takes no more current",
	drive.MotorCurrent:   "the motors brake with all the current that they may have",
	drive.Grip:           "the tyres would slip",
}

// RouteTable is the ride in stretches.
func RouteTable(s *constraints.Story, system quantity.System) *layout.Table {
	_, km := system.Value(0, "km")
	_, fast := system.Value(0, "km/h")
	_, high := system.Value(0, "m")
	_, warm := system.Value(0, "°C")
	t := &layout.Table{Columns: []layout.Column{
		{Title: km, Right: true},
		{Title: "up" + NBSP + high, Right: true},
		{Title: fast, Right: true},
		{Title: "slowest", Right: true},
		{Title: "Wh", Right: true},
		{Title: "charge", Right: true},
		{Title: "winding" + NBSP + warm, Right: true},
		{Title: "stops", Right: true},
	}}
	number := func(x float64, unit string, decimals int) string {
		if math.IsNaN(x) {
			return "?"
		}
		x, _ = system.Value(x, unit)
		return layout.Fixed(x, decimals)
	}
	for _, p := range s.Pieces {
		stops := ""
		if p.Stops > 0 {
			stops = fmt.Sprint(p.Stops)
		}
		t.Add(number(p.From/1000, "km", 1)+"–"+number(p.To/1000, "km", 1), number(p.Rise, "m", 0),
			number((p.To-p.From)/p.Seconds*3.6, "km/h", 0), number(p.Slowest*3.6, "km/h", 0), number(p.Energy/3600, "Wh", 0),
			number(p.Charge*100, "%", 0)+"%", number(p.Winding, "°C", 0), stops)
	}
	return t
}
