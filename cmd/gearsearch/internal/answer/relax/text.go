package relax

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search"
)

// forms are the forms of the answer.
func (r *Answer) forms(a *ask.Answer) ask.Forms {
	return ask.Forms{
		Text:     func() *layout.Text { return r.text(a.System) },
		Document: r.document,
		Table:    r.table,
		Complete: r.whole(),
	}
}

// document is the answer as data.
func (r *Answer) document() dataout.Document {
	helpless := []string{}
	for _, c := range r.Helpless {
		helpless = append(helpless, c.Key)
	}
	return dataout.Document{
		Head: append(dataout.Head(r.Problem, r.whole()),
			dataout.Member{Key: "builds_wanted", Value: r.Builds},
			dataout.Member{Key: "feasible", Value: r.Feasible},
			dataout.Member{Key: "pairs", Value: r.Pairs},
			dataout.Member{Key: "helpless", Value: helpless},
			dataout.Member{Key: "hopeless", Value: r.hopelessWords()},
			dataout.Member{Key: "grip", Value: r.slipObject()},
		),
		Lists: []dataout.List{{Key: "openings", Items: func(yield func(dataout.Object) bool) {
			for i := range r.Openings {
				if !yield(r.object(&r.Openings[i])) {
					return
				}
			}
		}}, {Key: "missing", Items: r.missingObjects()}, {Key: "wishes", Items: wishObjects(r.wishes, r.unit)}},
	}
}

// object is one opening as data.
func (r *Answer) object(o *search.Opening) dataout.Object {
	concessions := []dataout.Object{}
	for _, g := range o.Concessions {
		concessions = append(concessions, dataout.Object{
			{Key: "key", Value: g.Key}, {Key: "from", Value: g.From * g.PerSI}, {Key: "to", Value: g.Written}, {Key: "unit", Value: r.unit(g.Unit)},
		})
	}
	feasible := any(nil)
	if o.Feasible > 0 {
		feasible = o.Feasible
	}
	return dataout.Object{
		{Key: "cost", Value: o.Cost},
		{Key: "concessions", Value: concessions},
		{Key: "feasible", Value: feasible},
		{Key: "build", Value: dataout.Build(search.ScoreBuild(o.Relaxed))},
	}
}

// slipObject is what grip holds and what the climb takes, as data; nil where
// grip is not why nothing is feasible.
func (r *Answer) slipObject() any {
	if r.slips == nil {
		return nil
	}
	board := r.slips.Board()
	return dataout.Object{
		{Key: "thrust_n", Value: board.GripThrust(r.slips.Problem.Theta)},
		{Key: "need_n", Value: r.slips.ClimbNeed()},
		{Key: "limited_by", Value: board.Hold.By.String()},
		{Key: "friction", Value: r.slips.Problem.Grip},
		{Key: "motors", Value: r.slips.Motors()},
	}
}

// unit is the unit of a key in data, nil for none.
func (r *Answer) unit(name string) any {
	switch name {
	case "":
		return nil
	case "price":
		return r.Problem.Catalog.Currency
	}
	return name
}

// table is the answer as rows, one for each concession; the two of a pair
// have one number.
func (r *Answer) table() (header []string, rows [][]any) {
	header = append([]string{"opening", "cost", "key", "from", "to", "unit"}, dataout.PartKeys()...)
	header = append(header, "without")
	for i := range r.Openings {
		o := &r.Openings[i]
		ids := dataout.Parts(o.Relaxed).(dataout.Object)
		for _, g := range o.Concessions {
			row := []any{i + 1, o.Cost, g.Key, g.From * g.PerSI, g.Written, r.unit(g.Unit)}
			for _, key := range dataout.PartKeys() {
				row = append(row, ids.Get(key))
			}
			rows = append(rows, append(row, nil))
		}
	}
	return header, slices.Concat(rows, r.missingRows(), r.wishRows())
}

// text is the answer as people read it.
func (r *Answer) text(system quantity.System) *layout.Text {
	out := &layout.Text{}
	say.IncompleteText(out, r.whole(), "before everything was looked at")
	say.AskedText(out, r.Problem, system)
	switch {
	case r.enough():
		out.Heading("Nothing to relax: " + r.standing())
		out.Paragraph("To see what it takes to have more to choose from, ask for more with --builds.")
	case len(r.Openings) == 0 && r.Complete:
		out.Heading(say.Capital(r.standing()) + "; no concession, and no pair of them, " + r.opening())
		out.Paragraph("More than two things are in the way, or parts that do not fit each other: gearsearch shortlist SLOT shows what stops which part.")
	case len(r.Openings) > 0:
		out.Heading(say.Capital(r.standing()) + ". " + r.heading())
		say.OpeningTable(out, r.Openings, r.Builds, r.Problem.Catalog.Currency, system)
	}
	r.helpless(out)
	if r.near != nil {
		say.DecidedText(out, r.near.Misses, r.Problem)
	}
	if r.slips != nil {
		out.Paragraph(say.Slip(r.slips, r.Problem, system))
	}
	r.missing(out)
	if r.wishes.Complete {
		wishTable(out, r.wishes, r.Problem, system)
	}
	r.next(out)
	return out
}

// standing says how many builds are feasible as the brief stands.
func (r *Answer) standing() string {
	if r.Feasible == 0 {
		return "nothing is feasible as the brief stands"
	}
	return say.Counted(r.Feasible, "build is", "builds are") + " feasible as the brief stands"
}

// opening says what a concession does.
func (r *Answer) opening() string {
	if r.Builds == 1 {
		return "makes a build feasible"
	}
	return "leads to " + say.Counted(uint64(r.Builds), "build", "builds")
}

// heading says what the openings are.
func (r *Answer) heading() string {
	switch n := len(r.Openings); {
	case r.Pairs:
		return "No single concession " + r.opening() + "; the cheapest pair does"
	case n == 1:
		return "One concession " + r.opening() + ", all else held"
	default:
		return fmt.Sprintf("Each of %d concessions alone %s, all else held; the smallest first", n, r.opening())
	}
}

// helpless names the concessions that make too few builds feasible alone.
func (r *Answer) helpless(out *layout.Text) {
	if r.Pairs || len(r.Helpless) == 0 || !r.Complete || r.enough() {
		return
	}
	var words []string
	for _, c := range r.Helpless {
		words = append(words, c.Meaning)
	}
	out.Paragraph("Not enough by itself, however far it goes: " + strings.Join(words, ", ") + ".")
}

// next adds the commands to type next.
func (r *Answer) next(out *layout.Text) {
	same := r.Question.Again()
	if !r.Complete {
		return
	}
	out.Heading("Next")
	switch {
	case r.enough():
		out.Verbatim("gearsearch rank" + same)
	case len(r.Openings) == 0:
		out.Verbatim("gearsearch shortlist motor" + same)
	default:
		out.Verbatim("gearsearch rank" + same + say.Settings(&r.Openings[0]))
	}
}
