package plot

import (
	"math"
	"strings"

	"gonum.org/v1/plot"

	"gearsearch/cmd/gearsearch/internal/layout"
)

// ticks are labelled ticks at 1, 2 or 5 times a power of ten, about six of
// them.
type ticks struct{}

// Ticks is what the plot library calls.
func (ticks) Ticks(low, high float64) []plot.Tick {
	if !(high > low) {
		return nil
	}
	step, decimals := layout.Step((high - low) / 6)
	var out []plot.Tick
	for i := math.Ceil(low/step - 1e-9); i*step <= high+1e-9*step; i++ {
		out = append(out, plot.Tick{Value: i * step, Label: layout.Fixed(i*step, decimals)})
	}
	return out
}

// plain are ticks without labels.
type plain struct{ plot.Ticker }

// Ticks is what the plot library calls.
func (p plain) Ticks(low, high float64) []plot.Tick {
	out := p.Ticker.Ticks(low, high)
	for i := range out {
		out[i].Label = ""
	}
	return out
}

// roundUp is a little more than x, at a tick.
func roundUp(x float64) float64 {
	if !(x > 0) {
		return 1
	}
	s, _ := layout.Step(x / 8)
	return math.Ceil(x/s-1e-9) * s
}

// digits is a number in at most so many decimals, without zeros at its end.
func digits(x float64, decimals int) string {
	text := layout.Fixed(x, decimals)
	if !strings.Contains(text, ".") {
		return text
	}
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}
