// Package say says in words and short texts what registries name by keys: a
// check in a column, a figure with its unit, an outcome with its limit, and what
// lower rooms return as codes and quantities: cautions, assumptions, remarks.
// Texts, the page and the report take them from here, data out the sentences only.
package say

import (
	"math"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Money writes an amount: with cents where there are any.
func Money(x float64) string {
	if x == math.Trunc(x) {
		return layout.Fixed(x, 0)
	}
	return layout.Fixed(x, 2)
}

// Short writes a number with at most two decimals, and no more than it needs.
func Short(x float64) string {
	text := layout.Fixed(x, 2)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// Whole is a number with all its digits, for one that was rounded to a side.
func Whole(x float64) string {
	_, decimals, _ := strings.Cut(field.FormatNumber(x), ".")
	return layout.Fixed(x, len(decimals))
}

// Unchosen says why no drive chooses a belt.
func Unchosen(u *constraints.UnchosenBelt) string {
	switch u.Why {
	case constraints.BeltNoPulleys:
		return ofChain("no motor pulley and wheel pulley in play both have its profile, ", u.Belt.Profile.Chained()) + u.Belt.Profile.ID
	case constraints.BeltNoMount:
		return ofChain("no mount is in play, and a belt is chosen by its mount", u.Belt.Profile.Chained())
	case constraints.ChainOdd:
		return "an odd number of links, which makes no ring"
	case constraints.BeltTooWide:
		return "too wide for the pulleys of its profile"
	case constraints.BeltTooShort:
		return ofChain("too short to go around any two pulleys of its profile", u.Belt.Profile.Chained())
	case constraints.BeltOutOfRange:
		return "no mount has the centre distance that it needs"
	case constraints.BeltOutdone:
		if u.Belt.Profile.Chained() {
			return "where it fits, a stronger chain or one nearer the middle of the mount's range is used, such as " + u.Instead.ID
		}
		return "where it fits, a wider belt or one nearer the middle of the mount's range is used, such as " + u.Instead.ID
	}
	return ""
}

// Figure is a figure of a build as people read it, and its unit, "" for none;
// known is false where it cannot be computed.
func Figure(f constraints.Figure, b *constraints.Build, system quantity.System) (text, unit string, known bool) {
	if f.Word != nil {
		word := f.Word(b)
		if _, best, differs := f.Best(b); differs && best != "" && word != "" {
			word += " or " + best
		}
		return strings.ReplaceAll(word, "_", " "), "", word != ""
	}
	x := f.Value(b)
	if math.IsNaN(x) {
		return "", "", false
	}
	if f.Unit == "price" {
		return Money(x), b.Problem.Catalog.Currency, true
	}
	_, unit = system.Value(x, f.Unit)
	return Ends(f, b, system), unit, true
}

// Ends is the value of a figure of a build, as a range where its corners differ
// in the digits shown.
func Ends(f constraints.Figure, b *constraints.Build, system quantity.System) string {
	_, unit := system.Value(0, f.Unit)
	return endsTo(f, b, system, quantity.Decimals(unit))
}

// endsTo is Ends with so many decimals.
func endsTo(f constraints.Figure, b *constraints.Build, system quantity.System, decimals int) string {
	text := func(x float64) string {
		shown, _ := system.Value(x, f.Unit)
		return layout.Fixed(shown, decimals)
	}
	x := f.Value(b)
	worst := text(x)
	best, _, differs := f.Best(b)
	if !differs || math.IsNaN(x) || math.IsNaN(best) {
		return worst
	}
	other := text(best)
	switch {
	case other == worst:
		return worst
	case math.Min(x, best) < 0:
		return text(math.Min(x, best)) + " to " + text(math.Max(x, best))
	case best < x:
		return other + "–" + worst
	}
	return worst + "–" + other
}

// Put is the formula of a figure with the numbers of a build put in, of both
// corners where they differ.
func Put(f constraints.Figure, b *constraints.Build) string {
	worst := Numbers(f.Put(b))
	if _, _, differs := f.Best(b); !differs {
		return worst
	}
	return "at worst " + worst + "; at best " + Numbers(f.Put(b.Best()))
}

// Outcome is the value and the limit of a check, each "" for a yes-or-no
// check, as a table shows them, with their unit.
func Outcome(r constraints.Result, p *constraints.Problem, system quantity.System) (value, limit, unit string) {
	value, limit, unit = amounts(r, p, system)
	switch {
	case r.Unit == "":
	case r.Lower:
		limit = "≥ " + limit
	default:
		limit = "≤ " + limit
	}
	return value, limit, unit
}

// amounts are the value and the limit of a check as numbers alone.
func amounts(r constraints.Result, p *constraints.Problem, system quantity.System) (value, limit, unit string) {
	if r.Shown().Unit == "" {
		return "", "", ""
	}
	v, unit := system.Value(r.Value*r.Shown().PerSI, r.Shown().Unit)
	l, _ := system.Value(r.Limit*r.Shown().PerSI, r.Shown().Unit)
	value, limit = layout.Pair(v, l, quantity.Decimals(unit))
	if r.Shown().Unit == "price" {
		unit = p.Catalog.Currency
	}
	return value, limit, unit
}

// ThinMargin is the margin in percent below which a limit is called thin: a
// few percent are within what catalogs and riders are off. A choice of this
// program.
const ThinMargin = 5

// Margin is the margin of an outcome in percent. The dust of an equality, which
// passes, is none.
func Margin(r constraints.Result) float64 {
	const dust = 1e-7 // percent: what every comparison takes for equal
	if pct := r.MarginPct(r.Outcome); math.IsNaN(pct) || math.Abs(pct) > dust {
		return pct
	}
	return 0
}

// The signs that an outcome carries.
const (
	NoSign   = ""
	ThinSign = "!"
	FailSign = "!!" // on a feasible build: of a demoted check
	OpenSign = "?"
)

// Sign is the sign of an outcome.
func Sign(r constraints.Result) string {
	switch {
	case r.Verdict == constraints.Fail:
		return FailSign
	case r.Verdict == constraints.Undecided:
		return OpenSign
	case r.MarginPct(r.Outcome) < ThinMargin:
		return ThinSign
	}
	return NoSign
}

// Limit is a word for what limits a speed or thrust, short enough for a
// column.
func Limit(word string) string {
	short := map[string]string{
		"voltage": "volts", "motor_current": "motor A", "battery_current": "pack A", "motor_power": "motor W", "": "–",
	}
	if s, ok := short[word]; ok {
		return s
	}
	return word
}

// LimitMeaning explains a word of Limit.
func LimitMeaning(word string) string {
	return map[string]string{
		"volts":    "the pack's voltage against the motor's back-EMF",
		"motor A":  "the limit of motor current",
		"pack A":   "the limit of battery current, sag included",
		"motor W":  "the motor's limit of power",
		"grip":     "the tyres' hold on the ground",
		"lift":     "the front wheels, which would leave the ground",
		"erpm":     "the ceiling of electrical rpm",
		"estimate": "nothing known: a share of the no-load speed",
	}[word]
}
