package plot

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints"
	"gearsearch/search"
)

// ErrNoTeeth says that a build has no pulleys to change.
var ErrNoTeeth = errors.New("this build has a gear drive: there are no pulleys whose teeth could be chosen")

// Tooth is the best drive for a pair of teeth of one profile, or a gear drive,
// on a build that is otherwise the same.
type Tooth struct {
	Profile      string // "" for a gear drive
	Motor, Wheel int    // teeth, 0 for a gear drive
	Build        search.Scored
	Fails        []constraints.Result // that turn it down, in order
	Open         bool                 // a check cannot be decided
}

// Feasible reports whether no check turns the drive down.
func (t *Tooth) Feasible() bool { return len(t.Fails) == 0 }

// TeethOf puts every drive in play of a problem on the battery, controller,
// motors and wheel of a build. It returns the best for each pair of teeth of
// one profile, by profile, motor teeth, wheel teeth; and all gear drives, by
// reduction. The best is the one that a check rejects last, or none does;
// then that with nothing undecided; then that with the highest score.
func TeethOf(p *constraints.Problem, base *constraints.Build, strict bool) (pairs, gears []Tooth) {
	type pair struct {
		profile      string
		motor, wheel int
	}
	best := map[pair]Tooth{}
	for _, d := range p.Drives {
		switch {
		case d.Gear != nil:
			gears = append(gears, newTooth(p, base, d, strict))
		case d.MotorPulley.Profile.ID != d.WheelPulley.Profile.ID:
		default:
			t := newTooth(p, base, d, strict)
			key := pair{t.Profile, t.Motor, t.Wheel}
			if old, ok := best[key]; !ok || t.before(&old) {
				best[key] = t
			}
		}
	}
	pairs = slices.SortedFunc(maps.Values(best), func(a, b Tooth) int {
		return cmp.Or(cmp.Compare(a.Profile, b.Profile), cmp.Compare(a.Motor, b.Motor), cmp.Compare(a.Wheel, b.Wheel))
	})
	slices.SortStableFunc(gears, func(a, b Tooth) int {
		return cmp.Compare(a.Build.Build.Drive.Reduction, b.Build.Build.Drive.Reduction)
	})
	return pairs, gears
}

// newTooth looks at one drive.
func newTooth(p *constraints.Problem, base *constraints.Build, d *constraints.Drive, strict bool) Tooth {
	b := &constraints.Build{Problem: p}
	b.Electrify(base.Battery, base.Controller, base.Motor, base.Count)
	b.Roll(d, base.Wheel)
	t := Tooth{Build: search.ScoreBuild(b)}
	if d.Gear == nil {
		t.Profile, t.Motor, t.Wheel = d.WheelPulley.Profile.ID, d.MotorPulley.Teeth, d.WheelPulley.Teeth
	}
	for _, r := range b.Results() {
		if r.Rejects(strict) {
			t.Fails = append(t.Fails, r)
		}
		t.Open = t.Open || r.Verdict == constraints.Undecided
	}
	return t
}

// before reports whether a drive stands for its pair of teeth rather than
// another.
func (t *Tooth) before(o *Tooth) bool {
	order := func(t *Tooth) int {
		if t.Feasible() {
			return len(constraints.Registry())
		}
		return slices.Index(constraints.Registry(), t.Fails[0].Check)
	}
	if a, b := order(t), order(o); a != b {
		return a > b
	}
	if t.Open != o.Open {
		return o.Open
	}
	return t.Build.Score > o.Build.Score
}

// teethOfPulleys are the teeth that a build could have, whatever pulleys its
// brief keeps to: one for each pair of numbers, of the profile that does best.
func teethOfPulleys(b *constraints.Build, strict bool) ([]Tooth, error) {
	if b.Drive.Gear != nil {
		return nil, ErrNoTeeth
	}
	free := []constraints.Slot{constraints.SlotMotorPulley, constraints.SlotWheelPulley}
	if b.Drive.Mount != nil {
		free = append(free, constraints.SlotMount)
	}
	p, base, err := constraints.Free(b.Problem.Catalog, b.Problem.Brief, b.File(), constraints.Freed{Slots: free})
	if err != nil {
		return nil, err
	}
	pairs, _ := TeethOf(p, base, strict)
	var out []Tooth
	for _, t := range pairs {
		i := slices.IndexFunc(out, func(o Tooth) bool { return o.Motor == t.Motor && o.Wheel == t.Wheel })
		switch {
		case i < 0:
			out = append(out, t)
		case t.before(&out[i]):
			out[i] = t
		}
	}
	return out, nil
}

