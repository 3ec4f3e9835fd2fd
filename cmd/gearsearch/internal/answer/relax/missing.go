package relax

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// missing adds the parts that would have to be there.
func (r *Answer) missing(out *layout.Text) {
	if r.wants == nil || len(r.wants.Missing)+len(r.wants.Hopeless) == 0 {
		return
	}
	if len(r.wants.Missing) > 0 {
		out.Heading("Or one part that is not in the catalog makes a build feasible, and nothing is conceded")
		t := &layout.Table{Columns: []layout.Column{
			{Title: "slot"}, {Title: "a part such as", Wrap: true, Least: 2 * say.ProseWidth}, {Title: "with", Wrap: true, Least: say.ProseWidth},
		}}
		for _, m := range r.wants.Missing {
			t.Add(m.Slot.String(), say.Missing(&m), restWords(m.Build.Build, m.Slot))
		}
		out.Table(t)
		out.Paragraph("Each is a part that could well be made, as close to one in the catalog as will do. Price and mass are assumed the same; a pack's go with its cells.")
	}
	switch words := r.hopelessWords(); {
	case len(r.wants.Missing) == 0 && r.wants.Complete:
		out.Paragraph("No single part that could well be made helps either, and nothing is conceded.")
	case len(words) > 0:
		out.Paragraph("No single part helps in the " + say.Plural(uint64(len(words)), "slot ", "slots ") + strings.Join(words, ", ") + ".")
	}
}

// restWords names the parts of a build but one.
func restWords(b *constraints.Build, but constraints.Slot) string {
	motors := say.Pieces(b.Motors(), b.Motor.ID)
	if but == constraints.SlotMotor {
		motors = fmt.Sprintf("%d such %s", b.Motors(), say.Plural(uint64(b.Motors()), "motor", "motors"))
	}
	words := []string{motors}
	add := func(slot constraints.Slot, word string) {
		if slot != but {
			words = append(words, word)
		}
	}
	add(constraints.SlotController, b.Controller.ID)
	add(constraints.SlotBattery, b.Battery.ID)
	if !slices.Contains(constraints.DriveSlots(), but) {
		words = append(words, say.Drive(b.Drive))
	} else {
		for _, slot := range constraints.DriveSlots() {
			if id := b.ID(slot); id != "" {
				add(slot, id)
			}
		}
	}
	add(constraints.SlotWheel, b.Wheel.ID)
	return strings.Join(words, ", ")
}

// hopelessWords are the slots in which no part helps.
func (r *Answer) hopelessWords() []string {
	out := []string{}
	if r.wants != nil {
		for _, slot := range r.wants.Hopeless {
			out = append(out, slot.String())
		}
	}
	return out
}

// missingObjects are the missing parts as data; nil where they are not looked
// for.
func (r *Answer) missingObjects() iter.Seq[dataout.Object] {
	if r.wants == nil {
		return nil
	}
	return func(yield func(dataout.Object) bool) {
		for _, m := range r.wants.Missing {
			if !yield(missingObject(m)) {
				return
			}
		}
	}
}

// missingObject is a missing part as data. Its build names the part that it is
// like.
func missingObject(m search.Missing) dataout.Object {
	facts := []dataout.Object{}
	for _, f := range m.Facts {
		facts = append(facts, dataout.Object{{Key: "key", Value: f.Key}, {Key: "value", Value: f.Value}, {Key: "changed", Value: f.Changed}})
	}
	const grams = 1000
	return dataout.Object{
		{Key: "slot", Value: m.Slot.String()},
		{Key: "part", Value: say.Missing(&m)},
		{Key: "like", Value: m.Like},
		{Key: "difference", Value: m.Difference},
		{Key: "facts", Value: facts},
		{Key: "price", Value: m.Price},
		{Key: "mass_g", Value: m.Mass * grams},
		{Key: "assumed", Value: say.MissingAssumed(&m)},
		{Key: "build", Value: dataout.Build(m.Build)},
	}
}

// missingRows are the missing parts as rows of the table of concessions.
func (r *Answer) missingRows() [][]any {
	if r.wants == nil {
		return nil
	}
	var rows [][]any
	for _, m := range r.wants.Missing {
		row := []any{nil, m.Difference, m.Slot.String(), m.Like, say.Missing(&m), nil}
		ids := dataout.Parts(m.Build.Build).(dataout.Object)
		for _, key := range dataout.PartKeys() {
			row = append(row, ids.Get(key))
		}
		rows = append(rows, append(row, nil))
	}
	return rows
}
