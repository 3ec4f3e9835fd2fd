package say

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// The words of the first page of a ranking.

// In which turns a narrow terminal does without columns of the table.
const (
	turnMount = iota
	turnTimes
	turnController
	turnMass
	turnBattery
)

// RankTable is the table of a ranking's first page, a build a row, and what all
// builds have in common; front are the figures of a front, which are shown whatever
// else is, and more are further columns.
func RankTable(rows []*Row, p *constraints.Problem, front []constraints.Figure, system quantity.System, more ...Column) (t *layout.Table, alike []string, spoken map[string]bool) {
	t = &layout.Table{Bare: true, Rows: make([][]layout.Cell, len(rows))}
	spoken = map[string]bool{}
	for _, c := range slices.Concat(rankNumbers(rows, p, front, system), more, rankParts(rows), alikeColumn(rows)) {
		cells, same := c.cells(rows)
		if c.part && same && len(rows) > 1 {
			if c.Turn != turnMount || !c.Extra {
				alike = append(alike, c.Title+" "+cells[0].Text)
			}
			continue
		}
		if !c.Extra {
			for _, name := range c.Checks {
				spoken[name] = true
			}
		}
		t.Columns = append(t.Columns, c.Column)
		for i := range rows {
			t.Rows[i] = append(t.Rows[i], cells[i])
		}
	}
	return t, alike, spoken
}

// rankNumbers are the columns of figures.
func rankNumbers(rows []*Row, p *constraints.Problem, front []constraints.Figure, system quantity.System) []Column {
	columns := []Column{
		{Column: layout.Column{Title: "#", Right: true}, Cell: func(r *Row) (string, string) { return fmt.Sprint(r.Rank), NoSign }},
		{Column: layout.Column{Title: "score", Right: true}, Cell: func(r *Row) (string, string) { return layout.Fixed(r.Score, 1), NoSign }},
		FigureColumn("", "top_speed_kmh", system),
		hillColumn(),
		rangeColumn(system),
	}
	if p.HasRoute() {
		columns = append(columns, leftColumn())
	}
	columns = append(columns, FigureColumn(p.Catalog.Currency, "price", system))
	shown := []string{"top_speed_kmh", "climb_limit_pct", "range_km", leftFigure, "price"}
	add := func(title, name string, turn int, stays bool) {
		stays = stays || slices.ContainsFunc(front, func(f constraints.Figure) bool { return f.Name == name })
		columns = append(columns, inTurn(FigureColumn(title, name, system), turn, stays))
		shown = append(shown, name)
	}
	add("", "mass_kg", turnMass, !math.IsNaN(p.Brief.Limit.Mass))
	if !math.IsNaN(p.Brief.Target.LaunchTime) {
		add("start s", "launch_s", turnTimes, false)
	}
	if !math.IsNaN(p.Brief.Target.Stop) {
		length, _ := system.Show("m")
		add("stop"+NBSP+length, "stop_m", turnTimes, false)
	}
	for _, f := range front {
		if !slices.Contains(shown, f.Name) {
			columns = append(columns, PlainFigureColumn(labelled(f, system), f.Name, system))
		}
	}
	return columns
}

// labelled is the label of a figure with its unit, unless the label says it.
func labelled(f constraints.Figure, system quantity.System) string {
	unit, _ := system.Show(f.Unit)
	if unit == "" || strings.HasSuffix(f.Label, " "+unit) {
		return f.Label
	}
	return f.Label + NBSP + unit
}

// inTurn marks a column as one that a narrow terminal does without in a turn,
// unless it must stay.
func inTurn(c Column, turn int, stays bool) Column {
	c.Extra, c.Turn = !stays, turn
	return c
}

// dear marks a column that a narrow terminal does without only where no closing of
// gaps makes room for it.
func dear(c Column) Column {
	c.Dear = true
	return c
}

// rangeColumn is the range, in whole numbers: riders and rides differ by more.
func rangeColumn(system quantity.System) Column {
	f, _ := constraints.FigureNamed("range_km")
	_, unit := system.Value(0, f.Unit)
	return NumberColumn(unit, func(r *Row) string {
		if sign := AbsentSign(f, r.Build); sign != "" {
			return sign
		}
		return endsTo(f, r.Build, system, 0)
	}, constraints.ChecksOn(f.Name)...)
}

