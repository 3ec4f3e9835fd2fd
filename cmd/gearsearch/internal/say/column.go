package say

import (
	"fmt"
	"math"
	"slices"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Column is a column of the table of builds.
type Column struct {
	layout.Column
	part   bool                             // of a part: said once where all rows have the same
	Cell   func(r *Row) (text, sign string) // without the sign
	Checks []string                         // that the sign speaks for
}

// The stacks of the table: numbers side by side with numbers, ids with ids.
const (
	NumberStack = "numbers"
	PartStack   = "parts"
)

// NumberColumn is a column of numbers.
func NumberColumn(title string, cell func(r *Row) string, checks ...string) Column {
	return Column{
		Column: layout.Column{Title: title, Right: true, Stack: NumberStack},
		Checks: checks,
		Cell:   func(r *Row) (string, string) { return cell(r), r.Sign(checks...) },
	}
}

// FigureColumn is a column that shows a figure, with the signs of the checks on
// the title is its unit unless given.
func FigureColumn(title, name string, system quantity.System) Column {
	return PlainFigureColumn(title, name, system, constraints.ChecksOn(name)...)
}

// PlainFigureColumn is a column that shows a figure, with the signs of these checks.
func PlainFigureColumn(title, name string, system quantity.System, checks ...string) Column {
	f, _ := constraints.FigureNamed(name)
	_, unit := system.Value(0, f.Unit)
	if title == "" {
		title = unit
	}
	return NumberColumn(title, func(r *Row) string {
		if sign := AbsentSign(f, r.Build); sign != "" {
			return sign
		}
		return Ends(f, r.Build, system)
	}, checks...)
}

// MarginColumn is a column that shows by how much a check is passed, in percent.
func MarginColumn(name string) Column {
	return NumberColumn(name, func(r *Row) string {
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

// Extra marks a column as one that a narrow terminal does without.
func Extra(c Column) Column {
	c.Extra = true
	return c
}

// PartColumns are the columns of the parts.
func PartColumns(rows []*Row) []Column {
	part := func(title string, cell func(r *Row) string) Column {
		return Column{
			Column: layout.Column{Title: title, Stack: PartStack}, part: true,
			Cell: func(r *Row) (string, string) { return cell(r), NoSign },
		}
	}
	id := func(s constraints.Slot) func(r *Row) string { return func(r *Row) string { return r.ids[s] } }
	drives := driveNames(rows)
	return []Column{
		part("motor", func(r *Row) string { return fmt.Sprintf("%d × %s", r.Build.Motors(), r.Build.Motor.ID) }),
		part("controller", id(constraints.SlotController)),
		part("battery", id(constraints.SlotBattery)),
		part("drive", func(r *Row) string { return drives[driveOf(r)] }),
		part("wheel", id(constraints.SlotWheel)),
		part("mount", id(constraints.SlotMount)),
		Extra(part("belt", id(constraints.SlotBelt))),
	}
}

// drivePair is what tells two drives apart, mount and belt aside.
type drivePair struct{ motorPulley, wheelPulley, gear string }

func driveOf(r *Row) drivePair {
	return drivePair{r.ids[constraints.SlotMotorPulley], r.ids[constraints.SlotWheelPulley], r.ids[constraints.SlotGearDrive]}
}

// driveNames are short names for the drives of the rows: teeth and profile where
// these tell them apart, else the ids of the pulleys.
func driveNames(rows []*Row) map[drivePair]string {
	names, holders := map[drivePair]string{}, map[string]int{}
	for _, r := range rows {
		d, pair := r.Build.Drive, driveOf(r)
		if _, ok := names[pair]; ok {
			continue
		}
		if d.Gear != nil {
			names[pair] = fmt.Sprintf("%s %s:1", d.Gear.ID, Short(d.Reduction))
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

// LimitMeanings explain the words of limitWord that stand in the rows.
func LimitMeanings(rows []*Row) []string {
	var out []string
	for _, limit := range constraints.LimitWords() {
		word := Limit(limit)
		for _, r := range rows {
			if _, by := r.Build.TopSpeed(); Limit(by.String()) == word {
				out = append(out, word+": "+LimitMeaning(word))
				break
			}
		}
	}
	return out
}

// cells are the cells of a column with their signs; alike reports whether all
// are the same.
func (c *Column) cells(rows []*Row) (cells []layout.Cell, alike bool) {
	texts, signs := make([]string, len(rows)), make([]string, len(rows))
	alike = true
	for i, r := range rows {
		texts[i], signs[i] = c.Cell(r)
		alike = alike && texts[i] == texts[0] && signs[i] == signs[0]
	}
	return SignedCells(texts, signs), alike
}

// holdsText reports whether some cell of the column is not empty.
func (c *Column) holdsText(rows []*Row) bool {
	return slices.ContainsFunc(rows, func(r *Row) bool { text, _ := c.Cell(r); return text != "" })
}

// sameAs reports whether two columns have the same cells.
func (c *Column) sameAs(other Column, rows []*Row) bool {
	return !slices.ContainsFunc(rows, func(r *Row) bool {
		a, _ := c.Cell(r)
		b, _ := other.Cell(r)
		return a != b
	})
}
