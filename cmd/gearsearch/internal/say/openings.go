package say

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/dataout/decimal"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/search"
)

// OpeningTable lists openings: what gives way how far, and the build that is then
// feasible; where several builds are wanted, the last of them.
func OpeningTable(out *layout.Text, list []search.Opening, wanted int, currency string, system quantity.System) {
	title := "new build"
	if wanted > 1 {
		title = "last new build"
	}
	t := &layout.Table{Columns: []layout.Column{
		{Title: "give way to", Wrap: true, Least: ProseWidth},
		{Title: "from", Right: true},
		{Title: "to", Right: true},
		{Title: "by", Right: true},
		{Title: title, Wrap: true, Least: 2 * ProseWidth},
		{Title: "key", Extra: true},
	}}
	for _, o := range list {
		for i, g := range o.Concessions {
			build := ""
			if i == 0 {
				build = Build(o.Relaxed)
			}
			from, to := ConcessionEnds(g, currency, system)
			t.Add(g.Meaning, from, to, relative(g), build, g.Key)
		}
	}
	for _, o := range list {
		if i := slices.IndexFunc(o.Concessions, func(g search.Given) bool { return g.Unit == "°C" }); i >= 0 && len(t.Legend) == 0 {
			air, unit := system.Value(o.Concessions[i].Zero, "°C")
			t.Legend = []layout.Gloss{{Titles: []string{"by"}, Text: ": of a temperature, in % of what it is above the air's " + Short(air) + NBSP + unit}}
		}
	}
	out.Table(t)
	for _, o := range list {
		if o.Feasible > 0 {
			out.Paragraph(OtherMotors(&o) + ".")
		}
	}
}

// OtherMotors says how many builds are feasible with another number of motors.
func OtherMotors(o *search.Opening) string {
	g := o.Concessions[0]
	motors := Counted(uint64(g.To), "motor", "motors")
	return fmt.Sprintf("With %s instead of %s, %s feasible", motors, Short(g.From), Counted(o.Feasible, "build is", "builds are"))
}

// ConcededDigits is the number of significant digits of a concession as shown,
// at least, rounded so that it makes as many builds feasible.
const ConcededDigits = 4

// ConcessionEnds are the values of a concession before and after, with their
// unit.
func ConcessionEnds(g search.Given, currency string, system quantity.System) (from, to string) {
	start, unit := system.Value(g.From*g.PerSI, g.Unit)
	value := g.Short
	switch _, factor := system.Show(g.Unit); {
	case unit == "°F":
		value, _ = system.Value(g.Short, g.Unit)
		value = math.Ceil(value*10-1e-9) / 10
	case factor != 1:
		shown := g.Concession
		shown.PerSI *= factor
		value = shown.Shown(g.To, ConcededDigits)
	}
	if g.Unit == "price" {
		unit = currency
	}
	with := func(text string) string { return strings.TrimSuffix(text+NBSP+unit, NBSP) }
	return with(Short(start)), with(Whole(value))
}

// relative is the change of a concession in percent of what was asked; of a
// temperature, of what that was above the air.
func relative(g search.Given) string {
	if g.From == g.Zero {
		return ""
	}
	change := 100 * (g.To - g.From) / math.Abs(g.From-g.Zero)
	if math.Abs(change) < 1 {
		return Signed(change, 1) + "%"
	}
	return Signed(change, 0) + "%"
}

// Settings are the flags that make an opening's concessions.
func Settings(o *search.Opening) string {
	out := ""
	for _, g := range o.Concessions {
		out += " --set " + g.Key + "=" + decimal.Text(g.Short, "")
	}
	return out
}
