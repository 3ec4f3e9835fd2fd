package leaf

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Spread is how the builds that pass all but one wish spread over it: a strip of
// bars, dark for those that the wish leaves, with the wish as a line.
type Spread struct {
	Strip *Node   `json:"strip"`
	Low   float64 `json:"low"` // the ends of the strip, and what is asked, in the key's unit
	High  float64 `json:"high"`
	Asked float64 `json:"asked"`
	Step  float64 `json:"step"` // a round part of that
}

// The strip's frame, and how much of the values it leaves out at either end: a few
// builds far off would press all others together.
const (
	spreadWidth, spreadHeight = 240.0, 26.0
	spreadBars                = 48
	spreadLeft                = 0.01
)

// NewSpread draws the spread of a wish; nil where there are no values to tell.
func NewSpread(s *search.Spread, w search.Without, p *constraints.Problem, system quantity.System) *Spread {
	if len(s.Values) == 0 {
		return nil
	}
	values := make([]float64, len(s.Values))
	for i, x := range s.Values {
		values[i] = x * w.PerSI
	}
	slices.Sort(values)
	cut := int(spreadLeft * float64(len(values)))
	asked := w.Value * w.PerSI
	out := &Spread{Low: math.Min(values[cut], asked), High: math.Max(values[len(values)-1-cut], asked), Asked: asked}
	if out.Low == out.High {
		out.Low, out.High = 0.9*out.Low, 1.1*out.High+1
	}
	const steps = 200
	out.Step = roundStep((out.High - out.Low) / steps)
	out.Low, out.High = math.Floor(out.Low/out.Step)*out.Step, math.Ceil(out.High/out.Step)*out.Step
	out.Strip = out.draw(values, w, p, system)
	return out
}

// draw makes the strip.
func (s *Spread) draw(values []float64, w search.Without, p *constraints.Problem, system quantity.System) *Node {
	var bars [spreadBars]int
	passing := 0
	for _, v := range values {
		at := int((v - s.Low) / (s.High - s.Low) * spreadBars)
		bars[max(0, min(at, spreadBars-1))]++
		if w.Eases > 0 && v <= s.Asked || w.Eases <= 0 && v >= s.Asked {
			passing++
		}
	}
	most := slices.Max(bars[:])
	var list all
	wide := spreadWidth / spreadBars
	for i, n := range bars {
		if n == 0 {
			continue
		}
		height := math.Max(1.5, math.Sqrt(float64(n)/float64(most))*(spreadHeight-2))
		middle := s.Low + (float64(i)+0.5)/spreadBars*(s.High-s.Low)
		name := "rest"
		if w.Eases > 0 && middle > s.Asked || w.Eases <= 0 && middle < s.Asked {
			name = "less"
		}
		list = append(list, rect(name, coordinate(float64(i)*wide+0.5), coordinate(spreadHeight-height), coordinate(wide-1), coordinate(height)))
	}
	line := (s.Asked - s.Low) / (s.High - s.Low) * spreadWidth
	name, asked := say.Wish(w.Wish, p, system)
	words := fmt.Sprintf("%s, asked %s: %s of the builds that pass all else", name, asked, say.Percent(float64(passing)/float64(len(values))))
	return el("svg", class("spread-strip"), attr{"viewBox", "0 0 " + coordinate(spreadWidth) + " " + coordinate(spreadHeight)}, attr{"preserveAspectRatio", "none"}, attr{"role", "img"},
		attr{"aria-label", words}, el("title", text(words)), list, rect("limit", coordinate(math.Max(0, math.Min(line-1, spreadWidth-2))), "0", "2", strconv.Itoa(int(spreadHeight))))
}

// roundStep is the greatest of 1, 2 and 5 times a power of ten that is at most x.
func roundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{5, 2} {
		if m*power <= x {
			return m * power
		}
	}
	return power
}
