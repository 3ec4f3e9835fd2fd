package way

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints/route"
)

// text is the answer as people read it.
func (s *Answer) text(system quantity.System) *layout.Text {
	x, out := s.like, &layout.Text{}
	in := shown{system}
	out.Heading(fmt.Sprintf("%s: %s, %s up and %s down", say.Shown(s.Route.Name), in.far(x.Length), in.high(x.Climb), in.high(x.Descent)))
	out.Verbatim(s.outline(in)...)
	out.Notes(
		layout.Note{Label: "height", Text: fmt.Sprintf("%s at the start, %s at the end; lowest %s at %s, highest %s at %s",
			in.high(x.Start), in.high(x.End), in.high(x.Lowest.Height), in.far(x.Lowest.At), in.high(x.Highest.Height), in.far(x.Highest.At))},
		layout.Note{Label: "steepest", Text: in.steepest(x)},
		layout.Note{Label: "stops", Text: stops(x.Stops)},
		layout.Note{Label: "speed", Text: in.speeds(x)},
		layout.Note{Label: "surface", Text: in.surfaces(x.Surfaces)},
	)
	out.Paragraph(s.closing())
	out.Heading("Next")
	out.Verbatim("gearsearch rank --route " + say.Typed(s.File))
	return out
}

// closing says in what steps the way is ridden, and of an embedded one that nobody has
// ridden it.
func (s *Answer) closing() string {
	text := fmt.Sprintf("It is ridden in %s of at most %d m.", say.Counted(uint64(len(s.Route.Legs)), "leg", "legs"), route.Grid)
	if s.Invented {
		return "The route is invented. " + text
	}
	return text
}

// shown shows quantities in a system of units.
type shown struct{ quantity.System }

// far is a length of way.
func (in shown) far(m float64) string {
	x, unit := in.Value(m/1000, "km")
	return layout.Fixed(x, 1) + say.NBSP + unit
}

// high is a height or a short length.
func (in shown) high(m float64) string {
	x, unit := in.Value(m, "m")
	return layout.Fixed(x, 0) + say.NBSP + unit
}

// steepest are the steepest stretches up and down.
func (in shown) steepest(x *route.Profile) string {
	var parts []string
	for _, s := range []struct {
		route.Steep
		word string
		sign float64
	}{{x.Up, "up", 1}, {x.Down, "down", -1}} {
		if grade := s.sign * s.Grade; grade > 0 {
			parts = append(parts, fmt.Sprintf("%s%% %s from %s", layout.Fixed(grade*percent, 1), s.word, in.far(s.From)))
		}
	}
	if parts == nil {
		return "flat all the way"
	}
	return strings.Join(parts, ", ") + ", each over " + in.high(x.Up.Length)
}

// stops is how often the board stands.
func stops(n int) string {
	if n == 0 {
		return "none"
	}
	return layout.Count(uint64(n))
}

// speeds are the speeds that are wanted.
func (in shown) speeds(x *route.Profile) string {
	cruise := "the brief's cruise speed"
	if math.IsNaN(x.Slowest) {
		return cruise
	}
	slow, unit := in.Value(x.Slowest*kmh, "km/h")
	fast, _ := in.Value(x.Fastest*kmh, "km/h")
	text := say.Short(slow) + say.NBSP + unit
	if slow != fast {
		text = say.Short(slow) + " to " + say.Short(fast) + say.NBSP + unit
	}
	if x.Free > 0 {
		text += "; " + cruise + " on " + in.far(x.Free)
	}
	return text
}

// surfaces is how long the way is on each.
func (in shown) surfaces(list []route.Surface) string {
	var parts []string
	for _, s := range list {
		name := s.Name
		if name == "" {
			name = "the brief's"
		}
		if len(list) > 1 {
			name += " " + in.far(s.Length)
		}
		parts = append(parts, name)
	}
	return strings.Join(parts, ", ")
}
