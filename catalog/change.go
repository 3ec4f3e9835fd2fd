package catalog

import (
	"bytes"
	"maps"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// A [[change]] overrides keys of a part that stands in the same file or in one before
// it: what it costs here, that it is owned, what was measured of it. What it names may
// be a family, all of whose members are changed. After each change the part must be a
// whole one, so that what is wrong is wrong with the change.

// changeKey is the key of changes at the top level.
const changeKey = "change"

// changeHead is the keys of a change beside those of the part.
type changeHead struct {
	kind, id string
	unset    []string
}

// changeTable is the field table of the keys of every change.
func changeTable() *field.Table[changeHead] {
	return field.NewTable(changeKey, []field.Field[changeHead]{
		{Key: "kind", Required: true, Words: KindNames(), Meaning: "the kind of the part", Text: func(c *changeHead) *string { return &c.kind }},
		{Key: "id", Required: true, ID: true, Meaning: "the part, or a family of parts, all of which are changed", Text: func(c *changeHead) *string { return &c.id }},
		{Key: "unset", Filled: true, Once: true, Meaning: "keys that the part is to have no longer", Texts: func(c *changeHead) *[]string { return &c.unset }},
	})
}

// changeKeys are the keys of changeTable.
func changeKeys() []string { return []string{"kind", "id", "unset"} }

// Change is a change of a part or of a family, as a file has it.
type Change struct {
	Kind, ID  string
	Keys      []string // that it gives
	Unset     []string // that it takes away
	Parts     int      // that it changes
	Pos       Position
	Overrules []Overruled
}

// Overruled is a key that an earlier change gave to the same part: the later counts.
type Overruled struct {
	Key string
	Pos Position // of the earlier
	At  Position // of the later
}

// changes is what a reader knows of changes.
type changes struct {
	awaited map[string]bool       // ids of parts and families that a change names
	found   map[string][]*changed // those that are read, by id and by family
	order   []*changed
	strays  []strayed
}

// changed is a part that a change names.
type changed struct {
	kind   kind
	part   any // of the kind
	common *Part
	given  field.Given            // what its table and the changes give
	sound  bool                   // it is whole as it stands
	by     map[string]field.Place // where changes gave or took keys
}

// strayed is a change of a part that is not there yet.
type strayed struct {
	at       field.Place
	kind, id string
}

// expect notes which parts are changed, before any is read.
func (c *changes) expect(sources []Source) {
	for _, src := range sources {
		if isSheet(src) || !bytes.Contains(src.Data, []byte(changeKey)) {
			continue
		}
		var r field.Report
		for s := range field.Parse(src, &r, append(KindNames(), changeKey)...).Root().Value(changeKey).Sections() {
			if c.awaited == nil {
				c.awaited, c.found = map[string]bool{}, map[string][]*changed{}
			}
			c.awaited[s.Value("id").String()] = true
		}
	}
}

// awaits reports whether a change names the part.
func (c *changes) awaits(p *Part) bool {
	return c.awaited != nil && (c.awaited[p.ID] || p.Family != "" && c.awaited[p.Family])
}

// await notes a part that a change names.
func (r *reader) await(x *changed) {
	x.sound = x.sound && x.kind.holds(r, x)
	r.changes.order = append(r.changes.order, x)
	ids := []string{x.common.ID}
	if f := x.common.Family; f != "" && f != x.common.ID {
		ids = append(ids, f)
	}
	for _, id := range ids {
		r.changes.found[id] = append(r.changes.found[id], x)
	}
}

// change reads one change.
func (r *reader) change(file string, s field.Section) {
	r.unsure = r.unsure || s.Damaged()
	var head changeHead
	given := changeTable().DecodeOwn(s, &head, &r.report)
	k, known := kindNamed(head.kind)
	if !known || head.id == "" {
		return
	}
	unset, ok := r.unset(k, s, given, head.unset)
	parts := slices.DeleteFunc(slices.Clone(r.changes.found[head.id]), func(x *changed) bool { return x.kind != k })
	if len(parts) == 0 {
		k.try(r, s)
		r.changes.strays = append(r.changes.strays, strayed{given.Place("id"), head.kind, head.id})
		return
	}
	c := Change{Kind: head.kind, ID: head.id, Unset: unset, Parts: countIDs(parts), Pos: positionOf(given.Place("id"))}
	places := map[string]field.Place{}
	for e := range s.Entries() {
		if key := e.Key(); !slices.Contains(changeKeys(), key) {
			c.Keys = append(c.Keys, key)
			places[key] = e.Value.Place()
		}
	}
	i := 0
	for item := range given.Value("unset").Parts() {
		if i < len(unset) && ok {
			places[unset[i]] = item.Place()
		}
		i++
	}
	if len(c.Keys) == 0 && !given.Has("unset") {
		r.report.Add(s.Place(), field.Missing, "write the keys that are other, or unset = [\"price\"]", "the change of %s %s changes nothing", head.kind, field.Quote(head.id))
	}
	since, broken := r.report.Mark(), false
	for _, x := range parts {
		c.overrule(x, places)
		before, sound := r.report, x.sound
		k.change(r, x, s, unset)
		if broken {
			r.report = before // what is wrong with one member is mostly wrong with all
		}
		broken = broken || sound && !x.sound
		if places["price"].Known() {
			r.money.priceFrom(x.common, file)
		}
	}
	r.report.Once(since)
	r.catalog.Changes = append(r.catalog.Changes, c)
}

// countIDs is how many parts these are: catalogs that are merged have one each of a part.
func countIDs(parts []*changed) int {
	ids := map[string]bool{}
	for _, x := range parts {
		ids[x.common.ID] = true
	}
	return len(ids)
}

// unset holds the keys that a change takes away to being keys of the kind that a part
// can do without, and that the change does not give. It returns those.
func (r *reader) unset(k kind, s field.Section, given field.Given, keys []string) (unset []string, ok bool) {
	ok = true
	i := 0
	for item := range given.Value("unset").Parts() {
		if i == len(keys) {
			break
		}
		key := keys[i]
		i++
		in := k.field(key)
		switch {
		case in == nil:
			hint := ""
			if near, found := field.Nearest(key, keyNames(k)); found {
				hint = "did you mean " + near + "?"
			}
			r.report.Add(item.Place(), field.UnknownKey, hint, "unset names %s, which is no key of a %s", field.Quote(key), k.info().Name)
		case in.Required:
			hint := "give it another value"
			if key == "id" {
				hint = "a change names a part by its id"
			}
			r.report.Add(item.Place(), field.Missing, hint, "unset names %s, which every %s has", key, k.info().Name)
		case s.Value(key).Kind() != field.KindAbsent:
			r.report.Add(item.Place(), field.Contradiction, "take out either", "unset names %s, which this change gives", key)
		default:
			unset = append(unset, key)
			continue
		}
		ok = false
	}
	return unset, ok
}

// keyNames yields the keys of a kind.
func keyNames(k kind) func(func(string) bool) {
	return func(yield func(string) bool) {
		for _, f := range k.info().Fields {
			if !yield(f.Key) {
				return
			}
		}
	}
}

// overrule notes which earlier changes of a part a change overrules.
func (c *Change) overrule(x *changed, places map[string]field.Place) {
	for _, key := range slices.Sorted(maps.Keys(places)) {
		if was, twice := x.by[key]; twice {
			o := Overruled{key, positionOf(was), positionOf(places[key])}
			if !slices.Contains(c.Overrules, o) {
				c.Overrules = append(c.Overrules, o)
			}
		}
		if x.by == nil {
			x.by = map[string]field.Place{}
		}
		x.by[key] = places[key]
	}
}

// positionOf is a place as a part has it.
func positionOf(at field.Place) Position {
	var p Position
	p.File, p.Line, p.Column = at.Position()
	return p
}

// finishChanged finishes the parts that were changed, and reports changes of none.
func (r *reader) finishChanged() {
	for _, x := range r.changes.order {
		if x.sound {
			x.kind.finished(r, x)
		}
	}
	for _, s := range r.changes.strays {
		r.strayChange(s)
	}
}

// strayChange reports a change of a part that no file up to its own has. Where
// something could not be read, the part may be there, and nothing is said.
func (r *reader) strayChange(s strayed) {
	if r.unsure {
		return
	}
	hint := ""
	if r.report.Hinting() {
		hint = r.strayHint(s)
	}
	r.report.Add(s.at, field.UnknownID, hint, "no %s %s to change", s.kind, field.Quote(s.id))
}

// strayHint says what a change may have meant.
func (r *reader) strayHint(s strayed) string {
	k, _ := kindNamed(s.kind)
	names := map[string]bool{}
	for p := range k.parts(r.catalog) {
		names[p.ID] = true
		if p.Family != "" {
			names[p.Family] = true
		}
	}
	if names[s.id] {
		return "it stands in a later file: name the file with the change after that one"
	}
	for kind, p := range r.catalog.Parts() {
		if p.ID == s.id || p.Family == s.id {
			return "that is a " + strings.ReplaceAll(kind, "_", " ")
		}
	}
	if near, ok := field.Nearest(s.id, slices.Values(slices.Sorted(maps.Keys(names)))); ok {
		return "did you mean " + near + "?"
	}
	return ""
}

func (k *kindOf[T]) change(r *reader, x *changed, s field.Section, unset []string) {
	t, before := x.part.(*T), r.report.Len()
	x.given = k.table.Change(s, t, x.given, changeKeys(), &r.report)
	for _, key := range unset {
		k.table.Unset(t, x.given, key)
	}
	part := k.part(t)
	if part.SoldIn == 0 {
		part.SoldIn = k.lot
	}
	if s.Value("price").Kind() != field.KindAbsent {
		r.money.payments = append(r.money.payments, payment{x.given.Place("price"), part, part.currency})
		part.currency = ""
	}
	r.mark(part, x.given)
	x.sound = x.sound && !s.Damaged() && r.report.Len() == before
	if since := r.report.Mark(); x.sound && !k.holds(r, x) {
		x.sound = false
		r.report.Blame(since, s)
	}
}

func (k *kindOf[T]) try(r *reader, s field.Section) {
	t := k.table.Blank()
	k.table.Change(s, &t, k.table.Nothing(), changeKeys(), &r.report)
}

// holds finishes a copy, which leaves no references to resolve.
func (k *kindOf[T]) holds(r *reader, x *changed) bool {
	if k.finish == nil {
		return true
	}
	trial, wants, before := *x.part.(*T), r.wants, r.report.Len()
	k.finish(r, x.given, &trial)
	r.wants = wants
	return r.report.Len() == before
}

func (k *kindOf[T]) finished(r *reader, x *changed) {
	if k.finish != nil {
		k.finish(r, x.given, x.part.(*T))
	}
}
