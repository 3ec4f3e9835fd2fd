package leaf

import (
	"math"
	"slices"
	"strconv"

	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// Bar is the bar of a margin in a frame of 120: the limit stands at 20, what is
// to spare reaches to the right of it and what is missing to the left. Its
// length grows with the root of the margin, so that a few percent can be told
// from none; 100 % is the end.
type Bar struct {
	X, Width string
	Beyond   bool // more than the frame shows
	Shown    bool
}

// The frame of a bar.
const (
	barLimit = 20
	barEnd   = 120
	barLeast = 0.6 // so that a bar of nothing is seen, and on which side
)

func newBar(marginPct float64) Bar {
	if math.IsNaN(marginPct) {
		return Bar{}
	}
	length := math.Sqrt(min(math.Abs(marginPct), 100)/100) * (barEnd - barLimit)
	number := func(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }
	if marginPct < 0 {
		length = max(length*barLimit/(barEnd-barLimit), barLeast)
		return Bar{X: number(barLimit - length), Width: number(length), Shown: true, Beyond: marginPct < -100}
	}
	return Bar{X: number(barLimit), Width: number(max(length, barLeast)), Shown: true, Beyond: marginPct > 100}
}

// marks are the margins of checks on the strip of a row, the least first, each
// where its bar ends: what is missing stands left of the limit.
func marks(results []constraints.Result) []Mark {
	var list []float64
	for _, r := range results {
		if pct := say.Margin(r); !math.IsNaN(pct) {
			list = append(list, pct)
		}
	}
	slices.Sort(list)
	var out []Mark
	for i, pct := range list {
		out = append(out, Mark{strconv.FormatFloat(markAt(pct), 'f', 1, 64), i == 0})
	}
	return out
}

// markAt is where a mark of a margin begins: it ends left of the limit's line
// where something is missing, and begins right of it else.
func markAt(marginPct float64) float64 {
	length := math.Sqrt(min(math.Abs(marginPct), 100) / 100)
	if marginPct < 0 {
		return max(0, barLimit-limitWidth/2-markWidth-length*barLimit)
	}
	return min(barLimit+limitWidth/2+length*(barEnd-barLimit), barEnd-markWidth)
}

// The widths of a mark and of the limit's line.
const (
	markWidth  = 1.6
	limitWidth = 2
)

// margins sorts the outcomes of a build into those with a number and those
// without.
func (m *maker) margins(results []constraints.Result) (margins []Margin, fits []Check) {
	for _, r := range results {
		verdict := map[constraints.Verdict]string{constraints.Pass: "passes", constraints.Fail: "fails", constraints.Undecided: "not decided"}[r.Verdict]
		if r.Demoted && r.Verdict != constraints.Pass {
			verdict += ", a caution only"
		}
		if r.Unit == "" {
			fits = append(fits, Check{r.Name, verdict, r.Shown().Subject, say.Sign(r)})
			continue
		}
		value, limit, unit := say.Outcome(r, m.problem, m.system)
		out := Margin{
			Name: r.Name, About: r.Shown().Subject, Value: value, Limit: limit, Unit: unit,
			Sign: say.Sign(r), Verdict: verdict,
		}
		if pct := say.Margin(r); !math.IsNaN(pct) {
			out.Margin = signed(pct)
			out.Bar = newBar(pct)
		}
		margins = append(margins, out)
	}
	return margins, fits
}

// signed is a margin in percent with its sign. What is not nothing is not
// rounded to nothing.
func signed(pct float64) string {
	text := fixed(math.Abs(pct), 0)
	if x := math.Abs(pct); text == "0" && x > 0 {
		text = strconv.FormatFloat(max(x, 0.1), 'f', 1, 64)
		if x < 0.05 {
			text = "<\u202f0.1"
		}
	}
	if pct < 0 {
		return "−" + text + "\u00a0%"
	}
	return "+" + text + "\u00a0%"
}
