package say

import (
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// measure is a quantity in which builds are compared.
type measure struct {
	Key      string // in data out, where units are metric
	Title    string // in tables
	unit     string // metric; "%" for a margin, whose differences are points
	shown    string // the unit that tables show; "" for a margin
	decimals int
	factor   float64 // from the unit to the one that tables show
	system   quantity.System
	Value    func(r *Row) float64
	figure   *constraints.Figure // nil: it is of a check
	absent   func(r *Row) string // the sign for a value that there is not, nil: none but "?"
	Checks   []string            // that its sign speaks for
	Extra    bool                // that a narrow terminal does without
}

// Measures are what builds of a problem are compared in: what it asks for, and
// speed, range and mass in any case.
func Measures(p *constraints.Problem, system quantity.System) []measure {
	figure := func(title, name string) measure { return figureMeasure(title, name, system) }
	margin := func(check string) measure {
		return measure{
			Key: check + "_margin_pct", Title: check, unit: "%", factor: 1, Checks: []string{check},
			Value: func(r *Row) float64 {
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
	if p.HasRoute() {
		out = append(out, figure("left", leftFigure))
	}
	if !math.IsNaN(p.Brief.Target.LaunchTime) {
		out = append(out, figure("launch", "launch_s"))
	}
	if p.Climbs() {
		out = append(out, margin("heat"))
	}
	mass := figure("", "mass_kg")
	mass.Extra = math.IsNaN(p.Brief.Limit.Mass)
	return append(out, mass)
}

// figureMeasure is a figure; its unit is the title unless one is given.
func figureMeasure(title, name string, system quantity.System) measure {
	f, _ := constraints.FigureNamed(name)
	unit, factor := system.Show(f.Unit)
	if title == "" {
		title = unit
	}
	return measure{
		Key: name, Title: title, unit: f.Unit, shown: unit, decimals: quantity.Decimals(unit), factor: factor, system: system,
		Value: func(r *Row) float64 { return f.Value(r.Build) }, Checks: constraints.ChecksOn(name),
		absent: func(r *Row) string { return AbsentSign(f, r.Build) }, figure: &f,
	}
}

// Text is the measure of a build as tables show it.
func (m *measure) Text(r *Row) string {
	if m.absent != nil {
		if sign := m.absent(r); sign != "" {
			return sign
		}
	}
	if m.figure != nil {
		return Ends(*m.figure, r.Build, m.system)
	}
	text := layout.Fixed(m.Value(r)*m.factor, m.decimals)
	if m.unit == "%" && text != "?" {
		text += "%"
	}
	return text
}

// Named is the measure of a build as a sentence has it.
func (m *measure) Named(r *Row) string {
	if m.figure == nil {
		return m.Title + " margin " + m.Text(r)
	}
	return m.figure.Label + " " + m.Text(r) + " " + m.shown
}

// Change is the difference of a build to another, with its sign.
func (m *measure) Change(from, to *Row) string {
	return Signed((m.Value(to)-m.Value(from))*m.factor, m.decimals)
}

// Signed writes a difference with its sign; none for what rounds to nothing.
func Signed(x float64, decimals int) string {
	text := layout.Fixed(x, decimals)
	if x > 0 && strings.Trim(text, "0.") != "" && text != "?" {
		return "+" + text
	}
	return text
}

// cells are texts with signs behind them, so that the digits stay in line.
func SignedCells(texts, signs []string) []layout.Cell {
	widest := 0
	for _, s := range signs {
		widest = max(widest, len(s))
	}
	out := make([]layout.Cell, len(texts))
	for i, text := range texts {
		cell := &out[i]
		cell.Text = strings.TrimSuffix(text, signs[i]) + signs[i] // a figure that is not known is a question mark by itself
		switch {
		case signs[i] == FailSign:
			cell.Tone = layout.Bad
		case signs[i] != NoSign:
			cell.Tone = layout.Warn
		}
		if cell.Text != "" {
			cell.Text += strings.Repeat(" ", widest-len(signs[i]))
		}
	}
	return out
}
