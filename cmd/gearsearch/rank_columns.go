package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/words"
	"gearsearch/constraints"
	"gearsearch/search"
)

// What is thin, and the signs that a cell carries.
const (
	thinMargin = words.ThinMargin
	noSign     = words.NoSign
	thinSign   = words.ThinSign
	failSign   = words.FailSign
	openSign   = words.OpenSign
)

// row is a build of the table with the outcomes of its checks at hand.
type row struct {
	search.Scored
	ids     map[constraints.Slot]string
	results map[string]constraints.Result
}

func newRow(s search.Scored) *row {
	r := &row{s, map[constraints.Slot]string{}, map[string]constraints.Result{}}
	for slot, id := range s.Build.File().IDs {
		r.ids[constraints.Slot(slot)] = id
	}
	for _, x := range s.Build.Results() {
		r.results[x.Name] = x
	}
	return r
}

// sign is what there is to mark about some checks of the build: the gravest.
func (r *row) sign(names ...string) string {
	gravity := []string{noSign, thinSign, openSign, failSign}
	worst := 0
	for _, name := range names {
		if x, ok := r.results[name]; ok {
			worst = max(worst, slices.Index(gravity, signOf(x)))
		}
	}
	return gravity[worst]
}

// signOf is the sign of one outcome.
func signOf(x constraints.Result) string { return words.Sign(x) }

// rankColumn is a column of the table of builds.
type rankColumn struct {
	layout.Column
	part   bool                             // of a part: said once where all rows have the same
	cell   func(r *row) (text, sign string) // without the sign
	checks []string                         // that the sign speaks for
}

// The stacks of the table: numbers side by side with numbers, ids with ids.
const (
	numberStack = "numbers"
	partStack   = "parts"
)

// number is a column of numbers.
func number(title string, cell func(r *row) string, checks ...string) rankColumn {
	return rankColumn{
		Column: layout.Column{Title: title, Right: true, Stack: numberStack},
		checks: checks,
		cell:   func(r *row) (string, string) { return cell(r), r.sign(checks...) },
	}
}

// figure is a column that shows a figure, with the signs of the checks on it;
// the title is its unit unless given.
func figure(title, name string, system quantity.System) rankColumn {
	return plainFigure(title, name, system, constraints.ChecksOn(name)...)
}

// plainFigure is a column that shows a figure, with the signs of these checks.
func plainFigure(title, name string, system quantity.System, checks ...string) rankColumn {
	f, _ := constraints.FigureNamed(name)
	unit, factor := system.Show(f.Unit)
	if title == "" {
		title = unit
	}
	return number(title, func(r *row) string {
		if sign := words.AbsentSign(f, r.Build); sign != "" {
			return sign
		}
		return layout.Fixed(f.Value(r.Build)*factor, quantity.Decimals(unit))
	}, checks...)
}

// margin is a column that shows by how much a check is passed, in percent.
func margin(name string) rankColumn {
	return number(name, func(r *row) string {
		x, ok := r.results[name]
		if !ok {
			return ""
		}
		if m := x.MarginPct(x.Outcome); !math.IsNaN(m) {
			return layout.Fixed(m, 0) + "%"
		}
		return ""
	}, name)
}

// extra marks a column as one that a narrow page does without.
func extra(c rankColumn) rankColumn {
	c.Extra = true
	return c
}

