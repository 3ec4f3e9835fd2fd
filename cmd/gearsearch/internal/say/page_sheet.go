package say

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// The words of the first page of a sheet.

// sheetRow is a line of the table of what decides first: a figure and the check that
// holds it to its limit; one of the two may be missing.
type sheetRow struct {
	label, figure, check string
	always               bool // whether it is asked for or not
}

// sheetRows are what decides first, in the order in which a rider asks.
func sheetRows(p *constraints.Problem, system quantity.System) []sheetRow {
	speed := func(x float64) string {
		unit, factor := system.Show("km/h")
		return Short(x*3.6*factor) + NBSP + unit
	}
	t := &p.Brief.Target
	return []sheetRow{
		{"top speed", "top_speed_kmh", "top-speed", true},
		{"  with a full pack", "top_speed_full_kmh", "top-speed-max", true},
		{"steepest hill at " + speed(t.ClimbSpeed), "climb_limit_pct", "climb", true},
		{"torque on the hill", "hill_torque_nm", "hill-torque", false},
		{"start to " + speed(t.LaunchSpeed), "launch_s", "launch", false},
		{"stop from " + speed(t.StopFrom) + " at 90" + NBSP + "% charge", "stop_m", "stop", true},
		{"  with a full pack", "stop_full_m", "", true},
		{"range", "range_km", "range", true},
		{"windings after the hill", "", "heat", false},
		{"left after the route", leftFigure, "route", false},
		{"windings on the route", "", "route-heat", false},
		{"downhill that the motors do not hold", "", "route-brakes", false},
		{"electrical rpm", "", "erpm", false},
		{"price", "price", "price", true},
		{"mass of the board", "mass_kg", "mass", true},
	}
}

// SheetTable is what decides first of a build: before what a rider asks for stand
// the other checks that it fails. shown are the checks that have a line.
func SheetTable(b *constraints.Build, system quantity.System) (t *layout.Table, shown map[string]bool) {
	t = &layout.Table{Bare: true, Columns: []layout.Column{
		{}, {Title: "has", Right: true}, {Title: "asked", Right: true}, {Title: "unit"}, {Title: "to spare"},
	}}
	results, shown := map[string]constraints.Result{}, map[string]bool{}
	rows := sheetRows(b.Problem, system)
	for _, r := range b.Results() {
		results[r.Name] = r
	}
	for _, row := range rows {
		shown[row.check] = true
	}
	failing := 0
	for _, r := range b.Results() {
		if !shown[r.Name] && r.Verdict == constraints.Fail && failing < mostFailing {
			value, limit, unit := Outcome(r, b.Problem, system)
			t.Rows = append(t.Rows, sheetCells(r.Shown().Subject, value, limit, unit, &r))
			shown[r.Name] = true
			failing++
		}
	}
	for _, row := range rows {
		r, asked := results[row.check]
		if !asked && !row.always {
			continue
		}
		value, limit, unit := row.values(b, &r, asked, system)
		var result *constraints.Result
		if asked {
			result = &r
		}
		t.Rows = append(t.Rows, sheetCells(row.labelOf(b, &r), value, limit, unit, result))
	}
	return t, shown
}

// mostFailing is how many failing checks have a line of their own beside what a
// rider asks for: the heading names all.
const mostFailing = 4

// labelOf is the label of a row, which says so where a build only rolls out and
// where the heat of a climb is its current.
func (row *sheetRow) labelOf(b *constraints.Build, r *constraints.Result) string {
	switch row.check {
	case "heat":
		if r.Shown().Unit == "A" {
			return "motor current on the hill"
		}
	case "":
		f, _ := constraints.FigureNamed(row.figure)
		if f = f.Of(b); strings.HasPrefix(f.Label, "roll") {
			return row.label + ", rolling out"
		}
	}
	return row.label
}

