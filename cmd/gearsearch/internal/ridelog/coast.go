package ridelog

import (
	"math"
	"slices"

	"gearsearch/search/fit"
)

// What a coast-down is: common practice, no published source.
const (
	standing   = 0.5  // m/s: below it sensors say little
	risen      = 0.7  // m/s above the least speed: the board is pushed or driven
	idle       = 0.3  // A: what a pack gives while nothing is asked of it
	braked     = 1.5  // m/s² over a second: more than rolling and air take
	leastFall  = 2    // m/s that a coast-down must lose, …
	leastShare = 0.3  // … and this share of its first speed
	mostKept   = 4096 // samples of a run
)

// coaster finds coast-downs: stretches in which the speed falls and no current flows.
type coaster struct {
	reader *reader
	runs   []fit.Run
	times  []float64
	speeds []float64
	least  int // place of the least speed
	every  int // of so many samples one is kept
	skip   int
	way    float64
	line   int
}

func (c *coaster) add(t, v, current, way float64, line int, broken bool) {
	if broken {
		c.close(len(c.times))
	}
	switch n := len(c.times); {
	case !(math.Abs(current) <= idle) && !math.IsNaN(current):
		c.close(n)
	case v < standing:
		c.close(n)
	case n == 0 || v >= c.speeds[0]:
		c.begin(t, v, way, line)
	case v > c.speeds[c.least]+risen:
		c.close(c.least + 1)
		c.begin(t, v, way, line)
	case c.braked(t, v):
		c.reader.note(BrakedRuns, line, 0)
		c.close(c.before(t))
	default:
		c.keep(t, v)
	}
}

func (c *coaster) begin(t, v, way float64, line int) {
	c.times, c.speeds = append(c.times[:0], t), append(c.speeds[:0], v)
	c.least, c.every, c.skip, c.way, c.line = 0, 1, 0, way, line
}

// keep takes a sample, and of long runs but a share of them.
func (c *coaster) keep(t, v float64) {
	if c.skip++; c.skip < c.every {
		return
	}
	c.skip = 0
	c.times, c.speeds = append(c.times, t), append(c.speeds, v)
	if v <= c.speeds[c.least] {
		c.least = len(c.speeds) - 1
	}
	if len(c.times) < mostKept {
		return
	}
	n := 0
	for i := 0; i < len(c.times); i += 2 {
		c.times[n], c.speeds[n] = c.times[i], c.speeds[i]
		n++
	}
	c.times, c.speeds = c.times[:n], c.speeds[:n]
	c.least /= 2
	if c.every == 1 {
		c.reader.note(ThinnedRuns, c.line, 0)
	}
	c.every *= 2
}

// before is how many samples are a second and more before a time.
func (c *coaster) before(t float64) int {
	n := len(c.times)
	for n > 0 && c.times[n-1] > t-1 {
		n--
	}
	return n
}

// braked reports whether the speed falls faster than rolling and air make it fall.
func (c *coaster) braked(t, v float64) bool {
	n := c.before(t)
	if n == 0 {
		return false
	}
	return c.speeds[n-1]-v > braked*(t-c.times[n-1])
}

// close ends the run after so many samples. The first, the greatest of its
// neighbours, is left out.
func (c *coaster) close(n int) {
	times, speeds := c.times[:n], c.speeds[:n]
	line := c.line
	c.times, c.speeds = c.times[:0], c.speeds[:0]
	if n < fit.MinSamples/2 {
		return
	}
	fall := speeds[0] - slices.Min(speeds)
	if n <= fit.MinSamples || fall < leastFall || fall < leastShare*speeds[0] || len(c.runs) >= mostRuns {
		if fall >= leastFall/2 {
			c.reader.note(ShortRuns, line, 0)
		}
		return
	}
	run := fit.Run{Times: slices.Clone(times[1:]), Speeds: slices.Clone(speeds[1:]), Direction: c.reader.options.Direction}
	if !math.IsNaN(c.way) {
		run.Direction = fit.Direction(c.way)
	}
	c.runs = append(c.runs, run)
}
