package say

import (
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Told is what bare numbers tell of a build, beside its figures.
type told struct {
	Key   string // in data out
	title string
	unit  string
	Value func(b *constraints.Build) float64
}

// Titles of columns that vary has and other tables have not.
const (
	nominalTitle = "rpm"
	fullTitle    = "rpm full"
)

// Told lists it.
func Told() []told {
	return []told{
		{"erpm_nominal", nominalTitle, "rpm", (*constraints.Build).NominalERPM},
		{"thrust_n_per_a", "N per A", "N", (*constraints.Build).ThrustPerAmpere},
	}
}

// VariedMeasures are what variants of a build are compared in: what it is for any
// brief, and of bare numbers what these tell.
func VariedMeasures(p *constraints.Problem, system quantity.System, bare bool) []measure {
	all := Measures(p, system)
	var out []measure
	add := func(m measure, extra bool) {
		m.Extra = m.Extra || extra
		out = append(out, m)
	}
	for _, m := range all {
		add(m, m.Key == "heat_margin_pct" || m.Key == "mass_kg")
		if m.Key != "top_speed_kmh" {
			continue
		}
		nominal, thrust := Told()[0], Told()[1]
		if bare {
			add(nominal.measure(system), false)
		}
		if bare || !p.HasCeiling() {
			add(figureMeasure(fullTitle, "erpm_full", system), false)
		}
		if bare {
			add(thrust.measure(system), false)
		}
	}
	price := figureMeasure(p.Catalog.Currency, "price", system)
	return append(out, price)
}

// measure is what is told in a table.
func (t *told) measure(system quantity.System) measure {
	unit, factor := system.Show(t.unit)
	decimals := 1
	if t.unit == "rpm" {
		decimals = 0
	}
	title := strings.Replace(t.title, t.unit+" per", unit+" per", 1)
	return measure{
		Key: t.Key, Title: title, unit: t.unit, decimals: decimals, factor: factor,
		Value: func(r *Row) float64 { return t.Value(r.Build) },
	}
}

// VariedChange names one change of a row: its key, and the number or text that
// stands there in data out.
func VariedChange(key string, value any, system quantity.System) string {
	number, _ := value.(float64)
	text, _ := value.(string)
	switch key {
	case "kv":
		return "kv" + NBSP + Short(number)
	case "series":
		return Short(number) + NBSP + "in series"
	case "teeth":
		return text
	case "ratio":
		return Short(number) + ":1"
	case "wheel_mm":
		unit, factor := system.Show("mm")
		return "wheels" + NBSP + Short(number*factor) + NBSP + unit
	case "motors":
		return strings.ReplaceAll(Counted(uint64(number), "motor", "motors"), " ", NBSP)
	case "charge":
		if text == "" {
			return Short(number) + NBSP + "V a cell"
		}
		return text + NBSP + "charge"
	}
	return strings.ReplaceAll(key, "_", " ") + " " + text // a slot, and an id
}

// VariedBase names the row that nothing is changed in.
func VariedBase(bare bool) string {
	if bare {
		return "as given"
	}
	return "as it is"
}

// variedRules say what is held where a number is varied, by its key.
var variedRules = map[string]string{
	"kv":       "Another kv is the same motor rewound: its resistance goes with 1/kv², its currents with kv; power, mass and price stay.",
	"series":   "Another number in series keeps the cells and how many are parallel; price and mass go by the cells.",
	"teeth":    "Pulleys or sprockets of other teeth are otherwise the same; the belt or chain is chosen anew.",
	"wheel_mm": "Wheels of another size keep tyre, hub, price and mass.",
}

// Rules for a drive with another ratio.
const (
	gearRule = "A gear drive of another ratio is otherwise the same."
	bareRule = "A bare ratio keeps the efficiency, price and mass of the drive that it replaces; whether a belt or chain fits is not known."
)

// VariedRule says what stays the same when the number of a key varies; d is the drive
// of the variation. It is "" where there is nothing to say.
func VariedRule(key string, d *constraints.Drive) string {
	switch {
	case key != "teeth" && key != "ratio":
	case d.Bare:
		return bareRule
	case d.Gear != nil:
		return gearRule
	}
	return variedRules[key]
}

// BareBuild names a build of bare numbers.
func BareBuild(b *constraints.Build, system quantity.System) string {
	unit, factor := system.Show("mm")
	turns := Short(b.Drive.Reduction) + ":1"
	if t := b.Drive.Teeth(); t.Common > 0 {
		turns = Short(t.Small) + ":" + Short(t.Large)
	}
	return Bound(strings.Join([]string{
		Short(b.Motor.KV) + " rpm/V", Short(b.Battery.Series) + " in series", turns, "wheels of " + Short(b.Wheel.Diameter*1000*factor) + " " + unit,
		Counted(uint64(b.Motors()), "motor", "motors"),
	}, ", "))
}

// BareAssumed says what the table of bare numbers rests on.
func BareAssumed(b *constraints.Build, counted bool) string {
	pack, c := b.Battery.Pack, b.Controller.Drive
	cells := b.Battery.Series
	list := []string{
		"cells of " + Short(pack.Nominal/cells) + " V, " + Short(pack.Full/cells) + " V full",
		Short(float64(b.Motor.Drive.PolePairs)) + " pole pairs",
	}
	if !counted {
		list = append(list, Counted(uint64(b.Motors()), "motor", "motors"))
	}
	list = append(list, "a duty of at most "+Short(c.MaxDuty), "a drive that passes on "+Short(b.Drive.Efficiency)+" of the power", "motor currents as a field-oriented controller sets them")
	if !b.ThrustKnown() {
		list = append(list, "at the low end "+Short(b.Problem.Brief.Limit.Derate)+" of what volts and kv give, at the high end no losses")
	}
	return Bound("Assumed: " + strings.Join(list, "; ") + ".")
}

// The flags that tell more of bare numbers.
const (
	TellResistance   = "--part motor.resistance_mohm"
	TellMotorCurrent = "--part controller.motor_current_a"
	TellPackCurrent  = "--part controller.battery_current_a"
	TellPolePairs    = "--part motor.pole_pairs"
	TellCeiling      = "--erpm-ceiling"
	TellCapacity     = "--part battery.capacity_ah"
	TellGrade        = "--climb-grade"
)

// tellings are what these flags tell.
var tellings = []struct {
	what  string
	flags []string
}{
	{"one top speed, not a range, and the thrust", []string{TellResistance, TellMotorCurrent, TellPackCurrent}},
	{"electrical rpm without an assumption", []string{TellPolePairs}},
	{"whether the controller keeps up", []string{TellCeiling}},
	{"the range", []string{TellCapacity}},
	{"what it climbs", []string{TellGrade}},
}

// TellsMore says what each of some flags would tell.
func TellsMore(flags []string) []string {
	var out []string
	for _, t := range tellings {
		var named []string
		for _, f := range t.flags {
			if slices.Contains(flags, f) {
				named = append(named, f)
			}
		}
		if len(named) > 0 {
			out = append(out, InWords(named)+": "+t.what)
		}
	}
	return out
}

// BareClosing ends what is said of bare numbers.
const BareClosing = "These are computed figures, not a promise of safety. Speeds are on the flat, without wind."

// VariedLegend explains the columns and signs of the table; compared tells whether
// it has differences.
func VariedLegend(b *constraints.Build, system quantity.System, bare, compared bool) []layout.Gloss {
	speed, _ := system.Show("km/h")
	force, _ := system.Show("N")
	var legend []layout.Gloss
	if compared {
		legend = append(legend, layout.Gloss{Titles: []string{"±"}, Text: ": the difference to the first row"})
	}
	glosses := FigureGlosses(system)
	if bare && freeAtBest(b) {
		glosses[0] = layout.Gloss{Titles: []string{speed}, Text: ": top speed, whose high end is the free speed: no losses, no load"}
	}
	legend = append(legend, glosses...)
	if bare {
		legend = append(legend,
			layout.Gloss{Titles: []string{nominalTitle, fullTitle}, Text: ": electrical, at nominal and at full charge, wheels off the ground"},
			layout.Gloss{Titles: []string{force + " per A"}, Text: ": thrust of all motors for each ampere of motor current"},
		)
	} else {
		legend = append(legend, layout.Gloss{Titles: []string{fullTitle}, Text: ": electrical, at full charge, wheels off the ground"})
	}
	legend = append(legend, layout.Gloss{Titles: []string{"launch"}, Text: " in s"}, MarginGloss(""))
	return append(legend, SignGlosses(": beyond it")...)
}

// freeAtBest reports whether nothing but the volts holds the best corner of a build
// back, so that its top speed is the free speed.
func freeAtBest(b *constraints.Build) bool {
	best, _ := b.Best().TopSpeed()
	free, _ := constraints.FigureNamed("free_speed_kmh")
	return math.Abs(best*3.6/free.Value(b)-1) < 1e-9
}
