package constraints

import (
	"maps"
	"math"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// schema is the version of the brief and build files that this program reads.
const schema = 1

// places tells where each key of a brief was written, by section.key, and each
// item of a list, by section.key/item; and which flags set keys since.
type places struct {
	at      map[string]field.Place
	origins map[string]string
	damaged bool // a section has a syntax error: what is missing may be there
}

// find is where a key was written, and who set it if that was no file.
func (p *places) find(key string) (at field.Place, origin string) {
	return p.at[key], p.origins[key]
}

// has reports whether a file has a key, be its value right or wrong.
func (p *places) has(key string) bool {
	_, ok := p.at[key]
	return ok
}

// Written reports whether a file, a flag or another caller gave a key of the
// brief, section.key, be it as its default is or not.
func (b *Brief) Written(key string) bool {
	_, set := b.places.origins[key]
	return set || b.places.has(key)
}

// Place is where a file has the value of a key, section.key; nowhere where none does, or
// where a flag or another caller set the key since.
func (b *Brief) Place(key string) field.Place { return b.places.at[key] }

// complain reports a problem with a key of the brief at its place.
func (b *Brief) complain(r *field.Report, key string, code field.Code, hint, format string, args ...any) {
	at, origin := b.places.find(key)
	r.AddBy(origin, at, code, hint, format, args...)
}

// complainOf reports a problem with one item of a list: at its place if a
// file has it, else as complain does.
func (b *Brief) complainOf(r *field.Report, key, item string, code field.Code, hint, format string, args ...any) {
	if at, ok := b.places.at[key+"/"+item]; ok {
		r.Add(at, code, hint, format, args...)
		return
	}
	b.complain(r, key, code, hint, format, args...)
}

// document is the top level of a brief or build file.
type document struct{ Schema int }

// documentTable is the field table of the top level with these sections. A
// brief must name its schema, a build file need not.
func documentTable(name string, required bool, sections ...string) *field.Table[document] {
	fields := []field.Field[document]{{
		Key: "schema", Required: required, Min: schema, Max: schema,
		Meaning: "the version of the format: write schema = 1 at the top",
		Count:   func(d *document) *int { return &d.Schema },
	}}
	for _, s := range sections {
		fields = append(fields, field.Field[document]{Key: s, Section: true, Meaning: "a table"})
	}
	t := field.NewTable(name, fields)
	t.Stray = func(key string) string {
		if slices.Contains(catalog.KindNames(), key) {
			return "this looks like a catalog, not " + name
		}
		return ""
	}
	return t
}

// ReadBrief reads a brief. The error is of type field.Problems and has every
// problem of the text. A text with nothing wrong in it but that its keys
// contradict each other is read, since keys may be set after it; NewProblem and
// Validate report what contradictions are left.
func ReadBrief(src field.Source) (*Brief, error) {
	var r field.Report
	b := DefaultBrief()
	b.places = places{at: map[string]field.Place{}, origins: map[string]string{}}
	doc := field.Parse(src, &r)
	top := documentTable("a brief", true, sectionsOf(doc.Root())...)
	top.Elsewhere = func(key string) string {
		if slices.Contains(catalog.KindNames(), key) {
			return "" // a catalog
		}
		return elsewhere(briefSections, "", key)
	}
	given := top.Decode(doc.Root(), new(document), &r)
	for _, s := range briefSections {
		b.read(s, given, &r)
	}
	if r.Len() > 0 && !b.places.damaged && !doc.Root().Damaged() {
		b.contradictions(&r, b.places.has)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// read reads one section and notes where its keys stand. What is no section was
// reported when the document was read.
func (b *Brief) read(of section, doc field.Given, r *field.Report) {
	s, ok := doc.Value(of.name).Section()
	if !ok {
		return
	}
	of.table.Decode(s, b, r)
	b.places.damaged = b.places.damaged || s.Damaged()
	for e := range s.Entries() {
		key := of.name + "." + e.Key()
		b.places.at[key] = e.Value.Place()
		for item := range e.Value.Items() {
			b.places.at[key+"/"+item.String()] = item.Place()
		}
	}
}

// Set sets one key, "section.key", from text as a command line gives it:
// numbers in the key's unit or with one of its kind, lists with commas. origin
// names who says so, such
// as a flag. On an error nothing is set; it is a *field.Problem.
func (b *Brief) Set(key, text, origin string) error {
	t, name := keyTable(key)
	var err error
	switch section, _, _ := strings.Cut(key, "."); {
	case name == "":
		err = unknownSection(key, "")
	case t == nil:
		err = unknownSection(section, name)
	default:
		err = t.Assign(b, name, text)
	}
	if p, ok := err.(*field.Problem); ok {
		p.By = origin
		return p
	}
	b.setBy(key, origin)
	return nil
}

// unknownSection is the problem with a key of a section that no brief has, or
// with a key that stands without its section.
func unknownSection(section, name string) *field.Problem {
	p := &field.Problem{
		Code:    field.UnknownKey,
		Message: "a brief has no section " + field.Quote(section),
		Hint:    "write section.key, as in target.top_speed_kmh; the sections are " + strings.Join(sectionNames(), ", "),
	}
	if name == "" {
		p.Message = field.Quote(section) + " names no key of a brief"
		if hint := elsewhere(briefSections, "", section); hint != "" {
			p.Hint = hint
		}
	} else if near, ok := field.Nearest(section, slices.Values(sectionNames())); ok {
		p.Hint = "did you mean " + near + "." + name + "?"
	}
	return p
}

// AddParts adds ids to what the section ("keep" or "avoid") says of a slot,
// likewise. Ids that it has already are passed over.
func (b *Brief) AddParts(section, slot string, ids []string, origin string) error {
	lists := &b.Keep
	if section == "avoid" {
		lists = &b.Avoid
	}
	if s, ok := SlotNamed(slot); ok {
		both := slices.Clone(lists[s])
		for _, id := range ids {
			if !slices.Contains(lists[s], id) {
				both = append(both, id)
			}
		}
		ids = both
	}
	return b.Set(section+"."+slot, strings.Join(ids, ","), origin)
}

// setBy notes that a key was set by origin, after any file.
func (b *Brief) setBy(key, origin string) {
	if b.places.origins == nil {
		b.places.origins = map[string]string{}
	}
	b.places.origins[key] = origin
	delete(b.places.at, key)
}

// Validate reports contradictions in the brief. The error is of type
// field.Problems.
func (b *Brief) Validate() error {
	var r field.Report
	b.contradictions(&r, func(string) bool { return false })
	return r.Err()
}

// contradictions reports what no single key shows. A key that is not set but
// was written, as written tells, could not be read, and nothing is missing.
func (b *Brief) contradictions(r *field.Report, written func(key string) bool) {
	if slices.Contains(b.Board.Motors, 3) {
		b.complainOf(r, "board.motors", "3", field.OutOfRange, "", "motors is 3, must be 1, 2 or 4")
	}
	t := &b.Target
	if !math.IsNaN(t.LaunchTime) && math.IsNaN(t.LaunchSpeed) && !written("target.launch_speed_kmh") {
		b.complain(r, "target.launch_s", field.Contradiction, "add target.launch_speed_kmh", "launch_s is set without the speed to reach")
	}
	if !math.IsNaN(t.ClimbLength) && math.IsNaN(t.ClimbGrade) && !written("target.climb_grade_pct") {
		b.complain(r, "target.climb_length_m", field.Contradiction, "add target.climb_grade_pct", "climb_length_m is set without the grade of the hill")
	}
	if b.Limit.ERPMRule == AtSpeed && math.IsNaN(t.TopSpeed) && !written("target.top_speed_kmh") {
		b.complain(r, "limit.erpm_rule", field.Contradiction, "add target.top_speed_kmh, or use the rule "+FreeSpin, "the rule %s needs a target top speed", AtSpeed)
	}
	if isSet(b.Ground.Wet) && !math.IsNaN(b.Ground.Grip) {
		b.complain(r, "ground.wet", field.Contradiction, "give the grip of wet ground as grip, or leave grip out", "wet halves the surface's own grip, and grip is given")
	}
	if isSet(b.Ground.Fitted) && math.IsNaN(b.Ground.RollingResistance) && !written("ground.rolling_resistance") {
		b.complain(r, "ground.rolling_fitted", field.Contradiction, "gearsearch fit --write writes both", "rolling_fitted is set without rolling_resistance")
	}
	if isSet(b.Rider.Fitted) && math.IsNaN(b.Rider.DragArea) && !written("rider.drag_area_m2") {
		b.complain(r, "rider.drag_fitted", field.Contradiction, "gearsearch fit --write writes both", "drag_fitted is set without drag_area_m2")
	}
	b.stands(r)
	if t.TopSpeedMax < t.TopSpeed {
		b.complain(r, "target.top_speed_max_kmh", field.Contradiction, "", "top_speed_max_kmh is %s, below top_speed_kmh, which is %s", num(t.TopSpeedMax*kmh), num(t.TopSpeed*kmh))
	}
	for slot := range b.Keep {
		for _, id := range b.Keep[slot] {
			if slices.Contains(b.Avoid[slot], id) {
				key := "avoid." + Slot(slot).String()
				b.complainOf(r, key, id, field.Contradiction, "take it out of one of them", "%s is kept and avoided at once", field.Quote(id))
			}
		}
	}
}

// stands reports a least weight on each axle that the rider keeps by no stance.
func (b *Brief) stands(r *field.Report) {
	s := b.Board.stance()
	axle := ""
	switch {
	case !drive.AtMost(s.AxleMin, s.RearShare+s.Lean):
		axle = "rear"
	case !drive.AtMost(s.RearShare-s.Lean, 1-s.AxleMin):
		axle = "front"
	default:
		return
	}
	b.complain(r, "board.axle_min", field.Contradiction, "less axle_min, more lean, or another rear_share",
		"axle_min is %s, and with rear_share %s and lean %s the %s axle never bears that much of the weight", num(s.AxleMin), num(s.RearShare), num(s.Lean), axle)
}

// AimsAtNothing reports whether the brief sets no target and no limit of its
// own, so that every build that fits would do.
func (b *Brief) AimsAtNothing() bool {
	return b.Way == nil && !slices.ContainsFunc(BriefNumbers(), func(k BriefNumber) bool { return k.Asks && !math.IsNaN(*k.At(b)) })
}

// Clone copies a brief, so that the copy may be changed.
func (b *Brief) Clone() *Brief {
	c := *b
	c.Board.Motors = slices.Clone(b.Board.Motors)
	c.Limit.Demote = slices.Clone(b.Limit.Demote)
	for i := range c.Keep {
		c.Keep[i], c.Avoid[i] = slices.Clone(b.Keep[i]), slices.Clone(b.Avoid[i])
	}
	c.places = places{at: maps.Clone(b.places.at), origins: maps.Clone(b.places.origins)}
	return &c
}
