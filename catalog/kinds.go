package catalog

import (
	"iter"
	"math"
	"slices"
	"strconv"

	"gearsearch/catalog/field"
)

// kind is one kind of parts, seen without its type.
type kind interface {
	info() KindInfo
	// read adds the parts that a section stands for.
	read(r *reader, s field.Section)
	// header judges the header row of a CSV file of this kind.
	header(r *reader, sheet *field.Sheet)
	// sort puts the parts in the order of their ids.
	sort(c *Catalog)
	count(c *Catalog) int
	parts(c *Catalog) iter.Seq[*Part]
	// values yields the keys of part i with its values.
	values(c *Catalog, i int) iter.Seq2[*field.Info, any]
	// value is what part i gives for a key; nil where it gives nothing.
	value(c *Catalog, i int, key string) any
	// field is the key of that name, nil if the kind has none.
	field(key string) *field.Info
	// change reads a section that changes a part, which has lost the keys of unset.
	change(r *reader, x *changed, s field.Section, unset []string)
	// try reads a section that changes no part, for its mistakes.
	try(r *reader, s field.Section)
	// holds reports whether a part that is changed is a whole one, and says what is
	// wrong with it.
	holds(r *reader, x *changed) bool
	// finished sets what follows from the keys of a part that was changed.
	finished(r *reader, x *changed)
}

// KindInfo describes a kind of parts.
type KindInfo struct {
	Name      string // as a key of catalog files
	Meaning   string // what one part is
	Accessory bool   // no part of the builds that are ranked
	Instead   bool   // stands in the slots of another kind; counted where there is any
	Grows     string // what the id of a member grows, as "-<kv>", where that key is a list or there is one member; "" for a running number
	Fields    []field.Info
	Choice    []Group  // of these groups of keys a part gives exactly one; nil: there is nothing to choose
	Needs     []Needed // keys that stand only beside others
}

// Group is keys that are given together. A group without keys stands for
// giving none.
type Group struct {
	Keys []string // all of them
	May  []string // those too, but only with Keys
}

// Needed is a key that may stand only where another does.
type Needed struct{ Key, Other string }

// kindOf is a kind whose parts are of type T.
type kindOf[T any] struct {
	meaning   string
	accessory bool // no part of the builds that are ranked
	// alternative: stands in the slots of another kind, and is counted only where a
	// catalog has any.
	alternative bool
	table       *field.Table[T]
	part        func(*T) *Part
	list        func(*Catalog) *[]*T
	// written is a copy of the part as it was written, without what finish
	// derived; nil where finish derives nothing.
	written func(*T) *T
	suffix  suffix[T] // what a member's id grows in a family
	// finish checks one part, sets what follows from its keys, and notes its
	// references.
	finish func(r *reader, g field.Given, t *T)
	lot    int // sold_in unless given
	choice []Group
	needs  []Needed
}

// suffix is what the id of a family's member grows. The zero value stands for
// a running number.
type suffix[T any] struct {
	shown string // as in KindInfo
	// of is the suffix of one member, "" where none of its keys is a list.
	of func(f *field.Family[T], member *T) string
}

// registry is every kind, in the order of the catalog format.
var registry = slices.Concat(drivetrain(), accessories())

// numbered is the suffix for a kind whose members are told apart by a number: that
// number, where its key is a list or there is only one member, followed by a unit
// where the bare number would not say what it is.
func numbered[T any](key, unit string, value func(*T) float64) suffix[T] {
	return suffix[T]{"-<" + key + ">" + unit, func(f *field.Family[T], member *T) string {
		if x := value(member); (f.Listed(key) || len(f.Members) == 1) && !math.IsNaN(x) {
			return field.FormatNumber(x) + unit
		}
		return ""
	}}
}

// packSuffix is the suffix of packs, such as 12s4p, where either is a list.
func packSuffix() suffix[Battery] {
	return suffix[Battery]{"-<series>s<parallel>p", func(f *field.Family[Battery], b *Battery) string {
		if !f.Listed("series") && !f.Listed("parallel") && len(f.Members) > 1 {
			return ""
		}
		return field.FormatNumber(b.Series) + "s" + field.FormatNumber(b.Strings()) + "p"
	}}
}

