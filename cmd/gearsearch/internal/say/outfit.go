package say

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
	"gearsearch/drive/pack"
)

// sentence is a statement about an outfit on its way into words.
type sentence struct {
	outfit.Statement
	system quantity.System
}

// Statement says one thing about an outfit, without a full stop; "" where there
// is nothing to say.
func Statement(st outfit.Statement, system quantity.System) string {
	row, s := outfitWords[st.Code], sentence{st, system}
	if row.make != nil {
		return row.make(s)
	}
	var words []any
	for _, name := range st.Names {
		words = append(words, name)
	}
	return fmt.Sprintf(row.text, append(words, quantities(st.Quantities, s)...)...)
}

// Statements says several things in a row.
func Statements(list []outfit.Statement, system quantity.System) string {
	var out strings.Builder
	for i, st := range list {
		if i > 0 {
			between := "; "
			switch before, after := outfitWords[st.Code].before, outfitWords[list[i-1].Code].after; {
			case after != "":
				between = after
			case before != "":
				between = before
			}
			out.WriteString(between)
		}
		out.WriteString(Statement(st, system))
	}
	return out.String()
}

// Notes say each thing by itself.
func Notes(list []outfit.Statement, system quantity.System) []string {
	var out []string
	for _, st := range list {
		out = append(out, Statement(st, system))
	}
	return out
}

// TurnedWords say which part is turned away and why.
func TurnedWords(t outfit.Turned, system quantity.System) string {
	return t.ID + ": " + Statements(t.Why, system)
}

// ReasonWords say why none of the parts is chosen: of the nearest ones each with
// what it lacks, and how many more there are.
func ReasonWords(n *outfit.Need, system quantity.System) string {
	const few = 3
	var why []string
	for _, t := range n.Turned {
		if n.State != outfit.Unsure || t.Unsure {
			why = append(why, TurnedWords(t, system))
		}
	}
	if more := len(why) - few; more > 0 {
		why = append(why[:few], fmt.Sprintf("and %d more", more))
	}
	return strings.Join(why, "; ")
}

// NeedWords say how a need stands: which part does, or why none does and what to
// look for.
func NeedWords(n *outfit.Need, system quantity.System) string {
	buy := Statement(n.Buy, system)
	switch n.State {
	case outfit.Chosen:
		return n.Part.ID + " does"
	case outfit.Open:
		return Statements(n.Open(), system)
	case outfit.Missing:
		if n.Kind == "" {
			return "look for " + buy
		}
		if why := ReasonWords(n, system); why != "" {
			return "the catalog has none that will do (" + why + "): look for " + buy
		}
		return "the catalog has none: look for " + buy
	case outfit.Unsure:
		return "may do: " + ReasonWords(n, system)
	}
	if why := ReasonWords(n, system); why != "" {
		return "none in the catalog will do (" + why + "): look for " + buy
	}
	return buy
}

// FindingWords say what there is to do or to know about a check of an outfit, ""
// where there is nothing.
func FindingWords(f outfit.Finding, system quantity.System) string {
	if f.Need == nil {
		return Statement(f.Says, system)
	}
	text := NeedWords(f.Need, system)
	if f.Inside {
		text += ", unless the pack has one inside"
	}
	return text
}

// Demand says what a part must bear.
func Demand(d outfit.Demand) string {
	return Statement(outfit.Statement{Code: d.Code}, quantity.Metric)
}

// FactWords say what a fact is.
func FactWords(f outfit.Fact, system quantity.System) string {
	words := factWords[f.Name]
	if f.RollsOut() {
		words = rollOut
	}
	return fmt.Sprintf(words, quantities(f.Of, sentence{system: system})...)
}

// FactLabel is a fact's name in tables: what only rolls out is not called a stop.
func FactLabel(f outfit.Fact) string {
	label := quantity.Label(f.Name, f.Unit)
	if f.RollsOut() {
		label = strings.Replace(label, "stop", "roll-out", 1)
	}
	return label
}

// OutfitCautions are the cautions of an outfit.
func OutfitCautions(o *outfit.Outfit, system quantity.System) []string {
	var out []string
	for _, c := range o.Cautions() {
		text, before := Statement(c.Statement, system), ": "
		for _, s := range c.Slopes {
			text, before = text+before+SlopeWords(s, system), ", "
		}
		out = append(out, text)
	}
	return out
}

// OutfitCare is what to set, and the cautions: for pages that have no table of
// settings.
func OutfitCare(o *outfit.Outfit, system quantity.System) []string {
	return append([]string{SettingsLine(o.Build, system), StopsLine(o.Build, system)}, OutfitCautions(o, system)...)
}

// SlopeWords say what the steepest slope is at a charge, and why.
func SlopeWords(s outfit.Slope, system quantity.System) string {
	const none = 0.001 // less is not worth a number
	charge := charged(s.Charge)
	grade := Quantity(constraints.Quantity{SI: s.Grade, PerSI: 100, Unit: "%", Digits: constraints.ThreeDown}, system)
	switch {
	case s.Open != "":
		grade = "unknown"
	case math.IsInf(s.Grade, 1):
		grade = "any"
	case s.Grade < none:
		grade = "none"
	}
	return fmt.Sprintf("%s %s (%s)", grade, charge, Statement(s.Why(), system))
}

// charged says how full a pack is.
func charged(share float64) string {
	if share == 1 {
		return "with a full pack"
	}
	return "at " + strconv.FormatFloat(share*100, 'g', 3, 64) + " % charge"
}

// LayoutWords say in a few words how the cells of a pack lie.
func LayoutWords(l pack.Layout) string {
	axis, rows := outfit.Lie(l)
	return lie(axis, rows, l.Layers)
}

// gauge writes a gauge of wire, such as 12 or 2/0.
func gauge(awg int) string {
	if awg <= 0 {
		return fmt.Sprintf("%d/0", 1-awg)
	}
	return strconv.Itoa(awg)
}

// numbered is a whole number of things, one of which has words of its own.
func numbered(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return strconv.Itoa(n) + " " + more
}

// listed joins words as English does: "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