// leftFigure is the figure of what is left after a route.
const leftFigure = "route_left_pct"

// leftColumn is the charge that is left after the route.
func leftColumn() Column {
	left, _ := constraints.FigureNamed(leftFigure)
	return NumberColumn("left", func(r *Row) string {
		if sign := AbsentSign(left, r.Build); sign != "" {
			return sign
		}
		return layout.Fixed(left.Value(r.Build), 0) + "%"
	}, constraints.ChecksOn(left.Name)...)
}

// hillColumn is the steepest grade at the climb speed.
func hillColumn() Column {
	grade, _ := constraints.FigureNamed("climb_limit_pct")
	return NumberColumn("hill", func(r *Row) string {
		if sign := AbsentSign(grade, r.Build); sign != "" {
			return sign
		}
		return layout.Fixed(grade.Value(r.Build), 0) + "%"
	}, "climb")
}

// rankParts are the columns of parts.
func rankParts(rows []*Row) []Column {
	part := func(title string, cell func(r *Row) string) Column {
		return Column{
			Column: layout.Column{Title: title, Stack: PartStack}, part: true,
			Cell: func(r *Row) (string, string) { return cell(r), NoSign },
		}
	}
	id := func(s constraints.Slot) func(r *Row) string { return func(r *Row) string { return r.ids[s] } }
	motors, title := motorNames(rows)
	drives := shortDrives(rows)
	return []Column{
		part(title, func(r *Row) string { return motors(r) }),
		part("drive", func(r *Row) string { return drives[driveOf(r)] }),
		part("wheel", id(constraints.SlotWheel)),
		dear(inTurn(part("battery", id(constraints.SlotBattery)), turnBattery, false)),
		inTurn(part("controller", id(constraints.SlotController)), turnController, false),
		inTurn(part("mount", id(constraints.SlotMount)), turnMount, false),
	}
}

// alikeColumn says how many builds are like those listed; none where designs are not
// told apart or not counted.
func alikeColumn(rows []*Row) []Column {
	if !slices.ContainsFunc(rows, func(r *Row) bool { return More(r.StandsFor) != "" }) {
		return nil
	}
	return []Column{NumberColumn("alike", func(r *Row) string { return More(r.StandsFor) })}
}

// RankHeading says how many designs are listed, of how many feasible builds where
// that was counted.
func RankHeading(designs int, feasible uint64, counted bool) string {
	text := Counted(uint64(designs), "design", "designs")
	if counted {
		text += " of " + Counted(feasible, "feasible build", "feasible builds")
	}
	return text
}

// motorNames are the motors of the rows under a title that has their number where
// it is the same in all.
func motorNames(rows []*Row) (name func(r *Row) string, title string) {
	n := rows[0].Build.Motors()
	if slices.ContainsFunc(rows, func(r *Row) bool { return r.Build.Motors() != n }) {
		return func(r *Row) string { return fmt.Sprintf("%d×%s%s", r.Build.Motors(), NBSP, r.Build.Motor.ID) }, "motors"
	}
	return func(r *Row) string { return r.Build.Motor.ID }, fmt.Sprintf("%d%s%s", n, NBSP, Plural(uint64(n), "motor", "motors"))
}

// shortDrives are the drives of the rows by their gearing alone, as 16:54 or 3.4:1;
// where two drives are geared alike they have the names that tell them apart.
func shortDrives(rows []*Row) map[drivePair]string {
	long := driveNames(rows)
	short, holders := map[drivePair]string{}, map[string]int{}
	for _, r := range rows {
		pair := driveOf(r)
		if _, ok := short[pair]; ok {
			continue
		}
		if d := r.Build.Drive; d.Gear != nil {
			short[pair] = Short(d.Reduction) + ":1"
		} else {
			short[pair] = fmt.Sprintf("%d:%d", d.MotorPulley.Teeth, d.WheelPulley.Teeth)
		}
		holders[short[pair]]++
	}
	for pair, name := range short {
		if holders[name] > 1 {
			short[pair] = long[pair]
		}
	}
	return short
}

