package randcat

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// Ranged is the text of tables with ranges, to be put behind that of Catalog: packs of
// its cell and pulleys, as tables and written part by part with the ids that the tables
// give them.
func Ranged(r *rand.Rand) (tables, parts string) {
	w := ranged{r: r}
	for i := range 1 + r.IntN(2) {
		w.packs(fmt.Sprintf("made%d", i))
	}
	for i := range 1 + r.IntN(2) {
		w.pulleys(fmt.Sprintf("cut%d", i), one(r, "motor", "wheel"))
	}
	return w.tables.String(), w.parts.String()
}

// ranged writes tables with ranges and the same part by part.
type ranged struct {
	r             *rand.Rand
	tables, parts strings.Builder
}

// span is a range of whole numbers.
type span struct{ low, high, step int }

func (w *ranged) span(least, most, steps int) span {
	low := least + w.r.IntN(most-least)
	return span{low, low + w.r.IntN(4), 1 + w.r.IntN(steps)}
}

func (s span) String() string {
	if s.step == 1 {
		return fmt.Sprintf("%d..%d", s.low, s.high)
	}
	return fmt.Sprintf("%d..%d/%d", s.low, s.high, s.step)
}

// packs writes packs of the random catalog's cell.
func (w *ranged) packs(id string) {
	same := "cell = \"cell-a\"\n"
	if w.r.IntN(2) > 0 {
		same += "wiring_mohm = 8\n"
	}
	s, p := w.span(6, 12, 2), w.span(1, 5, 2)
	fmt.Fprintf(&w.tables, "\n[[battery]]\nid = %q\nseries = %q\nparallel = %q\n%s", id, s, p, same)
	for i := s.low; i <= s.high; i += s.step {
		for j := p.low; j <= p.high; j += p.step {
			fmt.Fprintf(&w.parts, "\n[[battery]]\nid = \"%s-%ds%dp\"\nseries = %d\nparallel = %d\n%s", id, i, j, i, j, same)
		}
	}
}

// pulleys writes pulleys, of one width or of several, in half millimetres.
func (w *ranged) pulleys(id, side string) {
	same := fmt.Sprintf("side = %q\nprofile = %q\n", side, one(w.r, profiles()...))
	if side == "motor" {
		same += "bore_mm = 8\n"
	} else if w.r.IntN(3) > 0 {
		same += fmt.Sprintf("hub = %q\n", one(w.r, hubs()...))
	}
	teeth := w.span(map[string]int{"motor": 11, "wheel": 30}[side], 50, 3)
	widths := w.r.IntN(3) // beyond the first
	fmt.Fprintf(&w.tables, "\n[[pulley]]\nid = %q\n%steeth = %q\nprice = \"4..6/2\"\n", id, same, teeth)
	if widths > 0 {
		fmt.Fprintf(&w.tables, "width_mm = \"9..%v/0.5\"\n", 9+0.5*float64(widths))
	}
	n := 0
	for z := teeth.low; z <= teeth.high; z += teeth.step {
		for price := 4; price <= 6; price += 2 {
			for k := range 1 + widths {
				n++
				fmt.Fprintf(&w.parts, "\n[[pulley]]\nid = \"%s-%d\"\n%steeth = %d\nprice = %d\n", id, n, same, z, price)
				if widths > 0 {
					fmt.Fprintf(&w.parts, "width_mm = %v\n", 9+0.5*float64(k))
				}
			}
		}
	}
}

// Printed is the text of tables with ranges to be put behind that of a market: packs of
// 8 to 14 cells in series and 2 to 6 in parallel of two of its cells, and pulleys of 12
// to 80 teeth to print, those for motors with either bore, those for wheels of either
// profile and for every hub.
const Printed = `
[[battery]]
id = "made-a"
cell = "cell-00000"
series = "8..14"
parallel = "2..6"
wiring_mohm = 5

[[battery]]
id = "made-b"
cell = "cell-00003"
series = "8..14"
parallel = "2..6"
wiring_mohm = 5

[[pulley]]
id = "print-m"
side = "motor"
profile = "htd-5m"
width_mm = 15
bore_mm = "8..10/2"
teeth = "12..80"
price = 2
mass_g = 30

[[pulley]]
id = "print-w5"
side = "wheel"
profile = "htd-5m"
width_mm = 15
hub = ["five-bolt", "spline", "block", "six-bolt"]
teeth = "12..80"
price = 4
mass_g = 60

[[pulley]]
id = "print-w3"
side = "wheel"
profile = "gt-3"
width_mm = 15
hub = ["five-bolt", "spline", "block", "six-bolt"]
teeth = "12..80"
price = 4
mass_g = 60
`
