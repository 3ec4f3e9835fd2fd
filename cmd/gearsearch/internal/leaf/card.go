package leaf

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
	"gearsearch/drive"
	"gearsearch/search"
)

// card is all that is shown of one build; first is the one it is told apart
// from.
func (m *maker) card(s search.Scored, first *constraints.Build) *Card {
	b := s.Build
	c := &Card{
		Number: s.Rank, Score: layout.Fixed(s.Score, 1), Chain: m.names.chain(b), Differs: m.differs(b, first),
		Key: m.deciding(b), Groups: m.all(b), Meanings: meanings(b), Cautions: say.CautionsOf(b, m.system), File: string(b.File().TOML()),
	}
	c.Margins, c.Fits = m.margins(b.Results())
	for _, x := range s.Scores {
		c.Scores = append(c.Scores, Score{x.Name, layout.Fixed(x.Score, 2), say.Short(x.Weight), x.Meaning, strconv.FormatFloat(100*x.Score, 'f', 1, 64)})
	}
	m.shopping(c, b)
	return c
}

// shopping fills in what is to be bought: the parts of the build, and what it
// needs around them.
func (m *maker) shopping(c *Card, b *constraints.Build) {
	o := outfit.Complete(b, outfit.DefaultWishes())
	c.Currency = m.problem.Catalog.Currency
	for _, l := range o.Lines {
		c.Items = append(c.Items, m.item(l))
		c.Invented = c.Invented || l.Invented
	}
	for _, n := range o.Needs {
		i := m.item(n.Line())
		if n.Kind == "wire" {
			i.Pieces += "\u00a0m"
		}
		if n.Part == nil {
			i.Name, i.Note = say.Statement(n.Buy, m.system), strings.Join(say.Notes(n.Notes, m.system), "; ")
		}
		c.Around = append(c.Around, i)
		c.Invented = c.Invented || i.Invented
	}
	markInvented(c.Items, c.Around)
	c.Care = say.OutfitCare(o, m.system)
	for _, made := range o.Makings() {
		for _, list := range [][]Item{c.Items, c.Around} {
			for i := range list {
				if list[i].ID == made.Part.ID {
					list[i].toMake(made, c.Care, m.system)
				}
			}
		}
	}
	c.Price, c.AtLeast = amount(b.Price().Known), b.Price().Missing
	c.Total, c.TotalAtLeast = amount(o.Total.Known), o.Total.Missing
}

// markInvented leaves the marks of invented parts only where there are others
// among them: else it is said once.
func markInvented(lists ...[]Item) {
	others := false
	for _, list := range lists {
		others = others || slices.ContainsFunc(list, func(i Item) bool { return i.ID != "" && !i.Invented })
	}
	for _, list := range lists {
		for i := range list {
			list[i].Invented = list[i].Invented && others
		}
	}
}

// item is a line of a shopping list.
func (m *maker) item(l outfit.Line) Item {
	i := Item{For: SlotName(l.Called), Pieces: strconv.Itoa(l.Pieces), ID: l.ID, Name: l.Name, Note: say.Statement(l.Note, m.system), Link: l.Link, Price: amount(l.Total), Invented: l.Invented}
	i.From = m.priceFrom(l)
	switch {
	case l.Owned:
		i.Buy = "owned"
	case l.Made != "": // toMake says how
	case l.ID == "":
		i.Price = ""
	case l.SoldIn > 1 && l.Packs == 1:
		i.Buy = "one pack of " + strconv.Itoa(l.SoldIn)
	case l.SoldIn > 1:
		i.Buy = strconv.Itoa(l.Packs) + " packs of " + strconv.Itoa(l.SoldIn)
	}
	return i
}

// toMake says how the part of a line is made, by what figures and with what care, where
// that is not said of the whole build.
func (i *Item) toMake(made outfit.Making, care []string, system quantity.System) {
	i.Buy, i.Make, i.Figures = "", "to be "+made.How, say.MakingFigures(made)
	for _, c := range made.Cautions {
		if text := say.Statement(c, system); !slices.Contains(care, text) {
			i.Beware = append(i.Beware, text)
		}
	}
}