// values are what a build has of a row, what is asked, and the unit of both.
func (row *sheetRow) values(b *constraints.Build, r *constraints.Result, asked bool, system quantity.System) (value, limit, unit string) {
	if asked {
		value, limit, unit = Outcome(*r, b.Problem, system)
	}
	if row.figure == "" || asked && row.check != "climb" {
		return value, limit, unit
	}
	f, _ := constraints.FigureNamed(row.figure)
	f = f.Of(b)
	known := false
	if value, unit, known = Figure(f, b, system); !known {
		value = Absent(f, b)
	}
	if asked { // the check holds the thrust; what is asked is the grade
		limit = "≥ " + Short(b.Problem.Brief.Target.ClimbGrade*100)
	}
	return value, limit, unit
}

// sheetCells are the cells of a row; the margin is put in words.
func sheetCells(label, value, limit, unit string, r *constraints.Result) []layout.Cell {
	spare, tone := "", layout.Plain
	if r != nil {
		spare, tone = spareWords(*r)
	}
	return []layout.Cell{{Text: label}, {Text: value}, {Text: limit}, {Text: unit}, {Text: spare, Tone: tone}}
}

// spareWords say how far the limit of a check is away.
func spareWords(r constraints.Result) (string, layout.Tone) {
	margin := ""
	if m := r.MarginPct(r.Outcome); !math.IsNaN(m) {
		margin = layout.Fixed(math.Abs(m), 0) + "%"
	}
	if r.Name == "climb" && margin != "" {
		margin += " of thrust"
	}
	switch Sign(r) {
	case FailSign:
		text := strings.TrimSuffix("fails by "+margin, " by ")
		if r.Demoted {
			text += ", only a caution"
		}
		return text, layout.Bad
	case OpenSign:
		return "not decided", layout.Warn
	case ThinSign:
		return "only " + margin, layout.Warn
	}
	return margin, layout.Plain
}

// SheetHeading names the checks that a build fails or, if none, says that it passes,
// and gives its score.
func SheetHeading(b *constraints.Build, score float64, strict bool) string {
	r := resultsOf(b.Results())
	all := Counted(uint64(r.all), "check", "checks")
	parts := []string{fmt.Sprintf("Passes %d of %s", r.passed, all)}
	switch {
	case len(r.failed) > 0:
		parts = []string{fmt.Sprintf("Fails %d of %s: %s", len(r.failed), all, strings.Join(r.failed, ", "))}
	case r.passed == r.all:
		parts = []string{"Passes all " + all}
	}
	parts = append(parts, r.others(strict)...)
	parts = append(parts, "score "+layout.Fixed(score, 1))
	if note := FirstInvented(b.Problem); note != "" {
		parts = append(parts, note)
	}
	return strings.Join(parts, "; ")
}

// SheetWatch says which of the checks that have no line are thin, fail or are not
// decided.
func SheetWatch(results []constraints.Result, shown map[string]bool) string {
	names := map[string][]string{}
	for _, r := range results {
		if sign := Sign(r); sign != NoSign && !shown[r.Name] {
			names[sign] = append(names[sign], r.Name)
		}
	}
	var out []string
	for _, x := range []struct{ sign, means string }{
		{FailSign, "fails"},
		{ThinSign, fmt.Sprintf("less than %d"+NBSP+"%% to spare", ThinMargin)},
		{OpenSign, "not decided for lack of data"},
	} {
		if list := names[x.sign]; len(list) > 0 {
			out = append(out, x.means+": "+strings.Join(list, ", "))
		}
	}
	return strings.Join(out, "; ")
}

// SheetVaried says in how many draws of parts and rider a build passes, and what it
// fails on most; nil for none.
func SheetVaried(x *search.Robustness) string {
	if x == nil || x.Draws == 0 {
		return ""
	}
	text := fmt.Sprintf("parts and rider; passes every check in %s of %s", Percent(x.Share), Counted(uint64(x.Draws), "draw", "draws"))
	if len(x.Checks) > 0 && x.Share < 1 {
		worst := slices.MinFunc(x.Checks, func(a, b search.CheckShare) int { return cmp.Compare(a.Share, b.Share) })
		text += fmt.Sprintf("; %s least often, in %s", worst.Name, Percent(worst.Share))
	}
	return text
}