// columns are the columns of the table of builds: first what they do and cost,
// then what they are made of.
func (r *rankPage) columns(rows []*row) []rankColumn {
	p, system := r.result.Problem, r.system
	columns := []rankColumn{
		{Column: layout.Column{Right: true}, cell: func(r *row) (string, string) { return fmt.Sprint(r.Rank), noSign }},
		{Column: layout.Column{Title: "score", Right: true}, cell: func(r *row) (string, string) { return layout.Fixed(r.Score, 1), noSign }},
		figure("", "top_speed_kmh", system),
		number("held by", func(r *row) string {
			_, by := r.Build.TopSpeed()
			return limitWord(by.String())
		}),
	}
	for _, f := range r.front {
		if !r.hasColumn(f) {
			unit, _ := system.Show(f.Unit)
			columns = append(columns, plainFigure(strings.TrimSpace(f.Label+nbsp+unit), f.Name, system))
		}
	}
	if p.Climbs() {
		columns = append(columns, margin("climb"))
	}
	if p.HasCeiling() {
		columns = append(columns, margin("erpm"))
	}
	if p.Climbs() {
		columns = append(columns, extra(margin("heat")), extra(number("max. grade", func(r *row) string {
			grade, _ := constraints.FigureNamed("climb_limit_pct")
			if sign := words.AbsentSign(grade, r.Build); sign != "" {
				return sign
			}
			return layout.Fixed(grade.Value(r.Build), 0) + "%"
		})))
	}
	columns = append(columns, figure("range", "range_km", system))
	if !math.IsNaN(p.Brief.Target.LaunchTime) {
		columns = append(columns, figure("launch", "launch_s", system))
	}
	columns = append(columns,
		figure(p.Catalog.Currency, "price", system),
		figure("", "mass_kg", system),
		extra(figure("ratio", "reduction", system)),
	)
	return append(columns, partColumns(rows)...)
}

// hasColumn reports whether a figure has a column in any ranking.
func (r *rankPage) hasColumn(f constraints.Figure) bool {
	return slices.Contains([]string{"top_speed_kmh", "range_km", "price", "mass_kg"}, f.Name) ||
		f.Name == "climb_margin_pct" && r.result.Problem.Climbs() ||
		f.Name == "launch_s" && !math.IsNaN(r.result.Problem.Brief.Target.LaunchTime)
}

// partColumns are the columns of the parts.
func partColumns(rows []*row) []rankColumn {
	part := func(title string, cell func(r *row) string) rankColumn {
		return rankColumn{
			Column: layout.Column{Title: title, Stack: partStack}, part: true,
			cell: func(r *row) (string, string) { return cell(r), noSign },
		}
	}
	id := func(s constraints.Slot) func(r *row) string { return func(r *row) string { return r.ids[s] } }
	drives := driveNames(rows)
	return []rankColumn{
		part("motor", func(r *row) string { return fmt.Sprintf("%d × %s", r.Build.Motors(), r.Build.Motor.ID) }),
		part("controller", id(constraints.SlotController)),
		part("battery", id(constraints.SlotBattery)),
		part("drive", func(r *row) string { return drives[driveOf(r)] }),
		part("wheel", id(constraints.SlotWheel)),
		part("mount", id(constraints.SlotMount)),
		extra(part("belt", id(constraints.SlotBelt))),
	}
}

// drivePair is what tells two drives apart, mount and belt aside.
type drivePair struct{ motorPulley, wheelPulley, gear string }

func driveOf(r *row) drivePair {
	return drivePair{r.ids[constraints.SlotMotorPulley], r.ids[constraints.SlotWheelPulley], r.ids[constraints.SlotGearDrive]}
}

// driveNames are short names for the drives of the rows: the teeth and the
// profile where that tells them apart, the ids of the pulleys where not.
func driveNames(rows []*row) map[drivePair]string {
	names, holders := map[drivePair]string{}, map[string]int{}
	for _, r := range rows {
		d, pair := r.Build.Drive, driveOf(r)
		if _, ok := names[pair]; ok {
			continue
		}
		if d.Gear != nil {
			names[pair] = fmt.Sprintf("%s %s:1", d.Gear.ID, short(d.Reduction))
		} else {
			names[pair] = fmt.Sprintf("%d:%d %s", d.MotorPulley.Teeth, d.WheelPulley.Teeth, d.WheelPulley.Profile.ID)
		}
		holders[names[pair]]++
	}
	for pair, name := range names {
		if holders[name] > 1 {
			names[pair] = pair.motorPulley + " " + pair.wheelPulley
		}
	}
	return names
}

// limitWord is a word for what limits a speed or thrust, short enough for a
// column.
func limitWord(word string) string { return words.Limit(word) }

// limitMeanings explain the words of limitWord that stand in the rows.
func limitMeanings(rows []*row) []string {
	var out []string
	for _, limit := range constraints.LimitWords() {
		word := limitWord(limit)
		for _, r := range rows {
			if _, by := r.Build.TopSpeed(); limitWord(by.String()) == word {
				out = append(out, word+": "+words.LimitMeaning(word))
				break
			}
		}
	}
	return out
}
