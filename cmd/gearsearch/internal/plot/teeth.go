package plot

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"gearsearch/cmd/gearsearch/internal/page"
	"gearsearch/constraints"
	"gearsearch/search"
)

// ErrNoTeeth says that a build has no pulleys to change.
var ErrNoTeeth = errors.New("this build has a gear drive: there are no pulleys whose teeth could be chosen")

// Tooth is one pair of numbers of teeth, with what the best drive of such
// pulleys does on a build that is otherwise the same.
type Tooth struct {
	Motor, Wheel int // teeth
	Reduction    float64
	TopSpeed     float64 // m/s
	Feasible     bool
	Open         bool   // feasible, with a check that cannot be decided
	Fails        string // the check that turns it down; "" where feasible
	Own          bool   // the build's own teeth
}

// TeethOf puts every pair of pulleys in play, with every mount, on a build and
// returns the best of each pair of numbers of teeth: the one with the highest
// score, or where none is feasible the one that passes most checks before one
// turns it down. They are in the order of motor teeth, then wheel teeth.
func TeethOf(b *constraints.Build, strict bool) ([]Tooth, error) {
	if b.Drive.Gear != nil {
		return nil, ErrNoTeeth
	}
	free := []constraints.Slot{constraints.SlotMotorPulley, constraints.SlotWheelPulley}
	if b.Drive.Mount != nil {
		free = append(free, constraints.SlotMount)
	}
	p, base, err := constraints.Free(b.Problem.Catalog, b.Problem.Brief, b.File(), free)
	if err != nil {
		return nil, err
	}
	type best struct {
		tooth Tooth
		worth float64 // the score, or below 0 where not feasible
	}
	found := map[[2]int]best{}
	for _, d := range p.Drives {
		other := &constraints.Build{Problem: p}
		other.Electrify(base.Battery, base.Controller, base.Motor, base.Count)
		other.Roll(d, base.Wheel)
		t, worth := tooth(other, strict)
		t.Own = t.Motor == b.Drive.MotorPulley.Teeth && t.Wheel == b.Drive.WheelPulley.Teeth
		key := [2]int{t.Motor, t.Wheel}
		if last, ok := found[key]; !ok || worth > last.worth {
			found[key] = best{t, worth}
		}
	}
	var out []Tooth
	for _, b := range found {
		out = append(out, b.tooth)
	}
	slices.SortFunc(out, func(a, b Tooth) int {
		if a.Motor != b.Motor {
			return a.Motor - b.Motor
		}
		return a.Wheel - b.Wheel
	})
	return out, nil
}

// tooth is what one drive does, and how much it is worth.
func tooth(b *constraints.Build, strict bool) (t Tooth, worth float64) {
	top, _ := b.TopSpeed()
	t = Tooth{
		Motor: b.Drive.MotorPulley.Teeth, Wheel: b.Drive.WheelPulley.Teeth,
		Reduction: b.Drive.Reduction, TopSpeed: top, Feasible: true,
	}
	results := b.Results()
	for i, r := range results {
		if r.Rejects(strict) {
			t.Feasible, t.Open, t.Fails = false, false, r.Name
			return t, float64(i - len(results))
		}
		t.Open = t.Open || r.Verdict == constraints.Undecided
	}
	return t, search.ScoreBuild(b).Score
}

// The size of a cell of the teeth chart, of its head, and of the key below.
const (
	cellWidth  = 58
	cellHeight = 28
	headWidth  = 42
	headHeight = 34
	keyHeight  = 30
)

// Teeth draws a table of the reductions that the catalog's pulleys give the
// build, by the teeth of both, and which of them are feasible.
func Teeth(s Subject, strict bool) (*Figure, error) {
	list, err := TeethOf(s.Build, strict)
	if err != nil {
		return nil, err
	}
	var rows, columns []int
	var feasible []string
	for _, t := range list {
		rows, columns = append(rows, t.Motor), append(columns, t.Wheel)
		if t.Feasible {
			feasible = append(feasible, fmt.Sprintf("%d:%d", t.Motor, t.Wheel))
		}
	}
	slices.Sort(rows)
	slices.Sort(columns)
	rows, columns = slices.Compact(rows), slices.Compact(columns)
	summary := fmt.Sprintf("%d of %d pairs are feasible", len(feasible), len(list))
	if len(feasible) > 0 {
		summary += ": " + strings.Join(feasible, ", ")
	}
	chart := &teethChart{s, list, rows, columns}
	return &Figure{
		Title: "Reduction by the teeth of both pulleys", Of: s.Name(), Summary: summary + ".",
		width:  max(figureWidth, vg.Length(headWidth+len(columns)*cellWidth+2*margin)),
		height: vg.Length(headHeight + len(rows)*cellHeight + keyHeight + 2*margin),
		paint:  chart.draw,
	}, nil
}

