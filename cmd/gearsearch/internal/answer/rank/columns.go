package rank

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// columns are the columns of the table of builds: first figures and price, then
// parts.
func (r *text) columns(rows []*say.Row) []say.Column {
	p, system := r.result.Problem, r.system
	columns := []say.Column{
		{Column: layout.Column{Right: true}, Cell: func(r *say.Row) (string, string) { return fmt.Sprint(r.Rank), say.NoSign }},
		{Column: layout.Column{Title: "score", Right: true}, Cell: func(r *say.Row) (string, string) { return layout.Fixed(r.Score, 1), say.NoSign }},
	}
	if r.alike() {
		columns = append(columns, say.Extra(say.NumberColumn("alike", func(r *say.Row) string { return say.More(r.StandsFor) })))
	}
	columns = append(columns,
		say.FigureColumn("", "top_speed_kmh", system),
		say.NumberColumn("limit", func(r *say.Row) string {
			_, by := r.Build.TopSpeed()
			return say.Limit(by.String())
		}),
	)
	for _, f := range r.Front {
		if !r.hasColumn(f) {
			unit, _ := system.Show(f.Unit)
			columns = append(columns, say.PlainFigureColumn(strings.TrimSpace(f.In(p).Label+say.NBSP+unit), f.Name, system))
		}
	}
	if p.Climbs() {
		columns = append(columns, say.MarginColumn("climb"))
	}
	if p.HasCeiling() {
		columns = append(columns, say.MarginColumn("erpm"))
	}
	if p.Climbs() {
		columns = append(columns, say.Extra(say.MarginColumn("heat")), say.Extra(say.NumberColumn("max. grade", func(r *say.Row) string {
			grade, _ := constraints.FigureNamed("climb_limit_pct")
			if sign := say.AbsentSign(grade, r.Build); sign != "" {
				return sign
			}
			return layout.Fixed(grade.Value(r.Build), 0) + "%"
		})))
	}
	columns = append(columns, say.FigureColumn("range", "range_km", system))
	if p.HasRoute() {
		columns = append(columns, say.FigureColumn("left"+say.NBSP+"%", "route_left_pct", system))
	}
	if !math.IsNaN(p.Brief.Target.LaunchTime) {
		columns = append(columns, say.FigureColumn("launch", "launch_s", system))
	}
	columns = append(columns,
		say.FigureColumn(p.Catalog.Currency, "price", system),
		say.FigureColumn("", "mass_kg", system),
		say.Extra(say.FigureColumn("ratio", "reduction", system)),
	)
	return append(columns, say.PartColumns(rows)...)
}

// hasColumn reports whether a figure has a column in any ranking.
func (r *text) hasColumn(f constraints.Figure) bool {
	return slices.Contains([]string{"top_speed_kmh", "range_km", "price", "mass_kg"}, f.Name) ||
		f.Name == "route_left_pct" && r.result.Problem.HasRoute() ||
		f.Name == "climb_margin_pct" && r.result.Problem.Climbs() ||
		f.Name == "launch_s" && !math.IsNaN(r.result.Problem.Brief.Target.LaunchTime)
}