// priceFrom says from when and where a line's price is, and whether it is old.
func (m *maker) priceFrom(l outfit.Line) string {
	text := say.PriceFrom(l.Priced, l.Source)
	if text == "" {
		return ""
	}
	if text = "price from " + text; l.Packs > 0 && say.OldPrice(l.Priced, m.made) {
		text += ": over a year old"
	}
	return text
}

// amount is a price, "?" where it is not known.
func amount(x float64) string {
	if math.IsNaN(x) {
		return "?"
	}
	return say.Money(math.Round(100*x) / 100)
}

// deciding are the figures that decide, each with what was asked for.
func (m *maker) deciding(b *constraints.Build) []Figure {
	p, t := m.problem, m.problem.Brief.Target
	s := speaker{m.system, p.Catalog.Currency}
	var out []Figure
	add := func(name, title, note string) {
		f, _ := constraints.FigureNamed(name)
		text, unit, known := say.Figure(f, b, m.system)
		if !known {
			text = say.Absent(f, b)
		}
		out = append(out, Figure{title, text, unit, note})
	}
	asked := func(value float64, text string) string {
		if math.IsNaN(value) {
			return ""
		}
		return text
	}
	speed := asked(t.TopSpeed, "asked: at least "+s.speed(t.TopSpeed))
	if !math.IsNaN(t.TopSpeedMax) {
		speed = "asked: at most " + s.speed(t.TopSpeedMax)
		if !math.IsNaN(t.TopSpeed) {
			speed = "asked: " + s.speed(t.TopSpeed) + " to " + s.speed(t.TopSpeedMax)
		}
	}
	add("top_speed_kmh", "top speed", speed)
	_, by := b.TopSpeed()
	out[0].Note = join(out[0].Note, held(by.String()))
	add("climb_limit_pct", "steepest grade at "+s.speed(t.ClimbSpeed), asked(t.ClimbGrade, "asked: "+say.Short(100*t.ClimbGrade)+"\u00a0%"))
	add("range_km", "range at "+s.speed(t.Cruise), asked(t.Range, "asked: at least "+s.of(t.Range, 0.001, "km")))
	if !math.IsNaN(t.LaunchTime) {
		add("launch_s", "to "+s.speed(t.LaunchSpeed), "asked: at most "+say.Short(t.LaunchTime)+"\u00a0s")
	}
	if limit, _ := b.HeatLimit(); p.Climbs() {
		add("climb_current_a", "motor current on the climb", asked(limit, "bears "+say.Short(limit)+"\u00a0A continuous"))
	}
	price := ""
	if say.InventedIn(b) {
		price = say.Invented
	}
	add("price", "price", join(price, asked(p.Brief.Limit.Price, "asked: at most "+s.price(p.Brief.Limit.Price))))
	add("mass_kg", "board without rider", asked(p.Brief.Limit.Mass, "asked: at most "+s.of(p.Brief.Limit.Mass, 1, "kg")))
	add("reduction", "reduction", "motor turns per wheel turn")
	return out
}

// held says what holds a speed.
func held(word string) string {
	switch word {
	case "":
		return ""
	case drive.Estimate.String():
		return "an estimate: the losses are not known"
	}
	return "limited by " + say.Limit(word)
}

func join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// all are all figures, group by group.
func (m *maker) all(b *constraints.Build) []Group {
	var out []Group
	for _, f := range m.figures {
		text, unit, known := say.Figure(f, b, m.system)
		if !known {
			text = say.Absent(f, b)
		}
		shown := f.Of(b)
		if n := len(out); n == 0 || out[n-1].Title != shown.Group {
			out = append(out, Group{Title: shown.Group})
		}
		last := &out[len(out)-1]
		last.Figures = append(last.Figures, Explained{
			Figure: Figure{shown.Label, text, unit, shown.Meaning}, Key: f.Name, Known: known,
			Formula: f.Formula, Numbers: say.Put(f, b), Source: f.Source,
		})
	}
	return out
}

// meanings is when each check of a build passes.
func meanings(b *constraints.Build) []Meaning {
	var out []Meaning
	for _, r := range b.Results() {
		out = append(out, Meaning{r.Shown().Subject, r.Meaning})
	}
	return out
}
