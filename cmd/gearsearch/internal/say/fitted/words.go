// Package fitted has the words of a fit: what records tell of a rider, what they do
// not, and what logs were read in spite of. It is a room of its own so that the page's
// engine, which makes no fits, does without.
package fitted

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/ridelog"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search/fit"
)

// names are the unknowns in words.
var names = map[fit.Unknown]string{fit.Rolling: "rolling resistance", fit.Drag: "drag area"}

// Name is an unknown in words.
func Name(u fit.Unknown) string { return names[u] }

// Both are the unknowns in the order in which they are told.
func Both() []fit.Unknown { return []fit.Unknown{fit.Rolling, fit.Drag} }

// Value is the value of an unknown with its unit, and alone.
func Value(u fit.Unknown, x float64, system quantity.System) (text, unit string) {
	if u == fit.Rolling {
		return layout.Fixed(x, 4), ""
	}
	shown, unit := system.Value(x, "m²")
	return layout.Fixed(shown, 3), unit
}

// Share is how sure a value is, in percent, never told as surer than it is.
func Share(e *fit.Estimate) float64 { return math.Max(math.Ceil(e.Spread()*1000-1e-9)/10, 0.1) }

// Heading is the answer in a line.
func Heading(r *fit.Result, system quantity.System) string {
	var told, not []string
	for _, u := range Both() {
		switch e := r.Estimate(u); e.Verdict {
		case fit.Told:
			x, unit := Value(u, e.Value, system)
			told = append(told, strings.TrimSpace(Name(u)+" "+x+say.NBSP+unit)+" ±"+say.NBSP+say.Short(Share(e))+say.NBSP+"%")
		case fit.Held:
		default:
			not = append(not, Name(u))
		}
	}
	switch {
	case len(not) == 2:
		return "These records tell neither the " + not[0] + " nor the " + not[1]
	case len(told) == 0:
		return "These records do not tell the " + not[0]
	case len(not) > 0:
		told = append(told, "the "+not[0]+" is not told")
	}
	text := strings.Join(told, ", ")
	return strings.ToUpper(text[:1]) + text[1:]
}

// Verdict says of an unknown whether it is told, in a few words.
func Verdict(e *fit.Estimate) string {
	switch e.Verdict {
	case fit.Told:
		return "told"
	case fit.Held:
		return "held"
	case fit.Tangled:
		return "not apart from the other"
	case fit.Wide:
		return "too unsure"
	}
	return "no such value"
}

// VerdictCode is the same for programs.
func VerdictCode(v fit.Verdict) string {
	return map[fit.Verdict]string{fit.Told: "told", fit.Held: "held", fit.Tangled: "tangled", fit.Wide: "wide", fit.OutOfRange: "out-of-range"}[v]
}

// Untold says why unknowns are not told, and what to record besides.
func Untold(r *fit.Result) []string {
	var out []string
	if r.Rolling.Verdict == fit.Tangled {
		out = append(out, fmt.Sprintf("The records do not tell rolling resistance and drag area apart (correlation %s): what one takes less the other takes more. Ride or coast at speeds farther apart, or name the one that you know by the brief and fit the other with --only.", layout.Fixed(r.Correlation, 3)))
	}
	for _, u := range Both() {
		switch e := r.Estimate(u); e.Verdict {
		case fit.Wide:
			out = append(out, fmt.Sprintf("The %s may be off by %s%s%%, more than half of it, and is not written: %s.", Name(u), layout.Fixed(Share(e), 0), say.NBSP, more[u]))
		case fit.OutOfRange:
			k, _ := constraints.BriefKeyAt(u.Key())
			out = append(out, fmt.Sprintf("A %s of %s is none (%s takes %s to %s): a slope, a wind, a brake or a wrong mass is in the records.", Name(u), layout.Fixed(e.Value, 4), u.Key(), say.Short(k.Min), say.Short(k.Max)))
		}
	}
	return out
}

// more says what to record where an unknown is too unsure.
var more = map[fit.Unknown]string{
	fit.Rolling: "add coast-downs that end slowly, or slow rides",
	fit.Drag:    "add coast-downs from a higher speed, or faster rides",
}

// Binding says what the values rest on, and how sure that makes them.
func Binding(r *fit.Result, rec *fit.Records, system quantity.System) []string {
	var out, by []string
	samples := 0
	for i := range r.Runs {
		samples += len(r.Runs[i].Times)
	}
	if n := len(r.Runs); n > 0 {
		speed, unit := system.Value(r.RunScatter*3.6, "km/h")
		by = append(by, fmt.Sprintf("%s (%s, which scatter by %s%s%s)", say.Counted(uint64(n), "coast-down", "coast-downs"), say.Counted(uint64(samples), "speed", "speeds"), say.Short(speed), say.NBSP, unit))
	}
	if n := len(r.Rides); n > 0 {
		scatter := fmt.Sprintf("which scatter by %s%s%%", layout.Fixed(r.RideScatter*100, 1), say.NBSP)
		if !r.ScatterTold {
			scatter = fmt.Sprintf("too few to tell their scatter: %s%s%% assumed, common practice", layout.Fixed(r.RideScatter*100, 1), say.NBSP)
			if r.RideScatter > fit.AssumedScatter {
				scatter = fmt.Sprintf("too few to tell their scatter, and off by %s%s%%", layout.Fixed(r.RideScatter*100, 1), say.NBSP)
			}
		}
		by = append(by, say.Counted(uint64(n), "ride", "rides")+" ("+scatter+")")
	}
	out = append(out, "By "+strings.Join(by, " and ")+".")
	if !math.IsNaN(r.Correlation) {
		out = append(out, fmt.Sprintf("Correlation of the two: %s.", layout.Fixed(r.Correlation, 2)))
	}
	if !math.IsNaN(r.Slope) {
		out = append(out, fmt.Sprintf("The road rises by %s%s%% on the way out.", layout.Fixed(r.Slope*100, 2), say.NBSP))
	} else if len(r.Runs) > 0 {
		out = append(out, fmt.Sprintf("All runs count as one way: a road that looks level may rise by %s%s%%, which counts as %s of rolling resistance; the interval holds that. --direction FILE=back tells runs back.",
			layout.Fixed(fit.AssumedSlope*100, 1), say.NBSP, layout.Fixed(fit.AssumedSlope, 3)))
	}
	if r.Memory > 0 {
		out = append(out, fmt.Sprintf("Speeds are off together from one to the next (correlation %s): the intervals are wider for it.", layout.Fixed(r.Memory, 2)))
	}
	if r.Blank {
		out = append(out, "The motor lacks keys that count here: the intervals hold both ends of what is likely. catalog check names the keys.")
	}
	if len(r.Runs) > 0 && !rec.Freewheel {
		out = append(out, "What the motors take to be turned is taken off the coast-downs (no-load current); --freewheel if they are not turned.")
	}
	if len(r.Runs) > 0 {
		out = append(out, "Turning wheels and motors are left out: coast-downs give both values too small by up to a twentieth.")
	}
	return out
}