type teethChart struct {
	subject       Subject
	list          []Tooth
	rows, columns []int
}

func (t *teethChart) draw(c draw.Canvas) {
	left, top := c.Min.X+margin+headWidth, c.Max.Y-margin-headHeight
	at := func(row, column int) vg.Point { // the middle of a cell
		return vg.Point{X: left + (vg.Length(column)+0.5)*cellWidth, Y: top - (vg.Length(row)+0.5)*cellHeight}
	}
	name := textStyle(labelSize, draw.XLeft, draw.YTop)
	c.FillText(name, vg.Point{X: c.Min.X + margin, Y: c.Max.Y - margin}, "motor teeth below, wheel teeth to the right")
	head := textStyle(labelSize, draw.XCenter, draw.YCenter)
	head.Font.Weight = bold
	for i, n := range t.columns {
		c.FillText(head, vg.Point{X: at(0, i).X, Y: top + 9}, fmt.Sprint(n))
	}
	for i, n := range t.rows {
		c.FillText(head, vg.Point{X: left - headWidth/2, Y: at(i, 0).Y}, fmt.Sprint(n))
	}
	t.frames(c, at)
	for _, x := range t.list {
		t.cell(c, t.middle(x, at), x)
	}
	unit := t.subject.speed().unit
	c.FillText(textStyle(smallSize, draw.XLeft, draw.YBottom), vg.Point{X: c.Min.X + margin, Y: c.Min.Y + margin},
		"filled: feasible, with the top speed in "+unit+"; else the check that turns it down; double frame: this build")
}

// middle is the middle of the cell of a pair.
func (t *teethChart) middle(x Tooth, at func(row, column int) vg.Point) vg.Point {
	return at(slices.Index(t.rows, x.Motor), slices.Index(t.columns, x.Wheel))
}

// frames draws the frames of all cells, those of one kind as one shape.
func (t *teethChart) frames(c draw.Canvas, at func(row, column int) vg.Point) {
	var feasible, turned, own vg.Path
	for _, x := range t.list {
		middle := t.middle(x, at)
		if x.Feasible {
			frame(&feasible, middle, 1)
		} else {
			frame(&turned, middle, 1)
		}
		if x.Own {
			frame(&own, middle, 3)
		}
	}
	tint := hues[2]
	tint.A = 0x50
	c.SetColor(tint)
	c.Fill(feasible)
	c.SetLineStyle(draw.LineStyle{Color: faint(0.3), Width: 0.6})
	c.Stroke(turned)
	c.SetLineStyle(draw.LineStyle{Color: ink, Width: 0.9})
	c.Stroke(feasible)
	c.Stroke(own)
}

// frame adds the frame of a cell, so far inside its edge.
func frame(to *vg.Path, middle vg.Point, inset vg.Length) {
	w, h := vg.Length(cellWidth)/2-inset, vg.Length(cellHeight)/2-inset
	to.Move(vg.Point{X: middle.X - w, Y: middle.Y - h})
	to.Line(vg.Point{X: middle.X + w, Y: middle.Y - h})
	to.Line(vg.Point{X: middle.X + w, Y: middle.Y + h})
	to.Line(vg.Point{X: middle.X - w, Y: middle.Y + h})
	to.Close()
}

// cell writes the reduction, and the top speed or what turns the pair down.
func (t *teethChart) cell(c draw.Canvas, at vg.Point, x Tooth) {
	number, below := textStyle(labelSize, draw.XCenter, draw.YBottom), textStyle(7.5, draw.XCenter, draw.YTop)
	note := x.Fails
	if x.Feasible {
		number.Font.Weight = bold
		speed := t.subject.speed()
		note = page.Fixed(x.TopSpeed*speed.factor, speed.decimals)
		if x.Open {
			note += " ?"
		}
	}
	c.FillText(number, at, page.Fixed(x.Reduction, 2))
	c.FillText(below, at, fitted(note, below, cellWidth-5))
}