// RankWatch says what is thin, undecided or passed over in the rows: the signs
// that stand in the columns, and the checks that no column speaks for.
func RankWatch(rows []*Row, spoken map[string]bool) string {
	var out []string
	for _, x := range []struct{ sign, marked, means string }{
		{ThinSign, "what is marked !", fmt.Sprintf("less than %d"+NBSP+"%% to spare", ThinMargin)},
		{FailSign, "what is marked !!", "past its limit, which only cautions here"},
		{OpenSign, "what is marked ?", "not decided for lack of data"},
	} {
		list := signedChecks(rows, x.sign, spoken)
		if inColumns(rows, x.sign, spoken) {
			list = append([]string{x.marked}, list...)
		}
		if len(list) > 0 {
			out = append(out, x.means+": "+strings.Join(list, ", "))
		}
	}
	return strings.Join(out, "; ")
}

// inColumns reports whether a sign stands in a column of the table.
func inColumns(rows []*Row, sign string, spoken map[string]bool) bool {
	for _, r := range rows {
		for name := range spoken {
			if r.Sign(name) == sign {
				return true
			}
		}
	}
	return false
}

// signedChecks are the checks with a sign that no column speaks for, each with the
// ranks of the builds that have it so, unless all have.
func signedChecks(rows []*Row, sign string, spoken map[string]bool) []string {
	ranks := map[string][]int{}
	var names []string
	for _, r := range rows {
		for _, x := range r.Build.Results() {
			if spoken[x.Name] || Sign(x) != sign {
				continue
			}
			if ranks[x.Name] == nil {
				names = append(names, x.Name)
			}
			ranks[x.Name] = append(ranks[x.Name], r.Rank)
		}
	}
	for i, name := range names {
		if len(ranks[name]) < len(rows) {
			slices.Sort(ranks[name])
			names[i] = name + NBSP + "(" + strings.ReplaceAll(Spans(ranks[name]), " ", NBSP) + ")"
		} else if len(rows) > 1 {
			names[i] = name + NBSP + "(all)"
		}
	}
	return names
}

// RankCounts say of how many combinations the builds are, what most of the others
// fail on, how many lack data, and which wish costs most.
func RankCounts(r *search.Result, wishes *search.Wishes, system quantity.System) string {
	t := r.Tally
	text := About(t.Combinations) + " " + Plural(t.Combinations, "combination", "combinations")
	if most := mostReject(r); most != "" {
		text += ": most fail on " + most
	}
	if r.Problem.HasRoute() {
		text += "; each that passes the rest rode the route"
	}
	if t.Unknown > 0 {
		text += fmt.Sprintf("; %s %s data", layout.Count(t.Unknown), Plural(t.Unknown, "build lacks", "builds lack"))
	}
	if wishes == nil {
		return text
	}
	for _, w := range wishes.Dearest(1) {
		name, asked := Wish(w.Wish, r.Problem, system)
		what := " more without "
		if t.Feasible == 0 {
			what = " " + Plural(uint64(w.More), "build", "builds") + " without "
		}
		text += "; " + layout.Whole(w.More) + what + name + NBSP + asked
	}
	return text
}

// mostReject are the three checks that the most combinations fall to.
func mostReject(r *search.Result) string {
	const few = 3
	list := slices.Clone(r.Rejections())
	slices.SortStableFunc(list, func(a, b search.Rejection) int {
		switch {
		case a.Count > b.Count:
			return -1
		case a.Count < b.Count:
			return 1
		}
		return 0
	})
	var names []string
	for _, x := range list[:min(few, len(list))] {
		if x.Count > 0 {
			names = append(names, x.Check.Name)
		}
	}
	return InWords(names)
}

// About is a great number in words, and any other whole.
func About(n uint64) string {
	const million, billion = 1e6, 1e9
	switch x := float64(n); {
	case x >= billion:
		return roughly(x/billion) + NBSP + "billion"
	case x >= million:
		return roughly(x/million) + NBSP + "million"
	}
	return layout.Count(n)
}