// The size of a cell of the teeth chart, of its head, and of the key below.
const (
	cellWidth  = 58
	cellHeight = 28
	headWidth  = 42
	headHeight = 34
	keyHeight  = 34
	keyLine    = 12 // of the key
)

// Teeth draws a table of the reductions that the catalog's pulleys give the
// build, by the teeth of both, and which of them are feasible.
func Teeth(s Subject, strict bool) (*Figure, error) {
	list, err := teethOfPulleys(s.Build, strict)
	if err != nil {
		return nil, err
	}
	var rows, columns []int
	var feasible []string
	for _, t := range list {
		rows, columns = append(rows, t.Motor), append(columns, t.Wheel)
		if t.Feasible() {
			feasible = append(feasible, fmt.Sprintf("%d:%d", t.Motor, t.Wheel))
		}
	}
	slices.Sort(rows)
	slices.Sort(columns)
	rows, columns = slices.Compact(rows), slices.Compact(columns)
	summary := fmt.Sprintf("%d of %s feasible", len(feasible), layout.Counted(float64(len(list)), "pair is", "pairs are"))
	if len(feasible) > 0 {
		summary += ": " + strings.Join(feasible, ", ")
	}
	turning := "pulleys"
	if s.Build.Drive.Chained() {
		turning = "sprockets"
	}
	chart := &teethChart{s, list, rows, columns}
	return &Figure{
		Title: "Reduction by the teeth of both " + turning, Of: s.Name(), Summary: summary + ".",
		width:  max(figureWidth, vg.Length(headWidth+len(columns)*cellWidth+2*margin)),
		height: vg.Length(headHeight + len(rows)*cellHeight + keyHeight + 2*margin),
		rigid:  true, paint: chart.draw,
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
	for i, line := range []string{
		"double frame: this build; empty: no pair of one profile",
		"filled: feasible, with the top speed in " + unit + "; else the check that turns it down",
	} {
		c.FillText(textStyle(smallSize, draw.XLeft, draw.YBottom), vg.Point{X: c.Min.X + margin, Y: c.Min.Y + margin + vg.Length(i)*keyLine}, line)
	}
}

// middle is the middle of the cell of a pair.
func (t *teethChart) middle(x Tooth, at func(row, column int) vg.Point) vg.Point {
	return at(slices.Index(t.rows, x.Motor), slices.Index(t.columns, x.Wheel))
}

// frames draws the frames of all cells, those of one kind as one shape.
func (t *teethChart) frames(c draw.Canvas, at func(row, column int) vg.Point) {
	var feasible, turned, ours vg.Path
	for _, x := range t.list {
		middle := t.middle(x, at)
		if x.Feasible() {
			frame(&feasible, middle, 1)
		} else {
			frame(&turned, middle, 1)
		}
		if own := t.subject.Build.Drive; x.Motor == own.MotorPulley.Teeth && x.Wheel == own.WheelPulley.Teeth {
			frame(&ours, middle, 3)
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
	c.Stroke(ours)
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
	note := ""
	if x.Feasible() {
		number.Font.Weight = bold
		speed := t.subject.speed()
		top, _ := x.Build.Build.TopSpeed()
		note = layout.Fixed(top*speed.factor, speed.decimals)
		if x.Open {
			note += " ?"
		}
	} else {
		note = x.Fails[0].Name
	}
	c.FillText(number, at, layout.Fixed(x.Build.Build.Drive.Reduction, 2))
	c.FillText(below, at, fitted(note, below, cellWidth-5))
}