func (k *kindOf[T]) info() KindInfo {
	return KindInfo{
		Name: k.table.Name, Meaning: k.meaning, Accessory: k.accessory, Instead: k.alternative, Grows: k.suffix.shown,
		Fields: k.table.Infos(), Choice: k.choice, Needs: k.needs,
	}
}

func (k *kindOf[T]) header(r *reader, sheet *field.Sheet) {
	k.table.DecodeHeader(sheet, &r.report)
}

func (k *kindOf[T]) count(c *Catalog) int { return len(*k.list(c)) }

func (k *kindOf[T]) sort(c *Catalog) {
	slices.SortStableFunc(*k.list(c), func(a, b *T) int { return compareIDs(k.part(a).ID, k.part(b).ID) })
}

func (k *kindOf[T]) parts(c *Catalog) iter.Seq[*Part] {
	return func(yield func(*Part) bool) {
		for _, t := range *k.list(c) {
			if !yield(k.part(t)) {
				return
			}
		}
	}
}

func (k *kindOf[T]) values(c *Catalog, i int) iter.Seq2[*field.Info, any] {
	return k.table.Values(k.asWritten((*k.list(c))[i]))
}

func (k *kindOf[T]) value(c *Catalog, i int, key string) any {
	v, _ := k.table.Lookup(k.asWritten((*k.list(c))[i]), key)
	return v
}

func (k *kindOf[T]) field(key string) *field.Info {
	in, _ := k.table.Info(key)
	return in
}

func (k *kindOf[T]) asWritten(t *T) *T {
	if k.written == nil {
		return t
	}
	return k.written(t)
}

func (k *kindOf[T]) read(r *reader, s field.Section) {
	if r.full {
		return
	}
	before := r.report.Len()
	f := k.table.DecodeFamily(s, k.table.Blank(), &r.report)
	r.unsure = r.unsure || s.Damaged() || f.Broken
	if !r.room(s, len(f.Members)) {
		return
	}
	k.oneID(r, &f)
	ids := r.newIDs(k.table.Name, &f.Given, f.Listed("id"), r.report.Len() == before)
	finish := k.finish != nil && !s.Damaged()
	list := k.list(r.catalog)
	suffixes := k.suffixes(&f)
	table := newTable(&f)
	for i := range f.Members {
		t := &f.Members[i]
		part := k.part(t)
		if part.SoldIn == 0 {
			part.SoldIn = k.lot
		}
		r.paid(part, f.Given.Place("price"))
		if suffixes != nil && part.ID != "" {
			part.Family = part.ID
			part.ID += "-" + suffixes[i]
		}
		part.table, part.member = table, i
		ids.add(part, i)
		r.mark(part, f.Given)
		*list = append(*list, t)
		if r.changes.awaits(part) {
			r.await(&changed{kind: k, part: t, common: part, given: f.Given, sound: !s.Damaged()})
			continue
		}
		if finish {
			before := r.report.Len()
			k.finish(r, f.Given, t)
			finish = r.report.Len() == before // what is wrong with one member is mostly wrong with all
		}
	}
}

// oneID reports a list of ids beside ranges, of which no item is of one part alone.
func (k *kindOf[T]) oneID(r *reader, f *field.Family[T]) {
	if f.Ranges() && f.Listed("id") {
		r.report.Add(f.Given.Place("id"), field.Contradiction, "write one id, which grows what tells the parts apart", "id is a list, where a range makes several parts of each item")
	}
}

// suffixes are what the ids of a family's members grow; nil where they grow nothing.
// With ranges it is a running number where the kind's own does not tell all apart.
func (k *kindOf[T]) suffixes(f *field.Family[T]) []string {
	if !f.Lists() || f.Listed("id") {
		return nil
	}
	out := make([]string, len(f.Members))
	seen := map[string]bool{}
	for i := range f.Members {
		if k.suffix.of != nil {
			out[i] = k.suffix.of(f, &f.Members[i])
		}
		seen[out[i]] = true
		if out[i] == "" {
			out[i] = strconv.Itoa(i + 1)
		}
	}
	if f.Ranges() && len(seen) < len(out) {
		for i := range out {
			out[i] = strconv.Itoa(i + 1)
		}
	}
	return out
}