// Cautions are what to beware of while recording.
func Cautions() []string {
	return []string{
		"Coast down on an empty, straight, level road without traffic, in still air, both ways, with helmet and pads, and no faster than you can stop on foot or by brake.",
		"A fit tells what your records say on that ground, in that stance and that wind, not what is safe.",
	}
}

// Way is the direction of a run in words.
func Way(d fit.Direction) string {
	return map[fit.Direction]string{fit.Out: "out", fit.Back: "back"}[d]
}

// Refusal is why records are not fitted.
func Refusal(r *fit.Refusal) error {
	p := field.Problem{Code: field.Missing}
	switch r.Code {
	case fit.NoRecords:
		p.Message, p.Hint = "there is nothing to fit", "name logs of coast-downs or rides"
	case fit.OneRide:
		p.Message = r.Name + " is one ride, which does not tell rolling resistance and drag area both"
		p.Hint = "--only rolling takes the brief's drag area, --only drag its rolling resistance; or add rides at other speeds, or coast-downs"
	case fit.NoResistance:
		p.Message = "what a ride takes needs the motor's resistance, which is not known"
		p.Hint = "give resistance_mohm or mass_g of the motor, or record coast-downs"
	case fit.ShortRun:
		p.Message, p.Hint = fmt.Sprintf("%s has fewer than %d speeds", r.Name, fit.MinSamples), "record more often, or from a higher speed"
	default:
		p.Message, p.Hint = "no values fit these records", "look at each log alone; a slope, a wind or a brake may be in one"
	}
	return field.Problems{p}
}

// LogNote is a note of a log in words.
func LogNote(n *ridelog.Note) string {
	rows := say.Counted(uint64(max(n.Count, 1)), "row", "rows")
	from := ""
	if n.Line > 0 {
		from = fmt.Sprintf(" (line %d)", n.Line)
		if n.Count > 1 {
			from = fmt.Sprintf(" (from line %d on)", n.Line)
		}
	}
	switch n.Code {
	case ridelog.AboveHeader:
		return say.Counted(uint64(n.Count), "line", "lines") + " above the headings passed over"
	case ridelog.TextRows:
		return rows + " without a time or a number left out" + from
	case ridelog.EmptyCells:
		return say.Counted(uint64(n.Count), "cell", "cells") + " without a number" + from
	case ridelog.DoubledRows:
		return rows + " of a time that was there already left out" + from
	case ridelog.LateRows:
		return rows + " put where their time belongs" + from
	case ridelog.LostRows:
		return rows + " came too late, and left out" + from
	case ridelog.ClockReset:
		return "the clock begins anew " + say.Counted(uint64(n.Count), "time", "times") + from
	case ridelog.CounterReset:
		return "a counter begins anew " + say.Counted(uint64(n.Count), "time", "times") + from
	case ridelog.Gaps:
		return fmt.Sprintf("%s, %s%ss in all, left out%s", say.Counted(uint64(n.Count), "gap", "gaps"), layout.Fixed(n.Amount, 0), say.NBSP, from)
	case ridelog.BareUnit:
		if n.Amount == 1e-3 {
			return field.Quote(n.Text) + " tells no unit: milliseconds since 1970, as it looks"
		}
		return field.Quote(n.Text) + " tells no unit: the usual one assumed (s, V, A, W, m)"
	case ridelog.Unread:
		return field.Quote(n.Text) + " tells no unit, and is not needed"
	case ridelog.SecondColumn:
		return field.Quote(n.Text) + " is like a column that is read, and is not"
	case ridelog.ShortRuns:
		return say.Counted(uint64(n.Count), "stretch", "stretches") + " of falling speed too short for a coast-down" + from
	case ridelog.BrakedRuns:
		return "braked " + say.Counted(uint64(n.Count), "time", "times") + ": the coast-down ends before" + from
	case ridelog.ThinnedRuns:
		return "of long coast-downs but every second speed, or fewer, is kept"
	case ridelog.MixedSpeed:
		return fmt.Sprintf("the speed varies by ± %s%s%%: drag counts as at its mean, and comes out too large", layout.Fixed(n.Amount*100, 0), say.NBSP)
	}
	return ""
}

// Kind says what a log is of, and who says so.
func Kind(l *ridelog.Log) string {
	what := "a ride"
	if l.Kind == ridelog.Coast {
		what = say.Counted(uint64(len(l.Runs)), "coast-down", "coast-downs")
	}
	if l.Forced {
		return what + ", as you say"
	}
	return what
}
