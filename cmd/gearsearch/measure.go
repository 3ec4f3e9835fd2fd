package main

import (
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/words"
	"gearsearch/constraints"
)

// measure is a quantity in which builds are compared.
type measure struct {
	key      string // in data out, where units are metric
	title    string // in tables
	unit     string // metric; "%" for a margin, whose differences are points
	decimals int
	factor   float64 // from the unit to the one that tables show
	value    func(r *row) float64
	absent   func(r *row) string // the sign for a value that there is not, nil: none but "?"
	checks   []string            // that its sign speaks for
	extra    bool                // that a narrow page does without
}

// measures are what builds of a problem are compared in: what it asks for, and
// speed, range and mass in any case.
func measures(p *constraints.Problem, system quantity.System) []measure {
	figure := func(title, name string) measure {
		f, _ := constraints.FigureNamed(name)
		unit, factor := system.Show(f.Unit)
		if title == "" {
			title = unit
		}
		return measure{
			key: name, title: title, unit: f.Unit, decimals: quantity.Decimals(unit), factor: factor,
			value: func(r *row) float64 { return f.Value(r.Build) }, checks: constraints.ChecksOn(name),
			absent: func(r *row) string { return words.AbsentSign(f, r.Build) },
		}
	}
	margin := func(check string) measure {
		return measure{
			key: check + "_margin_pct", title: check, unit: "%", factor: 1, checks: []string{check},
			value: func(r *row) float64 {
				x, ok := r.results[check]
				if !ok {
					return math.NaN()
				}
				return x.MarginPct(x.Outcome)
			},
		}
	}
	out := []measure{figure("", "top_speed_kmh")}
	if p.Climbs() {
		out = append(out, margin("climb"))
	}
	if p.HasCeiling() {
		out = append(out, margin("erpm"))
	}
	out = append(out, figure("range", "range_km"))
	if !math.IsNaN(p.Brief.Target.LaunchTime) {
		out = append(out, figure("launch", "launch_s"))
	}
	if p.Climbs() {
		out = append(out, margin("heat"))
	}
	mass := figure("", "mass_kg")
	mass.extra = math.IsNaN(p.Brief.Limit.Mass)
	return append(out, mass)
}

// text is the measure of a build as tables show it.
func (m *measure) text(r *row) string {
	if m.absent != nil {
		if sign := m.absent(r); sign != "" {
			return sign
		}
	}
	text := layout.Fixed(m.value(r)*m.factor, m.decimals)
	if m.unit == "%" && text != "?" {
		text += "%"
	}
	return text
}

// change is the difference of a build to another, with its sign.
func (m *measure) change(from, to *row) string {
	return signed((m.value(to)-m.value(from))*m.factor, m.decimals)
}

// signed writes a difference with its sign; none for what rounds to nothing.
func signed(x float64, decimals int) string {
	text := layout.Fixed(x, decimals)
	if x > 0 && strings.Trim(text, "0.") != "" && text != "?" {
		return "+" + text
	}
	return text
}

// cells are texts with signs behind them, so that the digits stay in line.
func signedCells(texts, signs []string) []layout.Cell {
	widest := 0
	for _, s := range signs {
		widest = max(widest, len(s))
	}
	out := make([]layout.Cell, len(texts))
	for i, text := range texts {
		cell := &out[i]
		cell.Text = strings.TrimSuffix(text, signs[i]) + signs[i] // a figure that is not known is a question mark by itself
		switch {
		case signs[i] == failSign:
			cell.Tone = layout.Bad
		case signs[i] != noSign:
			cell.Tone = layout.Warn
		}
		if cell.Text != "" {
			cell.Text += strings.Repeat(" ", widest-len(signs[i]))
		}
	}
	return out
}