// roughly is a number with two digits, or all before the point.
func roughly(x float64) string {
	if x < 10 {
		return strings.TrimSuffix(layout.Fixed(x, 1), ".0")
	}
	return layout.Fixed(x, 0)
}

// RankSteady says how firmly the first build stands first.
func RankSteady(s *search.Stability) string {
	if s == nil {
		return ""
	}
	text := fmt.Sprintf("1 is the best in %s of %s", Percent(s.Wins[0]), Counted(uint64(s.Draws), "random weighting", "random weightings"))
	if rival, share := otherWinner(s.Wins); share > 0 {
		text += fmt.Sprintf(", %d in %s", rival, Percent(share))
	}
	return text + "; how far each weight may move: --full"
}

// otherWinner is the rank of the build that wins most often after the first.
func otherWinner(wins []float64) (rank int, share float64) {
	for i, x := range wins {
		if i > 0 && x > share {
			rank, share = i+1, x
		}
	}
	return rank, share
}

// RankVaried says what the column of a tolerance means.
func RankVaried(draws int) string {
	return fmt.Sprintf("parts and rider; passes: share of %s in which a build passes every check; which fail: --full", Counted(uint64(draws), "draw", "draws"))
}

// RankUncounted says what a ranking without a count leaves out.
func RankUncounted(p *constraints.Problem) string {
	return "left out of " + Combinations(p) + " by --no-count: how many do it, and what the others fail on"
}

// Marks of the demo on a first page.
const (
	demoAll  = "demo parts, all invented"
	demoSome = "some are invented parts of the demo"
)

// FirstInvented says in a few words of the demo's parts that they are invented, ""
// where there are none.
func FirstInvented(p *constraints.Problem) string {
	switch some, all := inventedParts(p.Catalog); {
	case all:
		return demoAll
	case some:
		return demoSome
	}
	return ""
}

// NothingDoes says that no combination does what is asked.
func NothingDoes(p *constraints.Problem) string {
	return "Nothing in " + Combinations(p) + " does it"
}

// mostMisses is how many misses of a build a first page lists.
const mostMisses = 5

// MissesTable lists what a build misses, as far as a first page has room.
func MissesTable(misses []constraints.Result, p *constraints.Problem, system quantity.System) *layout.Table {
	t := &layout.Table{Bare: true, Columns: []layout.Column{
		{Title: "it fails"}, {Title: "has", Right: true}, {Title: "asked", Right: true}, {Title: "unit"}, {Title: "off by", Right: true},
	}}
	for i, r := range misses {
		if i == mostMisses-1 && len(misses) > mostMisses {
			t.Add(fmt.Sprintf("and %d more", len(misses)-i), "", "", "", "")
			break
		}
		value, limit, unit := Outcome(r, p, system)
		margin := ""
		if m := r.MarginPct(r.Outcome); !math.IsNaN(m) {
			margin = layout.Fixed(math.Abs(m), 0) + "%"
		}
		if r.Verdict == constraints.Undecided {
			margin = "not decided"
		}
		t.Add(r.Shown().Subject, value, limit, unit, margin)
	}
	return t
}

// ConcessionsTable lists the cheapest concessions, a line each.
func ConcessionsTable(list []search.Opening, pairs bool, currency string, system quantity.System) *layout.Table {
	title := "any one of these lets a build through"
	switch {
	case pairs:
		title = "both together let a build through"
	case len(list) == 1:
		title = "this lets a build through"
	}
	t := &layout.Table{Bare: true, Columns: []layout.Column{
		{Title: title}, {Title: "from", Right: true}, {Title: "to", Right: true}, {Title: "by", Right: true},
	}}
	for _, o := range list {
		for _, g := range o.Concessions {
			from, to := ConcessionEnds(g, currency, system)
			t.Add(g.Meaning, from, to, relative(g))
		}
		if pairs {
			break
		}
	}
	return t
}

// FirstMeasure is Measure for a line with a label.
func FirstMeasure(m *search.Measures) string {
	return strings.TrimSuffix(strings.TrimPrefix(Measure(m), "Measure "), ".")
}
